"""How words keep together on paper."""

import re

HARD = "\u00a0"  # a blank at which no line breaks
SENTENCE = re.compile(r"(?<=[.?!])\s+(?=[A-Z])")  # the blanks between two sentences
GAP = 4 * HARD
ROOM = f"\n{HARD}"  # a line to write on
