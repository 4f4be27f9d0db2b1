"""Topics 11 and 14: the first draw against Schumann's closed form, an energy balance, and a finely resolved wall.

Schumann's rows 0.002 of the step: what 400 cells of second order are off by at the front. The front's lag 1 %, for
heat capacities from handbooks. A wall of 16 shells 5 %, as the method asks of three. An article's whole seconds 3 %.
"""

import numpy as np
import pytest
import resolved
from scipy.linalg import expm

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings
from lessons_lib.physics import first_draw as physics
from lessons_lib.physics.convection import inside_resistance
from lessons_lib.physics.properties import water

SCHUMANN = "Schumann, J. Franklin Inst. 208 (1929) 405, computed with scipy 1.17.1, stats.ncx2.sf"
# X: exchange units passed; Z: dimensionless time since the front arrived; J: water above the start, 0 to 1
STEP_RESPONSE = [
    (0.5, 0.5, 0.73288),
    (0.5, 1, 0.81931),
    (0.5, 10, 0.999891),
    (1, 0.5, 0.53013),
    (1, 1, 0.654254),
    (1, 2, 0.817415),
    (1, 5, 0.97665),
    (1, 10, 0.999427),
    (2, 0.5, 0.269012),
    (2, 1, 0.394297),
    (2, 2, 0.603501),
    (2, 5, 0.913934),
    (5, 0.5, 0.0299506),
    (5, 2, 0.168569),
    (10, 0.5, 0.000578302),
    (10, 1, 0.00208375),
    (10, 2, 0.0105405),
    (10, 5, 0.119794),
    (10, 10, 0.54489),
]


def one_shell(units, share=0.26, residence=10.0):
    """A leg whose wall is one lump without loss: Schumann's problem."""
    return physics.DrawnLeg(np.asarray(residence), (units / residence, 1e-12), (share,), np.asarray(0.0), np.zeros(2))


@pytest.mark.parametrize("units, time, response", STEP_RESPONSE)
def test_schumann_step_response(agree, units, time, response):
    """Absolute tolerance 0.2 % of the step: second-order cells, 400 of them; the rows carry five figures."""
    share, residence = 0.26, 10.0
    record = physics.draw(
        [one_shell(units, share, residence)], np.asarray(1.0), 0.0, 1.2 + share * (time + 1) / units, cells=400
    )
    moment = residence + time * share * residence / units
    agree(float(np.interp(moment, record.time, record.temperature)), response, SCHUMANN, absolute=0.002)


@pytest.mark.parametrize("size, factor", [("1/2 in", 1.2636), ("3/4 in", 1.2028)])
def test_plug_flow_front_delay_of_copper(agree, size, factor):
    """A long slow draw takes 1 + (heat of the wall)/(heat of the water) pipe volumes: energy balance, computed."""
    run = Run(Pipe.nominal("copper L", size), Q_(60, "m"), Insulation.none(), Surroundings(Q_(20, "degC")))
    draw = run.first_draw(Q_(60, "degC"), Q_(12, "L/min"), Q_(20, "degC"))
    ratio = (draw.water_drawn / draw.pipe_volume).to("").magnitude
    agree(
        ratio,
        factor,
        "energy balance with copper 8940 kg/m3 and 385 J/(kg K), as computed in the reference list",
        relative=0.01,
    )


def resolved_wait(run, supply, flow, start, useful, cells=100, shells=16):
    """The same draw with a wall of many equal shells: the check that three graded ones are enough."""
    section = run.line.section
    inside, outside = section.inside_diameter, section.outside_diameter
    properties = water(supply)
    area = 0.25 * np.pi * inside**2
    step = run.length.to("m").magnitude * area / flow / cells
    edges = 0.5 * np.linspace(inside, outside, shells + 1)
    middles = 0.5 * (edges[1:] + edges[:-1])
    capacity = np.r_[
        properties.density * properties.heat_capacity * area, run.wall_density_heat * np.pi * np.diff(edges**2)
    ]
    ring = lambda low, high: np.log(high / low) / (2 * np.pi * section.wall_conductivity)  # noqa: E731
    film = inside_resistance(inside, properties, flow * properties.density)
    whole = 1 / float(run.line.conductance(supply, run.line.rest())[0])
    resistances = [
        film + ring(edges[0], middles[0]),
        *ring(middles[:-1], middles[1:]),
        whole - ring(edges[0], middles[-1]),
    ]
    matrix = np.zeros((shells + 1, shells + 1))
    for number, resistance in enumerate(resistances):
        matrix[number, number] -= 1 / resistance
        if number < shells:
            matrix[number + 1, number + 1] -= 1 / resistance
            matrix[number, number + 1] = matrix[number + 1, number] = 1 / resistance
    matrix /= capacity[:, np.newaxis]
    full, half = expm(matrix * step).T, expm(matrix * step / 2).T
    rest = float(run.line.rest())
    state = np.full((cells, shells + 1), start - rest)
    before, number = start, 0
    while True:
        state = state @ (full if number else half)
        leaving = state[-1, 0] + rest
        if leaving >= useful:
            return (number + 0.5 - (leaving - useful) / (leaving - before)) * step
        before, number = leaving, number + 1
        state[1:, 0] = state[:-1, 0].copy()
        state[0, 0] = supply - rest


@pytest.mark.parametrize(
    "family, size", [("copper L", "1/2 in"), ("PEX CTS", "1/2 in"), ("PEX ISO 15875", "20 mm"), ("CPVC CTS", "3/4 in")]
)
@pytest.mark.parametrize("length, flow", [(4, 6), (10, 2), (10, 6), (25, 12)])
def test_wait_against_a_finely_resolved_wall(agree, family, size, length, flow):
    """Tolerance 5 %, as the method asks; an independent matrix with 16 equal shells."""
    run = Run(
        Pipe.nominal(family, size),
        Q_(length, "m"),
        Insulation("elastomeric foam", Q_(13, "mm")),
        Surroundings(Q_(20, "degC")),
    )
    ours = run.first_draw(Q_(55, "degC"), Q_(flow, "L/min"), Q_(20, "degC")).wait.to("s").magnitude
    agree(
        ours,
        resolved_wait(run, 55.0, flow / 60_000, 20.0, 40.0),
        "16 equal shells, computed with scipy expm",
        relative=0.05,
    )


def test_lutz_article_run(agree):
    """60 ft of 3/4 and 10 ft of 1/2 copper M at 2.2 gpm: at least 47 s (trade journal worked example, as quoted in
    secondary literature). That figure is volume over flow; with the wall left out the draw must give it."""
    legs = [("3/4 in", 60), ("1/2 in", 10)]
    volume = sum(
        (np.pi / 4 * Pipe.nominal("copper M", size).inside_diameter ** 2 * Q_(feet, "ft")).to("gallon").magnitude
        for size, feet in legs
    )
    agree(60 * volume / 2.2, 47, "trade journal worked example, as quoted in secondary literature", relative=0.03)
    runs = [
        Run(Pipe.nominal("copper M", size), Q_(feet, "ft"), Insulation.none(), Surroundings(Q_(70, "degF")))
        for size, feet in legs
    ]
    draw = Run.series(runs).first_draw(Q_(120, "degF"), Q_(2.2, "gpm"), Q_(70, "degF"), useful=Q_(104, "degF"))
    agree(draw.pipe_volume.to("gallon").magnitude, volume, "geometry", relative=1e-6)
    assert 1.1 < draw.wait.magnitude / (60 * volume / 2.2) < 1.35


@pytest.mark.parametrize(
    "family, size, insulation, thickness, length, flow, least, most",
    [
        ("copper L", "1/2 in", "elastomeric foam", 13, 10, 6, 0.0, 0.02),
        ("PEX CTS", "3/4 in", "glass fibre", 25, 30, 4, 0.0, 0.02),
        ("copper L", "1/2 in", "elastomeric foam", 19, 40, 0.5, 0.02, 0.05),
        ("PEX CTS", "3/8 in", "elastomeric foam", 40, 60, 0.5, 0.06, 0.11),
    ],
)
def test_what_the_insulations_own_heat_adds_to_a_wait(family, size, insulation, thickness, length, flow, least, most):
    """Left out of the draw, and said with this size in its caution: held against tests/resolved.py with wall and insulation in shells."""
    cover = Insulation(insulation, Q_(thickness, "mm"), conductivity=Q_(0.04, "W/(m*K)"))
    run = Run(Pipe.nominal(family, size), Q_(length, "m"), cover, Surroundings(Q_(20, "degC")))
    cut, entering = run.line.section, water(55.0)
    film = inside_resistance(cut.inside_diameter, entering, flow / 60_000 * entering.density)
    rings = resolved.Rings(
        cut.inside_diameter,
        cut.outside_diameter,
        cut.outside_of_insulation,
        (cut.wall_conductivity, run.wall_density_heat),
        (0.04, run.insulation.density_heat),
        20.0,
        0.93,
        film=float(film),
    )
    draw = run.first_draw(Q_(55, "degC"), Q_(flow, "L/min"), Q_(20, "degC"))
    assert (
        least
        <= resolved.wait(rings, length, flow / 60_000, 55.0, 20.0, 40.0, cells=100) / draw.wait.magnitude - 1
        <= most
    )
    assert "insulation's own heat is left out" in draw.caution and "11 % in small plastic pipe" in draw.caution
