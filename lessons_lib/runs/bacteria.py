"""Temperature and bacteria: which band water is in, and how long it stays in the band where they grow."""

from dataclasses import dataclass

import numpy as np

from ..quantities.border import ROUNDING, each, of_kind
from ..quantities.display import both
from ..quantities.errors import unknown_name
from ..quantities.results import Printed
from ..quantities.units import Q_, WATER, Domain, Quantity, quantity, to_base
from ..storage import tables
from .cooling_freezing import Cooling

TENFOLD_WATER = Domain("water temperature", "degC", 55, 66, 'Q_(60, "degC")')
GROWTH = Q_(20.0, "degC"), Q_(50.0, "degC")
GUIDANCE = ("growth", "store", "return", "tap", "cold")
# What every source of data/bacteria_bands.csv asks of a store, and how texts say it: "60 °C (140 °F)".
RECOMMENDED_STORE = Q_(
    max(float(row["low"]) for row in tables.rows("bacteria_bands") if row["kind"] == "store"), "degC"
)
STORE_ADVICE = both(RECOMMENDED_STORE, "temperature")
STORE_AS_ASKED, STORE_HOTTER = "as guidance asks", f"not recommended: guidance stores at {STORE_ADVICE} or above"
CAUTION = (
    "Bands, not lines: laboratories differ several-fold, and every system has corners cooler than its tank. Storage"
    f" below {STORE_ADVICE} is never recommended here; hotter water scalds, so temper it at the outlet. Disinfection,"
    " vulnerable people and larger buildings need a competent person; local code decides."
)


@dataclass(frozen=True, repr=False, eq=False)
class BacteriaBand(Printed):
    """Says what water of a temperature means for legionella bacteria.

    word : "at rest", "may grow", "grows", "growth fades", "dies slowly", "dies in minutes"
    low, high : ends of the band [degC]
    storage : what guidance says of a tank kept at this temperature
    sources : what the band is drawn from
    """

    word: str | np.ndarray
    low: Quantity
    high: Quantity
    storage: str | np.ndarray
    sources: str | np.ndarray
    caution: str = CAUTION


def bacteria_band(temperature) -> BacteriaBand:
    """The band of data/bacteria_bands.csv that water of this temperature is in.

    temperature : Quantity, 0 to 99 degC, scalar or array. An edge belongs to the band above it.
    Raises InputError.
    """
    water = to_base(temperature, WATER)
    bands = [row for row in tables.rows("bacteria_bands") if row["kind"] == "band"]
    edges = np.array([float(row["low"]) for row in bands])
    place = np.searchsorted(edges, np.add(water, ROUNDING), side="right") - 1  # 68 degF is 20 degC
    hot_enough = np.greater_equal(water, RECOMMENDED_STORE.magnitude - ROUNDING)
    return BacteriaBand(
        word=each(lambda index: bands[index]["name"], place),
        low=quantity(edges[place], "degC"),
        high=quantity(np.array([float(row["high"]) for row in bands])[place], "degC"),
        storage=each(lambda good: STORE_AS_ASKED if good else STORE_HOTTER, hot_enough),
        sources=each(lambda index: bands[index]["source"], place),
    )


@dataclass(frozen=True, repr=False, eq=False)
class Tenfold(Printed):
    """Time until one in ten bacteria is left: a band between what laboratories found.

    shortest, longest : [min]
    """

    shortest: Quantity
    longest: Quantity
    caution: str = CAUTION


def tenfold_time(temperature) -> Tenfold:
    """Gives how long water of 55 to 66 degC takes to leave one bacterium in ten, shortest and longest published.

    Straight lines in the logarithm of time between the rows "tenfold" of data/bacteria_bands.csv. Outside 55 to
    66 degC it is an InputError: no source there. To a thousandth takes three times as long.
    """
    water = to_base(temperature, TENFOLD_WATER)
    rows = [row for row in tables.rows("bacteria_bands") if row["kind"] == "tenfold"]
    at = [float(row["low"]) for row in rows]
    shortest, longest = (
        np.exp(np.interp(water, at, np.log([float(row[name]) for row in rows])))
        for name in ("minutes_low", "minutes_high")
    )
    return Tenfold(quantity(shortest, "min"), quantity(longest, "min"))


def guidance(kind: str) -> tuple[dict, ...]:
    """Says what each source says, as the rows of data/bacteria_bands.csv: "growth", "store", "return", "tap" or
    "cold".
    """
    if kind not in GUIDANCE:
        raise unknown_name("guidance", kind, list(GUIDANCE))
    return tuple(row for row in tables.rows("bacteria_bands") if row["kind"] == kind)


def time_in_growth_band(cooling):
    """Gives how long standing water stays between 20 and 50 degC [h]; 0: it never gets there, inf: it stays there.

    cooling : a Cooling result, from `run.cooling(start, duration)`; the time is not cut at its duration
    Insulation lengthens this time: the price of a warm second draw.
    """
    of_kind("time in the growth band", cooling, Cooling)
    low, high = GROWTH
    start = np.asarray(cooling.start, dtype=float)
    inside = (start > low.magnitude) & (start < high.magnitude)
    to_low, to_high = (cooling.time_to(edge).to("s").magnitude for edge in (low, high))
    entered, left = np.minimum(to_low, to_high), np.maximum(to_low, to_high)
    reached = np.isfinite(entered)
    seconds = np.where(reached, left - np.where(reached, entered, 0.0), np.where(inside, np.inf, 0.0))
    return quantity(seconds, "s").to("h")
