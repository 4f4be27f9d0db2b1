"""One look at a run: what the tap gets, whether it scalds, and when it can freeze."""

from dataclasses import dataclass, field

import numpy as np

from ..physics import scald
from ..physics.convection import no_film
from ..quantities.border import ROUNDING, each, reachable
from ..quantities.display import EDGE, burns, celsius, ice_words, show, system_of
from ..quantities.errors import InputError
from ..quantities.results import Printed, Verdict, Word
from ..quantities.units import FLOW, Q_, START, SUPPLY, USEFUL, Quantity, broadcast, quantity, to_base
from .bacteria import GROWTH, RECOMMENDED_STORE
from .cautions import ICE, SLOW_WATER, joined
from .common_values import LONG_NIGHT, WARM_ENOUGH
from .convergence import named_inputs
from .cooling_freezing import Freezing
from .pipe import pipe_material
from .scald import BENCH_LIMIT, SOONER, TimeToBurn, burn_at, code_limit
from .series import Legs
from .surroundings import WHY_NOT_BURIED
from .tape import CAUTION as TAPE_CAUTION

BARELY_WARM = 30.0  # [degC] below this a tap feels cold, about skin temperature (common practice, no source)
HOT_ENOUGH, LUKEWARM, TOO_COLD = Word("hot enough", 0), Word("lukewarm", 1), Word("cold", 2)
FREEZES_IN_THE_RUN, NO_WATER = Word("freezes in the run", 2), Word("no water", 2)
# Children and frail people use taps too, and the burn tables are adults' figures. So nothing above the limit that care
# asks for at a shower or basin, 41 degC (106 degF), is called fine, however long the tables let an adult's skin stay.
SAFEST_LIMIT = code_limit("shower or basin in health care")
# Words for water at a tap, coolest first: (an adult's time to a burn is at least so many seconds, word); the first is
# for water up to that limit. The edges are round times.
SCALD_WORDS = (
    (np.inf, Word("low scald risk", 0)),
    (3600, Word("hot for children", 1)),
    (301, Word("test it first", 1)),
    (61, Word("scalds in minutes", 2)),
    (0, Word("scalds in seconds", 2)),
)
# Words for the hours until ice can form: (at least so many hours, word).
FREEZE_WORDS = (
    (LONG_NIGHT.magnitude, Word("lasts one night", 1)),
    (2, Word("freezes overnight", 2)),
    (0, Word("freezes within 2 h", 2)),
)
SAFE_FROM_ICE, ON_THE_EDGE = Word("stays above freezing", 0), Word("on the edge of freezing", 1)
ICY, NOT_ANSWERED = Word("ice with the tape on", 2), Word("not answered", 1)
# Words for the water in the store: (at least [degC], word).
STORE_WORDS = (
    (RECOMMENDED_STORE.magnitude, Word("stored hot", 0)),
    (GROWTH[1].magnitude, Word("below advice", 1)),
    (0.0, Word("bacteria can grow", 2)),
)
# [degC] Above it many tapes may suffer (common practice, no source); some pipe suffers below it, as its material's row
# says. Above this workbook's bench limit both are to be looked up.
MOST_TAPE = 65.0
TOO_HOT, CHECK = Word("too hot for pipe or tape", 2), Word("hot: check its limits", 1)


def settled_word(temperature: float, material: str) -> Word:
    """Says in one word where a taped pipe of a material in data/pipe_materials.csv settles. temperature [degC]"""
    if temperature <= 0:
        return ICY
    if temperature > min(MOST_TAPE, pipe_material(material).highest_taped):
        return TOO_HOT
    if temperature > BENCH_LIMIT.magnitude:
        return CHECK
    return SAFE_FROM_ICE if temperature >= EDGE else ON_THE_EDGE


@dataclass(frozen=True, repr=False, eq=False)
class Assessment(Printed):
    """Says what `assess` found. tap, scald and freeze are Verdicts.

    tap.value : delivery temperature [degC]
    scald.value : shortest published time to a burn [s]; its bound is in `burn`
    freeze.value : hours until ice can form in standing water that starts at `start` [h]; inf: never; None: buried
    ice_distance : where flowing water can reach 0 degC [m]; inf: nowhere. Slow water arrives at tap.value at the
        hottest,
        which the burn goes by, and at the coldest freezes here: see Run.delivery_temperature and Run.ice_distance
    freezing : what freeze goes by, for more questions on the same standing water; None: buried
    hold_power : heat to hold the run at `hold` [W/m]; None where no `hold` was asked for
    caution : on burns, on ice, on heat tape where a `hold` was asked for, and what the run itself brings
    """

    tap: Verdict
    scald: Verdict
    freeze: Verdict
    burn: TimeToBurn
    ice_distance: Quantity
    hold_power: Quantity | None
    caution: str = field(repr=False)
    freezing: Freezing | None = field(repr=False)


@named_inputs
def assess(run, supply, flow, *, start=Q_(20.0, "degC"), useful=WARM_ENOUGH, hold=None) -> Assessment:
    """Delivery temperature, scald and freeze verdicts of a run or a series of runs.

    run : Run or Series
    supply : set temperature at the start of the run
    flow : volume flow at the supply temperature
    start : temperature of the water that stands in the run when the freeze question begins; the cold inlet's is
        cautious
    useful : what the tap should give; above the supply it is an InputError
    hold : temperature that a heat tape should hold, if the power for that is wanted
    Raises InputError.
    """
    if not isinstance(run, Legs):
        raise InputError(f"assess: {run!r} was given where a Run or Run.series is needed.")
    entering, moving = to_base(supply, SUPPLY), to_base(flow, FLOW)
    wanted, begin = to_base(useful, USEFUL), to_base(start, START)
    broadcast(supply=entering, useful=wanted, start=begin)
    broadcast(supply=entering, flow=moving, run=np.empty(run.shape))
    reachable(useful, supply)
    system = system_of(supply)
    delivered, distance = (
        run._deliver(entering, moving).temperature,
        run._deliver(entering, moving, no_film).ice_distance,
    )
    burn = burn_at(delivered)
    freezing = None if any(leg.buried for leg in run.runs) else run.freezing(start)
    return Assessment(
        tap=_tap(delivered, distance, wanted, system),
        scald=_scald(delivered, burn, system),
        freeze=_freeze(freezing, system),
        burn=burn,
        ice_distance=quantity(distance, "m"),
        freezing=freezing,
        hold_power=None if hold is None else run.hold_power(hold),
        caution=joined(burn.caution, ICE, SLOW_WATER, "" if hold is None else TAPE_CAUTION, run.caution),
    )


def tap_word(delivered: float, ice_distance: float, useful: float) -> Word:
    """One word for what comes out of the tap. delivered, useful [degC], ice_distance [m]"""
    if np.isfinite(ice_distance):
        return FREEZES_IN_THE_RUN
    if delivered >= useful:
        return HOT_ENOUGH
    return LUKEWARM if delivered >= BARELY_WARM else TOO_COLD


def scald_word(water: float) -> Word:
    """One word for water at a tap [degC], for everybody who uses it: see SCALD_WORDS."""
    seconds = np.inf if water <= SAFEST_LIMIT + ROUNDING else scald.time_to_burn(water)[0]
    return next(word for least, word in SCALD_WORDS if seconds >= least)


def freeze_word(hours: float, rest: float) -> Word:
    """One word for the hours until ice can form, or, where the model sees none, for how near it is. rest [degC]"""
    if np.isinf(hours):
        return SAFE_FROM_ICE if rest >= EDGE else ON_THE_EDGE
    return next(word for least, word in FREEZE_WORDS if hours >= least)


def store_word(celsius: float) -> Word:
    """One word for the temperature of a hot-water store."""
    return next(word for least, word in STORE_WORDS if celsius >= least - ROUNDING)


def _tap(delivered, distance, useful, system) -> Verdict:
    def reason(temperature, ice):
        if np.isfinite(ice):
            return (
                f"the water can reach the freezing point {show(Q_(ice, 'm'), 'length', system)} along the run, though"
                " it flows"
            )
        return f"{show(celsius(temperature), 'temperature', system)} arrives at the tap"

    word = each(tap_word, delivered, distance, useful)
    return Verdict(quantity(delivered, "degC"), word, each(reason, delivered, distance))


def _scald(delivered, burn, system) -> Verdict:
    def reason(temperature, seconds, bound):
        return (
            f"an adult's skin in water at {show(celsius(temperature), 'temperature', system)}: {burns(seconds, bound)};"
            f" {SOONER}"
        )

    seconds = burn.seconds.magnitude
    return Verdict(burn.seconds, each(scald_word, delivered), each(reason, delivered, seconds, burn.bound))


def _freeze(freezing: Freezing | None, system) -> Verdict:
    if freezing is None:
        return Verdict(None, NOT_ANSWERED, WHY_NOT_BURIED.format(what="the freezing"))

    def reason(value, rest, begin):
        return f"standing still from {show(celsius(begin), 'temperature', system)}: {ice_words(value, rest)}"

    hours, rest = freezing._to_zero, freezing._rest
    return Verdict(quantity(hours, "h"), each(freeze_word, hours, rest), each(reason, hours, rest, freezing.start))
