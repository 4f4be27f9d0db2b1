"""Runs end to end: one flow through all, each leg starting from the outlet of the one before.

A single run is one leg and answers the same questions. They come with units, are worked out in SI floats by the legs
themselves (`_loss`, `_deliver`, `_hold` and `_parts` of a Run), and are given their units at the end.
"""

from dataclasses import dataclass

import numpy as np

from ..physics.convection import inside_resistance, no_film
from ..physics.delivery import Delivery
from ..physics.properties import water as water_properties
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import FLOW, FLOW_OR_NONE, HOLD, START, SUPPLY, WATER, broadcast, quantity, to_base
from .cautions import joined
from .common_values import HELD_AT, WARM_ENOUGH
from .convergence import named_inputs
from .cooling_freezing import Cooling, Freezing, one_duration
from .first_draw import FirstDraw, first_draw, second_draw
from .flow import fastest, flow_through, pressure_drop_through
from .surroundings import WHY_NOT_BURIED


class Legs(Printed):
    """Says what can be asked of a run, and of several end to end. runs : each a Run, in the order the water takes
    them
    """

    @property
    def shape(self) -> tuple:
        """The shape that the runs' own lists broadcast to."""
        return np.broadcast_shapes(*(leg.line.shape for leg in self.runs), *(np.shape(leg.metres) for leg in self.runs))

    def _fit(self, **asked) -> None:
        """An InputError where the lists that are asked do not fit together, or do not fit the runs' own."""
        broadcast(**asked, run=np.empty(self.shape if len(self.runs) > 1 else self.runs[0].line.shape))

    def _mean(self, of_legs):
        """The mean per metre of one value for each leg."""
        if len(self.runs) == 1:
            return of_legs[0]
        total = sum(value * leg.metres for value, leg in zip(of_legs, self.runs))
        return total / sum(leg.metres for leg in self.runs)

    @named_inputs
    def loss_and_surface(self, water, flow=None) -> tuple:
        """Says what heat_loss [W/m] and surface_temperature [degC] give, both at once and as SI floats."""
        inside, moving = to_base(water, WATER), 0.0 if flow is None else to_base(flow, FLOW_OR_NONE)
        self._fit(water=inside, flow=moving)
        losses, surfaces = zip(*(leg._loss(inside, moving) for leg in self.runs))
        return self._mean(losses), np.maximum.reduce(np.broadcast_arrays(*(covered for covered, *_ in surfaces)))

    def heat_loss(self, water, flow=None):
        """Heat loss per metre with the same water in every leg [W/m]; negative is gain.

        water : temperature of the water, 0 to 99 degC
        flow : volume flow at that temperature; None or 0: the water stands, its film is neglected. That is the
            cautious side. Against the slowest laminar flow it is at most 6 % under 19 mm of foam and 10 % under 9 mm,
            25 % bare in still air, 160 % bare in strong wind; all are for 42 mm pipe, smaller pipe is less.
        """
        return quantity(self.loss_and_surface(water, flow)[0], "W/m")

    def surface_temperature(self, water, flow=None):
        """Temperature of the outermost surface, of the hottest leg [degC]: of the covered part, where a share is
        bare.
        """
        return quantity(self.loss_and_surface(water, flow)[1], "degC")

    @named_inputs
    def deliver(self, supply, flow, film=inside_resistance) -> Delivery:
        """Steady flow: far-end temperature [degC] and distance to ice [m] as SI floats, for the physics. Units as in
        delivery_temperature.

        film : of the water, see physics.delivery.deliver; no_film gives the cold side
        """
        entering, moving = to_base(supply, SUPPLY), to_base(flow, FLOW)
        broadcast(supply=entering, flow=moving, run=np.empty(self.shape))
        return self._deliver(entering, moving, film)

    def delivery_temperature(self, supply, flow):
        """Temperature at the far end in steady flow [degC].

        supply : temperature into the run, 0 to 99 degC; it may be colder than the air
        flow : volume flow at the supply temperature, above 0
        Water that would freeze on the way stays at 0 degC.
        This is the hot side, the cautious one for burns: the film of slow water (below Re 2300) is that of forced flow
        alone, Nu = 3.66. Buoyancy thins it. A bare run in wind then delivers several kelvins less, the more so the
        slower the flow: 22 mm copper, 20 m, -10 degC, 5 m/s, 60 degC in at 1 L/min: 23.7 degC here, 12.9 degC with no
        film. Under 19 mm of foam it is about 3 % of the drop.
        """
        return quantity(self.deliver(supply, flow).temperature, "degC")

    def ice_distance(self, supply, flow):
        """Distance from the start at which flowing water can reach 0 degC and ice can form [m]; inf: nowhere.

        The cold side: without the water's film, so that ice can be named although delivery_temperature is above 0 degC.
        """
        return quantity(self.deliver(supply, flow, no_film).ice_distance, "m")

    def first_draw(self, supply, flow, start, useful=WARM_ENOUGH, places: int = 0) -> FirstDraw:
        """Waiting for hot water: the tap opens on a run in which water stands at `start`.

        supply, flow : as in delivery_temperature
        useful : temperature at which the wait ends; above the supply it is an InputError
        places : along the run at which the water is recorded too; 0: none
        Plug flow past a wall that stores heat; on Ground the soil is held steady.
        """
        return first_draw(self.runs, supply, flow, start, useful, places)

    def second_draw(self, supply, flow, pause, useful=WARM_ENOUGH, places: int = 0) -> FirstDraw:
        """The next draw, after the hot run has stood still for `pause`; see first_draw. Air only, else InputError."""
        self._in_air("the cooling")
        return second_draw(self.runs, supply, flow, pause, useful, places)

    def speed(self, flow):
        """Mean speed of the water, in the leg with the smallest bore [m/s]. flow : volume flow, 0 or more"""
        return fastest([run.leg for run in self.runs], flow)

    def pressure_drop(self, flow, water):
        """Pressure lost to friction and fittings [kPa]; height is not part of it. water : its temperature"""
        return pressure_drop_through([run.leg for run in self.runs], flow, water)

    def flow_at(self, pressure, height, water):
        """Flow that a pressure drives through the run [L/min]; 0 where it cannot lift the water that high.

        pressure : at the start while the water flows (a gauge reading); height : of the tap above the start
        Without a tap among the fittings the far end is wide open.
        """
        return flow_through([run.leg for run in self.runs], pressure, height, water)

    def _in_air(self, what: str) -> None:
        """An InputError where a leg is buried. what : is not answered then"""
        if any(leg.buried for leg in self.runs):
            raise InputError(WHY_NOT_BURIED.format(what=what))

    @named_inputs
    def cooling(self, start, duration) -> Cooling:
        """Gives how standing water cools (or warms) from `start` over `duration`. Air only, else InputError.

        Water, pipe wall and the insulation's own heat; of a run with a bare share, the covered part; of several legs,
        the one that changes fastest, for standing water does not mix along the run.
        """
        self._in_air("the cooling")
        begin, seconds = to_base(start, START), one_duration(duration)
        self._fit(start=begin)
        legs = [Cooling.of(leg.standing(), begin, seconds) for leg in self.runs]
        return min(legs, key=lambda leg: float(np.min(leg.half_life.magnitude)))

    def freezing(self, start) -> Freezing:
        """Says when standing water that starts at `start` can freeze, and how its ice grows. Air only, else InputError.

        Water and pipe wall only: the insulation's own heat is left out, the cautious side.
        Of several legs, and where a share of the run is bare, the part that freezes first decides.
        """
        self._in_air("the freezing")
        begin = to_base(start, START)
        self._fit(start=begin)
        return self._freezing(begin)

    def _freezing(self, start) -> Freezing:
        """Gives the same in SI floats, of a run in air."""
        return Freezing(tuple(part for leg in self.runs for part in leg._parts()), start)

    def _hold(self, hold):
        """Heat that holds every leg, in SI floats; see hold_power."""
        return self._mean([np.maximum(leg.without_wall().loss(hold)[0], 0.0) for leg in self.runs])

    @named_inputs
    def hold_power(self, hold=HELD_AT):
        """Heat per metre that a tape on the wall must give to hold the run at `hold` [W/m]; 0 where the air is warmer.

        The tape heats the outside of the wall, so neither wall nor water film helps: (hold - air) over the
        resistances of gap, insulation and outside.
        """
        inside = to_base(hold, HOLD)
        self._fit(hold=inside)
        return quantity(self._hold(inside), "W/m")


@dataclass(frozen=True, repr=False, eq=False)
class Series(Legs):
    """Legs in the order that the water takes them; the same questions as a single run.

    runs : tuple of Run
    Standing water does not mix along the run: the leg that cools or freezes first decides.
    """

    runs: tuple

    def __post_init__(self):
        if not self.runs or not all(isinstance(leg, Legs) and not isinstance(leg, Series) for leg in self.runs):
            raise InputError("series: give a list of at least one Run, for example Run.series([run_1, run_2]).")
        broadcast(**{f"leg {number}": np.empty(leg.shape) for number, leg in enumerate(self.runs, 1)})

    @property
    def length(self):
        """The length of all legs together [m]."""
        return quantity(sum(leg.metres for leg in self.runs), "m")

    @property
    def caution(self) -> str:
        """Says what to know of every result of these runs; empty where there is nothing."""
        return joined(*(leg.caution for leg in self.runs))

    def _deliver(self, supply, flow, film=inside_resistance) -> Delivery:
        """Steady flow, in SI floats. The mass flow is one; the volume flow follows the density."""
        temperature, passed, ice = supply, 0.0, np.inf
        mass_flow = flow * water_properties(supply).density
        for leg in self.runs:
            leg_flow = mass_flow / water_properties(temperature).density
            result = leg._deliver(temperature, leg_flow, film)
            ice = np.minimum(ice, passed + result.ice_distance)
            temperature, passed = result.temperature, passed + leg.metres
        return Delivery(temperature, ice)
