"""Read-outs: a word, a number and a shape, never colour alone."""

from dataclasses import dataclass
from html import escape

from ..quantities.display import unbroken
from ..quantities.results import Word

SHAPES = ("●", "▲", "■")  # verdicts: fine, take care, danger
EDGES = ("#2f6f4f", "#8a5a00", "#9b1c1c")


@dataclass(frozen=True)
class Readout:
    """Holds one read-out: a title, a word that knows how grave it is, and the number in words."""

    title: str
    word: Word
    detail: str

    @property
    def level(self) -> int:
        """Says how grave it is: 0, 1 or 2."""
        return self.word.gravity

    def html(self, kept: str = "", wrap: bool = False) -> str:
        """Gives the read-out as a card: a shape, a word and a number, never colour alone. wrap: a long word may go on
        in a second line
        """
        beside = f'<div style="color:#7a3e9d">kept: {escape(kept)}</div>' if kept else ""
        return (
            f'<div style="flex:1 1 {"auto" if wrap else "150px"};border-left:5px solid {EDGES[self.level]};padding:0'
            f' 6px;background:#f6f8fa"><div>{escape(self.title)}</div><div'
            f' style="color:{EDGES[self.level]};font-weight:bold;white-space:{"normal" if wrap else "nowrap"}">{SHAPES[self.level]}'
            f" {escape(unbroken(self.word))}</div><div>{escape(unbroken(self.detail))}</div>{beside}</div>"
        )


def shown(readouts, kept, width: int, beside: bool) -> str:
    """Gives the read-outs of a picture, with what was kept of each; beside a picture they stand in a column."""
    cards = "".join(
        readout.html(kept[number].detail if kept else "", beside) for number, readout in enumerate(readouts)
    )
    if beside:
        return (
            '<div class="hot-water-cards" style="flex:1 1'
            f' 220px;display:flex;flex-direction:column;gap:8px;font-size:15px;line-height:1.3">{cards}</div>'
        )
    return f'<div class="hot-water-cards" style="display:flex;flex-wrap:wrap;gap:8px;max-width:{width}px;font-size:15px;line-height:1.3">{cards}</div>'
