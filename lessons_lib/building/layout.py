"""A whole layout: what the reader's building looks like, and every question that can be asked of it."""

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from ..quantities.display import system_of
from ..quantities.results import Printed
from ..quantities.units import Q_, Quantity, to_base
from ..runs.run import Run
from ..runs.tape import TapePlan, bore_over, plan
from ..storage.files import refuse_what_is_there
from . import changes, pieces, take_off, water
from .frost import places_of
from .invented import invented
from .kept import kept
from .parts import FLOOR, Buying, Leg, Loop, NightSpec, TapeSupply, Valve
from .readings import LayoutAssessment, assess
from .source import NO_LENGTH
from .tree import Tree, loses_like

USUAL_TAPE = Q_(6.0, "mm")  # thickness of a tape that was not measured (common practice, no source)


@dataclass(frozen=True, repr=False, eq=False)
class Layout(Printed):
    """A building's hot water, from `load_layout`.

    name, about, address, author, date, file : texts; "" where the file says none
    pressure : at the tank while water flows, a gauge reading; cold_inlet, set_temperature : temperatures
    night : NightSpec, the first of the file; also : the same layout on each of the others
    tank_place : where the tank stands; valve : Valve or None
    legs, taps : tuples; loop : Loop or None
    tape_supply : TapeSupply; measured : tuple of Measured; buying : Buying
    floors : (name, height above the tank's outlet) pairs, the lowest first; () where the file names none
    unfinished : of a layout read as far as it goes, an Unfinished for each piece that is not there yet; else empty
    """

    name: str
    about: str
    address: str
    author: str
    date: str
    file: str
    pressure: Quantity
    cold_inlet: Quantity
    set_temperature: Quantity
    tank_place: str
    night: NightSpec = field(repr=False)
    valve: Valve | None = field(repr=False)
    legs: tuple = field(repr=False)
    taps: tuple = field(repr=False)
    loop: Loop | None = field(repr=False)
    tape_supply: TapeSupply = field(repr=False)
    measured: tuple = field(repr=False)
    buying: Buying = field(repr=False)
    floors: tuple = field(default=(), repr=False)
    unfinished: tuple = field(default=(), repr=False)
    also: tuple = field(default=(), repr=False)

    @property
    def on_nights(self) -> tuple:
        """The layout on each of its nights, itself on the first."""
        return self, *self.also

    @cached_property
    def tree(self) -> Tree:
        """Says how the legs between tank and taps hang together."""
        return Tree.of(self.legs)

    @cached_property
    def all_legs(self) -> tuple:
        """The legs to the taps, then those of the loop."""
        return self.legs + (self.loop.legs if self.loop else ())

    @cached_property
    def trees(self) -> tuple:
        """The tree to the taps, and a row of legs for each line of the loop."""
        lines = (self.loop.hot, self.loop.back) if self.loop else ()
        return self.tree, *(Tree.of(in_a_row(line)) for line in lines)

    @cached_property
    def ends(self) -> dict:
        """Gives for each leg by its name the fittings at its start and end as its pipe sits in them, a Socket each;
        None for a plain end.
        """
        return {
            leg.name: (tree.start_socket(number), tree.end_socket(number))
            for tree in self.trees
            for number, leg in enumerate(tree.legs)
        }

    @cached_property
    def met(self) -> dict:
        """Gives for each leg by its name the fitting at its start as the water meets it, None at tank and heat pump."""
        return {leg.name: tree.start_fitting(number) for tree in self.trees for number, leg in enumerate(tree.legs)}

    @property
    def joints(self) -> list:
        """Every elbow, coupling, reducer and tee with its transitions; see Tree.joints."""
        return [joint for tree in self.trees for joint in tree.joints if joint]

    @cached_property
    def runs(self) -> dict:
        """One Run for each leg, by its name. Its fittings are those along the leg and the elbow or tee at its start."""
        return {leg.name: self.run_of(leg) for leg in self.all_legs}

    def run_of(self, leg: Leg) -> Run:
        """The Run of one leg. Raises InputError where its covering is beyond what the library is for.

        A tape touches the insulation and warms the air beside it, so that air is given no credit: the cautious side.
        """
        start = self.met[leg.name]

        def make() -> Run:
            insulation = leg.insulation
            if leg.tape is not None and insulation.thickness.magnitude > 0:
                insulation = replace(insulation, bore=self.bore_of(leg), gap="open")
            fittings = (*leg.fittings, *([loses_like(leg, start)] if start else ()))
            return Run(leg.pipe, leg.length, insulation, leg.surroundings, fittings, leg.bare_share)

        return kept(("run", leg, start, self.tape_supply), make)

    def bore_of(self, leg: Leg):
        """Bore of the insulation on a leg: over the pipe, and over tape and ties where there is a tape."""
        if leg.tape is None:
            return leg.pipe.outside_diameter.to("mm")
        return bore_over(leg.pipe, self.tape_supply.thickness or USUAL_TAPE)

    def floor_of(self, level: float) -> str:
        """The name of the floor that a level [m above the tank's outlet] belongs to; "" where the file names none."""
        return next((name for name, height in self.floors[::-1] if to_base(height, FLOOR) <= level + 0.01), "")

    def floor_of_leg(self, row: int) -> str:
        """The name of the floor on which a leg of `all_legs` begins; "" where the file names none, and in the loop."""
        if row >= len(self.legs):
            return ""
        above = self.tree.parent[row]
        return self.floor_of(0.0 if above < 0 else float(self.tree.rise[above]))

    @cached_property
    def no_length(self) -> set:
        """Names of the legs whose length is not said yet."""
        return {error.leg for error in self.unfinished if error.sign == NO_LENGTH}

    @cached_property
    def open_ends(self) -> dict:
        """Gives the words at an end of the sketch where something is not there yet, by the leg's name, like "tap?"."""
        return {error.leg: error.sign for error in self.unfinished if error.sign not in ("", NO_LENGTH)}

    @cached_property
    def tap_legs(self) -> list[int]:
        """Number of the leg that each tap sits on."""
        numbers = {leg.name: number for number, leg in enumerate(self.legs)}
        return [numbers[tap.leg] for tap in self.taps]

    @cached_property
    def valve_leg(self) -> int | None:
        """Number of the leg that the mixing valve sits on."""
        return None if self.valve is None else [leg.name for leg in self.legs].index(self.valve.leg)

    @cached_property
    def behind_valve(self) -> np.ndarray:
        """Says which taps get mixed water, (taps,) of bool."""
        if self.valve is None:
            return np.zeros(len(self.taps), dtype=bool)
        return self.tree.below(self.valve_leg)[self.tap_legs]

    @cached_property
    def network(self) -> water.Network:
        """Pipes and taps for the physics of pressure."""
        return water.Network.of(self)

    def flows(self, open_taps=None) -> water.WaterFlow:
        """Flow and pressure with some taps wide open.

        open_taps : names of taps; None: all
        Raises InputError: names that no tap has.
        """
        return water.flows(self, open_taps)

    def assess(self) -> LayoutAssessment:
        """Every tap, every leg that can freeze, tank, valve and loop, on the worst of the layout's nights. See
        LayoutAssessment.
        """
        return assess(self)

    def pieces_of(self, leg: Leg) -> tuple:
        """The pieces of pipe that a leg is cut into. Raises InputError where its fittings leave no room."""
        key = "pieces", leg, self.ends[leg.name], self.measured, self.buying
        return kept(key, lambda: pieces.pieces_of(self, leg))

    def tape_plan(self, leg: Leg) -> TapePlan:
        """Gives what the tape of a leg needs under its insulation, with the usual extra for each valve along it."""
        valves = sum(count for name, count in leg.fittings if "valve" in name)
        return plan(places_of(self.run_of(leg))[0], leg.tape, self.tape_supply.hold, brackets=valves)

    def take_off(self, system: str | None = None) -> take_off.TakeOff:
        """Gives what to cut and buy. See TakeOff.

        system : unit system of the sizes in its words; None: as the tank's temperature is given
        """
        return take_off.take_off(self, system_of(self.set_temperature) if system is None else system)

    def first_changes(self, count: int = 3, pairs: int = 0) -> tuple:
        """The changes that help most, the best first, and after them so many pairs that help most together. See
        changes.Change.
        """
        return changes.first_changes(self, count, pairs)

    @property
    def invented(self) -> str:
        """Says what every paper says of a layout that came with the workbook, "" of a reader's own; see invented.py."""
        return invented(self)

    def sheet(self, path, paper: str = "A4", system: str | None = None, replace: bool = False):
        """Write the sheet for a licensed contractor, as HTML or PDF, or all its tables as CSV, whole or not at all;
        returns the path.

        paper : "A4" or "Letter"; system : unit system, None: as the tank's temperature is given
        replace : True: an existing file may be written over
        Raises InputError: the file is there; another ending; unknown paper or unit system.
        """
        from .run_sheet import run_sheet, save  # drawing is loaded only where something is drawn

        refuse_what_is_there(path, replace)
        return save(run_sheet(self, system=system, papers=(paper,)), path, paper, replace)


def in_a_row(legs: tuple) -> tuple:
    """Legs of a line as a tree that begins at the tank."""
    return tuple(
        replace(leg, start="tank" if number == 0 else legs[number - 1].name) for number, leg in enumerate(legs)
    )
