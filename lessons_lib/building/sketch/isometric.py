"""A pipefitter's isometric sketch of a layout, with its words where there is room for them."""

from copy import deepcopy
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from matplotlib.patches import Rectangle
from matplotlib.text import Text

from ...drawing.canvas import FAINT, INK, PAPER, TEXT, Canvas
from ...drawing.vector import TYPE_SIZE, width_of
from ...quantities.display import show
from .isometric_legend import SketchLegend
from .isometric_plan import Plan
from .isometric_signs import Pen
from .isometric_views import View, whole
from .isometric_words import DETAILS, NUMBERS, Label, LabelWords, along_shares, clipped, describe, valve_at
from .label_placement import FAR, LabelPlacer, Place

__all__ = ["Isometric", "describe", "drawn_alone"]
LINE, PADDING, MARGIN = 1.18, 4, 3  # from line to line by type size; within and around a label [px]
SHORTEST = 8.0  # [px] between the points of a leg that has room for a number on it
TIGHT, DIGIT = 2, 0.73  # [px] around a number on its leg; height of a digit by the type's size
COMPASS = (96, 62)  # [px]
SMALLEST = 0.35  # of the signs
SHORTENED = (0.2, 0.5, 1.0)  # of the labels that may be shorter than the detail asks; if more must, all are
NEAR, FARTHEST = 40.0, 90.0  # [px] from a label to its point: where a shorter one is tried, and at most
AGAIN = 4  # times that all are put anew where some that must be there found no place: those then come first
SAME = 3.0  # [px] two things are as near as each other
ANYWHERE = 2000.0  # [px] for marks, which are never left out
LEFT_OUT, ONE_LEFT_OUT = "{} legs have no label here: the list has all.", "One leg has no label here: the list has all."


class _Placed(NamedTuple):
    """A label at its place."""

    label: Label
    place: Place


class Isometric:
    """The sketch in a field of a picture. left, top, width, height : of the whole, in pixels

    boxes : (text, left, top, right, bottom) of every label of the last sketch, in pixels from the field's corner
    without_label : numbers of the legs that found no room for one
    plan, bottom : where everything lies, and the upper edge of the legend, of the last sketch
    """

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        self.canvas, self.size = canvas, (width, height)
        self.axes = canvas.drawing(left, top, width, height)
        self.artists: list = []
        self.boxes: list = []
        self.without_label: list = []

    def show(self, layout, assessment, system: str, view: View | None = None) -> None:
        """Draw a layout with the points that its assessment marks, in a unit system. view : of the layout; None: all
        of it
        """
        view = whole(layout) if view is None else view
        for artist in self.artists:
            artist.remove()
        self.artists, self.boxes, self.without_label, self.canvas.handles = [], [], [], []
        told = LabelWords(view, assessment, system)
        legend = SketchLegend(view, self.size[0], _width)
        self.bottom = bottom = self.size[1] - legend.height([*told.notes(False), LEFT_OUT])
        self.plan = plan = Plan.of(view, self.size[0], bottom, self._named(view))
        pen = Pen(self.axes, _sign_size(plan))
        room = LabelPlacer(*self.size)
        self._pipes(pen, plan, view, told)
        self._take(room, pen, plan, bottom)
        usual = Pen(self.axes)
        self._bodies(usual, plan, layout, system)
        self._compass(usual, room)
        self._labels(pen, told, plan, room)
        for text, x, y in legend.draw(usual, told.notes(plan.to_scale) + self._left_out(), self.size[1]):
            self._write(text, x, y)
        self.artists += usual.artists() + pen.artists()
        self.canvas.renew(self)

    def _named(self, view: View) -> dict:
        """Gives the width of what is named at the end of a leg, by the leg's name, see Plan.of [px]."""
        words = {tap.leg: [clipped(tap.name)] for tap in view.taps} | {leg: view.to_words(leg) for leg in view.goes_on}
        if view.comes_from:
            words[None] = [view.from_words]
        return {leg: max(_width(line, True) for line in lines) for leg, lines in words.items()}

    def _pipes(self, pen: Pen, plan: Plan, view: View, told: LabelWords) -> None:
        """Pipes from far to near, with their joints, valves and taps."""
        ranked = {drawn.number: rank for rank, drawn in enumerate(sorted(plan.legs, key=lambda one: one.depth))}
        for drawn in plan.legs:
            order = 2 + 0.9 * ranked[drawn.number] / len(plan.legs)
            pen.pipe(drawn, order)
            (x1, y1), (x2, y2) = drawn.start, drawn.end
            self.canvas.handle(drawn.number, "line", x1=x1, y1=y1, x2=x2, y2=y2)
            inset = min(9 * pen.size, 0.35 * drawn.length)
            for fitting, at in zip(
                view.ends[drawn.leg.name], (drawn.start + inset * drawn.along, drawn.end - inset * drawn.along)
            ):
                if fitting:
                    pen.tick(at, drawn.along, order + 0.002)
            names = [name for name, count in drawn.leg.fittings for _ in range(count)]
            *shares, left = along_shares(view, drawn, len(names), pen.size)
            for share, name in zip(shares, names):
                pen.valve(name, drawn.at(share), drawn.along)
            if drawn.shortened:
                pen.break_sign(drawn.at(left), drawn.along)
            if drawn.leg.name in told.taps:
                pen.tap(drawn.end)
            elif told.is_open(drawn):
                pen.open_end(drawn.end)
            elif drawn.leg.name in view.goes_on:
                pen.goes_on(drawn.end, drawn.along)
            elif told.has_level(drawn):
                pen.level(drawn.end)
        if view.valve is not None:
            drawn = plan.legs[view.valve_leg]
            pen.mixing_valve(valve_at(drawn, view.valve.end, pen.size), drawn.along)
        if plan.arrives is not None:
            pen.arrives(*plan.arrives, view.layout.legs[view.begins].place)
        for stub in plan.stubs:
            pen.line(list(stub), 1.4)

    def _take(self, room: LabelPlacer, pen: Pen, plan: Plan, bottom: float) -> None:
        """Words keep off what is drawn, off the legend and off the edge."""
        for first, last, whose in pen.lines:
            room.take_line(first, last, whose)
        for body in filter(None, (plan.tank, plan.pump)):
            room.take_box(body[0] - 2, body[1] - 2, body[2] + 4, body[3] + 4)
        width, height = self.size
        for box in ((0, bottom, width, height), (0, 0, width, 2), (0, 0, 2, height), (width - 4, 0, 4, height)):
            room.take_box(*box)

    def _bodies(self, pen: Pen, plan: Plan, layout, system: str) -> None:
        """Tank and heat pump with their names."""
        for body, lines in (
            (plan.tank, ("tank", show(layout.set_temperature, "temperature", system))),
            (plan.pump, ("heat pump",)),
        ):
            if body is not None:
                pen.body(body)
                for number, text in enumerate(lines):
                    y = body[1] + body[3] / 2 + 20 * (number - (len(lines) - 1) / 2) + 6
                    self._write(text, body[0] + body[2] / 2, y, bold=number == 0, ha="center")

    def _compass(self, pen: Pen, room: LabelPlacer) -> None:
        """The compass in a free corner, where there is one."""
        width, height = self.size
        place = room.nearest(*COMPASS, [(0, 0), (width, 0), (0, height), (width, height)], 0.45 * min(self.size))
        if place is not None:
            for letter, (x, y) in pen.compass(np.array([place.left + 24, place.top + 31])):
                self._write(letter, x, y + 6, bold=True, ha="center")

    def _labels(self, pen: Pen, told: LabelWords, plan: Plan, room: LabelPlacer) -> None:
        """The fullest words for which there is room; only where even the shortest find none, a leg has no label."""
        labels = told.labels(plan, pen.size)
        for detail in DETAILS:
            placed, shorter, missing = self._placed(labels, detail, deepcopy(room))
            if shorter <= SHORTENED[detail] * len(labels) and not missing:
                break
        hard: list = []
        for _ in range(AGAIN):
            if not missing:
                break
            hard = [*missing, *_without(hard, missing)]
            labels = [*hard, *_without(labels, hard)]
            placed, _, missing = self._placed(labels, NUMBERS, deepcopy(room), len(hard))
        for label, place in placed:
            self._put(pen, label, place, plan, told.taps)
        shown = {label.number for label, _ in placed}
        self.without_label = [drawn.number for drawn in plan.legs if drawn.number not in shown]

    def _placed(self, labels, detail: int, room: LabelPlacer, hard: int = 0) -> tuple[list, int, list]:
        """Labels at their places in this detail or in less, how many have less, and those that must be there and are
        not. hard : so many of the first find their places before all others
        """
        placed: list = []
        shorter, missing, allowed = 0, [], SHORTENED[detail] * len(labels)
        wanted = [(label, label[detail:]) for label in labels]
        if detail == NUMBERS:  # first those that stand on their own legs, where nothing else may
            placed, wanted = self._on_lines(wanted, hard, room)
        for label, variants in wanted:
            if shorter > allowed:
                break
            fallen = self._first_that_fits(variants, room)
            if fallen is not None:
                placed.append(fallen[0])
            shorter += fallen is None or fallen[1]
            if fallen is None and variants[-1] is not None:
                missing.append(label)
        return placed, shorter, missing

    def _on_lines(self, wanted, hard: int, room: LabelPlacer) -> tuple[list, list]:
        """Numbers at their places on their own legs, and what is left to be put elsewhere, in the order to try it."""
        placed, first, others, beside = [], [], [], []
        for count, (label, variants) in enumerate(wanted):
            place = self._on_line(variants[0], room)
            if place:
                placed.append(_Placed(variants[0], place))
                continue
            stands = variants[0] is not None and variants[0].on_line
            left = [replace(variants[0], on_line=False)] if stands else variants
            (first if count < hard else beside if stands else others).append((label, left))
        return placed, first + others + beside

    def _first_that_fits(self, variants, room: LabelPlacer) -> tuple | None:
        """A label at its place, and whether it is shorter than the first one; None where none fits. variants :
        longest first
        """
        for label, reach in _tries(variants):
            if label.on_line:
                place = self._on_line(label, room)
            else:
                place = room.nearest(*(side + 2 * MARGIN for side in self._box(label)), label.points, reach)
            if place is not None:
                return _Placed(label, place), label is not variants[0]
        return None

    def _on_line(self, label: Label | None, room: LabelPlacer) -> Place | None:
        """The place of a label that stands on its own leg; None where it has none there."""
        if not label or not label.on_line or np.ptp(label.points, axis=0).max() < SHORTEST:
            return None
        return room.on_line(*self._box(label), label.points, label.number)

    def _put(self, pen: Pen, label: Label, place, plan: Plan, taps) -> None:
        """A label at its place, with a line to its point where that is far or something else is as near."""
        width, height = self._box(label)
        aside = 0 if label.on_line else MARGIN
        left, top = place.left + aside, place.top + aside
        corners = np.array([(left, top), (left + width, top + height)])
        self.boxes.append((label.lines[0][0], left, top, left + width, top + height))
        if label.number is not None:
            self.canvas.handle(label.number, "rect", x=left, y=top, width=width, height=height)
        if place.distance > FAR or not label.on_line and _another_is_near(corners, place.point, label, plan, taps):
            pen.line([np.clip(place.point, *corners), place.point], 0.9, FAINT, order=3.3)
        if label.framed or label.on_line:
            looks = (
                {"fc": "none", "ec": INK, "lw": 1.4, "zorder": 4}
                if label.framed
                else {"fc": PAPER, "ec": "none", "zorder": 5}
            )
            self.artists.append(self.axes.add_patch(Rectangle((left, top), width, height, **looks)))
        if label.on_line:
            self._write(label.lines[0][0], left + TIGHT, top + height - TIGHT, True)
            return
        for number, (text, bold) in enumerate(label.lines, 1):
            self._write(text, left + PADDING, top + PADDING + number * LINE * TYPE_SIZE - 0.22 * TYPE_SIZE, bold)

    def _left_out(self) -> list[str]:
        """Said where labels found no room."""
        count = len(self.without_label)
        return [] if count == 0 else [ONE_LEFT_OUT] if count == 1 else [LEFT_OUT.format(count)]

    def _box(self, label: Label) -> tuple[float, float]:
        """Width and height of a label [px]."""
        wide = max(_width(text, bold) for text, bold in label.lines)
        if label.on_line:
            return wide + 2 * TIGHT, DIGIT * TYPE_SIZE + 2 * TIGHT
        wide += PADDING if label.framed else 0  # its signs are wider in some typefaces
        return wide + 2 * PADDING, len(label.lines) * LINE * TYPE_SIZE + 2 * PADDING

    def _write(self, text: str, x: float, y: float, bold: bool = False, ha: str = "left") -> None:
        """Puts a line of words onto (x, y)."""
        self.artists.append(self.axes.add_artist(_words(text, bold, x=x, y=y, ha=ha, zorder=6)))


def _words(text: str, bold: bool, **style) -> Text:
    weight = "bold" if bold else "normal"
    return Text(text=text, size=TEXT, weight=weight, color=INK, **style)


@lru_cache(maxsize=4000)
def _width(text: str, bold: bool = False) -> float:
    """Gives the width of a line of words [px of the field]."""
    return width_of(_words(text, bold))


def _without(labels, others) -> list:
    """Labels that are none of the others."""
    return [one for one in labels if not any(one is other for other in others)]


def _tries(variants) -> list[tuple]:
    """(label, reach) pairs in the order in which they are tried.

    variants : of one label, longest first, the last one or None
    """
    *longer, last = variants
    found = [(label, NEAR) for label in longer] + [(label, FARTHEST) for label in longer[-1:]]
    if last is not None:
        found += [(last, NEAR), (replace(last, on_line=False), ANYWHERE)]
    return found


def _another_is_near(corners, point, label: Label, plan: Plan, taps) -> bool:
    """Says whether a label with these corners seems to speak of another leg or tap. point : its own, (x, y)"""

    def away(points):
        return np.hypot(*np.maximum(np.maximum(corners[0] - points, points - corners[1]), 0.0).T).min()

    shares = np.linspace(0, 1, 30)[:, np.newaxis] if label.number else np.array([[1.0]])
    others = [
        drawn
        for drawn in plan.legs
        if drawn.number not in (label.number, label.tap) and (label.number or label.tap and drawn.leg.name in taps)
    ]
    own = away(np.array([point])) + SAME
    return any(away(drawn.start + shares * (drawn.end - drawn.start)) < own for drawn in others)


def _sign_size(plan: Plan) -> float:
    """Signs grow smaller with the shortest legs."""
    return float(np.clip(min(drawn.length for drawn in plan.legs) / 40, SMALLEST, 1.0))


def drawn_alone(layout, assessment, system: str, width: int, height: int, view: View | None = None) -> Canvas:
    """Draws the sketch alone, for paper. width, height : [px]; view : of the layout; None: all of it"""
    canvas = Canvas(width, height)
    Isometric(canvas, 0, 0, width, height).show(layout, assessment, system, view)
    return canvas
