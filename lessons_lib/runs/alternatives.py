"""The same run in other pipe: every size of a family asked the same question at once."""

from dataclasses import dataclass, field, fields, replace

import numpy as np

from ..physics.delivery import Delivery, deliver
from ..physics.heat_loss import Section
from ..physics.line import Line
from ..physics.pressure import speed
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import FLOW, FLOW_OR_NONE, SUPPLY, broadcast, quantity, to_base
from .common_values import WARM_ENOUGH
from .first_draw import waits
from .flow import flow_through_each
from .pipe import Pipe, sizes
from .run import Run


@dataclass(frozen=True, repr=False, eq=False)
class Alternatives(Printed):
    """Runs that differ in their pipe only; answers have one value for each, shape (n,), or (m, n) for flows of that
    shape.

    runs : at least two Run with one length, insulation and surroundings, without a bare share
    Raises InputError.
    """

    runs: tuple
    line: Line = field(init=False, repr=False)
    wall_density_heat: np.ndarray = field(init=False, repr=False)

    def __post_init__(self):
        if len(self.runs) < 2 or not all(isinstance(run, Run) for run in self.runs):
            raise InputError("alternatives: give a list of at least two Run that differ in their pipe only.")
        first = self.runs[0]
        for run in self.runs[1:]:
            same = all(getattr(run, name) is getattr(first, name) for name in ("length", "insulation", "surroundings"))
            if not same or len(run.line.parts) > 1 or run.shape:
                raise InputError(
                    "alternatives: the runs must share one length, insulation and surroundings, single values, with no"
                    " bare share."
                )
        sections = [run.line.section for run in self.runs]
        object.__setattr__(self, "line", Line(((1.0, _stacked(sections)),), first.line.around))
        object.__setattr__(self, "wall_density_heat", np.array([run.wall_density_heat for run in self.runs]))

    @classmethod
    def sizes(cls, family: str, length, insulation, surroundings, fittings=()) -> "Alternatives":
        """A run in every size of a family, smallest first. Raises InputError."""
        return cls(
            tuple(Run(Pipe.nominal(family, size), length, insulation, surroundings, fittings) for size in sizes(family))
        )

    @property
    def metres(self) -> float:
        """The length of each run [m]."""
        return self.runs[0].metres

    def deliver(self, supply, flow) -> Delivery:
        """Steady flow in SI floats, see Run.deliver."""
        entering, moving = to_base(supply, SUPPLY), to_base(flow, FLOW)
        broadcast(supply=entering, flow=moving, run=np.empty(self.line.shape))
        return self._deliver(entering, moving)

    def _deliver(self, supply, flow) -> Delivery:
        """Gives the same, asked in SI floats."""
        return deliver(self.line, supply, flow, self.metres)

    def waits(self, supply, flow, start, useful=WARM_ENOUGH):
        """Gives how long first draws take [s]; see first_draw.waits."""
        return waits((self,), supply, flow, start, useful)

    def flow_at(self, pressure, height, water):
        """Flow that a pressure drives through each [L/min]; see Run.flow_at."""
        return flow_through_each([run.leg for run in self.runs], pressure, height, water)

    def speed(self, flow):
        """Mean speed of the water in each [m/s]; flow : one, or one for each"""
        moving = to_base(flow, FLOW_OR_NONE)
        broadcast(flow=moving, run=np.empty(self.line.shape))
        return quantity(speed(moving, self.line.inside_diameter), "m/s")


def _stacked(sections) -> Section:
    """Sections of one insulation as one Section of arrays."""
    numbers = {
        item.name: np.array([getattr(section, item.name) for section in sections])
        for item in fields(Section)
        if np.ndim(getattr(sections[0], item.name)) == 0 and item.name != "gap_sealed"
    }
    return replace(sections[0], **numbers)
