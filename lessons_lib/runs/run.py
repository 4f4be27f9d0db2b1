"""A pipe run: one pipe, its length, what is around it, where it lies."""

from contextlib import contextmanager
from dataclasses import dataclass, field, replace

import numpy as np

from ..physics import cooling as cooling_physics
from ..physics.convection import inside_resistance, no_film
from ..physics.delivery import Delivery, deliver
from ..physics.heat_loss import NotConverged, Section, Soil
from ..physics.line import Line
from ..physics.properties import water as water_properties
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import (
    DENSITY,
    FLOW,
    FLOW_OR_NONE,
    HEAT_CAPACITY,
    HOLD,
    LENGTH,
    START,
    SUPPLY,
    WATER,
    Quantity,
    broadcast,
    own_copy,
    quantity,
    share,
    to_base,
)
from . import cautions
from .common_values import HELD_AT, WARM_ENOUGH
from .cooling_freezing import Cooling, Freezing, one_duration
from .first_draw import FirstDraw, first_draw, second_draw
from .fittings import resolve_fittings
from .flow import flow_at, pressure_drop, speed
from .insulation import Insulation
from .pipe import Pipe
from .surroundings import Ground, Surroundings

LARGEST_OUTSIDE = 0.25  # [m] of insulation, the range that the outside correlations are used in
WHY_NOT_BURIED = (
    "this run is buried (Ground): soil takes days to warm or cool, so {what} of standing water is not answered "
    "from a steady soil. Use Surroundings for a run in air."
)


@dataclass(frozen=True, repr=False, eq=False)
class Run(Printed):
    """A run of pipe.

    pipe : Pipe
    length : centre line, one value or an array
    insulation : Insulation
    surroundings : Surroundings or Ground
    fittings : names or (name, count) pairs of data/fittings.csv, for example [("elbow 90", 3), "tap"]
    bare_share : share of the length that is left bare: supports, valves, gaps at joints; 0 is the best case
    Raises InputError: wrong kinds, a bore smaller than the pipe, an outside above 250 mm, a depth that does not cover.
    """

    pipe: Pipe
    length: Quantity
    insulation: Insulation
    surroundings: Surroundings | Ground
    fittings: tuple = ()
    bare_share: float = 0.0
    line: Line = field(init=False, repr=False)
    wall_density_heat: float = field(init=False, repr=False)  # [J/(m3 K)]

    def __post_init__(self):
        for value, kind in (
            (self.pipe, Pipe),
            (self.insulation, Insulation),
            (self.surroundings, (Surroundings, Ground)),
        ):
            if not isinstance(value, kind):
                wanted = " or ".join(one.__name__ for one in (kind if isinstance(kind, tuple) else (kind,)))
                raise InputError(f"run: {value!r} was given where {wanted} is needed.")
        around = self.surroundings.inside()
        lists = {
            "length": to_base(self.length, LENGTH),
            "thickness": self.insulation.thickness.magnitude,
            **vars(around),
        }
        if self.insulation.bore is not None:
            lists["bore"] = self.insulation.bore.magnitude
        broadcast(**lists)
        section = self._section()
        if isinstance(around, Soil) and np.any(2 * around.depth <= section.outside_of_insulation):
            raise InputError(f"depth: {self.surroundings.depth} does not cover the pipe; give the depth of its axis.")
        object.__setattr__(self, "length", own_copy(self.length))
        line = Line.of(section, around, share(self.bare_share, "bare share"))
        object.__setattr__(self, "line", line)
        object.__setattr__(self, "fittings", resolve_fittings(self.fittings))
        density, heat = to_base(self.pipe.density, DENSITY), to_base(self.pipe.heat_capacity, HEAT_CAPACITY)
        object.__setattr__(self, "wall_density_heat", density * heat)

    @property
    def caution(self) -> str:
        """What to know of every result of this run; empty where there is nothing."""
        return cautions.of_run(self.pipe, self.insulation, self.fittings, share(self.bare_share, "bare share"))

    @property
    def shape(self) -> tuple:
        """The shape that the run's own lists broadcast to."""
        return np.broadcast_shapes(self.line.shape, np.shape(self.length.magnitude))

    def _section(self) -> Section:
        """The cut through the pipe in SI floats."""
        outside = self.pipe.outside_diameter.to("m").magnitude
        thickness = self.insulation.thickness.to("m").magnitude
        covered = thickness > 0
        bore = outside
        if self.insulation.bore is not None:
            bore = self.insulation.bore.to("m").magnitude
            if np.any(covered & (bore < outside * (1 - 1e-9))):
                raise InputError(
                    f"insulation bore: {self.insulation.bore} does not go over the pipe, whose outside diameter is "
                    f"{self.pipe.outside_diameter.to(self.insulation.bore.units):.4g~P}. Choose a larger bore."
                )
        outermost = bore + 2 * thickness
        if np.any(outermost > LARGEST_OUTSIDE):
            raise InputError(
                f"insulation thickness: {self.insulation.thickness} makes the outside larger than 250 mm, "
                "beyond what this model is for. Choose less."
            )
        own = self.pipe.emissivity
        bare_emissivity = own if self.insulation.emissivity is None else self.insulation.emissivity
        covering = self.insulation.surface_emissivity
        return Section(
            inside_diameter=self.pipe.inside_diameter.to("m").magnitude,
            outside_diameter=outside,
            wall_conductivity=self.pipe.wall_conductivity.to("W/(m*K)").magnitude,
            pipe_emissivity=bare_emissivity if np.all(~np.asarray(covered)) else own,
            insulation_bore=_plain(np.where(covered, bore, outside)),
            outside_of_insulation=_plain(np.where(covered, outermost, outside)),
            conductivity_at=self.insulation.conductivity_at,
            emissivity=_plain(np.where(covered, covering if covering is not None else own, bare_emissivity)),
            inner_emissivity=self.insulation.own_emissivity,
            gap_sealed=self.insulation.gap == "sealed",
        )

    def heat_loss(self, water, flow=None):
        """Heat loss per metre [W/m]; negative is gain.

        water : temperature of the water, 0 to 99 degC
        flow : volume flow at that temperature; None or 0: the water stands, its film is neglected. That is the
            cautious side. Against the slowest laminar flow it is at most 6 % under 19 mm of foam and 10 % under 9 mm,
            25 % bare in still air, 160 % bare in strong wind; all are for 42 mm pipe, smaller pipe is less.
        """
        inside, film = self._inside(water, flow)
        with named_errors(water=water, run=self):
            return quantity(self.line.loss(inside, film)[0], "W/m")

    def surface_temperature(self, water, flow=None):
        """Temperature of the outermost surface [degC]: of the covered part, where a share is bare."""
        inside, film = self._inside(water, flow)
        with named_errors(water=water, run=self):
            return quantity(self.line.loss(inside, film)[1][0], "degC")

    def _inside(self, water, flow):
        """Water temperature [degC] and the resistance of its film [m K/W]; no film where the water stands."""
        inside = to_base(water, WATER)
        moving = 0.0 if flow is None else to_base(flow, FLOW_OR_NONE)
        broadcast(water=inside, flow=moving, run=np.empty(self.line.shape))
        if not np.any(moving):
            return inside, 0.0
        properties = water_properties(inside)
        mass_flow = np.maximum(moving, 1e-12) * properties.density
        film = inside_resistance(self.line.inside_diameter, properties, mass_flow)
        return inside, np.where(np.asarray(moving) > 0, film, 0.0)

    def deliver(self, supply, flow, film=inside_resistance) -> Delivery:
        """Steady flow in SI floats: far-end temperature [degC] and distance to ice [m]. Units as in
        delivery_temperature.

        film : of the water, see physics.delivery.deliver; no_film gives the cold side
        """
        entering, moving, length = to_base(supply, SUPPLY), to_base(flow, FLOW), to_base(self.length, LENGTH)
        broadcast(supply=entering, flow=moving, length=length, run=np.empty(self.line.shape))
        with named_errors(supply=supply, flow=flow, run=self):
            return deliver(self.line, entering, moving, length, film)

    def delivery_temperature(self, supply, flow):
        """Temperature at the far end in steady flow [degC].

        supply : temperature into the run, 0 to 99 degC; it may be colder than the air
        flow : volume flow at the supply temperature, above 0
        Water that would freeze on the way stays at 0 degC.
        This is the hot side, the cautious one for burns: the film of slow water (below Re 2300) is that of forced flow
        alone, Nu = 3.66. Buoyancy thins it. A bare run in wind then delivers several kelvins less, the more so the
        slower
        the flow: 22 mm copper, 20 m, -10 degC, 5 m/s, 60 degC in at 1 L/min: 23.7 degC here, 12.9 degC with no film.
        Under 19 mm of foam it is about 3 % of the drop.
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
        return first_draw((self,), supply, flow, start, useful, places)

    def second_draw(self, supply, flow, pause, useful=WARM_ENOUGH, places: int = 0) -> FirstDraw:
        """The next draw, after the hot run has stood still for `pause`; see first_draw. Air only, else InputError."""
        self._need_air("the cooling")
        return second_draw((self,), supply, flow, pause, useful, places)

    def standing(self) -> cooling_physics.Standing:
        """The covered part full of still water, with the insulation's own heat, for the physics."""
        return self._standing(self.line.alone()[0], self.insulation.density_heat)

    @property
    def leg(self) -> tuple:
        """Pipe, length and fittings, as lessons_lib.runs.flow takes them."""
        return self.pipe, self.length, self.fittings

    def speed(self, flow):
        """Mean speed of the water [m/s]. flow : volume flow, 0 or more"""
        return speed(self.pipe, flow)

    def pressure_drop(self, flow, water):
        """Pressure lost to friction and fittings [kPa]; height is not part of it. water : its temperature"""
        return pressure_drop(*self.leg, flow, water)

    def flow_at(self, pressure, height, water):
        """Flow that a pressure drives through the run [L/min]; 0 where it cannot lift the water that high.

        pressure : at the start while the water flows (a gauge reading); height : of the tap above the start
        Without a tap among the fittings the far end is wide open.
        """
        return flow_at(*self.leg, pressure, height, water)

    def cooling(self, start, duration) -> Cooling:
        """How standing water cools (or warms) from `start` over `duration`. Air only, else InputError.

        Water, pipe wall and the insulation's own heat; of a run with a bare share, the covered part.
        """
        self._need_air("the cooling")
        begin, seconds = to_base(start, START), one_duration(duration)
        broadcast(start=begin, run=np.empty(self.line.shape))
        with named_errors(start=start, run=self):
            return Cooling.of(self.standing(), begin, seconds)

    def freezing(self, start) -> Freezing:
        """When standing water that starts at `start` can freeze, and how its ice grows. Air only, else InputError.

        Water and pipe wall only: the insulation's own heat is left out, the cautious side.
        Where a share of the run is bare, the part that freezes first decides.
        """
        self._need_air("the freezing")
        begin = to_base(start, START)
        broadcast(start=begin, run=np.empty(self.line.shape))
        return Freezing(tuple(self._standing(line, 0.0) for line in self.line.alone()), begin)

    def hold_power(self, hold=HELD_AT):
        """Heat that a tape on the wall must give to hold the run at `hold` [W/m]; 0 where the air is warmer.

        The tape heats the outside of the wall, so neither wall nor water film helps: (hold - air) over the
        resistances of gap, insulation and outside.
        """
        inside = to_base(hold, HOLD)
        broadcast(hold=inside, run=np.empty(self.line.shape))
        with named_errors(hold=hold, run=self):
            return quantity(np.maximum(self.without_wall().loss(inside)[0], 0.0), "W/m")

    def without_wall(self) -> Line:
        """The line as a tape on the outside of the wall feels it."""
        parts = tuple(
            (part, replace(section, inside_diameter=section.outside_diameter)) for part, section in self.line.parts
        )
        return Line(parts, self.line.around)

    def _need_air(self, what: str) -> None:
        if isinstance(self.surroundings, Ground):
            raise InputError(WHY_NOT_BURIED.format(what=what))

    def _standing(self, line: Line, insulation_density_heat: float) -> cooling_physics.Standing:
        return cooling_physics.Standing(line, self.wall_density_heat, insulation_density_heat)

    @staticmethod
    def series(runs) -> "object":
        """Several runs end to end: see lessons_lib.runs.series.Series."""
        from .series import Series

        return Series(tuple(runs) if isinstance(runs, (list, tuple)) else ())


def _plain(value):
    """A float for a 0-d array: scalars stay scalars."""
    return float(value) if np.ndim(value) == 0 else value


@contextmanager
def named_errors(**inputs):
    """Turns a failure to converge into an InputError that names the inputs."""
    try:
        yield
    except NotConverged as reason:
        given = "; ".join(f"{name}: {value}" for name, value in inputs.items())
        raise InputError(f"no steady answer was found ({reason}) for {given}. Change one of them a little.") from reason
