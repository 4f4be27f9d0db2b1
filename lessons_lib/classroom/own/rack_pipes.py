"""Pipe from a school's own rack: sizes that the workbook has not, of materials that it has."""

import math

import ipywidgets as widgets

from ...quantities.display import US
from ...quantities.errors import InputError
from ...quantities.reading import read_quantity
from ...quantities.units import OUTSIDE, Q_, WALL
from ...runs.pipe import families
from ...storage import own_rows, preferences, tables
from .part import ROW, Part, button, lines_of, row

PIPES = "pipes"
LONGEST = 20  # characters of a size's name
KNOWN = "measured at this school, no published source"


class RackPipes(Part):
    """Asks for a size by what can be measured on it, and lists a school's own sizes."""

    def __init__(self):
        super().__init__()
        self.family = widgets.Dropdown(
            options=families(), value=_of_this_side(), tooltip="Made like", layout={"width": "260px"}
        )
        self.outside = widgets.Text(placeholder="like 16 mm or 0.63 in", tooltip="Outside", layout={"width": "200px"})
        self.wall = widgets.Text(placeholder="like 1.2 mm or 0.05 in", tooltip="Wall", layout={"width": "200px"})
        self.name = widgets.Text(placeholder="empty: outside and wall", tooltip="Called", layout={"width": "200px"})
        self.mine, self.slips = widgets.VBox(), widgets.HTML()
        self.show(
            row("Made like", self.family),
            row("Outside", self.outside),
            row("Wall", self.wall),
            row("Called", self.name),
            widgets.HBox([button("Add this size", lambda: self.trying(self.add), "140px", main=True)], layout=ROW),
            self.mine,
            self.slips,
        )
        self.list()

    def add(self) -> None:
        """Keep the size that is typed. Raises InputError: no pipe has these measures, or there is one like it."""
        like = next(one for one in tables.of_workbook(PIPES) if one["family"] == self.family.value)
        unit = like["unit"]
        outside = read_quantity(self.outside.value, OUTSIDE).to(unit).magnitude
        wall = read_quantity(self.wall.value, WALL).to(unit).magnitude
        written = {column: like[column] for column in ("family", "material", "region", "unit")}
        written |= {
            "size": self._called(f"{outside:.4g} {unit} x {wall:.{3 if unit == 'mm' else 2}g} {unit}"),
            "outside_diameter": f"{outside:.6g}",
            "wall": f"{wall:.6g}",
            "source": KNOWN,
            "how_known": "measured",
        }
        made = tables.Row("This page", written)
        of_workbook = tables.of_workbook(PIPES)
        own_rows.checked(PIPES, made, of_workbook)
        self._none_like_it(made, [*of_workbook, *tables.own(PIPES)])
        own_rows.keep(PIPES, [dict(one) for one in tables.own(PIPES)] + [written])
        self.list()
        self.tell(
            f"● Added: {_told(made)}. Pages that are opened from now on have it. Measure the bore of a cut end: is it so?"
        )

    def _called(self, measures: str) -> str:
        """The name that was typed, or the measures. Raises InputError: it is too long to stand beside a slider."""
        name = " ".join(self.name.value.split())
        if len(name) > LONGEST:
            raise InputError(f"Called: {name!r} has {len(name)} characters, and {LONGEST} find room. Make it shorter.")
        return name or measures

    def _none_like_it(self, made, known) -> None:
        """Raises InputError: a size of this family is called so, or has these very measures, already."""
        for one in known:
            if one["family"] != made["family"]:
                continue
            if one["size"].lower() == made["size"].lower():
                raise InputError(f"{made['size']}: {one['family']} has a size of that name. Call yours otherwise.")
            if all(abs(one.number(each) - made.number(each)) < 1e-6 for each in ("outside_diameter", "wall")):
                raise InputError(f"{made['family']} has this pipe already: it is called {one['size']}.")

    def take_away(self, size) -> None:
        """Take a size away; the table as it was is put aside."""
        own_rows.keep(PIPES, [dict(one) for one in tables.own(PIPES) if dict(one) != dict(size)])
        self.list()
        self.tell(f"Taken away: {size['family']} {size['size']}. Pages that are open keep it until they are closed.")

    def list(self) -> None:
        """Show the sizes that are a school's own, each with a button that takes it away."""
        tables.rows.cache_clear()
        self.mine.children = [
            widgets.HBox(
                [
                    button("Take away", lambda one=one: self.trying(lambda: self.take_away(one)), "100px"),
                    widgets.HTML(lines_of([_told(one)])),
                ],
                layout=ROW,
            )
            for one in tables.own(PIPES)
        ]
        self.tell("" if self.mine.children else "No size of your own yet.")
        self.slips.value = lines_of(f"▲ {one}" for one in tables.own_slips() if one.startswith(f"{PIPES}.csv"))

    def __repr__(self) -> str:
        return f"Sizes of your own, beside the {len(tables.of_workbook(PIPES))} of the workbook."


def _of_this_side() -> str:
    """The first family whose sizes are in the reader's own unit, millimetres or inches."""
    own = "in" if preferences.unit_system() == US else "mm"
    return next(one["family"] for one in tables.of_workbook(PIPES) if one["unit"] == own)


def _told(size) -> str:
    """A size with what follows from its measures: its bore and what a length of it holds."""
    unit = size["unit"]
    bore = Q_(size.number("outside_diameter") - 2 * size.number("wall"), unit)
    length, volume = ("m", "L") if unit == "mm" else ("ft", "gal")
    held = (math.pi / 4 * bore**2 * Q_(1, length)).to(volume).magnitude
    return f"{size['family']} {size['size']}, bore {bore.magnitude:.3g} {unit}, holds {held:.2g} {volume} in 1 {length}"


def rack_pipes() -> RackPipes:
    """The part of the page on a school's own pipe sizes."""
    return RackPipes()
