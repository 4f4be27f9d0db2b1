"""The words of lesson 09 whose numbers the library works out: its guess, its calculation by hand."""

import numpy as np

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...panels.shared_controls import in_goods, run_of
from ...physics.heat_pump import CONDENSER_STEP, EVAPORATOR_STEP, SHARE_OF_CARNOT
from ...physics.properties import KELVIN, water
from ...plant.heat_pump import loop_stored_heat
from ...quantities.display import SI, SYSTEMS, US, celsius, number, show
from ...quantities.units import Q_
from ...runs.pipe import Pipe, sizes
from ...storage import preferences
from .panel import SMALL, calculate, flow_word, rig


def _scene(system: str, **changes):
    """Gives what the panel shows of the loop that it opens on in a unit system, with some settings changed."""
    return calculate({**in_goods(rig(), system), **changes})


def _smallest():
    """The bore of the smallest pipe of this family that suits the loop's flow: the pump can push it, and it is not too
    fast.
    """
    system = preferences.unit_system()
    family = in_goods(rig(), system)["pipe"][0]
    return next(
        Pipe.nominal(family, size).inside_diameter
        for size in sizes(family)
        if flow_word(_scene(system, pipe=(family, size))) not in SMALL
    )


def guess() -> Guess:
    """Asks which bore suits the loop's small flow."""
    loop = rig()

    def question(system: str) -> str:
        heat, length, flow = (
            show(value, kind, system)
            for value, kind in (
                (loop["heat"], "large power"),
                (loop["length"], "length"),
                (Q_(_scene(system).flow, "m**3/s"), "flow"),
            )
        )
        return (
            f"At Tern Bank, an invented yard, a heat pump gives {heat}. Its circulator sends {flow} to the tank"
            " and back,"
            f" through {Pipe.nominal(*loop['pipe']).material} pipe of {length} each way. How wide is the smallest bore"
            " that suits this flow?"
        )

    slide = Slide("My guess", "diameter", Q_(20, "mm"), (4, 40, 0.5), (0.2, 1.6, 0.05), "bore: the inside of the pipe")
    return Guess("09", question, slide, _smallest)


def by_hand() -> Told:
    """The loop on paper, for the readers of both unit systems, held against the panel."""
    (metric, compared), (us, _) = map(_on_paper, SYSTEMS)
    return Told("\n\n".join((metric, us, compared)))


def _on_paper(system: str) -> tuple[str, str]:
    """Gives the sums of one unit system's reader, and how far they are from the panel."""
    loop, scene = in_goods(rig(), system), _scene(system)
    run = run_of(loop)
    section = run.line.section
    hot, bottom, air, length = scene.store, scene.bottom, scene.air, loop["length"].magnitude
    entering = water(hot)
    # [W per L/min and °C]
    per_litre = round(float(entering.density * water(0.5 * (hot + bottom)).heat_capacity) / 60_000, 1)
    flow = round(scene.heat / (per_litre * (hot - bottom)), 2)
    bore = round(1000 * section.inside_diameter, 1)
    speed = flow / 60_000 / (np.pi / 4 * (bore / 1000) ** 2)
    log = round(float(np.log(section.outside_of_insulation / section.outside_diameter)), 3)
    lines = [round(_line(section, value, air, log) * length) for value in (hot, bottom)]
    cop = SHARE_OF_CARNOT * (hot + CONDENSER_STEP + KELVIN) / (hot + CONDENSER_STEP - air + EVAPORATOR_STEP)
    heat_us, rise_us = round(loop["heat"].to("Btu/hour").magnitude), round(1.8 * (hot - bottom))
    gpm, bore_us = round(heat_us / (500 * rise_us), 2), round(Q_(section.inside_diameter, "m").to("inch").magnitude, 3)
    warm, frost = (Q_(value, "degC").to("degF").magnitude for value in (hot + CONDENSER_STEP, air - EVAPORATOR_STEP))
    content = np.pi / 4 * section.inside_diameter**2 * length
    stored = sum(
        loop_stored_heat(Q_(content, "m**3"), celsius(value), loop["air"]).magnitude for value in (hot, bottom)
    )
    off = 100 * (sum(lines) / (scene.hot_loss + scene.cold_loss) - 1)
    metric = (
        f"**Metric.**\n\n* Flow: {scene.heat:.0f} W ÷ ({per_litre:.1f} × {hot - bottom:.0f} °C) = **{flow:.2f} L/min**,"
        f" for one L/min carries {per_litre:.1f} W for each °C; the panel says {scene.flow * 60_000:.1f} L/min.\n*"
        f" Speed: {flow:.2f} L/min through a bore of {bore:.1f} mm = **{speed:.2f} m/s**; the panel says"
        f" {scene.speed:.2f} m/s.\n* Loss, as in lesson 06, with ln(outer ÷ inner) = {log:.3f}: hot line {lines[0]} W,"
        f" cold line {lines[1]} W, together **{sum(lines)} W**, {100 * sum(lines) / scene.heat:.1f} % of the heat; the"
        f" panel says {scene.hot_loss + scene.cold_loss:.0f} W.\n* COP: {SHARE_OF_CARNOT} × ({hot + CONDENSER_STEP:.0f}"
        f" + 273) ÷ ({hot + CONDENSER_STEP:.0f} −"
        f" ({number(celsius(air - EVAPORATOR_STEP), 'temperature', SI)})) = **{cop:.2f}**; the panel says"
        f" {scene.cop:.2f}."
    )
    us = (
        f"**US customary.**\n\n* Flow: {heat_us} Btu/h ÷ (500 × {rise_us} °F) = **{gpm:.2f} gpm**;"
        f" the panel says {Q_(scene.flow, 'm**3/s').to('gpm').magnitude:.2f} gpm.\n* Speed: 0.409 × {gpm:.2f} ÷"
        f" {bore_us:.3f}² = **{0.4085 * gpm / bore_us**2:.1f} ft/s**; the panel says"
        f" {Q_(scene.speed, 'm/s').to('ft/s').magnitude:.1f} ft/s.\n* COP: {SHARE_OF_CARNOT} × ({warm:.0f} + 460) ÷"
        f" ({warm:.0f} − ({number(celsius(air - EVAPORATOR_STEP), 'temperature', US)})) ="
        f" **{SHARE_OF_CARNOT * (warm + 460) / (warm - frost):.2f}**."
    )
    compared = (
        f"By hand the loss comes out {off:.0f} % high:"
        " paper leaves out the films of water and air and the wall of the pipe.\n\n**Each stop.** When the heat pump"
        f" stops, the water in both lines cools: {stored:.0f} Wh each time, as much as the lines lose in"
        f" {60 * stored / (scene.hot_loss + scene.cold_loss):.0f} minutes of running. Many short runs cost more than"
        " one long one."
    )
    return metric if system == SI else us, compared


def _line(section, inside: float, air: float, log: float) -> float:
    """Loss through the foam alone [W/m]. inside, air [degC]; log : of outer over inner diameter"""
    return 2 * np.pi * float(section.conductivity(0.5 * (inside + air))) * (inside - air) / log
