"""What guidance asks of the water that comes back, and the word for it."""

from ...quantities.border import ROUNDING
from ...quantities.results import Word
from ...runs.bacteria import GROWTH, guidance

ROWS = guidance("return")
# [degC] what every source of data/bacteria_bands.csv is content with, and what none is content below
HIGHEST, LOWEST = (pick(float(row["low"]) for row in ROWS) for pick in (max, min))
WARM, SOME = Word("as every source asks", 0), Word("as some sources ask", 1)
COOL, GROWS = Word("cooler than any source asks", 2), Word("bacteria can grow in it", 2)


def of_source(name: str) -> float:
    """Gives what one source asks of the return [degC]. name : as in data/bacteria_bands.csv"""
    return next(float(row["low"]) for row in ROWS if row["name"] == name)


def return_word(temperature: float) -> Word:
    """One word for the water that comes back [degC]; an edge belongs to the warmer word."""
    water = temperature + ROUNDING
    if water >= HIGHEST:
        return WARM
    if water >= LOWEST:
        return SOME
    low, high = (edge.magnitude for edge in GROWTH)
    return GROWS if low <= temperature < min(high, LOWEST) else COOL
