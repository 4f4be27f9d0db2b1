"""The physics' own laws over 100 000 random runs of the slider box: bounds, monotony, energy balance.

Seeded, so a failure repeats. Laws of the heat loss run on all cases; those of the flow, which cost more, on a part.
"""

from dataclasses import replace

import numpy as np
import pytest

from lessons_lib.physics import cooling, freezing
from lessons_lib.physics.convection import inside_resistance, reynolds_number
from lessons_lib.physics.delivery import deliver
from lessons_lib.physics.heat_loss import Air, Section, heat_loss, surface_at_rest
from lessons_lib.physics.line import Line
from lessons_lib.physics.properties import water
from lessons_lib.quantities.units import Q_
from lessons_lib.runs.insulation import Insulation, materials
from lessons_lib.storage import tables

CASES = 10_000
every_seed = pytest.mark.parametrize("seed", range(10))  # 10 x 10 000 runs
few_seeds = pytest.mark.parametrize("seed", range(2))
CONVERGED = 2e-6  # [K] two answers that each stand to 1e-6 K
PROMISED = 0.01  # [K] accuracy of the delivery temperature

PIPES = tables.rows("pipes")
MATERIALS = {row["material"]: row for row in tables.rows("pipe_materials")}
METRE = {"in": 0.0254, "mm": 0.001}
OUTSIDE = np.array([float(row["outside_diameter"]) * METRE[row["unit"]] for row in PIPES])
INSIDE = OUTSIDE - np.array([2 * float(row["wall"]) * METRE[row["unit"]] for row in PIPES])
WALL_K = np.array([float(MATERIALS[row["material"]]["conductivity"]) for row in PIPES])


def random_section(rng, count, bare=0.3, loose=0.3) -> Section:
    """Every pipe of the table under 0 to 50 mm of one insulation, some of it too wide, of any emissivity."""
    pipe = rng.integers(len(PIPES), size=count)
    thickness = np.where(rng.random(count) < bare, 0.0, rng.uniform(0, 0.05, count))
    wider = np.where((rng.random(count) < loose) & (thickness > 0), rng.uniform(0, 0.01, count), 0.0)
    bore = OUTSIDE[pipe] + wider
    own, covering = rng.uniform(0.03, 0.95, (2, count))
    material = Insulation(materials()[rng.integers(len(materials()))], Q_(10, "mm"))
    return Section(
        INSIDE[pipe],
        OUTSIDE[pipe],
        WALL_K[pipe],
        own,
        bore,
        bore + 2 * thickness,
        material.conductivity_at,
        np.where(thickness > 0, covering, own),
    )


def random_air(rng, count, sky=0.5) -> Air:
    """-30 to 40 degC, a third of it calm, in part radiating to something up to 20 K colder."""
    temperature = rng.uniform(-30, 40, count)
    wind = np.where(rng.random(count) < 0.33, 0.0, rng.uniform(0, 15, count))
    return Air(temperature, wind, temperature - np.where(rng.random(count) < sky, rng.uniform(0, 20, count), 0.0))


def random_flow(rng, count):
    """Supply [degC], flow [m3/s], length [m]."""
    return rng.uniform(40, 80, count), rng.uniform(0.5, 20, count) / 60_000, rng.uniform(1, 60, count)


def at(rng, low, high, count=CASES):
    return rng.uniform(low, high, count)


@every_seed
def test_surface_lies_between_water_and_surroundings(seed):
    rng = np.random.default_rng(seed)
    section, air, inside = random_section(rng, CASES), random_air(rng, CASES), at(rng, 0, 99)
    loss, surface = heat_loss(section, air, inside)
    rest = surface_at_rest(section, air)
    assert np.all(np.isfinite(loss)) and np.all(np.isfinite(surface))
    assert np.all(surface >= np.minimum(inside, rest) - CONVERGED)
    assert np.all(surface <= np.maximum(inside, rest) + CONVERGED)
    apart = np.abs(inside - rest) > PROMISED
    assert np.all((loss > 0)[apart] == (inside > rest)[apart]), "heat flows from warm to cold"
    assert np.all(rest >= np.minimum(air.temperature, air.radiant) - CONVERGED)
    assert np.all(rest <= np.maximum(air.temperature, air.radiant) + CONVERGED)


@every_seed
def test_the_solved_surface_closes_the_heat_balance(seed):
    """The heat that comes through the resistances is the heat that leaves the surface."""
    rng = np.random.default_rng(seed)
    section, air, inside = random_section(rng, CASES, bare=0.0), random_air(rng, CASES), at(rng, 0, 99)
    loss, surface = heat_loss(section, air, inside)
    mean = 0.5 * (inside + surface)
    resistance = section.wall_resistance + section.gap_resistance(inside) + section.insulation_resistance(mean)
    assert np.allclose(loss, (inside - surface) / resistance, rtol=1e-5, atol=1e-4)
    assert np.allclose(loss, air.heat_from(surface, section)[0], rtol=1e-5, atol=1e-4)


@every_seed
def test_hotter_water_never_loses_less(seed):
    """Standing, and flowing where it is warmer than the air: the film only thins as water gets hotter. Water that is colder
    gains more where its film thins at once, as from laminar to turbulent flow."""
    rng = np.random.default_rng(seed)
    section, air = random_section(rng, CASES), random_air(rng, CASES)
    cooler = at(rng, 0, 98)
    hotter = cooler + at(rng, 0, 1) * (99 - cooler)
    flow = at(rng, 0.5, 20) / 60_000

    def film(temperature):
        properties = water(temperature)
        return inside_resistance(section.inside_diameter, properties, flow * properties.density)

    warm = cooler >= air.temperature
    for extra, holds in ((lambda temperature: 0.0, np.ones(CASES, dtype=bool)), (film, warm)):
        less, _ = heat_loss(section, air, cooler, extra(cooler))
        more, _ = heat_loss(section, air, hotter, extra(hotter))
        assert holds.sum() > CASES / 2 and np.all((more >= less - 1e-4)[holds])


@every_seed
def test_more_wind_never_loses_less_where_nothing_colder_shines(seed):
    """With the radiant temperature the air's own. Under a cold sky the surface can be colder than the air, and wind
    then warms it: see the next law, which holds always."""
    rng = np.random.default_rng(seed)
    section, air = random_section(rng, CASES), random_air(rng, CASES, sky=0)
    inside = air.temperature + at(rng, 0, 99 + 30)
    calmer, _ = heat_loss(section, air, inside)
    windier, _ = heat_loss(section, replace(air, wind=air.wind + at(rng, 0, 10)), inside)
    assert np.all(windier >= calmer - 1e-4)


@every_seed
def test_more_wind_brings_the_surface_nearer_to_the_air(seed):
    rng = np.random.default_rng(seed)
    section, air, inside = random_section(rng, CASES), random_air(rng, CASES), at(rng, 0, 99)
    _, calmer = heat_loss(section, air, inside)
    _, windier = heat_loss(section, replace(air, wind=air.wind + at(rng, 0, 10)), inside)
    assert np.all(np.abs(windier - air.temperature) <= np.abs(calmer - air.temperature) + CONVERGED)


@every_seed
def test_thicker_insulation_never_loses_more_beyond_the_critical_radius(seed):
    """Beyond k/h, h the whole outside coefficient there."""
    rng = np.random.default_rng(seed)
    section, air = random_section(rng, CASES, bare=0.0), random_air(rng, CASES, sky=0)
    inside = np.minimum(air.temperature + at(rng, 5, 90), 99)
    thin, surface = heat_loss(section, air, inside)
    perimeter = np.pi * section.outside_of_insulation
    outside_coefficient = thin / perimeter / (surface - air.temperature)
    critical = section.conductivity(0.5 * (inside + surface)) / outside_coefficient
    thicker = replace(section, outside_of_insulation=section.outside_of_insulation + at(rng, 0, 0.05))
    thick, _ = heat_loss(thicker, air, inside)
    beyond = 0.5 * section.outside_of_insulation >= critical
    assert np.mean(beyond) > 0.9
    assert np.all(thick[beyond] <= thin[beyond] + 1e-4)


@pytest.mark.parametrize("emissivity, raises", [(0.03, True), (0.8, False)], ids=["bright", "oxidised"])
def test_thin_foam_can_raise_the_loss_of_bright_copper(emissivity, raises):
    """3 mm of polyethylene foam on 12 mm tube in still air: foam radiates, bright copper does not. The model shows it."""
    conductivity = np.zeros(1), np.array([0.055])
    bare = Section(0.010, 0.012, 340.0, emissivity, 0.012, 0.012, conductivity, emissivity)
    foam = replace(bare, outside_of_insulation=0.018, emissivity=0.93)
    room = Air(20.0, 0.0, 20.0)
    assert (heat_loss(foam, room, 60.0)[0] > heat_loss(bare, room, 60.0)[0]) == raises


@every_seed
def test_delivery_stays_between_rest_and_supply(seed):
    """Never NaN, never below 0 degC, at 0 degC exactly where ice is reported, and that within the run."""
    rng = np.random.default_rng(seed)
    line = Line.of(random_section(rng, CASES), random_air(rng, CASES), rng.choice([0, 0.1]))
    supply, flow, length = random_flow(rng, CASES)
    supply = np.where(rng.random(CASES) < 0.1, at(rng, 0, 40), supply)  # some colder than the air
    found, rest = deliver(line, supply, flow, length), line.rest()
    at_rest, a_kelvin_up = line.loss(rest)[0], line.loss(rest + 1)[0]
    assert np.all(np.abs(at_rest) < PROMISED * (a_kelvin_up - at_rest)), "a line at rest takes no heat"
    assert np.all(found.temperature >= np.maximum(np.minimum(rest, supply), 0) - CONVERGED)
    assert np.all(found.temperature <= np.maximum(rest, supply) + CONVERGED)
    freezes = np.isfinite(found.ice_distance)
    assert np.array_equal(freezes, found.temperature == 0)
    assert np.all(rest[freezes] < 0)
    assert np.all((0 <= found.ice_distance[freezes]) & (found.ice_distance[freezes] <= length[freezes]))


@few_seeds
def test_longer_run_never_arrives_hotter(seed):
    """... where the water is warmer than the line at rest; colder water never arrives colder."""
    rng = np.random.default_rng(seed)
    line = Line.of(random_section(rng, CASES), random_air(rng, CASES), rng.choice([0, 0.1]))
    supply, flow, length = random_flow(rng, CASES)
    supply = np.where(rng.random(CASES) < 0.2, at(rng, 0, 40), supply)
    near = deliver(line, supply, flow, length).temperature
    far = deliver(line, supply, flow, length * at(rng, 1, 2)).temperature
    cools = supply > line.rest()
    assert np.all(far[cools] <= near[cools] + PROMISED)
    assert np.all(far[~cools] >= near[~cools] - PROMISED)


def flows_in_one_regime(line, supply, slow, fast, length):
    """Delivery at both flows, and where the film is laminar, or turbulent, all the way at both."""
    arrives = deliver(line, supply, slow, length).temperature
    mass = water(supply).density

    def reynolds(temperature, flow):
        return reynolds_number(line.inside_diameter, water(temperature).viscosity, flow * mass)

    one_regime = (reynolds(supply, fast) < 2300) | (reynolds(arrives, slow) > 4000)
    return arrives, deliver(line, supply, fast, length).temperature, one_regime


@few_seeds
def test_more_flow_never_arrives_colder_within_one_regime(seed):
    """While the film stays laminar, or stays turbulent. Between the two it thins faster than the flow grows, and a
    bare pipe in wind then delivers colder water at a larger flow: see the next test."""
    rng = np.random.default_rng(seed)
    line = Line.of(random_section(rng, CASES), random_air(rng, CASES), rng.choice([0, 0.1]))
    supply, _, length = random_flow(rng, CASES)
    slow = np.exp(at(rng, np.log(0.1), np.log(20))) / 60_000
    less, more, one_regime = flows_in_one_regime(line, supply, slow, slow * at(rng, 1, 2), length)
    cools = one_regime & (supply > line.rest())
    assert np.mean(cools) > 0.5
    assert np.all(more[cools] >= less[cools] - PROMISED)


def test_more_flow_can_arrive_colder_where_the_film_turns_turbulent():
    """Bare 22 mm copper in 10 m/s: a fifth more flow at Re 2300 costs more than 0.1 K at the tap. Not a slip of the
    numbers but of the law "more flow, hotter tap": m R falls wherever the film is a large part of R."""
    section = Section(0.020, 0.022, 340.0, 0.44, 0.022, 0.022, (np.zeros(1), np.ones(1)), 0.44)
    line = Line.of(section, Air(-10.0, 10.0, -10.0))
    at_supply = water(60.0)
    laminar = 2300 * np.pi * 0.020 * at_supply.viscosity / 4 / at_supply.density
    flows = laminar * np.array([1.0, 1.2])
    slow, fast = deliver(line, 60.0, flows, 2.0).temperature
    assert fast < slow - 0.1


@few_seeds
def test_energy_balance_along_the_run(seed):
    """m cp dT is the integral of q' along the run, within 0.5 %: where it drops 4 K or more, so that the promised
    0.01 K is less than that, and does not freeze."""
    rng = np.random.default_rng(seed)
    count, places = 1500, 24
    line = Line.of(random_section(rng, count), random_air(rng, count), rng.choice([0, 0.1]))
    supply, _, length = random_flow(rng, count)
    flow = np.exp(at(rng, np.log(0.5), np.log(20), count)) / 60_000
    nodes, weights = np.polynomial.legendre.leggauss(places)
    along = 0.5 * (nodes + 1)[:, None] * length
    inside = deliver(line, supply, flow, along).temperature
    mass_flow = flow * water(supply).density
    film = inside_resistance(line.inside_diameter, water(inside), mass_flow)
    lost = np.tensordot(0.5 * weights, line.loss(inside, film)[0], axes=1) * length
    end = deliver(line, supply, flow, length)
    capacity = np.mean(water(np.linspace(supply, end.temperature, 50)).heat_capacity, axis=0)
    given_up = mass_flow * capacity * (supply - end.temperature)
    counted = (np.abs(supply - end.temperature) > 4) & np.isinf(end.ice_distance)
    assert np.sum(counted) > 200
    assert np.allclose(lost[counted], given_up[counted], rtol=0.005)


@few_seeds
def test_standing_water_moves_towards_rest_and_stops_at_freezing(seed):
    rng = np.random.default_rng(seed)
    count = 1000
    line = Line.of(random_section(rng, count), random_air(rng, count)).alone()[0]
    start, times = at(rng, 0, 80, count), np.linspace(0, 2e5, 40)
    standing = cooling.Standing(line, 3.4e6, 0.0)
    curve, rest = cooling.curve(standing, start, times), line.rest()
    assert np.all(np.isfinite(curve)) and np.all(curve[0] == pytest.approx(start))
    distance = np.abs(curve - rest)
    assert np.all(np.diff(distance, axis=0) <= 1e-9)
    assert np.all(curve >= -1e-9)


@few_seeds
def test_freezing_never_sooner_with_less_to_give(seed):
    """Ice needs rest below zero; more ice never comes sooner; warmer air or warmer water never makes it sooner."""
    rng = np.random.default_rng(seed)
    count = 1000
    section, air = random_section(rng, count), random_air(rng, count)
    line = Line.of(section, air).alone()[0]
    standing, start = cooling.Standing(line, 3.4e6, 0.0), at(rng, 0.1, 60, count)
    to_zero = freezing.seconds_to_zero(standing, start)
    assert np.array_equal(np.isfinite(to_zero), line.rest() < 0)
    shares = [freezing.seconds_from_zero(line, share) for share in (0.1, 0.5, 0.99, 1.0)]
    finite = np.isfinite(to_zero)
    assert all(np.array_equal(np.isfinite(share), finite) for share in shares)
    assert all(np.all(less[finite] < more[finite]) for less, more in zip(shares, shares[1:]))
    assert np.all(freezing.seconds_to_zero(standing, start + 5)[finite] >= to_zero[finite])
    milder = cooling.Standing(
        Line.of(section, replace(air, temperature=air.temperature + 1, radiant=air.radiant + 1)), 3.4e6, 0.0
    )
    assert np.all(freezing.seconds_to_zero(milder, start)[finite] >= to_zero[finite])
