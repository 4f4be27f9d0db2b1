"""The words of lesson 11 whose numbers the library works out: its guess, its calculation by hand."""

from functools import lru_cache

import numpy as np

from ...building.pieces import end_of
from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...quantities.display import SI, SYSTEMS, US, measured, show, stopwatch
from ...quantities.units import Q_
from ...storage import preferences
from .own_files import FIRST, READY
from .own_goods import document_of

LONG, NEXT_LEG, PIECE = "out of the workshop", "up the slope", "under the porch"  # legs of Tern Bank's cabin (invented)
SLOW = "right basin"
USUAL = {SI: "20 to 22 mm", US: "3/4 in"}  # sizes of most of the way to it
HW = 150  # Hazen-Williams C, see flow.hazen_williams


@lru_cache
def _cabin(system: str, region: str, *edits: tuple):
    document = document_of(READY / f"{FIRST}.toml", system)
    for method, *given in edits:
        getattr(document, method)(*given)
    layout = document.layout()
    return layout, layout.assess()


def cabin(system: str, *edits: tuple):
    """The cabin's layout in the goods of a unit system's reader and its assessment, after some edits: names of
    LayoutDocument's methods with what they take.
    """
    return _cabin(system, preferences.region(system), *edits)


SMALLER = {system: ("change", "leg", LONG, "size", size) for system, size in ((SI, "15 mm"), (US, "1/2 in"))}


def _wait(system: str) -> float:
    """Gives the wait at the slowest tap as it is [s]."""
    return float(cabin(system)[1].tap(SLOW).wait.magnitude)


def guess() -> Guess:
    """Asks how long the slowest tap of the cabin takes to become warm."""

    def question(system: str) -> str:
        layout, found = cabin(system)
        way = sum(layout.legs[number].length.to("m") for number in layout.tree.path(layout.tap_legs[-1]))
        return (
            f"At Tern Bank, an invented yard, a cabin has {len(found.taps)} taps. Water goes through"
            f" {show(way, 'length', system)} of pipe to the slowest one. Most of that pipe is {USUAL[system]} wide."
            " Nobody has used hot water for hours. How long do you wait at that tap until the water is warm?"
        )

    return Guess(
        "11",
        question,
        Slide("My guess", "seconds", Q_(60, "s"), (10, 300, 2), (10, 300, 2), "what you expect"),
        lambda: Q_(_wait(preferences.unit_system()), "s"),
    )


def by_hand() -> Told:
    """Wait, pressure and one cut on the way to the slowest tap, on paper, held against the panel."""
    sums = [on_paper(system) for on_paper in (_wait_by_hand, _pressure_by_hand) for system in SYSTEMS]
    return Told("\n\n".join((*sums, _cut_by_hand())))


def _path(layout) -> dict:
    """Pipe → metres of it on the way to the slowest tap, in the order of the water."""
    lengths: dict = {}
    for number in layout.tree.path(layout.tap_legs[-1]):
        leg = layout.legs[number]
        lengths[leg.pipe.name] = lengths.get(leg.pipe.name, 0.0) + leg.length.to("m").magnitude
    return lengths


def _pipes(layout) -> dict:
    return {leg.pipe.name: leg.pipe for leg in layout.legs}


def _wait_by_hand(system: str) -> str:
    layout, found = cabin(system)
    flow, lengths, pipes = found.tap(SLOW).flow, _path(layout), _pipes(layout)
    # [L/m]
    litres = {
        name: round(0.25 * np.pi * pipes[name].inside_diameter.to("mm").magnitude ** 2 / 1000, 3) for name in lengths
    }
    inches = {name: round(pipes[name].inside_diameter.to("inch").magnitude, 3) for name in lengths}
    feet = {name: round(length / 0.3048, 1) for name, length in lengths.items()}
    volume = sum(litres[name] * length for name, length in lengths.items())
    gallons = sum(0.0408 * inches[name] ** 2 * feet[name] for name in lengths)
    walls = _walls(layout)
    warm = sum(litres[name] * length * (1 + walls[name]) for name, length in lengths.items())
    lpm, gpm = round(flow.to("L/min").magnitude, 2), round(flow.to("gpm").magnitude, 2)
    if system == US:
        return (
            "**US customary.** Gallons = 0.0408 × bore² × feet: "
            + " + ".join(f"0.0408 × {inches[name]:g}² × {feet[name]:g}" for name in lengths)
            + f" = {gallons:.2f} gal; at {gpm:g} gpm **{60 * gallons / gpm:.0f} s** for one sweep."
        )
    return (
        f"**The wait at the {SLOW}, metric.** "
        + "; ".join(f"{length:.2f} m of {name} at {litres[name]:.3f} L/m" for name, length in lengths.items())
        + f" hold {volume:.2f} L.\n\n* Swept once at {lpm:g} L/min: {volume:.2f} ÷ {lpm:g} × 60 ="
        f" **{60 * volume / lpm:.0f} s**.\n* The walls take heat as if each pipe held more water:"
        f" {', '.join(f'{100 * walls[name]:.0f} % in {name}' for name in lengths)}. That makes {warm:.2f} L and"
        f" **{60 * warm / lpm:.0f} s**.\n* The panel says {stopwatch(_wait(system))}."
        " By then the middle of the warm front"
        f" has passed; the valve waits for its setting, {show(layout.valve.setting, 'temperature', SI)}, which comes"
        " behind the middle."
    )


def _walls(layout) -> dict:
    """Says how much heat a pipe's wall takes by what its water takes, by the pipe's name."""
    shares = {}
    for leg in layout.legs:
        run = layout.runs[leg.name]
        part = run.line.section
        shares[leg.pipe.name] = round(
            float(run.wall_density_heat * ((part.outside_diameter / part.inside_diameter) ** 2 - 1) / 4.09e6), 2
        )
    return shares


def _pressure_by_hand(system: str) -> str:
    layout, found = cabin(system)
    reading, lengths, pipes = found.tap(SLOW), _path(layout), _pipes(layout)
    climb = float(layout.tree.rise[layout.tap_legs[-1]])
    flow = reading.flow
    lpm, gpm = round(flow.to("L/min").magnitude, 2), round(flow.to("gpm").magnitude, 2)
    metric = {
        n: 6.05e7 * lpm**1.852 / HW**1.852 / pipes[n].inside_diameter.to("mm").magnitude ** 4.871 * length
        for n, length in lengths.items()
    }
    trade = {
        n: 4.52 * gpm**1.852 / HW**1.852 / pipes[n].inside_diameter.to("inch").magnitude ** 4.871 * length / 0.3048
        for n, length in lengths.items()
    }
    start, kpa = round(layout.pressure.to("kPa").magnitude), 1.5 * sum(metric.values())
    psi_start, psi = layout.pressure.to("psi").magnitude, 1.5 * sum(trade.values())
    if system == US:
        return (
            f"**US customary.** {psi_start:.0f} − 0.433 × {climb / 0.3048:.1f} − {psi:.1f} ="
            f" **{psi_start - 0.433 * climb / 0.3048 - psi:.0f} psi**; the panel says"
            f" {reading.pressure.to('psi').magnitude:.0f} psi."
        )
    return (
        f"**Its pressure, metric.** {start:g} kPa at the tank. The tap lies {climb:.2f} m higher: 9.81 × {climb:.2f} ="
        f" {9.81 * climb:.1f} kPa. Friction by the trade's hand formula (Hazen-Williams, C = {HW}), kPa = 6.05 × 10⁷ ×"
        " flow^1.852 ÷ C^1.852 ÷ bore^4.871 × length: "
        + " + ".join(f"{value:.2f}" for value in metric.values())
        + f" kPa, and half as much again for fittings (common practice, no source): {kpa:.1f} kPa.\n\n* {start:g} −"
        f" {9.81 * climb:.1f} − {kpa:.1f} = **{start - 9.81 * climb - kpa:.0f} kPa**; the panel says"
        f" {reading.pressure.to('kPa').magnitude:.0f} kPa. It counts each fitting; crimped ones are narrow and cost"
        f" more than half. The climb costs most, whatever the size."
    )


def _cut_by_hand() -> str:
    layout, _ = cabin(SI)
    leg = next(leg for leg in layout.legs if leg.name == PIECE)
    face, depth, _ = (value for value in end_of(layout, leg, layout.ends[PIECE][0]).inside(leg.pipe))
    cut, length = layout.pieces_of(leg)[0].cut, leg.length.to("mm").magnitude
    face, depth = 1000 * face, 1000 * depth
    return (
        f'**One cut.** The leg "{PIECE}", {length:g} mm middle to middle, has the same elbow at both ends; its fittings'
        " are not measured, so the figures are provisional: "
        f"{face:.1f} mm middle to face, {depth:.1f} mm deep.\n\n"
        f"* {length:g} − 2 × {face:.1f} + 2 × {depth:.1f} = **{length - 2 * round(face, 1) + 2 * round(depth, 1):.1f}"
        f" mm**; the take-off says {cut.to('mm').magnitude:.1f} mm, "
        f"on a tape {measured(cut, SI)}.\n"
        f"* In inches: {length / 25.4:.2f} − 2 × {face / 25.4:.2f} + 2 × {depth / 25.4:.2f} ="
        f" **{length / 25.4 - 2 * round(face / 25.4, 2) + 2 * round(depth / 25.4, 2):.2f} in**; "
        f"on a tape {measured(cut, US)}."
    )
