"""The words of lesson 04 whose numbers the library works out: its guess, its calculation by hand."""

import numpy as np

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...panels.shared_controls import in_goods
from ...quantities.display import SI, SYSTEMS, show
from ...quantities.units import Q_
from ...runs.first_draw import CAUTION as DRAW_CAUTION
from ...runs.flow import CAUTION, SPEED_CAUTION, hazen_williams
from ...runs.pipe import Pipe, aloud
from ...storage import preferences
from .panel import calculate, taps

BATH = "Cabin bath across the yard"
DOWN = ("copper L", "1/2 in")  # one size down from the bath's, for a US reader


def _bath(system: str, **changes):
    """The cabin bath's settings in the goods of a unit system's reader, with some of them changed."""
    return in_goods({**taps()[BATH], **changes}, system)


def _open_tap():
    """Gives what the open bath tap passes through the smaller pipe."""
    scene = calculate(_bath(preferences.unit_system(), pipe=DOWN))
    return Q_(float(scene.wide[scene.chosen]), "m**3/s").to("L/min")


def guess() -> Guess:
    """One size down: is the bath still fed?"""

    def question(system: str) -> str:
        bath = _bath(system)
        scene, (_, down) = calculate(bath), _bath(system, pipe=DOWN)["pipe"]
        length, wanted, gives = (
            show(value, kind, system)
            for value, kind in (
                (bath["length"], "length"),
                (bath["wanted"], "flow"),
                (Q_(float(scene.wide[scene.chosen]), "m**3/s"), "flow"),
            )
        )
        return (
            f"At Tern Bank, an invented yard, {length} of {aloud(*bath['pipe'])} feed a bath. Its open tap gives"
            f" {gives}, and {wanted} are wanted. Somebody fits {down} pipe instead. Is the bath still fed? How"
            " much does"
            " the open tap give now?"
        )

    slide = Slide("My guess", "flow", Q_(4, "L/min"), (1, 25, 0.5), (0.2, 6.6, 0.1), "what you expect")
    return Guess("04", question, slide, _open_tap)


def by_hand() -> Told:
    """The bath's pressure on paper, for the readers of both unit systems, held against the model."""
    (metric, compared), (us, _) = map(_on_paper, SYSTEMS)
    return Told("\n\n".join((metric, us, compared)))


def _on_paper(system: str) -> tuple[str, str]:
    """Gives the sums of one unit system's reader, and how far they are from the model."""
    bath = _bath(system)
    scene = calculate(bath)
    pipe, elbows = Pipe.nominal(*bath["pipe"]), round(bath["elbows"].magnitude)
    bore, metres, flow = (
        round(pipe.inside_diameter.to("mm").magnitude, 1),
        bath["length"].magnitude,
        bath["wanted"].magnitude,
    )
    extra = round(30 * elbows * bore / 1000, 1)
    each = round(hazen_williams(pipe, Q_(1, "m"), bath["wanted"]).to("kPa").magnitude, 2)
    lost, lift = round(each * (metres + extra), 1), round(9.81 * bath["height"].magnitude)
    main = round(scene.pressure / 1000)
    inches, feet, gpm = (
        round(pipe.inside_diameter.to("in").magnitude, 3),
        round(bath["length"].to("ft").magnitude),
        round(bath["wanted"].to("gpm").magnitude, 2),
    )
    more = round(30 * elbows * inches / 12, 1)
    per_foot = round(4.52 * gpm**1.85 / (150**1.85 * inches**4.87), 4)
    psi, up, start = (
        round(per_foot * (feet + more), 2),
        round(0.433 * bath["height"].to("ft").magnitude, 1),
        round(scene.pressure / 6894.757),
    )
    litres = round(np.pi / 4 * (bore / 100) ** 2 * 10 * metres, 1)
    metric = (
        f"**Metric.** Bore {bore:.1f} mm; {metres:g} m and {elbows} elbows of 30 bores each: {extra:.1f} m more.\n\n*"
        f" Friction, Hazen-Williams with C = 150: 6.05 × 10⁷ × {flow:g}^1.85 ÷ (150^1.85 × {bore:.1f}^4.87) ="
        f" {each:.2f} kPa for each m.\n* On the way: {each:.2f} × ({metres:g} + {extra:.1f}) = **{lost:.1f} kPa**;"
        f" the panel says {scene.lost / 1000:.1f} kPa.\n* Height: 9.81 × {bath['height'].magnitude:g} = {lift} kPa."
        f" Left for the tap: {main} − {lift} − {lost:.1f} = **{main - lift - lost:.0f} kPa**; the panel says"
        f" {scene.left / 1000:.0f} kPa.\n* Content in L, cubes of 1 dm (10 cm): π/4 × {bore / 100:.3f}² ×"
        f" {10 * metres:g} = {litres:.1f} L; one pipe-full at {flow:g} L/min takes {60 * litres / flow:.0f} s. The wall"
        f" makes it {scene.waits[scene.chosen]:.0f} s (lesson 03)."
    )
    us = (
        f"**US customary.** Bore {inches:.3f} in; {feet} ft and {more:.1f} ft for the elbows; {gpm:.2f} gpm."
        f"\n\n* Friction: 4.52 × {gpm:.2f}^1.85 ÷ (150^1.85 ×"
        f" {inches:.3f}^4.87) = {per_foot:.4f} psi for each ft.\n* On the way: {per_foot:.4f} × ({feet} + {more:.1f})"
        f" = **{psi:.2f} psi**; the panel says {scene.lost / 6894.757:.2f} psi.\n* Height: 0.433 ×"
        f" {bath['height'].to('ft').magnitude:.0f} = {up:.1f} psi. Left: {start} − {up:.1f} − {psi:.2f} ="
        f" **{start - up - psi:.0f} psi**."
    )
    compared = (
        f"By hand the way takes {100 * (1000 * lost / scene.lost - 1):.0f} % more:"
        " the hand rule was fitted to cold water and knows no temperature. Hot water is thinner and loses less. On the"
        " safe side, then; but only for hot water."
    )
    return metric if system == SI else us, compared


def cautions() -> Told:
    """Gives what the library says beside every flow, speed and wait."""
    return Told(
        "\n".join(
            f"* {text}"
            for text in (CAUTION, f"The speed limit: {SPEED_CAUTION[0].lower()}{SPEED_CAUTION[1:]}", DRAW_CAUTION)
        )
    )
