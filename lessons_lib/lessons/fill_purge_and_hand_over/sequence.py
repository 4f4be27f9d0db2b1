"""The order of work as a panel: steps in the order of the alphabet; each counts only when the one before it is done
and seen.
"""

from html import escape

import ipywidgets as widgets

from ...panels.page_state import follow_units
from ...panels.panel_base import AtRest, large_button
from ...plant.work_order import DONE, OPEN, WorkOrder, keys, step
from ...storage import preferences
from ...storage.spelling import in_words_of
from .panel import heat_not_yet, vessel_not_yet
from .purging import purge_not_yet
from .sequence_picture import SequencePicture, SequenceScene
from .set_valve import setting_not_yet

BEGIN = "What comes first? Press a step when you know that its turn has come. A step that is locked says why."


class Sequence(AtRest):
    """Buttons for the steps of the work, the installation as far as it has come, and what the last press meant.

    proofs : key of a step → function that says why it is not done yet, "" if it is; other steps are taken on your word
    """

    def __init__(self, proofs: dict | None = None):
        self.proofs = proofs or {}
        self.order, self.refused, self.message = WorkOrder(), 0, BEGIN
        self.system = preferences.unit_system()
        self.picture, self.sentence = SequencePicture(self.system), ""
        self.buttons = {key: self._button(key, "180px", lambda _, key=key: self.press(key)) for key in sorted(keys())}
        bar = [
            self._button(name, width, act)
            for name, width, act in (
                ("What comes next?", "170px", lambda _: self.hint()),
                ("A leak: take back the last step", "270px", lambda _: self.take_back()),
                ("Begin again", "120px", lambda _: self.reset()),
            )
        ]
        self._still, self._shown, self._told = widgets.HTML(), widgets.HTML(), widgets.HTML()
        self._still.add_class("hot-water-parts")
        self._shown.add_class("hot-water-shown")
        steps = widgets.VBox(list(self.buttons.values()), layout={"width": "190px", "flex": "0 0 auto"})
        steps.add_class("hot-water-order")
        right = widgets.VBox(
            [self._shown, self._told],
            layout={"flex": "1 1 600px", "min_width": "0", "margin": "0 0 0 10px"},
        )
        body = widgets.Box([steps, right], layout={"display": "flex", "flex_flow": "row wrap"})
        bar = widgets.HBox([*bar, large_button()], layout={"flex_flow": "row wrap"})
        self.widget = widgets.VBox([self._still, bar, body])
        self.widget.add_class("hot-water-runs")
        self._draw()
        follow_units(self)

    def set_system(self, system: str) -> None:
        """Says everything in the words of a unit system's side."""
        self.system = system
        self.picture.units(system)
        self._draw()

    def _button(self, name: str, width: str, act) -> widgets.Button:
        button = widgets.Button(
            description=name, tooltip=name, layout={"width": width, "height": "28px", "margin": "1px"}
        )
        button.style.font_size = "15px"
        button.on_click(act)
        return button

    def press(self, key: str) -> None:
        """Say that a step is done: it counts if its turn has come and its condition is met."""
        why = self.proofs[key]() if key in self.proofs and self.order.state(key) == OPEN else ""
        if why:
            self.message = f"▲ Not yet, {key}: {why} See the panels above."
        else:
            self._meet(key)
        self._draw()

    def _meet(self, key: str) -> None:
        if why := self.order.why_not(key):
            self.refused += self.order.state(key) != DONE
            self.message = f"■ {why}"
        else:
            self.order, done = self.order.meet(key), step(key)
            self.message = f"● Done: {done.step}. Seen: {done.until}. {done.caution}"

    def hint(self) -> None:
        """Say which step is open and when it counts as done."""
        now = self.order.current
        self.message = (
            f"Open now: {now.step}. It counts when {now.until}. {now.caution}"
            if now
            else "All is done and handed over."
        )
        self._draw()

    def take_back(self) -> None:
        """Undo the last step, for its condition no longer holds."""
        if self.order.done:
            last = self.order.done[-1]
            self.order = self.order.undo(last)
            self.message = f"{last} is open again. After a repair it must be seen anew, and all that follows it."
        self._draw()

    def reset(self) -> None:
        """Begins again from empty pipes."""
        self.order, self.refused, self.message = WorkOrder(), 0, BEGIN
        self._draw()

    def _draw(self) -> None:
        scene = SequenceScene(self.order, self.refused)
        self.sentence = self.picture.draw(scene)
        for key, button in self.buttons.items():
            place = self.order.done.index(key) + 1 if key in self.order.done else None
            button.tooltip = in_words_of(key, self.system)
            button.description = f"✓ {place}. {button.tooltip}" if place else button.tooltip
            button.style.button_color, button.style.text_color = ("#2f6f4f", "#ffffff") if place else (None, None)
        self._still.value = self.picture.style() + self.picture.views()
        answer, told = (escape(in_words_of(one, self.system)) for one in (scene.answer, self.message))
        self._shown.value = f'<div class="hot-water-headline">{answer}</div>{self.picture.html(scene)}'
        self._told.value = (
            '<div role="status" aria-live="polite"'
            f' style="font-size:16px;line-height:1.35;max-width:{self.picture.size[0]}px">'
            '<div style="border-left:5px solid #1d2b38;padding:2px'
            f' 8px;background:#f6f8fa;min-height:3.9em"><b>{told}</b></div>'
            f"<div>{escape(self.sentence)}</div></div>"
        )


def sequence(pressures=None, purge=None, valve=None) -> Sequence:
    """Gives the panel of the order of work.

    pressures, purge, valve : the page's panels on the vessel, on purging and on the mixing valve, if it has them: their
        steps then count only when these show so
    """
    proofs = {}
    if pressures is not None:
        proofs["vessel"] = lambda: vessel_not_yet(pressures.scene)
        proofs["first heat"] = lambda: heat_not_yet(pressures.scene)
    if purge is not None:
        proofs["purge"] = lambda: purge_not_yet(purge.scene)
    if valve is not None:
        proofs["set the valve"] = lambda: setting_not_yet(valve.scene, valve.system)
    return Sequence(proofs)
