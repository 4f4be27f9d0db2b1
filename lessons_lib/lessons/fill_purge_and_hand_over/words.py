"""The words of lesson 10 whose numbers the library works out: its guess, its calculation by hand."""

import numpy as np

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...panels.shared_controls import in_goods
from ...physics import tank as physics
from ...plant.closed_system import trapped_pressure_rise
from ...plant.purge import purge_legs
from ...quantities.display import SYSTEMS, US, show
from ...quantities.units import Q_
from ...runs.pipe import Pipe
from ...storage import preferences
from . import purging
from .more_by_hand import discharge_by_hand, valve_by_hand
from .panel import SHUT_AT, calculate, ready_made

COPPER = ("copper L", "1/2 in")  # for a US reader
WARMED = Q_(10, "delta_degC")
ROUNDED = (
    "Paper and panel differ only by what was rounded on the way. Both leave out the little air that real pipes hold,"
    " which softens the rise."
)


def _rig(**changes) -> dict:
    """Settings of the outdoor loop rig as found (Tern Bank, invented), with some of them changed."""
    return {**next(iter(ready_made().values())), **changes}


def _copper(system: str) -> Pipe:
    """The copper of a loop, as a unit system's reader buys it."""
    return Pipe.nominal(*in_goods({"pipe": COPPER}, system)["pipe"])


def _shut_in(system: str):
    """Gives the rise of pressure in water that is shut in copper and warmed."""
    return trapped_pressure_rise(SHUT_AT, WARMED, _copper(system), _rig()["cold_pressure"]).rise


def guess() -> Guess:
    """Gives the guess: by how much the pressure rises between two shut valves."""

    def question(system: str) -> str:
        cold, warmed = show(_rig()["cold_pressure"], "pressure", system), show(WARMED, "temperature difference", system)
        return (
            "At Tern Bank, an invented yard, somebody shuts both valves of a copper loop. It is full of cold"
            f" water at {cold}. The sun warms the water by {warmed}. By how much does its pressure rise?"
        )

    return Guess(
        "10",
        question,
        Slide("My guess", "pressure", Q_(200, "kPa"), (0, 6000, 50), (0, 900, 10), "what you expect"),
        lambda: _shut_in(preferences.unit_system()),
    )


def by_hand() -> Told:
    """Purge, vessel, shut-in water, discharge pipe and mixing valve on paper, for the readers of both unit systems,
    held against the panels.
    """
    purged, shut = ("\n\n".join(map(on_paper, SYSTEMS)) for on_paper in (_purge_by_hand, _shut_in_by_hand))
    return Told("\n\n".join((purged, _vessel_by_hand(), shut, ROUNDED, discharge_by_hand(), valve_by_hand())))


def _purge_by_hand(system: str) -> str:
    state = in_goods(next(iter(purging.ready_made().values())), system)
    scene = purging.calculate(state)
    bore, length, flow = Pipe.nominal(*state["loop"]).inside_diameter, state["loop_length"], state["flow"]
    millimetres, inches = round(bore.to("mm").magnitude, 1), round(bore.to("inch").magnitude, 3)
    per_metre = round(0.25 * np.pi * millimetres**2 / 1000, 3)  # [L/m]
    litres, minutes = per_metre * length.magnitude, scene.changes * per_metre * length.magnitude / flow.magnitude
    gpm = round(flow.to("gpm").magnitude, 2)
    least = purge_legs(bore, length, flow).least_flow
    speed = Q_(scene.loop.speed, "m/s")
    if system == US:
        return (
            f"**US customary.** Speed in ft/s = 0.408 × gpm ÷ bore² = 0.408 × {gpm:g} ÷ {inches:g}² ="
            f" **{0.408 * gpm / inches**2:.2f} ft/s**; the panel says {speed.to('ft/s').magnitude:.2f} ft/s."
            " For 2 ft/s:"
            f" 2 × {inches:g}² ÷ 0.408 = **{2 * inches**2 / 0.408:.1f} gpm**; the model says"
            f" {least.to('gpm').magnitude:.1f} gpm."
        )
    return (
        f"**Purging the loop, metric.** Bore {millimetres:g} mm, so 1 m holds π ÷ 4 × {millimetres:g}² ÷ 1000 ="
        f" {per_metre:.3f} L.\n\n* The loop holds {per_metre:.3f} × {length.magnitude:g} = **{litres:.1f} L**; the"
        f" panel says {1000 * scene.loop.volume:.1f} L. {scene.changes:.0f} changes at {flow.magnitude:g} L/min take"
        f" {minutes:.1f} min; the panel says {scene.loop.seconds / 60:.1f} min.\n* Speed = {flow.magnitude:g} ÷ (60 ×"
        f" {per_metre:.3f}) = **{flow.magnitude / 60 / per_metre:.3f} m/s**; the panel says {speed.magnitude:.3f}"
        f" m/s.\n* Air needs {scene.need:g} m/s: 60 × {per_metre:.3f} × {scene.need:g} ="
        f" **{60 * per_metre * scene.need:.1f} L/min**; the model says {least.magnitude:.1f} L/min."
    )


def _vessel_by_hand() -> str:
    state = _rig(precharge=_rig()["cold_pressure"])
    scene = calculate(state)
    share = round(100 * float(physics.growth_of_water(scene.cold, scene.hottest)), 2)  # [%]
    litres, tank = state["vessel"].magnitude, state["tank"].magnitude
    grown = round(tank * share / 100, 1)
    cold = round(state["cold_pressure"].to("kPa").magnitude + 101)
    hot = cold * litres / (litres - grown) - 101
    gallons, own = (round(state[name].to("gallon").magnitude, 1) for name in ("tank", "vessel"))
    psi = round(state["cold_pressure"].to("psi").magnitude + 14.7, 1)
    more = round(gallons * share / 100, 2)
    model = Q_(scene.hot_pressure, "Pa")
    return (
        f"**The vessel, metric.** Water grows by {share:g} % from {scene.cold:g} to {scene.hottest:g} °C: {tank:g} L"
        f" gain {grown:g} L. Air pressed together keeps pressure × volume (pressures from zero, so add 101 kPa).\n\n*"
        f" {litres:g} L of air at {cold:g} kPa is left with {litres - grown:.1f} L: {cold:g} × {litres:g} ÷"
        f" {litres - grown:.1f} − 101 = **{hot:.0f} kPa**; the panel says {model.to('kPa').magnitude:.0f} kPa with the"
        f" pre-charge right.\n\n**US customary.** {gallons:g} gal gain {more:g} gal; add 14.7 psi: {psi:g} × {own:g} ÷"
        f" ({own:g} − {more:g}) − 14.7 = **{psi * own / (own - more) - 14.7:.0f} psi**; the panel says"
        f" {model.to('psi').magnitude:.0f} psi."
    )


def _shut_in_by_hand(system: str) -> str:
    start, warmed, copper = SHUT_AT.magnitude, WARMED.magnitude, _copper(system)
    grows = round(100 * float(physics.growth_of_water(start, start + warmed)), 3)  # [%]
    material = copper.made_of
    gives = round(100 * 3 * material.expansion * warmed, 3)
    inside, outside = (value.to("m").magnitude for value in (copper.inside_diameter, copper.outside_diameter))
    water = float(physics.compressibility(start + warmed))
    wall = float(physics.give_of_pipe(inside, outside, material.elastic_modulus, material.poisson))
    squeeze = round(1e9 * (water + wall) / 10, 4)  # [% per MPa] of the volume
    rise, model = 1000 * (grows - gives) / squeeze, _shut_in(system)
    psi = Q_(rise, "kPa").to("psi").magnitude
    if system == US:
        return (
            f"**US customary.** The same shares; each 145 psi squeezes by {squeeze:g} %: {grows - gives:.3f} ÷"
            f" {squeeze:g} × 145 = **{psi:.0f} psi**; the model says {model.to('psi').magnitude:.0f} psi."
        )
    return (
        f"**Shut in, metric.** Warmed by {warmed:g} °C from {start:g} °C water would grow by {grows:g} %, and the"
        f" copper makes room for {gives:g} %. The rest, {grows - gives:.3f} %, must be squeezed. Each 1000 kPa squeezes"
        f" water and wall by {squeeze:g} %.\n\n* {grows - gives:.3f} ÷ {squeeze:g} × 1000 = **{rise:.0f} kPa**; the"
        f" model says {model.magnitude:.0f} kPa."
    )
