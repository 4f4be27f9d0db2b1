"""What a plastic pipe may carry: its rating against the water's temperature, the heater's end, sunlight and oxygen."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..quantities.errors import unknown_name
from ..quantities.results import Printed, Word
from ..quantities.units import Q_, Domain, Quantity, quantity, to_base
from ..storage import tables

WATER_IN_PLASTIC = Domain("water temperature", "degC", 0, 120, 'Q_(60, "degC")')
INSIDE = Domain("pressure", "Pa", 0, 5e6, 'Q_(400, "kPa")')
METAL = Domain("metal pipe at the heater", "m", 0, 100, 'Q_(450, "mm")')

METAL_FIRST = Q_(18, "inch")  # of metal between heater and PEX: UPC 604 (2009), as quoted in secondary literature
WITHIN, FOR_A_TIME, ABOVE = (
    Word("within the rating", 0),
    Word("for a limited time only", 1),
    Word("above the rating", 2),
)
METAL_ENOUGH, TOO_NEAR, DIRECT = (
    Word("metal first", 0),
    Word("too near the heater", 1),
    Word("plastic at the heater", 2),
)
SHADED, JACKETED, IN_THE_SUN = Word("out of the sun", 0), Word("shaded by its jacket", 0), Word("ages in the sun", 2)
NO_BARRIER_NEEDED, BARRIER, LETS_IN = (
    Word("no barrier needed", 0),
    Word("barrier keeps oxygen out", 0),
    Word("lets oxygen in", 1),
)
INDOORS, IN_A_JACKET, BARE_OUTDOORS = "indoors", "outdoors, in a jacket", "outdoors, no jacket"
PLACES = {INDOORS: SHADED, IN_A_JACKET: JACKETED, BARE_OUTDOORS: IN_THE_SUN}
DRINKING, HEATING_WITH, HEATING_WITHOUT = (
    "drinking water",
    "closed heating, barrier pipe",
    "closed heating, no barrier",
)
USES = {DRINKING: NO_BARRIER_NEEDED, HEATING_WITH: BARRIER, HEATING_WITHOUT: LETS_IN}
CAUTION = (
    "The mark on the pipe, its maker and local code decide; fittings may be rated lower than the pipe. A rating is for"
    " steady use over decades. A heater's temperature and pressure relief valve opens where plastic is at or beyond its"
    " limit: makers test pipe to last some time in that state, so that somebody can find the fault (from memory), not"
    " to be run so. Its discharge pipe, flue and bare elements keep the distances that maker and code name. Sunlight"
    " ages PEX for good: its test method says that it is not designed for outdoor use, so it is covered at once and for"
    " always. In a closed heating circuit oxygen that passes through plain plastic rusts steel; drinking water brings"
    " its own oxygen, so there a barrier changes nothing."
)


@dataclass(frozen=True, repr=False, eq=False)
class PlasticLimit(Printed):
    """Says what a plastic pipe may carry at one temperature.

    allowed : pressure [kPa]; 0 above the last temperature of its rating
    word : "within the rating", "for a limited time only" or "above the rating"; reason : why, in a sentence
    """

    allowed: Quantity
    word: str
    reason: str
    source: str
    caution: str = CAUTION


@dataclass(frozen=True)
class ApplicationClass:
    """Says how long of 50 years the water may have which temperature [degC]: a row of data/application_classes.csv."""

    name: str
    use: str
    steady: float
    steady_years: float
    for_a_year: float
    years: float
    as_a_fault: float
    hours: float
    source: str


@dataclass(frozen=True)
class PlasticPipe:
    """A plastic pipe and its rating.

    own : its material in data/pipe_materials.csv
    temperatures [degC], pressures [Pa] : the corners of its rating; steady [degC] : above this only for a time
    application : its class; None where the rating falls as the water warms
    """

    name: str
    own: str
    temperatures: np.ndarray
    pressures: np.ndarray
    steady: float
    application: ApplicationClass | None
    source: str

    def allowed(self, celsius):
        """Pressure [Pa] that the pipe is rated for at temperatures [degC]; 0 above the last one. Shape as given."""
        return np.interp(celsius, self.temperatures, self.pressures, right=0.0)


def plastic_pipes() -> list[str]:
    """The names of the plastic pipes in data/plastic_pipes.csv."""
    return [row["pipe"] for row in tables.rows("plastic_pipes")]


@cache
def plastic_pipe(name: str) -> PlasticPipe:
    """The pipe of that name in data/plastic_pipes.csv. Raises InputError with the nearest names."""
    row = tables.row("plastic_pipes", "pipe", name, "plastic pipe")
    if row.word("kind", ("rated", "class")) == "class":
        found = application_class(row["class"])
        corners = np.array([0.0, found.as_a_fault])
        pressures = np.full(2, 1e3 * row.number("kPa"))
        return PlasticPipe(row["pipe"], row["own"], corners, pressures, found.steady, found, row["source"])
    points = [one for one in tables.rows("plastic_ratings") if one["pipe"] == row["pipe"]]
    warm = [Q_(point.number("degF"), "degF").to("degC").magnitude for point in points]
    high = [Q_(point.number("psi"), "psi").to("Pa").magnitude for point in points]
    return PlasticPipe(row["pipe"], row["own"], np.array(warm), np.array(high), warm[-1], None, row["source"])


@cache
def application_class(name: str) -> ApplicationClass:
    """The class of that name, "1", "2", "4" or "5". Raises InputError."""
    for row in tables.rows("application_classes"):
        if row["class"] == str(name):
            numbers = ("steady", "steady_years", "for_a_year", "years", "as_a_fault", "hours")
            return ApplicationClass(row["class"], row["use"], *map(row.number, numbers), row["source"])
    raise unknown_name("application class", name, [row["class"] for row in tables.rows("application_classes")])


def plastic_limit(name: str, temperature, pressure) -> PlasticLimit:
    """Whether a plastic pipe may carry water of this temperature at this pressure. One value of each.

    name : in data/plastic_pipes.csv; pressure : as a gauge shows it
    Raises InputError.
    """
    pipe = plastic_pipe(name)
    warm, inside = to_base(temperature, WATER_IN_PLASTIC), to_base(pressure, INSIDE)
    allowed = float(pipe.allowed(warm))
    word, reason = _verdict(pipe, warm, inside, allowed)
    return PlasticLimit(quantity(allowed, "Pa").to("kPa"), word, reason, pipe.source)


def _verdict(pipe: PlasticPipe, warm: float, inside: float, allowed: float) -> tuple[Word, str]:
    """Gives the word and its reason."""
    if allowed == 0:
        return ABOVE, "the water is warmer than its rating goes"
    if inside > allowed:
        return ABOVE, "the pressure is higher than it is rated for at this temperature"
    if pipe.application is None or warm <= pipe.steady:
        return WITHIN, "its rating covers both"
    found = pipe.application
    if warm <= found.for_a_year:
        return FOR_A_TIME, f"so warm for {found.years:g} year{'s' if found.years != 1 else ''} of 50 in all"
    return FOR_A_TIME, f"so warm only through a fault, {found.hours:g} h of 50 years in all"


def heater_word(metal) -> Word:
    """Says whether enough metal pipe stands between a heater and the plastic. metal : its length"""
    length = to_base(metal, METAL)
    return METAL_ENOUGH if length >= METAL_FIRST.to("m").magnitude * 0.98 else TOO_NEAR if length > 0 else DIRECT


def place_word(place: str) -> Word:
    """Says what the place does to the pipe: a key of PLACES. Raises InputError."""
    return _known("place", place, PLACES)


def use_word(use: str) -> Word:
    """Says whether the pipe needs an oxygen barrier there: a key of USES. Raises InputError."""
    return _known("use", use, USES)


def _known(what: str, name: str, words: dict) -> Word:
    if name not in words:
        raise unknown_name(what, name, list(words))
    return words[name]
