""" "Try these": beneath the controls, one step at a time; after the last step of each try, the answer of the model."""

from dataclasses import dataclass, field

import ipywidgets as widgets
import mistune

from ..quantities.display import US, unbroken
from ..storage.spelling import in_words_of
from .shared_controls import in_goods


@dataclass(frozen=True)
class Step:
    """Holds one thing to do and to look at.

    words : whole sentences in Markdown; "{wind}" stands for the name of the control and the value that this step sets,
        in the reader's units
    sets : name of a control → value
    us : what of these is another value for a reader in US customary units
    us_words : the words for a reader in US customary units where a name that they type differs; else empty
    """

    words: str
    sets: dict = field(default_factory=dict)
    us: dict = field(default_factory=dict)
    us_words: str = ""


@dataclass(frozen=True)
class Try:
    """Holds an experiment, which begins with the settings that the panel opens with.

    answer : (scenes, unit system) → Markdown. The scenes are what the model makes of the opening and of each step.
    """

    title: str
    steps: tuple[Step, ...]
    answer: object


class Tries:
    """Shows the tries of a panel, a step at a time. Its buttons can always be pressed, so the keyboard keeps its place."""

    def __init__(self, tries: tuple[Try, ...], panel):
        self.tries, self.panel, self.place = tries, panel, 0
        self.places = [(one, step) for one in tries for step in range(len(one.steps) + 1)]
        self.told = widgets.HTML()
        self.back = widgets.Button(description="‹ Back", layout={"width": "90px"})
        self.next = widgets.Button(button_style="primary", layout={"width": "150px"})
        self.back.on_click(lambda _: self.go(max(self.place - 1, 0), forward=False))
        self.next.on_click(lambda _: self.go((self.place + 1) % len(self.places)))
        self.widget = widgets.VBox([self.told, widgets.HBox([self.back, self.next])])
        self.widget.add_class("hot-water-tries")
        self.show()

    def go(self, place: int, forward: bool = True) -> None:
        """Shows another step. A try that begins puts the panel back to its first settings; going back does not."""
        self.place = place
        if forward and self.places[place][1] == 0:
            self.panel.reset()
        self.show()
        self.hold()

    def hold(self) -> None:
        """Keeps the control that this step sets in sight on a page that is large for a room, or the next step's."""
        one, step = self.places[self.place]
        name = next((name for later in one.steps[step:] for name in later.sets), None)
        if name:
            self.panel.take_in_hand(name)

    def show(self) -> None:
        """Shows the present step, or the answer after the last, in the reader's units."""
        one, step = self.places[self.place]
        system, last = self.panel.system, len(one.steps)
        number = self.tries.index(one) + 1
        if step < last:
            words, where = self.words(one.steps[step], system), f"step {step + 1} of {last}"
            self.next.description = "Next ›" if step + 1 < last else "Show the answer ›"
        else:
            words, where = one.answer(self.scenes(one, system), system), "what the model answers"
            self.next.description = "Next try ›" if number < len(self.tries) else "Start again ›"
        again = f"<br>{self.panel.put_back}" if step == 0 and number > 1 else ""
        self.told.value = in_words_of(
            f'<div role="status" aria-live="polite"><b>Try {number} of {len(self.tries)}: {one.title}</b>, {where}{again}'
            f"{mistune.html(unbroken(words))}</div>",
            system,
        )

    def words(self, step: Step, system: str) -> str:
        """Gives the words of a step with its controls and values, as Markdown."""
        values, opening = self.values(step, system), self.panel.opening(system) if step.sets else {}
        words = step.us_words if step.us_words and system == US else step.words
        return words.format(
            **{name: self.panel.controls[name].asked(value, opening[name], system) for name, value in values.items()}
        )

    def values(self, step: Step, system: str) -> dict:
        """Gives the value of each control that a step sets, where the reader's slider has a stop."""
        asked = in_goods(step.sets, system) | (step.us if system == US else {})
        return {name: self.panel.controls[name].at_stop(value, system) for name, value in asked.items()}

    def scenes(self, one: Try, system: str) -> list:
        """Gives what the model makes of the opening and of each step; nothing where the steps move no control."""
        if not any(step.sets for step in one.steps):
            return []
        state, found = self.panel.opening(system), []
        for step in (Step(""), *one.steps):
            state |= self.values(step, system)
            found.append(self.panel.calculate(state))
        return found


class StepList:
    """Shows all steps and answers of a panel as a list that opens and closes: to read before, to print, to read aloud."""

    def __init__(self, panel):
        self.tries = panel.tries

    def _repr_markdown_(self) -> str:
        return f"<details><summary>The steps and their answers as a list</summary>\n\n{self!r}\n\n</details>"

    def __repr__(self) -> str:
        lines, system = [], self.tries.panel.system
        for number, one in enumerate(self.tries.tries, 1):
            words = [self.tries.words(step, system) for step in one.steps]
            answer = one.answer(self.tries.scenes(one, system), system)
            lines.append(f"**Try {number}: {one.title}.** {' '.join(words)}\n\n*The model's answer:* {answer}")
        return in_words_of("\n\n".join(lines), system)
