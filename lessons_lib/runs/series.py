"""Runs end to end: one flow through all, each leg starting from the outlet of the one before."""

from dataclasses import dataclass

import numpy as np

from ..physics.convection import inside_resistance, no_film
from ..physics.delivery import Delivery
from ..physics.properties import water as water_properties
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import FLOW, LENGTH, SUPPLY, broadcast, quantity, to_base
from .cautions import joined
from .common_values import HELD_AT, WARM_ENOUGH
from .cooling_freezing import Freezing
from .first_draw import FirstDraw, first_draw, second_draw
from .flow import fastest, flow_through, pressure_drop_through
from .run import Run


@dataclass(frozen=True, repr=False, eq=False)
class Series(Printed):
    """Legs in the order that the water takes them; the same questions as a single run.

    runs : tuple of Run
    Standing water does not mix along the run: the leg that cools or freezes first decides.
    """

    runs: tuple

    def __post_init__(self):
        if not self.runs or not all(isinstance(run, Run) for run in self.runs):
            raise InputError("series: give a list of at least one Run, for example Run.series([run_1, run_2]).")
        broadcast(**{f"leg {number}": np.empty(run.shape) for number, run in enumerate(self.runs, 1)})

    @property
    def length(self):
        """Of all legs together [m]."""
        return quantity(sum(to_base(run.length, LENGTH) for run in self.runs), "m")

    def heat_loss(self, water, flow=None):
        """Mean loss per metre [W/m] with the same water in every leg; see Run.heat_loss."""
        total = sum(run.heat_loss(water, flow).magnitude * to_base(run.length, LENGTH) for run in self.runs)
        return quantity(total / to_base(self.length, LENGTH), "W/m")

    def surface_temperature(self, water, flow=None):
        """Hottest outer surface of any leg [degC]; the covered part, where a share is bare."""
        surfaces = [run.surface_temperature(water, flow).magnitude for run in self.runs]
        return quantity(np.maximum.reduce(np.broadcast_arrays(*surfaces)), "degC")

    def deliver(self, supply, flow, film=inside_resistance) -> Delivery:
        """Steady flow in SI floats, see Run.deliver. The mass flow is one; the volume flow follows the density."""
        temperature, passed, ice = to_base(supply, SUPPLY), 0.0, np.inf
        mass_flow = to_base(flow, FLOW) * water_properties(temperature).density
        for run in self.runs:
            leg_flow = quantity(mass_flow / water_properties(temperature).density, "m**3/s")
            result = run.deliver(quantity(temperature, "degC"), leg_flow, film)
            ice = np.minimum(ice, passed + result.ice_distance)
            temperature, passed = result.temperature, passed + to_base(run.length, LENGTH)
        return Delivery(temperature, ice)

    def delivery_temperature(self, supply, flow):
        """Temperature at the end of the last leg in steady flow [degC]; see Run.delivery_temperature."""
        return quantity(self.deliver(supply, flow).temperature, "degC")

    def ice_distance(self, supply, flow):
        """Distance from the first leg's start at which flowing water can reach 0 degC [m]; inf: nowhere. See
        Run.ice_distance."""
        return quantity(self.deliver(supply, flow, no_film).ice_distance, "m")

    def first_draw(self, supply, flow, start, useful=WARM_ENOUGH) -> FirstDraw:
        """Waiting for hot water through all legs; see Run.first_draw."""
        return first_draw(self.runs, supply, flow, start, useful)

    def second_draw(self, supply, flow, pause, useful=WARM_ENOUGH) -> FirstDraw:
        """The next draw after a pause; see Run.second_draw."""
        return second_draw(self.runs, supply, flow, pause, useful)

    @property
    def caution(self) -> str:
        """What to know of every result of these runs; empty where there is nothing."""
        return joined(*(run.caution for run in self.runs))

    def speed(self, flow):
        """Speed in the leg with the smallest bore [m/s]; see Run.speed."""
        return fastest([run.leg for run in self.runs], flow)

    def pressure_drop(self, flow, water):
        """Pressure lost in all legs at one flow [kPa]; see Run.pressure_drop."""
        return pressure_drop_through([run.leg for run in self.runs], flow, water)

    def flow_at(self, pressure, height, water):
        """Flow that a pressure drives through all legs [L/min]; see Run.flow_at."""
        return flow_through([run.leg for run in self.runs], pressure, height, water)

    def cooling(self, start, duration):
        """Cooling of the leg that changes fastest; see Run.cooling."""
        legs = [run.cooling(start, duration) for run in self.runs]
        return min(legs, key=lambda leg: float(np.min(leg.half_life.magnitude)))

    def freezing(self, start):
        """Freezing of all legs, the first one deciding; see Run.freezing."""
        legs = [run.freezing(start) for run in self.runs]
        return Freezing(tuple(part for leg in legs for part in leg.parts), legs[0].start)

    def hold_power(self, hold=HELD_AT):
        """Mean heat per metre to hold every leg at `hold` [W/m]; see Run.hold_power."""
        total = sum(run.hold_power(hold).magnitude * to_base(run.length, LENGTH) for run in self.runs)
        return quantity(total / to_base(self.length, LENGTH), "W/m")
