"""The panel on bars of stock: two lengths to cut, the saw, what to have in hand, and how many bars to buy."""

from collections import Counter

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...plant.take_off import cutting_list
from ...quantities.display import show
from ...quantities.results import Word
from ...quantities.units import Q_
from .bars_picture import BarsPicture, BarsScene

STOCKS = {"3 m": Q_(3, "m"), "6 m": Q_(6, "m"), "10 ft": Q_(10, "ft"), "20 ft": Q_(20, "ft")}
NINE = "Nine pieces, three of them as long as a bar"
US_GOODS = {
    "Practice wall": {
        "length": Q_(31.25, "in"),
        "other_length": Q_(23.25, "in"),
        "stock": "10 ft",
        "kerf": Q_(0.0625, "in"),
    },
    NINE: {"length": Q_(40, "in"), "stock": "10 ft"},
}
MUCH_WASTE = 0.25  # [-] from here on the verdict asks for care


def bars() -> Panel:
    """The cutting list, opened on the pieces of Tern Bank's practice wall (invented)."""
    ready = ready_made()
    start = next(iter(ready.values()))
    cut = "cut length of one piece, as the panel of the piece gives it"
    return Panel(
        {
            "The pieces": {
                "length": _length("A, cut length", start["length"], cut),
                "pieces": _count("Pieces A", start["pieces"], 1, "how many of this length"),
                "other_length": _length("B, cut length", start["other_length"], cut),
                "others": _count("Pieces B", start["others"], 0, "how many of the other length"),
            },
            "The bars": {
                "stock": Choice("Stock", list(STOCKS), start["stock"], "length of a bar as sold"),
                "kerf": Slide(
                    "Saw takes",
                    "cut",
                    start["kerf"],
                    (0, 4, 0.5),
                    (0, 0.125, 0.0625),
                    "lost at each cut; 0 for a wheel cutter",
                ),
                "spare": Slide(
                    "Spare", "share", start["spare"], (0, 30, 5), (0, 30, 5), "to have in hand for a wrong cut"
                ),
            },
        },
        calculate,
        BarsPicture,
        readouts,
        ready,
        lambda state: ["other_length"] if round(state["others"].magnitude) == 0 else [],
        headline=headline,
        goods=usual.goods_with(ready, US_GOODS),
    )


def _length(label: str, start, explained: str) -> Slide:
    return Slide(label, "cut", start, (100, 2400, 10), (4, 94, 0.25), explained)


def _count(label: str, start, low: int, explained: str) -> Slide:
    return Slide(label, "count", start, (low, 12, 1), (low, 12, 1), explained)


def ready_made() -> dict:
    """Pieces for Tern Bank's rigs (invented): title → settings."""
    wall = {
        "length": Q_(780, "mm"),
        "pieces": Q_(4, ""),
        "other_length": Q_(580, "mm"),
        "others": Q_(2, ""),
        "stock": "3 m",
        "kerf": Q_(2, "mm"),
        "spare": Q_(10, "percent"),
    }
    nine = {**wall, "length": Q_(1, "m"), "pieces": Q_(9, ""), "others": Q_(0, ""), "spare": Q_(0, "percent")}
    return {"Practice wall": wall, NINE: nine}


def calculate(state: dict) -> BarsScene:
    """Turns the controls' values into a scene. Raises InputError."""
    lengths = [state[name].to("m").magnitude for name in ("length", "other_length")]
    counts = [round(state[name].magnitude) for name in ("pieces", "others")]
    stock, kerf, spare = STOCKS[state["stock"]], state["kerf"], state["spare"].to("").magnitude
    asked = [(Q_(length, "m"), count) for length, count in zip(lengths, counts) if count]
    found = cutting_list(asked, stock, kerf, spare)
    return BarsScene(
        bars=_alike(found, lengths[0]),
        pieces=tuple(zip(lengths, counts)),
        stock=stock.to("m").magnitude,
        stock_name=state["stock"],
        kerf=kerf.to("m").magnitude,
        spare_share=spare,
        spare=found.spare_length.to("m").magnitude,
        spare_bars=found.bars_to_buy - found.bars_needed,
        waste_share=found.waste_share.to("").magnitude,
    )


def _alike(found, first: float) -> tuple:
    """Bars cut alike, with how many there are of each, fullest first; pieces as (kind, length).

    first : length of the pieces A [m]
    """
    patterns = Counter(
        tuple((int(abs(length - first) > 1e-9), length) for length in bar.magnitude.tolist()) for bar in found.bars
    )
    left = {}
    for bar, rest in zip(found.bars, found.left_over.magnitude):
        left[tuple(bar.magnitude.tolist())] = float(rest)
    return tuple((alike, pieces, left[tuple(length for _, length in pieces)]) for pieces, alike in patterns.items())


def headline(scene: BarsScene, system: str) -> str:
    """Says how many bars to buy."""
    many = "s" if scene.bars_to_buy > 1 else ""
    return f"Buy {scene.bars_to_buy} bar{many} of {scene.stock_name}"


def readouts(scene: BarsScene, system: str) -> list[Readout]:
    """Gives the verdict on what is left over, and where the spare is."""
    waste = Word("much left over", 1) if scene.waste_share >= MUCH_WASTE else Word("little left over", 0)
    spare = show(Q_(round(1000 * scene.spare), "mm"), "cut", system)
    where = "lies in the left-overs" if scene.spare_bars == 0 else f"needs {scene.spare_bars} more to buy"
    none, some = Word("no spare", 0), Word("spare in hand", 0)
    return [
        Readout("Waste", waste, f"{scene.waste_share:.0%} of what is cut from"),
        Readout("Spare", some if scene.spare else none, f"{spare} {where}" if scene.spare else "for a wrong cut"),
    ]
