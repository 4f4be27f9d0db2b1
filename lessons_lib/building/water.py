"""Pressure and flow in a layout, whichever taps are open."""

from dataclasses import dataclass

import numpy as np

from ..physics import network, pressure
from ..physics.properties import water as water_properties
from ..quantities.errors import InputError, unknown_name
from ..quantities.results import Printed
from ..quantities.units import START, Quantity, quantity, to_base
from ..runs.flow import CAUTION, PRESSURE
from .kept import kept
from .parts import TAP_FLOW

COLD_WATER = 1000.0  # [kg/m3] for which a tap's flow is stated
HOW = (
    "Each tap passes the flow wanted at the pressure stated for it, 300 kPa unless the layout says another (EN 200"
    " states taps at 3 bar, from memory), and with the root of the pressure otherwise. The water is as cold as the"
    " inlet, the cautious side. What a mixing valve adds from the cold side is counted through the hot line, the"
    " cautious side too; the valve's own loss is the maker's figure and is not in here."
)


@dataclass(frozen=True, repr=False, eq=False)
class WaterFlow(Printed):
    """Flow and pressure with some taps open.

    taps, legs : names; open : names of the open taps
    flow, pressure : of each tap in `taps`, 0 where it is shut [L/min]; just before it while it flows [kPa]
    leg_flow, leg_loss : of each leg [L/min], [kPa]; speed [m/s]
    lift : pressure that it takes to lift the water to each tap [kPa]; negative below the tank
    """

    taps: tuple
    open: tuple
    flow: Quantity
    pressure: Quantity
    lift: Quantity
    legs: tuple
    leg_flow: Quantity
    leg_loss: Quantity
    speed: Quantity
    caution: str = f"{HOW} {CAUTION}"


@dataclass(frozen=True, eq=False)
class Network:
    """A layout's pipes and taps for the physics, in SI floats.

    legs : pressure.FlowLeg of arrays; through : (taps, legs) of bool; rise [m], holes [1/m4], wanted [m3/s] of the taps
    """

    legs: pressure.FlowLeg
    through: np.ndarray
    rise: np.ndarray
    holes: np.ndarray
    wanted: np.ndarray
    supply: float
    properties: object

    @classmethod
    def of(cls, layout) -> "Network":
        tree, numbers = layout.tree, layout.tap_legs
        found = [_flow_leg(layout.runs[leg.name]) for leg in layout.legs]
        bores, rough, beside, holes = (np.array(values) for values in zip(*found))
        lengths = np.array([leg.metres for leg in layout.legs]) + beside
        wanted = np.array([to_base(tap.flow, TAP_FLOW) for tap in layout.taps])
        stated = np.array([to_base(tap.pressure, PRESSURE) for tap in layout.taps])
        return cls(
            pressure.FlowLeg(bores, rough, lengths, holes),
            tree.feeds(numbers),
            tree.rise[numbers],
            pressure.hole(wanted, stated, COLD_WATER),
            wanted,
            to_base(layout.pressure, PRESSURE),
            water_properties(to_base(layout.cold_inlet, START)),
        )

    def solve(self, open_taps) -> network.Solved:
        """Gives the flows with these taps open; the taps' values are of all taps, 0 where shut. open_taps : (taps,) of
        bool
        """
        try:
            found = network.solve(
                self.legs,
                self.through[open_taps],
                self.rise[open_taps],
                self.holes[open_taps],
                self.supply,
                self.properties,
            )
        except network.NoFlow as reason:
            raise InputError(f"no steady flow was found ({reason}). Change one size or length a little.") from reason
        flow, before = np.zeros((2, len(self.rise)))
        flow[open_taps], before[open_taps] = found.tap_flow, found.tap_pressure
        return network.Solved(flow, before, found.leg_flow, found.leg_loss)

    def alone(self) -> np.ndarray:
        """Flow of each tap when it alone is open [m3/s]: all taps in one call, legs by their place on the way."""
        places = self.through.sum(axis=1).max()
        ways = np.full((len(self.rise), places), -1)
        for row, legs in zip(ways, self.through):
            row[: legs.sum()] = np.flatnonzero(legs)
        there = ways >= 0
        steps = [
            pressure.FlowLeg(
                self.legs.inside_diameter[way],
                self.legs.roughness[way],
                np.where(on, self.legs.length[way], 0.0),
                np.where(on, self.legs.holes[way], 0.0),
            )
            for way, on in zip(ways.T, there.T)
        ]
        steps[0] = steps[0]._replace(holes=steps[0].holes + self.holes)
        return pressure.flow_for(steps, self.supply, self.rise, self.properties)


def _flow_leg(run) -> tuple:
    """Bore and roughness [m] of a leg's Run, the length that its fittings add [m], and their hole [1/m4]."""

    def make() -> tuple:
        bore = run.pipe.inside_diameter.to("m").magnitude
        rough = run.pipe.roughness.to("m").magnitude
        return bore, rough, run.fittings.bores(bore), float(run.fittings.holes(bore))

    return kept(("flow leg", run), make)


def flows(layout, open_taps=None) -> WaterFlow:
    """Flow and pressure with some taps wide open; see Layout.flows."""
    names = [tap.name for tap in layout.taps]
    wanted = names if open_taps is None else [open_taps] if isinstance(open_taps, str) else list(open_taps)
    for name in wanted:
        if name not in names:
            raise unknown_name("tap", name, names)
    if not wanted:
        raise InputError(f"open taps: none was named. Choose from {', '.join(names)}.")
    found = layout.network.solve(np.isin(names, wanted))
    properties, rise = layout.network.properties, layout.network.rise
    return WaterFlow(
        tuple(names),
        tuple(wanted),
        quantity(found.tap_flow, "m**3/s").to("L/min"),
        quantity(found.tap_pressure, "Pa").to("kPa"),
        quantity(pressure.height_loss(rise, properties.density), "Pa").to("kPa"),
        tuple(leg.name for leg in layout.legs),
        quantity(found.leg_flow, "m**3/s").to("L/min"),
        quantity(found.leg_loss, "Pa").to("kPa"),
        quantity(pressure.speed(found.leg_flow, layout.network.legs.inside_diameter), "m/s"),
    )
