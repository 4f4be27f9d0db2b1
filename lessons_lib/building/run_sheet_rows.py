"""The tables and sentences of a building's sheet, in the reader's units."""

from math import inf, isfinite, isinf, isnan

from ..plant.take_off import TEE_ORDER
from ..quantities.display import ICE_FREE, NEAR_FREEZING, SI, US, duration, measured, number, show
from ..runs.assessment import ICY, NO_WATER, ON_THE_EDGE
from ..runs.bacteria import STORE_ADVICE
from ..runs.pipe import materials
from ..runs.scald import BURN_SOONER
from ..sheets.blocks import Table, Text
from .frost import NO_ICE
from .take_off import MEASURE
from .words import burn_time, holds_with, hot_words, settles_words, tape_to_buy, to_buy, warm_after

NAME = 28  # letters of a name in a table
MOST_NUMBERS = 12  # of legs in one cell
SHORT_WORDS = {NO_ICE: ICE_FREE, ON_THE_EDGE: NEAR_FREEZING}
KINDS = (
    ("fitting", f"fittings; tees: {TEE_ORDER.strip(' ()')}"),
    ("insulation", "insulation"),
    ("clip", "clips"),
    ("tape", "heat tape"),
)
ABOUT_MEASURE = '"measure": provisional until you take centre to face and depth from the fittings in your hand. '
FOOT = (
    "Model values; burn times: adults, good to a factor of two. Hot Water Runs{source}; its CSV of the take-off has"
    " every piece."
)
ALWAYS = f"{BURN_SOONER}. Test with water before you cover. Storing below {STORE_ADVICE} is not recommended."
# Of the columns of a building's taps, as wide as the numbers of each unit system are.
TAP_WIDTHS = {SI: (14.4, 9.2, 14.2, 11.7, 11.5, 7.6, 13.3), US: (14.4, 11.2, 12.2, 11.2, 9.6, 7.6, 15.7)}
VALVE = (
    "A licensed trade sets the mixing valve by thermometer, with the tank at its highest, and checks it at least once a"
    " year. One whose class protects against scalding falls to a trickle with its cold shut; a tank valve (ASSE 1017,"
    " EN"
    " 15092) need not. It protects no tap before it and replaces no listed valve at a bath or shower."
)
ICE = "Ice begins at bare valves, elbows and brackets; insulation delays ice, it does not stop it."
TAPE = (
    "Heat tape: only with insulation that its maker lists, within the pipe's limit, never crossed, on an electrician's"
    " circuit; test its ground-fault protection before each frost."
)
LOOP = "Loop water is drinking water: rated parts, no antifreeze. Power cut: circulator and heat stop together."
HELPS = {  # what a change helps, by the part of the score that falls most
    "wait": "the wait",
    "cool": "warmth at taps",
    "flow": "the flow",
    "scald": "against scalds",
    "ice": "against ice",
    "store": "the tank",
}


def without_material(fitting: str) -> str:
    """A fitting's name without the pipe material, which the size beside it begins with: "crimp elbow"."""
    return next((fitting.removeprefix(f"{one.name} ") for one in materials() if fitting.startswith(one.name)), fitting)


class Rows:
    """Blocks of one layout's sheet. changes : what to change first, may be empty"""

    def __init__(self, layout, assessment, system: str, changes):
        self.layout, self.found, self.system, self.changes = layout, assessment, system, changes
        self.list = layout.take_off()
        self.numbers = {leg.name: number for number, leg in enumerate(layout.all_legs, 1)}

    def title(self) -> str:
        """Says what the sheet is called."""
        return f"{clipped(self.layout.name, 60)}: plan of the hot-water pipes"

    def settings(self) -> str:
        """Water, tank, valve, tape circuit, loop and night in sentences."""
        house, show_as = self.layout, self._show
        parts = [
            f"Tank {show_as(house.set_temperature, 'temperature')} ({self.found.store.word});"
            f" {show_as(house.pressure, 'pressure')} at the tank while water flows; cold inlet"
            f" {show_as(house.cold_inlet, 'temperature')}."
        ]
        if house.valve is not None:
            leg = f"leg {self.numbers[house.valve.leg]}, {clipped(house.valve.leg)}"
            parts.append(
                f"Mixing valve {show_as(house.valve.setting, 'temperature')} at the {house.valve.end} of {leg}."
            )
        if any(leg.tape for leg in house.all_legs):
            supply = house.tape_supply
            parts.append(
                f"Heat tape holds {show_as(supply.hold, 'temperature')}; {show_as(supply.voltage, 'voltage')}, "
                f"breaker {supply.breaker.to('A').magnitude:.3g} A ({supply.region})."
            )
        if house.loop is not None:
            loop = self.found.loop
            parts.append(
                f"Loop: {show_as(house.loop.flow, 'flow')} carries {show_as(loop.heat, 'heat')}, of which"
                f" {100 * loop.lost_share:.0f} % is lost on the way; {show_as(loop.arrives, 'temperature')} arrives at"
                " the tank."
            )
        night = house.night
        parts.append(
            f"Night: {show_as(night.air, 'temperature')}, wind {show_as(night.wind, 'wind')},"
            f" {show_as(night.hours, 'hours')}, of it {show_as(night.without_power, 'hours')} without power."
        )
        return " ".join(parts)

    def taps(self, most: int) -> list:
        """A row for each tap; the slowest and the hottest come first where not all have room."""
        first = sorted(self.found.taps, key=lambda tap: tap.name not in (self.found.slowest, self.found.hottest))
        chosen = {tap.name for tap in first[:most]}
        rows = tuple(self._tap(tap) for tap in self.found.taps if tap.name in chosen)
        head = ("tap: alone / all open", "arrives", "wait, water", "flow", "pressure", "burns in", "if unmixed")
        return [
            Table(head, rows, TAP_WIDTHS[self.system]),
            *left_out("taps", len(self.found.taps) - len(rows)),
        ]

    def _tap(self, tap) -> tuple:
        marks = [
            word
            for word, name in (("slowest", self.found.slowest), ("hottest", self.found.hottest))
            if name == tap.name
        ]
        name = clipped(tap.name) + (f" ({', '.join(marks)})" if marks else "")
        if isnan(tap.delivered.magnitude):
            return name, NO_WATER, "", "", "", "", ""
        drawn = f", {self._show(tap.water_drawn, 'volume')}" if isfinite(tap.wait.magnitude) else ""
        two = (("delivered", "temperature"), ("flow", "flow"), ("pressure", "pressure"))
        arrives, flow, pressure = (
            f"{self._number(getattr(tap, name), kind)} / {self._show(getattr(tap, f'{name}_with_others'), kind)}"
            for name, kind in two
        )
        unmixed = f"{burn_time(tap.unmixed)} ({self._show(tap.unmixed, 'temperature')})"
        return name, arrives, warm_after(tap) + drawn, flow, pressure, burn_time(tap.delivered), unmixed

    def cold_legs(self, most: int) -> list:
        """A row for legs that are not in a heated room, the same readings in one; what freezes first comes first."""
        rows: dict = {}
        for leg in sorted(
            self.found.legs,
            key=lambda leg: (
                leg.leg != self.found.coldest,
                inf if leg.rest is None else leg.without_power.value.magnitude,
            ),
        ):
            rows.setdefault(
                (leg.place, self._ice(leg, leg.with_power), self._ice(leg, leg.without_power), self._tape(leg)), []
            ).append(leg.leg)
        if not rows:
            return []
        table = tuple(
            (f"{self._named(legs)}, {place}", *reading) for (place, *reading), legs in list(rows.items())[:most]
        )
        missing = sum(len(legs) for legs in list(rows.values())[most:])
        head = ("legs in the cold", "with power", "power off", "heat tape")
        return [Table(head, table, (10, 6.4, 5.2, 11.4)), *left_out("cold legs", missing)]

    def _named(self, legs) -> str:
        """Legs by number, a single one by its name too."""
        mark = " (coldest)" if self.found.coldest in legs else ""
        if len(legs) == 1:
            return f"{self.numbers[legs[0]]} {clipped(legs[0])}{mark}"
        numbers = [str(self.numbers[leg]) + (mark if leg == self.found.coldest else "") for leg in legs]
        return ", ".join(numbers[:MOST_NUMBERS]) + (
            f" and {len(numbers) - MOST_NUMBERS} more" if len(numbers) > MOST_NUMBERS else ""
        )

    def _tape(self, leg) -> str:
        if leg.plan is None:
            return "none" if leg.rest is None else f"none; it would take {holds_with(leg, self.system)}"
        each = ", each" if leg.plan.tapes > 1 else ""
        power = f"{each} gives {self._number(leg.plan.given, 'tape power')}; needs {holds_with(leg, self.system)}"
        told = f"{tape_to_buy(leg, self.system)}{power}; {self._show(leg.circuit.load, 'current')}"
        return "; ".join(filter(None, (told, hot_words(leg, self.system))))

    def _ice(self, leg, verdict) -> str:
        """Says when ice can form, in short."""
        if verdict.word == ICY:
            return f"ice: {settles_words(leg, self.system)}"
        if verdict.value is None or isinf(verdict.value.magnitude):
            return SHORT_WORDS.get(verdict.word, verdict.word)
        hours = float(verdict.value.magnitude)
        return f"ice after {duration(3600 * hours)}" if hours > 0 else "ice at once"

    def take_off(self, most: int) -> list:
        """Pipes with their cuts, then everything else by its kind."""
        pipes = [row for row in self.list.rows if row.kind == "pipe"]
        table = [(row.what, f"{self._bars(row)}. {self._cuts(row.what, 4 * most)}") for row in pipes[:most]]
        missing = len(pipes) - len(table)
        for kind, word in KINDS:
            rows = [row for row in self.list.rows if row.kind == kind]
            missing += max(len(rows) - 2 * most, 0)
            if rows:
                table.append((word, self._items(rows[: 2 * most])))
        return [
            Table(("take-off", "need / with spare"), tuple(table), (5, 26)),
            *left_out("rows of the take-off", missing),
        ]

    def _items(self, rows) -> str:
        """Rows of a kind in one cell: those that are provisional behind the word "measure", the others first."""
        parts = ([row for row in rows if MEASURE not in row.note], [row for row in rows if MEASURE in row.note])
        sure, provisional = map(self._listed, parts)
        return " · ".join(filter(None, (sure, provisional and f"{MEASURE}: {provisional}")))

    def _listed(self, rows) -> str:
        """Puts rows in one line: fittings by the size that they share, other things one after the other."""
        groups: dict = {}
        for row in rows:
            what = "" if row.kind == "clip" else without_material(row.what)
            if row.kind == "fitting":
                groups.setdefault(row.size.removesuffix(TEE_ORDER), []).append(f"{what} {self._amount(row)}")
            else:
                groups[", ".join(filter(None, (what, row.size)))] = [self._amount(row)]
        return "; ".join(f"{name}: {', '.join(items)}" for name, items in groups.items())

    def _any_measure(self) -> bool:
        return any(MEASURE in row.note for row in self.list.rows) or any(piece.measure for piece in self.list.pieces)

    def _cuts(self, pipe: str, most: int) -> str:
        """Cut lengths of a pipe by the number of the leg, "measure" beside what is provisional. most : legs"""
        pieces = [piece for piece in self.list.pieces if piece.pipe == pipe]
        every = all(piece.measure for piece in pieces)
        legs: dict = {}
        for piece in pieces:
            text = measured(piece.cut, self.system) + (f" {MEASURE}" if piece.measure and not every else "")
            legs.setdefault(self.numbers[piece.leg], []).append(text)
        words = "; ".join(f"{number}: {' + '.join(texts)}" for number, texts in list(legs.items())[:most])
        more = f"; and {len(legs) - most} legs more" if len(legs) > most else ""
        return f"Cuts by leg{f' ({MEASURE})' if every else ''} {words}{more}"

    def _bars(self, row) -> str:
        bars = self.list.bars[row.what]
        stock = (bars.total + bars.waste) / bars.bars_needed
        return (
            f"{self._amount(row)}: buy {bars.bars_to_buy} of {measured(stock, self.system)}, waste"
            f" {self._show(bars.waste, 'length')}"
        )

    def _amount(self, row) -> str:
        return f"{to_buy(row.need, self.system, number)} / {to_buy(row.with_spare, self.system)}"

    def first_changes(self) -> list:
        """Gives what to change first, and what it helps."""
        if not self.changes:
            return []
        texts = [
            f"{number}. {change.words} (helps {_helped(change)})" for number, change in enumerate(self.changes[:3], 1)
        ]
        return [Text(f"Change first: {'; '.join(texts)}.")]

    def cautions(self) -> str:
        """Says what must be said, by what the building has."""
        house = self.layout
        has = (
            (house.valve, VALVE),
            (self.found.legs, ICE),
            (any(leg.tape for leg in house.all_legs), TAPE),
            (house.loop, LOOP),
        )
        measure = ABOUT_MEASURE if self._any_measure() else ""
        return measure + " ".join([*(words for there, words in has if there), ALWAYS])

    def foot(self) -> str:
        """Says where the figures come from, and whether the building exists."""
        source = FOOT.format(source=f", {clipped(self.layout.file, 30)}" if self.layout.file else "")
        return f"{self.layout.invented} {source}".strip()

    def _show(self, value, kind: str) -> str:
        return show(value, kind, self.system)

    def _number(self, value, kind: str) -> str:
        return number(value, kind, self.system)


def clipped(name: str, most: int = NAME) -> str:
    """A name that keeps to its place."""
    return name if len(name) <= most else name[: most - 1].rstrip() + "…"


def left_out(what: str, count: int) -> list:
    """Said where not all rows have room."""
    return [Text(f"{count} more {what} have no room here; the CSV and the workbook have all.")] if count > 0 else []


def _helped(change) -> str:
    """Says what a change helps most."""
    return HELPS[max(HELPS, key=lambda name: getattr(change.before, name) - getattr(change.after, name))]
