"""Where a run lies: in air, or in the ground."""

from dataclasses import dataclass

from ..physics.heat_loss import Air, Soil
from ..quantities.results import Printed
from ..quantities.units import AIR, DEPTH, Q_, RADIANT, SOIL, WIND, Quantity, own_copy, to_base
from ..storage import tables

WHY_NOT_BURIED = (
    "this run is buried (Ground): soil takes days to warm or cool, so {what} of standing water is not answered "
    "from a steady soil. Use Surroundings for a run in air."
)


@dataclass(frozen=True, repr=False, eq=False)
class Surroundings(Printed):
    """Air around a pipe.

    air : temperature
    wind : cross wind at the pipe itself, not at a weather mast
    radiant : what the surface radiates to; None: the air's own temperature. A clear night sky can be 20 K colder.
    """

    air: Quantity
    wind: Quantity = Q_(0.0, "m/s")
    radiant: Quantity | None = None

    def __post_init__(self):
        self.inside()
        for name in ("air", "wind", *(("radiant",) if self.radiant is not None else ())):
            object.__setattr__(self, name, own_copy(getattr(self, name)))

    def inside(self) -> Air:
        """Gives the same in SI floats, checked. Raises InputError."""
        air = to_base(self.air, AIR)
        radiant = air if self.radiant is None else to_base(self.radiant, RADIANT)
        return Air(air, to_base(self.wind, WIND), radiant)


@dataclass(frozen=True, repr=False, eq=False)
class Ground(Printed):
    """Soil around a buried pipe; steady only, for soil takes days to warm.

    temperature : of the undisturbed soil at the pipe's depth
    depth : of the pipe's axis below the surface
    soil : name in data/soils.csv: "dry", "moist" or "wet"
    """

    temperature: Quantity
    depth: Quantity
    soil: str = "moist"

    def __post_init__(self):
        self.inside()
        for name in ("temperature", "depth"):
            object.__setattr__(self, name, own_copy(getattr(self, name)))

    def inside(self) -> Soil:
        """Gives the same in SI floats, checked. Raises InputError."""
        conductivity = float(tables.row("soils", "soil", self.soil, "soil")["conductivity"])
        return Soil(to_base(self.temperature, SOIL), to_base(self.depth, DEPTH), conductivity)
