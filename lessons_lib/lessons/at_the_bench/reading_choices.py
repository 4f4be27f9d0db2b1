"""The menus beneath a table of readings: which column holds what, and what else its header does not say."""

from dataclasses import replace

import ipywidgets as widgets

from ...bench.reading_header import COLUMNS, DEGREES, NO_AIR, ORDER, STEPS, Chosen, Offer
from ...panels.controls import label_of

LABEL, MENU = "136px", "200px"
NOT_SAID = ("Choose …", "")
# What is asked, the name of a menu, the field of Chosen that it sets, and what it offers.
ASKED = (
    (DEGREES, "Temperatures in", "degrees", {"°C": "degC", "°F": "degF"}),
    (STEPS, "Times in", "steps", {"seconds": "s", "minutes": "min", "hours": "hour"}),
    (ORDER, "Dates", "day_first", {"day first: 5/3 is 5 March": True, "month first: 3/5 is 5 March": False}),
)
ROLES = (("Time", "time"), ("Pipe temperature", "temperature"), ("Air", "air"))
NO_COLUMN = "no column"
MANY = 3  # columns from which on the reader may choose among them


class ReadingChoices:
    """Holds what the reader says of each table. listener : called when the reader has chosen."""

    def __init__(self, listener):
        self.listener, self.name = listener, ""
        self._chosen, self._asked, self._setting = {}, {}, False
        self.menus = {field: self._menu(label, field) for label, field in ROLES}
        self.menus |= {field: self._menu(label, field) for _, label, field, _ in ASKED}
        self.rows = {
            field: widgets.HBox([label_of(menu.tooltip, LABEL), menu], layout={"align_items": "center"})
            for field, menu in self.menus.items()
        }
        for row in self.rows.values():
            row.add_class("hot-water-row")
        self.widget = widgets.VBox(list(self.rows.values()))

    def _menu(self, label: str, field: str) -> widgets.Dropdown:
        menu = widgets.Dropdown(options=[NOT_SAID], tooltip=label, layout={"width": MENU})
        menu.observe(lambda change: None if self._setting else self._take(field, change["new"]), "value")
        return menu

    def of(self, name: str) -> Chosen:
        """Gives what was chosen for a table."""
        return self._chosen.get(name, Chosen())

    def ask(self, name: str, asks: str) -> None:
        """Notes that a table does not say something."""
        self._asked.setdefault(name, set()).add(asks)

    def forget(self, name: str) -> None:
        """Forgets what was asked and chosen for a table that is another one now."""
        self._chosen.pop(name, None)
        self._asked.pop(name, None)

    def show(self, name: str, offer: Offer) -> None:
        """Shows the menus that a table needs: its columns where they are many or unclear, and what else was asked."""
        self.name, self._setting = name, True
        chosen, asked, used = self.of(name), self._asked.get(name, ()), dict(offer.used)
        places = list(range(len(offer.columns)))
        for _, field in ROLES:
            said = getattr(chosen, field)
            said = used.get(field) if said is None else said
            first = (NO_COLUMN, NO_AIR) if field == "air" else NOT_SAID
            menu = self.menus[field]
            menu.options = [first, *zip(offer.columns, places)]
            menu.value = said if said in places else first[1]
            shown = (COLUMNS in asked or len(places) >= MANY) and not (field == "time" and "place" in used)
            self.rows[field].layout.display = None if shown else "none"
        for asks, _, field, values in ASKED:
            menu = self.menus[field]
            menu.options = [NOT_SAID, *values.items()]
            menu.value = "" if getattr(chosen, field) is None else getattr(chosen, field)
            self.rows[field].layout.display = None if asks in asked else "none"
        self._setting = False

    def _take(self, field: str, value) -> None:
        """Takes what the reader chose; a column that was another's before is no longer."""
        chosen, value = self.of(self.name), None if value == "" else value
        columns = [one for _, one in ROLES]
        before = [one for one in columns if field in columns and value is not None and getattr(chosen, one) == value]
        self._chosen[self.name] = replace(chosen, **{**dict.fromkeys(before), field: value})
        self.listener()
