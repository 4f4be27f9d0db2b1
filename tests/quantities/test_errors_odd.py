"""Inputs that only a trap or a slip produces: odd numbers, lists that do not fit, names that no table holds."""

from decimal import Decimal

import numpy as np
import pytest

from lessons_lib import Q_, Ground, InputError, Insulation, Pipe, Run, Surroundings, assess, time_to_burn, ureg

PIPE = Pipe.nominal("copper L", "3/4 in")
FOAM = Insulation("elastomeric foam", Q_(19, "mm"))
FROST = Surroundings(Q_(-12, "degC"), wind=Q_(5, "m/s"))
RUN = Run(PIPE, Q_(18, "m"), FOAM, FROST)
SUPPLY, FLOW = Q_(60, "degC"), Q_(6, "L/min")
TWO, THREE = Q_(np.array([10, 20]), "mm"), Q_(np.array([1.0, 2.0, 3.0]), "degC")
TWO_COVERS = Run(PIPE, Q_(18, "m"), Insulation("glass fibre", TWO), FROST)
THREE_AIRS = Run(PIPE, Q_(18, "m"), FOAM, Surroundings(THREE))


def pipe_with(**changed) -> Pipe:
    good = {
        "name": "a pipe",
        "inside_diameter": Q_(20, "mm"),
        "outside_diameter": Q_(22, "mm"),
        "wall_conductivity": Q_(340, "W/(m*K)"),
        "roughness": Q_(0.0015, "mm"),
        "density": Q_(8940, "kg/m**3"),
        "heat_capacity": Q_(385, "J/(kg*K)"),
        "emissivity": 0.44,
    }
    return Pipe(**(good | changed))


ODD_NUMBERS = {
    "complex": 60 + 3j,
    "complex list": np.array([60 + 3j, 50]),
    "truth values": np.array([True, False]),
    "text": np.array(["60", "50"]),
    "mixed objects": np.array([60, None], dtype=object),
    "a hole in the list": np.ma.array([60.0, 50.0], mask=[False, True]),
    "more than a float holds": 10**400,
}


@pytest.mark.parametrize("odd", ODD_NUMBERS)
@pytest.mark.parametrize(
    "call, unit",
    [
        (time_to_burn, "degC"),
        (RUN.heat_loss, "degF"),
        (lambda v: Run(PIPE, v, FOAM, FROST), "m"),
    ],
    ids=["time_to_burn", "heat_loss", "length"],
)
def test_odd_numbers_are_refused(odd, call, unit):
    with pytest.raises(InputError, match="^(water temperature|length): "):
        call(Q_(ODD_NUMBERS[odd], unit))


def test_numbers_of_other_types_are_fine():
    """Whole numbers, single precision, objects that hold numbers, decimals."""
    expected = RUN.heat_loss(SUPPLY).magnitude
    for number in (60, np.int32(60), np.float32(60), Decimal("60")):
        assert RUN.heat_loss(Q_(number, "degC")).magnitude == pytest.approx(expected, rel=1e-6)
    listed = RUN.heat_loss(Q_(np.array([60, 60], dtype=object), "degC")).magnitude
    assert listed == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("fahrenheit", [32, 210.2, np.float32(210.2)])
def test_ends_of_the_range_in_fahrenheit(fahrenheit):
    """32 degF is 0 degC and 210.2 degF is 99 degC, give or take the rounding of the conversion."""
    water = Q_(fahrenheit, "degF")
    assert np.isfinite(RUN.heat_loss(water).magnitude)
    assert np.isfinite(RUN.delivery_temperature(water, FLOW).magnitude)


@pytest.mark.parametrize("fahrenheit", [31.9, 210.3])
def test_just_outside_in_fahrenheit(fahrenheit):
    with pytest.raises(InputError, match=f"{fahrenheit} °F was given; possible is from 32 °F to 210.2 °F"):
        RUN.delivery_temperature(Q_(fahrenheit, "degF"), FLOW)


def test_negative_zero():
    """It is zero: calm air, standing water, no insulation; and no length."""
    calm = Surroundings(Q_(-12, "degC"), wind=Q_(-0.0, "m/s"))
    still = Run(PIPE, Q_(1, "m"), Insulation("glass fibre", Q_(-0.0, "mm")), calm)
    bare = Run(PIPE, Q_(1, "m"), Insulation.none(), Surroundings(Q_(-12, "degC")))
    assert still.heat_loss(SUPPLY, Q_(-0.0, "L/min")).magnitude == bare.heat_loss(SUPPLY).magnitude
    with pytest.raises(InputError, match="^length: "):
        Run(PIPE, Q_(-0.0, "m"), FOAM, FROST)


LISTS_THAT_DO_NOT_FIT = {
    "thickness and air": lambda: Run(PIPE, Q_(1, "m"), Insulation("glass fibre", TWO), Surroundings(THREE)),
    "air and wind": lambda: Run(PIPE, Q_(1, "m"), FOAM, Surroundings(THREE, wind=Q_(np.array([1.0, 2.0]), "m/s"))),
    "thickness and bore": lambda: Run(
        PIPE, Q_(1, "m"), Insulation("glass fibre", TWO, bore=Q_(np.array([30, 40, 50]), "mm")), FROST
    ),
    "thickness and depth": lambda: Run(
        PIPE, Q_(1, "m"), Insulation("glass fibre", TWO), Ground(Q_(8, "degC"), Q_(np.array([1, 2, 3]), "m"))
    ),
    "run and water": lambda: TWO_COVERS.heat_loss(THREE),
    "water and flow": lambda: RUN.heat_loss(THREE, Q_(np.array([1, 2]), "L/min")),
    "run and supply": lambda: TWO_COVERS.delivery_temperature(THREE, FLOW),
    "supply and flow": lambda: RUN.delivery_temperature(THREE, Q_(np.array([1, 2]), "L/min")),
    "run and length": lambda: Run(
        PIPE, Q_(np.array([1, 2, 3]), "m"), Insulation("glass fibre", TWO), FROST
    ).delivery_temperature(SUPPLY, FLOW),
    "run and start": lambda: TWO_COVERS.freezing(THREE),
    "run and start, cooling": lambda: TWO_COVERS.cooling(THREE, Q_(1, "h")),
    "durations": lambda: RUN.cooling(SUPPLY, Q_(np.array([1, 2]), "h")),
    "durations of freezing": lambda: RUN.freezing(SUPPLY).cooling(Q_(np.array([1, 2]), "h")),
    "run and target": lambda: TWO_COVERS.cooling(SUPPLY, Q_(1, "h")).time_to(THREE),
    "run and ice share": lambda: TWO_COVERS.freezing(SUPPLY).hours_to_share(np.array([0.1, 0.2, 0.3])),
    "run and hold": lambda: TWO_COVERS.hold_power(THREE),
    "legs, delivery": lambda: Run.series([TWO_COVERS, THREE_AIRS]).delivery_temperature(SUPPLY, FLOW),
    "legs, loss": lambda: Run.series([TWO_COVERS, THREE_AIRS]).heat_loss(SUPPLY),
    "legs, surface": lambda: Run.series([TWO_COVERS, THREE_AIRS]).surface_temperature(SUPPLY),
    "legs, freezing": lambda: Run.series([TWO_COVERS, THREE_AIRS]).freezing(SUPPLY).hours_to_zero,
    "legs, hold power": lambda: Run.series([TWO_COVERS, THREE_AIRS]).hold_power(),
    "supply and useful": lambda: assess(RUN, Q_(np.array([60, 70]), "degC"), FLOW, useful=THREE),
    "supply and flow, assessed": lambda: assess(RUN, THREE, Q_(np.array([1, 2]), "L/min"), useful=Q_(1, "degC")),
    "supply and start": lambda: assess(RUN, Q_(np.array([60, 70]), "degC"), FLOW, start=THREE),
    "conductivities": lambda: Insulation(
        "glass fibre", Q_(9, "mm"), conductivity=Q_(np.array([0.03, 0.04]), "W/(m*K)")
    ),
    "bores of a pipe": lambda: pipe_with(inside_diameter=Q_(np.array([10, 12]), "mm")),
    "densities of a pipe": lambda: (
        Run(pipe_with(density=Q_(np.array([900.0, 950.0]), "kg/m**3")), Q_(1, "m"), FOAM, FROST)
        .freezing(SUPPLY)
        .hours_to_zero
    ),
}


@pytest.mark.parametrize("lists", LISTS_THAT_DO_NOT_FIT)
def test_lists_that_do_not_fit_together(lists):
    with pytest.raises(InputError, match="fit together|one value"):
        LISTS_THAT_DO_NOT_FIT[lists]()


UNKNOWN_NAMES = [  # call, what is asked for, what was given, the nearest name
    (lambda: Pipe.nominal("coper L", "3/4 in"), "pipe family", "coper L", "copper L"),
    (lambda: Pipe.nominal("PEX", "3/4 in"), "pipe family", "PEX", "PEX CTS"),
    (lambda: Pipe.nominal("copper L", "5/8 in"), "size of copper L", "5/8 in", "3/8 in"),
    (lambda: Pipe.nominal("copper EN 1057", "21 mm"), "size of copper EN 1057", "21 mm", "22 mm"),
    (lambda: Pipe.nominal("PEX ISO 15875", "3/4 in"), "size of PEX ISO 15875", "3/4 in", "16 mm"),
    (lambda: Pipe.nominal(None, None), "pipe family", "None", "copper L"),
    (lambda: Pipe.nominal("copper L", 0.75), "size of copper L", "0.75", "3/4 in"),
    (lambda: Insulation("elastomeric fome", Q_(9, "mm")), "insulation", "elastomeric fome", "elastomeric foam"),
    (lambda: Insulation("", Q_(9, "mm")), "insulation", "", "glass fibre"),
    (lambda: Insulation(None, Q_(9, "mm")), "insulation", "None", "glass fibre"),
    (lambda: Insulation("glass fibre", Q_(9, "mm"), jacket="plastik"), "jacket", "plastik", "plastic"),
    (lambda: Insulation("glass fibre", Q_(9, "mm"), jacket="dull copper"), "jacket", "dull copper", "canvas"),
    (lambda: Insulation("glass fibre", Q_(9, "mm"), gap="seald"), "gap", "seald", "sealed"),
    (lambda: Insulation("glass fibre", Q_(9, "mm"), gap=None), "gap", "None", "open"),
    (lambda: Ground(Q_(8, "degC"), Q_(1, "m"), soil="moister"), "soil", "moister", "moist"),
    (lambda: Ground(Q_(8, "degC"), Q_(1, "m"), soil=None), "soil", "None", "moist"),
]


@pytest.mark.parametrize(
    "call, kind, given, nearest", UNKNOWN_NAMES, ids=[f"{row[1]} {row[2]}" for row in UNKNOWN_NAMES]
)
def test_unknown_names(call, kind, given, nearest):
    with pytest.raises(InputError) as caught:
        call()
    message = str(caught.value)
    assert message.startswith(f'{kind}: "{given}" is not known')
    assert f'"{nearest}"' in message


@pytest.mark.parametrize(
    "call",
    [
        lambda: Insulation(np.array(["glass fibre", "none"]), Q_(9, "mm")),
        lambda: Insulation("glass fibre", Q_(9, "mm"), gap=np.array(["sealed", "open"])),
        lambda: Insulation("glass fibre", Q_(9, "mm"), jacket=["plastic"]),
        lambda: Ground(Q_(8, "degC"), Q_(1, "m"), soil=["dry"]),
        lambda: Pipe.nominal(["copper L"], "3/4 in"),
    ],
    ids=["material", "gap", "jacket", "soil", "family"],
)
def test_lists_of_names(call):
    with pytest.raises(InputError, match="is not known"):
        call()


@pytest.mark.parametrize(
    "call",
    [
        lambda: Run("copper", Q_(1, "m"), FOAM, FROST),
        lambda: Run(PIPE, Q_(1, "m"), None, FROST),
        lambda: Run(PIPE, Q_(1, "m"), FOAM, Q_(-5, "degC")),
        lambda: Run(RUN, Q_(1, "m"), FOAM, FROST),
        lambda: Run.series([]),
        lambda: Run.series([RUN, "x"]),
        lambda: Run.series(None),
        lambda: Run.series(RUN),
        lambda: assess(None, SUPPLY, FLOW),
        lambda: assess("the cabin", SUPPLY, FLOW),
        lambda: assess(PIPE, SUPPLY, FLOW),
    ],
    ids=[
        "text",
        "None",
        "air",
        "run",
        "none",
        "mixed",
        "series None",
        "series run",
        "assess None",
        "assess text",
        "assess pipe",
    ],
)
def test_wrong_things_in_place_of_parts(call):
    with pytest.raises(InputError, match="Run|Pipe|Insulation|Surroundings"):
        call()


def test_no_insulation_that_is_thick():
    """ "none" is a bare pipe; with a thickness it contradicts itself, and nothing must be computed for it."""
    with pytest.raises(InputError, match="none"):
        Run(PIPE, Q_(1, "m"), Insulation("none", Q_(19, "mm")), FROST)


@pytest.mark.parametrize("emissivity", [0, 0.0])
def test_a_perfect_mirror_behind_a_gap(emissivity):
    """Emissivity 0 is in range: no radiation, no exception."""
    loose = Insulation("elastomeric foam", Q_(19, "mm"), bore=Q_(28, "mm"), emissivity=emissivity)
    loss = Run(pipe_with(emissivity=emissivity), Q_(1, "m"), loose, FROST).heat_loss(SUPPLY)
    assert 0 < loss.magnitude < 50


@pytest.mark.parametrize(
    "share", [Q_(90, "percent"), Q_(0.9, ""), 0.9, np.float32(0.9)], ids=["percent", "plain", "float", "single"]
)
def test_shares_as_people_write_them(share):
    loss = Run(pipe_with(emissivity=share), Q_(1, "m"), Insulation.none(), FROST).heat_loss(SUPPLY)
    expected = Run(pipe_with(emissivity=0.9), Q_(1, "m"), Insulation.none(), FROST).heat_loss(SUPPLY)
    assert loss.magnitude == pytest.approx(expected.magnitude, rel=1e-6)
    assert isinstance(loss.magnitude, float)


def test_ice_share_in_percent():
    assert RUN.freezing(SUPPLY).hours_to_share(Q_(10, "percent")) == RUN.freezing(SUPPLY).hours_to_share(0.1)


def test_a_unit_in_place_of_a_quantity():
    with pytest.raises(InputError, match="no unit"):
        RUN.heat_loss(ureg.degC)
