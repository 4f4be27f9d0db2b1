"""The legend of an isometric sketch: only the signs that stand on it, and what is true of the whole."""

import numpy as np

from .isometric_signs import LOOKS, PIPE, Pen

SIGN, BETWEEN, ROW = 58, 14, 22.4  # [px] room of a sign, gap between items, from row to row
HALF = 0.62  # of the width: a phone shows the left and the right so far, and every item stands whole in one of them


class SketchLegend:
    """Signs and notes in rows along the lower edge. width : of the sketch [px]; measure : width of a text [px]"""

    def __init__(self, view, width: float, measure):
        self.width, self.measure = width, measure
        places = {leg.place for leg in view.all_legs}
        self.signs = [(place, place) for place in LOOKS if place in places]
        along = {name for leg in view.all_legs for name, _ in leg.fittings}
        if any(any(ends) for ends in view.ends.values()):
            self.signs.append(("joint", "elbow, tee"))
        if any("valve" in name for name in along):
            self.signs.append(("valve", "valve"))
        if view.count > 1:
            self.signs.append(("goes on", "goes on in another view"))
        self.signs += [("tap", "tap"), ("level", "level above the tank's outlet")]

    def height(self, notes) -> float:
        """Gives the height of all rows [px]."""
        return ROW * (1 + max(row for _, _, row, _ in self._places(notes))) + 6

    def draw(self, pen: Pen, notes, bottom: float) -> list[tuple]:
        """Draw the signs; returns (text, x, y) of every text. pen : for signs of their usual size; bottom : y of its
        lower edge
        """
        top, found = bottom - self.height(notes), []
        for sign, text, row, x in self._places(notes):
            middle = top + (row + 0.5) * ROW
            if sign:
                self._sign(pen, sign, x, middle)
            found.append((text, x + (SIGN if sign else 0), middle + 0.25 * ROW))
        return found

    def _places(self, notes) -> list[tuple]:
        """(sign, text, row, x) of everything, broken into rows."""
        found, x, row = [], 4.0, 0
        for sign, text in [*self.signs, *(("", note) for note in notes)]:
            wide = self.measure(text) + (SIGN if sign else 0)
            if x < (1 - HALF) * self.width and x + wide > HALF * self.width:
                x = (1 - HALF) * self.width + 2
            if x > 4.0 and x + wide > self.width - 4:
                x, row = 4.0, row + 1
            found.append((sign, text, row, x))
            x += wide + BETWEEN
        return found

    def _sign(self, pen: Pen, sign: str, x: float, y: float) -> None:
        """Draws one sign."""
        along, start, end = np.array([1.0, 0.0]), np.array([x, y]), np.array([x + SIGN - 8, y])
        if sign in LOOKS:
            pen.line([start, end], PIPE, look=LOOKS[sign])
        elif sign == "tap":
            pen.tap(np.array([x + 20, y + 3]))
        elif sign == "level":
            pen.line([start, end], PIPE)
            pen.level((start + end) / 2)
        elif sign == "goes on":
            pen.line([start, end - 12 * along], PIPE)
            pen.goes_on(end - 12 * along, along)
        else:
            pen.line([start, end], PIPE)
            if sign == "valve":
                pen.valve("valve", (start + end) / 2, along)
            else:
                for at in (start + 12 * along, end - 12 * along):
                    pen.tick(at, along)
