"""Text whose numbers come from the library: shown as a page, and as plain words where nothing else can be shown."""

from functools import cache
from html import escape

from ..storage.spelling import in_words_of
from ..storage.tables import row


class Told:
    """Markdown with numbers worked out at run time.

    In plain form it is the same words, so a stored notebook notices when a number changes.
    """

    def __init__(self, markdown: str):
        self.markdown = markdown

    def _repr_markdown_(self) -> str:
        return self.markdown

    def __repr__(self) -> str:
        return self.markdown


def _table(summary: str, rows) -> str:
    """A folded table of names and what they mean."""
    cells = "".join(
        f'<tr><th style="text-align:left">{escape(name)}</th><td style="text-align:left">{escape(meaning)}</td></tr>'
        for name, meaning in rows
    )
    return f'<details style="font-size:15px"><summary>{summary}</summary><table>{cells}</table></details>'


@cache
def on_page(make):
    """The one panel of its kind on this page: made by `make()` when a cell first asks, the same for every later cell.

    So each cell works alone: the legend, the panel and what reads the panel may be run in any order.
    """
    return make()


class Legend:
    """Shows what each control of a panel does, as a table, in the words of the reader's side."""

    def __init__(self, panel):
        self.rows = [
            (in_words_of(control.label, panel.system), in_words_of(control.explained, panel.system))
            for control in panel.controls.values()
        ]

    def _repr_html_(self) -> str:
        return _table("What each control does", self.rows)

    def __repr__(self) -> str:
        return "\n".join(f"{label}: {explained}" for label, explained in self.rows)


class Words:
    """Trade words of a page with their meaning (data/words.csv). Raises InputError for an unknown word."""

    def __init__(self, *words: str):
        self.rows = [(word, row("words", "word", word, "trade word")["meaning"]) for word in words]

    def _repr_html_(self) -> str:
        return _table("Trade words on this page", self.rows)

    def __repr__(self) -> str:
        return "\n".join(f"{word}: {meaning}" for word, meaning in self.rows)
