"""The controls of a panel: a slider with a typed value, a choice, a pipe. Each holds plain data.

A control calls its listener when the reader changes it, never when the program sets it.
"""

from dataclasses import dataclass
from html import escape

import ipywidgets as widgets

from ..quantities.display import SI, SYSTEMS, US, as_given, symbol, unit
from ..quantities.errors import InputError
from ..quantities.reading import examples, read_typed
from ..quantities.units import Q_, ureg
from ..runs.pipe import Pipe, families, in_full, sizes
from ..storage.spelling import in_words_of
from .arrival import FloatSlider, Text
from .looks import layout, plain, written

LABEL, TRACK, BOX, UNIT, MENU = "122px", "192px", "54px", "50px", "300px"
WIDE_BOX, NARROW_UNIT = "70px", "34px"  # for inches in sixteenths
ROW = {"align_items": "center", "height": "30px"}


def label_of(text: str, width: str = LABEL) -> widgets.HTML:
    """The name of a control, cut nowhere."""
    return written(_named(text), width=width, flex="0 0 auto")


def _named(text: str) -> str:
    return f'<span style="font-size:15px;white-space:nowrap">{escape(text)}</span>'


def _row(*parts) -> widgets.HBox:
    """Puts a control's name and its parts into one line; on a phone the name stands above them."""
    row = widgets.HBox(parts, layout=layout(**ROW))
    row.add_class("hot-water-row")
    return row


def _menu(options, start: str, label: str) -> widgets.Dropdown:
    look = {"layout": layout(width=MENU), "style": plain(widgets.Dropdown)}
    return widgets.Dropdown(options=options, value=start, tooltip=label, **look)


@dataclass(frozen=True)
class Range:
    """Low, high and step of a slider, in the reader's unit."""

    low: float
    high: float
    step: float


class Control:
    """Does what every control does: hold a value, tell a listener, and say what is wrong beside itself.

    listener : called when the reader changed the value; refused : called when what was typed could not be taken
    """

    def __init__(self, label: str, explained: str):
        self.label, self.explained = label, explained
        self.listener = self.refused = lambda: None
        self.told = written(margin="0")
        self._setting = False

    def say(self, message: str) -> None:
        """Shows a message beside the control; an empty one clears it."""
        self.told.value = (
            f'<div role="alert" style="color:#9b1c1c;font-size:14px;line-height:1.25">▲ {escape(message)}</div>'
            if message
            else ""
        )

    def set_system(self, system: str) -> None:
        """Show the value in another unit system; most controls have no unit."""

    def set_active(self, active: bool) -> None:
        """Says whether the control does anything at present; most always do."""

    def takes(self, value) -> bool:
        """Says whether a value, for example from a file, is one that this control can hold."""
        raise NotImplementedError

    def at_stop(self, value, system: str):
        """Gives the value nearest to this one at which the control can stand in a unit system."""
        return value

    def said(self, value, system: str) -> str:
        """Gives a value of this control in words, in a unit system."""
        return str(value)

    def asked(self, value, opening, system: str) -> str:
        """Gives in Markdown what a step asks the reader to set. opening : the value that the panel opens with"""
        return f"*{self.label}* to **{self.said(value, system)}**"

    def changed(self) -> None:
        """Tells the listener that the reader did this."""
        self.say("")
        self.listener()


class Slide(Control):
    """A quantity, slid or typed. Keeps the exact quantity and its box shows it; the handle stands at the nearest step.

    There is one slider for each unit system and one of them is shown: a browser's slider whose ends, step and value
    change one after the other sends back values that nobody chose.
    """

    def __init__(self, label: str, kind: str, start, metric: tuple, customary: tuple, explained: str):
        super().__init__(label, explained)
        self.kind, self.start, self.value = kind, start, start
        self.ranges = dict(zip(SYSTEMS, (Range(*metric), Range(*customary))))
        self.sliders = {system: self._slider(system) for system in SYSTEMS}
        box, unit_room = (WIDE_BOX, NARROW_UNIT) if kind == "cut" else (BOX, UNIT)
        look = {"layout": layout(width=box), "style": plain(Text)}
        self.box = Text(continuous_update=False, tooltip=label, **look)
        self.unit = label_of("", unit_room)
        self.row = _row(label_of(label), *self.sliders.values(), self.box, self.unit)
        self.widget = widgets.VBox([self.row, self.told])
        self.set_system(SI)
        self.box.observe(self._typed, "value")

    def _slider(self, system: str) -> FloatSlider:
        limits = self.ranges[system]
        slider = FloatSlider(
            min=limits.low,
            max=limits.high,
            step=limits.step,
            value=limits.low,
            readout=False,
            tooltip=self.label,
            layout={"width": TRACK, "margin": "0 4px 0 0"},
            style=plain(FloatSlider),
        )
        slider.observe(lambda change: self._slid(system, change["new"]), "value")
        return slider

    @property
    def slider(self) -> FloatSlider:
        """The slider that is shown."""
        return self.sliders[self.system]

    def set_system(self, system: str) -> None:
        self.system = system
        for one, slider in self.sliders.items():
            slider.layout.display = None if one == system else "none"
        self.unit.value = _named(symbol(self.kind, system))
        self.set(self.value)

    def takes(self, value) -> bool:
        return (
            isinstance(value, ureg.Quantity)
            and value.is_compatible_with(self.start.units)
            and value.magnitude == value.magnitude
        )

    def set_active(self, active: bool) -> None:
        for part in (*self.sliders.values(), self.box):
            part.disabled = not active

    def at_stop(self, value, system: str):
        return Q_(self._nearest(value, system), unit(self.kind, system))

    def said(self, value, system: str) -> str:
        return f"{as_given(value, self.kind, system)} {symbol(self.kind, system)}".strip()

    def set(self, value) -> None:
        """Show a quantity without telling the listener."""
        self.value = value
        self._setting = True
        self.slider.value = self._nearest(value, self.system)
        self.box.value = self._number(value)
        self._setting = False
        self.say("")

    def _nearest(self, value, system: str) -> float:
        """Says where the handle stands for a quantity."""
        limits = self.ranges[system]
        inside = value.to(unit(self.kind, system)).magnitude
        place = limits.low + limits.step * round((inside - limits.low) / limits.step)
        return round(min(max(place, limits.low), limits.high), 6)

    def _number(self, value) -> str:
        return as_given(value, self.kind, self.system)

    def _slid(self, system: str, value: float) -> None:
        if self._setting or system != self.system:
            return
        # A browser repeats what it was told, perhaps with another rounding: only a real step is the reader's.
        if abs(value - self._nearest(self.value, system)) < 0.01 * self.ranges[system].step:
            return
        self.value = Q_(value, unit(self.kind, self.system))
        self._setting = True
        self.box.value = self._number(self.value)
        self._setting = False
        self.changed()

    def _typed(self, change) -> None:
        if self._setting or change["new"] == self._number(self.value):
            return
        try:
            value = self._read(change["new"])
        except InputError as error:
            self.set(self.value)
            self.say(str(error))
            self.refused()
            return
        self.set(value)
        self.changed()

    def _read(self, text: str):
        """Reads what was typed; a number without a unit has the one that stands beside the box."""
        limits = self.ranges[self.system]
        own = unit(self.kind, self.system)
        possible = f"{limits.low:g} to {limits.high:g} {symbol(self.kind, self.system)}".strip()
        kept = f"Kept {self._number(self.value)} {symbol(self.kind, self.system)}".strip()
        try:
            value = read_typed(text, own, examples(self.kind)).quantity
        except InputError as error:
            raise InputError(f"{error} Here possible is {possible}. {kept}.") from None
        inside = value.to(own).magnitude
        if not limits.low - 1e-9 <= inside <= limits.high + 1e-9:
            raise InputError(f"{text} is out of range; possible is {possible}. {kept}.")
        if self.kind == "count" and inside != round(inside):
            raise InputError(f"{text} is not a whole number; possible is {possible}. {kept}.")
        return value


class Choice(Control):
    """Lets the reader choose one of several names."""

    def __init__(self, label: str, options: list[str], start: str, explained: str):
        super().__init__(label, explained)
        self.start, self.names = start, options
        self.menu = _menu(options, start, label)
        self.name = label_of(label)
        self.row = _row(self.name, self.menu)
        self.widget = widgets.VBox([self.row, self.told])
        self.menu.observe(lambda change: None if self._setting else self.changed(), "value")

    @property
    def value(self) -> str:
        return self.menu.value

    def set_system(self, system: str) -> None:
        """Says label and names as that side does; names that both sides spell alike are left alone."""
        self.menu.tooltip = in_words_of(self.label, system)
        self.name.value = _named(self.menu.tooltip)
        if any(in_words_of(name, US) != name for name in self.names):
            now, self._setting = self.value, True
            with self.menu.hold_sync():
                self.menu.options = (
                    [(in_words_of(name, US), name) for name in self.names] if system == US else self.names
                )
                self.menu.value = now
            self._setting = False

    def takes(self, value) -> bool:
        return value in self.names or value in self.menu.options

    def set(self, value: str) -> None:
        """Choose without telling the listener."""
        self._setting = True
        self.menu.value = value
        self._setting = False
        self.say("")


class PipeChoice(Control):
    """A pipe family from a menu and a size from a slider, one slider a family; another family keeps the nearest
    size.
    """

    def __init__(self, start: tuple[str, str], explained: str, label: str = "Pipe"):
        super().__init__(label, explained)
        self.start = start
        self.family = _menu(families(), start[0], label)
        self.sliders = {family: self._slider(family) for family in families()}
        self.shown = label_of("", "104px")
        self.widget = widgets.VBox(
            [
                _row(label_of(label), self.family),
                _row(label_of("Size"), *self.sliders.values(), self.shown),
                self.told,
            ]
        )
        self.family.observe(self._family_changed, "value")
        self.set(start)

    def _slider(self, family: str) -> widgets.SelectionSlider:
        slider = widgets.SelectionSlider(
            options=sizes(family),
            readout=False,
            tooltip="Size",
            layout={"width": TRACK, "margin": "0 4px 0 0"},
            style=plain(widgets.SelectionSlider),
        )
        slider.observe(lambda change: self._size_changed(family, change["new"]), "value")
        return slider

    @property
    def value(self) -> tuple[str, str]:
        return self.family.value, self.sliders[self.family.value].value

    def said(self, value: tuple[str, str], system: str) -> str:
        return " ".join(value)

    def asked(self, value, opening, system: str) -> str:
        size = f"*Size* to **{value[1]}**"
        return size if value[0] == opening[0] else f"*{self.label}* to **{value[0]}** and {size}"

    def takes(self, value) -> bool:
        return isinstance(value, tuple) and len(value) == 2 and value[0] in families() and value[1] in sizes(value[0])

    def set(self, value: tuple[str, str]) -> None:
        """Choose family and size without telling the listener."""
        self._setting = True
        self.family.value = value[0]
        self._show(value[1])
        self._setting = False
        self.say("")

    def _show(self, size: str) -> None:
        """Show the slider of the present family at a size."""
        for family, slider in self.sliders.items():
            slider.layout.display = None if family == self.family.value else "none"
        self.sliders[self.family.value].value = size
        self.shown.value = _named(in_full(self.family.value, size))

    def _family_changed(self, change) -> None:
        if self._setting:
            return
        before = Pipe.nominal(change["old"], self.sliders[change["old"]].value).outside_diameter
        self._setting = True
        self._show(
            min(
                sizes(change["new"]),
                key=lambda size: abs((Pipe.nominal(change["new"], size).outside_diameter - before).to("m").magnitude),
            )
        )
        self._setting = False
        self.changed()

    def _size_changed(self, family: str, size: str) -> None:
        if not self._setting and family == self.family.value:
            self.shown.value = _named(in_full(family, size))
            self.changed()
