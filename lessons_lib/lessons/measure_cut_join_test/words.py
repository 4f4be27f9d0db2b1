"""The words of lesson 05 whose numbers the library works out: its guess, its calculation by hand."""

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...plant.closed_system import pipe_growth
from ...plant.take_off import cutting_list
from ...quantities.display import SI, US, show, sixteenths
from ...quantities.units import Q_
from .panel import STOCKS, US_GOODS, WARMER, calculate, tern_bank_pieces

MEASURED = "Practice wall, measured"
NINE = {SI: "Nine pieces of 1 m from 3 m bars", US: "Nine pieces of 40 in from 10 ft bars"}


def _measured():
    """Settings of the practice wall, measured (Tern Bank, invented)."""
    return tern_bank_pieces()[MEASURED]


def _bars(system: str, **changes) -> int:
    settings = {**tern_bank_pieces()[NINE[system]], **changes}
    cuts = [(settings["centres"], round(settings["pieces"].magnitude))]
    return cutting_list(
        cuts, STOCKS[settings["stock"]], settings["kerf"], settings["spare"].to("").magnitude
    ).bars_to_buy


def guess() -> Guess:
    """Gives how many bars for nine pieces, three of which are as long as a bar?"""

    def question(system: str) -> str:
        settings = tern_bank_pieces()[NINE[system]]
        return (
            "Tern Bank (an invented training yard) needs nine plain pieces of pipe, each"
            f" {show(settings['centres'], 'cut', system)}, cut with a saw that takes"
            f" {show(settings['kerf'], 'cut', system)} each time. Pipe comes in bars of {settings['stock']}. How many"
            " bars do you buy?"
        )

    return Guess(
        "05",
        question,
        Slide("My guess", "count", Q_(6, ""), (1, 12, 1), (1, 12, 1), "bars to buy"),
        lambda: Q_(_bars(SI), ""),
    )


def by_hand() -> Told:
    """The practice wall on paper, in both sets of units, held against the panel."""
    settings = _measured()
    scene = calculate(settings)
    centres, face, depth, other = (
        settings[name].to("mm").magnitude for name in ("centres", "first_face", "depth", "other_centres")
    )
    a, b = (length - 2 * face + 2 * depth for length in (centres, other))
    stock, kerf = 1000 * scene.stock, 1000 * scene.kerf
    counts = [count for _, count in scene.pieces]
    total = counts[0] * a + counts[1] * b
    us = {**settings, **US_GOODS[MEASURED]}
    inch = {name: us[control] for name, control in (("centres", "centres"), ("face", "first_face"), ("depth", "depth"))}
    by_tape, us_scene = inch["centres"] - 2 * inch["face"] + 2 * inch["depth"], calculate(us)
    bars = sum(alike for alike, _, _ in scene.bars)
    growth = pipe_growth("copper", Q_(1, "m"), Q_(1, "delta_degC")).magnitude
    fahrenheit = WARMER.to("delta_degF").magnitude
    grown = growth * a / 1000 * WARMER.magnitude
    per_inch = growth / 1000 / 1.8
    return Told(
        f"**Metric.** Two elbows {centres:g} mm centre to centre; {face:g} mm centre to face, {depth:g} mm depth (Tern"
        f" Bank's fittings, invented).\n\n* Piece A = {centres:g} − {face:g} − {face:g} + {depth:g} + {depth:g} ="
        f" **{a:g} mm**; the panel says {1000 * scene.cut:g} mm. Piece B = {other:g} − {2 * face:g} + {2 * depth:g} ="
        f" {b:g} mm.\n* Cuts from a bar: each piece takes its length and a saw cut, the last needs no cut: ({stock:g} +"
        f" {kerf:g}) ÷ ({a:g} + {kerf:g}) = {(stock + kerf) / (a + kerf):.2f}, so **{int((stock + kerf) // (a + kerf))}"
        f" pieces A** in a bar, and what is left takes B.\n* {counts[0]} A and {counts[1]} B are {total:g} mm:"
        f" {total / stock:.2f} bars, so at least {-(-total // stock):.0f}; the panel needs {bars} and wastes 1 −"
        f" {total:g} ÷ {bars * stock:g} = **{1 - total / (bars * stock):.0%}**.\n* Growth = {growth:g} mm for each"
        f" metre and degree × {a / 1000:g} m × {WARMER.magnitude:g} °C = **{grown:.1f} mm**; the panel says"
        f" {1000 * scene.growth:.1f} mm.\n\n**US customary**, on the wall of a US reader, read off a tape in"
        f" sixteenths: {sixteenths(inch['centres'])} in centre to centre, {sixteenths(inch['face'])} in to the face,"
        f" {sixteenths(inch['depth'])} in depth.\n\n* Piece A = {sixteenths(inch['centres'])} − 2 ×"
        f" {sixteenths(inch['face'])} + 2 × {sixteenths(inch['depth'])} = **{sixteenths(by_tape)} in**; the panel says"
        f" {sixteenths(Q_(us_scene.cut, 'm'))} in.\n* Growth = {1e6 * per_inch:.1f} millionths for each °F ×"
        f" {by_tape.magnitude:g} in × {fahrenheit:g} °F = **{per_inch * by_tape.magnitude * fahrenheit:.2f} in**; the"
        f" panel says {show(Q_(us_scene.growth, 'm'), 'diameter', US)}.\n\nPaper and panel agree to the last digit: it"
        " is the same sum. Where a length lies between two marks of the tape, five rounded lengths may add up to a"
        " sixteenth more or less. A joint forgives that. It does not forgive a forgotten depth."
    )
