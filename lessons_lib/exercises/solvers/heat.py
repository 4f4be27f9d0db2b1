"""Heat lost by pipes, carried by water, held back by foam."""

import math

import numpy as np

from ...physics.heat_pump import carnot
from ...physics.heat_pump import loop_flow as flow_for_heat
from ...physics.properties import water as water_properties
from ...plant import heat_pump
from ...quantities.display import SI, US
from ...quantities.units import Q_
from ...runs.insulation import BARE_PIPE, Insulation
from ...runs.pipe import Pipe
from ...runs.run import Run
from ...runs.surroundings import Surroundings
from .registry import solves

METRE = Q_(1.0, "m")
FREEZING = Q_(0.0, "degC")
MANY_TIMES, LITTLE = 3.0, 1.33  # edges of the words for what wind does


def bare_run(family, size, length, air, emissivity=None) -> Run:
    """A pipe in still air with nothing on it."""
    return Run(Pipe.nominal(family, size), length, Insulation.none(emissivity), Surroundings(air))


def kelvins(difference) -> float:
    """Gives a temperature difference as a float [K]."""
    return difference.to("delta_degC").magnitude


def system_of(temperature) -> str:
    """The unit system in which somebody reads a temperature."""
    return US if temperature.units == Q_(1, "degF").units else SI


@solves
def carried_for_each_degree(flow, water):
    """Heat that a flow carries for each degree of the reader's thermometer."""
    inside = water_properties(water.to("degC").magnitude)
    per_kelvin = flow.to("m**3/s").magnitude * float(inside.density * inside.heat_capacity)
    return Q_(per_kelvin / (1.8 if system_of(water) == US else 1.0), "W")


@solves
def carried_by_one_step_of_flow(water):
    """Gives the heat that one litre, or one gallon, a minute carries."""
    return carried_for_each_degree(Q_(1.0, "gpm" if system_of(water) == US else "L/min"), water)


@solves
def drop_along(loss, length, flow, water):
    """Gives the drop along a run, loss × length ÷ (ρ c flow)."""
    inside = water_properties(water.to("degC").magnitude)
    carried = flow.to("m**3/s").magnitude * float(inside.density * inside.heat_capacity)
    return Q_((loss * length).to("W").magnitude / carried, "delta_degC")


@solves
def drop_at_flow(drop, flow, less):
    """Gives the same heat each second out of another flow."""
    return drop * (flow / less).to("dimensionless").magnitude


@solves
def tap_after_change(flow, less):
    """A slower flow gives the same heat out of less water."""
    return "cooler" if less < flow else "hotter" if less > flow else "same"


@solves
def loss_from_readings(flow, length, water, drop):
    """Heat that flowing water lost on each metre."""
    inside = water_properties(water.to("degC").magnitude)
    carried = flow.to("m**3/s").magnitude * float(inside.density * inside.heat_capacity)
    return Q_(carried * kelvins(drop) / length.to("m").magnitude, "W/m")


@solves
def through_a_ring(k, inner, outer, drop):
    """2π k ΔT ÷ ln(D/d)"""
    return Q_(2 * math.pi * k.to("W/(m*K)").magnitude * kelvins(drop) / _log(outer, inner), "W/m")


@solves
def through_a_flat_wall(k, inner, outer, drop):
    """Gives the loss as if the ring were a sheet as wide as its inner face, a slip."""
    sheet = math.pi * inner.to("m").magnitude / (0.5 * (outer - inner).to("m").magnitude)
    return Q_(k.to("W/(m*K)").magnitude * kelvins(drop) * sheet, "W/m")


@solves
def k_from_readings(inner, outer, loss, drop):
    """The foam's conductivity from its loss and the drop across it."""
    return Q_(loss.to("W/m").magnitude * _log(outer, inner) / (2 * math.pi * kelvins(drop)), "W/(m*K)")


def _log(outer, inner) -> float:
    return math.log((outer / inner).to("dimensionless").magnitude)


@solves
def in_a_row(first, second):
    """Two ways for heat, one after the other: hindrances add up."""
    return Q_(1 / (1 / first.magnitude + 1 / second.magnitude), "")


@solves
def run_with_a_gap(length, covered, gap, bare):
    """Loss of a run whose gap is bare."""
    return covered * (length - gap) + bare * gap


@solves
def foamed_loss(family, size, thickness, water, air):
    """Loss of each metre in elastomeric foam, in still air."""
    run = Run(Pipe.nominal(family, size), METRE, Insulation("elastomeric foam", thickness), Surroundings(air))
    return run.heat_loss(water)


@solves
def bare_loss(family, size, water, air):
    """Loss of each metre of bare pipe, in still air."""
    return bare_run(family, size, METRE, air).heat_loss(water)


FINISHES = {"polished copper": 0.03, "oxidised copper": 0.80}  # emissivities of data/surfaces.csv
ROOM = Q_(20.0, "degC")
THIN = Q_(1.0, "mm")


@solves
def finished_loss(family, size, finish, water):
    """A bare pipe in a still room, by the finish of its surface."""
    return bare_run(family, size, METRE, ROOM, FINISHES[finish]).heat_loss(water)


@solves
def thin_foam_loss(family, size, finish, water):
    """Gives the same with 1 mm of foam; its finish is hidden then."""
    return foamed_loss(family, size, THIN, water, ROOM)


@solves
def thin_foam(family, size, finish, water):
    """Says whether 1 mm of foam makes a pipe lose more or less."""
    bare, foamed = (loss(family, size, finish, water).magnitude for loss in (finished_loss, thin_foam_loss))
    return "more" if foamed > bare else "less" if foamed < bare else "same"


@solves
def wind_times(water, air, wind, state):
    """Gives how many times as much a 22 mm pipe loses in the wind, bare or in 19 mm of foam."""
    cover = Insulation.none() if state == BARE_PIPE else Insulation("elastomeric foam", Q_(19.0, "mm"))
    still, windy = (
        Run(Pipe.nominal("copper EN 1057", "22 mm"), METRE, cover, Surroundings(air, speed)).heat_loss(water)
        for speed in (Q_(0.0, "m/s"), wind)
    )
    return (windy / still).to("dimensionless")


@solves
def wind_on(water, air, wind, state):
    """Says what wind does to a pipe's loss, in words."""
    times = wind_times(water, air, wind, state).magnitude
    return "many times" if times >= MANY_TIMES else "little" if times < LITTLE else "twice"


COOLS_IN, READ_FOR = 3000.0, 3600.0  # [s] time constant of a foamed leg; how long it is read
MATTERS = 0.02  # share by which a loss must be wrong to be called spoilt


def cooling_error(water, air, off, late: float) -> float:
    """Share by which a fit of cooling readings is wrong: air truly `off` [K] below what was written, clock `late`
    [s].
    """
    clock, written = np.arange(0.0, READ_FOR, 120.0), air.to("degC").magnitude
    real = written - off
    read = real + (water.to("degC").magnitude - real) * np.exp(-(clock + late) / COOLS_IN)
    return float(-np.polyfit(clock, np.log(read - written), 1)[0] * COOLS_IN - 1)


@solves
def cooling_misread(water, air, off):
    """Says how wrong a loss comes out that is held against the wrong air, as a share."""
    return Q_(abs(cooling_error(water, air, kelvins(off), 0.0)), "")


@solves
def slip_that_spoils_a_cooling(water, air, off, late):
    """The air that was colder than written, or the clock that was started late."""
    found = {
        "air": cooling_error(water, air, kelvins(off), 0.0),
        "clock": cooling_error(water, air, 0.0, late.to("s").magnitude),
    }
    spoilt = [slip for slip, error in found.items() if abs(error) > MATTERS]
    return "neither" if not spoilt else spoilt[0] if len(spoilt) == 1 else "both"


@solves
def freezing_above(air):
    """Says how far the freezing point is above the air."""
    return (FREEZING.to(air.units)) - air


@solves
def hours_to_freezing(start, air, constant):
    """Gives the time to 0 °C, constant × ln((start - air)/(0 °C - air))."""
    return constant * math.log(kelvins(start - air) / kelvins(freezing_above(air)))


@solves
def straight_to_freezing(start, air, constant):
    """Gives the time to 0 °C as if the water kept the pace of its first minute, a slip."""
    return constant * (kelvins(start - FREEZING.to(start.units)) / kelvins(start - air))


@solves
def loop_flow(heat, drop, supply):
    """Water that carries a heat at a drop."""
    return Q_(float(flow_for_heat(heat.to("W").magnitude, kelvins(drop), supply.to("degC").magnitude)), "m**3/s")


@solves
def loop_loss(apart, out, back):
    """Loss of both lines of a loop."""
    return heat_pump.loop_loss([out, back], [apart, apart], Q_(1.0, "kW")).power


@solves
def loop_stored_heat(content, water, air):
    """Heat that standing water gives away on its way to the air's temperature."""
    return heat_pump.loop_stored_heat(content, water, air)


@solves
def loop_heat_from_zero(content, water):
    """Counted from the zero of the reader's thermometer."""
    inside = water_properties(water.to("degC").magnitude)
    per_kelvin = content.to("m**3").magnitude * float(inside.density * inside.heat_capacity)
    return Q_(per_kelvin * water.magnitude / (1.8 if system_of(water) == US else 1.0), "J")


@solves
def above_absolute_zero(temperature):
    """Counts from absolute zero in degrees of the reader's thermometer."""
    return Q_(temperature.to("degR" if system_of(temperature) == US else "kelvin").magnitude, "")


@solves
def degrees_between(warm, cold):
    """A difference as a bare figure."""
    return Q_((warm - cold).magnitude, "")


@solves
def cop_of(warm, cold, share):
    """Gives a COP as a share of Carnot's. share : a quantity, or a plain number."""
    ideal = carnot(warm.to("degC").magnitude, cold.to("degC").magnitude)
    return Q_(float(np.asarray(ideal)), "") * share


@solves
def cop_from_readings(warm, cold, share):
    """Gives the COP with the thermometer's figure on top of the fraction, a slip."""
    return Q_(warm.magnitude / (warm.magnitude - cold.magnitude), "") * share
