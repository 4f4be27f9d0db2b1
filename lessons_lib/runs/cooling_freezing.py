"""Results about water that stands: cooling curves and freezing times."""

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from ..physics import cooling, freezing
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import DURATION, TARGET, Quantity, broadcast, quantity, shares, to_base
from .cautions import ICE

CURVE_POINTS = 121


def one_duration(duration) -> float:
    """A single duration in seconds, or an InputError."""
    seconds = to_base(duration, DURATION)
    if np.ndim(seconds):
        raise InputError("duration: give one value, not a list.")
    return seconds


@dataclass(frozen=True, repr=False, eq=False)
class Cooling(Printed):
    """Standing water over time.

    time : [s], shape (n,)
    temperature : [degC], shape (n,) + S; water that reaches 0 degC stays there
    half_life : [s], shape S: until the distance from rest has halved; inf where it is at rest already
    """

    time: Quantity
    temperature: Quantity
    half_life: Quantity
    standing: cooling.Standing = field(repr=False)
    start: Quantity = field(repr=False)

    @classmethod
    def of(cls, standing: cooling.Standing, start, seconds: float) -> "Cooling":
        """From SI floats: start [degC], seconds [s]."""
        times = np.linspace(0.0, seconds, CURVE_POINTS)
        rest = standing.line.rest()
        half = cooling.time_to(standing, start, 0.5 * (np.asarray(start, dtype=float) + rest))
        return cls(
            quantity(times, "s"),
            quantity(cooling.curve(standing, start, times), "degC"),
            quantity(np.where(np.equal(start, rest), np.inf, half), "s"),
            standing,
            start,
        )

    def time_to(self, temperature):
        """Time until the water passes `temperature` [s]: 0 if it has passed already, inf if it never does."""
        target = to_base(temperature, TARGET)
        broadcast(target=target, start=self.start, run=np.empty(self.standing.line.shape))
        return quantity(cooling.time_to(self.standing, self.start, target), "s")


@dataclass(frozen=True, repr=False, eq=False)
class Freezing(Printed):
    """Says when standing water can freeze. Quantities in hours, shape S; inf: never.

    parts : physics.cooling.Standing: one, or the covered and the bare part of a run; the one that freezes first decides
    start : [degC]
    """

    parts: tuple = field(repr=False)
    start: float | np.ndarray
    caution: str = field(default=ICE, repr=False)

    @property
    def hours_to_zero(self):
        """Until the water is at 0 degC and ice can form: the figure that verdicts use."""
        return quantity(self._to_zero, "h")

    @property
    def rest(self):
        """Gives where the standing water settles in the end, of the coldest part [degC]."""
        return quantity(self._rest, "degC")

    def hours_to_share(self, share):
        """Until ice fills a share of the bore [h], for example 0.1. A teaching figure: bursts do not wait for it.

        share : number or array, above 0 and at most 1, broadcast with S
        """
        wanted = shares(share, "ice share")
        if np.any(wanted == 0):
            raise InputError("ice share: 0 was given; possible is a number above 0 and at most 1, for example 0.1.")
        broadcast(share=wanted, start=self.start, run=np.empty(self.parts[0].line.shape))
        growing = (freezing.seconds_from_zero(part.line, wanted) for part in self.parts)
        return quantity(_least([before + after for before, after in zip(self._seconds_to_zero, growing)]) / 3600, "h")

    @property
    def hours_to_solid(self):
        """Until the bore is solid ice. A teaching figure."""
        return self.hours_to_share(1.0)

    def cooling(self, duration) -> Cooling:
        """The curve behind hours_to_zero, of the bare part where there is one: without the insulation's own heat."""
        return Cooling.of(self.parts[-1], self.start, one_duration(duration))

    @cached_property
    def _seconds_to_zero(self) -> list:
        """Seconds of each part to 0 degC, which the first ice and every share of it begin with."""
        return [freezing.seconds_to_zero(part, self.start) for part in self.parts]

    @property
    def _to_zero(self):
        """Hours to 0 degC; see hours_to_zero."""
        return _least(self._seconds_to_zero) / 3600

    @property
    def _rest(self):
        """Temperature of rest of the coldest part [degC]."""
        return _least([part.line.rest() for part in self.parts])

    def _rows(self):
        return [
            (name.replace("_", " "), f"{getattr(self, name):.3g~P}") for name in ("hours_to_zero", "hours_to_solid")
        ]


def _least(of_parts: list):
    """The least of the parts, case by case."""
    return np.minimum.reduce(np.broadcast_arrays(*of_parts))
