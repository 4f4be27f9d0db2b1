"""Words as a reader of one side of the ocean spells and says them: data/spelling.csv and data/trade_words.csv."""

import re
from functools import cache

from ..quantities.display import SI, US
from .tables import rows

# Left as they are: a tag of a web page, and what stands in quotation marks, which often repeats what somebody typed.
LEFT = r'<[A-Za-z/][^>]*>|"[^"\n]*"|&quot;.*?&quot;'


def in_words_of(text: str, system: str) -> str:
    """Gives a text in the words of one side: for US customary units in US spelling and trade words.

    Where a text says both sides' trade words, as in "isolator (disconnect)", one is left. Names within web tags and
    within quotation marks stay as they are. A reader's units are `metric` or `US customary`.
    """
    pattern, said = _sides()[system]
    return pattern.sub(lambda match: _like(match[0], said.get(match[0].lower(), match[0])), text)


def as_in_tables(text: str) -> str:
    """Gives a text in the spelling of the tables, so that a name that was typed in US spelling is found there."""
    spelt = {us: metric for metric, us in _forms("spelling", "metric", "united_states")}
    return re.sub(r"\w+", lambda match: spelt.get(match[0], match[0]), text)


def _like(before: str, after: str) -> str:
    """Gives a word with the capitals of the one that it replaces."""
    if before.isupper():
        return after.upper()
    return after[:1].upper() + after[1:] if before[:1].isupper() else after


def _forms(table: str, *names: str) -> list[tuple]:
    """Gives the forms of every row of a table, side by side as the named columns have them."""
    return [forms for row in rows(table) for forms in zip(*(row[name].split("|") for name in names))]


@cache
def _sides() -> dict:
    """Unit system → the pattern of all that is said differently there, and what is said instead, in small letters."""
    said = {SI: {}, US: dict(_forms("spelling", "metric", "united_states"))}
    for word, also, us in _forms("trade_words", "forms", "also", "united_states"):
        pair = f"{word} ({also})".lower()
        said[SI][pair] = word
        said[US] |= {pair: us, word: us}
    return {system: (_pattern(words), words) for system, words in said.items()}


def _pattern(words) -> re.Pattern:
    longest_first = "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))
    begins = "".join(sorted({word[0] for word in words}))  # a look at one letter first: a third of the time
    return re.compile(rf"{LEFT}|\b(?=[{begins}])(?:{longest_first})(?!\w)", re.IGNORECASE)
