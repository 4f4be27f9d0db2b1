"""How fast the library answers. Measured with `python -m pytest tests/benchmarks --benchmark-enable`, never asserted.

In the default run the same tests are plain checks: the sweep must equal a loop over general-purpose correlations.
"""

import os
import subprocess
import sys
import time
from pathlib import Path

import CoolProp
import numpy as np
import pytest
from ht.conv_external import Nu_cylinder_Churchill_Bernstein
from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu
from ht.conv_internal import turbulent_Gnielinski

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, assess

# The loops' own steps: fourth-order Runge-Kutta by transfer units U L/(m cp), more where the film has kinks.
PIECES = np.array([1, 2, 4, 8, 16, 32, 64])
UNITS_PER_PIECE, KINK_FACTOR, KINKS_BETWEEN = 0.2, 8.0, (2300 / 1.1, 4000 * 1.1)
ROOT = Path(__file__).resolve().parents[2]
SUPPLY, FLOW, AIR, WIND = 60.0, 6.0, -12.0, 5.0  # [degC], [L/min], [degC], [m/s]
INSIDE, OUTSIDE, WALL_K = 0.785 * 0.0254, 0.875 * 0.0254, 340.0  # 3/4 in copper L
LENGTHS, THICKNESSES = np.linspace(1, 60, 100), np.linspace(1, 50, 100)  # [m], [mm]


def a_run(length, thickness) -> Run:
    cover = Insulation("elastomeric foam", Q_(thickness, "mm"))
    return Run(
        Pipe.nominal("copper L", "3/4 in"), Q_(length, "m"), cover, Surroundings(Q_(AIR, "degC"), wind=Q_(WIND, "m/s"))
    )


def sweep() -> np.ndarray:
    """Delivery temperature over length x thickness [degC], one call."""
    return a_run(LENGTHS[:, None], THICKNESSES).delivery_temperature(Q_(SUPPLY, "degC"), Q_(FLOW, "L/min")).magnitude


class Fluid:
    """A fluid of a general-purpose property library, by its quick low-level interface."""

    def __init__(self, name, pressure):
        self.state, self.pressure = CoolProp.AbstractState("HEOS", name), pressure

    def at(self, temperature):
        """density, heat capacity, conductivity, viscosity, Prandtl number [SI]; temperature [degC]"""
        self.state.update(CoolProp.PT_INPUTS, self.pressure, temperature + 273.15)
        found = self.state.rhomass(), self.state.cpmass(), self.state.conductivity(), self.state.viscosity()
        return *found, found[3] * found[1] / found[2]


WATER, DRY_AIR = Fluid("Water", 300e3), Fluid("Air", 101.325e3)


def conductance_by_library(inside, mass_flow, outside) -> tuple[float, float, float]:
    """Loss per kelvin above the air [W/(m K)], the water's heat capacity and Reynolds number: the same physics by
    fixed-point iteration on the surface temperature."""
    _, capacity, conductivity, viscosity, prandtl = WATER.at(inside)
    reynolds = 4 * mass_flow / (np.pi * INSIDE * viscosity)
    turbulent = turbulent_Gnielinski(
        max(reynolds, 4000.0), prandtl, (0.79 * np.log(max(reynolds, 4000.0)) - 1.64) ** -2
    )
    blend = min(max((reynolds - 2300) / 1700, 0.0), 1.0)
    film = 1 / (np.pi * conductivity * (3.66 + blend * (turbulent - 3.66)))
    wall = np.log(OUTSIDE / INSIDE) / (2 * np.pi * WALL_K)
    surface, moved = AIR + 0.1 * (inside - AIR), 1.0
    while abs(moved) > 1e-6:
        density, _, air_k, air_viscosity, air_prandtl = DRY_AIR.at(0.5 * (surface + AIR))
        kinematic = air_viscosity / density
        buoyancy = 9.80665 * abs(surface - AIR) / (0.5 * (surface + AIR) + 273.15)
        still = Nu_horizontal_cylinder_Churchill_Chu(air_prandtl, buoyancy * outside**3 / kinematic**2)
        forced = Nu_cylinder_Churchill_Bernstein(WIND * outside / kinematic, air_prandtl)
        convection = (still**4 + forced**4) ** 0.25 * air_k / outside * (surface - AIR)
        radiation = 0.93 * 5.670374e-8 * ((surface + 273.15) ** 4 - (AIR + 273.15) ** 4)
        leaving = np.pi * outside * (convection + radiation)
        foam = np.interp(0.5 * (inside + surface), (0, 24, 80), (0.0376, 0.0400, 0.0456))
        cover = np.log(outside / OUTSIDE) / (2 * np.pi * foam)
        outside_resistance = (surface - AIR) / leaving
        moved = AIR + (inside - AIR) * outside_resistance / (film + wall + cover + outside_resistance) - surface
        surface += moved
    return leaving / (inside - AIR), capacity, reynolds


def deliver_by_library(length, thickness) -> float:
    """Delivery temperature of one case [degC]: Runge-Kutta pieces in plain Python, on the library's physics."""
    mass_flow, outside = FLOW / 60_000 * WATER.at(SUPPLY)[0], OUTSIDE + 2 * thickness / 1000

    def rate(temperature):
        conductance, capacity, reynolds = conductance_by_library(temperature, mass_flow, outside)
        return conductance / (mass_flow * capacity), reynolds

    first, reynolds = rate(SUPPLY)
    leaving = rate(AIR + (SUPPLY - AIR) * np.exp(-first * length))[1]
    kinks = max(reynolds, leaving) > KINKS_BETWEEN[0] and min(reynolds, leaving) < KINKS_BETWEEN[1]
    wanted = first * length / UNITS_PER_PIECE * (KINK_FACTOR if kinks else 1.0)
    pieces = int(PIECES[np.searchsorted(PIECES[:-1], wanted)])
    step, distance = length / pieces, SUPPLY - AIR
    for _ in range(pieces):
        first = rate(AIR + distance)[0]
        second = rate(AIR + distance * np.exp(-0.5 * step * first))[0]
        third = rate(AIR + distance * np.exp(-0.5 * step * second))[0]
        fourth = rate(AIR + distance * np.exp(-step * third))[0]
        distance *= np.exp(-step * (first + 2 * second + 2 * third + fourth) / 6)
    return AIR + distance


def report(capsys, benchmark, text):
    if benchmark.enabled:
        with capsys.disabled():
            print(f"\n{text}")


def test_one_assessment(benchmark):
    """What a slider move costs: delivery, scald, freeze and hold power of one run."""
    run = a_run(18.0, 19.0)
    found = benchmark(
        lambda: assess(run, Q_(SUPPLY, "degC"), Q_(FLOW, "L/min"), start=Q_(8, "degC"), hold=Q_(4, "degC"))
    )
    assert found.tap.value.magnitude == pytest.approx(deliver_by_library(18.0, 19.0), abs=0.01)


def test_sweep_against_a_loop(benchmark, capsys):
    """10 000 cases in one call, and the same by a plain Python loop over 20 of them, in the same run.

    0.01 K: the accuracy that the library promises; its property tables are straight lines between whole degrees.
    """
    delivered = benchmark(sweep)
    sample = np.random.default_rng(0).integers(100, size=(20, 2))
    begin = time.perf_counter()
    looped = [deliver_by_library(LENGTHS[i], THICKNESSES[j]) for i, j in sample]
    each = (time.perf_counter() - begin) / len(sample)
    assert delivered[tuple(sample.T)] == pytest.approx(looped, abs=0.01)
    if benchmark.enabled:
        ratio = each * delivered.size / benchmark.stats["median"]
        benchmark.extra_info["times faster than the loop"] = round(ratio)
        report(
            capsys,
            benchmark,
            f"sweep of {delivered.size}: {ratio:.0f} times faster than the loop, scaled from {len(sample)}",
        )


IMPORTS = {
    "library": "import lessons_lib",
    "numpy and pint": "import numpy, pint",
    "with a registry": "import numpy, pint; pint.UnitRegistry(cache_folder=':auto:')",
}


def seconds_to(statement, cache) -> float:
    """The seconds that a statement takes in a fresh interpreter, by that interpreter's own clock."""
    code = f"import time; begin = time.perf_counter(); {statement}; print(time.perf_counter() - begin)"
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        env=os.environ | {"XDG_CACHE_HOME": str(cache)},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    return float(done.stdout)


def test_import(benchmark, capsys, tmp_path):
    """The library's import takes a time that is told relative to what it stands on.

    pint opens scipy's front door where scipy is installed, as in the tests. Its cache of definitions is a folder of
    this test's own: pint trips over entries that an environment left behind which has since been deleted.
    """
    seconds_to(IMPORTS["with a registry"], tmp_path)  # fills the cache
    rounds = 7 if benchmark.enabled else 1
    medians = {name: np.median([seconds_to(code, tmp_path) for _ in range(rounds)]) for name, code in IMPORTS.items()}
    benchmark.pedantic(seconds_to, args=(IMPORTS["library"], tmp_path), rounds=1)
    assert all(np.isfinite(seconds) for seconds in medians.values())
    benchmark.extra_info.update({f"import, {name} [ms]": round(1000 * value) for name, value in medians.items()})
    report(
        capsys, benchmark, "import: " + ", ".join(f"{name} {1000 * value:.0f} ms" for name, value in medians.items())
    )
