"""What a building's results say in words: panel, sketch and sheet print the same."""

import numpy as np

from ..quantities.display import SI, burns_briefly, duration, ice_words, number, show, stopwatch, unit
from ..quantities.units import Q_
from ..runs.assessment import CHECK, ICY, NO_WATER, TOO_HOT
from ..runs.first_draw import NEVER_WARM
from ..runs.scald import skin_words, time_to_burn

NO_CHANGE = "No change that was tried helps."
SAME_GAIN = 0.15  # points; two changes that do so little more or less than the sum of both add up


def wait_words(tap, system: str) -> str:
    """Says how long a tap's first draw takes, and what runs down the drain."""
    if np.isnan(tap.delivered.magnitude):
        return NO_WATER
    if np.isinf(tap.wait.magnitude):
        return NEVER_WARM
    return f"{warm_after(tap)} and {show(tap.water_drawn, 'volume', system)} until it is warm"


def warm_after(tap) -> str:
    """The wait of a tap's first draw, as panel, sketch and sheet print it."""
    return stopwatch(tap.wait.magnitude) if np.isfinite(tap.wait.magnitude) else NEVER_WARM


def burn_words(temperature) -> str:
    """Says what the burn tables say of water at a tap; nothing where none comes."""
    if np.isnan(temperature.magnitude):
        return NO_WATER
    burn = time_to_burn(temperature)
    return skin_words(burn.seconds.magnitude, burn.bound)


def adults_skin(temperature) -> str:
    """Says what `burn_words` says of adults alone: "burns in under 3 s", "no burn within 6 h"."""
    if np.isnan(temperature.magnitude):
        return NO_WATER
    burn = time_to_burn(temperature)
    return burns_briefly(burn.seconds.magnitude, burn.bound)


def to_buy(value, system: str, say=show) -> str:
    """Says what a take-off asks for: a number of things, or a length rounded up to 0.1 m or 1 ft, so that it is never
    too short. say : `number` leaves the unit away
    """
    if isinstance(value, int):
        return str(value)
    own, step = unit("length", system), 0.1 if system == SI else 1.0
    return say(Q_(step * np.ceil(value.to(own).magnitude / step - 1e-9), own), "length", system)


def tape_to_buy(leg, system: str) -> str:
    """All the tape of a leg; where it takes several side by side, the length is that of all of them together."""
    length, tapes = to_buy(leg.plan.tape_length, system), leg.plan.tapes
    return length if tapes == 1 else f"{length} in {tapes} tapes side by side"


def holds_with(leg, system: str) -> str:
    """The heat that holds the covered pipe of a leg, and its bare places where it has any."""
    covered = show(leg.hold_power, "tape power", system)
    if leg.bare_hold_power is None:
        return covered
    return (
        f"{number(leg.hold_power, 'tape power', system)}, bare places {show(leg.bare_hold_power, 'tape power', system)}"
    )


def ice_after(verdict) -> str:
    """Says in short when ice can form."""
    hours = float(verdict.value.magnitude)
    return f"ice after {duration(3600 * hours)}" if hours > 0 else "ice at once"


def settles_words(leg, system: str) -> str:
    """Says where the coldest place of a leg settles while its tape is on."""
    return f"settles at {show(leg.coldest_kept, 'temperature', system)}"


def hot_words(leg, system: str) -> str:
    """Says what is to be said of a leg that its tape makes hot; "" where it does not."""
    if leg.tape_word not in (TOO_HOT, CHECK):
        return ""
    return f"{leg.tape_word}, settles at {show(leg.hottest_kept, 'temperature', system)}"


def hours_words(verdict, rest) -> str:
    """Time until ice in a leg, in words; a buried leg is not answered."""
    return verdict.reason if rest is None else ice_words(verdict.value.magnitude, rest.magnitude)


def ranges(numbers) -> str:
    """Numbers of legs with those in a row drawn together: "1, 3–5"."""
    found: list = []
    for one in numbers:
        if found and one == found[-1][1] + 1:
            found[-1][1] = one
        else:
            found.append([one, one])
    return ", ".join(str(first) if first == last else f"{first}–{last}" for first, last in found)


def legs_words(numbers) -> str:
    """Names legs by their rising numbers: "leg 7", "legs 1–3, 7"."""
    numbers = list(numbers)
    return f"leg{'' if len(numbers) == 1 else 's'} {ranges(numbers)}"


def add_up(pair) -> str:
    """Says whether two changes together do what the sum of both would be. pair : a Change of two; see changes.Change"""
    more = pair.gain - sum(one.gain for one in pair.alone)
    if abs(more) < SAME_GAIN:
        return "yes"
    return f"no: {abs(more):.1f} {'more' if more > 0 else 'less'} than both alone"


def when_ice(leg, verdict, system: str) -> str:
    """Says when ice can form in a leg, or where tape leaves it that does not keep it; "" where there is nothing to
    say.
    """
    if verdict.word == ICY:
        return settles_words(leg, system)
    return "" if leg.rest is None or np.isinf(verdict.value.magnitude) else hours_words(verdict, leg.rest)


def lines_lose(loop, system: str) -> str:
    """Says what the lines of a loop lose on the way, or take up where it is warmer around them."""
    share = abs(100 * loop.lost_share)
    per_cent = f"{share:.0f} %" if share >= 0.5 else "less than 1 %"
    verb = "take up" if loop.lost_share < 0 else "lose"
    return f"its lines {verb} {show(abs(loop.lost), 'heat', system)}, {per_cent} of what it carries"


def on_night(reading) -> str:
    """Says which of several nights a reading of a leg or tap is of; "" where there is one only."""
    return f" (night: {reading.night})" if reading.night else ""
