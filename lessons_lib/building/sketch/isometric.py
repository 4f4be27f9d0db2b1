"""A pipefitter's isometric sketch of a layout, with its words where there is room for them."""

import numpy as np
from matplotlib.patches import Rectangle

from ...drawing.canvas import FAINT, INK, PAPER, Canvas
from ...drawing.vector import TYPE_SIZE
from ...quantities.display import show
from .isometric_legend import SketchLegend
from .isometric_plan import Plan
from .isometric_signs import Pen
from .isometric_views import View, whole
from .isometric_words import Label, LabelWords, along_shares, clipped, describe, valve_at
from .label_placement import FAR, LabelPlacer
from .labels_placed import LINE, MARGIN, PADDING, TIGHT, Crowd, box_of, line_of_words, places, width_of_words

__all__ = ["Isometric", "describe", "drawn_alone"]
COMPASS = (96, 62)  # [px]
SMALLEST = 0.35  # of the signs
SAME = 3.0  # [px] two things are as near as each other
LEFT_OUT, ONE_LEFT_OUT = "{} legs have no label here: the list has all.", "One leg has no label here: the list has all."


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
        legend = SketchLegend(view, self.size[0], width_of_words)
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
        return {leg: max(width_of_words(line, True) for line in lines) for leg, lines in words.items()}

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
        """Every label at its place, and which legs have none."""
        placed = places(Crowd(told.labels(plan, pen.size), room))
        for label, place in placed:
            self._put(pen, label, place, plan, told.taps)
        shown = {label.number for label, _ in placed}
        self.without_label = [drawn.number for drawn in plan.legs if drawn.number not in shown]

    def _put(self, pen: Pen, label: Label, place, plan: Plan, taps) -> None:
        """A label at its place, with a line to its point where that is far or something else is as near."""
        width, height = box_of(label)
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
            self.artists.append(self.axes.add_artist(Rectangle((left, top), width, height, **looks)))
        if label.on_line:
            self._write(label.lines[0][0], left + TIGHT, top + height - TIGHT, True)
            return
        for number, (text, bold) in enumerate(label.lines, 1):
            self._write(text, left + PADDING, top + PADDING + number * LINE * TYPE_SIZE - 0.22 * TYPE_SIZE, bold)

    def _left_out(self) -> list[str]:
        """Said where labels found no room."""
        count = len(self.without_label)
        return [] if count == 0 else [ONE_LEFT_OUT] if count == 1 else [LEFT_OUT.format(count)]

    def _write(self, text: str, x: float, y: float, bold: bool = False, ha: str = "left") -> None:
        """Puts a line of words onto (x, y)."""
        self.artists.append(self.axes.add_artist(line_of_words(text, bold, x=x, y=y, ha=ha, zorder=6)))


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
