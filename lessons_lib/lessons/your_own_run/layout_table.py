"""A layout's legs, taps and settings as small tables of boxes: what is typed goes into the file's words as people
write them.
"""

from dataclasses import dataclass
from html import escape

import ipywidgets as widgets

from ...building.check import fits_a_tee
from ...building.document import NOT_IN_EVERY, WHOLE
from ...building.parts import OPPOSITE
from ...building.source import unquoted
from ...panels.looks import layout, plain, written

ROWS = 10  # boxes for so many rows; more rows turn pages
NUMBER = 22  # [px] of the number that a leg has on the sketch
ALWAYS = 4  # boxes of a row that are always shown; the others only while the row is in hand
SMALL = {"width": "30px", "padding": "0", "margin": "2px 1px"}


@dataclass(frozen=True)
class Column:
    """One word of a row: what stands above it, and how wide its box is [px]."""

    word: str
    title: str
    width: int


LEG = (
    Column("name", "name", 114),
    Column("from", "from", 114),
    Column("go", "go", 60),
    Column("length", "length", 66),
    Column("pipe", "pipe", 90),
    Column("size", "size", 60),
    Column("joint", "joint", 54),
    Column("insulation", "insulation", 114),
    Column("thickness", "thickness", 72),
    Column("place", "place", 92),
    Column("fittings", "fittings", 80),
    Column("tape", "heat tape", 104),
    Column("bare_share", "left bare", 60),
)
TAP = (
    Column("name", "name", 102),
    Column("leg", "at the end of leg", 118),
    Column("kind", "kind", 74),
    Column("flow", "flow wanted", 84),
    Column("useful", "warm enough at", 124),
    Column("at_pressure", "flow is stated at", 132),
)
NIGHT = (
    Column("name", "name", 190),
    Column("air", "air outdoors", 110),
    Column("wind", "wind", 90),
    Column("hours", "lasts", 90),
    Column("hours_without_power", "of it without power", 150),
)
FLOOR = (Column("name", "name", 190), Column("height", "height above the tank's outlet", 220))
LOOP = tuple(column for column in LEG if column.word != "from")
KINDS = {"leg": LEG, "tap": TAP, "night": NIGHT, "floor": FLOOR, "loop.hot": LOOP, "loop.return": LOOP}
NO_LEGS = "tap", "night", "floor"
# Tables of which a layout has one, with their words.
SETTINGS = {
    WHOLE: ("name", "about", "address", "author", "date"),
    "water": ("pressure", "cold_inlet"),
    "tank": ("set_temperature", "place"),
    "valve": ("setting", "leg", "end"),
    "night": ("air", "wind", "hours", "hours_without_power"),
    "places": ("indoors", "crawlspace", "buried", "depth", "soil"),
    "usual": ("pipe", "size", "insulation", "thickness", "place", "joint"),
    "loop": ("flow", "leaves_at", "comes_back_at"),
    "tape": ("hold", "thermostat", "voltage", "breaker", "region", "thickness"),
    "buy": ("spare", "saw_kerf"),
}
# What the tables are called, and what they hold.
SETTING = "settings"
TABLES = {
    "Legs": "leg",
    "Taps": "tap",
    "Tank, valve, night": SETTING,
    "Nights": "night",
    "Floors": "floor",
    "Loop: to the tank": "loop.hot",
    "Loop: back": "loop.return",
}
WIDTHS = {
    "pipe": 136,
    "leg": 160,
    "insulation": 130,
    "region": 110,
    "name": 160,
    "about": 300,
    "address": 210,
    "author": 130,
}
CALLED = {"valve": "mixing valve", "loop": "loop to a heat pump outside"}
TITLES = {"about": "what it is", "author": "drawn by"}  # of words that a reader calls otherwise
STOREY = 2.8  # [m] of a new floor above the one before (common practice, no source)
LETTER = 8  # [px] of a box's name above it, a letter


def _label(text: str, width: int) -> widgets.HTML:
    """Gives what stands above a box, as wide as it."""
    return written(_words(text), **_wide(width), margin="0 1px")


def _wide(width: int) -> dict:
    """Gives the layout of a box or of its head: boxes of names share what the others leave, and all may be narrower."""
    return {"width": f"{width}px", "flex": f"{int(width > 100)} 1 {width}px", "min_width": "0"}


def _words(text: str) -> str:
    return f'<span style="font-size:14px;white-space:nowrap">{escape(text)}</span>'


def _before(document, kind: str) -> int:
    """Says how many legs the sketch numbers before those of a kind."""
    kinds = [one for one in KINDS if one not in NO_LEGS]
    return sum(len(document.rows(one)) for one in kinds[: kinds.index(kind)]) if kind in kinds else 0


def name_of(document, kind: str, number: int) -> str:
    """Says which row it is: the number that a leg has on the sketch, and its name."""
    name = document.rows(kind)[number].get("name", "without a name")
    return f'"{name}"' if kind in NO_LEGS else f'leg {number + 1 + _before(document, kind)}, "{name}"'


def row_of(document, number: int) -> tuple[str, int]:
    """Gives the kind of table and the row in it of the leg with this number on the sketch; 1 is the first."""
    kind = [one for one in ("leg", "loop.hot", "loop.return") if _before(document, one) < number][-1]
    return kind, number - 1 - _before(document, kind)


def _leg_of(document, kind: str, row: dict, place: int) -> int | None:
    """Gives the number of a row's leg on the sketch; of a tap, that of the leg at whose end it is; of a night or floor
    none."""
    if kind not in NO_LEGS:
        return place + 1 + _before(document, kind)
    names = [leg.get("name") for leg in document.rows("leg")]
    return names.index(row["leg"]) + 1 if row.get("leg") in names else None


def shown(value) -> str:
    """A value of the file as it stands in a box: a list with commas, nothing where it is not said."""
    if isinstance(value, list):
        return ", ".join(map(str, value))
    return "" if value is None else str(value)


def meant(word: str, text: str):
    """Gives what a box means in the file: a list for fittings; None, the usual value, where it is empty."""
    text = unquoted(text)
    if word == "fittings" and text:
        return [one.strip() for one in text.split(",") if one.strip()]
    return text or None


def small_button(name: str, tip: str, width: str, act) -> widgets.Button:
    """A button as high as a row. width : "": that of one sign"""
    button = widgets.Button(description=name, tooltip=tip, layout={**SMALL, "width": width} if width else SMALL)
    button.on_click(lambda _: act())
    return button


def title_of(word: str) -> str:
    """Gives the words beside the box of a word of the settings."""
    return TITLES.get(word, word.replace("_", " "))


class Row:
    """Boxes for some words, and beneath them what is wrong. While the row has the keyboard it shows all its boxes, each
    beneath its name; else only the first ones.

    columns : the words in their order; before : what stands before the boxes; after : buttons behind the last box
    typed : (word, text) of a box that the reader changed; always : how many boxes are always shown
    """

    def __init__(self, columns, typed, before, after=(), always: int = ALWAYS):
        self.typed, self._setting = typed, False
        self.boxes = {column.word: self._box(column) for column in columns}
        self.told = written(margin="0")
        boxes = list(self.boxes.values())
        lines = widgets.Box([before, *boxes[:always]]), widgets.Box([*boxes[always:], *after])
        for line, name in zip(lines, ("hot-water-line", "hot-water-more")):
            line.add_class(name)
        self.widget = widgets.VBox([*lines, self.told])
        self.widget.add_class("hot-water-table-row")

    def _box(self, column: Column) -> widgets.Text:
        word = column.word
        box = widgets.Text(
            description=column.title,
            continuous_update=False,
            tooltip=column.title,
            layout=layout(**_wide(column.width), margin="2px 1px"),
            style=plain(widgets.Text),
        )
        box.observe(lambda change: None if self._setting else self.typed(word, change["new"]), "value")
        return box

    def show(self, values: dict, usual: dict) -> None:
        """Show the values, and faintly the usual ones where none is said."""
        self._setting = True
        for word, box in self.boxes.items():
            box.value = shown(values.get(word))
            box.placeholder = shown(usual.get(word)) or "\u200b"
        self._setting = False

    def say(self, message: str) -> None:
        """Says what is wrong with this row; no words clear it."""
        self.told.value = (
            '<div role="alert" style="color:#9b1c1c;font-size:14px;line-height:1.25;max-width:90em">▲'
            f" {escape(message)}</div>"
            if message
            else ""
        )


class LayoutTable:
    """The legs or taps of a kind, a page of them at a time.

    edit : has change(kind, number, word, value), add(kind, number or None), remove(kind, number)
    """

    def __init__(self, kind: str, edit):
        self.kind, self.edit, self.first, self.count, self.usual = kind, edit, 0, 0, {}
        columns = KINDS[kind]
        head = widgets.Box(
            [_label("", NUMBER), *(_label(column.title, column.width) for column in columns[:ALWAYS])],
            layout={"height": "24px"},
        )
        head.add_class("hot-water-line")
        self.numbers = [_label("", NUMBER) for _ in range(ROWS)]
        self.rows = [self._row(place, columns) for place in range(ROWS)]
        self.before, self.after = (
            self._button(name, tip, "130px", lambda turn=turn: self._turn(turn))
            for name, tip, turn in (
                ("Rows before", "The rows before these", -ROWS),
                ("Rows after", "The rows after these", ROWS),
            )
        )
        self.more = self._button("Add at the end", "One more, at the end", "130px", lambda: edit.add(kind, None))
        self.page = _label("", 160)
        foot = widgets.HBox([self.more, self.before, self.after, self.page])
        self.widget = widgets.VBox([head, *(row.widget for row in self.rows), foot])

    def _row(self, place: int, columns) -> Row:
        """The row at a place of the page, with its two buttons."""
        kind = self.kind
        add = self._button(
            "+",
            "One that begins where this one ends" if kind == "leg" else "One more, after this one",
            "",
            lambda: self.edit.add(kind, self.first + place),
        )
        gone = self._button("×", "Take this one out", "", lambda: self.edit.remove(kind, self.first + place))
        return Row(
            columns,
            lambda word, text: self.edit.change(kind, self.first + place, word, meant(word, text)),
            self.numbers[place],
            (add, gone),
        )

    _button = staticmethod(small_button)

    def _turn(self, by: int) -> None:
        self.first = max(0, self.first + by)
        self.edit.refresh()

    def turn_to(self, number: int) -> None:
        """Turns to the page that has a row, counted from 0."""
        self._turn(ROWS * (number // ROWS) - self.first)

    def show(self, document) -> None:
        """Show the rows of this page as the document has them."""
        found, usual = document.rows(self.kind), {} if self.kind in NO_LEGS else document.settings("usual")
        self.count = len(found)
        self.first = min(self.first, max(0, ROWS * ((self.count - 1) // ROWS)))
        for place, row in enumerate(self.rows):
            there = self.first + place < self.count
            row.widget.layout.display = None if there else "none"
            row.show(found[self.first + place] if there else {}, usual)
            row.say("")
            leg = _leg_of(document, self.kind, found[self.first + place], self.first + place) if there else None
            self.numbers[place].value = (
                "" if leg is None else f'<span class="hot-water-number" data-leg="{leg}">{leg}</span>'
            )
        self.before.disabled, self.after.disabled = self.first == 0, self.first + ROWS >= self.count
        last = min(self.first + ROWS, self.count)
        self.page.value = _words(f"{self.first + 1} to {last} of {self.count}" if self.count else "none yet")

    def say(self, path: tuple, message: str) -> bool:
        """Says it beside the row of a place in the file; False where it is on no row that is shown. path : see
        LayoutError
        """
        number = next((part for part in path if isinstance(part, int)), None)
        if number is None or not self.first <= number < min(self.first + ROWS, self.count):
            return False
        self.rows[number - self.first].say(message)
        return True


class SettingsTable:
    """The tables of which a layout has one. edit : has set(table, word, value), drop(table)"""

    def __init__(self, edit):
        self.gone = {
            table: small_button(
                "×", f"This house has no {CALLED[table]}: take it out", "", lambda table=table: edit.drop(table)
            )
            for table in NOT_IN_EVERY
        }
        self.rows = {table: self._row(table, words, edit) for table, words in SETTINGS.items()}
        self.widget = widgets.VBox([row.widget for row in self.rows.values()])
        self.widget.add_class("hot-water-settings")

    def _row(self, table: str, words, edit) -> Row:
        return Row(
            [Column(word, title_of(word), max(WIDTHS.get(word, 84), LETTER * len(title_of(word)))) for word in words],
            lambda word, text: edit.set(table, word, meant(word, text)),
            widgets.HTML(f'<b style="font-size:15px">{table}</b>'),
            [self.gone[table]] if table in self.gone else [],
            always=0,
        )

    def show(self, document) -> None:
        """Show the tables as the document has them."""
        for table, row in self.rows.items():
            row.show(document.settings(table), {})
            row.say("")

    def say(self, path: tuple, message: str) -> bool:
        """Says it beside the table of a place in the file; False where it is another."""
        row = self.rows.get(WHOLE if path and path[0] in SETTINGS[WHOLE] else path[0] if path else None)
        if row is None or any(isinstance(part, int) for part in path):
            return False
        row.say(message)
        return True


def fresh_row(document, kind: str, number: int | None) -> dict:
    """The words of one more leg, which goes on from a row, or of one more tap, on a leg that ends at nothing."""
    rows = document.rows(kind)
    before = rows[number] if number is not None else rows[-1] if rows else {}
    if kind == "tap":
        return {
            "name": _free(document, "new tap", ("tap",)),
            "leg": _open_end(document),
            "kind": "sink",
            "flow": "6 L/min",
        }
    if kind == "night":
        return {**before, "name": _free(document, "another night", ("night",))}
    if kind == "floor":
        name = _free(document, "new floor", ("floor",))
        return {"name": name, "height": f"{STOREY * (len(rows) + 1):.3g} m"}
    start = {"from": str(before.get("name", "tank"))} if kind == "leg" else {}
    others = [str(row.get("go")) for row in rows if row.get("from") == start.get("from", "")]
    return {
        "name": _free(document, "new leg", tuple(one for one in KINDS if one not in NO_LEGS)),
        **start,
        "go": _free_way(str(before.get("go", "north")), others),
        "length": "1 m",
    }


def _free_way(arrives: str, others: list) -> str:
    """A direction for one more leg from an end: straight on, or another that fits a tee with the one there."""
    ways = [arrives, *(way for way in OPPOSITE if way not in (arrives, OPPOSITE.get(arrives)))]
    return next(
        (way for way in ways if way not in others and fits_a_tee(arrives, way, *others[:1] or [arrives])), arrives
    )


def _free(document, name: str, kinds) -> str:
    """A name that nothing has yet."""
    taken = {row.get("name") for kind in kinds for row in document.rows(kind)}
    return next(one for one in (name, *(f"{name} {number}" for number in range(2, len(taken) + 3))) if one not in taken)


def _open_end(document) -> str:
    """The last leg with nothing at its end; the last leg of all where there is none."""
    legs = [row.get("name") for row in document.rows("leg")]
    used = {row.get("from") for row in document.rows("leg")} | {row.get("leg") for row in document.rows("tap")}
    return str(next((name for name in reversed(legs) if name not in used), legs[-1] if legs else "tank"))
