"""One file with all of a school's own material: written on this computer, taken in on another one."""

from datetime import datetime

import ipywidgets as widgets

from ...quantities.errors import InputError
from ...storage import own_material, preferences
from ...storage.files import write_whole
from ..links import PACKED, link
from . import package
from .brought import Brought
from .part import ROW, Part, button

STRANGERS = "Nobody can see who made a package. Take in only what comes from your own school."


class MaterialPackage(Part):
    """Two buttons: one writes a package, the other brings one; what it holds is shown before it is taken in."""

    def __init__(self):
        super().__init__()
        self.brought = Brought("Take in a package …", ".zip", self.look)
        self.waiting, self.link = None, widgets.HTML()
        self.asked = widgets.HBox(
            [button("Yes, take it in", self.take_in, main=True), button("No, leave it", self.leave)], layout=ROW
        )
        both = widgets.HBox([button("Write the package", self.write, main=True), self.brought.widget], layout=ROW)
        self.show(both, self.link)
        self.widget.children = (*self.widget.children, self.asked)
        self._ask(None, f"All material of your own lies in {own_material.folder()}.")

    def __repr__(self) -> str:
        return "Two buttons: Write the package, and Take in a package."

    def write(self) -> None:
        """Writes all own material into one file, and hands it over."""
        try:
            content = package.written()
            folder = preferences.seen_folder() / "packages"
            folder.mkdir(parents=True, exist_ok=True)
            file = folder / f"own-material-{datetime.now():%Y-%m-%d-%H%M%S}.zip"
            write_whole(file, content, replace=True)
        except InputError as error:
            self._ask(None, f"▲ Nothing was written. {error}")
        except OSError as reason:
            self._ask(None, f"▲ Nothing was written: the folder {folder} can't be used ({reason.strerror}).")
        else:
            self._ask(None, f"● Written: {file}. Take it to the other computer, and open this same page there.")
            self.link.value = f'<div style="font-size:15px">Save it from here: {link(file, PACKED)}</div>'

    def look(self, content: bytes, name: str) -> None:
        """Looks at a package that was brought, and asks; nothing is written yet."""
        try:
            found = package.looked_at(content, name)
        except InputError as error:
            self._ask(None, f"▲ Nothing was taken in. {error}")
            return
        there = package.files_there(own_material.folder())
        before = (
            f" It takes the place of your own material here ({len(there)} files), which is put aside." if there else ""
        )
        self._ask(found, f"{name} holds {found.holds}.{before} {STRANGERS} Do you want to take it in?")

    def take_in(self) -> None:
        """Takes in what was looked at."""
        if self.waiting is None:  # the button was pressed twice
            return
        try:
            aside = package.take_in(self.waiting)
        except InputError as error:
            self._ask(None, f"▲ Not taken in. {error}")
            return
        put = f" What was here before lies in {aside[0].parent}." if aside else ""
        anew = "To see it in the other parts, press “Make this page live again” above."
        self._ask(None, f"● Taken in: {self.waiting.holds}.{put} {anew}")

    def leave(self) -> None:
        """Leaves the package alone."""
        self._ask(None, "● Nothing was taken in.")

    def _ask(self, found, told: str) -> None:
        """Says something, and shows the two answers while a package waits."""
        self.waiting, self.link.value = found, ""
        self.asked.layout.display = None if found else "none"
        self.tell(told)


def material_package() -> MaterialPackage:
    """The package of all own material, for the instructor."""
    return MaterialPackage()
