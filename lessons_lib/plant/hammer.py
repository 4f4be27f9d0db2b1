"""Hammer in a run: how high the pressure goes when a tap shuts, and what an arrestor makes of it."""

from dataclasses import dataclass

import numpy as np

from ..physics import hammer as physics
from ..physics.properties import water
from ..physics.purge import area, speed
from ..physics.tank import compressibility
from ..quantities.errors import InputError
from ..quantities.results import Printed, Word
from ..quantities.units import BORE, FLOW, LENGTH, Q_, START, Domain, Quantity, broadcast, quantity, to_base
from ..runs.pipe import Pipe, pipe_material
from ..storage import tables

CLOSING = Domain("closing time", "s", 0, 60, 'Q_(30, "ms")')
HOUSE_PRESSURE = Domain("house pressure", "Pa", 10e3, 2e6, 'Q_(400, "kPa")')
CUSHION = Domain("air cushion", "m**3", 0, 0.01, 'Q_(0.1, "L")')

# What an arrestor is to hold a shock below, and the shock that tests it (ASSE 1010 and PDI-WH 201, from memory)
HELD_BELOW, TESTED_WITH = Q_(150, "psi"), Q_(400, "psi")
SOFT, HAMMERS, HARD = Word("a soft stop", 0), Word("hammers", 1), Word("hammers hard", 2)
FASTER, SLOWER = Word("faster than the wave", 1), Word("slower than the wave", 0)
CAUTION = (
    "A reckoning for one straight pipe without friction, clipped so that it can't lengthen: for seeing what matters,"
    " not for sizing. Branches, air and loose clips change it. A banging pipe works loose and wears through: find the"
    " tap that shuts too fast. An arrestor is chosen by its maker's and the code's table, and stays within reach. House"
    " pressure above what the code allows needs a reducing valve first."
)


@dataclass(frozen=True, repr=False, eq=False)
class Hammer(Printed):
    """Says what a shutting tap does to the pressure.

    speed : of the water before [m/s]; wave : of the pressure wave [m/s]
    there_and_back : in which the wave returns from the main; what shuts faster shuts at once [s]
    rise : above the house pressure, without an arrestor [kPa]; peak : with one, above the air's [kPa]
    word : "a soft stop", "hammers" or "hammers hard"
    """

    speed: Quantity
    wave: Quantity
    there_and_back: Quantity
    rise: Quantity
    peak: Quantity
    word: str
    caution: str = CAUTION


def hammer(pipe: Pipe, flow, length, closing, pressure, temperature=Q_(15, "degC"), cushion=Q_(0, "L")) -> Hammer:
    """The pressure at a tap that shuts, in a straight run of one pipe from the main.

    pipe : of a material in data/pipe_materials.csv; flow : before the tap shuts; length : from main to tap
    closing : seconds from open to shut; pressure : of the house, as a gauge shows it
    cushion : air of an arrestor at the tap, at house pressure; temperature : of the water
    Plastic is taken as stiff as at 23 degC; hot it is softer, and hammers less. Each is one value. Raises InputError.
    """
    moving, long, seconds = to_base(flow, FLOW), to_base(length, LENGTH), to_base(closing, CLOSING)
    house, warm, air = to_base(pressure, HOUSE_PRESSURE), to_base(temperature, START), to_base(cushion, CUSHION)
    if broadcast(flow=moving, length=long, closing=seconds, pressure=house, temperature=warm, cushion=air):
        raise InputError("hammer: give one value of each, not a list.")
    bore, wave = to_base(pipe.inside_diameter, BORE), wave_in(pipe, warm)
    density, before = float(water(warm).density), float(speed(moving, bore))
    bare = float(physics.rise(density, wave, before, long, seconds, house))
    cushioned = float(physics.cushioned_rise(density, area(bore), long, before, house, air))
    peak = quantity(house + min(bare, cushioned), "Pa").to("kPa")
    return Hammer(
        quantity(before, "m/s"),
        quantity(wave, "m/s"),
        quantity(physics.there_and_back(long, wave), "s"),
        quantity(bare, "Pa").to("kPa"),
        peak,
        peak_word(peak),
    )


def wave_in(pipe: Pipe, celsius: float) -> float:
    """Speed of a pressure wave [m/s] in a pipe's water of a temperature [degC]. Raises InputError."""
    if not isinstance(pipe, Pipe):
        raise InputError(f'pipe: {pipe!r} was given where a Pipe is needed, like Pipe.nominal("copper L", "1/2 in").')
    wall = pipe_material(pipe.material)
    inside, outside = (value.to("m").magnitude for value in (pipe.inside_diameter, pipe.outside_diameter))
    give = physics.give_of_bore(inside, outside, wall.elastic_modulus, wall.poisson)
    return float(physics.wave_speed(water(celsius).density, compressibility(celsius), give))


def peak_word(peak) -> Word:
    """Gives the word for the highest pressure at the tap."""
    return SOFT if peak <= HELD_BELOW else HAMMERS if peak <= TESTED_WITH else HARD


def closing_word(closing, there_and_back) -> Word:
    """Says whether a tap shuts before the wave is back from the main."""
    return FASTER if closing <= there_and_back else SLOWER


@dataclass(frozen=True)
class ArrestorSize:
    """A size of arrestor by the fixture units that it serves: a row of data/hammer_arrestors.csv."""

    letter: str
    most: int
    source: str


def arrestor_size(fixture_units: int) -> ArrestorSize:
    """The smallest listed size of arrestor that serves so many fixture units. Raises InputError beyond the table."""
    sizes = [ArrestorSize(row["size"], row.whole("most"), row["source"]) for row in tables.rows("hammer_arrestors")]
    if not np.isfinite(fixture_units) or fixture_units < 1 or fixture_units > sizes[-1].most:
        raise InputError(
            f"fixture units: {fixture_units} was given; possible is 1 to {sizes[-1].most}. Beyond that the code asks"
            " for more than one arrestor."
        )
    return next(size for size in sizes if fixture_units <= size.most)
