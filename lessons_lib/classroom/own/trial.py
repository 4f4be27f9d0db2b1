"""A question that is not saved yet, asked as a learner meets it. Nothing goes into anybody's answers."""

import ipywidgets as widgets

from ...exercises.learner import Learner, nobody
from ...exercises.question import Question
from ...exercises.variants import variant
from ...panels.arrival import ToggleButtons
from ...panels.exercises import Exercise
from ...quantities.display import SYSTEMS
from .fields import words
from .part import button


class Trial:
    """The question with its box, in either unit system; answers last until it is asked afresh."""

    def __init__(self, question: Question, name: str):
        self.exercise = Exercise(question, name, nobody())
        self.units = ToggleButtons(options=list(SYSTEMS), value=self.exercise.system, tooltips=list(SYSTEMS))
        self.units.style.button_width = "auto"
        self.units.observe(lambda change: self.exercise.set_system(change["new"]), "value")
        self.seat = 0
        self.another = button("Another seat's numbers", self.next_seat)
        self.another.layout.display = None if question.varies else "none"
        afresh = button("Ask afresh", self.afresh)
        self.told = words(right_in_words(question, self.exercise.learner.numbers_from))
        row = widgets.HBox(
            [self.units, afresh, self.another], layout={"flex_flow": "row wrap", "align_items": "center"}
        )
        self.widget = widgets.VBox([row, self.exercise.widget, self.told])

    def afresh(self) -> None:
        """Forget what was tried, so that the help begins from the first wrong answer again."""
        self.exercise.set_learner(Learner("", str(self.seat) if self.seat else "", None))

    def next_seat(self) -> None:
        """Ask with the numbers of the next seat."""
        self.seat += 1
        self.afresh()
        self.told.value = words(right_in_words(self.exercise.question, self.exercise.learner.numbers_from)).value


def right_in_words(question: Question, seat: str) -> str:
    """Says what is right with a seat's numbers, for the one who makes the question."""
    metric, customary = (variant(question, seat, system) for system in SYSTEMS)
    if metric.is_number:
        shown = " or ".join(dict.fromkeys((metric.shown_answer(), customary.shown_answer())))
        return f"Right is {shown}. Try a wrong answer too, and read what a learner is told."
    if question.kind == "order":
        return "Try your own order first. Then try a wrong one, and read what a learner is told."
    return f"Right is “{metric.filled(question.options[metric.answer])}”. Try each wrong option too."
