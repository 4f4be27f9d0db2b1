"""Topics 09 and 14: cooling and freezing of standing water against published equations and their worked values.

The published forms leave out the wall, the film or the ice's own resistance; stand-in surroundings leave them out here
too, so that each comparison is of the same thing. Closed forms 0.1 %; 1 % where the published form takes round numbers
for the density and heat capacity of water; 3 % for handbook rows printed to 0.1 h.
"""

from dataclasses import dataclass
from operator import attrgetter

import numpy as np
import pytest
import resolved
from scipy.linalg import eigh

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings
from lessons_lib.physics import cooling, freezing
from lessons_lib.physics.heat_loss import Section
from lessons_lib.physics.line import Line, heat_capacity, heat_taken_along
from lessons_lib.physics.properties import water
from lessons_lib.quantities.units import DENSITY, HEAT_CAPACITY, to_base

QUOTED = "as quoted in secondary literature"
INCH, NO_FILM = 0.0254, 1e9
TRADE_K = Q_(1, "Btu*inch/(hour*ft**2*delta_degF)").to("W/(m*K)").magnitude


@dataclass(frozen=True)
class FixedFilm:
    """Surroundings with a constant coefficient on the outer surface [W/(m2 K)]."""

    temperature: float  # [degC]
    coefficient: float

    @property
    def radiant(self):
        return self.temperature

    def heat_from(self, surface, section):
        slope = np.pi * section.outside_of_insulation * self.coefficient
        return slope * (surface - self.temperature), slope


@dataclass(frozen=True)
class FixedConductance(FixedFilm):
    """Surroundings that take U (T - T_air) per metre; `coefficient` is that linear U [W/(m K)]."""

    def heat_from(self, surface, section):
        return self.coefficient * (surface - self.temperature), self.coefficient


@dataclass(frozen=True)
class FixedLoss(FixedFilm):
    """Surroundings that take the same heat whatever stands between; `coefficient` is that heat [W/m]."""

    def heat_from(self, surface, section):
        return self.coefficient, 1.0


def section(inside, outside, thickness=0.0, conductivity=1.0, wall_conductivity=1e9) -> Section:
    """A pipe without wall resistance under a layer, dimensions in metres."""
    one_value = (np.zeros(1), np.array([conductivity]))
    return Section(inside, outside, wall_conductivity, 0.9, outside, outside + 2 * thickness, one_value, 0.9)


def water_alone(line: Line) -> cooling.Standing:
    """Only the water holds heat."""
    return cooling.Standing(line, 0.0, 0.0)


def celsius(fahrenheit):
    return (fahrenheit - 32) / 1.8


ASHRAE = f"ASHRAE Handbook-Fundamentals 2009 ch. 23, table, {QUOTED}"
EQUATION = "ASHRAE Handbook-Fundamentals 2009 ch. 23 Eq. (1), computed with the published equation"
STEEL = {"1/2": (0.622, 0.84), "3/4": (0.824, 1.05), "1": (1.049, 1.315), "2": (2.067, 2.375)}  # inside, outside [in]
COPPER = {"1/2 L": (0.545, 0.625), "3/4 L": (0.785, 0.875)}
COOLING = [  # pipe, insulation [in], k, from, air [degF], hours to 32 degF, tolerance
    ("2", 1.5, 0.30, 42, -18, 1.4, 0.03, ASHRAE),
    ("2", 1.5, 0.30, 42, 20, 4.6, 0.03, ASHRAE),
    ("1/2", 0.5, 0.30, 42, -18, 0.119838, 0.01, EQUATION),
    ("1/2", 1.0, 0.30, 42, -18, 0.186172, 0.01, EQUATION),
    ("1/2", 1.5, 0.30, 42, -18, 0.232276, 0.01, EQUATION),
    ("1/2", 2.0, 0.30, 42, -18, 0.267648, 0.01, EQUATION),
    ("3/4", 0.5, 0.30, 42, -18, 0.17945, 0.01, EQUATION),
    ("3/4", 1.0, 0.30, 42, -18, 0.286012, 0.01, EQUATION),
    ("3/4", 1.5, 0.30, 42, -18, 0.362072, 0.01, EQUATION),
    ("3/4", 2.0, 0.30, 42, -18, 0.421259, 0.01, EQUATION),
    ("1", 0.5, 0.30, 42, -18, 0.24585, 0.01, EQUATION),
    ("1", 1.0, 0.30, 42, -18, 0.401925, 0.01, EQUATION),
    ("1", 1.5, 0.30, 42, -18, 0.516527, 0.01, EQUATION),
    ("1", 2.0, 0.30, 42, -18, 0.607132, 0.01, EQUATION),
    ("2", 0.5, 0.30, 42, -18, 0.593076, 0.01, EQUATION),
    ("2", 1.0, 0.30, 42, -18, 1.03107, 0.01, EQUATION),
    ("2", 1.5, 0.30, 42, -18, 1.3785, 0.01, EQUATION),
    ("2", 2.0, 0.30, 42, -18, 1.66647, 0.01, EQUATION),
    ("1/2 L", 0.5, 0.28, 120, 20, 1.39693, 0.01, EQUATION),
    ("1/2 L", 0.5, 0.28, 50, 0, 0.294035, 0.01, EQUATION),
    ("3/4 L", 0.5, 0.28, 120, 20, 2.31164, 0.01, EQUATION),
    ("3/4 L", 0.5, 0.28, 50, 0, 0.486568, 0.01, EQUATION),
]


@pytest.mark.parametrize(
    "pipe, inches, k, start, air, hours, tolerance, source",
    COOLING,
    ids=[f"{row[0]} in, {row[1]} in, {row[3]} in {row[4]} degF, {row[7][:6]} {row[5]}" for row in COOLING],
)
def test_time_to_cool_to_freezing(agree, pipe, inches, k, start, air, hours, tolerance, source):
    """Film and wall neglected. 1 %: the equation takes 62.4 lb/ft3 and 1 Btu/(lb degF), 0.6 % from the water's own."""
    inside, outside = (value * INCH for value in (STEEL | COPPER)[pipe])
    line = Line.of(section(inside, outside, inches * INCH, k * TRADE_K), FixedFilm(celsius(air), NO_FILM))
    seconds = cooling.time_to(water_alone(line), celsius(start), 0.0)
    agree(float(seconds) / 3600, hours, source, relative=tolerance)


ICE_AGAINST_WATER = 917 / 999.84
"""The library takes the latent heat of the bore's volume of ice (as ISO 12241 does), Plank's rows that of water."""
PLANK = "Plank (1913), cylinder; from memory, content checked by computation"
LONDON = "London and Seban, Trans. ASME 65 (1943) 771; from memory, content checked by computation"
FREEZING = [  # bore [m], r/R of the water left, h at the bore [W/(m2 K)], degrees below zero, seconds
    (0.013843, 0.0, 20, 10, 5948.52, PLANK),
    (0.019939, 0.0, 20, 10, 8682.13, PLANK),
    (0.019939, 0.0, 20, 20, 4341.07, PLANK),
    (0.019939, 0.0, 5, 10, 33609.1, PLANK),
    (0.019939, 0.9, 20, 10, 1585.92, LONDON),
    (0.019939, 0.7, 20, 10, 4297.46, LONDON),
    (0.019939, 0.5, 20, 10, 6382.28, LONDON),
    (0.019939, 0.2, 20, 10, 8286.81, LONDON),
]


@pytest.mark.parametrize("bore, left, coefficient, below, seconds, source", FREEZING)
def test_ice_ring(agree, bore, left, coefficient, below, seconds, source):
    """Quasi-steady growth through ice and film, no wall. 0.1 %: the same closed form, integrated."""
    line = Line.of(section(bore, bore), FixedFilm(-float(below), float(coefficient)))
    computed = freezing.seconds_from_zero(line, 1 - left**2) / ICE_AGAINST_WATER
    agree(float(computed), seconds, source, relative=1e-3)


ISO_ICE = "ISO 12241, freezing time of an ice fraction, f rho pi D^2 L/(4 q); from memory, checked by computation"


def test_ice_fraction_of_iso_12241(agree):
    """A quarter of a 20 mm bore at 2 W/m: 3.352 h with 920 kg/m3 and 334 kJ/kg, the library's ice scaled to that."""
    line = Line.of(section(0.020, 0.020), FixedLoss(-10.0, 2.0))
    scaled = freezing.seconds_from_zero(line, 0.25) * (920 * 334_000) / freezing.LATENT_HEAT_OF_VOLUME
    agree(float(scaled) / 3600, 3.3519, ISO_ICE, relative=1e-3)


@pytest.mark.parametrize("share", [0.1, 0.25, 0.5])
def test_iso_12241_is_a_bound_from_below(share):
    """Without the ice's own resistance the heat flow stays what it was at the start, so that ice comes sooner."""
    run = Run(
        Pipe.nominal("copper L", "3/4 in"), Q_(1, "m"), Insulation.none(), Surroundings(Q_(-10, "degC"), Q_(5, "m/s"))
    )
    at_zero = float(run.line.loss(0.0)[0])
    bore = 0.25 * np.pi * run.line.inside_diameter**2
    without_ice = share * freezing.LATENT_HEAT_OF_VOLUME * bore / at_zero
    ours = float(freezing.seconds_from_zero(run.line, share))
    assert without_ice < ours < 1.5 * without_ice


def test_cooling_with_wall_of_iso_12241(agree):
    """3/4 in type L from 12 degC in -10 degC at 0.20 W/(m K): 1.718 h for the water's and the copper's heat together."""
    pipe = Pipe.nominal("copper L", "3/4 in")
    inside, outside = pipe.inside_diameter.to("m").magnitude, pipe.outside_diameter.to("m").magnitude
    line = Line.of(section(inside, outside), FixedConductance(-10.0, 0.20))
    wall = to_base(pipe.density, DENSITY) * to_base(pipe.heat_capacity, HEAT_CAPACITY)
    seconds = cooling.time_to(cooling.Standing(line, wall, 0.0), 12.0, 0.0)
    agree(float(seconds) / 3600, 1.71835, "ISO 12241 exponential form, computed with the formula", relative=0.01)


@pytest.mark.parametrize("biot, fourier", [(0.1, 5.0), (0.05, 10.0)])
def test_lumped_cooling(agree, biot, fourier):
    """(T - T_air)/(T_0 - T_air) = exp(-Bi Fo), over a few kelvin so that the heat capacity is one value."""
    line = Line.of(section(0.02, 0.02), FixedConductance(20.0, 0.5))
    at = water(24.0)
    time_constant = np.pi * 0.01**2 * at.density * at.heat_capacity / 0.5
    curve = cooling.curve(water_alone(line), 25.0, np.array([0.0, biot * fourier * time_constant]))
    agree((curve[-1] - 20) / 5, 0.606531, "exp(-Bi Fo), computed with the formula", relative=1e-3)


@pytest.mark.parametrize("size, published", [("1/2 in", 1.2636), ("3/4 in", 1.2028)])
def test_heat_capacity_of_wall_against_water(agree, size, published):
    """1 + wall/water of type L copper at 60 degC: by this much a hot front lags behind the water."""
    run = Run(Pipe.nominal("copper L", size), Q_(1, "m"), Insulation.none(), Surroundings(Q_(20, "degC")))
    at, cut = water(60.0), run.line.section
    water_heat = at.density * at.heat_capacity
    factor = heat_capacity(cut, water_heat, run.wall_density_heat) / heat_capacity(cut, water_heat, 0.0)
    agree(float(factor), published, "energy balance, computed with geometry and handbook copper", relative=0.01)


RAYLEIGH = "slowest mode of the resolved pipe, computed with scipy.linalg.eigh"


@pytest.mark.parametrize(
    "thickness, wall_conductivity, film",
    [
        (0.019, 1e4, 8.0),
        (0.040, 1e4, 10.0),
        (0.009, 0.41, 8.0),
        (0.019, 0.41, 30.0),
        (0.0, 0.41, 50.0),
        (0.0, 340.0, 8.0),
    ],
)
def test_heat_taken_along(agree, thickness, wall_conductivity, film):
    """The rate at which water, wall and insulation cool together, from the eigenvalue of 400 shells. 1 %: the method is of first
    order, and errs to the quick side; the plain integral of the profile is 3 to 17 % off under foam."""
    cut, wall_heat, foam_heat, water_heat = (
        section(0.0145, 0.0201, thickness, 0.05, wall_conductivity),
        2.2e6,
        8.4e4,
        4.15e6,
    )
    conductance, (share,) = Line.of(cut, FixedFilm(20.0, film)).conductance(50.0, 20.0)
    ours = conductance / heat_taken_along(cut, 50.0, 20.0, share, water_heat, wall_heat, foam_heat)
    edges = np.linspace(0.0145, 0.0201, 101) / 2
    if thickness:
        edges = np.r_[edges, np.linspace(0.0201, 0.0201 + 2 * thickness, 301)[1:] / 2]
    wall = np.arange(len(edges) - 1) < 100
    conductivity, inner, outer = np.where(wall, wall_conductivity, 0.05), edges[:-1], edges[1:]
    middle = 0.5 * (inner + outer)
    resistance = (
        np.r_[0.0, np.log(outer / middle) / conductivity / (2 * np.pi)]
        + np.r_[np.log(middle / inner) / conductivity / (2 * np.pi), 0.0]
    )
    resistance[-1] += 1 / (film * 2 * np.pi * edges[-1])
    held = np.r_[water_heat * np.pi * 0.00725**2, np.pi * (outer**2 - inner**2) * np.where(wall, wall_heat, foam_heat)]
    links = 1 / resistance
    matrix = np.diag(np.r_[0.0, links[:-1]] + links) - np.diag(links[:-1], 1) - np.diag(links[:-1], -1)
    slowest = eigh(matrix, np.diag(held), eigvals_only=True, subset_by_index=(0, 0))[0]
    agree(float(ours), slowest, RAYLEIGH, relative=0.01)
    assert ours > slowest * (1 - 1e-4)


@pytest.mark.parametrize(
    "family, size, insulation, heat, thickness",
    [
        ("copper L", "3/4 in", "elastomeric foam", 60 * 1400, 19),
        ("copper L", "1/2 in", "mineral wool", 100 * 840, 40),
        ("PEX CTS", "3/8 in", "elastomeric foam", 60 * 1400, 40),
        ("PEX CTS", "1/2 in", "elastomeric foam", 60 * 1400, 9),
    ],
)
def test_cooling_curve_against_resolved_insulation(agree, family, size, insulation, heat, thickness):
    """tests/resolved.py shares no code with the library. 1 % of the 40 K from the air: that is the first minutes of 40 mm
    of foam on the smallest pipe, which one mode does not show."""
    cover = Insulation(insulation, Q_(thickness, "mm"), conductivity=Q_(0.04, "W/(m*K)"))
    run = Run(Pipe.nominal(family, size), Q_(1, "m"), cover, Surroundings(Q_(20, "degC")))
    cut = run.line.section
    rings = resolved.Rings(
        cut.inside_diameter,
        cut.outside_diameter,
        cut.outside_diameter + 0.002 * thickness,
        (cut.wall_conductivity, run.wall_density_heat),
        (0.04, heat),
        20.0,
        0.93,
    )
    read = resolved.standing(rings, 60.0, 10_800, 900)[:, 0]
    ours = np.interp(
        np.arange(0, 10_801, 900),
        *(one.magnitude for one in attrgetter("time", "temperature")(run.cooling(Q_(60, "degC"), Q_(3, "h")))),
    )
    for mine, theirs in zip(ours[1:], read[1:]):
        agree(
            mine,
            theirs,
            "insulation resolved in 30 shells, implicit finite volumes, tests/resolved.py",
            absolute=0.01 * 40,
        )


def test_half_life_and_insulation_heat():
    """The half-life is the time to halfway to rest; the insulation's own heat makes a curve slower, never a freeze verdict."""
    cover = Insulation("elastomeric foam", Q_(25, "mm"))
    run = Run(Pipe.nominal("copper L", "3/4 in"), Q_(1, "m"), cover, Surroundings(Q_(-10, "degC")))
    curve = run.cooling(Q_(60, "degC"), Q_(8, "h"))
    assert curve.half_life.magnitude == pytest.approx(curve.time_to(Q_(25, "degC")).magnitude)
    to_zero = run.freezing(Q_(60, "degC")).hours_to_zero.to("s").magnitude
    at_rest = Run(run.pipe, run.length, cover, Surroundings(Q_(20, "degC"))).cooling(Q_(20, "degC"), Q_(1, "h"))
    assert np.isinf(at_rest.half_life.magnitude)
    assert 1.01 < curve.time_to(Q_(0, "degC")).to("s").magnitude / to_zero < 1.2
