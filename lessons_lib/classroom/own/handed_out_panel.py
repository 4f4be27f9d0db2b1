"""Ticks for the lessons that an instructor hands out, kept at every tick."""

import ipywidgets as widgets

from ...exercises import handed_out as kept
from ...panels.lists import Ticks
from ...quantities.errors import InputError
from ..lesson_pages import lesson_pages
from .part import ROW, Part, button


class LessonsHandedOut(Part):
    """One tick a lesson; the last one cannot be taken away."""

    def __init__(self):
        super().__init__()
        titles = {number: page.title for number, page in lesson_pages().items()}
        handed = kept.handed_out()
        self.ticks = Ticks("Which lessons do you hand out?", titles, handed, "what learners can open", width="420px")
        self.ticks.listener = self.keep
        self.show(self.ticks.widget, widgets.HBox([button("All lessons", self.all)], layout=ROW))
        self._stands()

    def __repr__(self) -> str:
        return self.said

    def keep(self) -> None:
        """Keeps what is ticked now; without a tick all stays as it was."""
        try:
            if not self.ticks.value:
                raise InputError("At least one lesson is handed out. Tick the next one first, then take this one away.")
            kept.hand_out(self.ticks.value)
        except InputError as error:
            self.ticks.set(kept.handed_out())
            self._stands(f"▲ Nothing was changed. {error}")
            return
        self._stands("● Kept. It holds for every page and room that is opened from now on.")

    def all(self) -> None:
        """Hands out all lessons."""
        self.ticks.set(tuple(self.ticks.options))
        self.keep()

    def _stands(self, told: str = "") -> None:
        """Says which lessons are handed out, and what was done last."""
        handed, slip = kept.handed_out(), kept.slip()
        named = (
            "all lessons" if len(handed) == len(self.ticks.options) else f"the start page and {kept.in_words(handed)}"
        )
        self.tell(" ".join(filter(None, (told, f"▲ {slip}" if slip else "", f"You hand out {named}."))))


def lessons_handed_out() -> LessonsHandedOut:
    """The choice of the lessons that learners get, for the instructor."""
    return LessonsHandedOut()
