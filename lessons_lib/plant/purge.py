"""Purging a leg of air and dirt: enough changes of water, and fast enough to carry the air."""

from dataclasses import dataclass

import numpy as np

from ..physics import purge as physics
from ..quantities.border import ROUNDING, each, number
from ..quantities.results import Printed, Word
from ..quantities.units import BORE, FLOW, LENGTH, Quantity, broadcast, quantity, to_base

FAST_ENOUGH, TOO_SLOW = Word("carries air", 0), Word("too slow to carry air", 2)
CAUTION = (
    "About 0.6 m/s (2 ft/s) to carry air and three changes of water are common practice without a source. Purge cold,"
    " leg by leg, from house pressure; never heat before water runs solid at the highest hot tap and at the loop's"
    " return vent."
)


@dataclass(frozen=True, repr=False, eq=False)
class Purge(Printed):
    """Purging of each leg by itself.

    volume : of the leg [L]; time : to change its water so often [min]; speed : in it [m/s]
    word : "carries air" or "too slow to carry air"; both that and the time are needed
    least_flow : at which it carries air [L/min]
    """

    volume: Quantity
    time: Quantity
    speed: Quantity
    word: str | np.ndarray
    least_flow: Quantity
    caution: str = CAUTION


def purge_legs(inside_diameter, length, flow, changes: float = 3.0) -> Purge:
    """Volume of each leg, time to change its water, and whether the flow carries air.

    inside_diameter, length : of the legs, one value or an array of legs, purged one after the other
    flow : through the leg that is being purged
    changes : how often its water is replaced, a plain number
    """
    bore, long, moving = to_base(inside_diameter, BORE), to_base(length, LENGTH), to_base(flow, FLOW)
    often = number(changes, "changes of water", 0, 1000, "3")
    broadcast(inside_diameter=bore, length=long, flow=moving)
    volume, speed = physics.leg_volume(bore, long), physics.speed(moving, bore)
    fast = speed >= physics.CARRIES_AIR * (1 - ROUNDING)
    return Purge(
        volume=quantity(volume, "m**3").to("L"),
        time=quantity(physics.seconds_to_change(volume, moving, often), "s").to("min"),
        speed=quantity(speed, "m/s"),
        word=each(lambda enough: FAST_ENOUGH if enough else TOO_SLOW, fast),
        least_flow=quantity(physics.CARRIES_AIR * physics.area(bore), "m**3/s").to("L/min"),
    )
