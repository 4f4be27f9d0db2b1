"""The words of lesson 06 whose numbers the library works out: its guess, its questions, its calculation by hand."""

import numpy as np

from ..display import SI, US, both, percent_off, show
from ..panels.controls import Slide
from ..panels.guess import Guess
from ..panels.heat_goes import FACES, calculate, settings
from ..panels.pages import Answer, Told
from ..pipe import Pipe
from ..take_off import End, cut_length
from ..units import Q_

GAP = Q_(0.3, "m")
GUST = Q_(5.0, "m/s")
SHOWN = {"thickness": "thickness", "air": "temperature", "wind": "wind", "water": "temperature"}


def _cabin(**changes):
    """The cabin's run in the frosty wind, with some settings changed, as the panel shows it."""
    return calculate({**settings()["Cabin across the yard, frosty night"], **changes})


def _trough(**changes):
    """The wash trough's run in the heated room, which the panel opens on."""
    return calculate({**settings()["Wash trough, indoors"], **changes})


def _loss(watts: float) -> str:
    return both(Q_(watts, "W/m"), "heat loss")


def _metres_of_foam():
    """Length of covered pipe that loses as much as the bare piece."""
    cabin = _cabin()
    return GAP * (cabin.bare / cabin.covered.loss)


def guess() -> Guess:
    """A bare valve: how much covered pipe is it worth?"""

    def question(system: str) -> str:
        cabin = settings()["Cabin across the yard, frosty night"]
        shown = {name: show(cabin[name], kind, system) for name, kind in SHOWN.items()}
        return (
            f"At Tern Bank (an invented training yard) the cabin's run crosses the yard under {shown['thickness']} of foam: water {shown['water']}, "
            f"air {shown['air']}, wind {shown['wind']}. One valve is left bare, with {show(GAP, 'length', system)} of pipe. "
            "How much covered pipe loses as much as that bare piece?"
        )

    slide = Slide("My guess", "length", Q_(1, "m"), (0.5, 20, 0.5), (1, 60, 1), "what you expect")
    return Guess("06", question, slide, _metres_of_foam)


def cut_with_depth() -> Answer:
    """The mistake of the lesson before: what goes into the fitting is forgotten."""
    pipe, centres, face, depth = Pipe.nominal("copper L", "3/4 in"), Q_(600, "mm"), Q_(43, "mm"), Q_(29, "mm")
    end = End("elbow 90", "push", face, depth)
    right = cut_length(pipe, centres, end, end).length.to("mm")
    return Answer(
        f"1. You foam a new leg and one joint drips. Its elbows are {both(centres, 'cut')} apart, centre to centre; centre to face {both(face, 'cut')}, "
        f"depth {both(depth, 'cut')}. The piece was cut {both(right - 2 * depth, 'cut')}. Was that right?",
        {
            "yes": "You stopped at the faces of the fittings. What holds a pipe that ends there?",
            "no, too long": "You may have taken the depth off. Does the pipe inside a fitting make the piece longer or shorter?",
        },
        f"No. {centres.magnitude:g} − 2 × {face.magnitude:g} + 2 × {depth.magnitude:g} = {both(right, 'cut')}. Depth was forgotten at both ends. "
        "Leak-test bare pipe before you cover it: foam hides a drip for months.",
    )


def which_first() -> Answer:
    """Wind decides which bare pipe to cover first."""
    still, windy = _cabin(thickness=Q_(0, "mm"), wind=0 * GUST), _cabin(thickness=Q_(0, "mm"), wind=GUST)
    calm, foamed = _cabin(wind=0 * GUST), _cabin(wind=GUST)
    return Answer(
        f"2. Two bare runs outdoors, alike, but one stands in a {both(GUST, 'wind')} wind and one in a sheltered corner. "
        "You have foam for one. Which, and what does wind do to each?",
        {
            "either: the air is equally cold": "You looked at the temperature. What carries the warm air at the pipe away?",
            "the windy one, though foam in wind is no use":
                "You thought that wind goes through it. What does wind do to a pipe under foam? Try it on the panel.",
        },
        f"The windy one: wind multiplies the bare loss by {windy.bare / still.bare:.1f}, from {_loss(still.bare)} to {_loss(windy.bare)}, "
        f"but a pipe's under foam only by {foamed.covered.loss / calm.covered.loss:.1f}. The film of air was most of what held "
        "a bare pipe's heat; under foam it hardly counts.",
    )


def double_foam() -> Answer:
    """Twice the foam is not half the loss."""
    twenty, forty, none = (_cabin(thickness=Q_(millimetres, "mm")) for millimetres in (20, 40, 0))
    first, second = none.loss - twenty.loss, twenty.loss - forty.loss
    return Answer(
        f"3. The cabin's run loses {_loss(twenty.loss)} under {both(Q_(20, 'mm'), 'thickness')} of foam. What does it lose under twice as much?",
        {
            "half": "True of a flat wall. Here the second layer lies round the first: is it narrower or wider?",
            "as good as nothing": "Foam slows heat, it does not stop it. Did the first layer stop it?",
        },
        f"{_loss(forty.loss)}. The first layer saved {_loss(first)}, the second {_loss(second)}: {second / first:.0%} of that.",
    )


def one_millimetre() -> Answer:
    """Thin foam on bright copper."""
    shiny = dict(face=FACES[0])
    bare, thin, thick = (_trough(thickness=Q_(millimetres, "mm"), **shiny) for millimetres in (0, 1, 13))
    return Answer(
        f"4. Bright new copper in a warm still room loses {_loss(bare.loss)}. Somebody winds one layer of thin foam, "
        f"{both(Q_(1, 'mm'), 'thickness')}, round it: better than nothing?",
        {
            "yes, a little": "You counted what foam holds back. What does its dull face give off that bright copper keeps?",
            "yes, by half": "Half of what? Move the thickness from 0 to the first step and read the loss.",
        },
        f"Worse: {_loss(thin.loss)}. The foam radiates {_loss(thin.covered.radiated)}, the bright copper {_loss(bare.covered.radiated)}. "
        f"On oxidised copper, which loses {_loss(bare.dark.loss)}, it would help. Bright copper goes dull; real foam, {both(Q_(13, 'mm'), 'thickness')}, "
        f"brings it to {_loss(thick.loss)}.",
    )


def a_twentieth_bare() -> Answer:
    """Shares of the length are not shares of the loss."""
    cabin = _cabin(bare_share=Q_(5, "percent"))
    mended = _cabin(bare_share=Q_(5, "percent"), thickness=2 * settings()["Cabin across the yard, frosty night"]["thickness"])
    return Answer(
        "5. One twentieth (5 %) of the cabin's run is bare: valves, brackets, gaps. "
        "What share of its heat leaves there, and what would mend more: twice the foam, or closing the gaps?",
        {
            "a twentieth": "You gave every metre the same loss. Does a bare metre in this wind lose what a covered one loses?",
            "hardly any": "You thought of the foam's share of the pipe. Which metre has nothing to hold its heat back?",
        },
        f"{cabin.gap_share:.0%}. Twice the foam on the rest would bring the loss from {_loss(cabin.loss)} to {_loss(mended.loss)}; "
        f"closing the gaps brings it to {_loss(cabin.covered.loss)}. Close the gaps first.",
    )


def by_hand() -> Told:
    """The cabin's run on paper, covered, bare, and with a tenth bare, held against the panel."""
    share = 0.1
    scene, gapless = _cabin(bare_share=Q_(100 * share, "percent")), _cabin()
    foam = round(_conductivity(gapless), 4)
    inner, outer = round(1000 * scene.pipe_outside, 1), round(1000 * scene.outside, 1)
    log, warmer = round(float(np.log(outer / inner)), 3), scene.difference
    films = [round(8.9 * scene.wind**0.9 / (0.001 * diameter) ** 0.1, 1) for diameter in (outer, inner)]
    holds, air = round(log / (2 * np.pi * foam), 2), round(1 / (np.pi * 0.001 * outer * films[0]), 3)
    covered, bare = round(warmer / (holds + air), 1), round(np.pi * 0.001 * inner * films[1] * warmer)
    mixed = (1 - share) * covered + share * bare
    imperial = _imperial(foam, inner, outer, log, warmer, films, share)
    return Told(
        f"**Metric.** Foam k = {foam} W/(m K); ln({outer} ÷ {inner}) = {log}; water is {warmer:g} °C warmer than the air. "
        f"Film in a wind of {scene.wind:g} m/s: {films[0]} W/(m² K) on the foam, {films[1]} on the bare pipe.\n\n"
        f"* Foam holds back {log} ÷ (2π × {foam}) = {holds} m K/W; the air film on it 1 ÷ (π × {0.001 * outer:.4f} × {films[0]}) = {air} m K/W.\n"
        f"* Covered: {warmer:g} ÷ ({holds} + {air}) = **{covered} W/m**; the panel says {_metric(scene.covered.loss)}.\n"
        f"* Bare: π × {0.001 * inner:.4f} × {films[1]} × {warmer:g} = **{bare} W/m**; the panel says {_metric(scene.bare)}.\n"
        f"* A tenth bare: 0.9 × {covered} + 0.1 × {bare} = **{mixed:.1f} W/m**; the panel says {_metric(scene.loss)}. "
        f"The bare tenth makes {share * bare / mixed:.0%} of it.\n\n"
        f"{imperial.format(*(show(Q_(value, 'W/m'), 'heat loss', US) for value in (scene.covered.loss, scene.bare, scene.loss)))}\n\n"
        f"By hand the bare pipe comes out {percent_off(bare / scene.bare - 1)}, the covered one {percent_off(covered / scene.covered.loss - 1)}: "
        "the rule of the standard has one film for every temperature, and paper left radiation and the water's film out. Under foam none of that matters much."
    )


def _conductivity(scene) -> float:
    """Of the foam at its mean temperature, from the layers of a scene [W/(m K)]."""
    log = np.log(scene.outside / scene.pipe_outside)
    return float(scene.covered.loss * log / (2 * np.pi * scene.drops[2]))


def _metric(watts: float) -> str:
    return show(Q_(watts, "W/m"), "heat loss", SI)


def _imperial(foam: float, inner: float, outer: float, log: float, warmer: float, films: list, share: float) -> str:
    """The same in US customary units, with three places for what the panel says."""
    k = round(Q_(foam, "W/(m*K)").to("Btu*inch/(hour*ft**2*delta_degF)").magnitude, 3)
    fahrenheit = round(1.8 * warmer)
    across = [round(diameter / 25.4, 2) for diameter in (inner, outer)]
    inside, outside = (round(Q_(film, "W/(m**2*K)").to("Btu/(hour*ft**2*delta_degF)").magnitude, 1) for film in (films[1], films[0]))
    holds, air = round(12 * log / (2 * np.pi * k), 2), round(12 / (np.pi * across[1] * outside), 3)
    covered, bare = round(fahrenheit / (holds + air), 1), round(np.pi * across[0] / 12 * inside * fahrenheit)
    return (
        f"**US customary.** k = {k} Btu in/(h ft² °F), {fahrenheit} °F, films {outside} and {inside} Btu/(h ft² °F).\n\n"
        f"* Foam: 12 × {log} ÷ (2π × {k}) = {holds} h ft °F/Btu; film 12 ÷ (π × {across[1]} × {outside}) = {air}.\n"
        f"* Covered: {fahrenheit} ÷ ({holds} + {air}) = **{covered} Btu/h ft**; the panel says {{0}}.\n"
        f"* Bare: π × {across[0]} ÷ 12 × {inside} × {fahrenheit} = **{bare} Btu/h ft**; the panel says {{1}}.\n"
        f"* A tenth bare: 0.9 × {covered} + 0.1 × {bare} = **{(1 - share) * covered + share * bare:.1f} Btu/h ft**; the panel says {{2}}."
    )
