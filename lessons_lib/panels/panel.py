"""The bones of every panel: a bar above, controls on the left, picture and read-outs on the right, one sentence below.

A panel never shows a traceback: on an InputError it keeps the last good picture and says why in its status line.
"""

import base64
import threading
from contextlib import contextmanager
from dataclasses import dataclass
from html import escape
from weakref import WeakSet

import ipywidgets as widgets

from .. import preferences
from ..display import SYSTEMS
from ..errors import InputError

SHAPES = ("●", "▲", "■")  # verdicts: fine, take care, danger
EDGES = ("#2f6f4f", "#8a5a00", "#9b1c1c")
_followers: WeakSet = WeakSet()


@dataclass(frozen=True)
class Readout:
    """One read-out: a title, a word, the number in words, and how grave it is (0, 1 or 2)."""

    title: str
    word: str
    detail: str
    level: int

    def html(self, kept: str = "") -> str:
        """As a card: a shape, a word and a number, never colour alone."""
        beside = f'<div style="color:#7a3e9d">kept: {escape(kept)}</div>' if kept else ""
        return (
            f'<div style="flex:1 1 0;border-left:5px solid {EDGES[self.level]};padding:0 6px;background:#f6f8fa">'
            f'<div>{escape(self.title)}</div><div style="color:{EDGES[self.level]};font-weight:bold;white-space:nowrap">'
            f"{SHAPES[self.level]} {escape(self.word)}</div><div>{escape(self.detail)}</div>{beside}</div>"
        )


class Panel:
    """Controls → calculate → draw.

    groups : {group title: {name: Control}}
    calculate : {name: value} → scene; may raise InputError
    picture : figure class, made once with the unit system; has draw, describe, units, kept, size
    readouts : (scene, unit system) → list of Readout
    ready_made : {title: {name: value}}
    idle : {name: value} → names of the controls that do nothing at present
    """

    def __init__(self, groups: dict, calculate, picture, readouts, ready_made: dict | None = None, idle=lambda state: ()):
        self.controls = {name: control for group in groups.values() for name, control in group.items()}
        self.ready_made = ready_made or {}
        self.system = preferences.unit_system()
        self.calculate, self.readouts, self.idle = calculate, readouts, idle
        self.picture = picture(self.system)
        self.scene, self.kept, self.png, self.sentence = None, None, b"", ""
        self._lock, self._held = threading.RLock(), False
        self._build(groups)
        for control in self.controls.values():
            control.set_system(self.system)
            control.listener = self._moved
        self.update()
        follow_units(self)

    @property
    def state(self) -> dict:
        """The present settings as plain data."""
        return {name: control.value for name, control in self.controls.items()}

    def update(self) -> None:
        """Calculate and draw for the settings as they are now; the newest value wins."""
        with self._lock:
            if self._held:
                return
            try:
                self.scene = self.calculate(self.state)
            except InputError as error:
                self._tell(f"▲ Picture kept from before. {error}")
                return
            idle = self.idle(self.state)
            for name, control in self.controls.items():
                control.set_active(name not in idle)
            self._draw()
            self._tell("● Ready")

    def _moved(self) -> None:
        """The reader moved a control: what was said before, and the title of ready-made settings, no longer hold."""
        for control in self.controls.values():
            control.say("")
        self._choose(None)
        self.update()

    def set(self, values: dict) -> None:
        """Set some or all controls at once; one picture."""
        with self._held_back():
            for name, value in values.items():
                self.controls[name].set(value)

    def reset(self) -> None:
        """Back to the settings that the panel opened with; forgets the comparison."""
        self.kept = None
        self.set({name: control.start for name, control in self.controls.items()})
        self._choose(None)

    def keep(self) -> None:
        """Keep the present picture as a ghost to compare with."""
        with self._lock:
            self.kept = self.scene
            self._draw()

    def use(self, title: str) -> None:
        """Take ready-made settings."""
        self.set(self.ready_made[title])

    def set_system(self, system: str) -> None:
        """Show everything in another unit system."""
        with self._held_back():
            self.system = system
            for control in self.controls.values():
                control.set_system(system)
            self.picture.units(system)
            self._units.value = system

    @contextmanager
    def _held_back(self):
        """One update after several changes."""
        with self._lock:
            self._held = True
            try:
                yield
            finally:
                self._held = False
            self.update()

    def _draw(self) -> None:
        self.picture.kept = self.kept
        self.png, self.sentence = self.picture.draw(self.scene)
        kept = self.readouts(self.kept, self.system) if self.kept else []
        cards = "".join(
            readout.html(kept[number].detail if kept else "")
            for number, readout in enumerate(self.readouts(self.scene, self.system))
        )
        width, height = self.picture.size
        # Picture, read-outs and sentence travel in one message.
        self._shown.value = (
            f'<img width="{width}" height="{height}" decoding="sync" style="display:block;max-width:100%;height:auto" '
            f'alt="{escape(self.picture.describe(self.scene), quote=True)}" '
            f'src="data:image/png;base64,{base64.b64encode(self.png).decode()}">'
            f'<div style="display:flex;gap:8px;max-width:{width}px;font-size:15px;line-height:1.3">{cards}</div>'
            f'<div role="status" aria-live="polite" style="max-width:{width}px;font-size:15px;line-height:1.3;margin-top:5px">'
            f"{escape(self.sentence)}</div>"
        )

    def _tell(self, status: str) -> None:
        self._status.value = f'<span role="status" style="font-size:14px">{escape(status)}</span>'

    def _build(self, groups: dict) -> None:
        """Lay the widgets out."""
        self._shown = widgets.HTML(layout={"margin": "0 0 0 10px", "flex": "1 1 auto", "min_width": "0"})
        self._status = widgets.HTML()
        left = []
        for title, group in groups.items():
            heading = f'<div style="font-size:15px;font-weight:bold;border-bottom:1px solid #8996a2;line-height:1.4">{escape(title)}</div>'
            left += [widgets.HTML(heading), *(control.widget for control in group.values())]
        controls = widgets.VBox(left, layout={"width": "348px", "flex": "0 0 auto"})
        self.widget = widgets.VBox([self._bar(), widgets.HBox([controls, self._shown])])

    def _bar(self) -> widgets.HBox:
        self._menu = widgets.Dropdown(options=["Ready-made settings …", *self.ready_made], layout={"width": "344px"})
        self._menu.observe(self._menu_changed, "value")
        reset = widgets.Button(description="Reset", tooltip="Back to the first settings", layout={"width": "76px"})
        reset.on_click(lambda _: self.reset())
        keep = widgets.Button(description="Keep for comparison", tooltip="Leave the present picture as a dashed ghost", layout={"width": "170px"})
        keep.on_click(lambda _: self.keep())
        self._units = widgets.ToggleButtons(options=SYSTEMS, value=self.system, style={"button_width": "118px"}, layout={"width": "auto"})
        self._units.observe(self._units_changed, "value")
        parts = [self._menu] if self.ready_made else []
        return widgets.HBox([*parts, reset, keep, self._units, self._status], layout={"align_items": "center"})

    def _menu_changed(self, change) -> None:
        if change["new"] in self.ready_made:
            self.use(change["new"])

    def _choose(self, title: str | None) -> None:
        """Show a title in the menu of ready-made settings; None: its heading."""
        self._menu.value = title or self._menu.options[0]

    def _units_changed(self, change) -> None:
        if change["new"] != self.system:
            choose_units(change["new"])

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        """The live panel, and beside it its picture and sentence for paper, web pages and closed notebooks."""
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["image/png"] = base64.b64encode(self.png).decode()
        bundle["text/plain"] = self.sentence
        return bundle


def follow_units(follower) -> None:
    """From now on the follower's `set_system` is called when the reader chooses units."""
    _followers.add(follower)


def choose_units(system: str) -> None:
    """Keep the reader's unit system and show everything that is open in it."""
    preferences.keep_unit_system(system)
    for follower in list(_followers):
        follower.set_system(system)
