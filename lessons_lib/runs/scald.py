"""Time to burn at a tap, from published tables."""

from dataclasses import dataclass

import numpy as np

from ..physics import scald
from ..quantities.display import burns_briefly
from ..quantities.results import Printed
from ..quantities.units import Q_, SKIN_WATER, Quantity, quantity, to_base
from ..storage import tables

# Said beside every time, for the tables are adults' figures: after a time, and as a sentence of its own.
SOONER = "children and frail people can burn sooner"
BURN_SOONER = "Children and older people burn sooner"
TOO_COOL_TO_BURN = 40.0  # [degC] below it a sentence leaves burns out
CAUTION = (
    f"Adults' figures, good to about a factor of two. {BURN_SOONER}. "
    "No time here is safe for everyone; local code decides."
)


@dataclass(frozen=True, repr=False, eq=False)
class TimeToBurn(Printed):
    """Gives how long an adult's skin can stay in the water before the stated burn.

    seconds : [s], shape S
    bound : "at", "longer than" or "shorter than" (text, or an array of text of shape S)
    degree : the injury that the source means
    source : where the figure was published
    """

    seconds: Quantity
    bound: str | np.ndarray
    degree: str | np.ndarray
    source: str | np.ndarray
    caution: str = CAUTION


def code_limit(where: str) -> float:
    """The temperature that data/code_limits.csv names for a place [degC]."""
    return float(tables.row("code_limits", "where", where, "place")["degC"])


BENCH_LIMIT = Q_(code_limit("learner taps at the bench"), "degC")


def time_to_burn(water) -> TimeToBurn:
    """The shortest published time to a burn in water of this temperature.

    water : Quantity, 0 to 100 degC, scalar or array
    Straight lines in the logarithm of time between published points; columns that mean different injuries are
    never mixed. Cooler than the tables: "longer than" their longest time. Hotter: "shorter than" their shortest.
    Sources: Moritz and Henriques (1947); US CPSC publication 5098; see data/burn_times.csv.
    Raises InputError.
    """
    return burn_at(to_base(water, SKIN_WATER))


def burn_at(celsius) -> TimeToBurn:
    """Gives the same for water in SI floats [degC]."""
    seconds, bound, index = scald.time_to_burn(celsius)
    if np.ndim(index) == 0:
        return TimeToBurn(quantity(seconds, "s"), str(bound), *scald.column(index))
    columns = np.array([scald.column(one) for one in index.ravel()], dtype=object).reshape(*index.shape, 2)
    return TimeToBurn(quantity(seconds, "s"), bound, columns[..., 0], columns[..., 1])


def skin_words(seconds: float, bound: str) -> str:
    """A time to a burn [s] and its bound as verdicts say it, with whom it is for."""
    return f"adults: {burns_briefly(seconds, bound)}; {SOONER}"
