"""Makes the demo readings in data/bench/: INVENTED, of Tern Bank's practice rigs. `python tests/make_bench_readings.py` writes them.

An explicit finite-difference simulation on a fine grid that takes nothing from lessons_lib: the wall and the insulation in
radial shells, water along the run in cells that move on by exactly one cell a step, its own films (Churchill and Chu 1975
with radiation outside; Gnielinski 1976 or 3.66 inside) and its own round properties. Then what a bench does to readings:
noise, a clock that is started late, a slow thermometer and a sensor that fails for a row.
"""

from pathlib import Path

import numpy as np

FOLDER = Path(__file__).resolve().parent.parent / "data" / "bench"
COPPER = {"conductivity": 340.0, "density_heat": 8940 * 385.0}  # [W/(m K)], [J/(m3 K)]
PEX = {"conductivity": 0.41, "density_heat": 940 * 2300.0}
FOAM_DENSITY_HEAT = 60 * 1400.0
HALF_INCH = (0.545 * 0.0254, 0.625 * 0.0254)  # copper L 1/2 in: bore and outside [m]
HALF_INCH_PEX = (0.475 * 0.0254, 0.625 * 0.0254)
AIR = 20.0  # [degC] in the heated workshop and at the indoor rig
SUPPLY = 60.0
# What the fits must find. The rig's 19 mm of foam has gaps and conducts half as much again as its label says; the bucket
# said 5 L/min at the tap.
RIG_FOAM, RIG_FOAM_THICKNESS = 0.0620, 0.019
FAR_SINK_FOAM, FAR_SINK_THICKNESS, FAR_SINK_FLOW, FAR_SINK_LENGTH = 0.0560, 0.009, 0.6, 24.0
TAP_FLOW, TAP_LENGTH = 4.6, 10.0
BARE_EMISSIVITY, FOAM_EMISSIVITY = 0.44, 0.93
HEAD = """# INVENTED demo readings of Tern Bank's {rig}: a simulation with noise made them (tests/make_bench_readings.py).
# {about}
# Units in the header.
"""


def water_density_heat(temperature):
    """Density times heat capacity [J/(m3 K)] of liquid water, a line through 4.17e6 at 20 and 4.11e6 at 60 degC."""
    return 4.17e6 - 1.5e3 * (temperature - 20)


def outside_loss(diameter, surface, emissivity):
    """Heat leaving the outer surface of a horizontal cylinder in still air [W/m]."""
    mean = 0.5 * (surface + AIR) + 273.15
    conductivity, viscosity, prandtl = 0.0257 * (mean / 293.15) ** 0.82, 15.1e-6 * (mean / 293.15) ** 1.77, 0.71
    rayleigh = 9.81 * abs(surface - AIR) * diameter**3 * prandtl / (mean * viscosity**2)
    nusselt = (0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
    radiation = emissivity * 5.670374e-8 * ((surface + 273.15) ** 4 - (AIR + 273.15) ** 4)
    return np.pi * diameter * (nusselt * conductivity / diameter * (surface - AIR) + radiation)


def inside_film(bore, flow, temperature):
    """Conductance of the water film per metre [W/(m K)]. flow [m3/s]"""
    viscosity = 1e-3 * np.exp(-0.0175 * (temperature - 20) + 5e-5 * (temperature - 20) ** 2)  # [Pa s]
    conductivity = 0.599 + 0.0014 * (temperature - 20)
    reynolds, prandtl = 4 * 990 * flow / (np.pi * bore * viscosity), viscosity * 4180 / conductivity
    friction = (0.79 * np.log(max(reynolds, 3000)) - 1.64) ** -2
    turbulent = (
        friction
        / 8
        * (max(reynolds, 4000) - 1000)
        * prandtl
        / (1 + 12.7 * (friction / 8) ** 0.5 * (prandtl ** (2 / 3) - 1))
    )
    share = np.clip((reynolds - 2300) / 1700, 0, 1)
    return np.pi * conductivity * (3.66 + share * (turbulent - 3.66))


class Rings:
    """Shells of a wall and of its insulation, from the inside out: heat capacities and the conductances between middles."""

    def __init__(self, pipe, material, thickness=0.0, conductivity=0.0, wall_shells=1, foam_shells=12):
        bore, outside = pipe
        edges = [np.linspace(bore / 2, outside / 2, wall_shells + 1)]
        if thickness > 0:
            edges.append(np.linspace(outside / 2, outside / 2 + thickness, foam_shells + 1)[1:])
        self.edges = np.concatenate(edges)
        self.wall_shells, shells = wall_shells, len(self.edges) - 1
        foam = np.arange(shells) >= wall_shells
        k = np.where(foam, conductivity, material["conductivity"])
        inner, outer = self.edges[:-1], self.edges[1:]
        middle = np.sqrt(0.5 * (inner**2 + outer**2))
        self.capacity = (
            np.pi * (outer**2 - inner**2) * np.where(foam, FOAM_DENSITY_HEAT, material["density_heat"])
        )  # [J/(m K)]
        to_inner, to_outer = np.log(middle / inner) / (2 * np.pi * k), np.log(outer / middle) / (2 * np.pi * k)
        self.first, self.last = to_inner[0], to_outer[-1]  # resistances to the bore and to the outer surface [m K/W]
        self.between = 1 / (to_outer[:-1] + to_inner[1:])
        self.diameter = 2 * self.edges[-1]
        self.area = np.pi * (bore / 2) ** 2

    def largest_step(self, film):
        """Half the largest stable explicit time step, at most a second [s]."""
        links = np.zeros(len(self.capacity))
        links[:-1] += self.between
        links[1:] += self.between
        links[0] += 1 / (self.first + 1 / film)
        links[-1] += 1 / (self.last + 1 / (np.pi * self.diameter * 20))  # more than 20 W/(m2 K) leaves no surface here
        return min(1.0, 0.5 * np.min(self.capacity / links))

    def surface(self, outermost, emissivity, guess):
        """Temperature of the outer surface [degC] that passes on what reaches it; a few damped rounds from a near guess."""
        surface = guess
        for _ in range(3):
            loss = outside_loss(self.diameter, surface, emissivity)
            step = 1e-3
            slope = (outside_loss(self.diameter, surface + step, emissivity) - loss) / step
            surface = surface - (self.last * loss - (outermost - surface)) / (self.last * slope + 1)
        return surface


def standing(rings, emissivity, start, seconds, every):
    """Water in a standing run [degC] at times 0, every, 2 every, ...: well mixed across the bore (it circulates), shells outside."""
    film = (
        500 * np.pi * 2 * rings.edges[0]
    )  # [W/(m K)] circulation in the bore: better than the 8 k/d, 370 W/(m2 K), of water that only conducts
    step = rings.largest_step(film)
    count = int(np.ceil(every / step))
    step = every / count
    water, shells, surface, record = start, np.full(len(rings.capacity), start), start - 1.0, [start]
    link = 1 / (rings.first + 1 / film)
    wall, edges = rings.wall_shells, rings.edges
    if len(shells) > wall:  # the run had been hot for long: the foam's profile is steady
        radius = 0.5 * (edges[wall:-1] + edges[wall + 1 :])
        shells[wall:] = start - 0.8 * (start - AIR) * np.log(radius / edges[wall]) / np.log(edges[-1] / edges[wall])
    for _ in range(int(seconds / every)):
        for _ in range(count):
            surface = rings.surface(shells[-1], emissivity, surface)
            between = rings.between * (shells[:-1] - shells[1:])
            flows = np.concatenate([[link * (water - shells[0])], between, [(shells[-1] - surface) / rings.last]])
            water = water - step * flows[0] / (rings.area * water_density_heat(water))
            shells = shells + step * (flows[:-1] - flows[1:]) / rings.capacity
        record.append(water)
    return np.array(record)


def flowing(rings, emissivity, start, supply, flow, length, cells, seconds):
    """Steps [s] and the water at every cell [degC], (n,), (n, cells): water moves on one cell a step, shells beside each cell."""
    step = rings.area * length / cells / flow
    film = inside_film(2 * rings.edges[0], flow, 0.5 * (start + supply))
    inner = max(1, int(np.ceil(step / rings.largest_step(film))))
    part = step / inner
    water, shells = np.full(cells, start), np.full((len(rings.capacity), cells), start)
    surface, link, record = np.full(cells, start), 1 / (rings.first + 1 / film), []
    for _ in range(int(np.ceil(seconds / step))):
        water = np.concatenate([[supply], water[:-1]])
        for _ in range(inner):
            surface = rings.surface(shells[-1], emissivity, surface)
            into = link * (water - shells[0])
            between = rings.between[:, np.newaxis] * (shells[:-1] - shells[1:])
            flows = np.concatenate([into[np.newaxis], between, ((shells[-1] - surface) / rings.last)[np.newaxis]])
            water = water - part * into / (rings.area * water_density_heat(water))
            shells = shells + part * (flows[:-1] - flows[1:]) / rings.capacity[:, np.newaxis]
        record.append(water.copy())
    return step * (1 + np.arange(len(record))), np.array(record)


def thermometer(clock, temperature, constant, first, at):
    """A thermometer of first order that begins at `first`, in steps of a fiftieth of its time constant; read at times `at`."""
    times = np.arange(clock[0], max(at) + constant / 50, constant / 50)
    water, read, values = np.interp(times, clock, temperature), first, []
    for one in water:
        values.append(read)
        read += (one - read) / 50
    return np.interp(at, times, values)


def shown(values, seed, scatter):
    """Readings with the noise of a cheap thermometer, as its display gives them: tenths of a degree [degC]."""
    return np.round(values + scatter * np.random.default_rng(seed).standard_normal(len(values)), 1)


def cooling(rings, emissivity, minutes, every, late, seed):
    """Readings of a standing run: the clock starts `late` seconds after the tap was shut, the thermometer is put on just then."""
    clock = np.arange(0, 60 * minutes + late + 61, 5.0)
    water = standing(rings, emissivity, 59.0, clock[-1], 5.0)
    at = np.arange(0, 60 * minutes + 1, 60 * every)
    return at, shown(thermometer(clock - late, water, 25.0, 22.0, at)[: len(at)], seed, 0.25)


def before():
    """Cooling of the bare rig leg: minutes; decimal commas and semicolons, a sensor that fails in one row."""
    at, read = cooling(Rings(HALF_INCH, COPPER), BARE_EMISSIVITY, 60, 2, 90.0, 61)
    rows = [f"{time / 60:.0f};{value:.1f}".replace(".", ",") for time, value in zip(at, read)]
    rows[9] = "18;-127,0"
    about = "The leg before the valve, bare, after a long hot draw; air 20 °C. The thermometer was strapped on as the clock started."
    return "cooling-before.csv", HEAD.format(rig="indoor rig", about=about), ["time [min];temperature [°C]", *rows]


def after():
    """Cooling of the same leg in foam: clock times, degrees Fahrenheit, a row that the logger left empty."""
    rings = Rings(HALF_INCH, COPPER, RIG_FOAM_THICKNESS, RIG_FOAM)
    at, read = cooling(rings, FOAM_EMISSIVITY, 120, 4, 60.0, 62)
    minutes = (13 * 60 + 25 + at / 60).astype(int)
    rows = [f"{minute // 60}:{minute % 60:02d},{1.8 * value + 32:.1f}" for minute, value in zip(minutes, read)]
    rows[14] = rows[14].split(",")[0] + ","
    about = "The same leg in 19 mm of elastomeric foam, after a long hot draw; air 20 °C (68 °F)."
    return "cooling-after.csv", HEAD.format(rig="indoor rig", about=about), ["clock,water [°F]", *rows]


def first_draw():
    """The first draw at the rig's tap: the clock starts 2 s late, the thermometer's time constant is 4 s."""
    times, water = flowing(
        Rings(HALF_INCH, COPPER), BARE_EMISSIVITY, AIR, SUPPLY, TAP_FLOW / 60_000, TAP_LENGTH, 400, 110.0
    )
    clock, tap = np.concatenate([[-10.0, 0.0], times]), np.concatenate([[AIR, AIR], water[:, -1]])
    at = np.arange(0, 91, 3.0)
    read = shown(thermometer(clock, tap, 4.0, AIR, at + 2.0), 63, 0.2)
    rows = [f"{time:.0f}\t{value:.1f}" for time, value in zip(at, read)]
    rows[20] = "60\terr"
    about = (
        "First draw through 10 m of bare copper that stood at 20 °C; supply 60 °C; a bucket said 5 L/min. Thermometer: 4 s; the clock "
        "was started about 2 s after the tap."
    )
    return "first-draw.csv", HEAD.format(rig="indoor rig", about=about), ["time [s]\ttemperature [°C]", *rows]


def along():
    """Water along the run to the far sink at a small steady flow, once everything has settled; one thermometer had come loose."""
    rings = Rings(HALF_INCH_PEX, PEX, FAR_SINK_THICKNESS, FAR_SINK_FOAM, wall_shells=2, foam_shells=6)
    cells = 120
    _, water = flowing(rings, FOAM_EMISSIVITY, 50.0, SUPPLY, FAR_SINK_FLOW / 60_000, FAR_SINK_LENGTH, cells, 1500.0)
    places = np.arange(0, FAR_SINK_LENGTH + 0.1, 2.0)
    middles = (np.arange(cells) + 0.5) * FAR_SINK_LENGTH / cells
    read = shown(np.interp(places, np.concatenate([[0.0], middles]), np.concatenate([[SUPPLY], water[-1]])), 64, 0.15)
    read[5] -= 6.3
    rows = [f"{place:.0f},{value:.1f},{FAR_SINK_FLOW:.1f}" for place, value in zip(places, read)]
    about = "Steady flow to the far sink: 24 m of PEX 1/2 in under 9 mm of elastomeric foam; air 20 °C. The flow is the bucket's."
    return (
        "along-the-run.csv",
        HEAD.format(rig="workshop", about=about),
        ["place [m],temperature [°C],flow [L/min]", *rows],
    )


EXPERIMENTS = (before, after, first_draw, along)


def text(experiment) -> tuple[str, str]:
    """Name and whole text of one file."""
    name, head, lines = experiment()
    return name, head + "\n".join(lines) + "\n"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for one in EXPERIMENTS:
        file, content = text(one)
        (FOLDER / file).write_text(content, encoding="utf-8", newline="\n")
