"""Results that print as small unit tables, in a terminal and in a notebook."""

from dataclasses import dataclass, fields
from html import escape

import numpy as np

from .units import Quantity, ureg


def _text(value) -> str:
    """One value for a table row; arrays as their range."""
    if isinstance(value, ureg.Quantity) and np.ndim(value.magnitude):
        return f"{np.min(value):.4g~P} to {np.max(value):.4g~P}, shape {np.shape(value.magnitude)}"
    if isinstance(value, ureg.Quantity):
        return f"{value:.4g~P}"
    if isinstance(value, np.ndarray) and value.dtype.kind == "f":
        return f"{value.min():.3g} to {value.max():.3g}, shape {value.shape}"
    if isinstance(value, np.ndarray):
        return ", ".join(dict.fromkeys(str(item) for item in value.ravel())) + f", shape {value.shape}"
    return str(value)


class Printed:
    """Mixin of the frozen result classes: prints its public fields as a table."""

    def _rows(self) -> list[tuple[str, str]]:
        shown = (field.name for field in fields(self) if field.repr)
        return [(name.replace("_", " "), _text(getattr(self, name))) for name in shown]

    def __str__(self) -> str:
        rows = self._rows()
        width = max(len(name) for name, _ in rows)
        return "\n".join(f"{name:<{width}}  {text}" for name, text in rows)

    def __repr__(self) -> str:
        return f"{type(self).__name__}\n{self}"

    def _repr_html_(self) -> str:
        cells = "".join(f"<tr><th>{escape(name)}</th><td>{escape(text)}</td></tr>" for name, text in self._rows())
        return f"<table>{cells}</table>"


class Word(str):
    """A verdict's word, which knows how grave it is: 0 fine, 1 take care, 2 danger. In all else it is a plain text."""

    gravity: int

    def __new__(cls, text: str, gravity: int) -> "Word":
        word = super().__new__(cls, text)
        word.gravity = gravity
        return word

    def __getnewargs__(self) -> tuple[str, int]:
        return str(self), self.gravity


@dataclass(frozen=True, repr=False)
class Verdict(Printed):
    """A value, one word for it, and the reason in a sentence; arrays of each for arrays of cases."""

    value: Quantity | np.ndarray
    word: Word | np.ndarray
    reason: str | np.ndarray

    def __str__(self) -> str:
        return f"{_text(self.word)}: {_text(self.reason)} ({_text(self.value)})"
