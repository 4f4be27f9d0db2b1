"""The tables of a building's sheet, in the reader's units: each leg, tap, piece and part of it has a row."""

from math import inf, isfinite, isinf, isnan

from ..plant.take_off import TEE_ORDER
from ..quantities.display import ICE_FREE, NEAR_FREEZING, SI, US, measured, number, show, unbroken
from ..quantities.units import quantity
from ..runs.assessment import ICY, NO_WATER, ON_THE_EDGE
from ..runs.flow import speed
from ..sheets.blocks import Heading, Table, Text
from .changes import SCORED_IN_SHORT
from .frost import NO_ICE
from .parts import BURIED
from .take_off import MEASURE
from .words import (
    NO_CHANGE,
    add_up,
    adults_skin,
    holds_with,
    hot_words,
    ice_after,
    ranges,
    settles_words,
    tape_to_buy,
    to_buy,
    warm_after,
)

NAME = 28  # letters of a name in a sentence
TICK = "☐"
SHORT_WORDS = {NO_ICE: ICE_FREE, ON_THE_EDGE: NEAR_FREEZING}
KINDS = (  # of the take-off, and the heading of its table
    ("fitting", f"Fittings to tick off; sizes of a tee: {TEE_ORDER.strip(' ()')}"),
    ("insulation", "Insulation"),
    ("clip", "Clips"),
    ("tape", "Heat tape to buy"),
)
# Of the columns of a building's taps, as wide as the numbers of each unit system are.
TAP_WIDTHS = {SI: (14.4, 9.2, 12.6, 11.7, 11.5, 9.2, 13.3), US: (14.4, 11, 11.2, 11, 9.6, 9, 15.7)}
HELPS = {  # what a change helps, by the part of the score that falls most
    "wait": "the wait",
    "cool": "warmth at taps",
    "flow": "the flow",
    "scald": "against scalds",
    "ice": "against ice",
    "store": "the tank",
}
NO_COLD_LEG = "Every leg lies in a heated room."


class Rows:
    """Tables of one layout's sheet. numbers : of each leg by its name, as on the sketch"""

    def __init__(self, layout, assessment, system: str):
        self.layout, self.found, self.system = layout, assessment, system
        self.list = layout.take_off(system)
        self.numbers = {leg.name: number for number, leg in enumerate(layout.all_legs, 1)}

    def everything(self) -> list:
        """Every table under its heading, in the order in which the work goes."""
        return [
            *(Heading("Legs"), self.legs()),
            *(Heading("Places"), self.places()),
            *(Heading("Levels, to see the floors"), self.levels()),
            *(Heading("Taps"), self.taps()),
            *self.taps_by_night(),
            *(Heading("Legs in the cold"), self.cold_legs()),
            *self.nights(),
            *self.tapes(),
            *(Heading("Pipe"), self.pipes()),
            *self.bought(),
            *(Heading("Pieces to cut"), self.cuts()),
        ]

    def legs(self) -> Table:
        """A row for each leg, as it is built; the speed is that with all taps open, in the loop that of its pump."""
        flows = self.layout.flows()
        speeds = dict(zip(flows.legs, flows.speed))
        if self.layout.loop is not None:
            speeds |= {leg.name: speed(leg.pipe, self.layout.loop.flow) for leg in self.layout.loop.legs}
        head = (
            "no.",
            "leg",
            "from",
            "goes",
            "length",
            "pipe, along it",
            "joint",
            "insulation",
            "place",
            "speed, all open",
        )
        rows = tuple(
            (
                str(self.numbers[leg.name]),
                leg.name,
                self._from(leg),
                leg.go,
                measured(leg.length, self.system),
                ", ".join([leg.pipe.name, *(f"{count} × {name}" for name, count in leg.fittings)]),
                leg.joint,
                self._covering(leg),
                leg.place,
                self._show(speeds[leg.name], "speed"),
            )
            for leg in self.layout.all_legs
        )
        return table(head, rows, (4.8, 14, 7, 6.4, 9, 14, 7.4, 14, 10.8, 9))

    def _from(self, leg) -> str:
        """Says where a leg begins: at the end of another leg, by its number, or at tank or heat pump."""
        return f"leg {self.numbers[leg.start]}" if leg.start in self.numbers else leg.start

    def _covering(self, leg) -> str:
        """The insulation of a leg and what is bare of it."""
        thick = leg.insulation.thickness
        if thick.magnitude == 0:
            return "none"
        bare = f", {100 * leg.bare_share:.2g} % bare" if leg.bare_share else ""
        return f"{leg.insulation.material} {self._show(thick, 'thickness')}{bare}"

    def places(self) -> Table:
        """A row for each place with its temperature, wind or soil, and the legs that lie there."""
        groups: dict = {}
        for leg, *others in zip(*(house.all_legs for house in self.layout.on_nights)):
            around = "; ".join(dict.fromkeys(map(self._around, (leg, *others))))
            groups.setdefault((leg.place, around), []).append(self.numbers[leg.name])
        rows = tuple((place, around, ranges(legs)) for (place, around), legs in groups.items())
        return table(("place", "around the pipe", "legs"), rows, (6, 14, 17))

    def _around(self, leg) -> str:
        """Says what is around the pipe of a leg."""
        around = leg.surroundings
        if leg.place == BURIED:
            temperature, depth = self._show(around.temperature, "temperature"), measured(around.depth, self.system)
            return f"{around.soil} soil of {temperature}, {depth} deep"
        wind = f", wind {self._show(around.wind, 'wind')}" if around.wind.magnitude else ""
        return f"air of {self._show(around.air, 'temperature')}{wind}"

    def levels(self) -> Table:
        """A row for each level at which legs run or taps sit, the lowest first: the floors of a building."""
        tree, taps = self.layout.tree, {tap.leg: tap.name for tap in self.layout.taps}
        rows: dict = {}
        for rise, leg in sorted(zip(tree.rise, tree.legs), key=lambda one: one[0]):
            along, above = rows.setdefault(measured(quantity(float(rise), "m"), self.system), ([], []))
            if leg.go not in ("up", "down"):
                along.append(self.numbers[leg.name])
            if leg.name in taps:
                above.append(taps[leg.name])
        told = ((level, ranges(along), ", ".join(above)) for level, (along, above) in rows.items() if along or above)
        return table(("above the tank", "legs that run level", "taps"), tuple(told), (6, 14, 17))

    def taps(self) -> Table:
        """A row for each tap; the slowest and the hottest are marked."""
        head = ("tap: alone / all open", "arrives", "wait, water", "flow", "pressure", "adult's skin", "if unmixed")
        return table(head, tuple(map(self._tap, self.found.taps)), TAP_WIDTHS[self.system])

    def _tap(self, tap) -> tuple:
        marks = [
            word
            for word, name in (("slowest", self.found.slowest), ("hottest", self.found.hottest))
            if name == tap.name
        ]
        name = tap.name + (f" ({', '.join(marks)})" if marks else "")
        if isnan(tap.delivered.magnitude):
            return name, NO_WATER, "", "", "", "", ""
        drawn = f", {self._show(tap.water_drawn, 'volume')}" if isfinite(tap.wait.magnitude) else ""
        two = (("delivered", "temperature"), ("flow", "flow"), ("pressure", "pressure"))
        arrives, flow, pressure = (
            f"{self._number(getattr(tap, name), kind)} / {self._show(getattr(tap, f'{name}_with_others'), kind)}"
            for name, kind in two
        )
        hot = tap.hottest_night
        unmixed = f"{adults_skin(hot.unmixed)} ({self._show(hot.unmixed, 'temperature')})"
        return name, arrives, f"{warm_after(tap)}{drawn}", flow, pressure, adults_skin(hot.delivered), unmixed

    def taps_by_night(self) -> list:
        """A row for each tap on each of several nights; the worst, which the table of taps shows, is marked."""
        rows = tuple(
            (
                tap.name,
                f"{one.night}{' (worst)' if one.night == tap.night else ''}",
                f"{self._show(one.delivered, 'temperature')}, {one.tap.word}",
                warm_after(one),
                self._show(one.unmixed, "temperature"),
                adults_skin(one.unmixed),
            )
            for tap in self.found.taps
            for one in tap.nights
            if not isnan(one.delivered.magnitude)
        )
        head = ("tap", "night", "arrives", "wait", "if unmixed", "adult's skin")
        return [Heading("Each night, tap by tap"), table(head, rows, (9, 9, 8, 4, 4, 7))] if rows else []

    def cold_legs(self) -> Table | Text:
        """A row for each leg that is not in a heated room; what freezes first comes first."""
        if not self.found.legs:
            return Text(NO_COLD_LEG)
        head = ("leg", "place", "with power", "power off", "settles at", "heat that holds it")
        rows = tuple(
            (
                self.named(leg.leg) + (" (coldest)" if leg.leg == self.found.coldest else ""),
                leg.place,
                self.ice(leg, leg.with_power),
                self.ice(leg, leg.without_power),
                "" if leg.rest is None else self._show(leg.rest, "temperature"),
                holds_with(leg, self.system),
            )
            for leg in sorted(self.found.legs, key=self._freezes)
        )
        return table(head, rows, (10, 4.6, 6.6, 6.6, 4.2, 7.4))

    def nights(self) -> list:
        """A row for each leg on each of several nights; the worst, which the table of cold legs shows, is marked."""
        rows = tuple(
            (
                self.named(leg.leg),
                f"{one.night}{' (worst)' if one.night == leg.night else ''}",
                self.ice(one, one.with_power),
                self.ice(one, one.without_power),
                "" if one.rest is None else self._show(one.rest, "temperature"),
            )
            for leg in sorted(self.found.legs, key=self._freezes)
            for one in leg.nights
        )
        head = ("leg", "night", "with power", "power off", "settles at")
        return [Heading("Each night, leg by leg"), table(head, rows, (10, 9, 7, 7, 5))] if rows else []

    def _freezes(self, leg) -> tuple:
        """The order in which legs freeze; buried ones are not answered and come last."""
        return leg.leg != self.found.coldest, inf if leg.rest is None else leg.without_power.value.magnitude

    def tapes(self) -> list:
        """A row for the tape of each leg, where there is any."""
        head = ("tape on leg", "to buy", "each gives", "needed", "on its circuit", "hottest place")
        rows = tuple(
            (
                self.named(leg.leg),
                tape_to_buy(leg, self.system),
                self._show(leg.plan.given, "tape power"),
                holds_with(leg, self.system),
                f"{self._show(leg.circuit.load, 'current')} of {self._show(leg.circuit.continuous_limit, 'current')}",
                hot_words(leg, self.system) or f"settles at {self._show(leg.hottest_kept, 'temperature')}",
            )
            for leg in self.found.legs
            if leg.plan is not None
        )
        return [Heading("Heat tape, leg by leg"), table(head, rows, (9, 6, 4, 7, 5, 7))] if rows else []

    def named(self, leg: str) -> str:
        """A leg by number and name."""
        return f"{self.numbers[leg]} {leg}"

    def ice(self, leg, verdict) -> str:
        """Says when ice can form, in short."""
        if verdict.word == ICY:
            return f"ice: {settles_words(leg, self.system)}"
        if verdict.value is None or isinf(verdict.value.magnitude):
            return SHORT_WORDS.get(verdict.word, verdict.word)
        return ice_after(verdict)

    def pipes(self) -> Table:
        """A row for each pipe: what the pieces add up to, and the lengths to buy."""
        rows = []
        for row in self._kind("pipe"):
            bars = self.list.bars[row.what]
            rows.append(
                (
                    row.what,
                    *self._amounts(row),
                    f"{bars.bars_to_buy} of {measured(bars.stock, self.system)}",
                    self._show(bars.waste, "length"),
                )
            )
        return table(("pipe", "need", "with spare", "buy", "waste"), tuple(rows), (12, 5, 5, 9, 6))

    def bought(self) -> list:
        """A table with a row for each thing to buy beside pipe, with a box to tick."""
        head, widths = ("", "what", "size or pipe", "need", "with spare", "note"), (1.5, 9.5, 10, 3.2, 3.4, 11.2)
        found = []
        for kind, heading in KINDS:
            rows = tuple(
                (TICK, row.what, row.size.removesuffix(TEE_ORDER), *self._amounts(row), row.note)
                for row in self._kind(kind)
            )
            found += [Heading(heading), table(head, rows, widths)] if rows else []
        return found

    def cuts(self) -> Table:
        """A row for each piece of pipe, by the number of its leg."""
        rows = tuple(
            (
                TICK,
                f"{self.numbers[piece.leg]}: {piece.number}",
                piece.pipe,
                measured(piece.centre_to_centre, self.system),
                measured(piece.cut, self.system),
                " to ".join(end or "plain end" for end in (piece.first, piece.second)),
                MEASURE if piece.measure else "",
            )
            for piece in self.list.pieces
        )
        head = ("", "leg: piece", "pipe", "centre to centre", "cut", "between", MEASURE)
        return table(head, rows, (1.5, 3.6, 8.8, 5.5, 5.5, 9.6, 4.2))

    def _kind(self, kind: str) -> list:
        """The rows of one kind in the take-off."""
        return [row for row in self.list.rows if row.kind == kind]

    def _amounts(self, row) -> tuple:
        """Says what is needed of a row of the take-off, and that with spare."""
        return to_buy(row.need, self.system), to_buy(row.with_spare, self.system)

    def any_measure(self) -> bool:
        """Says whether anything in the list is provisional until it is measured."""
        return any(MEASURE in row.note for row in self.list.rows) or any(piece.measure for piece in self.list.pieces)

    def first_changes(self, changes) -> tuple:
        """Says what to change first, what each change helps most, and what two do together."""
        if not changes:
            return (Text(NO_CHANGE),)
        single = [one for one in changes if not one.alone]
        rows = tuple(
            (str(place), change.words, _helped(change), f"{change.gain:.1f}") for place, change in enumerate(single, 1)
        )
        head = ("", "change, tried alone", "helps most", "points less")
        found = [table(head, rows, (1.2, 23, 7, 5))] if rows else []
        rows = tuple(
            (pair.words, " + ".join(f"{one.gain:.1f}" for one in pair.alone), f"{pair.gain:.1f}", add_up(pair))
            for pair in changes
            if pair.alone
        )
        head = ("two changes together", "points less, each alone", "together", "do they add up?")
        found += [table(head, rows, (19, 7, 4, 7))] if rows else []
        return (*found, Text(SCORED_IN_SHORT))

    def _show(self, value, kind: str) -> str:
        return show(value, kind, self.system)

    def _number(self, value, kind: str) -> str:
        return number(value, kind, self.system)


def table(head, rows, shares) -> Table:
    """A table in which no number breaks from its unit."""
    return Table(head, tuple(tuple(map(unbroken, row)) for row in rows), shares)


def clipped(name: str, most: int = NAME) -> str:
    """A name that keeps to its place in a line."""
    return name if len(name) <= most else name[: most - 1].rstrip() + "…"


def _helped(change) -> str:
    """Says what a change helps most."""
    return HELPS[max(HELPS, key=lambda name: getattr(change.before, name) - getattr(change.after, name))]
