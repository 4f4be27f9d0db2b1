"""Every label of a sketch at its place: the fullest words for which there is room."""

from copy import deepcopy
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from matplotlib.text import Text

from ...drawing.canvas import INK, TEXT
from ...drawing.vector import TYPE_SIZE, width_of
from .isometric_words import DETAILS, NUMBERS, Label
from .label_placement import LabelPlacer, Place

LINE, PADDING, MARGIN = 1.18, 4, 3  # from line to line by type size; within and around a label [px]
SHORTEST = 8.0  # [px] between the points of a leg that has room for a number on it
TIGHT, DIGIT = 2, 0.73  # [px] around a number on its leg; height of a digit by the type's size
SHORTENED = (0.2, 0.5, 1.0)  # of the labels that may be shorter than the detail asks; if more must, all are
NEAR, FARTHEST = 40.0, 90.0  # [px] from a label to its point: where a shorter one is tried, and at most
AGAIN = 4  # times that all are put anew where some that must be there found no place: those then come first
ANYWHERE = 2000.0  # [px] for marks, which are never left out


class Placed(NamedTuple):
    """A label at its place."""

    label: Label
    place: Place


class Crowd:
    """Labels that look for their places, known again by what they say and by the room that is left to them.

    labels : (full, short, shortest) of each, see LabelWords.labels; room : LabelPlacer, which stays as it is
    """

    def __init__(self, labels, room: LabelPlacer):
        self.labels, self.room = labels, room
        self._key = tuple(label and label.key for variants in labels for label in variants), room.key

    def __eq__(self, other) -> bool:
        return self._key == other._key

    def __hash__(self) -> int:
        return hash(self._key)


@lru_cache(maxsize=16)
def places(crowd: Crowd) -> list[Placed]:
    """The fullest words for which there is room; only where even the shortest find none, a leg has no label."""
    labels, room = crowd.labels, crowd.room
    for detail in DETAILS:
        placed, shorter, missing = _placed(labels, detail, deepcopy(room))
        if shorter <= SHORTENED[detail] * len(labels) and not missing:
            break
    hard: list = []
    for _ in range(AGAIN):
        if not missing:
            break
        hard = [*missing, *_without(hard, missing)]
        labels = [*hard, *_without(labels, hard)]
        placed, _, missing = _placed(labels, NUMBERS, deepcopy(room), len(hard))
    return placed


def _placed(labels, detail: int, room: LabelPlacer, hard: int = 0) -> tuple[list, int, list]:
    """Labels at their places in this detail or in less, how many have less, and those that must be there and are
    not. hard : so many of the first find their places before all others
    """
    placed: list = []
    shorter, missing, allowed = 0, [], SHORTENED[detail] * len(labels)
    wanted = [(label, label[detail:]) for label in labels]
    if detail == NUMBERS:  # first those that stand on their own legs, where nothing else may
        placed, wanted = _on_lines(wanted, hard, room)
    for label, variants in wanted:
        if shorter > allowed:
            break
        fallen = _first_that_fits(variants, room)
        if fallen is not None:
            placed.append(fallen[0])
        shorter += fallen is None or fallen[1]
        if fallen is None and variants[-1] is not None:
            missing.append(label)
    return placed, shorter, missing


def _on_lines(wanted, hard: int, room: LabelPlacer) -> tuple[list, list]:
    """Numbers at their places on their own legs, and what is left to be put elsewhere, in the order to try it."""
    placed, first, others, beside = [], [], [], []
    for count, (label, variants) in enumerate(wanted):
        place = _on_line(variants[0], room)
        if place:
            placed.append(Placed(variants[0], place))
            continue
        stands = variants[0] is not None and variants[0].on_line
        left = [replace(variants[0], on_line=False)] if stands else variants
        (first if count < hard else beside if stands else others).append((label, left))
    return placed, first + others + beside


def _first_that_fits(variants, room: LabelPlacer) -> tuple | None:
    """A label at its place, and whether it is shorter than the first one; None where none fits. variants :
    longest first
    """
    for label, reach in _tries(variants):
        if label.on_line:
            place = _on_line(label, room)
        else:
            place = room.nearest(*(side + 2 * MARGIN for side in box_of(label)), label.points, reach)
        if place is not None:
            return Placed(label, place), label is not variants[0]
    return None


def _on_line(label: Label | None, room: LabelPlacer) -> Place | None:
    """The place of a label that stands on its own leg; None where it has none there."""
    if not label or not label.on_line or np.ptp(label.points, axis=0).max() < SHORTEST:
        return None
    return room.on_line(*box_of(label), label.points, label.number)


def box_of(label: Label) -> tuple[float, float]:
    """Width and height of a label [px]."""
    wide = max(width_of_words(text, bold) for text, bold in label.lines)
    if label.on_line:
        return wide + 2 * TIGHT, DIGIT * TYPE_SIZE + 2 * TIGHT
    wide += PADDING if label.framed else 0  # its signs are wider in some typefaces
    return wide + 2 * PADDING, len(label.lines) * LINE * TYPE_SIZE + 2 * PADDING


def line_of_words(text: str, bold: bool, **style) -> Text:
    """Gives words in one line as the sketch writes them. style : place and looks of a Text"""
    weight = "bold" if bold else "normal"
    return Text(text=text, size=TEXT, weight=weight, color=INK, **style)


@lru_cache(maxsize=4000)
def width_of_words(text: str, bold: bool = False) -> float:
    """Gives the width of a line of words [px of the field]."""
    return width_of(line_of_words(text, bold))


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
