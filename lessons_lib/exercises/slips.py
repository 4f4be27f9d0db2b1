"""Slips that can happen with any number: a unit mixed up, a difference taken for a temperature, a point in the wrong
place.
"""

from dataclasses import dataclass

from ..quantities.display import SYSTEMS, show, unit
from ..quantities.reading import Typed
from ..quantities.unit_words import SYMBOLS
from ..quantities.units import unit_of
from .variants import Variant

CLOSE = 0.03  # a slip is named when the answer fits it this well, however wide the question's own tolerance is
# Units that people mix up. 1 W/m is 1.04 Btu/h ft: a slip between those two is smaller than most tolerances, so it is
# not listed.
MIXED_UP = (
    ("degC", "degF"),
    ("delta_degC", "delta_degF"),
    ("mm", "cm", "m", "inch", "ft"),
    ("L", "gallon", "mL"),
    ("L/min", "gpm", "L/s"),
    ("kPa", "psi", "bar"),
    ("m/s", "ft/s"),
    ("W", "kW", "Btu/hour"),
    ("W/m", "W/ft"),
    ("s", "min", "hour", "ms"),
    ("kg", "lb"),
    ("mg/L", "grain/gallon"),
    ("Pa", "inH2O"),
    ("N", "lbf"),
    ("Wh", "kWh"),
)
POWERS = (10, 0.1, 100, 0.01, 1000, 0.001)
UNIT_SLIP, DIFFERENCE, POINT = "unit slip", "difference taken for a temperature", "factor of ten"
PART_OF_ONE = "part of one taken for a percentage"


@dataclass(frozen=True)
class Slip:
    """Explains a wrong number. name : of the kind of slip; thinking, ask : as of a Mistake."""

    name: str
    thinking: str
    ask: str


def slip(typed: Typed, variant: Variant) -> Slip | None:
    """The slip that explains a wrong number, or None."""
    return (
        _unit_slip(typed, variant)
        or _difference(typed, variant)
        or _part_of_one(typed, variant)
        or _point(typed, variant)
    )


def fits(typed: Typed, number: float) -> bool:
    """Says whether the typed figure is `number`, as closely as slips are told apart; differences in the answer's own
    scale.
    """
    return abs(typed.number - number) <= CLOSE * abs(number)


def _unit_slip(typed: Typed, variant: Variant) -> Slip | None:
    own = unit(variant.question.answer.kind, variant.system)
    family = next((units for units in MIXED_UP if unit_of(own) in map(unit_of, units)), ())
    for other in family:
        if unit_of(other) == unit_of(typed.unit) or not fits(typed, variant.answer.to(unit_of(other)).magnitude):
            continue
        meant, read = _symbol(other), _symbol(typed.unit)
        how = f"You wrote {read}" if typed.written else f"Without a unit it is read as {read}"
        asked = f"In which unit did you reckon, and which one is asked for: {read} or {meant}?"
        return Slip(UNIT_SLIP, f"The figure would fit in {meant}. {how}.", asked)
    return None


def _difference(typed: Typed, variant: Variant) -> Slip | None:
    """The 32 of the Fahrenheit scale, put in or left out where it should not be."""
    kind = variant.question.answer.kind
    kelvin = unit(kind, SYSTEMS[0])
    if not typed.unit.endswith(("degC", "degF")) or kelvin not in ("degC", "delta_degC"):
        return None
    value = variant.answer.to(unit_of(kelvin)).magnitude
    fahrenheit = typed.unit.endswith("degF")
    if kelvin == "delta_degC":
        wrong = 1.8 * value + 32 if fahrenheit else (1.8 * value - 32) / 1.8
        words = "You turned a difference into a place on the scale: the 32 came in.", "How far apart are the two marks?"
    else:
        wrong = 1.8 * value if fahrenheit else (1.8 * value + 32) / 1.8
        words = (
            "You turned a temperature as if it were a difference: the 32 was left out.",
            "Where does each of the two scales have its zero?",
        )
    return Slip(DIFFERENCE, *words) if fits(typed, wrong) else None


def _part_of_one(typed: Typed, variant: Variant) -> Slip | None:
    """0.67 % written for 67 %: the share as a part of one, and the sign of a percentage behind it."""
    if unit_of(typed.unit) != unit_of("percent") or not fits(
        typed, variant.answer.to(unit_of("dimensionless")).magnitude
    ):
        return None
    wrote, perhaps = (f"{number:.6g} %" for number in (typed.number, 100 * typed.number))
    less = (
        "less than one hundredth of the whole"
        if abs(typed.number) < 1
        else f"{typed.number:.6g} hundredths of the whole"
    )
    return Slip(
        PART_OF_ONE,
        f"{wrote} is {less}. Written without the sign, {typed.number:.6g} is {perhaps}.",
        f"Did you mean {perhaps}?",
    )


def _point(typed: Typed, variant: Variant) -> Slip | None:
    right = variant.answer.to(unit_of(typed.unit)).magnitude
    factor = next((factor for factor in POWERS if fits(typed, factor * right)), None)
    if factor is None:
        return None
    words = f"{factor:g} times too big" if factor > 1 else f"{1 / factor:.0f} times too small"
    shown = show(typed.quantity, variant.question.answer.kind, variant.system)
    return Slip(
        POINT, f"{shown} is {words}: the point has moved.", "Which size would you expect before any sum, roughly?"
    )


def _symbol(name: str) -> str:
    """A unit as people write it."""
    name = name.removeprefix("delta_")
    return next((symbol for known, symbol in SYMBOLS.items() if unit_of(known) == unit_of(name)), name)
