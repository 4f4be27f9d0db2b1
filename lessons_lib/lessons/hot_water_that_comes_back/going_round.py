"""Water on its way out through a supply pipe and home through a return: temperatures, loss, and the flow for a drop."""

from dataclasses import dataclass

import numpy as np

from ...physics import circulation as physics
from ...physics import pressure
from ...physics.delivery import along
from ...physics.line import heat_capacity
from ...physics.properties import water
from ...quantities.units import number_in
from ...runs.run import Run


@dataclass(frozen=True)
class Round:
    """Steady water round a supply pipe and a return, in SI floats (temperatures in degC)."""

    flow: float  # [m3/s] at the supply temperature
    far: float  # at the last tap
    returns: float  # at the heater
    out: np.ndarray  # shape (n,), from the heater to the last tap
    home: np.ndarray  # shape (n,), from the last tap to the heater
    loss: float  # of both pipes [W]
    pressure: float  # that both take [Pa]


def once_round(supply: Run, back: Run, hot: float, flow: float) -> Round:
    """Says what one flow does. hot [degC], flow [m3/s]"""
    return _round(supply, back, hot, flow, *_deliveries(supply, back, hot, flow))


def flow_that_holds(supply: Run, back: Run, hot: float, drop: float) -> Round:
    """Says what the flow does at which the water comes back cooler by `drop`. hot [degC], drop [K]"""
    last = {}

    def cools(flow: float) -> float:
        last["flow"], last["found"] = flow, _deliveries(supply, back, hot, flow)
        return hot - float(last["found"][1].temperature)

    lost = sum(
        float(run.line.conductance(hot - 0.5 * drop, run.line.rest())[0]) * run.metres for run in (supply, back)
    ) * (hot - 0.5 * drop - float(supply.line.rest()))
    physics.flow_for_drop(cools, drop, lost / carried(hot, hot - drop, 1.0) / drop)
    return _round(supply, back, hot, last["flow"], *last["found"])


def _deliveries(supply: Run, back: Run, hot: float, flow: float):
    """Gives each pipe's Delivery and the flow in the return [m3/s]."""
    there = supply._deliver(hot, flow)
    slower = flow * water(hot).density / water(there.temperature).density
    return there, back._deliver(there.temperature, slower), slower


def _round(supply: Run, back: Run, hot: float, flow: float, there, home, slower) -> Round:
    """Puts both Deliveries of a flow into one Round."""
    far, returns = float(there.temperature), float(home.temperature)
    taken = 0.0
    for run, moving, warm in ((supply, flow, 0.5 * (hot + far)), (back, slower, 0.5 * (far + returns))):
        taken += float(pressure.loss([leg_of(run)], moving, water(warm)))
    return Round(
        flow=flow,
        far=far,
        returns=returns,
        out=along(supply.line, hot, there, supply.metres),
        home=along(back.line, far, home, back.metres),
        loss=float(carried(hot, returns, flow)) * (hot - returns),
        pressure=taken,
    )


def carried(hot: float, returns: float, flow: float) -> float:
    """Heat that a flow carries for each kelvin [W/K]. hot, returns [degC], flow [m3/s] at `hot`"""
    return flow * water(hot).density * water(0.5 * (hot + returns)).heat_capacity


def leg_of(run: Run) -> pressure.FlowLeg:
    """The run as friction sees it."""
    return pressure.FlowLeg(run.line.inside_diameter, number_in(run.pipe.roughness, "m"), run.metres, 0.0)


def holds(run: Run, warm: float) -> float:
    """Heat that water and wall of a run hold for each kelvin [J/K]. warm [degC]"""
    inside = water(warm)
    return float(
        heat_capacity(run.line.section, inside.density * inside.heat_capacity, run.wall_density_heat) * run.metres
    )
