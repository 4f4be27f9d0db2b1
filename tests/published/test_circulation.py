"""Topic 16: water that goes round by a pump or by itself, against published laws, tables and worked examples.

The law of natural circulation takes one density and one viscosity for a loop: 2 % while it is laminar and the water
cools by a few kelvin, 4 % where it is turbulent, for Blasius's friction is itself 2 to 3 % from Churchill's. Densities
stand in tables to 0.01 kg/m3, and what pushes is their difference: 0.5 %. A handbook's push for each metre is rounded to
three figures: 1 %. The trade's 500 Btu/h is cold water's, 1.7 % from water at 60 degC: 3 %. The rule of 11 and 7 W/m is
rounded to whole watts: 10 %. A textbook's three pipes are printed to three figures: 1 %.
"""

import CoolProp.CoolProp as CoolProp
import numpy as np
import pytest
from iapws import IAPWS97

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings
from lessons_lib.lessons.hot_water_that_comes_back.going_round import flow_that_holds
from lessons_lib.lessons.hot_water_that_comes_back.returns import HIGHEST, LOWEST, of_source
from lessons_lib.physics import circulation, network, pressure, thermosiphon
from lessons_lib.physics.properties import Water

QUOTED, MEMORY = "as quoted in secondary literature", "from memory"
GRAVITY = 9.80665


def loop(bore: float, length: float, height: float, unit: float, tank: float, air: float) -> thermosiphon.Loop:
    """Two lines without loss and a unit, high above a tank whose ports lie together: source and sink are points."""
    leg = pressure.FlowLeg(bore, 0.0, length, 0.0)
    hot = thermosiphon.Way(((0.0, 0.0), (length, height)), 0.0, leg)
    cold = thermosiphon.Way(((0.0, height), (length, 0.0)), 0.0, leg)
    return thermosiphon.Loop(hot, cold, unit, tank, air)


VIJAYAN = (
    "Vijayan, Nuclear Engineering and Design 215 (2002) 139: Re = C (Gr_m/N_G)^r, Gr_m = D^3 rho^2 beta g Q H/"
    f"(A mu^3 cp), N_G = L/D, {MEMORY}"
)
LOOPS = [  # bore, length of each line, height [m], unit [W/K], tank, air [degC], C, r, tolerance
    (0.0200, 8.0, 2.5, 1.0, 60, 10, 0.1768, 0.5, 0.02),
    (0.0200, 8.0, 2.5, 2.0, 60, -10, 0.1768, 0.5, 0.02),
    (0.0130, 6.0, 3.0, 0.5, 50, 0, 0.1768, 0.5, 0.02),
    (0.0100, 12.0, 4.0, 0.3, 65, 5, 0.1768, 0.5, 0.02),
    (0.0260, 20.0, 2.0, 1.0, 55, 10, 0.1768, 0.5, 0.02),
    (0.0160, 5.0, 1.0, 0.2, 60, 20, 0.1768, 0.5, 0.02),
    (0.0500, 8.0, 6.0, 300.0, 60, 10, 1.96, 1 / 2.75, 0.04),
    (0.0700, 10.0, 5.0, 500.0, 65, 0, 1.96, 1 / 2.75, 0.04),
    (0.0400, 6.0, 5.0, 200.0, 70, 10, 1.96, 1 / 2.75, 0.04),
    (0.1000, 12.0, 4.0, 800.0, 60, 0, 1.96, 1 / 2.75, 0.04),
]


@pytest.mark.parametrize("bore, length, height, unit, tank, air, c, r, within", LOOPS)
def test_natural_circulation(agree, bore, length, height, unit, tank, air, c, r, within):
    found = thermosiphon.circulates(loop(bore, length, height, unit, tank, air))
    middle, area = 0.5 * (tank + found.leaves) + 273.15, 0.25 * np.pi * bore**2
    density, viscosity, capacity, beta = (
        CoolProp.PropsSI(name, "T", middle, "P", 3e5, "Water")
        for name in ("D", "V", "C", "ISOBARIC_EXPANSION_COEFFICIENT")
    )
    grashof = bore**3 * density**2 * beta * GRAVITY * found.watts * height / (area * viscosity**3 * capacity)
    reynolds = found.mass_flow * bore / (area * viscosity)
    assert (reynolds < 2000) == (r == 0.5)
    agree(reynolds, c * (grashof / (2 * length / bore)) ** r, VIJAYAN, relative=within)


KELL = f"Kell, J. Chem. Eng. Data 20 (1975) 97, density of water at 1 atm, {MEMORY}"
DENSITIES = {5: 999.97, 10: 999.70, 20: 998.20, 30: 995.65, 40: 992.22, 50: 988.04, 60: 983.20, 70: 977.77}
PAIRS = [(60, 5), (60, 10), (60, 20), (50, 10), (50, 30), (70, 5), (70, 40), (40, 20)]


def push(warm: float, cool: float) -> float:
    """What drives a loop 1 m high whose unit cools the water right down to the air [Pa]."""
    return float(thermosiphon.driving(loop(0.02, 5.0, 1.0, 1e6, warm, cool), np.array([0.01]))[0])


@pytest.mark.parametrize("warm, cool", PAIRS)
def test_push_of_a_metre_from_printed_densities(agree, warm, cool):
    agree(push(warm, cool), GRAVITY * (DENSITIES[cool] - DENSITIES[warm]), KELL, relative=0.005)


@pytest.mark.parametrize("warm, cool", PAIRS)
def test_push_of_a_metre_from_the_industrial_formulation(agree, warm, cool):
    light, heavy = (1 / IAPWS97(T=value + 273.15, P=0.3).v for value in (warm, cool))
    agree(push(warm, cool), GRAVITY * (heavy - light), "IAPWS-IF97, computed with iapws", relative=0.005)


@pytest.mark.parametrize("warm, cool, printed", [(90, 70, 122.4), (80, 60, 111.8), (95, 70, 155.6)])
def test_push_of_gravity_heating(agree, warm, cool, printed):
    """Pa for each metre between flow and return, as handbooks of gravity heating print it in mm of water: 12.48, 11.40
    and 15.87.
    """
    agree(push(warm, cool), printed, f"handbooks of gravity heating, mm of water for each m, {MEMORY}", relative=0.01)


@pytest.mark.parametrize("bore, flow, temperature", [(0.02, 0.01, 60), (0.01, 0.004, 40), (0.013, 0.002, 20)])
def test_friction_of_slow_water(agree, bore, flow, temperature):
    """Hagen and Poiseuille's law, 128 mu L Q/(pi d^4), in both lines; flow in kg/s."""
    water = IAPWS97(T=temperature + 273.15, P=0.3)
    printed = 128 * water.mu * 20.0 * flow * water.v / (np.pi * bore**4)
    found = float(thermosiphon.friction(loop(bore, 10.0, 1.0, 0.0, temperature, temperature), flow))
    agree(found, printed, "Hagen-Poiseuille, viscosity computed with iapws", relative=0.005)


TRADE = "Btu/h = 500 x gpm x degF, common practice, no source"


def runs(thickness: float, length: float, air: float) -> tuple:
    around = Surroundings(Q_(air, "degC"))
    foam = Insulation("elastomeric foam", Q_(thickness, "mm"))
    return tuple(
        Run(Pipe.nominal("copper EN 1057", size), Q_(length, "m"), foam, around) for size in ("22 mm", "15 mm")
    )


@pytest.mark.parametrize("drop", [2.0, 5.0, 8.0, 11.0])
def test_flow_of_a_return(agree, drop):
    """The loss at the middle temperature, over the trade's 500 and the drop."""
    supply, back = runs(13.0, 24.0, 18.0)
    middle = Q_(60 - 0.5 * drop, "degC")
    lost = sum(
        run.heat_loss(middle).to("Btu/(hour*ft)").magnitude * run.length.to("ft").magnitude for run in (supply, back)
    )
    found = Q_(flow_that_holds(supply, back, 60.0, drop).flow, "m**3/s").to("gpm").magnitude
    agree(found, lost / (500 * 1.8 * drop), TRADE, relative=0.03)


@pytest.mark.parametrize("place, air, watts", [("cellar", 10.0, 11.0), ("shaft", 25.0, 7.0)])
def test_loss_of_a_well_covered_return(agree, place, air, watts):
    """DVGW W 553's shorthand: 11 W/m in a cellar, 7 W/m in a shaft; here in foam as thick as the bore, halfway between
    60 and 55 degC.
    """
    pipe = runs(20.0, 1.0, air)[0]
    source = f"DVGW W 553 (1998), {place}, {MEMORY}"
    agree(pipe.heat_loss(Q_(57.5, "degC")).to("W/m").magnitude, watts, source, relative=0.1)


@pytest.mark.parametrize("kv", [1.0, 2.5, 6.3])
def test_kv_is_the_flow_at_one_bar(agree, kv):
    hole = float(circulation.valve_hole(1.0, kv))
    agree(
        3600 * np.sqrt(2 * 1e5 / (1000 * hole)), kv, "IEC 60534-1: m3/h of water at 1 bar, from memory", relative=1e-9
    )


def test_cv_of_the_same_valve(agree):
    """US gallons a minute at 1 psi: 1.156 for each m3/h at 1 bar."""
    hole = float(circulation.valve_hole(1.0, 1.0))
    flow = np.sqrt(2 * Q_(1, "psi").to("Pa").magnitude / (1000 * hole))
    found = Q_(flow, "m**3/s").to("gpm").magnitude
    agree(found, 1.156, f"Cv = 1.156 Kv, IEC 60534-1, {MEMORY}", relative=0.001)


@pytest.mark.parametrize(
    "opening, share", [(0.0, 2.0), (0.2, 4.37), (0.5, 14.14), (0.8, 45.7), (0.9, 67.6), (1.0, 100.0)]
)
def test_equal_percentage(agree, opening, share):
    """Per cent of the open valve's Kv, rangeability 50."""
    ratio = np.sqrt(circulation.valve_hole(1.0, 2.5) / circulation.valve_hole(opening, 2.5))
    agree(100 * float(ratio), share, f"IEC 60534-2-4, R^(x-1) with R = 50, {MEMORY}", relative=0.002)


def three_pipes():
    """White's three pipes side by side, as branches of a tree [m3/h]."""
    length, bore = np.array([100.0, 150.0, 80.0]), np.array([0.08, 0.06, 0.04])
    rough = np.array([0.24e-3, 0.12e-3, 0.20e-3])
    legs = pressure.FlowLeg(bore, rough, length, np.zeros(3))
    water = Water(density=1000.0, viscosity=1.02e-3, conductivity=0.6, heat_capacity=4180.0)
    found = network.solve(legs, np.eye(3), np.zeros(3), np.full(3, 1e-3), 1000 * 9.81 * 20.3, water)
    return 3600 * found.tap_flow


@pytest.mark.parametrize("place, printed", [(0, 62.5), (1, 25.9), (2, 11.4)])
def test_three_branches_share_a_head(agree, place, printed):
    source = f"White, Fluid Mechanics, example on three pipes in parallel with 20.3 m of head, m3/h, {MEMORY}"
    agree(three_pipes()[place], printed, source, relative=0.01)


@pytest.mark.parametrize(
    "found, printed, source",
    [
        (lambda: of_source("Germany: large systems"), 55.0, f"DVGW W 551 (2004): 60 degC less 5 K, {QUOTED}"),
        (lambda: of_source("United Kingdom"), 50.0, f"HSG274 Part 2 (2014), {QUOTED}"),
        (lambda: of_source("World Health Organization"), 50.0, f"WHO (2007), {QUOTED}"),
        (lambda: HIGHEST, 55.0, f"HSG274 Part 2 (2014), health care, {QUOTED}"),
        (lambda: LOWEST, (120 - 32) / 1.8, f"CDC, 120 degF, {MEMORY}"),
    ],
)
def test_returns_of_guidance(agree, found, printed, source):
    agree(found(), printed, source, absolute=0.02)
