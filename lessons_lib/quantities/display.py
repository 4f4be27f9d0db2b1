"""How values are shown to people: two unit systems, rounding that a tap deserves, and words for times."""

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from .errors import unknown_name
from .units import Q_, number_in, unit_of

SI, US = "metric", "US customary"
SYSTEMS = (SI, US)


@dataclass(frozen=True)
class Kind:
    """Says how one kind of value is written: unit, symbol and decimals in each system (metric first)."""

    units: tuple[str, str]
    symbols: tuple[str, str]
    decimals: tuple[int, int]


# Kinds below "force" are the same in both systems.
KINDS = {
    "temperature": Kind(("degC", "degF"), ("°C", "°F"), (0, 0)),
    "temperature drop": Kind(("delta_degC", "delta_degF"), ("°C", "°F"), (1, 1)),
    "temperature difference": Kind(("delta_degC", "delta_degF"), ("°C", "°F"), (0, 0)),
    "length": Kind(("m", "ft"), ("m", "ft"), (1, 0)),
    "thickness": Kind(("mm", "in"), ("mm", "in"), (0, 2)),
    "cut": Kind(("mm", "in"), ("mm", "in"), (1, 2)),  # read off a tape: in inches to the nearest sixteenth
    "diameter": Kind(("mm", "in"), ("mm", "in"), (1, 2)),
    "flow": Kind(("L/min", "gpm"), ("L/min", "gpm"), (1, 1)),
    "leak": Kind(("mL/min", "fluid_ounce/hour"), ("mL/min", "fl oz/h"), (1, 1)),
    "measured flow": Kind(("L/min", "gpm"), ("L/min", "gpm"), (2, 2)),
    "wind": Kind(("m/s", "mph"), ("m/s", "mph"), (1, 0)),
    "heat loss": Kind(("W/m", "Btu/(hour*ft)"), ("W/m", "Btu/h ft"), (1, 1)),
    "loss per kelvin": Kind(("W/(m*K)", "Btu/(hour*ft*delta_degF)"), ("W/(m K)", "Btu/h ft °F"), (3, 3)),
    "conductivity": Kind(("W/(m*K)", "Btu*inch/(hour*ft**2*delta_degF)"), ("W/(m K)", "Btu in/h ft² °F"), (3, 2)),
    "volume": Kind(("L", "gallon"), ("L", "gal"), (1, 1)),
    "pipe content": Kind(("L", "gallon"), ("L", "gal"), (1, 2)),
    "air cushion": Kind(("mL", "inch**3"), ("mL", "in³"), (0, 1)),
    "measured volume": Kind(("L", "gallon"), ("L", "gal"), (2, 3)),
    "large volume": Kind(("L", "gallon"), ("L", "gal"), (0, 0)),
    "pressure": Kind(("kPa", "psi"), ("kPa", "psi"), (0, 0)),
    "pressure drop": Kind(("kPa", "psi"), ("kPa", "psi"), (1, 1)),
    "loop pressure": Kind(("kPa", "psi"), ("kPa", "psi"), (1, 2)),
    "speed": Kind(("m/s", "ft/s"), ("m/s", "ft/s"), (2, 1)),
    "wave speed": Kind(("m/s", "ft/s"), ("m/s", "ft/s"), (0, 0)),
    "heat": Kind(("W", "Btu/hour"), ("W", "Btu/h"), (0, 0)),
    "tape power": Kind(("W/m", "W/ft"), ("W/m", "W/ft"), (1, 1)),
    "mass": Kind(("kg", "lb"), ("kg", "lb"), (0, 0)),
    "small mass": Kind(("kg", "lb"), ("kg", "lb"), (2, 2)),
    "moment": Kind(("N*m", "lbf*ft"), ("N m", "lbf ft"), (0, 0)),
    "small pressure": Kind(("Pa", "inH2O"), ("Pa", "inH₂O"), (0, 2)),
    "wind pressure": Kind(("Pa", "lbf/ft**2"), ("Pa", "lbf/ft²"), (0, 1)),
    "hardness": Kind(("mg/L", "grain/gallon"), ("mg/L", "gr/gal"), (0, 1)),
    "scale mass": Kind(("kg", "lb"), ("kg", "lb"), (1, 1)),
    "layer": Kind(("mm", "in"), ("mm", "in"), (1, 2)),
    "surface": Kind(("m**2", "ft**2"), ("m²", "ft²"), (1, 1)),
    "force": Kind(("N", "lbf"), ("N", "lbf"), (0, 0)),
    **{
        name: Kind((unit, unit), (symbol, symbol), (places, places))
        for name, unit, symbol, places in (
            ("milliseconds", "ms", "ms", 0),
            ("seconds", "s", "s", 0),
            ("minutes", "min", "min", 0),
            ("hours", "h", "h", 1),
            ("power", "W", "W", 0),
            ("large power", "kW", "kW", 1),
            ("energy", "kWh", "kWh", 1),
            ("small energy", "Wh", "Wh", 0),
            ("current", "A", "A", 1),
            ("breaker", "A", "A", 0),
            ("voltage", "V", "V", 0),
            ("voltage drop", "V", "V", 1),
            ("share", "percent", "%", 0),
            ("drop share", "percent", "%", 1),
            ("count", "", "", 0),
            ("ratio", "", "", 1),
            ("two places", "", "", 2),
            ("three places", "", "", 3),
        )
    },
}


EXACT = ("length", "wind", "flow", "hours", "cut", "hardness", "layer", "surface")  # set by people: 18 m, not 18.0 m


def _index(system: str) -> int:
    if system not in SYSTEMS:
        raise unknown_name("unit system", system, list(SYSTEMS))
    return SYSTEMS.index(system)


def unit(kind: str, system: str) -> str:
    """The pint unit of a kind of value in a system."""
    return KINDS[kind].units[_index(system)]


def symbol(kind: str, system: str) -> str:
    """The unit as people write it."""
    return KINDS[kind].symbols[_index(system)]


def number(value, kind: str, system: str) -> str:
    """The bare number of a quantity in the reader's unit, rounded, with a true minus sign."""
    if kind == "thickness" and system == US:
        return inches(value)
    if kind == "cut" and system == US:
        return sixteenths(value)
    places = KINDS[kind].decimals[_index(system)]
    text = f"{number_in(value, unit(kind, system)):.{places}f}"
    if "." in text and kind in EXACT:
        text = text.rstrip("0").rstrip(".")
    if float(text) == 0:
        text = text.removeprefix("-")
    return text.replace("-", "−")


def as_given(value, kind: str, system: str) -> str:
    """The bare number of a value that somebody set: as `number` writes it, with more decimals where that would be
    another value.

    A value in the unit that is shown is repeated exactly; one that was given in another unit, to a tenth of the last
    usual digit.
    """
    own, places = unit_of(unit(kind, system)), KINDS[kind].decimals[_index(system)]
    inside = number_in(value, unit(kind, system))
    allowed = 1e-9 * max(1.0, abs(inside)) if value.units == own else 0.1 * 10.0**-places
    usual = number(value, kind, system)
    if abs(_figure(usual) - inside) <= allowed:
        return usual
    finer = (f"{inside:.{more}f}" for more in range(places, places + 9))
    return next((text for text in finer if abs(float(text) - inside) <= allowed), f"{inside:.12g}").replace("-", "−")


def _figure(text: str) -> float:
    """The value of a number that `number` wrote: "−3", "1 1/2", "20.4"."""
    size = float(sum(Fraction(part) for part in text.removeprefix("−").split()))
    return -size if text.startswith("−") else size


def inches(value) -> str:
    """A length in inches as the trade writes it: in eighths, "3/4" or "1 1/2"; in hundredths where it is none."""
    inside = number_in(value, "inch")
    whole, eighths = divmod(round(8 * inside), 8)
    if abs(8 * inside - round(8 * inside)) > 0.08:
        return f"{inside:.2f}"
    return f"{whole or ''} {Fraction(eighths, 8) if eighths else ''}".strip() or "0"


def sixteenths(value) -> str:
    """A length in inches to the nearest sixteenth, as a tape reads: "30 11/16"."""
    whole, parts = divmod(round(16 * abs(number_in(value, "inch"))), 16)
    text = f"{whole or ''} {Fraction(parts, 16) if parts else ''}".strip() or "0"
    return f"−{text}" if value.magnitude < 0 and text != "0" else text


def measured(length, system: str) -> str:
    """A length as a tape measure shows it: "0.739 m" to the millimetre, "2 ft 5 1/16 in" to the sixteenth."""
    if _index(system) == 0:
        return f"{number_in(length, 'm') + 0.0:.3f}".rstrip("0").rstrip(".").replace("-", "−") + " m"
    sixteenths = round(16 * number_in(length, "inch"))
    feet, rest = divmod(abs(sixteenths), 12 * 16)
    whole, part = divmod(rest, 16)
    inside = " ".join(str(one) for one in (whole or None, Fraction(part, 16) if part else None) if one is not None)
    text = " ".join(filter(None, (f"{feet} ft" if feet else "", f"{inside} in" if inside else "")))
    return f"{'−' if sixteenths < 0 else ''}{text or '0 in'}"


def show(value, kind: str, system: str) -> str:
    """A quantity with its unit, for example "59 °C" or "26.3 W/m"."""
    return f"{number(value, kind, system)} {symbol(kind, system)}".strip()


def both(value, kind: str) -> str:
    """A quantity in both systems, for running text: "60 °C (140 °F)"."""
    return f"{show(value, kind, SI)} ({show(value, kind, US)})"


def system_of(temperature) -> str:
    """The unit system that a temperature was given in."""
    return US if temperature.units == unit_of("degF") else SI


def percent_off(share: float) -> str:
    """Says how far one number lies from another, for example "+3 %" or "−1 %"; share : their difference over the
    second.
    """
    return f"{100 * share:+.0f} %".replace("-", "−")


def duration(seconds: float) -> str:
    """Writes a time in words: "40 s", "12 min", "3.9 h", "2 days"; always rounded down, the cautious side; minutes
    from two up.
    """
    if seconds < 120:
        return f"{max(1, math.floor(seconds + 1e-6))} s"
    if seconds < 99.5 * 60:
        return f"{math.floor(seconds / 60 + 1e-6)} min"
    hours = seconds / 3600
    if hours < 10:
        return f"{math.floor(10 * hours + 1e-6) / 10:g} h"
    return f"{math.floor(hours + 1e-6)} h" if hours < 48 else f"{math.floor(hours / 24 + 1e-6)} days"


LONGEST_IN_SECONDS = 600  # [s] a wait is told in seconds up to here, so that two waits can be held against each other


def stopwatch(seconds: float, beside: float = 0.0) -> str:
    """A time that somebody stops at a tap: "0.9 s", "52 s", "103 s"; from ten minutes up as `duration`.

    beside : the time that stands beside it [s]; where that is told in minutes, so is this one
    """
    whole = round(seconds)
    if max(whole, round(beside)) >= LONGEST_IN_SECONDS and whole >= 60:
        return f"{whole // 60} min" if whole < 120 else duration(whole)
    return f"{seconds:.1f} s".replace(".0 ", " ") if seconds < 9.95 else f"{whole} s"


def just_under(value: float, wanted: float, system: str) -> str:
    """A temperature [degC] below one that is wanted, in words that do not round it up to that."""
    shown, aim = (show(celsius(one), "temperature", system) for one in (value, wanted))
    return f"just under {aim}" if value < wanted and shown == aim else shown


def burn_seconds(seconds: float) -> float:
    """A time to a burn as it is told [s]: from an hour up in whole hours, rounded down, for the tables are good to a
    factor of two.
    """
    return seconds if seconds < 3600 else 3600.0 * math.floor(seconds / 3600 + 1e-6)


def burn_time(seconds: float) -> str:
    """Writes a time to a burn in words: "5 min", "2 h"."""
    told = burn_seconds(seconds)
    return duration(told) if told < 3600 else f"{told / 3600:.0f} h"


def burns_briefly(seconds: float, bound: str) -> str:
    """Says what the burn tables say of skin in this water: "burns in about 5 min", "no burn within 6 h"."""
    lead = {"at": "burns in about", "shorter than": "burns in under", "longer than": "no burn within"}[bound]
    return f"{lead} {burn_time(seconds)}"


def burns(seconds: float, bound: str) -> str:
    """Gives the same in a sentence, which says that the tables end there: "no burn within 6 h in the tables"."""
    return burns_briefly(seconds, bound) + (" in the tables" if bound == "longer than" else "")


EDGE = 4.0  # [degC] a still pipe under a clear night sky settles 4-5 K below the air (see physics/heat_loss.py)
ICE_FREE, NEAR_FREEZING = "no ice", "near freezing"


def ice_after(hours: float) -> str:
    """Time until ice can form, never finer than a minute, for the end of a bar: "no ice", "at once", "3.9 h"."""
    if hours < 1 / 60:
        return "at once"
    return ICE_FREE if math.isinf(hours) else "1 min" if hours < 2 / 60 else duration(3600 * hours)


def ice_parts(hours: float, rest: float = EDGE) -> tuple[str, ...]:
    """Says what is said of ice in standing water: a state, and where there is more to it, a second part that says why.

    rest : where the standing water settles [degC]
    """
    if math.isinf(hours):
        return ("no ice in this model",) if rest >= EDGE else (NEAR_FREEZING, "a clear night can freeze it")
    return (f"ice can form {'' if hours < 1 / 60 else 'after '}{ice_after(hours)}",)


def ice_words(hours: float, rest: float = EDGE) -> str:
    """Gives the same in one phrase, for a sentence."""
    return ": ".join(ice_parts(hours, rest))


def celsius(value: float):
    """A temperature of the inside (degC) as a quantity."""
    return Q_(value, unit_of("degC"))


NUMBER_AND_UNIT = re.compile(
    r"(?<=\d) (?=(?:[kM]?Pa|psi|mm|cm|m|ft|in|mL|L|gal|gpm|L/min|m/s|mph|ms|s|min|h|kW|kWh|W|W/m|W/ft|A|V|%|kg|lb|mg/L"
    r"|gr/gal)\b|in³|°[CF]|%)"
)


def unbroken(text: str) -> str:
    """Gives the same words, with no line break between a number and its unit."""
    return NUMBER_AND_UNIT.sub("\u00a0", text)
