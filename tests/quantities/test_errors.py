"""Every argument of every public call refuses what it cannot use: one InputError that names the quantity, says what
was given and what is possible. Never another exception, never a silent answer. See test_errors_odd.py for oddities."""

import re
from dataclasses import dataclass
from typing import Callable

import numpy as np
import pint
import pytest

from lessons_lib import Q_, Ground, InputError, Insulation, Pipe, Run, Surroundings, assess, time_to_burn

ANOTHER_REGISTRY = pint.UnitRegistry()
GOOD_PIPE = {
    "name": "a pipe",
    "inside_diameter": Q_(20, "mm"),
    "outside_diameter": Q_(22, "mm"),
    "wall_conductivity": Q_(340, "W/(m*K)"),
    "roughness": Q_(0.0015, "mm"),
    "density": Q_(8940, "kg/m**3"),
    "heat_capacity": Q_(385, "J/(kg*K)"),
    "emissivity": 0.44,
}
PIPE = Pipe(**GOOD_PIPE)
FOAM = Insulation("elastomeric foam", Q_(19, "mm"))
FROST = Surroundings(Q_(-12, "degC"), wind=Q_(5, "m/s"))
RUN = Run(PIPE, Q_(18, "m"), FOAM, FROST)
SERIES = Run.series([RUN, RUN])
BURIED = Run(PIPE, Q_(18, "m"), FOAM, Ground(Q_(8, "degC"), Q_(0.8, "m")))
SUPPLY, FLOW = Q_(60, "degC"), Q_(6, "L/min")


@dataclass(frozen=True)
class Argument:
    """One argument: the call with a value in its place, the word that a message must hold, values just outside."""

    label: str
    call: Callable
    word: str
    low: pint.Quantity
    high: pint.Quantity
    optional: bool = False

    @property
    def is_temperature(self):
        return self.low.check("[temperature]")


def on(target):
    """Arguments of a Run or Series, both of which answer the same questions."""
    name = "Run" if target is RUN else "Series"
    cold, hot = Q_(31, "degF"), Q_(211, "degF")
    back, flood = Q_(-1, "L/min"), Q_(6001, "L/min")
    return [
        Argument(f"{name}.heat_loss water", lambda v: target.heat_loss(v), "water temperature", cold, hot),
        Argument(f"{name}.heat_loss flow", lambda v: target.heat_loss(SUPPLY, v), "flow", back, flood, optional=True),
        Argument(
            f"{name}.surface_temperature water", lambda v: target.surface_temperature(v), "water temperature", cold, hot
        ),
        Argument(
            f"{name}.surface_temperature flow",
            lambda v: target.surface_temperature(SUPPLY, v),
            "flow",
            back,
            flood,
            optional=True,
        ),
        Argument(
            f"{name}.delivery_temperature supply",
            lambda v: target.delivery_temperature(v, FLOW),
            "supply temperature",
            cold,
            hot,
        ),
        Argument(
            f"{name}.delivery_temperature flow",
            lambda v: target.delivery_temperature(SUPPLY, v),
            "flow",
            Q_(0, "gpm"),
            flood,
        ),
        Argument(
            f"{name}.ice_distance supply", lambda v: target.ice_distance(v, FLOW), "supply temperature", cold, hot
        ),
        Argument(f"{name}.ice_distance flow", lambda v: target.ice_distance(SUPPLY, v), "flow", Q_(0, "L/min"), flood),
        Argument(f"{name}.cooling start", lambda v: target.cooling(v, Q_(8, "h")), "start temperature", cold, hot),
        Argument(
            f"{name}.cooling duration", lambda v: target.cooling(SUPPLY, v), "duration", Q_(0, "h"), Q_(2, "year")
        ),
        Argument(
            f"{name}.cooling().time_to",
            lambda v: target.cooling(SUPPLY, Q_(8, "h")).time_to(v),
            "target temperature",
            cold,
            hot,
        ),
        Argument(f"{name}.freezing start", lambda v: target.freezing(v), "start temperature", cold, hot),
        Argument(
            f"{name}.freezing().cooling duration",
            lambda v: target.freezing(SUPPLY).cooling(v),
            "duration",
            Q_(0, "h"),
            Q_(2, "year"),
        ),
        Argument(f"{name}.hold_power hold", lambda v: target.hold_power(v), "hold temperature", cold, Q_(61, "degC")),
    ]


def pipe_with(**changed):
    return Pipe(**(GOOD_PIPE | changed))


ARGUMENTS = [
    Argument(
        "Pipe inside_diameter", lambda v: pipe_with(inside_diameter=v), "inside diameter", Q_(0.5, "mm"), Q_(61, "mm")
    ),
    Argument(
        "Pipe outside_diameter", lambda v: pipe_with(outside_diameter=v), "outside diameter", Q_(2, "mm"), Q_(61, "mm")
    ),
    Argument(
        "Pipe wall_conductivity",
        lambda v: pipe_with(wall_conductivity=v),
        "conductivity",
        Q_(0, "W/(m*K)"),
        Q_(501, "W/(m*K)"),
    ),
    Argument("Pipe roughness", lambda v: pipe_with(roughness=v), "roughness", Q_(-1, "um"), Q_(1.1, "mm")),
    Argument("Pipe density", lambda v: pipe_with(density=v), "density", Q_(0, "kg/m**3"), Q_(26, "g/cm**3")),
    Argument(
        "Pipe heat_capacity",
        lambda v: pipe_with(heat_capacity=v),
        "heat capacity",
        Q_(99, "J/(kg*K)"),
        Q_(11, "kJ/(kg*K)"),
    ),
    Argument(
        "Insulation thickness",
        lambda v: Insulation("glass fibre", v),
        "insulation thickness",
        Q_(-1, "mm"),
        Q_(5, "in"),
    ),
    Argument(
        "Insulation bore",
        lambda v: Insulation("glass fibre", Q_(9, "mm"), bore=v),
        "insulation bore",
        Q_(2, "mm"),
        Q_(251, "mm"),
        optional=True,
    ),
    Argument(
        "Insulation conductivity",
        lambda v: Insulation("glass fibre", Q_(9, "mm"), conductivity=v),
        "conductivity",
        Q_(0, "W/(m*K)"),
        Q_(501, "W/(m*K)"),
        optional=True,
    ),
    Argument("Surroundings air", lambda v: Surroundings(v), "air temperature", Q_(-61, "degC"), Q_(141, "degF")),
    Argument("Surroundings wind", lambda v: Surroundings(Q_(0, "degC"), wind=v), "wind", Q_(-1, "mph"), Q_(90, "mph")),
    Argument(
        "Surroundings radiant",
        lambda v: Surroundings(Q_(0, "degC"), radiant=v),
        "radiant temperature",
        Q_(-81, "degC"),
        Q_(81, "degC"),
        optional=True,
    ),
    Argument(
        "Ground temperature", lambda v: Ground(v, Q_(1, "m")), "soil temperature", Q_(-31, "degC"), Q_(61, "degC")
    ),
    Argument("Ground depth", lambda v: Ground(Q_(8, "degC"), v), "depth", Q_(0, "m"), Q_(21, "m")),
    Argument("Run length", lambda v: Run(PIPE, v, FOAM, FROST), "length", Q_(0, "ft"), Q_(10_001, "m")),
    *on(RUN),
    *on(SERIES),
    Argument("time_to_burn water", lambda v: time_to_burn(v), "water temperature", Q_(31, "degF"), Q_(101, "degC")),
    Argument("assess supply", lambda v: assess(RUN, v, FLOW), "supply temperature", Q_(31, "degF"), Q_(211, "degF")),
    Argument("assess flow", lambda v: assess(RUN, SUPPLY, v), "flow", Q_(0, "gpm"), Q_(6001, "L/min")),
    Argument(
        "assess start",
        lambda v: assess(RUN, SUPPLY, FLOW, start=v),
        "start temperature",
        Q_(-1, "degC"),
        Q_(100, "degC"),
    ),
    Argument(
        "assess useful",
        lambda v: assess(RUN, SUPPLY, FLOW, useful=v),
        "useful temperature",
        Q_(-1, "degC"),
        Q_(100, "degC"),
    ),
    Argument(
        "assess hold",
        lambda v: assess(RUN, SUPPLY, FLOW, hold=v),
        "hold temperature",
        Q_(-1, "degC"),
        Q_(61, "degC"),
        optional=True,
    ),
]
every_argument = pytest.mark.parametrize("argument", ARGUMENTS, ids=lambda argument: argument.label)


def refusal(argument: Argument, value) -> str:
    """The message of the InputError that a value must raise; it begins with the quantity's name."""
    with pytest.raises(InputError) as caught:
        argument.call(value)
    message = str(caught.value)
    assert message.startswith(argument.word), message
    assert re.search(r"possible is|Write it like Q_\(", message), message
    return message


@every_argument
@pytest.mark.parametrize("value", [5, 5.0, "5 m", True, [5, 6], np.array([5.0, 6.0]), {}], ids=repr)
def test_bare_values_carry_no_unit(argument, value):
    message = refusal(argument, value)
    assert repr(value) in message and "no unit" in message


@every_argument
def test_none_where_a_value_is_needed(argument):
    """Where None means something (no wind film, the air's own temperature ...) it is allowed and gives an answer."""
    if argument.optional:
        assert argument.call(None) is not None
    else:
        assert "None" in refusal(argument, None)


@every_argument
def test_wrong_kind_of_unit(argument):
    assert "3 kg" in refusal(argument, Q_(3, "kg"))


@every_argument
def test_no_unit_at_all(argument):
    assert "3" in refusal(argument, Q_(3, ""))


@every_argument
def test_temperature_difference(argument):
    message = refusal(argument, Q_(5, "delta_degC"))
    assert not argument.is_temperature or "temperature difference" in message


@every_argument
@pytest.mark.parametrize("number", [np.nan, np.inf, -np.inf])
def test_not_finite(argument, number):
    unit = argument.low.units
    assert f"{number} was given; it must be a finite number" in refusal(argument, Q_(number, unit))
    good_and_bad = 0.5 * (argument.low.magnitude + argument.high.to(unit).magnitude), number
    assert f"{number} was given" in refusal(argument, Q_(np.array(good_and_bad), unit))


@every_argument
@pytest.mark.parametrize("end", ["low", "high"])
def test_out_of_range(argument, end):
    """Given and possible are both said in the reader's own unit."""
    value = getattr(argument, end)
    message = refusal(argument, value)
    assert f"{value:.6g~P} was given; possible is" in message
    assert message.count(f"{value.units:~P}") >= 3


@every_argument
def test_one_bad_value_in_a_list(argument):
    unit = argument.low.units
    middle = 0.5 * (argument.low.magnitude + argument.high.to(unit).magnitude)
    assert f"{argument.low:.6g~P} was given" in refusal(argument, Q_(np.array([middle, argument.low.magnitude]), unit))


@every_argument
@pytest.mark.parametrize("shape", [(0,), (0, 3)])
def test_empty_list(argument, shape):
    assert "empty" in refusal(argument, Q_(np.empty(shape), argument.low.units))


@every_argument
def test_quantity_of_another_registry(argument):
    with pytest.raises(InputError, match=f"^{argument.word}.*another unit registry.*lessons_lib.Q_"):
        argument.call(ANOTHER_REGISTRY.Quantity(5, "meter"))


@pytest.mark.parametrize(
    "argument", [one for one in ARGUMENTS if one.word == "flow"], ids=lambda argument: argument.label
)
@pytest.mark.parametrize("unit", ["kg/s", "lb/min"])
def test_mass_flow(argument, unit):
    assert "mass flow" in refusal(argument, Q_(0.1, unit))


SHARES = {
    "emissivity of a pipe": lambda v: pipe_with(emissivity=v),
    "emissivity of insulation": lambda v: Insulation("glass fibre", Q_(9, "mm"), emissivity=v),
    "emissivity of a bare pipe": lambda v: Insulation.none(emissivity=v),
    "bare share": lambda v: Run(PIPE, Q_(1, "m"), FOAM, FROST, bare_share=v),
    "ice share": lambda v: RUN.freezing(SUPPLY).hours_to_share(v),
}


@pytest.mark.parametrize("name", SHARES)
@pytest.mark.parametrize(
    "value", [-0.1, 1.1, np.nan, np.inf, "0.5", True, 0.5j, Q_(1, "m"), Q_(500, "percent")], ids=repr
)
def test_shares(name, value):
    with pytest.raises(InputError, match=f"^{name.split(' of ')[0]}: .*(possible is|Write) a number"):
        SHARES[name](value)


def test_of_a_list_the_first_bad_value_is_said_and_its_place():
    many = np.full(40, 0.1)
    many[[2, 30]] = 1.4, -3
    told = "^bare share: 1.4 was given as number 3 of 40; possible is a number from 0 to 1, for example 0.05.$"
    with pytest.raises(InputError, match=told):
        SHARES["bare share"](many)
    with pytest.raises(InputError, match="^bare share: a list of 40 values was given; possible is a number"):
        SHARES["bare share"](np.full(40, 0.1))
    with pytest.raises(InputError, match="temperature: 300 °C was given as number 2 of 3; possible is from"):
        RUN.freezing(Q_(np.array([5.0, 300.0, 400.0]), "degC"))


@pytest.mark.parametrize("name", [name for name in SHARES if name != "ice share"])
@pytest.mark.parametrize("value", [[0.5], np.array([0.5])], ids=repr)
def test_shares_that_are_single(name, value):
    with pytest.raises(InputError, match="possible is a number"):
        SHARES[name](value)


@pytest.mark.parametrize(
    "call",
    [
        lambda: BURIED.cooling(SUPPLY, Q_(8, "h")),
        lambda: BURIED.freezing(SUPPLY),
        lambda: Run.series([RUN, BURIED]).freezing(SUPPLY),
        lambda: BURIED.second_draw(SUPPLY, FLOW, Q_(20, "min")),
        lambda: Run.series([RUN, BURIED]).second_draw(SUPPLY, FLOW, Q_(20, "min")),
    ],
    ids=["cooling", "freezing", "freezing of legs", "pause", "pause of legs"],
)
def test_standing_water_in_the_ground_says_why_not(call):
    with pytest.raises(InputError, match="buried.*soil takes days.*Use Surroundings"):
        call()


def test_bore_not_smaller_than_the_outside():
    for bore in (22, 23):
        with pytest.raises(
            InputError, match=f"inside diameter {bore} mm must be smaller than the outside diameter 22 mm"
        ):
            pipe_with(inside_diameter=Q_(bore, "mm"))


def test_insulation_bore_smaller_than_the_pipe():
    tight = Insulation("elastomeric foam", Q_(19, "mm"), bore=Q_(0.75, "in"))
    with pytest.raises(InputError, match="insulation bore: 0.75 in does not go over the pipe.*0.8661 in.*larger bore"):
        Run(PIPE, Q_(1, "m"), tight, FROST)


def test_insulation_thicker_than_the_model():
    with pytest.raises(InputError, match="insulation thickness: 120 mm makes the outside larger than 250 mm"):
        Run(PIPE, Q_(1, "m"), Insulation("glass fibre", Q_(120, "mm")), FROST)


def test_depth_that_does_not_cover():
    with pytest.raises(InputError, match="depth: 20 mm does not cover the pipe"):
        Run(PIPE, Q_(1, "m"), FOAM, Ground(Q_(8, "degC"), Q_(20, "mm")))


@pytest.mark.parametrize("useful", [Q_(61, "degC"), Q_(np.array([40, 61]), "degC")], ids=["one", "list"])
def test_useful_above_supply(useful):
    with pytest.raises(
        InputError, match="useful temperature: .*61.* above the supply temperature 60 °C.*Raise the supply"
    ):
        assess(RUN, SUPPLY, FLOW, useful=useful)
