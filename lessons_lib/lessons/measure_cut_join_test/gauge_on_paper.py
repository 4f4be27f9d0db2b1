"""The pressure test of lesson 05 on paper: how far one degree moves the gauge of a copper run."""

from ...physics import tank as physics
from ...quantities.display import SI, US, show
from ...quantities.units import Q_
from ...runs.pipe import Pipe
from .testing import COPPER_COOLS, calculate, ready_made


def gauge_by_hand() -> str:
    """Gives the balance of the copper run that cools, in Markdown, held against the panel."""
    settings = ready_made()[COPPER_COOLS]
    scene, pipe = calculate(settings), Pipe.nominal(*settings["pipe"])
    start = settings["start"].magnitude
    end = start + scene.warmed
    material = pipe.made_of
    inside, outside = (value.to("m").magnitude for value in (pipe.inside_diameter, pipe.outside_diameter))
    shrinks = round(-1e6 * float(physics.growth_of_water(start, end)))
    gives = round(-1e6 * 3 * material.expansion * scene.warmed)
    wall = float(physics.give_of_pipe(inside, outside, material.elastic_modulus, material.poisson))
    squeeze = round(1e6 * 1e5 * (float(physics.compressibility(end)) + wall), 1)  # [millionths for 100 kPa]
    fell = 100 * (shrinks - gives) / squeeze
    told = {system: show(Q_(-scene.moved, "Pa"), "pressure", system) for system in (SI, US)}
    return (
        f"**The pressure test.** From {start:g} to {end:g} °C water shrinks by {shrinks} millionths of its volume, and"
        f" the copper by {gives}. The rest, {shrinks - gives}, lets the pressure go. Each 100 kPa (14.5 psi) squeezes"
        f" water and wall by {squeeze:g} millionths.\n\n* {shrinks - gives} ÷ {squeeze:g} × 100 = **{fell:.0f} kPa**;"
        f" the panel says {told[SI]}.\n* {shrinks - gives} ÷ {squeeze:g} × 14.5 = **{0.145 * fell:.0f} psi**; the panel"
        f" says {told[US]}."
    )
