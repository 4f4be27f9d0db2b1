"""The words of lesson 06 whose numbers the library works out: its guess, its calculation by hand."""

import numpy as np

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...panels.shared_controls import in_goods
from ...quantities.display import SI, SYSTEMS, US, percent_off, show
from ...quantities.units import Q_
from ...storage import preferences
from .panel import calculate, settings

GAP = Q_(0.3, "m")
CABIN = "Cabin across the yard, frosty night"
SHOWN = {"thickness": "thickness", "air": "temperature", "wind": "wind", "water": "temperature"}


def _cabin(system: str, **changes):
    """The cabin's run in the frosty wind, with some settings changed, as the panel shows it in a unit system."""
    return calculate(in_goods({**settings()[CABIN], **changes}, system))


def _metres_of_foam():
    """Gives the length of covered pipe that loses as much as the bare piece."""
    cabin = _cabin(preferences.unit_system())
    return GAP * (cabin.bare / cabin.covered.loss)


def guess() -> Guess:
    """A bare valve: how much covered pipe is it worth?"""

    def question(system: str) -> str:
        cabin = in_goods(settings()[CABIN], system)
        shown = {name: show(cabin[name], kind, system) for name, kind in SHOWN.items()}
        return (
            f"At Tern Bank, an invented yard, a hot pipe lies outdoors under {shown['thickness']} of foam. Its water is"
            f" at {shown['water']}. The air is at {shown['air']}, and the wind blows at {shown['wind']}. At a valve"
            f" {show(GAP, 'length', system)} of pipe is bare. How much covered pipe loses as much as this bare piece?"
        )

    slide = Slide("My guess", "length", Q_(1, "m"), (0.5, 20, 0.5), (1, 60, 1), "what you expect")
    return Guess("06", question, slide, _metres_of_foam)


def by_hand() -> Told:
    """The cabin's run on paper, covered, bare, and with a tenth bare, held against the panel."""
    (metric, compared), (us, _) = map(_on_paper, SYSTEMS)
    return Told("\n\n".join((metric, us, compared)))


def _on_paper(system: str) -> tuple[str, str]:
    """Gives the sums of one unit system's reader, and how far they are from the panel."""
    share = 0.1
    scene, gapless = _cabin(system, bare_share=Q_(100 * share, "percent")), _cabin(system)
    foam = round(_conductivity(gapless), 4)
    inner, outer = round(1000 * scene.pipe_outside, 1), round(1000 * scene.outside, 1)
    log, warmer = round(float(np.log(outer / inner)), 3), scene.difference
    films = [round(8.9 * scene.wind**0.9 / (0.001 * diameter) ** 0.1, 1) for diameter in (outer, inner)]
    holds, air = round(log / (2 * np.pi * foam), 2), round(1 / (np.pi * 0.001 * outer * films[0]), 3)
    covered, bare = round(warmer / (holds + air), 1), round(np.pi * 0.001 * inner * films[1] * warmer)
    mixed = (1 - share) * covered + share * bare
    imperial = _imperial(foam, inner, outer, log, warmer, films, share)
    us = imperial.format(
        *(show(Q_(value, "W/m"), "heat loss", US) for value in (scene.covered.loss, scene.bare, scene.loss))
    )
    metric = (
        f"**Metric.** Foam k = {foam} W/(m K); ln({outer} ÷ {inner}) = {log}; water is {warmer:g} °C warmer than the"
        f" air. Film in a wind of {scene.wind:g} m/s: {films[0]} W/(m² K) on the foam, {films[1]} on the bare"
        f" pipe.\n\n* Foam holds back {log} ÷ (2π × {foam}) = {holds} m K/W; the air film on it 1 ÷ (π ×"
        f" {0.001 * outer:.4f} × {films[0]}) = {air} m K/W.\n* Covered: {warmer:g} ÷ ({holds} + {air}) = **{covered}"
        f" W/m**; the panel says {_metric(scene.covered.loss)}.\n* Bare: π × {0.001 * inner:.4f} × {films[1]} ×"
        f" {warmer:g} = **{bare} W/m**; the panel says {_metric(scene.bare)}.\n* A tenth bare: 0.9 × {covered} + 0.1 ×"
        f" {bare} = **{mixed:.1f} W/m**; the panel says {_metric(scene.loss)}. The bare tenth makes"
        f" {share * bare / mixed:.0%} of"
        f" it."
    )
    compared = (
        f"By hand the bare pipe comes out {percent_off(bare / scene.bare - 1)}, and the covered one"
        f" {percent_off(covered / scene.covered.loss - 1)}. The rule of the standard takes one film for every"
        " temperature. Paper also left out radiation and the water's film. Under foam none of that matters much."
    )
    return metric if system == SI else us, compared


def _conductivity(scene) -> float:
    """Gives the conductivity of the foam at its mean temperature, from the layers of a scene [W/(m K)]."""
    log = np.log(scene.outside / scene.pipe_outside)
    return float(scene.covered.loss * log / (2 * np.pi * scene.drops[2]))


def _metric(watts: float) -> str:
    return show(Q_(watts, "W/m"), "heat loss", SI)


def _imperial(foam: float, inner: float, outer: float, log: float, warmer: float, films: list, share: float) -> str:
    """Says the same in US customary units, with three places for what the panel says."""
    k = round(Q_(foam, "W/(m*K)").to("Btu*inch/(hour*ft**2*delta_degF)").magnitude, 3)
    fahrenheit = round(1.8 * warmer)
    across = [round(diameter / 25.4, 2) for diameter in (inner, outer)]
    inside, outside = (
        round(Q_(film, "W/(m**2*K)").to("Btu/(hour*ft**2*delta_degF)").magnitude, 1) for film in (films[1], films[0])
    )
    holds, air = round(12 * log / (2 * np.pi * k), 2), round(12 / (np.pi * across[1] * outside), 3)
    covered, bare = round(fahrenheit / (holds + air), 1), round(np.pi * across[0] / 12 * inside * fahrenheit)
    return (
        f"**US customary.** k = {k} Btu in/(h ft² °F), {fahrenheit} °F, films {outside} and {inside} Btu/(h ft²"
        f" °F).\n\n* Foam: 12 × {log} ÷ (2π × {k}) = {holds} h ft °F/Btu; film 12 ÷ (π × {across[1]} × {outside}) ="
        f" {air}.\n* Covered: {fahrenheit} ÷ ({holds} + {air}) = **{covered} Btu/h ft**; the panel says {{0}}.\n* Bare:"
        f" π × {across[0]} ÷ 12 × {inside} × {fahrenheit} = **{bare} Btu/h ft**; the panel says {{1}}.\n* A tenth bare:"
        f" 0.9 × {covered} + 0.1 × {bare} = **{(1 - share) * covered + share * bare:.1f} Btu/h ft**; the panel says"
        " {2}."
    )
