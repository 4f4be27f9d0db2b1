"""How words keep together on paper."""

import re

HARD = "\u00a0"  # a blank at which no line breaks
GAP = 4 * HARD
ROOM = f"\n{HARD}"  # a line to write on
NUMBER_AND_UNIT = re.compile(
    r"(?<=\d) (?=(?:[kM]?Pa|psi|mm|cm|m|ft|in|L|gal|gpm|L/min|m/s|mph|s|min|h|kW|kWh|W|W/m|W/ft|A|V|%|kg|lb)\b|°[CF]|%)"
)


def unbroken(text: str) -> str:
    """Gives the same words, with no line break between a number and its unit."""
    return NUMBER_AND_UNIT.sub(HARD, text)
