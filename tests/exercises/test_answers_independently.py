"""The answer of every question for 20 seats (50 when asked for) in both unit systems, recomputed here by another path.

Own unit factors, textbook formulas, CoolProp's water and air, `ht` and `fluids` for the films and friction, scipy for roots and
integrals, and tables typed in by hand; nothing of lessons_lib but the questions themselves. Tolerances: 1e-6 for arithmetic; 0.3 %
where a heat capacity of water comes in (taken at one temperature here, at the middle there); 0.1 % where the film of air, a friction
factor or a difference of densities is solved anew; 0.02 K, what the library promises twice over, for a delivery temperature.
"""

import csv
import math
import re
from functools import cache
from itertools import permutations
from pathlib import Path

import ht
import numpy as np
import pytest
from calcite_by_scipy import scale
from CoolProp.CoolProp import PropsSI
from fluids import friction_factor
from scipy.integrate import quad, solve_ivp
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

from lessons_lib.exercises import mark, questions, variant
from lessons_lib.exercises.marking import OTHER
from lessons_lib.quantities.display import SI, SYSTEMS

SEATS = [range(1, 21), pytest.param(range(21, 51), marks=pytest.mark.million)]
FOOT, INCH, GALLON, BTU_H = 0.3048, 0.0254, 3.785411784e-3, 0.29307107017
FACTORS = {  # kind → SI for one metric and one US customary unit
    "temperature difference": (1, 1 / 1.8),
    "temperature drop": (1, 1 / 1.8),
    "length": (1, FOOT),
    "thickness": (1e-3, INCH),
    "diameter": (1e-3, INCH),
    "flow": (1e-3 / 60, GALLON / 60),
    "wind": (1, 0.44704),
    "heat loss": (1, BTU_H / FOOT),
    "volume": (1e-3, GALLON),
    "measured volume": (1e-3, GALLON),
    "large volume": (1e-3, GALLON),
    "pressure": (1e3, 6894.757293168),
    "pressure drop": (1e3, 6894.757293168),
    "measured flow": (1e-3 / 60, GALLON / 60),
    "small pressure": (1, 249.08891),  # an inch of water at 4 degC
    "speed": (1, FOOT),
    "wave speed": (1, FOOT),
    "milliseconds": (1e-3, 1e-3),
    "heat": (1, BTU_H),
    "tape power": (1, 1 / FOOT),
    "conductivity": (1, BTU_H * INCH / FOOT**2 * 1.8),
    "small mass": (1, 0.45359237),
    "seconds": (1, 1),
    "minutes": (60, 60),
    "hours": (3600, 3600),
    "power": (1, 1),
    "large power": (1e3, 1e3),
    "energy": (3.6e6, 3.6e6),
    "small energy": (3600, 3600),
    "current": (1, 1),
    "breaker": (1, 1),
    "voltage": (1, 1),
    "voltage drop": (1, 1),
    "share": (0.01, 0.01),
    "hardness": (1e-3, 64.79891e-6 / GALLON),
    "scale mass": (1, 0.45359237),
    "layer": (1e-3, INCH),
    "surface": (1, FOOT**2),
    "count": (1, 1),
    "ratio": (1, 1),
    "two places": (1, 1),
}
BORES = {  # [m], EN 1057 and ASTM B88 type L
    "15 mm": 13e-3,
    "18 mm": 16e-3,
    "22 mm": 20e-3,
    "28 mm": 26e-3,
    "35 mm": 32.6e-3,
    "3/8 in": 0.430 * INCH,
    "1/2 in": 0.545 * INCH,
    "3/4 in": 0.785 * INCH,
    "1 in": 1.025 * INCH,
    "1 1/4 in": 1.265 * INCH,
}
OUTSIDES = {
    **{name: float(name.split()[0]) / 1e3 for name in ("15 mm", "18 mm", "22 mm", "28 mm", "35 mm")},
    "1/2 in": 0.625 * INCH,
    "3/4 in": 0.875 * INCH,
    "1 in": 1.125 * INCH,
}


def in_si(figure: float, kind: str, metric: bool) -> float:
    """A figure as the reader sees it, in SI; temperatures in degC."""
    if kind == "temperature":
        return figure if metric else (figure - 32) / 1.8
    return figure * FACTORS[kind][0 if metric else 1]


def water(celsius: float, what: str) -> float:
    """Property of water at 3 bar; `rc` is density times heat capacity [J/(m3 K)]."""
    state = ("T", celsius + 273.15, "P", 3e5, "Water")
    return PropsSI("D", *state) * PropsSI("C", *state) if what == "rc" else PropsSI(what, *state)


AIR_GRID = np.linspace(-40, 90, 40)
AIR = {
    what: CubicSpline(AIR_GRID, [PropsSI(what, "T", one + 273.15, "P", 101325, "Air") for one in AIR_GRID])
    for what in "DVLC"
}


def film(outside, surface, air, wind) -> float:
    """Convection coefficient [W/(m2 K)], still air and wind together by the fourth power (Churchill 1977)."""
    middle = 0.5 * (surface + air)
    density, viscosity, conductivity, heat = (float(AIR[what](middle)) for what in "DVLC")
    kinematic, prandtl = viscosity / density, viscosity * heat / conductivity
    grashof = 9.80665 * outside**3 * abs(surface - air) / ((middle + 273.15) * kinematic**2)
    still = ht.conv_free_immersed.Nu_horizontal_cylinder_Churchill_Chu(prandtl, grashof)
    windy = ht.conv_external.Nu_cylinder_Churchill_Bernstein(wind * outside / kinematic, prandtl) if wind else 0.0
    return (still**4 + windy**4) ** 0.25 * conductivity / outside


@cache
def loss(inside, bore, outside, foam, air, wind, emissivity=None, before=0.0, sky=0.0) -> float:
    """Heat loss of copper, bare or in elastomeric foam [W/m].

    foam : thickness [m]; before : of a film of water [m K/W]; sky : what it radiates to is so much colder than the air [K]
    """
    outermost, bright = outside + 2 * foam, (0.93 if foam else 0.44) if emissivity is None else emissivity

    def balance(surface):
        k = 0.0376 + 1e-4 * max(0.5 * (inside + surface), 0.0)  # data/insulation.csv holds its ends
        hinders = (
            before + math.log(outside / bore) / (2 * math.pi * 340) + math.log(outermost / outside) / (2 * math.pi * k)
        )
        radiates = bright * 5.670374e-8 * ((surface + 273.15) ** 4 - (air - sky + 273.15) ** 4)
        leaves = math.pi * outermost * (film(outermost, surface, air, wind) * (surface - air) + radiates)
        return (inside - surface) - hinders * leaves, leaves

    low, high = min(inside, air - sky), max(inside, air)
    return balance(brentq(lambda surface: balance(surface)[0], low + 1e-9, high, xtol=1e-9))[1]


CABIN = dict(bore=0.785 * INCH, outside=0.875 * INCH)
LENGTH, FROST, WIND, FOAM, TANK, COLD = 18.0, -12.0, 5.0, 0.019, 60.0, 8.0
LITRE_A_MINUTE = 1e-3 / 60


@cache
def arrives(length=LENGTH, flow=6 * LITRE_A_MINUTE, foam=FOAM) -> float:
    """Temperature at the end of the cabin's run [degC]: dT/dx = -q'(T)/(m c)."""
    mass = flow * water(TANK, "D")
    temperatures = np.linspace(5, TANK, 12)
    drop = CubicSpline(
        temperatures,
        [
            loss(one, **CABIN, foam=foam, air=FROST, wind=WIND, before=_water_film(one, mass))
            / (mass * water(one, "C"))
            for one in temperatures
        ],
    )
    return float(solve_ivp(lambda x, t: -drop(t), (0, length), [TANK], rtol=1e-8).y[0, -1])


def _water_film(celsius, mass) -> float:
    """Laminar 3.66, Gnielinski from Re 4000, a straight line in Re between [m K/W]."""
    reynolds = 4 * mass / (math.pi * CABIN["bore"] * water(celsius, "V"))
    prandtl, blend = water(celsius, "Prandtl"), min(max((reynolds - 2300) / 1700, 0), 1)
    fast = max(reynolds, 4000)
    eighth = (0.79 * math.log(fast) - 1.64) ** -2 / 8
    turbulent = eighth * (fast - 1000) * prandtl / (1 + 12.7 * eighth**0.5 * (prandtl ** (2 / 3) - 1))
    return 1 / (math.pi * water(celsius, "L") * (3.66 + blend * (turbulent - 3.66)))


def _holds(celsius, bore=CABIN["bore"], outside=CABIN["outside"]) -> float:
    """Heat capacity of water and copper, of the cabin's run if no other is named [J/(m K)]."""
    return area(bore) * water(celsius, "rc") + (area(outside) - area(bore)) * 8940 * 385


@cache
def seconds_to_ice(start=COLD, air=FROST, wind=WIND, foam=FOAM) -> float:
    grid = np.linspace(0.01, start, 10)
    pace = CubicSpline(grid, [_holds(one) / loss(one, **CABIN, foam=foam, air=air, wind=wind) for one in grid])
    return quad(lambda one: float(pace(one)), 0.0, start)[0]


def ice_by_dawn(n) -> str:
    """Water at the freezing point that still loses heat can freeze; the time there is the integral of heat over loss."""
    paces = [
        _holds(max(one, 0.01)) / loss(one, **CABIN, foam=FOAM, air=n["air"], wind=n["wind"], sky=n["sky"])
        for one in np.linspace(0, COLD, 30)
    ]
    return "yes" if paces[0] > 0 and np.trapezoid(paces, dx=COLD / 29) < 14 * 3600 else "no"


@cache
def after(pause, foam) -> float:
    """The cabin's hot water after a pause, not below freezing [degC]."""
    slope = lambda t, at: [
        -loss(round(float(at[0]), 2), **CABIN, foam=foam, air=FROST, wind=WIND) / _holds(max(float(at[0]), 0.1))
    ]  # noqa: E731
    frozen = lambda t, at: at[0] - 0.2  # noqa: E731
    frozen.terminal = True
    return max(float(solve_ivp(slope, (0, pause), [TANK], events=frozen, max_step=60, rtol=1e-4).y[0, -1]), 0.0)


def hold_power(air, wind, foam, tape=0.008) -> float:
    """Of a tape on the outside of the wall [W/m]. tape : how much it and its ties widen what the foam closes over [m]"""
    outside = CABIN["outside"] + (tape if foam else 0.0)
    return loss(4.0, outside * (1 - 1e-12), outside, foam, air, wind)


@cache
def burn_seconds(celsius) -> float:
    """The shortest time of all columns that reach so far, straight in the logarithm."""
    path = Path(__file__).parents[2] / "data" / "burn_times.csv"
    rows = list(
        csv.DictReader(line for line in path.read_text(encoding="utf-8").splitlines() if not line.startswith("#"))
    )
    found = []
    for column in {row["column"] for row in rows}:
        points = [(float(row["temperature"]), float(row["seconds"])) for row in rows if row["column"] == column]
        t, s = np.array(points).T
        if t[0] - 1e-6 <= celsius <= t[-1] + 1e-6:
            found.append(math.exp(np.interp(celsius, t, np.log(s))))
    return min(found) if found else (21600.0 if celsius < 45 else 2.0)


def pressure_lost(bore, length, flow, celsius) -> float:
    density, viscosity = water(celsius, "D"), water(celsius, "V")
    speed = flow / (0.25 * math.pi * bore**2)
    friction = friction_factor(density * speed * bore / viscosity, 1.5e-6 / bore, Method="Churchill_1977")
    return friction * length / bore * 0.5 * density * speed**2


def area(bore) -> float:
    return 0.25 * math.pi * bore**2


def against_limit(n) -> str:
    """5 ft/s, or 2 to 3 ft/s above 60 degC (Copper Tube Handbook, as the question gives it); no question lies between the two."""
    low, high = (5 * FOOT, 5 * FOOT) if n["water"] <= 60 else (2 * FOOT, 3 * FOOT)
    fast = n["flow"] / area(BORES[n["size"]])
    return word(fast, (low, "below"), (high, "between"), (math.inf, "above"))


def bath_wait(n, size) -> float:
    """Content, with the wall's heat beside the water's, over the flow that friction and a tap of 20 L/min at 3 bar (EN 200) leave [s]."""
    bore, tap = BORES[size], 3e5 / (20 * LITRE_A_MINUTE) ** 2
    flow = brentq(lambda flow: pressure_lost(bore, n["length"], flow, TANK) + tap * flow**2 - n["main"], 1e-6, 1e-3)
    return n["length"] * _holds(40.0, bore, OUTSIDES[size]) / water(40.0, "rc") / flow


def wide_open(n) -> str:
    grows = bath_wait(n, n["big"]) / bath_wait(n, n["small"])
    return word(
        grows,
        (1.05, "not at all"),
        (0.95 * (BORES[n["big"]] / BORES[n["small"]]) ** 2, "less"),
        (math.inf, "with the area"),
    )


def ring(inner, outer) -> float:
    return math.log(outer / inner) / (2 * math.pi)


def conductance(n, name) -> float:
    """A figure in W or Btu/h for each degree and metre or foot, in W/(m K)."""
    return n[name] * (1 if n["metric"] else 1.8 * BTU_H / FOOT)


def wind_times(n) -> float:
    pipe = dict(bore=0.020, outside=0.022, foam=0.0 if n["state"] == "bare pipe" else 0.019, air=n["air"])
    return loss(n["water"], **pipe, wind=n["wind"]) / loss(n["water"], **pipe, wind=0.0)


def foam_or_gaps(n) -> str:
    """Bare and covered metres beside each other, each with its share of the length."""
    bare, once, twice = (loss(TANK, **CABIN, foam=foam, air=n["air"], wind=n["wind"]) for foam in (0.0, FOAM, 2 * FOAM))
    return "foam" if (1 - n["share"]) * twice + n["share"] * bare < once else "gaps"


def cut(n) -> float:
    return n["centres"] - 2 * n["face"] + 2 * n["depth"]


def later(n) -> str:
    """The wall's heat capacity beside the water's delays the front (an energy balance)."""
    bore, outside = BORES[n["size"]], OUTSIDES[n["size"]]
    return "later" if (outside**2 / bore**2 - 1) * 8940 * 385 / water(40, "rc") > 0.02 else "then"


@cache
def stays_warm(size, foam) -> float:
    """How long standing water in a still room takes from 60 to 40 degC [s]."""
    pipe = dict(bore=BORES[size], outside=OUTSIDES[size])
    grid = np.linspace(40, TANK, 8)
    pace = CubicSpline(grid, [_holds(one, **pipe) / loss(one, **pipe, foam=foam, air=20.0, wind=0.0) for one in grid])
    return quad(lambda one: float(pace(one)), 40, TANK)[0]


def foam_waits(n) -> str:
    """Foam saves the wait where it keeps the water warm enough and a bare pipe does not."""
    foamed, bare = stays_warm(n["size"], n["foam"]), stays_warm(n["size"], 0.0)
    return "much" if bare < n["pause"] < foamed else "little"


def word(value, *edges) -> str:
    """The first word whose edge the value is below."""
    return next(name for edge, name in edges if value < edge)


def for_hours(n) -> float:
    """The share of a breaker that may be used for hours: BS 7671 433.1.1 (all of it) or NEC 210.20(A) (80 %)."""
    return 1.0 if n["metric"] else 0.8


def smallest(n) -> float:
    """The first standard breaker that is large enough: IEC 60898-1 or NEC 240.6."""
    sizes = (6, 10, 13, 16, 20, 25, 32, 40) if n["metric"] else (15, 20, 25, 30, 35, 40)
    return next(size for size in sizes if for_hours(n) * size >= n["load"])


def room(n) -> str:
    share = n["power"] * n["length"] / n["voltage"] / (for_hours(n) * n["breaker"])
    return word(share, (0.98, "below"), (1.02, "at"), (math.inf, "above"))


def coldest(n) -> str:
    found = {
        "bare": arrives(flow=n["flow"], foam=0.0),
        "longer": arrives(2 * LENGTH, n["flow"]),
        "slower": arrives(flow=n["flow"] / 2),
    }
    return min(found, key=found.get)


def wider_loop(n) -> str:
    """Of Tern Bank's outdoor loop, 25 mm of foam, -12 °C in wind of 5 m/s; air needs 0.6 m/s."""
    loses, needs = (
        [f(size) for size in (n["small"], n["big"])]
        for f in (
            lambda size: loss(60.0, BORES[size], OUTSIDES[size], 0.025, -12.0, 5.0),
            lambda size: 0.6 * area(BORES[size]),
        )
    )
    return "both grow" if loses[1] > loses[0] and needs[1] > needs[0] else "not both"


def bare_at_the_clips(n) -> str:
    """Each part of the run cools by itself, and the first ice is that of the quicker one."""
    parts = {"bare": seconds_to_ice(air=n["air"], foam=0.0), "foamed": seconds_to_ice(air=n["air"])}
    assert parts["bare"] < 0.5 * (1 - n["share"]) * parts["foamed"], "far from a share of the time"
    return min(parts, key=parts.get)


def two_slips(n) -> str:
    """From two readings, Newton's loss is ln((first - air)/(second - air)) over the time between them."""
    real = n["air"] - n["off"]
    rate = lambda first, second, air: math.log((n[first] - air) / (n[second] - air)) / 1800  # noqa: E731
    n = n | {"later": real + (n["water"] - real) * 0.6}
    n |= {
        "after": real + (n["water"] - real) * 0.9,
        "later still": real + (n["later"] - real) * 0.9,
    }  # the same half hour, begun late
    air = abs(rate("water", "later", n["air"]) / rate("water", "later", real) - 1)
    clock = abs(rate("after", "later still", real) / rate("water", "later", real) - 1)
    return (
        "neither" if max(air, clock) < 0.02 else "both" if min(air, clock) > 0.02 else "air" if air > clock else "clock"
    )


def harder(n) -> str:
    ratio = scale(1e3 * n["hard"], 10, n["hot"]) / scale(1e3 * n["soft"], 10, n["hot"])
    return "more" if ratio > 2.1 else "less" if ratio < 1.9 else "twice"


def thin_foam(n) -> str:
    pipe = dict(bore=BORES[n["size"]], outside=OUTSIDES[n["size"]], air=20.0, wind=0.0)
    bare = loss(n["water"], **pipe, foam=0.0, emissivity={"polished copper": 0.03, "oxidised copper": 0.8}[n["finish"]])
    return "more" if loss(n["water"], **pipe, foam=0.001) > bare else "less"


def air_or_water(n) -> str:
    """Isothermal air, p V ln(p/p0), less than which no spring of air stores in a second, against water alone."""
    absolute = n["pressure"] + 101_325
    air = absolute * math.log(absolute / 101_325) - n["pressure"]
    squeezed = PropsSI("ISOTHERMAL_COMPRESSIBILITY", "T", 293.15, "P", absolute, "Water") * n["pressure"]
    return word(air / (0.5 * squeezed * n["pressure"]), (3, "as much"), (100, "ten"), (math.inf, "hundreds"))


def fixed(value):
    return lambda n: value


EXACT, PROPERTIES, SOLVED, DELIVERED = 1e-6, 3e-3, 1e-3, 0.02
TOLERANCES = {  # everything else is arithmetic
    "08-unit-cable": 0.005,  # the code's table prints three digits
    **dict.fromkeys(
        (
            "02-drop-by-hand",
            "09-loop-flow",
            "09-cools-when-it-stops",
            "14-flow-of-a-return",
            "14-push",
            "09-rise-from-flow",
            "12-loss-from-readings",
            "04-height",
            "11-pressure-left",
        ),
        PROPERTIES,
    ),
    **dict.fromkeys(
        ("06-loss-of-a-pipe", "07-hours-to-ice", "04-pressure-drop", "10-growth-of-water", "13-read-the-panel"), SOLVED
    ),
}
WARM_CONDUCTORS = {  # [ohm/m] at 75 degC by the rule (234.5 + 75) / (234.5 + 20) for copper, from IEC 60228 and the code's table
    **{name: 1e-3 * ohm * 309.5 / 254.5 for name, ohm in (("2.5 mm2", 7.41), ("4 mm2", 4.61), ("6 mm2", 3.08))},
    "12 AWG solid": 1.93 / 304.8,
    "10 AWG solid": 1.21 / 304.8,
}
ANSWERS = {
    "01-degrees-between": lambda n: n["gap"],
    "01-hot-share": lambda n: (n["mixed"] - n["cold"]) / (n["store"] - n["cold"]),
    "01-water-at-the-tap": lambda n: n["tank"] * (n["store"] - n["cold"]) / (n["mixed"] - n["cold"]),
    "01-where-the-tap-is": lambda n: {"before the valve": "tank", "after the valve": "setting"}[n["place"]],
    "01-time-to-burn": lambda n: burn_seconds(n["tank"]),
    "01-cool-tank": lambda n: (
        "fine" if n["store"] >= 60 else "both" if n["store"] - n["setting"] < n["gap"] - 1e-9 else "tank"
    ),
    "01-cold-shut": fixed("trickle"),
    "01-store-and-bacteria": lambda n: word(
        n["store"] + 1e-9, (50, "bacteria can grow"), (60, "below advice"), (99, "stored hot")
    ),
    "02-tap-before-the-valve": lambda n: n["tank"] - n["drop"],
    "02-less-flow": lambda n: n["drop"] * n["flow"] / n["less"],
    "02-cabin-tap": lambda n: arrives(n["length"], n["flow"]),
    "02-drop-by-hand": lambda n: n["loss"] * n["length"] / (n["flow"] * water(n["water"], "rc")),
    "02-scald-word": lambda n: word(
        burn_seconds(n["tap"]), (60.0001, "seconds"), (3600, "minutes"), (math.inf, "hours")
    ),
    "02-what-cools-most": coldest,
    "03-slow-tap": fixed("cooler"),
    "03-content": lambda n: area(n["bore"]) * n["length"],
    "03-swept-once": lambda n: n["content"] / n["flow"],
    "03-wait-against-sweep": later,
    "03-one-size-up": lambda n: (BORES[n["big"]] / BORES[n["small"]]) ** 2,
    "03-foam-and-the-wait": foam_waits,
    "03-litres-down-the-drain": lambda n: n["flow"] * n["wait"] * n["often"],
    "03-after-a-pause": lambda n: "much warmer" if after(n["pause"], FOAM) - after(n["pause"], 0.0) > 20 else "same",
    "04-speed-one-size-up": lambda n: (BORES[n["small"]] / BORES[n["big"]]) ** 2,
    "04-height": lambda n: water(15, "D") * 9.80665 * n["height"],
    "04-pressure-drop": lambda n: pressure_lost(BORES[n["size"]], n["length"], n["flow"], n["water"]),
    "04-twice-the-flow": lambda n: word(
        pressure_lost(BORES[n["size"]], 1, 2 * n["flow"], 60) / pressure_lost(BORES[n["size"]], 1, n["flow"], 60),
        (2.5, "twice"),
        (5, "over three"),
        (math.inf, "eight"),
    ),
    "04-elbows": lambda n: n["length"] + n["count"] * 30 * BORES[n["size"]],
    "04-too-fast": against_limit,
    "04-wide-open": wide_open,
    "04-gauge-at-rest": fixed("flowing"),
    "05-elbows-again": lambda n: n["length"] + n["count"] * n["each"],
    "05-cut-length": cut,
    "05-centre-to-centre": lambda n: n["cut"] + 2 * n["face"] - 2 * n["depth"],
    "05-pieces-from-a-bar": lambda n: math.floor((n["stock"] + n["kerf"]) / (n["piece"] + n["kerf"]) + 1e-9),
    "05-fall": lambda n: n["each"] / n["per"] * n["length"],
    "05-push-joint": fixed(("cut", "deburr", "mark", "stiffener", "push", "tug", "read")),
    "05-hot-pipe-grows": lambda n: word(
        {"copper": 17e-6, "PEX": 140e-6}[n["material"]], (5e-5, "little"), (1e-3, "much")
    ),  # [1/K] handbooks
    "05-test-with": fixed("water"),
    "05-gauge-and-warmth": lambda n: n["fell"] - n["each"] / n["one"] * n["cooled"],
    "05-air-or-water": air_or_water,
    "05-pressed-joint": fixed("shape"),
    "06-cut-for-a-rig": cut,
    "06-loss-of-a-pipe": lambda n: loss(
        n["water"], BORES[n["size"]], OUTSIDES[n["size"]], n["thickness"], n["air"], 0.0
    ),
    "06-foam-by-hand": lambda n: n["k"] * n["drop"] / ring(n["inner"], n["outer"]),
    "06-gap": lambda n: n["length"] * n["covered"] + n["gap"] * (n["bare"] - n["covered"]),
    "06-films-in-a-row": lambda n: (n["water"] - n["air"]) / (1 / conductance(n, "foam") + 1 / conductance(n, "film")),
    "06-thin-foam-on-bright-copper": thin_foam,
    "06-foam-or-gaps": foam_or_gaps,
    "06-wind": lambda n: word(wind_times(n), (1.33, "little"), (3, "twice"), (math.inf, "many times")),
    "07-bare-valve": lambda n: word(
        seconds_to_ice(air=n["air"], wind=n["wind"], foam=0.0) / seconds_to_ice(air=n["air"], wind=n["wind"]),
        (0.33, "many times sooner"),
        (0.98, "a little sooner"),
        (math.inf, "same"),
    ),
    "07-clear-sky": ice_by_dawn,
    "07-hours-to-ice": lambda n: seconds_to_ice(air=n["air"], wind=n["wind"]),
    "07-hours-by-hand": lambda n: n["constant"] * math.log((n["start"] - n["air"]) / -n["air"]),
    "07-twice-the-foam": lambda n: word(
        seconds_to_ice(air=n["air"], wind=n["wind"], foam=2 * FOAM) / seconds_to_ice(air=n["air"], wind=n["wind"]),
        (1.02, "same"),
        (2, "less than double"),
        (math.inf, "double"),
    ),
    "07-which-freezes-first": lambda n: min(("cold", "hot"), key=lambda start: seconds_to_ice(n[start], n["air"])),
    "07-draining": fixed(("power", "tag", "shut", "cool", "open", "drain")),
    "07-frozen-tonight": fixed("tap"),
    "08-one-more-layer": lambda n: word(
        hold_power(n["air"], WIND, 2 * FOAM) / hold_power(n["air"], WIND, FOAM),
        (0.5, "half"),
        (0.98, "more than half"),
        (math.inf, "same"),
    ),
    "08-bare-valve": lambda n: "cover" if hold_power(n["air"], n["wind"], 0.0) > n["strong"] else "stronger",
    "08-power-fails": fixed("cools"),
    "08-current": lambda n: n["power"] * n["length"] / n["voltage"],
    "08-continuous-limit": smallest,
    "08-longest-tape": lambda n: n["breaker"] * for_hours(n) * n["voltage"] / n["power"],
    "08-room-on-the-circuit": room,
    "08-electricity": lambda n: n["power"] * n["length"] * n["hours"],
    "08-unit-least": lambda n: n["compressor"] / (1 if n["metric"] else 0.8) + n["others"],
    "08-unit-cable": lambda n: 2 * n["load"] * n["length"] * WARM_CONDUCTORS[n["cable"]],
    "08-unit-breaker-trips": fixed("call"),
    "09-power-fails": fixed("nothing"),
    "09-bigger-pipe": fixed("same"),
    "09-loop-flow": lambda n: n["heat"] / (water(n["supply"] - n["drop"] / 2, "rc") * n["drop"]),
    "09-both-lines": lambda n: n["apart"] * (n["out"] + n["back"]),
    "09-share-lost": lambda n: n["length"] * n["loss"] / n["heat"],
    "09-cools-when-it-stops": lambda n: (
        n["content"]
        * water(n["water"], "D")
        * (
            PropsSI("H", "T", n["water"] + 273.15, "P", 3e5, "Water")
            - PropsSI("H", "T", n["air"] + 273.15, "P", 3e5, "Water")
        )
    ),
    "09-cop": lambda n: (n["warm"] + 273.15) / (n["warm"] - n["cold"]) * n["share"],
    "09-rise-from-flow": lambda n: n["heat"] / (n["flow"] * water(n["back"], "rc")),
    "09-height-in-a-loop": fixed("same"),
    "09-defrost-time": lambda n: n["mass"] * 333_430 / (n["power"] * n["share"]),
    "09-layered-tank": lambda n: n["tank"] * n["share"] * (n["store"] - n["cold"]) / (n["mixed"] - n["cold"]),
    "09-mixed-tank": lambda n: (
        "yes" if (1 - n["share"]) * n["cold"] + n["share"] * n["store"] >= n["mixed"] - 1e-9 else "no"
    ),
    "09-carries-air": lambda n: "carries air" if n["flow"] / area(BORES[n["size"]]) >= 0.6 else "too slow to carry air",
    "10-wider-loop": wider_loop,
    "10-order-of-work": fixed(("vessel", "pressure test", "fill", "purge", "energise", "set the valve")),
    "10-purge-time": lambda n: n["content"] * n["changes"] / n["flow"],
    "10-purge-flow": lambda n: 0.6 * area(n["bore"]),
    "10-vessel-on-a-live-main": lambda n: n["main"],
    "10-growth-of-water": lambda n: n["volume"] * (water(n["cold"], "D") / water(n["hot"], "D") - 1),
    "10-relief-drips": fixed("call"),
    "10-discharge-elbows": lambda n: n["longest"] - n["count"] * n["elbow"],
    "10-valve-takes": lambda n: n["takes"] * (n["more"] / n["flow"]) ** 2,
    "10-unequal-inlets": lambda n: "hot into cold" if n["hot"] > n["cold"] else "cold into hot",
    "10-valve-set-too-early": lambda n: "setting" if n["now"] - n["setting"] >= n["least"] - 1e-9 else "more",
    "11-pre-charge": fixed("nothing"),
    "11-two-legs": lambda n: n["tank"] - n["first"] - n["second"],
    "11-pipe-to-buy": lambda n: n["total"] * (1 + n["spare"]),
    "11-bars-to-buy": lambda n: -(-n["total"] // n["bar"]),
    "11-wait-through-two-sizes": lambda n: (
        (n["first"] * n["first_each"] + n["second"] * n["second_each"]) / n["per"] / n["flow"]
    ),
    "11-pressure-left": lambda n: n["main"] - n["friction"] - water(15, "D") * 9.80665 * n["height"],
    "11-bare-at-the-clips": bare_at_the_clips,
    "11-who-does-it": fixed("circuit"),
    "14-cooler-against-scale": fixed("keep"),
    "14-flow-of-a-return": lambda n: (n["out"] + n["home"]) / (water(n["supply"] - n["drop"] / 2, "rc") * n["drop"]),
    "14-far-branch": fixed("throttle"),
    "14-mixed-loop": fixed("hot"),
    "14-timer": fixed("lukewarm"),
    "14-day-of-a-return": lambda n: 24 * 3600 * (n["loss"] / n["cop"] + n["watts"]),
    "14-no-pump-no-flow": fixed("runs"),
    "14-push": lambda n: (water(n["cool"], "D") - water(n["warm"], "D")) * 9.80665 * n["tall"],
    "12-second-thermometer": lambda n: n["enters"] - n["first"] - n["second"],
    "12-bucket": lambda n: n["filled"] / n["seconds"],
    "12-two-slips": two_slips,
    "12-loss-from-readings": lambda n: n["flow"] * water(n["water"], "rc") * n["drop"] / n["length"],
    "12-foam-from-readings": lambda n: n["loss"] * ring(n["inner"], n["outer"]) / n["drop"],
    "12-thermometers-in-doubt": lambda n: 2 * n["error"] / n["drop"],
    "12-further-off": lambda n: 1 - n["model"] / n["measured"],
    "12-why-they-differ": fixed("gaps"),
    "13-passes-less": lambda n: 1 - n["scaled"] / n["clean"],
    "13-twice-as-hard": harder,
    "13-scale-of-a-year": lambda n: n["falls"] * n["litres"] * n["days"],
    "13-hardness-in-your-unit": lambda n: n["stated"],
    "13-step-across-scale": lambda n: n["heat"] / n["surface"] * n["thick"] / n["k"],
    "13-read-the-panel": lambda n: 1e-3 * scale(1e3 * n["hardness"], 10, n["hot"]),
    "13-store-cooler": fixed("keep"),
    "13-anode-eaten": fixed("renew"),
    "13-wet-pan": fixed("find"),
    "13-hammer-rise": lambda n: 1000 * n["wave"] * n["speed"],
    "13-wave-there-and-back": lambda n: n["length"] / n["wave"] + n["length"] / n["wave"],
    "13-relief-and-plastic": fixed("hotter"),
    "13-union-and-copper": fixed("carried"),
    "13-which-pipe-barrier": fixed("drinking"),
}


def numbers(one) -> dict:
    """What varies, in SI, from the figures that the reader sees."""
    found = {"metric": one.system == SI}
    for name, spec in one.question.varies.items():
        value = one.values[name]
        found[name] = (
            value if spec.kind == "words" else in_si(value.magnitude, spec.kind, (one.system == SI) != spec.foreign)
        )
    return found


@pytest.mark.parametrize("question", questions(), ids=lambda one: one.id)
@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("seats", SEATS, ids=str)
def test_the_answer_by_another_path(question, system, seats):
    for seat in seats:
        one = variant(question, seat, system)
        expected = ANSWERS[question.id](numbers(one))
        if not one.is_number:
            assert one.answer == expected, (seat, one.text)
            continue
        found = in_si(one.answer.magnitude, question.answer.kind, system == SI)
        if question.answer.kind == "temperature":
            assert found == pytest.approx(expected, abs=DELIVERED if question.kind == "panel" else EXACT), (
                seat,
                one.text,
            )
        else:
            assert found == pytest.approx(expected, rel=TOLERANCES.get(question.id, EXACT)), (seat, one.text)


# Which orders are right, by where each step stands: reasoned from the work, not from the pairs in the files.
RIGHT_ORDERS = {
    # A square end comes first. Pushing, tugging and reading come last. In between only the burr must be off before the stiffener goes in.
    "05-push-joint": (
        3,
        lambda at: (
            at["cut"] == 0 and (at["push"], at["tug"], at["read"]) == (4, 5, 6) and at["deburr"] < at["stiffener"]
        ),
    ),
    # Power first, and the tag whenever the lock is on. Of the rest draining comes last, and no tap is opened on a live supply.
    "07-draining": (
        15,
        lambda at: at["power"] == 0 and at["drain"] > max(at["cool"], at["open"]) and at["open"] > at["shut"],
    ),
    # The vessel is shut off or taken out for the test, so it may be set before or after it. All else has one place.
    "10-order-of-work": (
        2,
        lambda at: (
            [key for _, key in sorted((place, key) for key, place in at.items())][2:]
            == ["fill", "purge", "energise", "set the valve"]
        ),
    ),
}


@pytest.mark.parametrize("question", [one for one in questions() if one.kind == "order"], ids=lambda one: one.id)
def test_every_order_that_harms_nobody_is_right_and_no_other(question):
    one, (count, right) = variant(question, 7), RIGHT_ORDERS[question.id]
    letters = {key: letter for letter, key, _ in one.choices}
    found = 0
    for keys in permutations(question.options):
        marked = mark(one, " ".join(letters[key] for key in keys))
        assert marked.right == right({key: place for place, key in enumerate(keys)}), keys
        assert marked.right or marked.mistake != OTHER and "numbers" not in marked.ask
        found += marked.right
    assert found == count


def test_every_question_has_its_other_path():
    assert set(ANSWERS) == {one.id for one in questions()}


def test_orders_are_those_of_the_shared_texts():
    """The push joint stands in the caution of the take-off, the order of work in its table: read there, not typed here."""
    from lessons_lib.plant.take_off import CAUTION

    words = ("cut square", "deburr", "mark the depth", "stiffener", "push to the mark", "tug", "read the mark")
    places = [CAUTION.lower().index(words_) for words_ in words]
    assert places == sorted(places)
    text = (Path(__file__).parents[2] / "data" / "work_order.csv").read_text(encoding="utf-8")
    places = [re.search(f"^{key},", text, re.MULTILINE).start() for key in ANSWERS["10-order-of-work"]({})]
    assert places == sorted(places)
