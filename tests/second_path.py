"""Pipe runs worked out a second way: nothing of lessons_lib's physics is used, only what a reader gives (pipe, insulation).

Properties from CoolProp (water at 300 kPa, dry air at 101.325 kPa); films written anew from Churchill and Chu (1975),
Churchill and Bernstein (1977), Gnielinski (1976, 2013); the surface temperature by halving; a first draw by the Laplace
transform (Talbot's contour, J. Inst. Maths Applics 23 (1979) 97) and, where water stands uneven, by marching.
"""

import numpy as np
from CoolProp.CoolProp import PropsSI
from scipy.integrate import cumulative_simpson, quad
from scipy.interpolate import CubicSpline
from scipy.linalg import expm

ICE_CONDUCTIVITY, LATENT_OF_VOLUME, ICE_HEAT = 2.22, 917 * 333_430, 917 * 2100  # as data/ice.csv; Cengel


def _spline(fluid, pressure, low, high, *names):
    at = np.arange(low, high, 3.0)
    return CubicSpline(
        at, np.array([[PropsSI(name, "T", t + 273.15, "P", pressure, fluid) for name in names] for t in at])
    )


_AIR = _spline("Air", 101_325, -80, 116, "L", "V", "D", "C")
_WATER = _spline("Water", 300_000, 0.01, 106, "D", "C", "L", "V")


def water(celsius):
    """Density, heat capacity, conductivity and viscosity of water [SI]."""
    return np.moveaxis(_WATER(celsius), -1, 0)


def water_film(bore, celsius, mass_flow):
    """Resistance of the film of flowing water [m K/W]."""
    _, heat, conductivity, viscosity = water(celsius)
    reynolds, prandtl = 4 * mass_flow / (np.pi * bore * viscosity), viscosity * heat / conductivity
    held = np.maximum(reynolds, 4000.0)
    friction = (0.79 * np.log(held) - 1.64) ** -2.0
    rough = friction / 8 * (held - 1000) * prandtl / (1 + 12.7 * (friction / 8) ** 0.5 * (prandtl ** (2 / 3) - 1))
    nusselt = np.interp(reynolds, [2300, 4000], [0, 1]) * (rough - 3.66) + 3.66
    return 1 / (np.pi * conductivity * nusselt)


class Cut:
    """A pipe and what is on it, from what the reader gave. bare: nothing on it; wall: False where heat enters outside it."""

    def __init__(self, run, bare=False, wall=True):
        pipe, cover = run.pipe, run.insulation
        self.d, self.D = (value.to("m").magnitude for value in (pipe.inside_diameter, pipe.outside_diameter))
        thickness = 0.0 if bare else cover.thickness.to("m").magnitude
        self.outer = self.D + 2 * thickness
        self.wall_k = pipe.wall_conductivity.to("W/(m*K)").magnitude
        self.wall_heat = (pipe.density * pipe.heat_capacity).to("J/(m**3*K)").magnitude
        self.wall = np.log(self.D / self.d) / (2 * np.pi * self.wall_k) if wall else 0.0
        self.k_at, self.cover_heat = cover.conductivity_at, cover.density_heat if thickness else 0.0
        self.emissivity = cover.surface_emissivity if thickness else pipe.emissivity
        self.bore = np.pi * self.d**2 / 4

    def cover(self, mean):
        """Resistance of the insulation [m K/W]."""
        return np.log(self.outer / self.D) / (2 * np.pi * np.interp(mean, *self.k_at))

    def outside(self, surface, air, wind, radiant):
        """Heat from the outermost surface [W/m]."""
        film = (surface + air) / 2
        k, mu, rho, cp = np.moveaxis(_AIR(film), -1, 0)
        prandtl, nu = mu * cp / k, mu / rho
        rayleigh = 9.80665 * self.outer**3 * np.abs(surface - air) / (film + 273.15) / nu**2 * prandtl
        still = (0.6 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
        re = wind * self.outer / nu
        blown = (
            0.3
            + 0.62
            * re**0.5
            * prandtl ** (1 / 3)
            / (1 + (0.4 / prandtl) ** (2 / 3)) ** 0.25
            * (1 + (re / 282_000) ** 0.625) ** 0.8
        )
        nusselt = np.where(np.asarray(wind) > 0, (still**4 + blown**4) ** 0.25, still)
        radiation = self.emissivity * 5.670374e-8 * ((surface + 273.15) ** 4 - (radiant + 273.15) ** 4)
        return np.pi * self.outer * (nusselt * k / self.outer * (surface - air) + radiation)

    def loss(self, inside, air, wind=0.0, radiant=None, inner=0.0):
        """Loss [W/m] and surface [degC] by halving. inner : resistance inside the wall [m K/W]"""
        radiant = air if radiant is None else radiant
        inside, air, wind, radiant, inner = np.broadcast_arrays(*map(np.float64, (inside, air, wind, radiant, inner)))
        low, high = np.minimum(np.minimum(inside, air), radiant), np.maximum(np.maximum(inside, air), radiant)
        for _ in range(36):
            surface = (low + high) / 2
            through = inner + self.wall + self.cover((inside + surface) / 2)
            warm = inside - surface > through * self.outside(surface, air, wind, radiant)
            low, high = np.where(warm, surface, low), np.where(warm, high, surface)
        return self.outside(surface, air, wind, radiant), surface

    def rest(self, air, wind=0.0, radiant=None):
        """Where the outermost surface settles with nothing inside [degC]."""
        radiant = air if radiant is None else radiant
        low, high = np.minimum(air, radiant) + 0.0 * wind, np.maximum(air, radiant) + 0.0 * wind
        for _ in range(36):
            surface = (low + high) / 2
            gains = self.outside(surface, air, wind, radiant) < 0
            low, high = np.where(gains, surface, low), np.where(gains, high, surface)
        return surface

    def held(self, inside, rest, surface, water_heat, cover_heat=0.0):
        """Heat a metre gives up for a kelvin of its water [J/(m K)]: each place weighed by the square of its share of
        the water's distance from rest, which is straight in the logarithm of the radius (by quadrature)."""
        cover = self.cover((inside + surface) / 2)
        share = (surface - rest) / (inside - rest)
        at_wall = 1 - (1 - share) * self.wall / max(self.wall + cover, 1e-30)
        total = self.bore * water_heat
        for begin, end, first, last, heat in (
            (self.d, self.D, 1.0, at_wall, self.wall_heat),
            (self.D, self.outer, at_wall, share, cover_heat),
        ):
            if end > begin * 1.0001 and heat:
                profile = lambda r: (first + (last - first) * np.log(2 * r / begin) / np.log(end / begin)) ** 2  # noqa: B023, E731
                total += heat * quad(lambda r: 2 * np.pi * r * profile(r), begin / 2, end / 2)[0]  # noqa: B023
        return total


def delivered(cut, supply, mass_flow, length, air, wind):
    """Temperature at the end of a leg in steady flow [degC], not below 0: metres summed over many small steps of it."""
    units = np.linspace(0, 1, 61)
    for most in (0.3, 3.0, 12.0):
        inside = air + (supply - air) * np.exp(-units * most)
        inside = inside[inside >= 0] if air < 0 else inside
        _, heat, *_ = water(inside)
        loss, _ = cut.loss(inside, air, wind, None, water_film(cut.d, inside, mass_flow))
        metres = cumulative_simpson(mass_flow * heat * (inside - air) / loss, x=units[: len(inside)] * most, initial=0)
        if metres[-1] > length or len(inside) < len(units):
            break
    return float(max(CubicSpline(metres, inside)(length) if metres[-1] > length else inside[-1], 0.0))


class Leg:
    """A leg at one flow as a ladder of shells. edges : radii of the shells [m]; per rho c A of the water throughout."""

    def __init__(self, cut, length, supply, mass_flow, air, wind, edges):
        self.out = delivered(cut, supply, mass_flow, length, air, wind)
        density, heat, *_ = water(supply)
        per_metre = density * heat * cut.bore
        self.tau, self.air = length * cut.bore * density / mass_flow, air
        middle = np.sqrt((edges[:-1] ** 2 + edges[1:] ** 2) / 2)
        between = np.log(middle / np.r_[edges[0], middle[:-1]]) / (2 * np.pi * cut.wall_k)
        between[0] += water_film(cut.d, supply, mass_flow)
        overall = -mass_flow * heat * np.log((self.out - air) / (supply - air)) / length
        self.links = np.r_[1 / between, 1 / (1 / overall - between.sum())] / per_metre
        self.shares = np.pi * (edges[1:] ** 2 - edges[:-1] ** 2) * cut.wall_heat / per_metre
        self.mass_heat = mass_flow * heat

    def admittance(self, s):
        """What the wall takes for each kelvin of the water, and what rest gives for each of its own [1/s]."""
        takes, gives = self.links[-1], self.links[-1]
        for share, link in zip(self.shares[::-1], self.links[-2::-1]):
            takes = takes + share * s
            takes, gives = link * takes / (link + takes), link * gives / (link + takes)
        return takes, gives


def tap(legs, supply, start, times, nodes=24):
    """Temperature at the tap [degC] at times [s], all at `start` before. Exact for the ladders, to Talbot's rounding."""
    theta = np.pi * np.arange(nodes) / nodes
    contour = np.r_[0.4 * nodes + 0j, 0.4 * nodes * theta[1:] * (1 / np.tan(theta[1:]) + 1j)]
    cot = 1 / np.tan(theta[1:])
    weight = np.r_[0.5 * np.exp(contour[0]), np.exp(contour[1:]) * (1 + 1j * theta[1:] * (1 + cot**2) - 1j * cot)]
    result, delays = np.full(len(times), float(start)), np.cumsum([0, *(leg.tau for leg in legs[::-1])])

    def inverse(term, delay):
        left = times - delay
        on = left > 0
        s = contour[:, np.newaxis] / left[on]
        result[on] += 0.4 / left[on] * (weight[:, np.newaxis] * term(s)).sum(axis=0).real

    def passed(s, last):  # what the last legs leave of water that enters them, but for their delay
        return np.exp(-sum((leg.admittance(s)[0] * leg.tau for leg in legs[len(legs) - last :]), 0 * s))

    def own(leg, s):
        takes, gives = leg.admittance(s)
        return gives * (leg.air - start) / (s * (s + takes))

    for behind, leg in enumerate(legs[::-1]):
        inverse(lambda s: own(leg, s) * passed(s, behind), delays[behind])  # noqa: B023
        inverse(lambda s: -own(leg, s) * passed(s, behind + 1), delays[behind + 1])  # noqa: B023
    inverse(lambda s: (supply - start) / s * passed(s, len(legs)), delays[-1])
    return result


def marched(legs, supply, starts, span, cells=400):
    """Middle times [s], tap [degC], heat to the surroundings [K s] and heat stored [K s] from the first, by cells that the
    water leaves one by one. starts : of each leg, a function of the share of its way [degC]; span : in sweeps"""
    whole = sum(leg.tau for leg in legs)
    step = whole / cells
    edges = np.round(np.cumsum([0, *(leg.tau for leg in legs)]) / step).astype(int)
    state, full, half, capacity, out, rest = [], [], [], [], [], []
    for leg, start, low, high in zip(legs, starts, edges[:-1], edges[1:]):
        heat, links = np.r_[1.0, leg.shares], leg.links
        matrix = np.diag(np.r_[-links[0], -(links[:-1] + links[1:])]) + np.diag(links[:-1], 1) + np.diag(links[:-1], -1)
        matrix /= heat[:, np.newaxis]
        full.append(expm(matrix * step)), half.append(expm(matrix * step / 2)), capacity.append(heat)
        state.append(np.tile(start((np.arange(high - low) + 0.5) / (high - low)) - leg.air, (len(heat), 1)))
        out.append(links[-1]), rest.append(leg.air)
    total = lambda: sum((c @ part).sum() for c, part in zip(capacity, state)) * step  # noqa: E731
    begun, count = total(), int(span * cells)
    taps, given, stored = np.empty(count), np.empty(count), np.empty(count)
    for number in range(count):
        entering, given[number] = supply, 0.0
        for leg, share in enumerate(full if number else half):
            state[leg] = share @ state[leg]
            given[number] += out[leg] * state[leg][-1].sum() * step * step
            leaving = state[leg][0, -1] + rest[leg]
            state[leg][0, 1:] = state[leg][0, :-1].copy()
            state[leg][0, 0] = entering - rest[leg]
            entering = leaving
        taps[number], stored[number] = entering, total() - begun
    return (np.arange(count) + 0.5) * step, taps, np.cumsum(given), stored
