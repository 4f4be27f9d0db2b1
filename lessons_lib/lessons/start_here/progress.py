"""Shows how far the learner who is signed in has come: which lessons are begun and done, and what was right."""

from dataclasses import dataclass

import ipywidgets as widgets

from ...exercises import lessons, of_lesson
from ...exercises.handed_out import handed_out, in_words
from ...exercises.learner import Learner
from ...panels.page_state import answering, follow_learner
from ...quantities.errors import InputError
from ...storage import preferences

PATH = 2  # questions on the ten minutes of each lesson
NOBODY = "Give your name or seat above. Then this list shows which lessons you have begun and done."


@dataclass(frozen=True)
class Progress:
    """Holds how far a learner has come in one lesson.

    open : what is still to do on the ten minutes, in words; right, asked : of all questions of the lesson
    closed : in a room, whether the lesson is not handed out and so cannot be gone on with
    """

    lesson: str
    open: tuple[str, ...]
    right: int
    asked: int
    closed: bool = False

    def told(self) -> str:
        """Says in sentences what is done, what was right and what is still to do."""
        right = f"{self.right} of {self.asked} questions {'is' if self.right == 1 else 'are'} right."
        if self.closed:
            return f"Lesson {self.lesson} is not handed out now. {right}"
        if not self.open:
            return f"Lesson {self.lesson}: the ten minutes are done. {right}"
        return f"Lesson {self.lesson} is begun. {right} Still to do: {', '.join(self.open)}."


def progress_of(learner: Learner) -> tuple[Progress, ...]:
    """Gives each lesson that a learner has begun, in teaching order. A question counts as done once it is right, and a
    guess once it is compared.
    """
    found, closed = [], set(lessons()) - set(handed_out()) if preferences.in_room() else ()
    for lesson in lessons():
        questions, guess = of_lesson(lesson), learner.guess(lesson)
        solved = [learner.solved(one) for one in questions]
        if guess is None and not any(learner.tries(one) for one in questions):
            continue
        still = ["the guess"] if guess is None else ["compare your guess"] if guess.model is None else []
        still += [f"question {place}" for place, right in enumerate(solved[:PATH], 1) if not right]
        found.append(Progress(lesson, tuple(still), sum(solved), len(questions), lesson in closed))
    return tuple(found)


class ProgressList:
    """A list for the start page; it follows who is signed in, and looks anew when its button is pressed."""

    def __init__(self):
        self.told = widgets.HTML()
        again = widgets.Button(description="Look again", tooltip="Other pages may have kept answers meanwhile")
        again.on_click(lambda _: self.look_again())
        self.widget = widgets.VBox([self.told, again])
        self.widget.add_class("hot-water-runs")
        self.set_learner(answering().learner)
        follow_learner(self)

    def set_learner(self, learner: Learner) -> None:
        """Shows how far this learner has come."""
        if learner.is_nobody:
            lines = [NOBODY]
        else:
            try:
                lines = [one.told() for one in progress_of(learner)] or ["You have not begun a lesson yet."]
            except InputError as error:
                lines = [f"▲ {error}"]
        lines = [*_told_by_school(), *lines]
        self.words = "\n".join(lines)
        items = "".join(f"<li>{line}</li>" for line in lines)
        self.told.value = f'<div role="status" style="font-size:15px;line-height:1.5"><ul>{items}</ul></div>'

    def look_again(self) -> None:
        """Takes in what other pages kept meanwhile."""
        try:
            answering().learner.look_again()
        except InputError as error:
            self.told.value = f'<div role="status">▲ {error}</div>'
        else:
            self.set_learner(answering().learner)

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        return {**(self.widget._repr_mimebundle_() or {}), "text/plain": self.words}


def _told_by_school() -> list[str]:
    """Says which lessons a school hands out, where that is not all; in a room the others are not there at all."""
    handed = handed_out()
    if preferences.in_room() or handed == lessons():
        return []
    return [f"Your school hands out {in_words(handed)}. The other lessons are here too."]


def progress() -> ProgressList:
    """The list of lessons that the learner who is signed in has begun and done."""
    return ProgressList()
