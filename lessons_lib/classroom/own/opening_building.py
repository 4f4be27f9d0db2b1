"""The building with which lesson 11 opens: one of the instructor's own layouts in the place of Tern Bank's cabin."""

import ipywidgets as widgets

from ...building import of_school
from ...lessons.your_own_run import own_files
from ...quantities.errors import InputError
from ...storage import preferences
from ...storage.files import read_bytes
from .brought import Brought
from .part import ROW, Part, button, row

NONE_YET = "No layout of your own yet"


class OpeningBuilding(Part):
    """Lists the reader's own layouts, takes one of them or a file that is brought, and gives Tern Bank's back."""

    def __init__(self):
        super().__init__()
        self.menu = widgets.Dropdown(
            tooltip="The layouts that you saved in lesson 11",
            layout={"width": "260px", "max_width": "100%"},
        )
        take = button("Let lesson 11 open with it", self.take, main=True)
        again = button("Look again", self.list_layouts)
        self.brought = Brought("Or bring a layout file …", ".toml", self.keep)
        back = button("Back to Tern Bank's", self.take_back)
        self.show(row("Your layouts", self.menu, take, again), widgets.HBox([self.brought.widget, back], layout=ROW))
        self.list_layouts()

    def __repr__(self) -> str:
        return f"Lesson 11 opens with: {next(iter(own_files.ready_made()))}."

    def list_layouts(self) -> None:
        """Lists the layouts of the reader's own folder as they are now, and says what lesson 11 opens with."""
        files, chosen = own_files.own(), self.menu.label
        self.menu.options = list(files.items()) or [(NONE_YET, None)]
        self.menu.label = chosen if chosen in files else self.menu.options[0][0]
        self._stands()

    def take(self) -> None:
        """Takes the layout of the menu."""
        file = self.menu.value
        if file is None:
            self._stands("▲ You have no layout of your own yet. Save one in lesson 11 first, or bring a file.")
            return
        try:
            content = read_bytes(file, of_school.LARGEST_LAYOUT)
        except InputError as error:
            self._stands(f"▲ Nothing was changed. {error}")
        else:
            self.keep(content, file.name)

    def keep(self, content: bytes, name: str) -> None:
        """Lets lesson 11 open with the layout in this content, if it is one."""
        try:
            layout, aside = of_school.keep(content, name)
        except InputError as error:
            self._stands(f"▲ Nothing was changed. {error}")
            return
        told = [f"● Taken: {name}. Whoever opens lesson 11 from now on begins with it."]
        if aside:
            told.append(f"The building before it was put aside, as {aside}.")
        if layout.invented:
            told.append(f"Its papers say: {layout.invented}")
        self._stands(" ".join(told))

    def take_back(self) -> None:
        """Lets lesson 11 open with Tern Bank's cabin again."""
        try:
            aside = of_school.take_back()
        except InputError as error:
            self._stands(f"▲ {error}")
            return
        self._stands(f"● Done. Your building was put aside, as {aside}." if aside else "● Nothing to take back.")

    def _stands(self, told: str = "") -> None:
        """Says what lesson 11 opens with, and what was done last."""
        first = next(iter(own_files.ready_made()))
        _, slip = of_school.of_school()
        where = "" if self.menu.value else f" Layouts that you save in lesson 11 lie in {preferences.layouts_folder()}."
        self.tell(" ".join(filter(None, (told, f"▲ {slip}" if slip else "", f"Lesson 11 opens with: {first}.{where}"))))


def opening_building() -> OpeningBuilding:
    """The choice of the building with which lesson 11 opens, for the instructor."""
    return OpeningBuilding()
