"""The words of lesson 03 whose numbers the library works out: its guess, its questions, its calculation by hand."""

import numpy as np

from ..bacteria import CAUTION as BACTERIA_CAUTION
from ..display import both, show, stopwatch
from ..draws import CAUTION
from ..insulation import NONE
from ..panels.controls import Slide
from ..panels.guess import Guess
from ..panels.pages import Answer, Told
from ..panels.waiting import AFTER, FIRST, calculate, indoors
from ..physics.properties import water
from ..pipe import Pipe
from ..scald import CAUTION as BURN_CAUTION
from ..units import Q_

SINK = "Far sink, indoors"
PAUSE = Q_(20.0, "min")


def _sink(**changes):
    """The far sink's settings, with some of them changed."""
    return {**indoors()[SINK], **changes}


def _scene(**changes):
    return calculate(_sink(**changes))


def _wait(**changes) -> str:
    scene = _scene(**changes)
    return stopwatch(scene.wait) if scene.wait else "no time at all"


def _litres(volume: float) -> str:
    return both(Q_(volume, "m**3"), "pipe content")


def _bare_after_pause():
    """How long the second draw waits with the foam gone."""
    return Q_(_scene(insulation=NONE, draw=AFTER, pause=PAUSE).wait, "s")


def guess() -> Guess:
    """How long does a bare run make the tap wait, 20 minutes after it was hot?"""
    sink = _sink()

    def question(system: str) -> str:
        shown = {name: show(sink[name], kind, system) for name, kind in (("length", "length"), ("flow", "flow"), ("useful", "temperature"))}
        return (
            f"Tern Bank's far sink (invented): {shown['length']} of {' '.join(reversed(sink['pipe']))} through a heated room, foam off. "
            f"Somebody drew hot water {show(PAUSE, 'minutes', system)} ago. At {shown['flow']}, how many seconds until {shown['useful']}?"
        )

    slide = Slide("My guess", "seconds", Q_(10.0, "s"), (0, 120, 1), (0, 120, 1), "what you expect")
    return Guess("03", question, slide, _bare_after_pause)


def half_the_flow() -> Answer:
    """The mistake of the lesson before: the drop goes up when the flow goes down."""
    sink = _sink()

    def drop(flow):
        return both(Q_(sink["supply"].magnitude - _scene(flow=flow).delivered, "delta_degC"), "temperature drop")

    return Answer(
        f"1. The far sink has run hot for minutes at {both(sink['flow'], 'flow')}; the water cools by {drop(sink['flow'])} on its way. "
        "You halve the flow. How much does it cool now?",
        {
            "just as much": "You took the drop for a property of the pipe. The pipe loses the same watts: out of how much water each second?",
            "half as much": "You thought that less water loses less. How long does each litre now stay in the pipe?",
        },
        f"By {drop(sink['flow'] / 2)}, about twice as much: nearly the same heat each second, out of half the water.",
    )


def volume_and_flow() -> Answer:
    """The wait is longer than volume over flow."""
    sink, scene = _sink(), _scene()
    return Answer(
        f"2. That run holds {_litres(scene.content)}; at {both(sink['flow'], 'flow')} it is swept once in {stopwatch(scene.sweep)}. "
        "First draw of the day: when is the tap warm enough?",
        {
            f"after {stopwatch(scene.sweep)}": "You let the water pass a wall that takes no heat. What warms the pipe that stood cold all night?",
            "sooner, the tank pushes": "The tank pushes no faster than the tap lets out. What has to leave the pipe first?",
        },
        f"After {stopwatch(scene.wait)}. The first hot water spends its heat on the cold wall and arrives cool: look at the run after one pipe-full. "
        f"{_litres(scene.drawn)} run away, though the pipe holds {_litres(scene.content)}.",
    )


def one_size_up() -> Answer:
    """Areas, not names."""
    sink = _sink()
    family, size = sink["pipe"]
    bores = [Pipe.nominal(family, one).inside_diameter.to("mm").magnitude for one in (size, "3/4 in")]
    before, after = _scene(), _scene(pipe=(family, "3/4 in"))
    return Answer(
        f"3. The same sink in {size} waits {stopwatch(before.wait)}. In 3/4 in, at the same flow?",
        {
            "one and a half times": "You divided the names, 3/4 by 1/2. The tap must empty the pipe: does its content go with the diameter or with the area?",
            "less, bigger pipe flows better": "On a given pressure it may flow more; that is lesson 04. Here the flow is the same: which pipe holds more?",
        },
        f"{stopwatch(after.wait)}, {after.wait / before.wait:.1f} times as long. The bores are {bores[0]:.1f} and {bores[1]:.1f} mm; "
        f"their areas are as 1 to {(bores[1] / bores[0]) ** 2:.1f}.",
    )


def foam_and_time() -> Answer:
    """What foam does for a first draw, after 20 minutes, after two hours."""
    def three(**changes):
        pauses = (f"{_wait(draw=AFTER, pause=Q_(minutes, 'min'), **changes)} after {words}" for minutes, words in ((20, "20 min"), (120, "2 h")))
        return ", ".join([f"{_wait(draw=FIRST, **changes)} in the morning", *pauses])

    return Answer(
        "4. A customer waits too long at the far sink every morning and asks you for thicker foam. What do you say?",
        {
            "yes, foam keeps it warm": "For how long? In the morning the last draw was eight hours ago. Where is the curve of standing water then?",
            "no, foam is useless here": "In the morning, yes. What of somebody who comes back after 20 minutes?",
        },
        f"With foam the wait is {three()}. Without: {three(insulation=NONE)}. Foam helps whoever comes back soon. "
        "For the morning: a tank nearer the sink, a smaller pipe, or a circulator.",
    )


def half_open() -> Answer:
    """A tap half open wastes as much."""
    sink = _sink()
    full, half = _scene(), _scene(flow=sink["flow"] / 2)
    return Answer(
        "5. To waste less while they wait, somebody opens the tap only half. Does it help?",
        {
            "half the flow, half the waste": "You kept the time the same. How much cold water has to leave the pipe either way?",
            "it wastes nothing": "What comes out until the front is there?",
        },
        f"The wait grows from {stopwatch(full.wait)} to {stopwatch(half.wait)}, and {_litres(half.drawn)} run away instead of {_litres(full.drawn)}. "
        "What is wasted is in the pipe, not in the tap.",
    )


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
    inches, feet, gpm = round(pipe.inside_diameter.to("in").magnitude, 3), round(sink["length"].to("ft").magnitude), round(sink["flow"].to("gpm").magnitude, 2)
    gallons = round(np.pi / 4 * inches**2 * 12 * feet / 231, 2)
    us_seconds = round(60 * gallons / gpm)
    return Told(
        f"**Metric.** {' '.join(reversed(sink['pipe']))}, bore {bore:.1f} mm, outside {outside:.1f} mm, {metres:g} m, {flow:g} L/min.\n\n"
        f"* A litre is a cube of 1 dm (10 cm). Content = π/4 × {bore / 100:.3f}² × {10 * metres:g} = **{litres:.2f} L**; the panel says {1000 * scene.content:.2f} L.\n"
        f"* One pipe-full = {litres:.2f} ÷ {flow:g} × 60 = **{seconds} s**: the wait if the wall took nothing.\n"
        f"* The wall is {areas:.2f} times the bore's area. A litre of it takes {wall:.2f} kJ for each °C, a litre of water {held:.2f}. "
        f"So the wall holds {wall:.2f} ÷ {held:.2f} × {areas:.2f} = {share:.2f} of what the water holds, and if all of it had to be warmed first: "
        f"{seconds} × (1 + {share:.2f}) = **{seconds * (1 + share):.0f} s**.\n\n"
        f"**US customary.** Bore {inches:.3f} in, {feet} ft, {gpm:.2f} gpm; a gallon is 231 cubic inches.\n\n"
        f"* Content = π/4 × {inches:.3f}² × {12 * feet} ÷ 231 = **{gallons:.2f} gal**.\n"
        f"* One pipe-full = {gallons:.2f} ÷ {gpm:.2f} × 60 = **{us_seconds} s**; with the wall × (1 + {share:.2f}) = **{us_seconds * (1 + share):.0f} s**.\n\n"
        f"The panel says **{scene.wait:.0f} s**, between the two. A plastic wall warms slowly from inside, and the tap is warm enough before all of it is "
        "hot. Copper warms through at once: there the second figure is nearly the panel's."
    )


def cautions() -> Told:
    """What the library says beside every wait, burn time and bacteria band."""
    return Told("\n".join(f"* {text}" for text in (CAUTION, BURN_CAUTION, BACTERIA_CAUTION)))
