"""The bones of every panel: a bar above, controls on the left, picture and read-outs on the right, one sentence below.

On a page made large for a room the picture fills the width, and one control, chosen from a menu, stays above it.
A panel never shows a traceback: on an InputError it keeps the last good picture and says why in its status line.
"""

from html import escape

import ipywidgets as widgets

from ..quantities.errors import InputError
from .looks import written
from .page_state import follow_units
from .panel_base import Live, large_button
from .shared_controls import in_goods
from .tries import Tries


class Panel(Live):
    """Controls → calculate → draw.

    groups : {group title: {name: Control}}
    calculate : {name: value} → scene; may raise InputError
    picture : class of a Picture, made once with the unit system
    readouts : (scene, unit system) → list of Readout
    ready_made : {title: {name: value}}
    idle : {name: value} → names of the controls that do nothing at present
    headline : (scene, unit system) → the one answer, in at most ten words
    tries : the experiments that stand beneath the controls
    goods : (settings, unit system) → the same settings with the goods that a reader of that system buys
    """

    def __init__(
        self,
        groups: dict,
        calculate,
        picture,
        readouts,
        ready_made: dict | None = None,
        idle=lambda state: (),
        *,
        headline,
        tries: tuple = (),
        goods=in_goods,
    ):
        super().__init__(picture, readouts, headline)
        self.controls = {name: control for group in groups.values() for name, control in group.items()}
        self.ready_made, self.goods = ready_made or {}, goods
        self.calculate, self.idle = calculate, idle
        self.watchers = []  # each is called after a new picture, without arguments
        self.tries = Tries(tries, self) if tries else None
        self._build(groups)
        for control in self.controls.values():
            control.set_system(self.system)
            control.listener, control.refused = self._moved, self._tell_ready
        self.reset()
        if self.tries:
            self.tries.hold()
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
            self._tell_ready()
            for watcher in self.watchers:
                watcher()

    def _tell_ready(self) -> None:
        """Says that the picture is that of the settings, unless a box could not take what was typed."""
        odd = next((control.label for control in self.controls.values() if control.told.value), None)
        self._tell(f"▲ {odd} keeps its value. Beside its box stands why." if odd else "● Ready")

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
        self._begin(self.system)
        self._choose(None)

    def keep(self) -> None:
        """Keep the present picture as a ghost to compare with."""
        with self._lock:
            self.kept = self.scene
            self._draw()

    def use(self, title: str) -> None:
        """Take ready-made settings, in the goods that the reader buys."""
        self.set(self.goods(self.ready_made[title], self.system))

    def opening(self, system: str) -> dict:
        """The settings that the panel opens with in a unit system."""
        return self.goods({name: control.start for name, control in self.controls.items()}, system)

    def _follow(self, system: str) -> None:
        """Shows everything in other units; settings that nobody has touched also change their goods."""
        untouched = self.state == self._opened
        for control in self.controls.values():
            control.set_system(system)
        if self.tries:
            self.tries.show()
        if self._menu.value in self.ready_made:
            self.use(self._menu.value)
        elif untouched:
            self._begin(system)

    def _begin(self, system: str) -> None:
        """Takes the settings that the panel opens with, and remembers them to know what nobody has touched."""
        self._opened = self.opening(system)
        self.set(self._opened)

    def _build(self, groups: dict) -> None:
        """Make the widgets and lay them out."""
        left = []
        for title, group in groups.items():
            heading = (
                '<div style="font-size:15px;font-weight:bold;border-bottom:1px solid'
                f' #8996a2;line-height:1.4">{escape(title)}</div>'
            )
            left += [written(heading), *(control.widget for control in group.values())]
        left += [self.tries.widget] if self.tries else []
        self._controls = widgets.VBox(left, layout={"width": "436px", "flex": "0 0 auto"})
        names = [(control.label, name) for name, control in self.controls.items()]
        self._one = widgets.Dropdown(options=names, tooltip="Which control to move", layout={"width": "230px"})
        self._one.observe(lambda change: self._take_up(), "value")
        self._in_hand = widgets.HBox(layout={"align_items": "center"})
        self._bar = widgets.HBox(self._buttons(), layout={"align_items": "center", "flex_flow": "row wrap"})
        self._shown.layout = {"margin": "0 0 0 10px", "flex": "1 1 400px", "min_width": "0"}
        self._body = widgets.Box([self._controls, self._shown], layout={"display": "flex", "flex_flow": "row wrap"})
        self._body.add_class("hot-water-body")
        self._controls.add_class("hot-water-controls")
        self._bar.add_class("hot-water-bar")
        self._in_hand.add_class("hot-water-in-hand")
        self.widget = self._framed(self._bar, self._in_hand, self._body)
        self._take_up()

    def _take_up(self) -> None:
        """Puts the chosen control and the status where a page that is large for a room keeps them in sight."""
        self._in_hand.children = [self._one, self.controls[self._one.value].widget, self._status]

    def take_in_hand(self, name: str) -> None:
        """Keeps the named control in sight on a page that is large for a room."""
        self._one.value = name

    def _buttons(self) -> list:
        """Makes the bar: ready-made settings, back to the start, the ghost, units, a projector's size, the status."""
        self._menu = widgets.Dropdown(
            options=["Ready-made settings …", *self.ready_made],
            tooltip="Ready-made settings",
            layout={"width": "432px"},
        )
        self._menu.observe(self._menu_changed, "value")
        reset = widgets.Button(description="Reset", tooltip="Back to the first settings", layout={"width": "76px"})
        reset.on_click(lambda _: self.reset())
        keep = widgets.Button(
            description="Keep for comparison",
            tooltip="Leave the present picture as a dashed ghost",
            layout={"width": "160px"},
        )
        keep.on_click(lambda _: self.keep())
        parts = [self._menu] if self.ready_made else []
        return [*parts, reset, keep, self._units, large_button(), self._status]

    def _menu_changed(self, change) -> None:
        if change["new"] in self.ready_made:
            self.use(change["new"])

    def _choose(self, title: str | None) -> None:
        """Show a title in the menu of ready-made settings; None: its heading."""
        self._menu.value = title or self._menu.options[0]
