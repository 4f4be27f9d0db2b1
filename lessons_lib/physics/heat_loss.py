"""Heat loss of a pipe per metre: resistances in series, solved for the surface temperature."""

from dataclasses import dataclass, replace

import numpy as np

from .convection import outside_coefficient
from .properties import KELVIN, air

STEFAN_BOLTZMANN = 5.670374e-8  # [W/(m2 K4)]
CONVERGED = 1e-6  # [K] change of the surface temperature at which the solution stands
MOST_ROUNDS = 60


class NotConverged(ArithmeticError):
    """The surface temperature did not settle; carries the inputs that it happened with."""


@dataclass(frozen=True)
class Section:
    """The cut through a pipe and its covering; every value a float or an array that broadcasts.

    A bare pipe has `outside_of_insulation` = `insulation_bore` = `outside_diameter`.
    """

    inside_diameter: np.ndarray  # [m]
    outside_diameter: np.ndarray  # [m]
    wall_conductivity: np.ndarray  # [W/(m K)]
    pipe_emissivity: np.ndarray  # [-]
    insulation_bore: np.ndarray  # [m]
    outside_of_insulation: np.ndarray  # [m]
    conductivity_at: tuple  # (mean temperatures [degC], conductivities [W/(m K)]), both of shape (n,)
    emissivity: np.ndarray  # [-] of the outermost surface
    gap_sealed: bool = True
    inner_emissivity: float = 0.93  # [-] of the insulation's inner face, across a gap from the pipe

    def bare(self) -> "Section":
        """Gives the same pipe with nothing on it."""
        return replace(
            self,
            insulation_bore=self.outside_diameter,
            outside_of_insulation=self.outside_diameter,
            emissivity=self.pipe_emissivity,
        )

    @property
    def wall_resistance(self):
        """Gives the resistance of a pipe's wall, ln(D/d)/(2 pi k) [m K/W]."""
        return np.log(self.outside_diameter / self.inside_diameter) / (2 * np.pi * self.wall_conductivity)

    def conductivity(self, mean_temperature):
        """Gives the insulation's conductivity at its mean temperature [W/(m K)]."""
        temperatures, values = self.conductivity_at
        if len(values) == 1:
            return values[0]
        return np.interp(mean_temperature, temperatures, values)

    def gap_resistance(self, temperature):
        """Gives the resistance of the air between pipe and insulation where the bore is larger [m K/W].

        Sealed: conduction through the air plus radiation, taken at the water's temperature (the cautious side),
        and never better than the insulation itself would be there. Open at the joints: none.
        """
        if not self.gap_sealed or np.all(self.insulation_bore == self.outside_diameter):
            return 0.0
        ratio = self.insulation_bore / self.outside_diameter
        conduction = 2 * np.pi * air(temperature).conductivity / np.log(np.maximum(ratio, 1 + 1e-12))
        # 1/(1/e_1 + (1/e_2 - 1) d/D) of two long cylinders, written so that a perfect mirror is allowed
        facing = self.inner_emissivity * ratio + self.pipe_emissivity * (1 - self.inner_emissivity)
        exchange = self.pipe_emissivity * self.inner_emissivity * ratio / np.maximum(facing, 1e-12)
        kelvin = np.asarray(temperature) + KELVIN
        radiation = np.pi * self.outside_diameter * exchange * 4 * STEFAN_BOLTZMANN * kelvin**3
        as_insulation = np.log(ratio) / (2 * np.pi * self.conductivity(temperature))
        return np.minimum(1 / (conduction + radiation), as_insulation)

    def insulation_resistance(self, mean_temperature):
        """Gives the resistance of the insulation, ln(D_ins/D_bore)/(2 pi k) [m K/W]."""
        ratio = self.outside_of_insulation / self.insulation_bore
        return np.log(ratio) / (2 * np.pi * self.conductivity(mean_temperature))


@dataclass(frozen=True)
class Air:
    """Air around the pipe, cross wind at the pipe itself, and what the surface radiates to."""

    temperature: np.ndarray  # [degC]
    wind: np.ndarray  # [m/s]
    radiant: np.ndarray  # [degC]; the air's own temperature unless there is a sky or a cold wall

    def heat_from(self, surface, section: Section):
        """Heat leaving the outer surface [W/m], and its slope with surface temperature [W/(m K)]."""
        diameter, kelvin = section.outside_of_insulation, surface + KELVIN
        coefficient, still_share = outside_coefficient(diameter, surface, self.temperature, self.wind)
        radiation = section.emissivity * STEFAN_BOLTZMANN
        cubed = kelvin * kelvin * kelvin
        flux = coefficient * (surface - self.temperature) + radiation * (cubed * kelvin - (self.radiant + KELVIN) ** 4)
        # Still-air h grows about as the fifth root of the difference at pipe size; that is slope enough for Newton.
        slope = coefficient * (1 + 0.2 * still_share) + 4 * radiation * cubed
        return np.pi * diameter * flux, np.pi * diameter * slope


@dataclass(frozen=True)
class Soil:
    """Undisturbed soil around a buried pipe, at the depth of its axis."""

    temperature: np.ndarray  # [degC]
    depth: np.ndarray  # [m]
    conductivity: np.ndarray  # [W/(m K)]

    def heat_from(self, surface, section: Section):
        """Shape factor of a buried cylinder: 2 pi k / arccosh(2 z / D) (Incropera, table of shape factors)."""
        slope = 2 * np.pi * self.conductivity / np.arccosh(2 * self.depth / section.outside_of_insulation)
        return slope * (surface - self.temperature), slope


def heat_loss(section: Section, around, inside, extra_resistance=0.0, guess=None):
    """Heat loss per metre [W/m] (negative is gain) and the outer surface's temperature [degC].

    section : the cut through the pipe
    around : Air or Soil
    inside : temperature of the water, or of the ice front [degC]
    extra_resistance : on the inside of the wall: the water film, or ice [m K/W]
    guess : surface temperature to begin from, where a neighbouring answer is at hand [degC]
    Everything broadcasts. The insulation's conductivity is taken midway between water and surface
    (wall and film take less than 1 K of it). Newton's method on the surface's heat balance, which rises
    steadily with surface temperature, until it moves by less than 1e-6 K. It looks only between the coldest and the
    warmest of water and surroundings, where the answer must lie. Raises NotConverged.
    """
    inside = np.asarray(inside, dtype=float)
    before = extra_resistance + section.wall_resistance + section.gap_resistance(inside)
    surface = _first_guess(section, around, inside, before) if guess is None else guess
    low, high = _ends(around)
    low, high = np.minimum(low, inside), np.maximum(high, inside)
    for _ in range(MOST_ROUNDS):
        surface = np.minimum(np.maximum(surface, low), high)
        resistance = before + section.insulation_resistance(0.5 * (inside + surface))
        leaving, slope = around.heat_from(surface, section)
        # Multiplied through by the resistance, so that a wall of no resistance needs no special case.
        step = (resistance * leaving - (inside - surface)) / (resistance * slope + 1)
        surface = surface - step
        if np.max(np.abs(step)) < CONVERGED:
            return leaving - slope * step, surface
    raise NotConverged(f"surface temperature still moves by {np.max(np.abs(step)):.2g} K")


def _ends(around):
    """Coldest and warmest of what a surface exchanges heat with [degC]: soil or air, and what it radiates to."""
    radiant = getattr(around, "radiant", around.temperature)
    return np.minimum(around.temperature, radiant), np.maximum(around.temperature, radiant)


def _first_guess(section, around, inside, before):
    """Surface temperature with a round 10 W/(m2 K) outside: good to a few kelvin."""
    outside = 1 / (10 * np.pi * section.outside_of_insulation)
    through = before + section.insulation_resistance(inside)
    return around.temperature + (inside - around.temperature) * outside / (outside + through)


def surface_at_rest(section: Section, around):
    """Surface temperature with no heat from inside [degC]: the air's or soil's own, or, where the surface
    radiates to something colder or warmer than the air, the balance between the two."""
    if isinstance(around, Soil) or np.all(around.radiant == around.temperature):
        return around.temperature
    low, high = _ends(around)
    surface = np.asarray(0.5 * (low + high), dtype=float)
    for _ in range(MOST_ROUNDS):
        surface = np.minimum(np.maximum(surface, low), high)
        leaving, slope = around.heat_from(surface, section)
        step = leaving / slope
        surface = surface - step
        if np.max(np.abs(step)) < CONVERGED:
            return surface
    raise NotConverged(f"the unheated surface still moves by {np.max(np.abs(step)):.2g} K")
