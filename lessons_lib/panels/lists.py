"""Controls that hold a list or a line of text: ticks for several of some names, and a typed line."""

import ipywidgets as widgets

from .controls import Control, label_of


class Ticks(Control):
    """Several of some names, ticked. value : the ticked keys, in the order of the options.

    options : key → what is shown
    """

    def __init__(self, label: str, options: dict, start: tuple, explained: str, width: str = "330px"):
        super().__init__(label, explained)
        self.start, self.options = start, options
        self.boxes = {
            key: widgets.Checkbox(
                value=key in start,
                description=shown,
                indent=False,
                layout={"width": width, "height": "24px", "margin": "0"},
            )
            for key, shown in options.items()
        }
        for box in self.boxes.values():
            box.observe(lambda change: None if self._setting else self.changed(), "value")
        self.widget = widgets.VBox([label_of(label, "auto"), *self.boxes.values(), self.told])

    @property
    def value(self) -> tuple:
        return tuple(key for key, box in self.boxes.items() if box.value)

    def said(self, value: tuple, system: str) -> str:
        return ", ".join(self.options[key] for key in value)

    def set(self, value) -> None:
        """Tick these and no others, without telling the listener."""
        self._setting = True
        for key, box in self.boxes.items():
            box.value = key in value
        self._setting = False
        self.say("")


class Typed(Control):
    """A line of text, taken when the reader leaves it or presses Enter."""

    def __init__(self, label: str, start: str, explained: str, width: str = "212px"):
        super().__init__(label, explained)
        self.start = start
        self.box = widgets.Text(
            value=start, continuous_update=False, tooltip=label, placeholder=explained, layout={"width": width}
        )
        self.widget = widgets.VBox(
            [widgets.HBox([label_of(label), self.box], layout={"align_items": "center", "height": "30px"}), self.told]
        )
        self.box.observe(lambda change: None if self._setting else self.changed(), "value")

    @property
    def value(self) -> str:
        return self.box.value

    def set(self, value: str) -> None:
        """Show a text without telling the listener."""
        self._setting = True
        self.box.value = value
        self._setting = False
        self.say("")

    def set_active(self, active: bool) -> None:
        self.box.disabled = not active
