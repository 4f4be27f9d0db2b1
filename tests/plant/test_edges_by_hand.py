"""Rules of the trade at their edges: what just keeps a rule, what just does not, and the numbers between, by hand.

Figures of codes and standards are those of the tables of data/ and of tests/published, whose sources stand there; what
is worked out here are the sums on them.
"""

from math import sqrt

import numpy as np
import pytest
import second_path

from lessons_lib import Q_, Pipe
from lessons_lib.plant import discharge as drain
from lessons_lib.plant import hammer as knock
from lessons_lib.plant import joints, metals, scale
from lessons_lib.plant import mixing_valve as mixing
from lessons_lib.plant import plastic_limits as plastic
from lessons_lib.plant.closed_system import give_and_growth, trapped_pressure_rise, vessel, vessel_pressure
from lessons_lib.plant.pressure_test import pressure_test
from lessons_lib.plant.purge import FAST_ENOUGH, TOO_SLOW, purge_legs
from lessons_lib.plant.supports import fall
from lessons_lib.plant.take_off import cutting_list
from lessons_lib.plant.tank import CANNOT_HOLD, HOLDS, USUAL_LEAST, USUAL_USABLE, mixing_valve, recovery
from lessons_lib.quantities.display import SI, US
from lessons_lib.quantities.errors import InputError

COPPER = Pipe.nominal("copper L", "1/2 in")  # 13.843 mm in 15.875 mm


# --- a relief valve's discharge pipe


def drained(region, outlet, step, length=1.0, elbows=0, fall=1.0, end=50.0, straight=300.0):
    return drain.discharge(
        region, outlet, step, Q_(length, "m"), elbows, Q_(fall, "percent"), Q_(end, "mm"), Q_(straight, "mm")
    )


@pytest.mark.parametrize(
    "region, outlet, step, elbows, allowed",
    [
        ("United States", "3/4 in", 0, 4, 9.144),  # 30 ft
        ("United States", "3/4 in", 0, 5, 0.0),
        ("Europe", "1/2 in", 1, 3, 4.0),
        ("Europe", "1/2 in", 1, 4, 0.0),
        ("United Kingdom", "1/2 in", 1, 11, 0.2),  # 9 - 11 x 0.8
        ("United Kingdom", "1/2 in", 1, 12, 0.0),  # never below nothing
        ("United Kingdom", "1 in", 3, 5, 15.5),  # 27 - 5 x 2.3
    ],
)
def test_how_long_a_discharge_pipe_may_be(region, outlet, step, elbows, allowed):
    found = drained(region, outlet, step, elbows=elbows)
    assert found.allowed.to("m").magnitude == pytest.approx(allowed, abs=1e-9)
    for length, word in ((allowed, drain.FITS), (allowed + 0.001, drain.TOO_SMALL)):
        assert drained(region, outlet, step, length, elbows).size == word


@pytest.mark.parametrize(
    "length, elbows, needed", [(16.0, 2, "28 mm"), (16.1, 2, "35 mm"), (24.3, 2, ""), (8.0, 1, "22 mm")]
)
def test_the_first_size_that_would_do(length, elbows, needed):
    """18 - 2 x 1.0 = 16 m of 28 mm; 27 - 2 x 1.4 = 24.2 m of 35 mm, the table's last."""
    assert drained("United Kingdom", "1/2 in", 1, length, elbows).needed == needed


@pytest.mark.parametrize(
    "region, outlet, step, end, word",
    [
        ("Europe", "1/2 in", 0, 19.99, drain.NO_GAP),
        ("Europe", "1/2 in", 0, 20.0, drain.SEEN),
        ("Europe", "1/2 in", 0, 40.0, drain.SEEN),
        ("Europe", "1/2 in", 0, 40.01, drain.SPLASHES),
        ("United Kingdom", "1/2 in", 1, 0.0, drain.NO_GAP),  # it touches
        ("United Kingdom", "1/2 in", 1, 0.1, drain.SEEN),
        ("United Kingdom", "1/2 in", 1, 100.0, drain.SEEN),
        ("United Kingdom", "1/2 in", 1, 100.01, drain.SPLASHES),
        ("United States", "3/4 in", 0, 38.1, drain.SEEN),  # twice 3/4 in
        ("United States", "3/4 in", 0, 38.0, drain.NO_GAP),
        ("United States", "3/4 in", 1, 50.7, drain.NO_GAP),  # twice the pipe's 1 in, not the outlet's 3/4 in
        ("United States", "3/4 in", 1, 50.8, drain.SEEN),
        ("United States", "1 in", 1, 63.4, drain.NO_GAP),  # twice 1 1/4 in
        ("United States", "1 in", 1, 63.5, drain.SEEN),
    ],
)
def test_how_its_end_may_hang(region, outlet, step, end, word):
    assert drained(region, outlet, step, end=end).end == word


def test_sizes_beside_the_table():
    assert drained("United Kingdom", "1/2 in", 0).size == drain.NOT_IN_TABLE
    assert drained("United Kingdom", "1/2 in", 4).size == drained("Europe", "1 in", 2).size == drain.WIDER
    assert drain.across("1 1/4 in") == pytest.approx(0.03175) and drain.across("22 mm") == pytest.approx(0.022)


def test_how_it_falls_and_bends():
    uk = "United Kingdom", "1/2 in", 1
    assert drained(*uk, fall=0.5).way == drained(*uk, straight=300.0).way == drain.DRAINS
    assert drained(*uk, fall=0.499).way == drain.STANDS and drained(*uk, straight=299.9).way == drain.BEND_TOO_SOON
    assert drained("Europe", "1/2 in", 0, fall=0.1, straight=0.0).way == drain.DRAINS
    assert drained("Europe", "1/2 in", 0, fall=0.0).way == drain.STANDS


# --- a mixing valve between its inlets

(EN_1111,) = [one for one in mixing.valve_classes() if one.name == "EN 1111"]


def commissioned(hot, cold, share=0.6, flow=8.0, inlets=mixing.CHECKED, valve=EN_1111):
    kilopascals = Q_(hot, "kPa"), Q_(cold, "kPa")
    return mixing.commission(valve, *kilopascals, share, Q_(flow, "L/min"), Q_(25, "L/min"), inlets)


@pytest.mark.parametrize(
    "hot, cold, word",
    [
        (300, 150, mixing.EVEN),  # two to one, as makers' sheets usually ask
        (301, 150, mixing.UNEVEN),
        (150, 301, mixing.UNEVEN),
        (50, 100, mixing.EVEN),
        (49.9, 60, mixing.OUTSIDE),  # EN 1111: 50 to 500 kPa
        (500, 400, mixing.EVEN),
        (400, 500.1, mixing.OUTSIDE),
    ],
)
def test_pressures_at_the_inlets(hot, cold, word):
    found = commissioned(hot, cold, flow=1.0)
    assert found.pressures == word and found.ratio == pytest.approx(max(hot, cold) / min(hot, cold))


def test_what_a_valve_takes_and_lets_across():
    """8 L/min through 25 L/min at 1 bar: (8/25)^2 = 0.1024 bar. Across, two ports in a row, with 1.8 bar between."""
    even = commissioned(300, 300)
    assert even.takes.magnitude == pytest.approx(10.24, rel=1e-6) and even.outlet.magnitude == pytest.approx(289.76)
    assert even.hot_port == pytest.approx(0.6, rel=1e-6) and even.crossing.magnitude == 0
    crossed = commissioned(380, 200, inlets=mixing.PLAIN)
    port = crossed.hot_port
    in_a_row = port * (1 - port) / sqrt(port**2 + (1 - port) ** 2)
    assert crossed.crossing.magnitude == pytest.approx(25 * in_a_row * sqrt(1.8), rel=1e-6)
    assert crossed.takes.magnitude == pytest.approx(200 - crossed.outlet.magnitude)
    assert commissioned(200, 300, inlets=mixing.PLAIN).crossing.magnitude > 0
    # what passes each port, by its own drop: 0.6 x 8 through the hot one, 0.4 x 8 through the other
    outlet = crossed.outlet.magnitude
    assert port * 25 * sqrt((380 - outlet) / 100) == pytest.approx(4.8, rel=1e-5)
    assert (1 - port) * 25 * sqrt((200 - outlet) / 100) == pytest.approx(3.2, rel=1e-5)


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_all_hot_or_all_cold_has_one_port_wide_open(share):
    found = commissioned(300, 300, share=share, inlets=mixing.PLAIN)
    assert found.hot_port == pytest.approx(share, abs=1e-6) and found.takes.magnitude == pytest.approx(10.24, rel=1e-5)
    assert commissioned(300, 299, share=0.0, inlets=mixing.PLAIN).crossing.magnitude == pytest.approx(0, abs=1e-3)


def test_so_much_and_no_more():
    """At 100 kPa all is used up by 25 L/min."""
    assert commissioned(100, 100, flow=24.9).flow == mixing.PASSED
    assert commissioned(100, 100, flow=25.1).flow == mixing.CANNOT_PASS


@pytest.mark.parametrize(
    "hot, setting, flow, word",
    [
        (60.0, 30.0, 6.0, HOLDS),
        (60.0, 29.9, 6.0, CANNOT_HOLD),
        (75.0, 60.0, 6.0, HOLDS),
        (75.0, 60.1, 6.0, CANNOT_HOLD),
        (56.0, 46.0, 4.0, HOLDS),
        (55.9, 46.0, 4.0, CANNOT_HOLD),
        (56.0, 46.0, 3.99, CANNOT_HOLD),
    ],
)
def test_a_valve_at_the_ends_of_its_makers_figures(hot, setting, flow, word):
    least = {"least_difference": Q_(10, "delta_degC"), "least_flow": Q_(4, "L/min")}
    ends = {"lowest": Q_(30, "degC"), "highest": Q_(60, "degC")}
    found = mixing_valve(Q_(hot, "degC"), Q_(8, "degC"), Q_(setting, "degC"), Q_(flow, "L/min"), **least, **ends)
    assert found.word == word and found.hottest.magnitude == pytest.approx(setting if word == HOLDS else hot)


def test_a_valve_without_a_makers_range_takes_all():
    least = {"least_difference": Q_(0, "delta_degC"), "least_flow": Q_(0, "L/min")}
    for setting in (0.0, 99.0):
        assert mixing_valve(Q_(99, "degC"), Q_(0, "degC"), Q_(setting, "degC"), Q_(1, "L/min"), **least).word == HOLDS


# --- plastic, joints, metals


@pytest.mark.parametrize(
    "name, degrees, kilopascals, word",
    [
        ("PE-X, class 2, 10 bar", 70.0, 1000, plastic.WITHIN),
        ("PE-X, class 2, 10 bar", 70.1, 1000, plastic.FOR_A_TIME),
        ("PE-X, class 2, 10 bar", 60.0, 1000.1, plastic.ABOVE),
        ("PE-X, class 2, 10 bar", 95.0, 1000, plastic.FOR_A_TIME),
        ("PE-X, class 2, 10 bar", 95.1, 10, plastic.ABOVE),
        ("PE-X, class 4, 10 bar", 60.1, 1000, plastic.FOR_A_TIME),
        ("PE-X, class 5, 10 bar", 80.0, 1000, plastic.WITHIN),
        ("PE-X, class 5, 10 bar", 100.1, 10, plastic.ABOVE),
        ("PP-R, class 2, 8 bar", 70.0, 800.1, plastic.ABOVE),
        ("PEX (ASTM F876)", 93.3, 551, plastic.WITHIN),  # 200 degF, 80 psi
        ("PEX (ASTM F876)", 93.4, 1, plastic.ABOVE),
    ],
)
def test_a_plastic_pipe_at_the_edges_of_its_rating(name, degrees, kilopascals, word):
    assert plastic.plastic_limit(name, Q_(degrees, "degC"), Q_(kilopascals, "kPa")).word == word


@pytest.mark.parametrize(
    "name, degrees, told",
    [
        ("PE-X, class 2, 10 bar", 80.0, "1 year of 50"),
        ("PE-X, class 2, 10 bar", 80.1, "100 h of 50 years"),
        ("PE-X, class 4, 10 bar", 70.0, "2.5 years of 50"),
    ],
)
def test_for_how_long_it_may_be_so_warm(name, degrees, told):
    assert told in plastic.plastic_limit(name, Q_(degrees, "degC"), Q_(400, "kPa")).reason


def test_a_rating_between_two_temperatures():
    """PEX halfway between 73 and 180 degF, 126.5 degF: halfway between 160 and 100 psi."""
    found = plastic.plastic_limit("PEX (ASTM F876)", Q_(126.5, "degF"), Q_(1, "psi"))
    assert found.allowed.to("psi").magnitude == pytest.approx(130, rel=1e-6)


@pytest.mark.parametrize(
    "metal, word",
    [
        (Q_(18, "inch"), plastic.METAL_ENOUGH),
        (Q_(450, "mm"), plastic.METAL_ENOUGH),  # 18 in as metric codes round it
        (Q_(448, "mm"), plastic.TOO_NEAR),
        (Q_(1, "mm"), plastic.TOO_NEAR),
        (Q_(0, "mm"), plastic.DIRECT),
    ],
)
def test_metal_between_heater_and_plastic(metal, word):
    assert plastic.heater_word(metal) == word


def test_a_joint_between_two_ratings():
    """Compression, EN 1254-2: 16 bar at 30 degC and 10 bar at 65 degC, so 13 bar at 47.5 degC; nothing above 110 degC."""
    kind = joints.joint_kind("compression")
    for degrees, kilopascals in ((10, 1600), (30, 1600), (47.5, 1300), (65, 1000), (87.5, 800)):
        assert kind.limit(Q_(degrees, "degC"), joints.EN_SIDE).magnitude == pytest.approx(kilopascals)
    for pressure, word in ((1300, joints.WITHIN), (1300.1, joints.BEYOND)):
        assert kind.rated(Q_(47.5, "degC"), Q_(pressure, "kPa"), joints.EN_SIDE) == word
    push = joints.joint_kind("push")  # BS 7291 class S: to 83 degC
    assert push.rated(Q_(83, "degC"), Q_(600, "kPa"), joints.EN_SIDE) == joints.WITHIN
    assert push.rated(Q_(83.1, "degC"), Q_(1, "kPa"), joints.EN_SIDE) == joints.TOO_HOT
    assert kind.rated(Q_(60, "degC"), Q_(600, "kPa"), joints.US_SIDE) == joints.NOT_STATED


@pytest.mark.parametrize(
    "up, down, joint, degrees, apart, eaten, words",
    [
        # copper -0.36 V, brass -0.40 V: no more than 0.15 V apart
        ("copper", "brass", "screwed straight together", 20, 0.04, "", (metals.ALIKE, metals.CARRIES_NOTHING)),
        ("copper", "steel", "screwed straight together", 20, 0.25, "steel", (metals.EATEN, metals.CARRIED)),
        ("steel", "copper", "brass between", 20, 0.25, "steel", (metals.SLOWED, metals.CARRIES_NOTHING)),
        ("steel", "copper", "dielectric union", 20, 0.25, "steel", (metals.PARTED, metals.CARRIES_NOTHING)),
        ("galvanised steel", "plastic", "plastic between", 60, 0.0, "", (metals.ALIKE, metals.ZINC_TURNS)),
        ("plastic", "galvanised steel", "plastic between", 59.9, 0.0, "", (metals.ALIKE, metals.CARRIES_NOTHING)),
        (
            "stainless steel",
            "steel",
            "screwed straight together",
            20,
            0.53,
            "steel",
            (metals.EATEN, metals.CARRIES_NOTHING),
        ),
    ],
)
def test_two_metals(up, down, joint, degrees, apart, eaten, words):
    """Volts of the galvanic series taken from each other; the lower one is eaten; copper is carried downstream only."""
    found = metals.together(up, down, joint, Q_(float(degrees), "degC"))
    assert found.apart.magnitude == pytest.approx(apart) and found.eaten == eaten
    assert (found.joint, found.carried) == words


@pytest.mark.parametrize(
    "up, down, joint, brass, bonding",
    [
        ("copper", "steel", "screwed straight together", metals.NO_BRASS, metals.BONDED),
        ("copper", "steel", "brass between", metals.MARKED_BRASS, metals.BONDED),
        ("brass", "steel", "dielectric union", metals.MARKED_BRASS, metals.INTERRUPTED),
        ("steel", "brass", "screwed straight together", metals.MARKED_BRASS, metals.BONDED),
        ("plastic", "steel", "screwed straight together", metals.NO_BRASS, metals.INTERRUPTED),
        ("steel", "plastic", "screwed straight together", metals.NO_BRASS, metals.INTERRUPTED),
    ],
)
def test_brass_and_bonding(up, down, joint, brass, bonding):
    """Metal goes through unless a part, or one of the two, conducts nothing; brass anywhere may lose its zinc."""
    found = metals.together(up, down, joint, Q_(20.0, "degC"))
    assert (found.brass, found.bonding) == (brass, bonding)


def test_a_brass_nipple_is_six_inches():
    assert metals.metal_joint("brass between").length == pytest.approx(6 * 0.0254)


# --- pressures


def test_the_words_of_a_blow_and_a_tap():
    """150 and 400 psi, 1034.2 and 2757.9 kPa; a tap as fast as the wave counts as fast."""
    peaks = ((1034.2, knock.SOFT), (1034.3, knock.HAMMERS), (2757.9, knock.HAMMERS), (2758.0, knock.HARD))
    assert [knock.peak_word(Q_(peak, "kPa")) for peak, _ in peaks] == [word for _, word in peaks]
    assert knock.closing_word(0.03, 0.03) == knock.FASTER and knock.closing_word(0.0301, 0.03) == knock.SLOWER
    letters = [knock.arrestor_size(units).letter for units in (1, 11, 12, 32, 33, 60, 61, 113, 114, 154, 155, 330)]
    assert "".join(letters) == "AABBCCDDEEFF"


def test_a_blow_by_hand():
    """Joukowsky, density times wave times speed, the wave by Korteweg from CoolProp's water and Lame's wall that can't lengthen."""
    flow, bore, outside = 10 / 60_000, 0.013843, 0.015875
    found = knock.hammer(COPPER, Q_(10, "L/min"), Q_(15, "m"), Q_(5, "ms"), Q_(400, "kPa"), Q_(15, "degC"))
    square = (outside / bore) ** 2
    give = 2 * 1.34 / 117e9 * (square + 1 - 0.68) / (square - 1)
    density = second_path.water(15.0)[0]
    squeezes = second_path.PropsSI("ISOTHERMAL_COMPRESSIBILITY", "T", 288.15, "P", 300_000, "Water")
    wave, speed = 1 / sqrt(density * (squeezes + give)), flow / (np.pi / 4 * bore**2)
    assert found.speed.magnitude == pytest.approx(speed, rel=1e-6)
    assert found.wave.magnitude == pytest.approx(wave, rel=1e-3)
    assert found.rise.to("Pa").magnitude == pytest.approx(density * wave * speed, rel=1e-3)
    assert found.there_and_back.magnitude == pytest.approx(30 / wave, rel=1e-3)
    assert found.peak.magnitude == pytest.approx(400 + found.rise.magnitude)
    cold = knock.hammer(COPPER, Q_(10, "L/min"), Q_(15, "m"), Q_(5, "ms"), Q_(400, "kPa"))
    assert cold.wave == found.wave, "the main's water is taken at 15 degC unless told"


def test_a_vessel_on_a_mountain():
    """Air of 70 kPa: (370/470 - 370/770) of the vessel takes up 3 L between 400 and 700 kPa; pre-charge 300 kPa."""
    pressures = {"precharge": Q_(300, "kPa"), "cold": Q_(400, "kPa"), "atmosphere": Q_(70, "kPa")}
    found = vessel(Q_(3, "L"), highest=Q_(700, "kPa"), **pressures)
    assert found.volume.magnitude == pytest.approx(3 / (370 / 470 - 370 / 770))
    assert found.acceptance == pytest.approx(1 - 370 / 770)
    assert found.reserve.magnitude == pytest.approx(found.volume.magnitude * (1 - 370 / 470))
    assert vessel_pressure(found.volume, Q_(3, "L"), **pressures).magnitude == pytest.approx(700)


def test_a_pressure_test_by_hand():
    """Content pi/4 d^2 L; the work that is let go, half of what is squeezed and stretched times the pressure."""
    found = pressure_test(
        COPPER, Q_(20, "m"), Q_(600, "kPa"), Q_(20, "degC"), Q_(0, "delta_degC"), Q_(15, "min"), Q_(0, "mL/min")
    )
    content = np.pi / 4 * 0.013843**2 * 20
    squeezes = second_path.PropsSI("ISOTHERMAL_COMPRESSIBILITY", "T", 293.15, "P", 300_000, "Water")
    assert found.content.to("m**3").magnitude == pytest.approx(content)
    assert found.energy.magnitude == pytest.approx(
        0.5 * (squeezes + give_and_growth(COPPER)[0]) * 6e5**2 * content, rel=1e-3
    )
    assert found.times.to("min").magnitude[[0, -1]] == pytest.approx([0, 15])
    assert found.gauge.magnitude == pytest.approx(600) and found.by_temperature.magnitude == pytest.approx(600)


@pytest.mark.parametrize("warmed", [1.0, -1.0])
def test_a_degree_in_a_pressure_test(warmed):
    """What the water grows by more than the pipe, over what both give; without a leak the gauge ends where that says."""
    found = pressure_test(
        COPPER, Q_(20, "m"), Q_(600, "kPa"), Q_(20, "degC"), Q_(warmed, "delta_degC"), Q_(15, "min"), Q_(0, "mL/min")
    )
    middle = 293.15 + warmed / 2
    grows, squeezes = (
        second_path.PropsSI(name, "T", middle, "P", 700_000, "Water")
        for name in ("ISOBARIC_EXPANSION_COEFFICIENT", "ISOTHERMAL_COMPRESSIBILITY")
    )
    give, growth = give_and_growth(COPPER)
    by_hand = warmed * (grows - 3 * growth) / (squeezes + give) / 1000
    assert found.by_temperature.magnitude - 600 == pytest.approx(by_hand, rel=0.02)
    assert found.gauge.magnitude[-1] == pytest.approx(found.by_temperature.magnitude)
    assert found.per_degree.magnitude * warmed == pytest.approx(by_hand, rel=0.05)


@pytest.mark.parametrize(
    "start, warmed, possible", [(5, -4.5, True), (5, -4.51, False), (90, 9, True), (90, 9.01, False)]
)
def test_a_pressure_test_ends_in_water(start, warmed, possible):
    asked = (
        COPPER,
        Q_(20, "m"),
        Q_(600, "kPa"),
        Q_(start, "degC"),
        Q_(warmed, "delta_degC"),
        Q_(15, "min"),
        Q_(0, "mL/min"),
    )
    if possible:
        assert pressure_test(*asked).content.magnitude > 0
    else:
        with pytest.raises(InputError, match="freezes or is close to boiling"):
            pressure_test(*asked)


def test_air_in_a_pressure_test():
    """p V/0.4 (1 - (p0/p)^(2/7)), absolute: what air gives when a pipe lets go."""
    still = Q_(20, "degC"), Q_(0, "delta_degC"), Q_(15, "min"), Q_(0, "mL/min")
    found = pressure_test(COPPER, Q_(20, "m"), Q_(345, "kPa"), *still, air=1.0)
    absolute, content = 345_000 + 101_325, np.pi / 4 * 0.013843**2 * 20
    by_hand = absolute * content / 0.4 * (1 - (101_325 / absolute) ** (2 / 7))
    assert found.energy.magnitude == pytest.approx(by_hand, rel=1e-6)


def test_what_is_taken_unless_told():
    """Trapped water at 300 kPa without air; 0.7 of a tank; 10 K and 4 L/min for a mixing valve (common practice, no source)."""
    warmed = Q_(20, "degC"), Q_(10, "delta_degC")
    told = trapped_pressure_rise(*warmed, pressure=Q_(300, "kPa"), air=0.01)
    assert trapped_pressure_rise(*warmed, air=0.01).rise == told.rise
    assert trapped_pressure_rise(*warmed).rise == trapped_pressure_rise(*warmed, air=0.0).rise > told.rise
    assert USUAL_USABLE == 0.7
    power, rise = Q_(4.5, "kW"), Q_(45, "delta_degC")
    assert recovery(power, rise) == recovery(power, rise, cold=Q_(10, "degC"), efficiency=1.0)
    assert [USUAL_LEAST[name] for name in ("least_difference", "least_flow")] == [Q_(10, "delta_degC"), Q_(4, "L/min")]


def test_pressures_that_a_vessel_cannot_have():
    """A pre-charge a little above the cold pressure, or a highest pressure that is no higher: nothing takes up the water."""
    kilopascals = [Q_(value, "kPa") for value in (300, 300.1)]
    with pytest.raises(InputError, match="pre-charge"):
        vessel(Q_(3, "L"), kilopascals[1], Q_(600, "kPa"), cold=kilopascals[0])
    with pytest.raises(InputError, match="highest pressure"):
        vessel(Q_(3, "L"), kilopascals[0], kilopascals[0])
    assert vessel(Q_(3, "L"), kilopascals[0], Q_(600, "kPa"), cold=kilopascals[0]).reserve.magnitude == pytest.approx(0)


# --- water


@pytest.mark.parametrize(
    "milligrams, word",
    [
        (60, "soft"),
        (60.1, "moderately hard"),
        (120, "moderately hard"),
        (120.1, "hard"),
        (180, "hard"),
        (180.1, "very hard"),
    ],
)
def test_how_hard_water_is_called(milligrams, word):
    """Durfor and Becker (1964), as quoted in secondary literature."""
    assert scale.hardness_word(milligrams) == word


def test_the_harder_the_water_the_more_care_it_asks_for():
    """Soft water asks for none, very hard water for the most (common practice, no source)."""
    grave = [scale.hardness_word(milligrams).gravity for milligrams in (20, 60, 61, 121, 181, 500)]
    assert grave == sorted(grave) and grave[0] == grave[1] == 0 and grave[-1] == grave[-2] == 2


def test_hardness_as_waterworks_state_it():
    """300 mg/L: 16.8 German, 30 French, 21.05 English degrees."""
    assert scale.degrees(300, SI) == "17 °dH, 30 °f, 21 °e" and scale.degrees(300, US) == "300 mg/L (ppm)"


def test_a_leg_is_flushed_by_hand():
    """20 mm and 10 m: 3.1416 L. At 0.6 m/s 11.31 L/min; three changes take 50 s."""
    legs = purge_legs(Q_(20, "mm"), Q_(10, "m"), Q_(11.31, "L/min"))
    assert legs.volume.magnitude == pytest.approx(3.1416, rel=1e-4) and legs.word == FAST_ENOUGH
    assert legs.least_flow.magnitude == pytest.approx(11.3097, rel=1e-4)
    assert legs.time.to("s").magnitude == pytest.approx(50, rel=1e-3)
    assert purge_legs(Q_(20, "mm"), Q_(10, "m"), Q_(11.30, "L/min")).word == TOO_SLOW


def test_a_pipe_that_drains():
    """A hundredth of its length: 10 mm in a metre, about 1/8 in in a foot (common practice, no source)."""
    assert fall(Q_(1, "m")).magnitude == pytest.approx(10)
    assert fall(Q_(1, "ft")).to("inch").magnitude == pytest.approx(1 / 8, rel=0.05)


@pytest.mark.parametrize(
    "name, suits",
    [
        ("solder", "copper"),
        ("cement", "CPVC"),
        ("crimp", "PEX multilayer"),
        ("expansion", "PEX"),
        ("press", "copper, stainless steel"),
    ],
)
def test_which_pipe_a_joint_is_for(name, suits):
    """Solder wets copper, cement melts CPVC, a crimp ring squeezes soft pipe, only PEX shrinks back (common practice)."""
    kind = joints.joint_kind(name)
    for material in ("copper", "PEX", "CPVC", "multilayer", "stainless steel", "PB"):
        assert kind.suits(material) == (joints.SUITS if material in suits else joints.OTHER_PIPE), material


def test_a_range_in_the_other_unit_has_the_same_ends():
    """86 and 140 degF are 30 and 60 degC, though a float may leave a little of them."""
    least = {"least_difference": Q_(0, "delta_degC"), "least_flow": Q_(0, "L/min")}
    ends = {"lowest": Q_(86, "degF"), "highest": Q_(140, "degF")}
    for setting in (30.0, 60.0):
        found = mixing_valve(Q_(75, "degC"), Q_(8, "degC"), Q_(setting, "degC"), Q_(6, "L/min"), **least, **ends)
        assert found.word == HOLDS


def test_a_spare_of_exactly_one_bar_is_one_bar():
    """Ten bars cut whole by a wheel, a tenth in hand: eleven to buy; a hair more asks for a twelfth."""
    whole = [(Q_(3, "m"), 10)]
    for spare, bars in ((0.1, 11), (0.1001, 12), (0.0, 10)):
        assert cutting_list(whole, Q_(3, "m"), Q_(0, "mm"), spare).bars_to_buy == bars
