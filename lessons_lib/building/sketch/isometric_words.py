"""What stands on an isometric sketch in words, and the whole sketch in words."""

from collections import Counter
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from ...quantities.display import measured, show
from ...quantities.units import Q_
from ...runs.assessment import NO_WATER
from ..source import NO_LENGTH
from ..words import ice_after, warm_after
from .isometric_plan import Plan

FULL, SHORT, NUMBERS = DETAILS = (0, 1, 2)  # with names; without; numbers of legs only
NAME = 24  # letters of a name that fit on the sketch
COLDEST, SLOWEST, HOTTEST = "❄ coldest", "◆ slowest", "☀ hottest"  # no verdicts: none of their shapes
STOREY = 2.0  # [m] two levels this far apart are two floors, where the file names none
MOST_RANGES = 8  # of legs in the note on pipes
ABOUT = {
    True: ("Lengths in proportion, middle to middle.",),
    False: ("Not to scale: two slashes mark a leg drawn shorter.", "Lengths middle to middle."),
}


@dataclass(frozen=True)
class Label:
    """Holds the words beside a point.

    lines : (text, bold) pairs; points : (n, 2), any of which they may stand at [px]; framed : a mark
    number : of the leg that it names, None for others; on_line : it stands on its leg, on white
    tap : number of the leg of the tap that it names, None for others
    """

    lines: tuple
    points: np.ndarray
    framed: bool = False
    number: int | None = None
    on_line: bool = False
    tap: int | None = None

    @property
    def key(self) -> tuple:
        """Gives all of it as plain values."""
        return self.lines, self.points.tobytes(), self.framed, self.number, self.on_line, self.tap


class LabelWords:
    """Words for one View of a layout, the layout's assessment and the reader's units."""

    def __init__(self, view, assessment, system: str):
        self.view, self.layout, self.found, self.system = view, view.layout, assessment, system
        self.family = Counter(leg.family for leg in view.all_legs).most_common(1)[0][0]
        self.taps = {tap.leg: tap for tap in view.taps}
        self.numbers = view.numbers

    def labels(self, plan: Plan, size: float) -> list[list]:
        """Every label as (full, short, shortest), None where the shortest is to be left out; those with the least
        choice first.

        size : of the signs
        """
        legs = sorted(plan.legs, key=lambda drawn: (drawn.leg.name != self.found.coldest, drawn.length))
        by_leg = [[self.leg(drawn, detail) for detail in DETAILS] for drawn in legs]
        taps = [drawn for drawn in plan.legs if drawn.leg.name in self.taps]
        marked = 0 if self.found.coldest is None else 1
        by_detail = by_leg[:marked] + [[self.tap(drawn, detail, size) for detail in DETAILS] for drawn in taps]
        by_detail += [[self.missing(drawn, size)] * 3 for drawn in plan.legs if self.is_open(drawn)]
        by_detail += [[self.goes_on(drawn, size)] * 3 for drawn in plan.legs if drawn.leg.name in self.view.goes_on]
        if plan.arrives is not None:
            by_detail.append([self.comes_from(plan, size)] * 3)
        if self.view.valve is not None:
            by_detail.append([self.valve(plan, size)] * 3)
        levels = [drawn for drawn in plan.legs if self.has_level(drawn)]
        for drawn in sorted(levels, key=lambda one: one.leg.name not in self.floors)[: len(self.floors)]:
            by_detail.append([self.level(drawn, detail) for detail in DETAILS])
        by_detail += by_leg[marked:]
        for drawn in levels:
            if drawn.leg.name not in self.floors:
                by_detail.append([self.level(drawn, FULL)] * 2 + [None])
        return by_detail

    def leg(self, drawn, detail: int) -> Label:
        """Number, name, length, size and place of a leg."""
        leg, points = drawn.leg, np.array([drawn.at(share) for share in (0.5, 0.4, 0.6, 0.3, 0.7)])
        marked = leg.name == self.found.coldest
        mark = ((f"{COLDEST}: {self.ice()}", True),) if marked else ()
        known = leg.name not in self.layout.no_length
        if not known:
            mark, marked = ((NO_LENGTH, True), *mark), True
        if detail == NUMBERS:
            return Label(((str(drawn.number), True), *mark), points, marked, drawn.number, not marked)
        size = leg.size if leg.family == self.family else f"{leg.family} {leg.size}"
        dimensions = f"{measured(leg.length, self.system)} · {size}" if known else size
        along = ", ".join(name if count == 1 else f"{count} × {name}" for name, count in leg.fittings)
        head = (
            (f"{drawn.number} {clipped(leg.name)}", dimensions)
            if detail == FULL
            else (f"{drawn.number}: {dimensions}",)
        )
        lines = tuple((text, False) for text in (*head, place_words(leg), along if detail == FULL else "") if text)
        return Label(lines + mark, points, marked, drawn.number)

    def ice(self) -> str:
        """Says what the coldest leg does when the power is off."""
        reading = self.found.leg(self.found.coldest)
        if np.isinf(reading.without_power.value.magnitude):
            return f"settles at {show(reading.rest, 'temperature', self.system)}"
        return ice_after(reading.without_power)

    def tap(self, drawn, detail: int, size: float) -> Label:
        """Name, kind and level of a tap, and whether it is the slowest or the hottest."""
        tap = self.taps[drawn.leg.name]
        points = np.array([drawn.end, drawn.end + (9 * size, 0), drawn.end - (7 * size, 9 * size)])
        marks = tuple((text, True) for text in self.marks(tap.name))
        if detail == NUMBERS:
            return Label(((clipped(tap.name), bool(marks)), *marks), points, bool(marks), tap=drawn.number)
        kind = "" if tap.kind in tap.name.lower() else f" ({tap.kind})"
        level = ((self.height(drawn.level), False),) if detail == FULL else ()
        return Label(((f"{clipped(tap.name)}{kind}", True), *level, *marks), points, bool(marks), tap=drawn.number)

    def is_open(self, drawn) -> bool:
        """Says whether something is missing at the end of a leg: its tap, or what a tap there waits for."""
        return drawn.leg.name in self.layout.open_ends and drawn.leg.name not in self.taps

    def missing(self, drawn, size: float) -> Label:
        """Says what is missing at the end of a leg."""
        points = np.array([drawn.end + (12 * size, 0), drawn.end - (12 * size, 9 * size)])
        return Label(((clipped(self.layout.open_ends[drawn.leg.name]), True),), points, True, tap=drawn.number)

    def goes_on(self, drawn, size: float) -> Label:
        """Says on which view the pipe goes on from the end of a leg, and with which legs."""
        lines = tuple((words, True) for words in self.view.to_words(drawn.leg.name))
        points = drawn.end + 12 * size * np.array([drawn.along, (1, 0), (-1, 0)])
        return Label(lines, points, tap=drawn.number)

    def comes_from(self, plan: Plan, size: float) -> Label:
        """Says from which view the pipe comes, and from which leg."""
        return Label(((self.view.from_words, True),), plan.arrives[1:] + 12 * size * np.array([(1, 0), (-1, 0)]))

    def marks(self, name: str) -> list[str]:
        """Gives what marks a tap."""
        reading, found = self.found.tap(name), []
        if np.isnan(reading.delivered.magnitude):
            return [NO_WATER]
        if name == self.found.slowest:
            found.append(f"{SLOWEST}: {warm_after(reading)}")
        if name == self.found.hottest:
            found.append(f"{HOTTEST}: {show(reading.hottest_night.delivered, 'temperature', self.system)}")
        return found

    def valve(self, plan: Plan, size: float) -> Label:
        """The mixing valve and its setting."""
        drawn = plan.legs[self.view.valve_leg]
        words = f"mixing valve {show(self.layout.valve.setting, 'temperature', self.system)}"
        return Label(((words, True),), np.array([valve_at(drawn, self.layout.valve.end, size)]))

    @cached_property
    def floors(self) -> dict:
        """The name of the floor that begins at the end of a leg, by the leg's name: of the first leg on each floor.

        Where the file names no floors they are "", and begin where pipes rise or fall by a storey.
        """
        tree, found, levels = self.view.tree, {}, [self.view.level]
        for number in sorted(tree.order, key=lambda one: tree.legs[one].name in self.taps):
            leg, level = tree.legs[number], float(tree.rise[number])
            floor = self.layout.floor_of(level)
            if floor and floor not in found.values():
                found[leg.name] = floor
            elif not self.layout.floors and min(abs(level - one) for one in levels) >= STOREY:
                if leg.name not in self.taps:
                    found[leg.name] = ""
                    levels.append(level)
        return found

    def has_level(self, drawn) -> bool:
        """Says whether the end of a leg gets a level of its own: where a floor begins, or where the height changes and
        no tap says it.
        """
        if drawn.leg.name in self.floors:
            return True
        return drawn.level is not None and drawn.leg.go in ("up", "down") and drawn.leg.name not in self.taps

    def level(self, drawn, detail: int) -> Label:
        """The height of a leg's end, with the name of the floor that begins there; of the shortest only the name."""
        points, floor = np.array([drawn.end - (0, 8)]), clipped(self.floors.get(drawn.leg.name, ""))
        lines = ((floor, True),) if floor else ()
        return Label(lines if floor and detail == NUMBERS else (*lines, (self.height(drawn.level), False)), points)

    def height(self, level: float) -> str:
        """A height above the tank's outlet [m], with its sign."""
        return f"level {'+' if level > 0 else ''}{measured(Q_(round(level, 4), 'm'), self.system)}"

    def notes(self, to_scale: bool) -> list[str]:
        """Gives what is true of the whole sketch."""
        return [*filter(None, [self.view.title]), *ABOUT[to_scale], self.pipes()]

    def pipes(self) -> str:
        """Says which leg is of which pipe, by number: a leg may stand on the sketch with its number only."""
        others: dict = {}
        for leg in self.view.all_legs:
            if leg.family != self.family:
                others.setdefault(leg.family, []).append(self.numbers[leg.name])
        if not others:
            return f"Pipe is {self.family}."
        told = {family: ranges(numbers) for family, numbers in others.items()}
        if sum(map(len, told.values())) > MOST_RANGES:
            return "Pipe is of several kinds: the list names that of each leg."
        return (
            f"Pipe: {'; '.join(f'{family} in {and_so_on(found)}' for family, found in told.items())}; {self.family} in"
            " all others."
        )


def ranges(numbers) -> list[str]:
    """Rising numbers as people write them: 1, 2, 3, 7 as "1–3" and "7"."""
    found: list = []
    for number in numbers:
        if found and number == found[-1][-1] + 1:
            found[-1].append(number)
        else:
            found.append([number])
    return [str(one[0]) if len(one) == 1 else f"{one[0]}–{one[-1]}" for one in found]


def and_so_on(found: list[str]) -> str:
    """Ranges of legs in words: "leg 7", "legs 1–3, 7"."""
    return f"leg{'' if len(found) == 1 and '–' not in found[0] else 's'} {', '.join(found)}"


def clipped(name: str) -> str:
    """A name short enough for the sketch."""
    return name if len(name) <= NAME else name[: NAME - 1].rstrip() + "…"


def place_words(leg) -> str:
    """Says where a leg lies and what matters there, "" in a heated room."""
    if not leg.cold:
        return ""
    bare = "bare" if leg.insulation.thickness.magnitude == 0 else ""
    return ", ".join(filter(None, (leg.place, "heat tape" if leg.tape else "", bare)))


def valve_at(drawn, end: str, size: float) -> np.ndarray:
    """Says where the mixing valve sits on its leg."""
    return drawn.at(valve_share(drawn, size) if end == "start" else 1 - valve_share(drawn, size))


def valve_share(drawn, size: float) -> float:
    """Share of a leg between its end and the mixing valve on it."""
    return min(0.3, 18 * size / drawn.length)


def along_shares(view, drawn, count: int, size: float) -> np.ndarray:
    """Says where so many fittings sit along a leg, as shares of it, and behind them the middle of what is left; clear
    of the mixing valve.
    """
    low, high = 0.0, 1.0
    if view.valve is not None and view.valve.leg == drawn.leg.name:
        taken = valve_share(drawn, size)
        low, high = (taken, 1.0) if view.valve.end == "start" else (0.0, 1.0 - taken)
    shares = low + (high - low) * np.arange(1, count + 1) / (count + 1)
    return np.append(shares, high - 0.5 * (high - low) / (count + 1))


def describe(view, assessment, system: str) -> str:
    """The sketch of a View in words, leg by leg, for who cannot see it."""
    told, layout = LabelWords(view, assessment, system), view.layout
    title = f" {view.title}." if view.title else ""
    parts = [f"Isometric sketch of {layout.name}, north to the upper right and east to the lower right.{title}"]
    if view.begins is None:
        parts.append(f"The tank is at {show(layout.set_temperature, 'temperature', system)}.")
    else:
        parts.append(f"The pipe comes {view.from_words}.")
    if view.valve is not None:
        setting = show(view.valve.setting, "temperature", system)
        parts.append(
            f"The mixing valve, set to {setting}, sits at the {view.valve.end} of leg {told.numbers[view.valve.leg]}."
        )
    if layout.floors:
        heights = (f"{name} from level {measured(height, system)}" for name, height in layout.floors)
        parts.append(f"Floors: {'; '.join(heights)}.")
    rise = dict(zip((leg.name for leg in view.legs), view.tree.rise))
    lines = [("the taps", view.legs)] if view.legs else []
    if view.loop is not None:
        lines += [("the loop from the heat pump to the tank", view.loop.hot), ("the loop back", view.loop.back)]
    for what, legs in lines:
        parts.append(f"Legs of {what}: " + "; ".join(_leg(told, leg, rise.get(leg.name)) for leg in legs) + ".")
    for tap in view.taps:
        marks = "".join(f", {mark}" for mark in told.marks(tap.name))
        parts.append(
            f"Tap {tap.name} ({tap.kind}) at the end of leg {told.numbers[tap.leg]},"
            f" {told.height(rise[tap.leg])}{marks}."
        )
    for leg in view.goes_on:
        parts.append(f"The pipe goes on at the end of leg {told.numbers[leg]}: {'; '.join(view.to_words(leg))}.")
    for leg, sign in [*((leg, NO_LENGTH) for leg in layout.no_length), *layout.open_ends.items()]:
        if leg in rise:
            parts.append(f"Not known yet at leg {told.numbers[leg]}: {sign}")
    if assessment.coldest in {leg.name for leg in view.all_legs}:
        parts.append(
            f"{COLDEST} leg: {told.numbers[assessment.coldest]} {assessment.coldest}, {told.ice()} without power."
        )
    return " ".join(parts)


def _leg(told: LabelWords, leg, level: float | None) -> str:
    """Says one leg in words."""
    covered = (
        "bare"
        if leg.insulation.thickness.magnitude == 0
        else f"{show(leg.insulation.thickness, 'thickness', told.system)} {leg.insulation.material}"
    )
    start = leg.start if leg.start in ("tank", "heat pump") else f"leg {told.numbers[leg.start]}"
    along = "".join(f", {count} {name}" for name, count in leg.fittings)
    length = "" if leg.name in told.layout.no_length else f"{measured(leg.length, told.system)} "
    ending = told.layout.ends[leg.name][1]
    height = f" to {told.height(level)}" if level is not None and leg.go in ("up", "down") else ""
    return (
        f"{told.numbers[leg.name]} {leg.name}: from {start} {length}{leg.go}{height},"
        f" {leg.pipe.name}, {covered},"
        f" {leg.place}{', heat tape' if leg.tape else ''}{along}{f', then {ending.fitting}' if ending else ''}"
    )
