"""A pipe run as the stepped methods see it: its loss, where it settles, and its heat capacity, per metre."""

from dataclasses import dataclass, fields, replace
from functools import cached_property

import numpy as np

from .heat_loss import MOST_ROUNDS, NotConverged, Section, heat_loss, surface_at_rest

NEAR = 0.01  # [K] closer to rest than this, the conductance is the one at this distance
THINNEST = 1e-5  # of its radius: a layer thinner than this holds nothing
SETTLED = 1e-7  # [K] change of the temperature of rest at which it stands


@dataclass(frozen=True)
class Line:
    """One covering, or a covered and a bare share side by side, in one surroundings.

    parts : (share of the length, Section) pairs; the shares add up to 1
    around : heat_loss.Air or heat_loss.Soil
    """

    parts: tuple
    around: object

    @classmethod
    def of(cls, section: Section, around, bare_share: float = 0.0) -> "Line":
        """A run with a bare share: supports, valves, joint gaps."""
        shares = ((1 - bare_share, section), (bare_share, section.bare()))
        return cls(tuple((share, part) for share, part in shares if share > 0), around)

    def alone(self) -> list["Line"]:
        """Each part as a line of its own: standing water does not mix along the run."""
        return [Line(((1.0, section),), self.around) for _, section in self.parts]

    def loss(self, inside, extra_resistance=0.0, guess=None):
        """Mean loss [W/m] and the surface temperature of each part [degC], a list.

        inside [degC], extra_resistance [m K/W] inside the wall, guess : a list like the one returned
        """
        total, surfaces = 0.0, []
        for number, (share, section) in enumerate(self.parts):
            part, surface = heat_loss(section, self.around, inside, extra_resistance, guess and guess[number])
            total = total + share * part
            surfaces.append(surface)
        return total, surfaces

    def take(self, chosen) -> "Line":
        """The line of the chosen cases only. chosen : array of bool, of the shape that all cases broadcast to"""
        parts = tuple((share, _take(section, chosen)) for share, section in self.parts)
        return Line(parts, _take(self.around, chosen))

    @property
    def section(self) -> Section:
        """Gives the cut through the covered part, or through the only part there is."""
        return self.parts[0][1]

    @property
    def inside_diameter(self):
        """The pipe's bore, the same in every part [m]."""
        return self.section.inside_diameter

    @cached_property
    def shape(self) -> tuple:
        """The shape that the line's own values broadcast to."""
        things = [section for _, section in self.parts] + [self.around]
        return np.broadcast_shapes(*(np.shape(value) for thing in things for value in _arrays(thing).values()))

    def rest(self, extra_resistance=0.0):
        """Temperature at which the whole line gives and takes no heat [degC].

        extra_resistance : inside the wall [m K/W]. Where the parts would settle apart, one giving and one taking
            heat, it weakens the barer one more, and rest lies elsewhere; a single part rests where it does.
        """
        still = len(self.parts) == 1 or not np.any(extra_resistance)
        return self._rest if still else self._balance(extra_resistance)

    @cached_property
    def _rest(self):
        """Temperature of rest with nothing inside the wall [degC], asked for many times in one picture."""
        return self._balance(0.0)

    def _balance(self, extra_resistance):
        """Temperature of rest, worked out."""
        ends = np.broadcast_arrays(*(surface_at_rest(section, self.around) for _, section in self.parts))
        low, high = np.minimum.reduce(ends), np.maximum.reduce(ends)
        if np.all(low == high):
            return low[()]
        # At the lowest the line takes heat, at the highest it gives heat: false position between the two. An end that
        # stays twice counts half (the Illinois rule), so that both close in.
        (below, surfaces), (above, _) = (self.loss(end, extra_resistance) for end in (low, high))
        rest, gave = low, None
        for _ in range(MOST_ROUNDS):
            before, rest = rest, low - below * (high - low) / np.where(above > below, above - below, 1.0)
            if np.max(np.abs(rest - before)) < SETTLED:
                return rest
            here, surfaces = self.loss(rest, extra_resistance, surfaces)
            gives = here > 0
            stays = np.where(gives == gave, 0.5, 1.0)
            below, above = np.where(gives, stays * below, here), np.where(gives, here, stays * above)
            low, high, gave = np.where(gives, low, rest), np.where(gives, rest, high), gives
        raise NotConverged(f"the temperature of rest still moves by {np.max(np.abs(rest - before)):.2g} K")

    def conductance(self, inside, rest, extra_resistance=0.0, shares=None):
        """Loss per kelvin above rest [W/(m K)], nearly constant along a run, and for each part the share
        (surface - rest)/(inside - rest), nearly constant too: pass it on as the next call's starting point.

        inside, rest [degC]; extra_resistance [m K/W] inside the wall
        """
        distance = inside - rest
        distance = np.where(np.abs(distance) < NEAR, np.copysign(NEAR, distance), distance)
        guess = shares and [rest + share * distance for share in shares]
        loss, surfaces = self.loss(rest + distance, extra_resistance, guess)
        return loss / distance, [(surface - rest) / distance for surface in surfaces]


def _arrays(thing) -> dict:
    """The array-valued fields of a Section, Air or Soil."""
    values = {field.name: getattr(thing, field.name) for field in fields(thing)}
    return {name: value for name, value in values.items() if isinstance(value, np.ndarray)}


def _take(thing, chosen):
    return replace(thing, **{name: take(value, chosen) for name, value in _arrays(thing).items()})


def take(value, chosen):
    """The chosen cases of a value that broadcasts to the shape of `chosen`."""
    return np.broadcast_to(value, chosen.shape)[chosen]


def heat_capacity(section: Section, water_density_heat, wall_density_heat):
    """Gives the heat capacity of the water and the pipe wall, per metre [J/(m K)].

    water_density_heat, wall_density_heat : density times heat capacity [J/(m3 K)]
    """
    bore = 0.25 * np.pi * section.inside_diameter**2
    return bore * water_density_heat + (0.25 * np.pi * section.outside_diameter**2 - bore) * wall_density_heat


def heat_taken_along(section: Section, water, rest, surface_share, water_heat, wall_heat, insulation_heat):
    """Heat that standing water, wall and insulation give up per metre and kelvin of the water's temperature [J/(m K)].

    water, rest [degC]; surface_share : (surface - rest)/(water - rest)
    water_heat, wall_heat, insulation_heat : density times heat capacity [J/(m3 K)]
    While all cool together, each place keeps its share f of the water's distance from rest, that of the steady profile.
    The rate
    of this slowest mode is the loss over the heat weighted with f squared (Rayleigh's quotient: first-order
    perturbation).
    """
    wall, gap = section.wall_resistance, section.gap_resistance(water)
    whole = wall + gap + section.insulation_resistance(0.5 * (water + rest + surface_share * (water - rest)))
    drop = (1 - surface_share) / np.maximum(whole, 1e-30)
    through_wall, through_gap = 1 - drop * wall, 1 - drop * (wall + gap)
    bore = 0.25 * np.pi * section.inside_diameter**2
    in_wall = _squared_profile(section.inside_diameter, section.outside_diameter, 1.0, through_wall)
    in_insulation = _squared_profile(section.insulation_bore, section.outside_of_insulation, through_gap, surface_share)
    return bore * water_heat + wall_heat * in_wall + insulation_heat * in_insulation


def _squared_profile(inside, outside, at_inside, at_outside):
    """The square of a logarithmic profile, integrated over a ring's cut [m2]. inside, outside : diameters [m]"""
    inner, outer = 0.5 * inside, 0.5 * outside
    log_ratio = np.log(np.maximum(outer / inner, 1 + THINNEST))
    squares = outer**2 - inner**2
    once = np.pi * (squares / 2 - inner**2 * log_ratio) / log_ratio
    twice = np.pi * (squares / 2 - inner**2 * log_ratio - inner**2 * log_ratio**2) / log_ratio**2
    fall = at_inside - at_outside
    held = at_outside**2 * np.pi * squares + 2 * at_outside * fall * once + fall**2 * twice
    return np.where(outer > inner * (1 + THINNEST), held, 0.0)
