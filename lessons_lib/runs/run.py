"""A pipe run: one pipe, its length, what is around it, where it lies."""

from dataclasses import dataclass, field, replace

import numpy as np

from ..physics.convection import inside_resistance
from ..physics.cooling import Standing
from ..physics.delivery import Delivery, deliver
from ..physics.heat_loss import Section, Soil
from ..physics.line import Line
from ..physics.properties import water as water_properties
from ..quantities.errors import InputError
from ..quantities.units import DENSITY, HEAT_CAPACITY, LENGTH, Quantity, broadcast, number_in, own_copy, share, to_base
from . import cautions
from .fittings import resolve_fittings
from .insulation import Insulation
from .pipe import Pipe
from .series import Legs, Series
from .surroundings import Ground, Surroundings

LARGEST_OUTSIDE = 0.25  # [m] of insulation, the range that the outside correlations are used in


@dataclass(frozen=True, repr=False, eq=False)
class Run(Legs):
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
    metres: float | np.ndarray = field(init=False, repr=False)  # the length [m]
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
        metres, around = 1.0 * to_base(self.length, LENGTH), self.surroundings.inside()
        lists = {"length": metres, "thickness": self.insulation.thickness.magnitude, **vars(around)}
        if self.insulation.bore is not None:
            lists["bore"] = self.insulation.bore.magnitude
        broadcast(**lists)
        section = self._section()
        if isinstance(around, Soil) and np.any(2 * around.depth <= section.outside_of_insulation):
            raise InputError(f"depth: {self.surroundings.depth} does not cover the pipe; give the depth of its axis.")
        density, heat = to_base(self.pipe.density, DENSITY), to_base(self.pipe.heat_capacity, HEAT_CAPACITY)
        for name, value in {
            "length": own_copy(self.length),
            "fittings": resolve_fittings(self.fittings),
            "line": Line.of(section, around, share(self.bare_share, "bare share")),
            "metres": metres,
            "wall_density_heat": density * heat,
        }.items():
            object.__setattr__(self, name, value)

    @property
    def caution(self) -> str:
        """Says what to know of every result of this run; empty where there is nothing."""
        return cautions.of_run(self.pipe, self.insulation, self.fittings, share(self.bare_share, "bare share"))

    def _section(self) -> Section:
        """The cut through the pipe in SI floats."""
        outside = number_in(self.pipe.outside_diameter, "m")
        thickness = number_in(self.insulation.thickness, "m")
        covered = thickness > 0
        bore = outside
        if self.insulation.bore is not None:
            bore = number_in(self.insulation.bore, "m")
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
            inside_diameter=number_in(self.pipe.inside_diameter, "m"),
            outside_diameter=outside,
            wall_conductivity=number_in(self.pipe.wall_conductivity, "W/(m*K)"),
            pipe_emissivity=bare_emissivity if np.all(~np.asarray(covered)) else own,
            insulation_bore=_plain(np.where(covered, bore, outside)),
            outside_of_insulation=_plain(np.where(covered, outermost, outside)),
            conductivity_at=self.insulation.conductivity_at,
            emissivity=_plain(np.where(covered, covering if covering is not None else own, bare_emissivity)),
            inner_emissivity=self.insulation.own_emissivity,
            gap_sealed=self.insulation.gap == "sealed",
        )

    @property
    def runs(self) -> tuple:
        """The run as the only leg of a way."""
        return (self,)

    @property
    def buried(self) -> bool:
        """Says whether the run lies in soil."""
        return isinstance(self.surroundings, Ground)

    @property
    def leg(self) -> tuple:
        """Pipe, length and fittings, as lessons_lib.runs.flow takes them."""
        return self.pipe, self.length, self.fittings

    def _loss(self, water, flow):
        """Loss [W/m] and surface temperatures [degC], a list; no film where the water stands. See heat_loss."""
        film = 0.0
        if np.any(flow):
            properties = water_properties(water)
            mass_flow = np.maximum(flow, 1e-12) * properties.density
            film = np.where(
                np.asarray(flow) > 0, inside_resistance(self.line.inside_diameter, properties, mass_flow), 0.0
            )
        return self.line.loss(water, film)

    def _deliver(self, supply, flow, film=inside_resistance) -> Delivery:
        """Steady flow in SI floats; see deliver."""
        return deliver(self.line, supply, flow, self.metres, film)

    def standing(self) -> Standing:
        """The covered part full of still water, with the insulation's own heat, for the physics."""
        return Standing(self.line.alone()[0], self.wall_density_heat, self.insulation.density_heat)

    def _parts(self) -> list[Standing]:
        """Says what stands and can freeze: each part of the run, without the insulation's own heat."""
        return [Standing(line, self.wall_density_heat, 0.0) for line in self.line.alone()]

    def without_wall(self) -> Line:
        """The line as a tape on the outside of the wall feels it."""
        parts = tuple(
            (part, replace(section, inside_diameter=section.outside_diameter)) for part, section in self.line.parts
        )
        return Line(parts, self.line.around)

    @staticmethod
    def series(runs) -> Series:
        """Several runs end to end: see Series."""
        return Series(tuple(runs) if isinstance(runs, (list, tuple)) else ())


def _plain(value):
    """A float for a 0-d array: scalars stay scalars."""
    return float(value) if np.ndim(value) == 0 else value
