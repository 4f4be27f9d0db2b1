"""Ticks for the lessons that an instructor hands out, kept at every tick."""

from ...exercises import handed_out as kept
from ...panels.lists import Ticks
from ...quantities.errors import InputError
from ..lesson_pages import lesson_pages
from .part import Part, button, row


class LessonsHandedOut(Part):
    """One tick a lesson; the last one cannot be taken away."""

    def __init__(self):
        super().__init__()
        titles = {number: page.title for number, page in lesson_pages().items()}
        handed = kept.handed_out()
        self.ticks = Ticks("Which lessons do you hand out?", titles, handed, "what learners can open", width="420px")
        self.ticks.listener = self.keep
        self.widget = self.framed(self.ticks.widget, row(button("All lessons", self.all, "Ticks every lesson")))
        self.tell()

    def keep(self) -> None:
        """Keeps what is ticked now; without a tick all stays as it was."""
        try:
            if not self.ticks.value:
                raise InputError("At least one lesson is handed out. Tick the next one first, then take this one away.")
            kept.hand_out(self.ticks.value)
        except InputError as error:
            self.ticks.set(kept.handed_out())
            self.tell(f"▲ Nothing was changed. {error}")
            return
        self.tell("● Kept. It holds for every page and room that is opened from now on.")

    def all(self) -> None:
        """Hands out all lessons."""
        self.ticks.set(tuple(self.ticks.options))
        self.keep()

    def tell(self, told: str = "") -> None:
        """Says which lessons are handed out, and what was done last."""
        handed, slip = kept.handed_out(), kept.slip()
        named = (
            "all lessons" if len(handed) == len(self.ticks.options) else f"the start page and {kept.in_words(handed)}"
        )
        self.say(f"{f'▲ {slip} ' if slip else ''}You hand out {named}.", told)


def lessons_handed_out() -> LessonsHandedOut:
    """The choice of the lessons that learners get, for the instructor."""
    return LessonsHandedOut()
