"""The bones of every panel: a bar above, controls on the left, picture and read-outs on the right, one sentence below.

For a projector the picture and its words are larger, one control stands above it and the read-outs beside it.
A panel never shows a traceback: on an InputError it keeps the last good picture and says why in its status line.
"""

import base64
import threading
from contextlib import contextmanager
from html import escape

import ipywidgets as widgets

from .. import preferences
from ..display import SYSTEMS
from ..errors import InputError
from .followers import choose_units, follow_units
from .readout import picture_html, shown

# For a projector: the picture and what stands around it, type within the picture, lines within the picture.
PICTURE_BY, TYPE_BY, LINES_BY = 1.17, 1.1, 1.5
# A slider's track and the pressed button are told apart by more than a shade of grey.
STYLE = """<style>
.hot-water-runs .noUi-connects { background: #73808c !important; }
.hot-water-runs .noUi-handle:focus { outline: 3px solid #1d2b38; }
.hot-water-runs .widget-toggle-button.mod-active { background: #1d2b38; color: #ffffff; }
.hot-water-runs .widget-toggle-button.mod-active::before { content: "✓ "; }
.hot-water-large span, .hot-water-large select, .hot-water-large input { font-size: 20px !important; }
.hot-water-large .widget-hbox .widget-html:first-child { width: 172px !important; }
.hot-water-large .jupyter-widget-slider { width: 260px !important; }
.hot-water-large .jupyter-widget-text { width: 90px !important; }
</style>"""


class Panel:
    """Controls → calculate → draw.

    groups : {group title: {name: Control}}
    calculate : {name: value} → scene; may raise InputError
    picture : figure class, made once with the unit system; has draw, describe, units, kept, canvas
    readouts : (scene, unit system) → list of Readout
    ready_made : {title: {name: value}}
    idle : {name: value} → names of the controls that do nothing at present
    """

    def __init__(self, groups: dict, calculate, picture, readouts, ready_made: dict | None = None, idle=lambda state: ()):
        self.controls = {name: control for group in groups.values() for name, control in group.items()}
        self.ready_made = ready_made or {}
        self.system = preferences.unit_system()
        self.calculate, self.readouts, self.idle = calculate, readouts, idle
        self.make_picture, self.large = picture, False
        self.picture = picture(self.system)
        self.scene, self.kept, self.png, self.sentence = None, None, b"", ""
        self.watchers = []  # each is called after a new picture, without arguments
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
            for watcher in self.watchers:
                watcher()

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

    def set_large(self, large: bool) -> None:
        """Show everything larger, for a projector, or as it was."""
        with self._lock:
            self.large = large
            self.picture = self.make_picture(self.system)
            if large:
                self.picture.canvas.enlarge(PICTURE_BY, TYPE_BY, LINES_BY)
            self._arrange()
            self.update()

    def _draw(self) -> None:
        self.picture.kept = self.kept
        self.png, self.sentence = self.picture.draw(self.scene)
        kept = self.readouts(self.kept, self.system) if self.kept else []
        width = self.picture.canvas.size[0]
        cards = shown(self.readouts(self.scene, self.system), kept, width, self.large)
        around, type_size = ("display:flex;gap:10px", 18) if self.large else ("", 15)
        # Picture, read-outs and sentence travel in one message.
        self._shown.value = (
            f'<div style="{around}">{picture_html(self.png, self.picture.describe(self.scene), self.picture.canvas.size)}{cards}</div>'
            f'<div role="status" aria-live="polite" style="max-width:{2 * width if self.large else width}px;'
            f'font-size:{type_size}px;line-height:1.3;margin-top:5px">{escape(self.sentence)}</div>'
        )

    def _tell(self, status: str) -> None:
        self._status.value = f'<span role="status" style="display:inline-block;font-size:14px;line-height:1.25">{escape(status)}</span>'

    def _build(self, groups: dict) -> None:
        """Make the widgets and lay them out."""
        self._shown, self._status = widgets.HTML(), widgets.HTML()
        left = []
        for title, group in groups.items():
            heading = f'<div style="font-size:15px;font-weight:bold;border-bottom:1px solid #8996a2;line-height:1.4">{escape(title)}</div>'
            left += [widgets.HTML(heading), *(control.widget for control in group.values())]
        self._controls = widgets.VBox(left, layout={"width": "348px", "flex": "0 0 auto"})
        names = [(control.label, name) for name, control in self.controls.items()]
        self._one = widgets.Dropdown(options=names, tooltip="Which control to move", layout={"width": "230px"})
        self._one.observe(lambda change: self._arrange(), "value")
        self._bar = widgets.HBox(self._buttons(), layout={"align_items": "center", "flex_flow": "row wrap"})
        style = widgets.HTML(STYLE, layout={"display": "none"})
        self._body = widgets.Box()
        self.widget = widgets.VBox([style, self._bar, self._body])
        self.widget.add_class("hot-water-runs")
        self._arrange()

    def _arrange(self) -> None:
        """All controls beside the picture, or one above it; on a narrow screen the picture goes beneath the controls."""
        for control in self.controls.values():
            control.widget.layout.flex_flow = "row wrap" if self.large else "column"
        if self.large:
            row = widgets.HBox([self._one, self.controls[self._one.value].widget], layout={"align_items": "center"})
            row.add_class("hot-water-large")
            self._shown.layout = {"margin": "0"}
            self._body.layout = {"display": "flex", "flex_flow": "column"}
            self._body.children = [row, self._shown]
        else:
            self._shown.layout = {"margin": "0 0 0 10px", "flex": "1 1 600px", "min_width": "0"}
            self._body.layout = {"display": "flex", "flex_flow": "row wrap"}
            self._body.children = [self._controls, self._shown]

    def _buttons(self) -> list:
        """The bar: ready-made settings, back to the start, the ghost, units, a projector's size; and the status."""
        self._menu = widgets.Dropdown(options=["Ready-made settings …", *self.ready_made], layout={"width": "344px"})
        self._menu.observe(self._menu_changed, "value")
        reset = widgets.Button(description="Reset", tooltip="Back to the first settings", layout={"width": "76px"})
        reset.on_click(lambda _: self.reset())
        keep = widgets.Button(description="Keep for comparison", tooltip="Leave the present picture as a dashed ghost", layout={"width": "160px"})
        keep.on_click(lambda _: self.keep())
        self._units = widgets.ToggleButtons(options=SYSTEMS, value=self.system, style={"button_width": "124px"}, layout={"width": "auto"})
        self._units.observe(self._units_changed, "value")
        large = widgets.ToggleButton(description="Projector", tooltip="Larger, for the back of a room", layout={"width": "104px"})
        large.observe(lambda change: self.set_large(change["new"]), "value")
        parts = [self._menu] if self.ready_made else []
        return [*parts, reset, keep, self._units, large, self._status]

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
