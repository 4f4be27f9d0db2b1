"""The words of lesson 03 whose numbers the library works out: its guess, its calculation by hand."""

import numpy as np

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...panels.shared_controls import in_goods
from ...physics.properties import water
from ...quantities.display import SYSTEMS, US, show
from ...quantities.units import Q_
from ...runs.bacteria import CAUTION as BACTERIA_CAUTION
from ...runs.first_draw import CAUTION
from ...runs.insulation import NONE
from ...runs.pipe import Pipe, aloud
from ...runs.scald import CAUTION as BURN_CAUTION
from ...storage import preferences
from .panel import AFTER, calculate, indoors

SINK = "Far sink, indoors"
PAUSE = Q_(20.0, "min")
COMPARED = (
    "The panel's time lies between the two. A plastic wall warms slowly from inside, and the tap is warm enough before"
    " all of the wall is hot. Copper warms through at once, and there the second figure is nearly the panel's."
)


def _sink(system: str, **changes):
    """The far sink's settings in the goods of a unit system's reader, with some of them changed."""
    return {**in_goods(indoors()[SINK], system), **changes}


def _bare_after_pause():
    """Gives the wait of the second draw with the foam gone, in seconds."""
    sink = _sink(preferences.unit_system(), insulation=NONE, draw=AFTER, pause=PAUSE)
    return Q_(calculate(sink).wait, "s")


def guess() -> Guess:
    """Asks how long a bare run makes the tap wait, 20 minutes after it was hot."""

    def question(system: str) -> str:
        sink = _sink(system)
        shown = {
            name: show(sink[name], kind, system)
            for name, kind in (("length", "length"), ("flow", "flow"), ("useful", "temperature"))
        }
        return (
            f"In an invented workshop, {shown['length']} of bare {aloud(*sink['pipe'])} lead to a sink."
            f" Hot water ran there {show(PAUSE, 'minutes', system)} ago. Now the tap runs at {shown['flow']}. After how"
            f" many seconds does it give {shown['useful']}?"
        )

    slide = Slide("My guess", "seconds", Q_(10.0, "s"), (0, 120, 1), (0, 120, 1), "what you expect")
    return Guess("03", question, slide, _bare_after_pause)


def by_hand() -> Told:
    """The far sink's wait on paper, for the readers of both unit systems, between two bounds; then the model's."""
    return Told("\n\n".join((*map(_on_paper, SYSTEMS), COMPARED)))


def _on_paper(system: str) -> str:
    """Gives the sums of one unit system's reader."""
    sink = _sink(system)
    scene = calculate(sink)
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
    if system == US:
        return (
            f"**US customary.** The pipe is {' '.join(reversed(sink['pipe']))}. Its bore is {inches:.3f} in, the length"
            f" {feet} ft and the flow {gpm:.2f} gpm. A gallon is 231 cubic inches.\n\n* Content = π/4 × {inches:.3f}² ×"
            f" {12 * feet} ÷ 231 = **{gallons:.2f} gal**.\n* One pipe-full = {gallons:.2f} ÷ {gpm:.2f} × 60 ="
            f" **{us_seconds} s**. With the wall it is × (1 + {share:.2f}) = **{us_seconds * (1 + share):.0f} s**; the"
            f" panel says **{scene.wait:.0f} s**."
        )
    return (
        f"**Metric.** The pipe is {' '.join(reversed(sink['pipe']))}. Its bore is {bore:.1f} mm, its outside"
        f" {outside:.1f} mm and its length {metres:g} m. The tap gives {flow:g} L/min.\n\n* 1 L is a cube of 1 dm"
        " (10"
        f" cm). Content = π/4 × {bore / 100:.3f}² × {10 * metres:g} = **{litres:.2f} L**; the panel says"
        f" {1000 * scene.content:.2f} L.\n* One pipe-full = {litres:.2f} ÷ {flow:g} × 60 = **{seconds} s**. That is the"
        f" wait if the wall takes nothing.\n* The wall's area is {areas:.2f} times the bore's area. 1 L of wall"
        " takes"
        f" {wall:.2f} kJ for each °C, and 1 L of water takes {held:.2f} kJ. So the wall holds {wall:.2f} ÷"
        f" {held:.2f} × {areas:.2f} = {share:.2f} of what the water holds. If all of it has to be warmed first, the"
        " wait"
        f" is {seconds} × (1 + {share:.2f}) = **{seconds * (1 + share):.0f} s**; the panel says **{scene.wait:.0f} s**."
    )


def cautions() -> Told:
    """Gives the cautions that the library says beside every wait, burn time and bacteria band."""
    return Told("\n".join(f"* {text}" for text in (CAUTION, BURN_CAUTION, BACTERIA_CAUTION)))
