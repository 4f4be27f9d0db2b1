"""Temperatures in a layout while water flows, and how long the taps wait: many cases at once.

A row is one case: some taps open, with or without the mixing valve. A leg's flow is the sum of the taps beyond it.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from ..physics import first_draw as draws
from ..physics.convection import inside_resistance
from ..physics.delivery import Delivery
from ..physics.properties import water as water_properties
from ..physics.stack import Stack
from ..plant.tank import SETTING
from ..quantities.units import START, SUPPLY, to_base
from ..runs.first_draw import leg_of, play
from .parts import END

# of the hot share at which it stands (it moves only what arrives at the valve); rounds
SAME_SHARE, MOST_ROUNDS = 1e-3, 12
PAD = 1e-9  # residence of a leg that only fills up a shorter way, as a share of all legs'


class Steady(NamedTuple):
    """Steady flow, each (rows, legs), NaN where nothing flows: entering and leaving [degC], flow at the leg's start
    [m3/s],
    distance to ice [m]."""

    entering: np.ndarray
    leaving: np.ndarray
    flow: np.ndarray
    ice: np.ndarray


class Way(NamedTuple):
    """Describes one first draw: the legs that the water passes, the row of Steady it is in, from `supply` until
    `useful` [degC].
    """

    legs: list
    row: int
    supply: float
    useful: float


class Bundle(NamedTuple):
    """Legs of several cases, as draws.leg_of takes them."""

    line: object
    metres: np.ndarray
    wall_density_heat: np.ndarray


@dataclass(frozen=True, eq=False)
class Heat:
    """The legs of a layout for the physics of heat, in SI floats."""

    stack: Stack
    length: np.ndarray  # [m]
    wall: np.ndarray  # density times heat capacity of the wall [J/(m3 K)]
    levels: tuple  # numbers of the legs at each depth
    parent: np.ndarray
    through: np.ndarray  # (taps, legs) of bool
    supply: float
    cold: float
    setting: float  # of the mixing valve; inf where there is none
    valve_leg: int  # -1: there is none
    at_end: bool
    behind: np.ndarray  # (taps,) of bool
    before: np.ndarray  # (legs,) of bool: legs on the way to the valve

    @classmethod
    def of(cls, layout) -> "Heat":
        tree, valve = layout.tree, layout.valve
        runs = [layout.runs[leg.name] for leg in layout.legs]
        before = np.zeros(len(runs), dtype=bool)
        if valve is not None:
            before[tree.path(layout.valve_leg)] = True
            before[layout.valve_leg] = valve.end == END
        return cls(
            Stack.of(run.line for run in runs),
            np.array([run.metres for run in runs]),
            np.array([run.wall_density_heat for run in runs]),
            tuple(np.flatnonzero(tree.depth == depth) for depth in range(tree.depth.max() + 1)),
            tree.parent,
            layout.network.through,
            to_base(layout.set_temperature, SUPPLY),
            to_base(layout.cold_inlet, START),
            np.inf if valve is None else to_base(valve.setting, SETTING),
            -1 if valve is None else layout.valve_leg,
            valve is not None and valve.end == END,
            layout.behind_valve,
            before,
        )

    def steady(self, tap_flow, mixed, film=inside_resistance) -> Steady:
        """Gives the temperatures in steady flow.

        tap_flow : volume flow of each tap, (rows, taps) [m3/s], 0: shut; at the temperature of tank or valve
        mixed : (rows,) of bool: the mixing valve works; else hot water passes it as it is
        film : of the water, see physics.delivery.deliver; no_film gives the cold side, which ice is told by
        Before the valve flows only its hot share, (setting - cold)/(hot - cold), which depends on what arrives there.
        """
        tap_flow, share = np.asarray(tap_flow, dtype=float), np.ones(len(tap_flow))
        if self.before.any() and mixed.any():
            for _ in range(MOST_ROUNDS):
                arriving = self._march(tap_flow, share, mixed, film, only=self.before)
                hot = self._at_valve(arriving)
                fresh = np.clip((self.setting - self.cold) / np.maximum(hot - self.cold, 1e-9), 0.0, 1.0)
                fresh = np.where(mixed & np.isfinite(hot), fresh, 1.0)
                moved, share = np.max(np.abs(fresh - share)), fresh
                if moved < SAME_SHARE:
                    break
        return self._march(tap_flow, share, mixed, film)

    def _at_valve(self, found: Steady):
        """Gives what arrives at the valve [degC], (rows,); NaN where nothing flows there."""
        if self.at_end:
            return found.leaving[:, self.valve_leg]
        return found.leaving[:, self.parent[self.valve_leg]]

    def _march(self, tap_flow, share, mixed, film, only=None) -> Steady:
        """Level by level away from the tank. only : (legs,) of bool, legs that are of interest; None: all"""
        hot = tap_flow * np.where(self.behind, share[:, np.newaxis], 1.0)
        flow = np.where(self.before, hot @ self.through, tap_flow @ self.through)
        downstream = np.isfinite(self.setting) & ~self.before & self.through[self.behind].any(axis=0)
        starts = np.where(mixed[:, np.newaxis] & downstream, min(self.setting, self.supply), self.supply)
        mass = flow * water_properties(starts).density
        entering, leaving, volume, ice = np.full((4, *flow.shape), np.nan)
        for level in self.levels:
            legs = level if only is None else level[only[level]]
            rows, places = np.nonzero(flow[:, legs] > 0)
            if not rows.size:
                continue
            legs = legs[places]
            arriving = np.where(self.parent[legs] < 0, self.supply, leaving[rows, self.parent[legs]])
            arriving = np.where(
                mixed[rows] & (legs == self.valve_leg) & (not self.at_end), np.minimum(arriving, self.setting), arriving
            )
            moving = mass[rows, legs] / water_properties(arriving).density
            found = self.stack.deliver(legs, arriving, moving, self.length[legs], film)
            entering[rows, legs], volume[rows, legs], ice[rows, legs] = arriving, moving, found.ice_distance
            capped = mixed[rows] & (legs == self.valve_leg) & self.at_end & (only is None)
            leaving[rows, legs] = np.where(capped, np.minimum(found.temperature, self.setting), found.temperature)
        return Steady(entering, leaving, volume, ice)

    def waits(self, ways, steady: Steady, start: float) -> np.ndarray:
        """Seconds until each way's end first reaches its useful temperature, (ways,); inf: never. start : standing
        water [degC]

        All ways in one draw; a way with fewer legs than the longest is filled up with legs that hold next to nothing.
        """
        if not ways:
            return np.empty(0)
        supply, useful = (np.array([getattr(way, name) for way in ways]) for name in ("supply", "useful"))
        row = np.array([way.row for way in ways])
        first = np.array([way.legs[0] for way in ways])
        last = np.array([way.legs[-1] for way in ways])
        entering = water_properties(supply)
        heat_flow = steady.flow[row, first] * entering.density * entering.heat_capacity
        legs = [
            self._place([way.legs[min(place, len(way.legs) - 1)] for way in ways], row, steady, start, heat_flow)
            for place in range(max(len(way.legs) for way in ways))
        ]
        whole = sum(leg.residence for leg in legs)
        legs = [
            draws.DrawnLeg(
                np.where([place < len(way.legs) for way in ways], leg.residence, PAD * whole),
                leg.links,
                leg.shares,
                leg.rest,
                leg.start,
            )
            for place, leg in enumerate(legs)
        ]
        delivered = steady.leaving[row, last]
        return play(legs, supply, np.full(len(ways), start), useful, delivered, only_wait=True)[1]

    def _place(self, numbers, row, steady: Steady, start: float, heat_flow) -> draws.DrawnLeg:
        """The legs that stand at one place of every way, as one leg of arrays."""
        numbers, count = np.array(numbers), len(row)
        parts = [np.empty(count) for _ in range(2 * draws.SHELLS + 3)]
        for cases, line in self.stack.chosen(numbers):
            those, rows = numbers[cases], row[cases]
            bundle = Bundle(line, self.length[those], self.wall[those])
            delivery = Delivery(steady.leaving[rows, those], steady.ice[rows, those])
            leg = leg_of(
                bundle, steady.entering[rows, those], steady.flow[rows, those], delivery, None, heat_flow[cases]
            )
            for part, value in zip(parts, (leg.residence, leg.rest, *leg.links, *leg.shares)):
                part[cases] = value
        residence, rest, *others = parts
        return draws.DrawnLeg(
            residence,
            tuple(others[: draws.SHELLS + 1]),
            tuple(others[draws.SHELLS + 1 :]),
            rest,
            np.full((2, count), start),
        )
