"""Pressure, speed, fittings, and the flow that a tap really gets: hand calculations, laws, limits, errors."""

from dataclasses import replace

import fluids
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from lessons_lib import Q_, InputError, Pipe
from lessons_lib.physics import pressure
from lessons_lib.physics.properties import water
from lessons_lib.runs.fittings import names, resolve_fittings
from lessons_lib.runs.flow import (
    fastest,
    flow_at,
    flow_through,
    hazen_williams,
    pressure_drop,
    pressure_drop_through,
    speed,
    speed_limit,
)
from lessons_lib.runs.pipe import families, sizes

steady = settings(max_examples=60, deadline=None, derandomize=True)
HALF, THREE_QUARTERS = Pipe.nominal("copper L", "1/2 in"), Pipe.nominal("copper L", "3/4 in")
PEX = Pipe.nominal("PEX CTS", "1/2 in")
LENGTH, FLOW, HOT, COLD = Q_(20, "m"), Q_(10, "L/min"), Q_(60, "degC"), Q_(10, "degC")
MAIN, UP = Q_(300, "kPa"), Q_(3, "m")
ELBOWS = [("elbow 90", 6), "ball valve"]

NAMES = [(family, size) for family in families() for size in sizes(family)]
pipes = st.sampled_from(NAMES).map(lambda name: Pipe.nominal(*name))
lengths, flows, temperatures = st.floats(1, 60), st.floats(0.1, 40), st.floats(1, 95)
pressures, heights = st.floats(1, 800), st.floats(-10, 20)
fittings = st.lists(st.tuples(st.sampled_from(names()), st.integers(0, 5)), max_size=4)


def kilopascal(value):
    return value.to("kPa").magnitude


def litres(value):
    return value.to("L/min").magnitude


# --- by hand --------------------------------------------------------------------------------------------------------


def test_speed_by_hand():
    """0.545 in = 13.843 mm; area pi/4 d2 = 1.50503e-4 m2; 10 L/min = 1.66667e-4 m3/s; 1.1074 m/s."""
    assert speed(HALF, FLOW).to("m/s").magnitude == pytest.approx(1.1074, rel=1e-4)


def test_laminar_loss_by_hand():
    """0.2 L/min of 10 degC water: 0.02215 m/s, Re 235, laminar, so 32 mu v L/d2 (Hagen-Poiseuille).

    mu = 1.3059 mPa s: 32 x 1.3059e-3 x 0.022148 x 20/0.013843^2 = 96.60 Pa.
    """
    drop = pressure_drop(HALF, LENGTH, (), Q_(0.2, "L/min"), COLD)
    assert drop.to("Pa").magnitude == pytest.approx(96.60, rel=1e-3)


def test_turbulent_loss_by_hand():
    """10 L/min at 60 degC: rho = 983.2, mu = 0.4660 mPa s, Re = 983.2 x 1.1074 x 0.013843/0.466e-3 = 32 344.

    f (Colebrook, smooth, e/d = 1.08e-4) = 0.02338; f L/d rho v2/2 = 0.02338 x 1444.8 x 602.9 = 20.37 kPa. 1 %: correlation.
    """
    assert kilopascal(pressure_drop(HALF, LENGTH, (), FLOW, HOT)) == pytest.approx(20.37, rel=0.01)


def test_elbows_by_hand():
    """Six elbows of 30 bores and a ball valve of 3: 183 x 13.843 mm = 2.5333 m of the same pipe."""
    assert resolve_fittings(ELBOWS).equivalent_length(HALF).to("m").magnitude == pytest.approx(2.5333, rel=1e-4)
    longer = pressure_drop(HALF, LENGTH + Q_(183, "") * HALF.inside_diameter, (), FLOW, HOT)
    assert kilopascal(pressure_drop(HALF, LENGTH, ELBOWS, FLOW, HOT)) == pytest.approx(kilopascal(longer), rel=1e-12)


def test_an_open_end_costs_one_velocity_head():
    """0.5 x 983.2 x 1.1074^2 = 602.9 Pa."""
    more = pressure_drop(HALF, LENGTH, ["open end"], FLOW, HOT) - pressure_drop(HALF, LENGTH, (), FLOW, HOT)
    assert more.to("Pa").magnitude == pytest.approx(602.9, rel=1e-3)


def test_a_tap_is_a_hole_whatever_the_pipe():
    """EN 200: 12 L/min of cold water at 3 bar; half the flow takes a quarter of the pressure."""
    for pipe in (HALF, THREE_QUARTERS):
        flow = Q_(np.array([12.0, 6.0]), "L/min")
        alone = kilopascal(
            pressure_drop(pipe, LENGTH, ["tap"], flow, COLD) - pressure_drop(pipe, LENGTH, (), flow, COLD)
        )
        assert alone == pytest.approx([300, 75], rel=1e-3)


def test_height_by_hand():
    """3 m of 60 degC water: 983.2 x 9.80665 x 3 = 28.925 kPa; with just that, nothing comes; a little more, a little comes."""
    needed = 28.925
    assert litres(flow_at(HALF, LENGTH, (), Q_(needed * 0.999, "kPa"), UP, HOT)) == 0
    assert 0 < litres(flow_at(HALF, LENGTH, (), Q_(needed * 1.001, "kPa"), UP, HOT)) < 1


# --- the flow that a pressure drives --------------------------------------------------------------------------------


@steady
@given(pipes, lengths, fittings, pressures, heights, temperatures)
def test_flow_and_loss_balance(pipe, length, fitted, available, height, celsius):
    """What is left after the height is what the pipe loses; without a tap too."""
    given_ = pipe, Q_(length, "m"), fitted
    flow = flow_at(*given_, Q_(available, "kPa"), Q_(height, "m"), Q_(celsius, "degC"))
    left = available - 1e-3 * pressure.height_loss(height, water(celsius).density)
    if left <= 0:
        assert litres(flow) == 0
    else:
        assert kilopascal(pressure_drop(*given_, flow, Q_(celsius, "degC"))) == pytest.approx(left, rel=1e-9)


@steady
@given(pipes, lengths, pressures, temperatures)
def test_flow_against_another_solver(pipe, length, available, celsius):
    """Another library's friction factor and a general-purpose root finder."""
    bore, rough = (value.to("m").magnitude for value in (pipe.inside_diameter, pipe.roughness))
    here = water(celsius)

    def left(log_flow):
        moving = np.exp(log_flow) / (np.pi / 4 * bore**2)
        factor = fluids.friction.Churchill_1977(float(here.density * moving * bore / here.viscosity), rough / bore)
        return factor * length / bore * here.density / 2 * moving**2 - 1e3 * available

    expected = 6e4 * np.exp(brentq(left, np.log(1e-12), np.log(1.0), xtol=1e-13))
    found = flow_at(pipe, Q_(length, "m"), (), Q_(available, "kPa"), Q_(0, "m"), Q_(celsius, "degC"))
    assert litres(found) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("seed", range(3))
def test_every_corner_converges(seed):
    """100 000 random chains of two legs, from drops to floods, from 1 Pa to 2 MPa, each closed to 1e-9."""
    rng, count = np.random.default_rng(seed), 100_000

    def legs(holes):
        bore, rough = (
            rng.uniform(0.001, 0.06, count),
            np.where(rng.random(count) < 0.5, 1.5e-6, rng.uniform(0, 1e-3, count)),
        )
        return pressure.FlowLeg(bore, rough, np.exp(rng.uniform(np.log(0.01), np.log(1e4), count)), holes)

    chain = [
        legs(0.0),
        legs(np.where(rng.random(count) < 0.5, 0.0, pressure.hole(rng.uniform(1, 40, count) / 6e4, 3e5))),
    ]
    here, height = water(rng.uniform(0, 99, count)), rng.uniform(-100, 100, count)
    driving = np.exp(rng.uniform(np.log(1.0), np.log(2e6), count))
    flow = pressure.flow_for(chain, driving + pressure.height_loss(height, here.density), height, here)
    assert np.all(np.isfinite(flow)) and np.all(flow > 0)
    assert (
        np.max(np.abs(pressure.loss(chain, flow, here) / driving - 1)) < 1e-8
    )  # the difference of two large pressures


def test_more_pressure_never_less_flow():
    given_ = HALF, LENGTH, [*ELBOWS, "tap"]
    by_pressure = litres(flow_at(*given_, Q_(np.linspace(0, 1000, 300), "kPa"), UP, HOT))
    assert by_pressure[0] == 0 and np.all(np.diff(by_pressure) >= 0) and by_pressure[-1] > 15
    by_height = litres(flow_at(*given_, MAIN, Q_(np.linspace(-20, 40, 300), "m"), HOT))
    assert by_height[-1] == 0 and np.all(np.diff(by_height) <= 0)
    by_length = litres(flow_at(HALF, Q_(np.linspace(1, 100, 300), "m"), (), MAIN, UP, HOT))
    assert np.all(np.diff(by_length) < 0)
    by_temperature = litres(flow_at(HALF, LENGTH, (), MAIN, Q_(0, "m"), Q_(np.linspace(5, 95, 300), "degC")))
    assert np.all(np.diff(by_temperature) > 0), "hot water is thinner"
    by_size = [litres(flow_at(Pipe.nominal("copper L", size), LENGTH, (), MAIN, UP, HOT)) for size in sizes("copper L")]
    assert by_size == sorted(by_size)


@steady
@given(pipes, lengths, fittings, flows, temperatures)
def test_more_flow_never_less_loss(pipe, length, fitted, flow, celsius):
    rising = Q_(flow * np.array([0, 0.5, 1, 1.01, 2]), "L/min")
    drops = kilopascal(pressure_drop(pipe, Q_(length, "m"), fitted, rising, Q_(celsius, "degC")))
    assert drops[0] == 0 and np.all(np.isfinite(drops)) and np.all(np.diff(drops) > 0)


def test_height_below_the_source_adds_flow():
    down, level, up = (litres(flow_at(HALF, LENGTH, ["tap"], MAIN, Q_(height, "m"), COLD)) for height in (-5, 0, 5))
    assert down > level > up


# --- legs in a row --------------------------------------------------------------------------------------------------

CHAIN = [
    (THREE_QUARTERS, Q_(12, "m"), ["elbow 90"]),
    (HALF, Q_(8, "m"), ELBOWS),
    (PEX, Q_(3, "m"), ["PEX crimp elbow", "tap"]),
]


def test_loss_of_a_chain_is_the_sum_of_its_legs():
    parts = sum(kilopascal(pressure_drop(*leg, FLOW, HOT)) for leg in CHAIN)
    assert kilopascal(pressure_drop_through(CHAIN, FLOW, HOT)) == pytest.approx(parts, rel=1e-12)


def test_flow_of_a_chain_closes_over_the_whole_chain():
    flow = flow_through(CHAIN, MAIN, UP, HOT)
    left = 300 - 1e-3 * pressure.height_loss(3, water(60.0).density)
    assert kilopascal(pressure_drop_through(CHAIN, flow, HOT)) == pytest.approx(left, rel=1e-9)
    assert litres(flow) < min(litres(flow_at(*leg, MAIN, UP, HOT)) for leg in CHAIN), "less than through any leg alone"


def test_a_run_cut_in_two_is_the_same_run():
    halves = [(HALF, 0.5 * LENGTH, [("elbow 90", 3)])] * 2
    whole = HALF, LENGTH, [("elbow 90", 6)]
    assert litres(flow_through(halves, MAIN, UP, HOT)) == pytest.approx(
        litres(flow_at(*whole, MAIN, UP, HOT)), rel=1e-9
    )
    assert litres(flow_through(halves[::-1], MAIN, UP, HOT)) == pytest.approx(
        litres(flow_at(*whole, MAIN, UP, HOT)), rel=1e-9
    )


def test_water_is_fastest_in_the_smallest_bore():
    assert fastest(CHAIN, FLOW) == speed(PEX, FLOW)


def test_lists_equal_loops():
    flow, temperature = Q_(np.array([2.0, 8.0, 30.0]), "L/min"), Q_(np.array([[10.0], [70.0]]), "degC")
    table = kilopascal(pressure_drop_through(CHAIN, flow, temperature))
    assert table.shape == (2, 3)
    for row, celsius in enumerate((10, 70)):
        for column, litre in enumerate((2, 8, 30)):
            single = pressure_drop_through(CHAIN, Q_(litre, "L/min"), Q_(celsius, "degC"))
            assert table[row, column] == pytest.approx(kilopascal(single), rel=1e-12)


def test_units_of_the_results_and_us_inputs():
    assert f"{pressure_drop(HALF, LENGTH, (), FLOW, HOT).units:~P}" == "kPa"
    assert f"{speed(HALF, FLOW).units:~P}" == "m/s"
    flow = flow_at(HALF, LENGTH, (), MAIN, UP, HOT)
    assert f"{flow.units:~P}" == "L/min"
    same = flow_at(HALF, LENGTH.to("ft"), (), MAIN.to("psi"), UP.to("ft"), HOT.to("degF"))
    assert litres(same) == pytest.approx(litres(flow), rel=1e-9)


# --- the hand method and the limits ---------------------------------------------------------------------------------


def test_the_hand_method_knows_no_temperature():
    """Between Darcy-Weisbach cold and hot it says one thing; per length and with the power 1.85 of the flow."""
    single = kilopascal(hazen_williams(HALF, LENGTH, FLOW))
    assert kilopascal(hazen_williams(HALF, 2 * LENGTH, FLOW)) == pytest.approx(2 * single, rel=1e-12)
    assert kilopascal(hazen_williams(HALF, LENGTH, 2 * FLOW)) == pytest.approx(2**1.85 * single, rel=1e-12)
    assert kilopascal(hazen_williams(HALF, LENGTH, FLOW, 123)) > single


@pytest.mark.parametrize(
    "material, celsius, low, high",
    [
        ("copper", 5, 8, 8),
        ("copper", 25, 8, 8),
        ("copper", 25.1, 5, 5),
        ("copper", 60, 5, 5),
        ("copper", 60.1, 2, 3),
        ("copper", 99, 2, 3),
        ("PEX", 60, 8, 10),
        ("CPVC", 70, 8, 10),
        (" COPPER ", 60, 5, 5),
        (HALF, 60, 5, 5),
        (PEX, 60, 8, 10),
    ],
)
def test_speed_limits(material, celsius, low, high):
    limit = speed_limit(material, Q_(celsius, "degC"))
    assert limit.low.to("ft/s").magnitude == pytest.approx(low) and limit.high.to("ft/s").magnitude == pytest.approx(
        high
    )
    assert limit.source and limit.how_known and "local code" in limit.caution


def test_a_pipe_has_the_speed_limit_of_its_region():
    """Where a table has none for the region, the United States' holds; a bare name means the United States, whose hot copper is stricter."""
    assert speed_limit(Pipe.nominal("copper EN 1057", "22 mm"), HOT).region == "Europe"
    assert speed_limit(Pipe.nominal("copper EN 1057", "22 mm x 0.9 mm"), HOT).region == "United Kingdom"
    assert (
        speed_limit("copper", HOT).region
        == speed_limit(Pipe.nominal("CPVC CTS", "1/2 in"), HOT).region
        == "United States"
    )
    somewhere = replace(Pipe.nominal("copper EN 1057", "22 mm"), region="somewhere")
    assert speed_limit(somewhere, HOT).region == "United States"


def test_speed_limits_of_lists_and_in_fahrenheit():
    limit = speed_limit("copper", Q_(np.array([[50, 140], [77, 141]]), "degF"))
    assert limit.low.to("ft/s").magnitude == pytest.approx(np.array([[8, 5], [8, 2]]))
    assert limit.source.shape == (2, 2)


# --- what cannot be answered ----------------------------------------------------------------------------------------

CALLS = {  # argument: (call, word that the message begins with, just outside the domain)
    "pressure_drop length": (lambda v: pressure_drop(HALF, v, (), FLOW, HOT), "length", Q_(0, "m")),
    "pressure_drop flow": (lambda v: pressure_drop(HALF, LENGTH, (), v, HOT), "flow", Q_(-1, "L/min")),
    "pressure_drop water": (lambda v: pressure_drop(HALF, LENGTH, (), FLOW, v), "water temperature", Q_(31, "degF")),
    "speed flow": (lambda v: speed(HALF, v), "flow", Q_(-1, "gpm")),
    "fastest flow": (lambda v: fastest(CHAIN, v), "flow", Q_(-1, "gpm")),
    "flow_at length": (lambda v: flow_at(HALF, v, (), MAIN, UP, HOT), "length", Q_(10_001, "m")),
    "flow_at pressure": (lambda v: flow_at(HALF, LENGTH, (), v, UP, HOT), "pressure", Q_(-1, "psi")),
    "flow_at height": (lambda v: flow_at(HALF, LENGTH, (), MAIN, v, HOT), "height", Q_(201, "m")),
    "flow_at water": (lambda v: flow_at(HALF, LENGTH, (), MAIN, UP, v), "water temperature", Q_(100, "degC")),
    "hazen_williams length": (lambda v: hazen_williams(HALF, v, FLOW), "length", Q_(-1, "m")),
    "hazen_williams flow": (lambda v: hazen_williams(HALF, LENGTH, v), "flow", Q_(-1, "L/min")),
    "speed_limit water": (lambda v: speed_limit("copper", v), "water temperature", Q_(-1, "degC")),
}


@pytest.mark.parametrize("name", CALLS)
@pytest.mark.parametrize("value", [5, "5 m", None, Q_(3, "kg"), Q_(3, ""), "nan", "outside"], ids=str)
def test_refusals(name, value):
    call, word, outside = CALLS[name]
    given_ = (
        {"nan": Q_(np.nan, outside.units), "outside": outside}.get(value, value) if isinstance(value, str) else value
    )
    with pytest.raises(InputError, match=f"^{word}: "):
        call(given_)


@pytest.mark.parametrize(
    "call, says",
    [
        (lambda: speed("copper", FLOW), "where a Pipe is needed"),
        (lambda: pressure_drop(None, LENGTH, (), FLOW, HOT), "where a Pipe is needed"),
        (lambda: pressure_drop(HALF, LENGTH, ["elbo 90"], FLOW, HOT), '"elbow 90"'),
        (lambda: pressure_drop_through([], FLOW, HOT), "at least one"),
        (lambda: pressure_drop_through("legs", FLOW, HOT), "at least one"),
        (lambda: pressure_drop_through([(HALF, LENGTH)], FLOW, HOT), "(pipe, length, fittings) is needed"),
        (lambda: flow_through(None, MAIN, UP, HOT), "at least one"),
        (
            lambda: pressure_drop(HALF, LENGTH, (), Q_(np.ones(2), "L/min"), Q_(np.ones(3), "degC")),
            "do not fit together",
        ),
        (lambda: flow_at(HALF, Q_(np.ones(2), "m"), (), Q_(np.ones(3), "kPa"), UP, HOT), "do not fit together"),
        (lambda: hazen_williams(HALF, LENGTH, FLOW, 500), "Hazen-Williams C: 500 was given"),
        (lambda: hazen_williams(HALF, LENGTH, FLOW, "150"), "Hazen-Williams C: 150 was given"),
        (lambda: speed_limit("lead", HOT), "pipe material"),
    ],
)
def test_other_refusals(call, says):
    with pytest.raises(InputError) as caught:
        call()
    assert says in str(caught.value)


def test_no_flow_loses_no_pressure():
    assert kilopascal(pressure_drop(HALF, LENGTH, ["tap"], Q_(0, "L/min"), HOT)) == 0
    assert speed(HALF, Q_(0, "L/min")).magnitude == 0
