"""The words of lesson 03 whose numbers the library works out: its guess, its calculation by hand."""

import numpy as np

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...physics.properties import water
from ...quantities.display import show
from ...quantities.units import Q_
from ...runs.bacteria import CAUTION as BACTERIA_CAUTION
from ...runs.first_draw import CAUTION
from ...runs.insulation import NONE
from ...runs.pipe import Pipe
from ...runs.scald import CAUTION as BURN_CAUTION
from .panel import AFTER, calculate, indoors

SINK = "Far sink, indoors"
PAUSE = Q_(20.0, "min")


def _sink(**changes):
    """The far sink's settings, with some of them changed."""
    return {**indoors()[SINK], **changes}


def _scene(**changes):
    return calculate(_sink(**changes))


def _bare_after_pause():
    """Says how long the second draw waits with the foam gone."""
    return Q_(_scene(insulation=NONE, draw=AFTER, pause=PAUSE).wait, "s")


def guess() -> Guess:
    """Gives how long does a bare run make the tap wait, 20 minutes after it was hot?"""
    sink = _sink()

    def question(system: str) -> str:
        shown = {
            name: show(sink[name], kind, system)
            for name, kind in (("length", "length"), ("flow", "flow"), ("useful", "temperature"))
        }
        return (
            f"Tern Bank's far sink (invented): {shown['length']} of {' '.join(reversed(sink['pipe']))} through a heated"
            f" room, foam off. Somebody drew hot water {show(PAUSE, 'minutes', system)} ago. At {shown['flow']}, how"
            f" many seconds until {shown['useful']}?"
        )

    slide = Slide("My guess", "seconds", Q_(10.0, "s"), (0, 120, 1), (0, 120, 1), "what you expect")
    return Guess("03", question, slide, _bare_after_pause)


def by_hand() -> Told:
    """The far sink's wait on paper, in both sets of units, between two bounds; then held against the model."""
    sink, scene = _sink(), _scene()
    pipe = Pipe.nominal(*sink["pipe"])
    outside, bore = (value.to("mm").magnitude for value in (pipe.outside_diameter, pipe.inside_diameter))
    metres, flow = sink["length"].magnitude, sink["flow"].magnitude
    litres = round(np.pi / 4 * (bore / 100) ** 2 * 10 * metres, 2)
    seconds = round(60 * litres / flow)
    hot = water(sink["supply"].magnitude)
    held = hot.density * hot.heat_capacity / 1e6  # [MJ/(m3 K)]
    wall = (pipe.density * pipe.heat_capacity).to("MJ/(m**3*K)").magnitude
    areas = round((outside**2 - bore**2) / bore**2, 2)
    share = round(wall / held * areas, 2)
    inches, feet, gpm = (
        round(pipe.inside_diameter.to("in").magnitude, 3),
        round(sink["length"].to("ft").magnitude),
        round(sink["flow"].to("gpm").magnitude, 2),
    )
    gallons = round(np.pi / 4 * inches**2 * 12 * feet / 231, 2)
    us_seconds = round(60 * gallons / gpm)
    return Told(
        f"**Metric.** {' '.join(reversed(sink['pipe']))}, bore {bore:.1f} mm, outside {outside:.1f} mm, {metres:g} m,"
        f" {flow:g} L/min.\n\n* A litre is a cube of 1 dm (10 cm). Content = π/4 × {bore / 100:.3f}² × {10 * metres:g}"
        f" = **{litres:.2f} L**; the panel says {1000 * scene.content:.2f} L.\n* One pipe-full = {litres:.2f} ÷"
        f" {flow:g} × 60 = **{seconds} s**: the wait if the wall took nothing.\n* The wall is {areas:.2f} times the"
        f" bore's area. A litre of it takes {wall:.2f} kJ for each °C, a litre of water {held:.2f}. So the wall holds"
        f" {wall:.2f} ÷ {held:.2f} × {areas:.2f} = {share:.2f} of what the water holds, and if all of it had to be"
        f" warmed first: {seconds} × (1 + {share:.2f}) = **{seconds * (1 + share):.0f} s**.\n\n**US customary.** Bore"
        f" {inches:.3f} in, {feet} ft, {gpm:.2f} gpm; a gallon is 231 cubic inches.\n\n* Content = π/4 × {inches:.3f}²"
        f" × {12 * feet} ÷ 231 = **{gallons:.2f} gal**.\n* One pipe-full = {gallons:.2f} ÷ {gpm:.2f} × 60 ="
        f" **{us_seconds} s**; with the wall × (1 + {share:.2f}) = **{us_seconds * (1 + share):.0f} s**.\n\nThe panel"
        f" says **{scene.wait:.0f} s**, between the two. A plastic wall warms slowly from inside, and the tap is warm"
        " enough before all of it is hot. Copper warms through at once: there the second figure is nearly the panel's."
    )


def cautions() -> Told:
    """Gives what the library says beside every wait, burn time and bacteria band."""
    return Told("\n".join(f"* {text}" for text in (CAUTION, BURN_CAUTION, BACTERIA_CAUTION)))
