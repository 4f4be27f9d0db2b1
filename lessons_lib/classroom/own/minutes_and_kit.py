"""Minutes and kit of a lesson as they are in this school: what differs from the workbook is kept beside it."""

import ipywidgets as widgets

from ...quantities.errors import InputError
from ...quantities.reading import read_typed
from ...storage import own_rows, tables
from ..lesson_pages import lesson_pages
from .part import ROW, Part, button, count_box, lines_of, row, small

MINUTES, KIT = "session_minutes", "kit"
ASKED = {  # column of session_minutes.csv → what is asked for
    "path": ("Path", "guess, panel and first questions, everybody at once"),
    "hands": ("At the bench", "work of one group at its bench"),
    "wait": ("Wait", "in between, while the bench is left alone"),
    "rest": ("Until the next", "what the bench needs from one group to the next"),
    "talk": ("Talk", "who was further off, you or the model"),
    "lead": ("Beforehand", "so long before the session its bench begins"),
}
SAID = {
    "meanwhile": ("While they wait", "what people do while the bench is left alone"),
    "begin": ("What begins", "what is begun so long before the session"),
}
MORE = "one more thing"
PER = {"each bench": "bench", "the room, once": "room", "each person": "person"}


class Thing:
    """One line of the kit: how many, what, for whom, how heavy. What is the workbook's is not renamed."""

    def __init__(self, written: dict, of_workbook: bool):
        self.before = dict(written)
        self.count = count_box(
            f"How many: {written['item'] or MORE}",
            value=int(written["count"]),
            min=0,
            max=own_rows.TABLES[KIT].whole["count"],
        )
        self.item = widgets.Text(value=written["item"], placeholder="what it is", layout={"width": "250px"})
        self.per = widgets.Dropdown(options=PER, value=written["per"], layout={"width": "130px"})
        self.weight = widgets.Text(
            value=written["kg"] and f"{written['kg']} kg", placeholder="weight of one", layout={"width": "110px"}
        )
        self.item.tooltip = "What"
        for box, named in ((self.per, "For"), (self.weight, "Weight of one")):
            box.tooltip = f"{named}: {written['item'] or MORE}"
        whose = next(words for words, per in PER.items() if per == written["per"])
        named = [small(f"{written['item']} ({whose})")] if of_workbook else [self.item, self.per]
        self.widget = widgets.HBox([self.count, self.weight, *named], layout=ROW)

    @property
    def written(self) -> dict:
        """Gives the line as a row of the table, but with the weight as it was typed."""
        return self.before | {
            "item": self.item.value.strip(),
            "per": self.per.value,
            "count": str(self.count.value),
            "kg": self.weight.value.strip(),
        }


def _kilograms(text: str) -> str:
    """The weight that was typed, in any unit of mass; kilograms where none is written, nothing where nothing is."""
    return f"{read_typed(text, 'kg', '4.5 kg or 10 lb').quantity.to('kg').magnitude:.6g}" if text else ""


class MinutesAndKit(Part):
    """Asks for one lesson's minutes and kit, and keeps what differs from the workbook's."""

    def __init__(self):
        super().__init__()
        pages = lesson_pages()
        planned = [one["lesson"] for one in tables.of_workbook(MINUTES)]
        titles = [(pages[one].title, one) for one in planned if one in pages]
        self.lesson = widgets.Dropdown(options=titles, layout={"width": "360px"}, tooltip="Lesson")
        most = own_rows.TABLES[MINUTES].whole
        self.minutes = {
            column: count_box(f"{named}, min", min=0, max=most[column]) for column, (named, _) in ASKED.items()
        }
        self.words = {
            column: widgets.Text(tooltip=named, placeholder=explained, layout={"width": "560px"})
            for column, (named, explained) in SAID.items()
        }
        self.things, self.rows = [], widgets.VBox()
        self.slips = widgets.HTML()
        self.leaving = ""  # lesson that was chosen while something here was not kept; chosen again, it opens
        self.lesson.observe(self._chosen, "value")
        more = button("One more thing", lambda: self._add(), "150px")
        buttons = widgets.HBox(
            [
                button("Keep", lambda: self.trying(self.keep), "90px", main=True),
                button("As in the workbook", lambda: self.trying(self.back), "170px"),
            ],
            layout={"flex_flow": "row wrap"},
        )
        head = '<div style="font-size:15px"><b>Kit of this lesson</b> (how many, the weight of one where it'
        head += " is bought by weight, and what). Write 0 where you do without.</div>"
        self.show(
            row("Lesson", self.lesson),
            *(row(f"{ASKED[one][0]}, min", box, small(ASKED[one][1])) for one, box in self.minutes.items()),
            *(row(SAID[one][0], box) for one, box in self.words.items()),
            widgets.HTML(head),
            self.rows,
            more,
            buttons,
            self.slips,
        )
        self.open()

    def open(self) -> None:
        """Show a lesson as it is planned now."""
        tables.rows.cache_clear()
        now = next(one for one in tables.rows(MINUTES) if one["lesson"] == self.lesson.value)
        for column, box in self.minutes.items():
            box.value = now.whole(column)
        for column, box in self.words.items():
            box.value = now[column]
        items = {one["item"].lower() for one in self._of_workbook(KIT)}
        mine = [one for one in tables.rows(KIT) if one["lesson"] == self.lesson.value]
        self.things = [Thing(one, one["item"].lower() in items) for one in mine]
        self._show_things()
        self.leaving, self.opened = "", self._typed()
        own = [name for name in (MINUTES, KIT) if any(self._is_mine(one) for one in tables.own(name))]
        self.tell("Your school's own." if own else "As in the workbook.")
        slips = [one for one in tables.own_slips() if one.startswith((f"{MINUTES}.csv", f"{KIT}.csv"))]
        self.slips.value = lines_of(f"▲ {one}" for one in slips)

    def keep(self) -> None:
        """Keep what differs from the workbook. Raises InputError: two things of one name, a weight that is none."""
        written, typed = self._typed()
        things = [one | {"kg": _kilograms(one["kg"])} for one in typed]
        names = [one["item"].lower() for one in things]
        doubled = next((one for one in names if names.count(one) > 1), None)
        if doubled:
            raise InputError(f"kit: {doubled} stands there twice. Write how many in one line.")
        mine = {name: _differing(rows, self._of_workbook(name)) for name, rows in ((MINUTES, [written]), (KIT, things))}
        for name, rows in mine.items():  # all of it is looked at before any of it is written
            for one in rows:
                own_rows.checked(name, tables.Row("This page", one), tables.of_workbook(name))
        for name, rows in mine.items():
            self._write(name, rows)
        self.open()
        self.tell("● Kept. Planner, run sheet and kit follow it when you open them again.")

    def _typed(self) -> tuple:
        """The row of minutes and the rows of kit that stand in the boxes."""
        written = {"lesson": self.lesson.value}
        written |= {column: str(box.value) for column, box in self.minutes.items()}
        written |= {column: " ".join(box.value.split()) for column, box in self.words.items()}
        return written, [one.written for one in self.things if one.item.value.strip()]

    def _chosen(self, change) -> None:
        """Opens the lesson that was chosen; while something is not kept, says so once and stays."""
        before, chosen = change["old"], change["new"]
        minutes, things = self._typed()
        unchanged = (minutes | {"lesson": before}, things) == self.opened
        if self.opened[0]["lesson"] == chosen:  # it was set back to the one that stands here
            return
        if unchanged or self.leaving == chosen:
            self.open()
            return
        self.leaving = chosen
        self.lesson.value = before
        self.tell(
            f"▲ What you changed for lesson {before} is not kept yet. Press “Keep”, or choose lesson {chosen} again and"
            " leave it."
        )

    def back(self) -> None:
        """Take this lesson as the workbook has it. What was kept for it is put aside."""
        for name in (MINUTES, KIT):
            self._write(name, [])
        self.open()

    def _write(self, name: str, mine: list) -> None:
        """Writes this lesson's own rows beside the other lessons', where anything changed. Raises InputError."""
        before = [dict(one) for one in tables.own(name)]
        now = [one for one in before if not self._is_mine(one)] + mine
        if now != before:
            own_rows.keep(name, now)

    def _of_workbook(self, name: str) -> list:
        return [one for one in tables.of_workbook(name) if self._is_mine(one)]

    def _is_mine(self, written) -> bool:
        return written["lesson"] == self.lesson.value

    def _add(self) -> None:
        """An empty line for one more thing."""
        empty = {"lesson": self.lesson.value, "item": "", "per": "bench", "count": "1", "kg": ""}
        self.things.append(Thing(empty, False))
        self._show_things()

    def _show_things(self) -> None:
        self.rows.children = [one.widget for one in self.things]

    def __repr__(self) -> str:
        return f"Minutes and kit of {len(self.lesson.options)} lessons, to be changed for your school."


def _differing(rows: list, of_workbook: list) -> list:
    """The rows that do not stand like this in the workbook."""
    known = [dict(one) for one in of_workbook]
    return [one for one in rows if one not in known]


def minutes_and_kit() -> MinutesAndKit:
    """The part of the page on a lesson's minutes and kit."""
    return MinutesAndKit()
