"""The questions of a school's own: what each asks, with a button to change it and one to take it away."""

from html import escape

import ipywidgets as widgets

from ...exercises import own_file
from ...exercises.bank import name_of, of_school, own_slips, questions, read_again
from ...exercises.variants import variant
from ...panels.exercises import BAD, GOOD
from ...panels.panel_base import STYLE
from ...quantities.errors import InputError
from ...storage import own_material, preferences
from .fields import said
from .form_steps import titles
from .part import button
from .question_maker import QuestionMaker

NONE = "There is no question of your own yet. Make one in the form above."
FIRST_WORDS = 90  # characters


class QuestionList:
    """Lists a school's questions; what is wrong with a file that was changed by hand stands beneath.

    form : in which a question is changed
    """

    def __init__(self, form: QuestionMaker):
        self.form = form
        self.rows, self.told, self.slips = widgets.VBox(), widgets.HTML(), widgets.HTML()
        self.where, again = widgets.HTML(), button("Read the files again", self.read_again)
        again.layout.align_self = "flex-start"
        style = widgets.HTML(STYLE, layout={"display": "none"})
        self.widget = widgets.VBox([style, self.rows, self.told, self.slips, self.where, again])
        self.widget.add_class("hot-water-runs")
        self.said, self.asked = "", ""  # asked : id of the question whose taking away is asked once more
        self.read_again()
        form.watchers.append(self.saved)

    def read_again(self) -> None:
        """Show the questions as their files are now: somebody may have changed one by hand, or taken a package in."""
        read_again()
        self.show()

    def show(self) -> None:
        """Show the questions that there are."""
        self.listed = [one for one in questions() if of_school(one.id)]
        self.buttons = {one.id: {} for one in self.listed}
        self.rows.children = [self._row(one) for one in self.listed] or [widgets.HTML(said(NONE))]
        self.slips.value = "".join(said(f"▲ {slip}", BAD) for slip in own_slips())
        self.where.value = said(f"Their files lie in {own_material.folder() / 'questions'}." if self.listed else "")

    def saved(self) -> None:
        """Show the questions after one was saved; what was said of the list before is over."""
        self.asked = ""
        self._tell("")
        self.show()

    def take_away(self, identity: str) -> None:
        """Ask once more whether a question shall go."""
        self.asked = identity
        self._tell(f"▲ Do you want to take {name_of(identity)} away? Its file is kept.", BAD)
        self.show()

    def keep(self) -> None:
        """Nothing is taken away."""
        self.asked = ""
        self._tell("")
        self.show()

    def really(self) -> None:
        """Take the question away that was asked about."""
        name, identity, self.asked = name_of(self.asked), self.asked, ""
        try:
            aside = own_file.take_away(identity)
        except InputError as error:
            self._tell(f"▲ {error}", BAD)
        else:
            self._tell(
                f"● {name} is taken away, and no page asks it any more. Answers that were given to it stay in their"
                f" files, but are not counted. Its file lies in {aside.parent}. To ask it again, move it back.",
                GOOD,
            )
        self.show()

    def change(self, identity: str) -> None:
        """Open a question in the form."""
        try:
            self.form.change(identity)
        except InputError as error:
            self._tell(f"▲ {error}", BAD)
        else:
            self._tell(f"● {name_of(identity)} stands in the form above. Change it there, and save it.", GOOD)

    def _row(self, one) -> widgets.Box:
        first = variant(one, "1", preferences.unit_system()).text
        first = first if len(first) <= FIRST_WORDS else f"{first[: FIRST_WORDS - 1].rstrip()}…"
        title = titles().get(one.lesson, "")
        line = widgets.HTML(
            f'<div style="font-size:15px;line-height:1.4"><b>{name_of(one.id)}</b> {escape(first)}'
            f'<div style="font-size:14px;color:#4a5763">{escape(title)}</div></div>'
        )
        if one.id == self.asked:
            made = {
                "Yes, take it away": button("Yes, take it away", self.really, main=True),
                "No, keep it": button("No, keep it", self.keep),
            }
        else:
            made = {
                "Change": button("Change", lambda: self.change(one.id)),
                "Take away": button("Take away", lambda: self.take_away(one.id)),
            }
        for words, press in made.items():
            press.tooltip = f"{words}: {name_of(one.id)}"
        self.buttons[one.id] = made
        return widgets.Box(
            [widgets.HBox([*made.values()]), line],
            layout={"display": "flex", "flex_flow": "row wrap", "align_items": "flex-start", "margin": "0 0 6px 0"},
        )

    def _tell(self, text: str, colour: str = "") -> None:
        self.said = text
        self.told.value = said(text, colour)

    def __repr__(self) -> str:
        return "\n".join(f"{name_of(one.id)} {one.text}" for one in self.listed) or NONE

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = repr(self)
        return bundle


def own_questions(form: QuestionMaker) -> QuestionList:
    """The list of a school's own questions. form : of the same page, in which they are changed"""
    return QuestionList(form)
