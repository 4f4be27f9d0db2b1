"""Every argument about tank, closed system, bacteria, skin, heat pump and purge refuses what it cannot use: one
InputError that begins with the quantity's name, says what was given and what is possible."""

import re
from dataclasses import dataclass, replace
from typing import Callable

import numpy as np
import pytest

from lessons_lib import Q_, InputError, Pipe
from lessons_lib.exercises import question
from lessons_lib.plant.closed_system import (
    expansion,
    pipe_growth,
    relief_settings,
    trapped_pressure_rise,
    vessel,
    vessel_pressure,
    vessel_reading,
)
from lessons_lib.plant.heat_pump import heat_pump_cop, loop_flow, loop_loss, loop_stored_heat, store_cost
from lessons_lib.plant.purge import purge_legs
from lessons_lib.plant.tank import hot_share, mixing_valve, recovery, reheat_time, standby_loss, water_at_the_tap
from lessons_lib.runs.bacteria import bacteria_band, guidance, tenfold_time
from lessons_lib.runs.skin import skin_injury, skin_temperature


def degrees(value):
    return Q_(float(value), "degC")


def kelvin(value):
    return Q_(float(value), "delta_degC")


TANK, FLOW, BAR = Q_(150, "L"), Q_(6, "L/min"), Q_(300, "kPa")
COPPER = Pipe.nominal("copper L", "3/4 in")
VALVE = dict(least_difference=kelvin(10), least_flow=Q_(4, "L/min"))


def valve(hot=degrees(60), cold=degrees(8), setting=degrees(46), flow=FLOW, **limits):
    return mixing_valve(hot, cold, setting, flow, **(VALVE | limits))


@dataclass(frozen=True)
class Argument:
    """The call with a value in one place, the name that a message begins with, values just outside."""

    label: str
    call: Callable
    word: str
    low: object
    high: object


COLDER, HOTTER = Q_(31, "degF"), Q_(211, "degF")
ARGUMENTS = [
    Argument("hot_share hot", lambda v: hot_share(v, degrees(8), degrees(46)), "hot temperature", COLDER, HOTTER),
    Argument("hot_share cold", lambda v: hot_share(degrees(58), v, degrees(46)), "cold temperature", COLDER, HOTTER),
    Argument("hot_share mixed", lambda v: hot_share(degrees(58), degrees(8), v), "mixed temperature", COLDER, HOTTER),
    Argument(
        "water_at_the_tap tank",
        lambda v: water_at_the_tap(v, degrees(58), degrees(8), degrees(40)),
        "tank volume",
        Q_(0, "L"),
        Q_(101, "m**3"),
    ),
    Argument(
        "water_at_the_tap stored",
        lambda v: water_at_the_tap(TANK, v, degrees(8), degrees(40)),
        "stored temperature",
        COLDER,
        HOTTER,
    ),
    Argument("mixing_valve setting", lambda v: valve(setting=v), "valve setting", COLDER, HOTTER),
    Argument("mixing_valve flow", lambda v: valve(flow=v), "flow", Q_(0, "gpm"), Q_(6001, "L/min")),
    Argument("mixing_valve least_flow", lambda v: valve(least_flow=v), "least flow", Q_(-1, "gpm"), Q_(6001, "L/min")),
    Argument(
        "mixing_valve least_difference", lambda v: valve(least_difference=v), "least difference", kelvin(-1), kelvin(61)
    ),
    Argument("mixing_valve lowest", lambda v: valve(lowest=v), "lowest setting", COLDER, HOTTER),
    Argument("mixing_valve highest", lambda v: valve(highest=v), "highest setting", COLDER, HOTTER),
    Argument(
        "standby_loss room",
        lambda v: standby_loss(degrees(60), v, Q_(70, "W")),
        "room temperature",
        degrees(-61),
        degrees(61),
    ),
    Argument(
        "standby_loss rated",
        lambda v: standby_loss(degrees(60), degrees(20), v),
        "standby loss",
        Q_(-1, "W"),
        Q_(101, "kW"),
    ),
    Argument(
        "standby_loss difference",
        lambda v: standby_loss(degrees(60), degrees(20), Q_(70, "W"), v),
        "rated difference",
        kelvin(0),
        kelvin(100),
    ),
    Argument(
        "reheat_time start",
        lambda v: reheat_time(TANK, v, degrees(60), Q_(3, "kW")),
        "start temperature",
        COLDER,
        HOTTER,
    ),
    Argument(
        "reheat_time power", lambda v: reheat_time(TANK, degrees(10), degrees(60), v), "power", Q_(-1, "W"), Q_(2, "MW")
    ),
    Argument(
        "reheat_time standby",
        lambda v: reheat_time(TANK, degrees(10), degrees(60), Q_(3, "kW"), v),
        "standby loss",
        Q_(-1, "W"),
        Q_(101, "kW"),
    ),
    Argument("recovery rise", lambda v: recovery(Q_(3, "kW"), v), "temperature rise", kelvin(0), kelvin(100)),
    Argument(
        "expansion volume", lambda v: expansion(v, degrees(10), degrees(60)), "volume", Q_(0, "gallon"), Q_(101, "m**3")
    ),
    Argument("expansion cold", lambda v: expansion(TANK, v, degrees(60)), "cold temperature", COLDER, HOTTER),
    Argument("expansion hot", lambda v: expansion(TANK, degrees(0), v), "hot temperature", COLDER, HOTTER),
    Argument("vessel expanded", lambda v: vessel(v, BAR, 2 * BAR), "expanded volume", Q_(-1, "L"), Q_(11, "m**3")),
    Argument("vessel precharge", lambda v: vessel(Q_(3, "L"), v, 2 * BAR), "pre-charge", Q_(-1, "psi"), Q_(300, "psi")),
    Argument("vessel highest", lambda v: vessel(Q_(3, "L"), BAR, v), "highest pressure", Q_(-1, "psi"), Q_(300, "psi")),
    Argument(
        "vessel cold",
        lambda v: vessel(Q_(3, "L"), BAR, 2 * BAR, cold=v),
        "cold pressure",
        Q_(-1, "psi"),
        Q_(300, "psi"),
    ),
    Argument(
        "vessel atmosphere",
        lambda v: vessel(Q_(3, "L"), BAR, 2 * BAR, atmosphere=v),
        "air pressure",
        Q_(49, "kPa"),
        Q_(111, "kPa"),
    ),
    Argument(
        "vessel_pressure volume",
        lambda v: vessel_pressure(v, Q_(3, "L"), BAR),
        "vessel volume",
        Q_(0, "L"),
        Q_(11, "m**3"),
    ),
    Argument("vessel_reading water", lambda v: vessel_reading(BAR, v), "pressure", Q_(-1, "psi"), Q_(300, "psi")),
    Argument("trapped start", lambda v: trapped_pressure_rise(v, kelvin(0)), "start temperature", COLDER, HOTTER),
    Argument(
        "trapped rise", lambda v: trapped_pressure_rise(degrees(0), v), "temperature rise", kelvin(-1), kelvin(100)
    ),
    Argument("pipe_growth length", lambda v: pipe_growth("PEX", v, kelvin(50)), "length", Q_(0, "ft"), Q_(10_001, "m")),
    Argument(
        "pipe_growth change",
        lambda v: pipe_growth("PEX", Q_(10, "m"), v),
        "temperature change",
        kelvin(-151),
        kelvin(151),
    ),
    Argument("bacteria_band", bacteria_band, "water temperature", COLDER, HOTTER),
    Argument("tenfold_time", tenfold_time, "water temperature", degrees(54), degrees(67)),
    Argument("skin_injury water", skin_injury, "water temperature", degrees(43), degrees(71)),
    Argument(
        "skin_injury film", lambda v: skin_injury(degrees(55), v), "film", Q_(9, "W/(m**2*K)"), Q_(2e5, "W/(m**2*K)")
    ),
    Argument(
        "skin_temperature depth",
        lambda v: skin_temperature(degrees(55), v, Q_(1, "s")),
        "depth in the skin",
        Q_(-1, "mm"),
        Q_(21, "mm"),
    ),
    Argument(
        "skin_temperature time",
        lambda v: skin_temperature(degrees(55), Q_(1, "mm"), v),
        "time in the water",
        Q_(0, "s"),
        Q_(2, "day"),
    ),
    Argument(
        "heat_pump_cop store", lambda v: heat_pump_cop(v, degrees(-5)), "store temperature", degrees(4), degrees(76)
    ),
    Argument(
        "heat_pump_cop outdoor",
        lambda v: heat_pump_cop(degrees(55), v),
        "outdoor temperature",
        degrees(-31),
        degrees(46),
    ),
    Argument("store_cost outdoor", store_cost, "outdoor temperature", degrees(-31), degrees(46)),
    Argument("store_cost low", lambda v: store_cost(degrees(-5), low=v), "store temperature", degrees(4), degrees(76)),
    Argument("loop_flow heat", lambda v: loop_flow(v, kelvin(5)), "heat output", Q_(0, "W"), Q_(2, "MW")),
    Argument("loop_flow difference", lambda v: loop_flow(Q_(6, "kW"), v), "loop difference", kelvin(0), kelvin(61)),
    Argument(
        "loop_loss loss",
        lambda v: loop_loss([v], [Q_(1, "m")], Q_(6, "kW")),
        "heat loss",
        Q_(-2001, "W/m"),
        Q_(2001, "W/m"),
    ),
    Argument(
        "loop_stored_heat volume",
        lambda v: loop_stored_heat(v, degrees(55), degrees(5)),
        "loop volume",
        Q_(0, "L"),
        Q_(11, "m**3"),
    ),
    Argument("purge bore", lambda v: purge_legs(v, Q_(10, "m"), FLOW), "inside diameter", Q_(0.5, "mm"), Q_(61, "mm")),
    Argument("purge length", lambda v: purge_legs(Q_(14, "mm"), v, FLOW), "length", Q_(0, "ft"), Q_(10_001, "m")),
    Argument("purge flow", lambda v: purge_legs(Q_(14, "mm"), Q_(10, "m"), v), "flow", Q_(0, "gpm"), Q_(6001, "L/min")),
]
every_argument = pytest.mark.parametrize("argument", ARGUMENTS, ids=lambda argument: argument.label)


def refusal(argument, value) -> str:
    with pytest.raises(InputError) as caught:
        argument.call(value)
    message = str(caught.value)
    assert message.startswith(argument.word), message
    assert re.search(r"possible is|Write it like Q_\(", message), message
    return message


@every_argument
@pytest.mark.parametrize("value", [5, 5.0, "5 m", True, [5, 6]], ids=repr)
def test_bare_values(argument, value):
    assert "no unit" in refusal(argument, value)


@every_argument
def test_wrong_kind_of_unit(argument):
    assert "3 kg" in refusal(argument, Q_(3, "kg"))


@every_argument
@pytest.mark.parametrize("number", [np.nan, np.inf, -np.inf])
def test_not_finite(argument, number):
    assert "finite number" in refusal(argument, Q_(number, argument.low.units))
    assert "finite number" in refusal(
        argument, Q_(np.array([number, argument.high.to(argument.low.units).magnitude]), argument.low.units)
    )


@every_argument
def test_empty_list(argument):
    assert "empty" in refusal(argument, Q_(np.empty(0), argument.low.units))


@every_argument
@pytest.mark.parametrize("end", ["low", "high"])
def test_out_of_range(argument, end):
    value = getattr(argument, end)
    message = refusal(argument, value)
    assert f"{value:.6g~P} was given; possible is" in message


@every_argument
def test_temperatures_and_differences_are_not_mixed_up(argument):
    if argument.low.units == kelvin(1).units:
        assert "is a temperature, not a difference" in refusal(argument, Q_(10, "degF"))
        assert "is a temperature, not a difference" in refusal(argument, Q_(10, "degC"))
    elif argument.low.check("[temperature]"):
        assert "temperature difference, not a temperature" in refusal(argument, kelvin(10))


MIXTURES = {
    "hot_share": lambda hot, cold, mixed: hot_share(hot, cold, mixed),
    "water_at_the_tap": lambda hot, cold, mixed: water_at_the_tap(TANK, hot, cold, mixed),
    "mixing_valve": lambda hot, cold, mixed: valve(hot, cold, mixed),
}


@pytest.mark.parametrize("name", MIXTURES)
@pytest.mark.parametrize("mixed", [7.0, 59.0])
def test_mixed_outside_cold_to_hot(name, mixed):
    with pytest.raises(
        InputError, match=f"{mixed:g} °C was given; possible is from 8 °C .the cold. to 58 °C .the hot.*Raise the store"
    ):
        MIXTURES[name](degrees(58), degrees(8), degrees(mixed))


@pytest.mark.parametrize("name", MIXTURES)
def test_mixed_outside_is_said_in_the_readers_unit(name):
    with pytest.raises(InputError, match="150 °F was given; possible is from 46.4 °F .the cold. to 136.4 °F"):
        MIXTURES[name](degrees(58), degrees(8), Q_(150.0, "degF"))


@pytest.mark.parametrize("name", MIXTURES)
@pytest.mark.parametrize("cold", [58.0, 60.0])
def test_cold_not_below_hot(name, cold):
    with pytest.raises(InputError, match="^cold temperature: .* was given; possible is below the hot.*exchanged"):
        MIXTURES[name](degrees(58), degrees(cold), degrees(58))


@pytest.mark.parametrize("name", MIXTURES)
def test_one_bad_mixture_in_a_list(name):
    with pytest.raises(InputError, match="62 °C was given"):
        MIXTURES[name](degrees(58), degrees(8), Q_(np.array([46.0, 62.0]), "degC"))


@pytest.mark.parametrize("name", MIXTURES)
def test_lists_that_do_not_fit(name):
    with pytest.raises(InputError, match="do not fit together"):
        MIXTURES[name](Q_(np.array([58.0, 60.0]), "degC"), degrees(8), Q_(np.array([40.0, 41.0, 42.0]), "degC"))


def test_no_hot_water_needed():
    with pytest.raises(InputError, match="no warmer than the cold"):
        water_at_the_tap(TANK, degrees(58), degrees(8), degrees(8))


SHARES = {
    "usable share": lambda v: water_at_the_tap(TANK, degrees(58), degrees(8), degrees(40), usable=v),
    "efficiency": lambda v: recovery(Q_(3, "kW"), kelvin(50), efficiency=v),
    "share of air": lambda v: trapped_pressure_rise(degrees(15), kelvin(10), air=v),
    "share of Carnot": lambda v: heat_pump_cop(degrees(55), degrees(7), share_of_carnot=v),
    "highest COP": lambda v: heat_pump_cop(degrees(55), degrees(7), highest=v),
    "changes of water": lambda v: purge_legs(Q_(14, "mm"), Q_(10, "m"), FLOW, changes=v),
}


@pytest.mark.parametrize("name", SHARES)
@pytest.mark.parametrize("value", [-0.1, 1e6, np.nan, np.inf, "0.5", True, None, Q_(1, "m"), np.array([0.5])], ids=repr)
def test_plain_numbers(name, value):
    with pytest.raises(InputError, match=f"^{name}: "):
        SHARES[name](value)


@pytest.mark.parametrize(
    "call, words",
    [
        (
            lambda: expansion(TANK, degrees(60), degrees(10)),
            "hot temperature: 10 °C was given; possible is from 60 °C .the cold. up",
        ),
        (
            lambda: vessel(Q_(3, "L"), BAR, BAR),
            "highest pressure: 300 kPa was given; possible is above the cold pressure 300 kPa",
        ),
        (
            lambda: vessel(Q_(3, "L"), BAR, 3 * BAR, cold=Q_(200, "kPa")),
            "pre-charge: 300 kPa was given; possible is at most the cold pressure 200 kPa",
        ),
        (lambda: vessel_pressure(Q_(12, "L"), Q_(3, "L"), BAR, cold=Q_(200, "kPa")), "pre-charge: 300 kPa"),
        (lambda: trapped_pressure_rise(degrees(95), kelvin(10)), "temperature rise: .* ends above 99 °C"),
        (lambda: recovery(Q_(3, "kW"), kelvin(95)), "temperature rise: .* ends above 99 °C"),
        (
            lambda: trapped_pressure_rise(degrees(15), kelvin(10), replace(COPPER, material="coper")),
            'pipe material: "coper" is not known; the nearest are "copper"',
        ),
        (
            lambda: trapped_pressure_rise(degrees(15), kelvin(10), "copper"),
            "pipe: 'copper' was given where a Pipe is needed",
        ),
        (
            lambda: pipe_growth("PEXX", Q_(10, "m"), kelvin(50)),
            'pipe material: "PEXX" is not known; the nearest are .*"PEX"',
        ),
        (
            lambda: relief_settings("Untied States"),
            'region: "Untied States" is not known; the nearest are "United States"',
        ),
        (lambda: guidance("stor"), 'guidance: "stor" is not known; the nearest are "store"'),
        (
            lambda: store_cost(degrees(-5), low=degrees(65)),
            "store temperature: the low store, 65 °C, is above the high one",
        ),
        (lambda: loop_flow(Q_(6, "kW"), kelvin(55)), "loop difference: .* is ice"),
        (
            lambda: loop_loss([Q_(12, "W/m")], [Q_(1, "m"), Q_(1, "m")], Q_(6, "kW")),
            "length: 2 were given for 1 heat losses",
        ),
        (lambda: loop_loss([], [], Q_(6, "kW")), "heat loss or length: .* give a list of quantities"),
        (lambda: loop_loss(12, [Q_(1, "m")], Q_(6, "kW")), "heat loss or length: 12 was given"),
        (lambda: loop_flow(Q_(6, "kg/s"), kelvin(5)), "heat output: 6 kg/s is not a heat output"),
        (lambda: purge_legs(Q_(14, "mm"), Q_(10, "m"), Q_(0.1, "kg/s")), "flow: .* mass flow"),
    ],
)
def test_refused_with_a_reason(call, words):
    with pytest.raises(InputError, match=f"^{words}"):
        call()


@pytest.mark.parametrize(
    "family, given, offered",
    [
        ("copper EN 1057", "23 mm", '"18 mm", "22 mm", "22 mm x 0.9 mm", "28 mm", "28 mm x 0.9 mm".'),
        ("copper EN 1057", "9", '"10 mm", "12 mm", "15 mm", "15 mm x 0.7 mm".'),
        ("copper L", "1-1/8 in", '"3/4 in", "1 in", "1 1/4 in".'),
        ("copper L", "0,6 in", '"3/8 in", "1/2 in", "3/4 in".'),
    ],
)
def test_the_nearest_sizes_are_those_by_number(family, given, offered):
    with pytest.raises(InputError) as told:
        Pipe.nominal(family, given)
    assert str(told.value).endswith(f"the nearest are {offered}")


@pytest.mark.parametrize("given", ["22 mm", "1/0 in", "large"])
def test_a_size_in_another_unit_or_none_at_all_is_answered_by_spelling_or_the_list(given):
    with pytest.raises(InputError, match=r'is not known; (the nearest are|choose from) "\d'):
        Pipe.nominal("copper L", given)
    with pytest.raises(InputError, match='"01-degrees-betwen" is not known; the nearest are "01-degrees-between"'):
        question("01-degrees-betwen")
