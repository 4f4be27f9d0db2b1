"""A pipefitter's isometric sketch of a layout, with its words where there is room for them."""

from copy import deepcopy
from dataclasses import replace
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
from .isometric_words import DETAILS, NUMBERS, Label, LabelWords, along_shares, describe, valve_at
from .label_placement import FAR, LabelPlacer, Place

__all__ = ["Isometric", "describe", "drawn_alone"]
LINE, PADDING, MARGIN = 1.18, 4, 3  # from line to line by type size; within and around a label [px]
COMPASS = (96, 62)  # [px]
SMALLEST = 0.35  # of the signs
SHORTENED = (0.2, 0.5, 1.0)  # of the labels that may be shorter than the detail asks; if more must, all are
NEAR, FARTHEST = 40.0, 90.0  # [px] from a label to its point: where a shorter one is tried, and at most
ANYWHERE = 2000.0  # [px] for marks, which are never left out
LEFT_OUT = "{} legs have no label here: the list has all."
MOST_NAMED = 60  # legs; in a larger building they have numbers only
ON_LINE = 11  # cells that a leg's own line takes of the number on it


class _Placed(NamedTuple):
    """A label at its place."""

    label: Label
    place: Place


class Isometric:
    """The sketch in a field of a picture. left, top, width, height : of the whole, in pixels

    boxes : (text, left, top, right, bottom) of every label of the last sketch, in pixels from the field's corner
    without_label : numbers of the legs that found no room for one
    """

    def __init__(self, canvas: Canvas, left: int, top: int, width: int, height: int):
        self.canvas, self.size = canvas, (width, height)
        self.axes = canvas.drawing(left, top, width, height)
        self.artists: list = []
        self.boxes: list = []
        self.without_label: list = []

    def show(self, layout, assessment, system: str) -> None:
        """Draw a layout with the points that its assessment marks, in a unit system."""
        for artist in self.artists:
            artist.remove()
        self.artists, self.boxes, self.without_label, self.canvas.handles = [], [], [], []
        told = LabelWords(layout, assessment, system)
        legend = SketchLegend(layout, self.size[0], self._width)
        bottom = self.size[1] - legend.height([*told.notes(False), LEFT_OUT])
        plan = Plan.of(layout, 0, 0, self.size[0], bottom)
        pen = Pen(self.axes, _sign_size(plan))
        room = LabelPlacer(*self.size)
        self._pipes(pen, plan, layout, told)
        self._take(room, pen, plan, bottom)
        usual = Pen(self.axes)
        self._bodies(usual, plan, layout, system)
        self._compass(usual, room)
        self._labels(pen, told, plan, room)
        for text, x, y in legend.draw(usual, told.notes(plan.to_scale) + self._left_out(), self.size[1]):
            self._write(text, x, y)
        self.artists += usual.artists() + pen.artists()
        self.canvas.renew()

    def _pipes(self, pen: Pen, plan: Plan, layout, told: LabelWords) -> None:
        """Pipes from far to near, with their joints, valves and taps."""
        ranked = {drawn.number: rank for rank, drawn in enumerate(sorted(plan.legs, key=lambda one: one.depth))}
        for drawn in plan.legs:
            order = 2 + 0.9 * ranked[drawn.number] / len(plan.legs)
            pen.pipe(drawn.leg, drawn.start, drawn.end, order)
            (x1, y1), (x2, y2) = drawn.start, drawn.end
            self.canvas.handle(drawn.number, "line", x1=x1, y1=y1, x2=x2, y2=y2)
            inset = min(9 * pen.size, 0.35 * drawn.length)
            for fitting, at in zip(
                layout.ends[drawn.leg.name], (drawn.start + inset * drawn.along, drawn.end - inset * drawn.along)
            ):
                if fitting:
                    pen.tick(at, drawn.along, order + 0.002)
            names = [name for name, count in drawn.leg.fittings for _ in range(count)]
            *shares, left = along_shares(layout, drawn, len(names), pen.size)
            for share, name in zip(shares, names):
                pen.valve(name, drawn.at(share), drawn.along)
            if drawn.shortened:
                pen.break_sign(drawn.at(left), drawn.along)
            if drawn.leg.name in told.taps:
                pen.tap(drawn.end)
            elif told.has_level(drawn):
                pen.level(drawn.end)
        if layout.valve is not None:
            drawn = plan.legs[layout.valve_leg]
            pen.mixing_valve(valve_at(drawn, layout.valve.end, pen.size), drawn.along)
        for stub in plan.stubs:
            pen.line(list(stub), 1.4)

    def _take(self, room: LabelPlacer, pen: Pen, plan: Plan, bottom: float) -> None:
        """Words keep off what is drawn, off the legend and off the edge."""
        for first, last in pen.lines:
            room.take_line(first, last)
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
        """The fullest words for which there is room."""
        labels = told.labels(plan, pen.size)
        for detail in DETAILS if len(plan.legs) <= MOST_NAMED else (NUMBERS,):
            placed, shorter = self._placed(labels, detail, deepcopy(room))
            if shorter <= SHORTENED[detail] * len(labels):
                break
        for label, place in placed:
            self._put(pen, label, place)
        shown = {label.number for label, _ in placed}
        self.without_label = [drawn.number for drawn in plan.legs if drawn.number not in shown]

    def _placed(self, labels, detail: int, room: LabelPlacer) -> tuple[list, int]:
        """Labels at their places in this detail or in less, and how many have less."""
        placed, shorter, allowed = [], 0, SHORTENED[detail] * len(labels)
        for variants in labels:
            if shorter > allowed:
                break
            fallen = self._first_that_fits(variants[detail:], room, len(labels) > 2 * MOST_NAMED)
            if fallen is not None:
                placed.append(fallen[0])
            shorter += fallen is None or fallen[1]
        return placed, shorter

    def _first_that_fits(self, variants, room: LabelPlacer, crowded: bool) -> tuple | None:
        """A label at its place, and whether it is shorter than the first one; None where none fits. variants :
        longest first
        """
        for label, reach in _tries(variants, crowded):
            width, height = (side + 2 * MARGIN for side in self._box(label))
            if label.on_line:
                place = room.on_line(width - 2 * MARGIN, height - 2 * MARGIN, label.points, ON_LINE)
            else:
                place = room.nearest(width, height, label.points, reach)
            if place is not None:
                return _Placed(label, place), label is not variants[0]
        return None

    def _put(self, pen: Pen, label: Label, place) -> None:
        """A label at its place, with a line to its point where that is far."""
        width, height = self._box(label)
        aside = 0 if label.on_line else MARGIN
        left, top = place.left + aside, place.top + aside
        self.boxes.append((label.lines[0][0], left, top, left + width, top + height))
        if label.number is not None:
            self.canvas.handle(label.number, "rect", x=left, y=top, width=width, height=height)
        if place.distance > FAR:
            edge = np.clip(place.point, (left, top), (left + width, top + height))
            pen.line([edge, place.point], 0.9, FAINT, order=3.3)
        if label.framed or label.on_line:
            looks = (
                {"fc": "none", "ec": INK, "lw": 1.4, "zorder": 4}
                if label.framed
                else {"fc": PAPER, "ec": "none", "zorder": 5}
            )
            self.artists.append(self.axes.add_patch(Rectangle((left, top), width, height, **looks)))
        for number, (text, bold) in enumerate(label.lines, 1):
            self._write(text, left + PADDING, top + PADDING + number * LINE * TYPE_SIZE - 0.22 * TYPE_SIZE, bold)

    def _left_out(self) -> list[str]:
        """Said where labels found no room."""
        count = len(self.without_label)
        return [LEFT_OUT.format(count)] if count else []

    def _box(self, label: Label) -> tuple[float, float]:
        """Width and height of a label [px]."""
        wide = max(self._width(text, bold) for text, bold in label.lines)
        return wide + 2 * PADDING, len(label.lines) * LINE * TYPE_SIZE + 2 * PADDING

    def _width(self, text: str, bold: bool = False) -> float:
        """Gives the width of a line of words [px of the field]."""
        return width_of(self._words(text, bold))

    def _write(self, text: str, x: float, y: float, bold: bool = False, ha: str = "left") -> None:
        """Puts a line of words onto (x, y)."""
        self.artists.append(self.axes.add_artist(self._words(text, bold, x=x, y=y, ha=ha, zorder=6)))

    def _words(self, text: str, bold: bool, **style) -> Text:
        weight = "bold" if bold else "normal"
        return Text(text=text, size=TEXT, weight=weight, color=INK, **style)


def _tries(variants, crowded: bool) -> list[tuple]:
    """(label, reach) pairs in the order in which they are tried.

    variants : of one label, longest first, the last one or None; crowded : far numbers would only add lines
    """
    *longer, last = variants
    found = [(label, NEAR) for label in longer] + [(label, FARTHEST) for label in longer[-1:]]
    if last is not None:
        found += [
            (last, NEAR),
            (replace(last, on_line=False), ANYWHERE if last.framed else FAR if crowded else FARTHEST),
        ]
    return found


def _sign_size(plan: Plan) -> float:
    """Signs grow smaller with the shortest legs."""
    return float(np.clip(min(drawn.length for drawn in plan.legs) / 40, SMALLEST, 1.0))


def drawn_alone(layout, assessment, system: str, width: int, height: int) -> Canvas:
    """Draws the sketch alone, for paper. width, height : [px]"""
    canvas = Canvas(width, height)
    Isometric(canvas, 0, 0, width, height).show(layout, assessment, system)
    return canvas
