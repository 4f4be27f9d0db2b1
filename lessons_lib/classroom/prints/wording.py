"""How words keep together on paper."""

HARD = "\u00a0"  # a blank at which no line breaks
GAP = 4 * HARD
ROOM = f"\n{HARD}"  # a line to write on
