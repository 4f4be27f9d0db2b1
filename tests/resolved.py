"""Water, wall and insulation of a pipe resolved shell by shell in time: a check that takes nothing from lessons_lib.

Finite volumes with backward Euler steps, cases side by side. Its own properties: water a straight line through handbook
values at 20, 40 and 60 degC (within 0.05 %), air by the formulas of the U.S. Standard Atmosphere 1976. Outside: Churchill
and Chu (1975) for a horizontal cylinder, written anew, and radiation; inside, where water flows, a film that is given.
"""

import numpy as np

WALL_SHELLS, FOAM_SHELLS = 4, 30


def water_density_heat(celsius):
    """Density times heat capacity [J/(m3 K)]: 4.177e6 at 20, 4.146e6 at 40, 4.115e6 at 60 degC."""
    return 4.177e6 - 1.55e3 * (celsius - 20)


def outside_conductance(diameter, surface, air, emissivity, film_factor=1.0):
    """Convection (times a factor) and radiation from the outermost surface [W/(m K)]."""
    off = np.where(np.abs(surface - air) < 1e-3, 1e-3, surface - air)
    kelvin = 0.5 * (surface + air) + 273.15
    viscosity = 1.458e-6 * kelvin**1.5 / (kelvin + 110.4) / (101_325 / (287.05 * kelvin))  # kinematic [m2/s]
    conductivity = 2.64638e-3 * kelvin**1.5 / (kelvin + 245.4 * 10 ** (-12 / kelvin))
    diffusivity = conductivity / (101_325 / (287.05 * kelvin) * 1006)
    rayleigh = 9.81 * np.abs(off) * diameter**3 / (kelvin * viscosity * diffusivity)
    nusselt = (
        0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 * diffusivity / viscosity) ** (9 / 16)) ** (8 / 27)
    ) ** 2
    radiation = emissivity * 5.670374e-8 * ((surface + 273.15) ** 4 - (air + 273.15) ** 4) / off
    return np.pi * diameter * (film_factor * nusselt * conductivity / diameter + radiation)


class Rings:
    """Water, wall and insulation of one or several cases, shape (m,); plain numbers hold for all.

    bore, outside, outermost [m] of pipe, of pipe, and of insulation (the pipe's outside: bare)
    wall, foam : conductivity [W/(m K)] and density times heat capacity [J/(m3 K)] each
    film : resistance between flowing water and wall [m K/W]; 0: the water stands
    """

    def __init__(self, bore, outside, outermost, wall, foam, air, emissivity, film_factor=1.0, film=0.0):
        given = (bore, outside, outermost, *wall, *foam, air, emissivity, film_factor, film)
        (
            bore,
            outside,
            outermost,
            wall_k,
            wall_heat,
            foam_k,
            foam_heat,
            self.air,
            self.emissivity,
            self.film_factor,
            film,
        ) = (
            np.broadcast_to(np.asarray(one, dtype=float), np.broadcast_shapes(*map(np.shape, given), (1,)))
            for one in given
        )
        edges = np.linspace(bore / 2, outside / 2, WALL_SHELLS + 1)
        if np.all(outermost > outside):
            edges = np.concatenate([edges, np.linspace(outside / 2, outermost / 2, FOAM_SHELLS + 1)[1:]])
        covered = (np.arange(len(edges) - 1) >= WALL_SHELLS)[:, np.newaxis]
        conductivity, heat = np.where(covered, foam_k, wall_k), np.where(covered, foam_heat, wall_heat)
        inner, outer = edges[:-1], edges[1:]
        middle = 0.5 * (inner + outer)
        inward, outward = (
            np.log(middle / inner) / (2 * np.pi * conductivity),
            np.log(outer / middle) / (2 * np.pi * conductivity),
        )
        self.capacity = np.pi * (outer**2 - inner**2) * heat  # [J/(m K)] of each shell
        self.links = 1 / np.concatenate(
            [[inward[0] + film], outward[:-1] + inward[1:]]
        )  # [W/(m K)] between the middles, water first
        self.last, self.diameter, self.area = outward[-1], outermost, 0.25 * np.pi * bore**2

    def to_air(self, outermost, surface):
        """Conductance from the outermost shell to the air [W/(m K)], and the surface's temperature."""
        film = outside_conductance(self.diameter, surface, self.air, self.emissivity, self.film_factor)
        through = 1 / (self.last + 1 / film)
        return through, self.air + through * (outermost - self.air) / film

    def steady(self, water):
        """Shells [degC] beside water that has been hot for long, (shells, m), and the surface."""
        shells, surface = None, water - 5.0
        for _ in range(60):
            film = outside_conductance(self.diameter, surface, self.air, self.emissivity, self.film_factor)
            loss = (water - self.air) / (np.sum(1 / self.links, axis=0) + self.last + 1 / film)
            shells, surface = water - loss * np.cumsum(1 / self.links, axis=0), self.air + loss / film
        return shells, surface

    def step(self, water, shells, surface, seconds):
        """Water, shells and surface one backward Euler step later (Thomas's elimination over the shells)."""
        outward, surface = self.to_air(shells[-1], surface)
        capacity = (
            np.concatenate(
                [(self.area * water_density_heat(water))[np.newaxis], np.broadcast_to(self.capacity, shells.shape)]
            )
            / seconds
        )
        known = capacity * np.concatenate([water[np.newaxis], shells])
        known[-1] += outward * self.air
        diagonal = capacity.copy()
        diagonal[:-1] += self.links
        diagonal[1:] += self.links
        diagonal[-1] += outward
        for row in range(1, len(diagonal)):
            share = self.links[row - 1] / diagonal[row - 1]
            diagonal[row] -= share * self.links[row - 1]
            known[row] += share * known[row - 1]
        known[-1] /= diagonal[-1]
        for row in range(len(diagonal) - 2, -1, -1):
            known[row] = (known[row] + self.links[row] * known[row + 1]) / diagonal[row]
        return known[0], known[1:], surface


def standing(rings: Rings, start: float, seconds: float, every: float, step: float = 5.0):
    """Standing water at times 0, every, 2 every, ... [degC], (n, m), after it has been hot for long."""
    water = np.full(rings.area.shape, float(start))
    shells, surface = rings.steady(water)
    record, each = [water], int(np.ceil(every / step))
    for _ in range(int(round(seconds / every))):
        for _ in range(each):
            water, shells, surface = rings.step(water, shells, surface, every / each)
        record.append(water)
    return np.array(record)


def wait(
    rings: Rings, length: float, flow: float, supply: float, start: float, useful: float, cells: int = 200
) -> float:
    """Seconds until the tap at the end of a run first gives water at `useful`; everything begins at `start` [degC].

    Water moves on by one cell a step, shells stay beside their cell. flow [m3/s], length [m]; rings of one case.
    """
    step = float(rings.area[0]) * length / cells / flow
    water = np.full(cells, float(start))
    shells, surface = np.full((len(rings.capacity), cells), float(start)), water - 0.1
    before = start
    for number in range(100 * cells):
        water, shells, surface = rings.step(water, shells, surface, step / 2 if number == 0 else step)
        leaving = water[-1]
        if leaving >= useful:
            return (number + 0.5 - (leaving - useful) / (leaving - before)) * step
        before = leaving
        water = np.concatenate([[supply], water[:-1]])
    return np.inf
