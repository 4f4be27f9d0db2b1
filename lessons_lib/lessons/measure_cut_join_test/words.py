"""The words of lesson 05 whose numbers the library works out: its guess, its calculation by hand."""

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...plant.closed_system import pipe_growth
from ...quantities.display import SI, US, show, sixteenths
from ...quantities.units import Q_
from ...storage import preferences
from . import buying_bars
from .gauge_on_paper import gauge_by_hand
from .panel import US_GOODS, WARMER, calculate, tern_bank_pieces
from .tries import FORGOTTEN

MEASURED = "Practice wall, measured"


def _measured(system: str = SI) -> dict:
    """Settings of the practice wall, measured (Tern Bank, invented), in the goods of a unit system."""
    return tern_bank_pieces()[MEASURED] | (US_GOODS[MEASURED] if system == US else {})


def _too_short(system: str):
    """Gives the length by which the piece is too short whose depths were forgotten."""
    return Q_(-calculate({**_measured(system), "way": FORGOTTEN}).off, "m")


def guess() -> Guess:
    """Gives the guess: by how much a piece is too short whose depths were forgotten."""

    def question(system: str) -> str:
        wall = _measured(system)
        centres, face, depth = (show(wall[name], "cut", system) for name in ("centres", "first_face", "depth"))
        return (
            f"At Tern Bank, an invented yard, two elbows are {centres} apart, middle to middle. Each measures"
            f" {face} from"
            f" middle to face. The pipe goes {depth} deep into each. Somebody forgets these depths. By how much is the"
            " piece too short?"
        )

    slide = Slide("My guess", "cut", Q_(0, "mm"), (0, 150, 1), (0, 6, 0.0625), "how much is missing")
    return Guess("05", question, slide, lambda: _too_short(preferences.unit_system()))


def by_hand() -> Told:
    """The practice wall on paper, in both sets of units, held against the panel."""
    settings = _measured()
    scene, laid = calculate(settings), buying_bars.calculate(next(iter(buying_bars.ready_made().values())))
    centres, face, depth = (settings[name].to("mm").magnitude for name in ("centres", "first_face", "depth"))
    a, b = centres - 2 * face + 2 * depth, 1000 * laid.pieces[1][0]
    stock, kerf = 1000 * laid.stock, 1000 * laid.kerf
    counts = [count for _, count in laid.pieces]
    total = counts[0] * a + counts[1] * b
    us = _measured(US)
    inch = {name: us[control] for name, control in (("centres", "centres"), ("face", "first_face"), ("depth", "depth"))}
    by_tape, us_scene = inch["centres"] - 2 * inch["face"] + 2 * inch["depth"], calculate(us)
    bars = laid.cut_bars
    growth = pipe_growth("copper", Q_(1, "m"), Q_(1, "delta_degC")).magnitude
    fahrenheit = WARMER.to("delta_degF").magnitude
    grown = growth * a / 1000 * WARMER.magnitude
    per_inch = growth / 1000 / 1.8
    return Told(
        f"**Metric.** Two elbows {centres:g} mm middle to middle; {face:g} mm middle to face, {depth:g} mm depth (Tern"
        f" Bank's fittings, invented).\n\n* Piece A = {centres:g} − {face:g} − {face:g} + {depth:g} + {depth:g} ="
        f" **{a:g} mm**; the panel says {1000 * scene.cut:g} mm. \n* Cuts from a bar: each piece takes its length and"
        f" a saw cut, the last needs no cut: ({stock:g} +"
        f" {kerf:g}) ÷ ({a:g} + {kerf:g}) = {(stock + kerf) / (a + kerf):.2f}, so **{int((stock + kerf) // (a + kerf))}"
        f" pieces A** in a bar, and what is left takes B.\n* {counts[0]} A and {counts[1]} B of {b:g} mm are"
        f" {total:g} mm:"
        f" {total / stock:.2f} bars, so at least {-(-total // stock):.0f}; the panel needs {bars} and wastes 1 −"
        f" {total:g} ÷ {bars * stock:g} = **{1 - total / (bars * stock):.0%}**.\n* Growth = {growth:g} mm for each"
        f" m and degree × {a / 1000:g} m × {WARMER.magnitude:g} °C = **{grown:.1f} mm**; the panel says"
        f" {1000 * scene.growth:.1f} mm.\n\n**US customary**, on the wall of a US reader, read off a tape in"
        f" sixteenths: {sixteenths(inch['centres'])} in middle to middle, {sixteenths(inch['face'])} in to the face,"
        f" {sixteenths(inch['depth'])} in depth.\n\n* Piece A = {sixteenths(inch['centres'])} − 2 ×"
        f" {sixteenths(inch['face'])} + 2 × {sixteenths(inch['depth'])} = **{sixteenths(by_tape)} in**; the panel says"
        f" {sixteenths(Q_(us_scene.cut, 'm'))} in.\n* Growth = {1e6 * per_inch:.1f} millionths for each °F ×"
        f" {by_tape.magnitude:g} in × {fahrenheit:g} °F = **{per_inch * by_tape.magnitude * fahrenheit:.2f} in**; the"
        f" panel says {show(Q_(us_scene.growth, 'm'), 'diameter', US)}.\n\nPaper and panel agree to the last digit: it"
        " is the same sum. Where a length lies between two marks of the tape, five rounded lengths may add up to a"
        " sixteenth more or less. A joint can take that. It cannot take a forgotten depth."
        f"\n\n{gauge_by_hand()}"
    )
