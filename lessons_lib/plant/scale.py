"""Hard water that is heated: what can come down from it, how hard it is called, and the scale that it leaves."""

from dataclasses import dataclass

from ..physics import scale as physics
from ..quantities.border import ROUNDING
from ..quantities.display import SI
from ..quantities.results import Word
from ..quantities.units import Q_, WATER, Domain, broadcast, quantity, to_base
from ..storage import tables

HARDNESS = Domain("hardness", "mg/L", 20, 500, 'Q_(300, "mg/L")')
COLD_WATER = Domain("cold water", "degC", 0, 25, 'Q_(10, "degC")')
# At most so many mg/L as CaCO3: four classes of the US Geological Survey (Durfor and Becker 1964, as quoted in
# secondary literature).
HARDNESS_WORDS = (
    (60.0, Word("soft", 0)),
    (120.0, Word("moderately hard", 1)),
    (180.0, Word("hard", 1)),
    (float("inf"), Word("very hard", 2)),
)
CAUTION = (
    "The most that can come down, once the hot water has had all the time it needs. Much stays in the water, or falls"
    " where it does no harm. The maker's limits on hardness, and the hardness that your waterworks state, decide."
)


@dataclass(frozen=True)
class Layer:
    """Holds what a layer on a heat exchanger is made of: conductivity [W/(m K)], density [kg/m3]."""

    conductivity: float
    density: float


def layer(name: str = "dense scale") -> Layer:
    """The row of data/scale.csv. Raises InputError: no such layer."""
    row = tables.row("scale", "layer", name, "layer")
    return Layer(row.number("conductivity"), row.number("density"))


def scale_from(hardness, cold, hot):
    """Gives what can come down at most from water that is heated in a closed system [mg/L], calcite's equilibrium.

    hardness : as CaCO3, all of it taken as calcium with its carbonates; cold, hot : temperatures. See physics.scale.
    Raises InputError.
    """
    hard, start, end = to_base(hardness, HARDNESS), to_base(cold, COLD_WATER), to_base(hot, WATER)
    broadcast(hardness=hard, cold=start, hot=end)
    return quantity(physics.comes_down(hard, start, end), "mg/L")


def hardness_word(milligrams: float) -> Word:
    """Says what water of a hardness [mg/L as CaCO3] is called."""
    return next(word for most, word in HARDNESS_WORDS if milligrams <= most + ROUNDING)


def degrees(milligrams: float, system: str) -> str:
    """Gives a hardness [mg/L as CaCO3] as the waterworks of a unit system's side state it too."""
    named = {row["unit"]: milligrams / row.number("mg_per_L") for row in tables.rows("hardness")}
    if system == SI:
        return ", ".join(f"{named[unit]:.0f} {unit}" for unit in ("°dH", "°f", "°e"))
    return f"{milligrams:.0f} mg/L (ppm)"


def one(unit: str):
    """Gives one unit of hardness of data/hardness.csv [mg/L]. Raises InputError: no such unit."""
    return Q_(tables.row("hardness", "unit", unit, "unit of hardness").number("mg_per_L"), "mg/L")
