"""Topic 04: heat loss per length of bare and covered pipes, against handbook tables and textbook examples.

Textbook examples 0.1 %, handbook tables 4 to 5 % once their hidden assumption is matched. They hide one each
(emissivity, outside film); it is stated beside the row. Water film and, where the pipe is metal, the wall are neglected
by all of them. Where the emissivity is not stated 20 %: two such tables lie 15 % apart. A conservative design table,
about twice the loss, 50 %, with the side on which we must lie; a rule of thumb for pipes of every size 50 %. A rule in
the trade's round units 1 %.
"""

from dataclasses import dataclass

import numpy as np
import pytest
from scipy.constants import Stefan_Boltzmann

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings
from lessons_lib.physics.heat_loss import Air, Section, heat_loss
from lessons_lib.physics.properties import air as air_properties
from lessons_lib.physics.properties import water

QUOTED = "as quoted in secondary literature"
ROOM = Surroundings(Q_(70, "degF"))
PER_FOOT = "Btu/(hour*ft)"


def metal_pipe(outside, inside, emissivity) -> Pipe:
    """A steel pipe by its diameters [in]."""
    return Pipe(
        "steel",
        Q_(inside, "in"),
        Q_(outside, "in"),
        Q_(50, "W/(m*K)"),
        Q_(0.05, "mm"),
        Q_(7850, "kg/m**3"),
        Q_(460, "J/(kg*K)"),
        emissivity,
    )


def loss_per_foot(pipe, insulation, water, surroundings=ROOM) -> float:
    """Btu/(h ft) of a run; water in degF."""
    return Run(pipe, Q_(1, "ft"), insulation, surroundings).heat_loss(Q_(water, "degF")).to(PER_FOOT).magnitude


@dataclass(frozen=True)
class FixedFilm:
    """Surroundings with a constant coefficient [W/(m2 K)], as textbook examples have them."""

    temperature: float  # [degC]
    coefficient: float

    def heat_from(self, surface, section):
        slope = np.pi * section.outside_of_insulation * self.coefficient
        return slope * (surface - self.temperature), slope


NO_FILM = 1e9  # [W/(m2 K)] a surface at the air's own temperature


def layer(pipe_outside, thickness, conductivity) -> Section:
    """Insulation on a pipe whose wall is left out."""
    one_value = (np.zeros(1), np.array([conductivity]))
    return Section(pipe_outside, pipe_outside, 1.0, 0.9, pipe_outside, pipe_outside + 2 * thickness, one_value, 0.9)


STEEL = f"Heating Ventilating Air Conditioning Guide 1941, Table 6, {QUOTED}"
BARE_STEEL = [  # outside, inside [in], water [degF], Btu/(h ft degF)
    (0.84, 0.622, 120, 0.455),
    (0.84, 0.622, 150, 0.495),
    (0.84, 0.622, 180, 0.546),
    (1.05, 0.824, 120, 0.555),
    (1.05, 0.824, 150, 0.605),
    (1.315, 1.049, 120, 0.684),
    (1.315, 1.049, 150, 0.743),
    (1.66, 1.38, 120, 0.847),
    (1.66, 1.38, 150, 0.919),
    (1.66, 1.38, 180, 1.014),
]


@pytest.mark.parametrize("outside, inside, water, published", BARE_STEEL)
def test_bare_steel(agree, outside, inside, water, published):
    """Emissivity 0.8, oxidised steel. 5 %, as for handbook tables."""
    computed = loss_per_foot(metal_pipe(outside, inside, 0.8), Insulation.none(), water) / (water - 70)
    agree(computed, published, STEEL, relative=0.05)


BRIGHT = f"Heating Ventilating Air Conditioning Guide 1941, Table 7, bright copper, {QUOTED}"


@pytest.mark.parametrize("size, published", [("1 in", 0.29), ("1 1/4 in", 0.34)])
def test_bright_copper(agree, size, published):
    """Emissivity 0.03, polished. The table lies below still-air convection alone (Churchill and Chu), so 20 %."""
    computed = loss_per_foot(Pipe.nominal("copper L", size), Insulation.none(emissivity=0.03), 120) / 50
    agree(computed, published, BRIGHT, relative=0.20)
    assert computed > published


CLASSIC = f'classic plumbing-engineering table "140 F piping to 70 F air", {QUOTED}'
SERVICE = "ASHRAE Handbook-HVAC Applications, Service Water Heating, Table 2, from memory"
COPPER_140 = [  # size, Btu/(h ft) at 140 degF in air of 70 degF
    ("1/2 in", 19, CLASSIC),
    ("3/4 in", 26, CLASSIC),
    ("1 in", 32, CLASSIC),
    ("1 1/4 in", 39, CLASSIC),
    ("3/4 in", 30, SERVICE),
    ("1 in", 38, SERVICE),
    ("1 1/4 in", 45, SERVICE),
]


@pytest.mark.parametrize("size, published, source", COPPER_140)
def test_bare_copper_at_140_degf(agree, size, published, source):
    """The library's own dull copper, emissivity 0.44. The two tables lie 15 % apart, so 20 % for either."""
    agree(loss_per_foot(Pipe.nominal("copper L", size), Insulation.none(), 140), published, source, relative=0.20)


def test_emissivity_of_dull_copper_lies_between_the_tables():
    """0.44 is where the two tables are met on average, as data/pipe_materials.csv says."""
    ratios = [
        loss_per_foot(Pipe.nominal("copper L", size), Insulation.none(), 140) / published
        for size, published, _ in COPPER_140
    ]
    assert 1.05 > np.mean(ratios) > 0.95


@pytest.mark.parametrize("size, published", [("1/2 in", 15), ("3/4 in", 17), ("1 1/4 in", 21)])
def test_covered_copper_at_140_degf(agree, size, published):
    """A conservative design table: about twice the loss of 1/2 in with k = 0.25 Btu in/(h ft2 degF), never less."""
    cover = Insulation("glass fibre", Q_(0.5, "in"), conductivity=Q_(0.25, "Btu*inch/(hour*ft**2*delta_degF)"))
    computed = loss_per_foot(Pipe.nominal("copper L", size), cover, 140)
    agree(computed, published, f"{CLASSIC}, insulated", relative=0.5)
    assert computed < published


def test_rule_of_thumb_for_a_loop(agree):
    computed = loss_per_foot(Pipe.nominal("copper L", "3/4 in"), Insulation.none(), 140)
    agree(computed, 30, f"USACE ETL 1110-3-489 (1998) par. 4.b(5), {QUOTED}", relative=0.5)


FREEZE_TABLE = f"Facility Piping Systems Handbook (2009) Table 5.3, {QUOTED}"


@pytest.mark.parametrize(
    "outside, difference, published",
    [
        (0.84, 50, 2.5),
        (1.05, 50, 2.9),
        (1.315, 50, 3.5),
        (1.05, 100, 6.1),
        (1.315, 100, 7.2),
        (1.66, 100, 8.6),
    ],
)
def test_freeze_protection_table(agree, outside, difference, published):
    """1/2 in of the handbook's own glass fibre, pure conduction: the table has no outside film.

    It prints 0.25 Btu in/(h ft2 degF) for a mean temperature of 50 degF; the library's is 12 % lower (test_insulation.py), so the handbook's
    is taken here, rising as ASTM C547 does. Pipes stand in air of 25 degF, so that the 50 degF column has the table's mean temperature of 50 degF and the
    100 degF column, 25 degF warmer in the middle, its higher conductivity. 4 %: watts per foot are printed to 0.1.
    """
    fibre = (
        np.array([10.0, 93.3]),
        Q_(np.array([0.25, 0.31]), "Btu*inch/(hour*ft**2*delta_degF)").to("W/(m*K)").magnitude,
    )
    inch = 0.0254
    section = Section(outside * inch, outside * inch, 1.0, 0.9, outside * inch, (outside + 1) * inch, fibre, 0.9)
    air, pipe = (Q_(value, "degF").to("degC").magnitude for value in (25, 25 + difference))
    loss, _ = heat_loss(section, FixedFilm(air, NO_FILM), pipe)
    agree(Q_(loss, "W/m").to("W/ft").magnitude, published, FREEZE_TABLE, relative=0.04)


HOLMAN = f"Holman, Example 2-5, {QUOTED}"


@pytest.mark.parametrize("thickness, published", [(0.17 / 3 - 0.025, 105.739), (0.0, 84.823)], ids=["critical", "bare"])
def test_holman_critical_radius(agree, thickness, published):
    """5 cm pipe at 200 degC, k = 0.17, h = 3: covering it to the critical radius raises the loss by a quarter."""
    loss, _ = heat_loss(layer(0.05, thickness, 0.17), FixedFilm(20.0, 3.0), 200.0)
    agree(loss, published, HOLMAN, relative=1e-3)


INCROPERA = f"Incropera and DeWitt, Example 3.5, {QUOTED}"


@pytest.mark.parametrize(
    "millimetres, published",
    [
        (0, 6.3662),
        (5, 5.18888),
        (6, 5.17531),
        (10, 5.30115),
        (40, 7.06552),
    ],
)
def test_incropera_resistances(agree, millimetres, published):
    """10 mm tube, k = 0.055, h = 5: total resistance per length."""
    loss, _ = heat_loss(layer(0.010, millimetres / 1000, 0.055), FixedFilm(0.0, 5.0), 60.0)
    agree(60.0 / loss, published, INCROPERA, relative=1e-3)


def test_incropera_critical_radius(agree):
    """The loss peaks where the outer radius is k/h."""
    radii = np.arange(0.005, 0.020, 1e-5)
    losses, _ = heat_loss(layer(0.010, radii - 0.005, 0.055), FixedFilm(0.0, 5.0), np.full(radii.shape, 60.0))
    agree(radii[np.argmax(losses)], 0.011, INCROPERA, absolute=1.1e-5)


@pytest.mark.parametrize("emissivity, radiant", [(0.44, 20.0), (0.9, 20.0), (0.9, -10.0)])
def test_radiation_of_a_surface(emissivity, radiant):
    """What an emissivity adds at one surface temperature is eps sigma pi D (T^4 - T_r^4), sigma from scipy (CODATA)."""
    mirror = Section(0.02, 0.022, 340.0, 0.0, 0.022, 0.022, (np.zeros(1), np.ones(1)), 0.0)
    grey = Section(0.02, 0.022, 340.0, emissivity, 0.022, 0.022, (np.zeros(1), np.ones(1)), emissivity)
    around = Air(20.0, 2.0, radiant)
    added = around.heat_from(55.0, grey)[0] - around.heat_from(55.0, mirror)[0]
    law = emissivity * Stefan_Boltzmann * np.pi * 0.022 * (328.15**4 - (radiant + 273.15) ** 4)
    assert added == pytest.approx(law, rel=1e-6)


def loose(bore, sealed=True) -> Section:
    """19 mm of foam, k 0.04, around a 22 mm pipe of emissivity 0.44."""
    foam = np.zeros(1), np.array([0.04])
    return Section(0.02, 0.022, 340.0, 0.44, bore, bore + 0.038, foam, 0.93, gap_sealed=sealed)


def test_sealed_gap_is_conduction_and_radiation():
    """9 mm of still air at 60 degC between pipe and foam, written out: grey concentric cylinders, linearised."""
    ratio, kelvin = 40 / 22, 333.15
    conduction = 2 * np.pi * air_properties(60.0).conductivity / np.log(ratio)
    exchange = 1 / (1 / 0.44 + (1 / 0.93 - 1) / ratio)
    radiation = np.pi * 0.022 * exchange * 4 * Stefan_Boltzmann * kelvin**3
    assert loose(0.040).gap_resistance(60.0) == pytest.approx(1 / (conduction + radiation), rel=1e-6)


def test_sealed_gap_is_never_better_than_foam():
    """A narrow gap would insulate better than foam does: taken as foam. No gap, or an open one: nothing."""
    assert loose(0.024).gap_resistance(10.0) == pytest.approx(np.log(24 / 22) / (2 * np.pi * 0.04), rel=1e-12)
    assert loose(0.022).gap_resistance(60.0) == 0
    assert loose(0.024, sealed=False).gap_resistance(60.0) == 0


def test_circulation_flow(agree):
    """q = 500 (gpm) (degF) in the trade's units: 10 000 Btu/h at 20 degF need 1 US gal/min of water at 60 degF."""
    at = water(Q_(60, "degF").to("degC").magnitude)
    heat, drop = Q_(10_000, "Btu/hour").to("W").magnitude, 20 / 1.8
    flow = Q_(heat / (at.density * at.heat_capacity * drop), "m**3/s")
    agree(flow.to("gpm").magnitude, 1.0, f"USACE ETL 1110-3-489 Eq. (4-IP), {QUOTED}", relative=0.01)
