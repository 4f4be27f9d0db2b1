"""Questions that mark themselves: numbers of the learner's own, what a wrong answer may come from, a hint, the
worked solution.
"""

from html import escape

import ipywidgets as widgets

from ..exercises import Marked, Question, mark, of_lesson
from ..exercises.bank import broken, name_of, of_school
from ..quantities.display import SI, US
from ..quantities.errors import InputError, unknown_name
from ..storage import preferences
from .answer_boxes import answer_box
from .arrival import on_arrival
from .looks import written
from .page_state import answering, follow_learner, follow_units
from .sign_in import Who

STAGES = {"thinking": "", "ask": "Ask yourself: ", "hint": "Hint: ", "worked": "Worked: "}
CHANGED = "This question has changed since you answered it. Answer it once more."
GOOD, BAD = "#1c5a2e", "#9b1c1c"


class Exercise:
    """One question with its box, under the name that it has everywhere.

    name, learner : of a question that is only tried out: it stands in no lesson yet, and follows nobody on the page
    """

    def __init__(self, question: Question, name: str = "", learner=None):
        self.question, self.name = question, name or name_of(question.id)
        self.asked, self.told, self.room = written(), written(), widgets.VBox()
        self.button = widgets.Button(
            description="Answer", tooltip="Mark this answer", button_style="primary", layout={"width": "100px"}
        )
        self.button.on_click(lambda _: self._given())
        self.widget = widgets.VBox([self.asked, self.room, self.told], layout={"margin": "0 0 10px 0"})
        self.marked, self.colour = [], BAD  # what was said of the last answer that could be read
        self.restoring = False  # what is put back into the box is no new draft
        self.system, self.learner = preferences.unit_system(), learner or answering().learner
        self.show()
        if learner is None:
            follow_units(self)
            follow_learner(self)

    def set_system(self, system: str) -> None:
        """Ask in another unit system."""
        self.system = system
        self.show()

    def set_learner(self, learner) -> None:
        """Asks another learner from now on."""
        if learner is not self.learner:
            self.learner = learner
            self.show()

    def show(self) -> None:
        """The question with the learner's numbers, and where the learner stands with it."""
        self.variant = self.learner.variant(self.question, self.system)
        self.asked.value = (
            f'<div style="font-size:16px;line-height:1.4;max-width:60em"><b>{self.name}</b>'
            f" {escape(self.variant.text)}</div>"
        )
        self.box = answer_box(self.variant, self._changed, self._given)
        if not self.learner.changed_since(self.question, self.system):
            self.restoring = True
            self.box.set(self.learner.draft(self.question, self.system))
            self.restoring = False
        beside = "center" if self.variant.is_number else "flex-start"
        flow = "row wrap" if self.variant.is_number else "column"
        row = widgets.Box(
            [self.box.widget, self.button], layout={"display": "flex", "flex_flow": flow, "align_items": beside}
        )
        self.room.children = [row]
        self.told.value, self.said, self.marked, self.colour = "", "", [], BAD
        self._show_last()

    def _given(self) -> None:
        """The reader pressed Enter or the button."""
        on_arrival(self.give, self.box.arriving)

    def give(self) -> None:
        """Mark what stands in the box, keep it, and say what it says."""
        before = self.learner.wrong_so_far(self.question)
        try:
            marked = self.learner.answer(self.question, self.box.text, self.system)
        except InputError as error:
            self._tell([("▲ ", str(error)), *self.marked], self.colour)
            return
        self._feed_back(marked, before)

    def _changed(self) -> None:
        """Keeps what was typed so far too: a browser that closes loses nothing."""
        if self.restoring:
            return
        try:
            self.learner.keep_draft(self.question, self.box.text, self.system)
        except InputError as error:
            self._tell([("▲ ", str(error))])

    def _show_last(self) -> None:
        """Shows what was said of the last answer to this very question; of an answer in other units or with other
        numbers, that it was right.
        """
        tries, here = self.learner.tries(self.question), self.learner.tries_here(self.question, self.system)
        changed = self.learner.changed_since(self.question, self.system)
        try:
            if here and not changed:
                marked = mark(self.variant, here[-1]["text"])
                self._feed_back(marked, sum(not one["right"] for one in tries[:-1]))
            elif self.learner.solved(self.question) and not changed:
                other = US if self.system == SI else SI
                there = any(one["right"] and one["system"] == other for one in tries)
                words = f"in {other} units" if there else "with other numbers"
                self._tell([("● ", f"You answered this right {words}.")], GOOD)
        except InputError:  # the question was written anew since
            changed = True
        if changed:
            self._tell([("▲ ", CHANGED)])

    def _feed_back(self, marked: Marked, before: int) -> None:
        head = ("● Right: ", f"{marked.read}.") if marked.right else ("■ Not right: ", f"{marked.read}.")
        self.marked, self.colour = (
            [head, *((STAGES[stage], text) for stage, text in marked.feedback(before))],
            (GOOD if marked.right else BAD),
        )
        self._tell(self.marked, self.colour)

    def _tell(self, lines, colour: str = BAD) -> None:
        """Shows lines of feedback: (bold beginning, the rest)."""
        self.said = "\n".join(f"{lead}{text}" for lead, text in lines)
        inside = "".join(f"<div><b>{escape(lead)}</b>{escape(text)}</div>" for lead, text in lines)
        self.told.value = (
            '<div role="status" style="font-size:15px;line-height:1.4;max-width:62em;border-left:4px solid'
            f' {colour};padding-left:8px">{inside}</div>'
        )

    def __repr__(self) -> str:
        choices = "".join(f"\n   {letter}: {words}" for letter, _, words in self.variant.choices)
        return f"{self.name} {self.variant.text}{choices}"


class Exercises:
    """Some questions of a lesson, one beneath the other, with who answers them above."""

    def __init__(self, asked):
        self.exercises = [Exercise(question) for question in asked]
        self.who = Who()
        self.widget = widgets.VBox([self.who.widget, *(one.widget for one in self.exercises)])
        self.widget.add_class("hot-water-runs")

    def __repr__(self) -> str:
        return "\n".join(map(repr, self.exercises))

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = repr(self)
        return bundle


class Missing:
    """A sentence in the place of questions that cannot be read."""

    def __init__(self, why: str):
        self.said = f"▲ The questions of this lesson cannot be shown. {why}"
        self.exercises = []
        self.widget = widgets.HTML(
            f'<div role="status" style="font-size:15px;max-width:62em">{escape(self.said)}</div>'
        )

    def __repr__(self) -> str:
        return self.said

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = repr(self)
        return bundle


def exercises(lesson: str, first: int = 1, last: int | None = None) -> Exercises:
    """Questions of a lesson, from the first to the last (None: to its end), counted from 1. A school's own questions
    stand after the last that the workbook asks in this lesson.

    lesson : "01" to "14"
    Raises InputError: an unknown lesson, numbers that the lesson has not.
    """
    if lesson in broken():  # somebody changed the file: said in the questions' place, the rest of the page goes on
        return Missing(str(broken()[lesson]))
    asked = of_lesson(lesson)
    count = sum(not of_school(one.id) for one in asked)
    if not 1 <= first <= (last or count) <= count:
        raise unknown_name(f"lesson {lesson}, questions", f"{first} to {last or count}", [f"1 to {count}"])
    return Exercises(asked[first - 1 : last if last != count else None])
