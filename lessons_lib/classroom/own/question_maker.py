"""The form that makes a question of a school's own: one step in sight at a time, tried out before it is saved."""

from html import escape

import ipywidgets as widgets

from ...exercises import own_file
from ...exercises.bank import lesson_of, name_of
from ...panels.arrival import on_arrival
from ...panels.exercises import BAD, GOOD
from ...panels.panel_base import STYLE
from ...quantities.errors import InputError
from . import draft, entry, form_steps
from .draft import Draft
from .fields import said, words
from .part import button
from .step_checks import of_steps
from .trial import Trial

CAUTION = (
    "Is it about work that can hurt somebody: hot water, pressure, electricity, bacteria, frost? Then say the caution"
    " in the worked solution, and that local code and a licensed trade decide."
)
OPEN = "A question that you began stands in the form. Save it there, or press “Begin anew”, before you change another."


class QuestionMaker:
    """Leads through the steps of a question. draft : what was typed so far, kept with every letter; watchers : called
    when a question was saved
    """

    def __init__(self):
        self.draft, self.trial, self.watchers = draft.kept(), None, []
        self.heading, self.told = widgets.HTML(), widgets.HTML()
        self.body = widgets.VBox(layout={"max_width": "100%"})
        self.back = button("Back", lambda: self._soon(self.go_back))
        self.next = button("Next", lambda: self._soon(self.go_on), main=True)
        self.save_it = button("Save", self.save, main=True)
        self.anew = button("Begin anew", self.begin_anew)
        self.sure = button("Yes, empty every field", self.empty)
        row = widgets.HBox([self.back, self.next, self.save_it, self.anew, self.sure], layout={"flex_flow": "row wrap"})
        style = widgets.HTML(STYLE, layout={"display": "none"})
        self.widget = widgets.VBox([style, self.heading, self.body, self.told, row], layout={"max_width": "100%"})
        self.widget.add_class("hot-water-runs")
        self.widget.add_class("hot-water-form")
        self.show()
        if self.draft.begun:
            self._tell("● What you typed last time stands here again.", GOOD)

    # what the steps of the form are given

    def into(self, holder, name, anew: bool = False):
        """Gives what stores a value under a name of the draft, or at a place of a list in it, and keeps the draft.

        anew : True: the step is shown anew, for it asks for something else then
        """

        def store(value) -> None:
            if isinstance(holder, list):
                holder[name] = value
            else:
                setattr(holder, name, value)
            self._keep()
            if anew:
                self.show()

        return store

    def doing(self, act):
        """Gives what changes the draft on a button, when all that was typed has arrived, and shows the step anew."""

        def done() -> None:
            act()
            self._keep()
            self.show()

        return lambda: self._soon(done)

    def adding(self, rows: list):
        """Gives what puts one more likely mistake beneath the others."""
        return self.doing(lambda: form_steps.another(rows))

    def taking(self, rows: list, place: int):
        """Gives what takes one of some likely mistakes out."""
        return self.doing(lambda: rows.pop(place))

    # the way through

    @property
    def count(self) -> int:
        """Gives how many steps there are, with the one that tries the question out."""
        return len(form_steps.of_kind(self.draft)) + 1

    @property
    def last(self) -> bool:
        """Says whether the step in sight tries the question out."""
        return self.draft.step == self.count - 1

    def show(self) -> None:
        """Show the step that the draft stands at, and no other."""
        self.draft.step = min(max(self.draft.step, 0), self.count - 1)
        self.trial = None
        if self.last:
            self._show_trial()
        if not self.last:
            self.step = form_steps.of_kind(self.draft)[self.draft.step](self.draft, self)
        self._head(f"Step {self.draft.step + 1} of {self.count} · {self.step.heading}")
        self.body.children = self.step.parts
        self._tell("")
        self._buttons(back=self.draft.step > 0, next=not self.last, save_it=self.last, anew=self.draft.begun)

    def go_on(self) -> None:
        """Go to the next step; where something is missing, say what."""
        try:
            of_steps(self.draft)[self.draft.step](self.draft)
            if self.draft.step == self.count - 2:
                entry.entry(self.draft)
        except InputError as error:
            self._tell(f"▲ {error}", BAD)
            return
        self._move(1)

    def go_back(self) -> None:
        """Go to the step before. Nothing is lost."""
        self._move(-1)

    def save(self) -> None:
        """Write the question to its file, and say where it stands now."""
        try:
            made, before = entry.entry(self.draft), self.draft.changes
            own_file.keep(made)
            if before and before != made["id"]:  # it moved to another lesson
                own_file.take_away(before)
        except InputError as error:
            self._tell(f"▲ It is not saved. {error}", BAD)
            return
        self.saved = made["id"]
        self._start(Draft())
        lesson = lesson_of(self.saved)
        self._head("Saved")
        self.step = form_steps.FormStep("Saved")
        self.body.children = []
        self._buttons(next=False)
        self.anew.layout.display, self.anew.description = None, "Make another question"
        self._tell(
            f"● Saved. Your question stands as {name_of(self.saved)} under “{form_steps.MORE}” on the page of lesson"
            f" {lesson}, and in keys, worksheets and board. A page that is open now shows it when you make it live"
            " again. To take it away, use the list of your questions below.",
            GOOD,
        )
        for watcher in self.watchers:
            watcher()

    def begin_anew(self) -> None:
        """Begins another question, after asking once where something would be lost."""
        if self.draft.begun:
            self._tell("▲ Everything in the form will be emptied. Saved questions stay. Do you want that?", BAD)
            self._buttons(back=self.draft.step > 0, next=not self.last, save_it=self.last, sure=True)
        else:
            self.empty()

    def empty(self) -> None:
        """Empty every field, and begin with the first step."""
        self._start(Draft())
        self.show()

    def change(self, identity: str) -> None:
        """Open a saved question. Raises InputError: another one is half made, or the form cannot hold this one."""
        if self.draft.begun:
            raise InputError(OPEN)
        self._start(entry.draft_of(identity))
        self._move(0)

    # how it is done

    def _move(self, by: int) -> None:
        """Shows another step, and puts the keyboard into its first field, which brings its beginning into sight."""
        self.draft.step += by
        self._keep()
        self.show()
        first = self.step.fields[0].box if self.step.fields else self.trial.exercise.box.arriving
        on_arrival(first.focus, first)  # the browser has drawn it by then

    def _start(self, fresh: Draft) -> None:
        self.draft = fresh
        self.anew.description = "Begin anew"
        self._keep()

    def _show_trial(self) -> None:
        """Shows the question as it will be asked; goes back to the last step where it cannot be asked any more."""
        self.step = form_steps.FormStep("Try it, then save it")
        try:
            made = own_file.made_of(entry.entry(self.draft))
            self.trial = Trial(made, entry.name_of(self.draft))
        except InputError:
            self.draft.step -= 1
            return
        self.step.put(words("This is how a learner meets it. Nothing that you answer here is kept."))
        self.step.put(self.trial.widget, words(CAUTION))

    def _soon(self, act) -> None:
        """Does something when all that was typed into the step has arrived."""
        boxes = [one.box for one in self.step.fields]
        on_arrival(act, *boxes) if boxes else act()

    def _keep(self) -> None:
        try:
            draft.keep(self.draft)
        except InputError as error:
            self._tell(f"▲ {error}", BAD)

    def _head(self, text: str) -> None:
        self.heading.value = (
            f'<div role="status" style="font-size:18px;line-height:1.4;margin:4px 0 8px 0"><b>{escape(text)}</b></div>'
        )

    def _tell(self, text: str, colour: str = "") -> None:
        self.said = text
        self.told.value = said(text, colour)

    def _buttons(self, **shown: bool) -> None:
        for name in ("back", "next", "save_it", "anew", "sure"):
            getattr(self, name).layout.display = None if shown.get(name) else "none"

    def __repr__(self) -> str:
        return "A form that makes a question of your own, step by step."

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = repr(self)
        return bundle


def question_maker() -> QuestionMaker:
    """The form that makes a question of a school's own."""
    return QuestionMaker()
