"""The words of lesson 09 whose numbers the library works out: its guess, its questions, its calculation by hand."""

import numpy as np

from ..display import SI, US, both, celsius, duration, show
from ..heat_pump import loop_stored_heat, store_cost
from ..insulation import NONE
from ..panels.controls import Slide
from ..panels.guess import Guess
from ..panels.outdoor_loop import calculate, rig
from ..panels.pages import Answer, Told
from ..panels.usual import run_of
from ..physics.heat_pump import CONDENSER_STEP, EVAPORATOR_STEP, SHARE_OF_CARNOT
from ..physics.properties import KELVIN, water
from ..units import Q_

SHOWN = {"heat": "large power", "length": "length", "air": "temperature", "wind": "wind", "store": "temperature", "bottom": "temperature"}
FULL = Q_(35.0, "degC")  # of the tank's bottom when the store is nearly full
STORES = Q_(50.0, "degC"), Q_(60.0, "degC")


def _scene(**changes):
    """What the panel shows of the loop that it opens on, with some settings changed."""
    return calculate({**rig(), **changes})


def _flow(scene) -> str:
    return both(Q_(scene.flow, "m**3/s").to("L/min"), "flow")


def _speed(value: float) -> str:
    return both(Q_(value, "m/s"), "speed")


def guess() -> Guess:
    """What share of the heat does the loop lose without its foam?"""
    loop = rig()

    def question(system: str) -> str:
        shown = {name: show(loop[name], kind, system) for name, kind in SHOWN.items()}
        return (
            f"Tern Bank's heat pump (invented) gives {shown['heat']}. Its loop of {loop['pipe'][1]} {loop['pipe'][0].split()[0]} runs "
            f"{shown['length']} outdoors to the tank and back, at {shown['air']} in wind of {shown['wind']}; {shown['store']} goes out, "
            f"{shown['bottom']} comes back. The foam is not on yet. What share of the heat is lost?"
        )

    slide = Slide("My guess", "share", Q_(5, "percent"), (0, 80, 1), (0, 80, 1), "share of the heat that both lines lose")
    return Guess("09", question, slide, lambda: Q_(100 * _scene(insulation=NONE).lost, "percent"))


def power_cut() -> Answer:
    """The mistake of the lesson before: tape stores no heat, and a circulator is no help without power."""
    scene = _scene()
    return Answer(
        "1. Both lines of the loop are taped, and the circulator runs all night. At two the power fails. What still protects the loop?",
        {
            "the tape": "You let the tape store heat. What does it give when its breaker is off?",
            "the moving water": "Who moves it? Look where the circulator gets its power.",
        },
        f"Nothing: tape and circulator stop together. With its foam the cold line can have ice after {duration(3600 * scene.cold_hours)}, "
        f"the hot line after {duration(3600 * scene.hot_hours)}. Draining needs no power, where the loop falls to a drain.",
    )


def bigger_pipe() -> Answer:
    """The flow comes from the heat, not from the pipe."""
    small, large = _scene(), _scene(pipe=("PEX CTS", "3/4 in"))
    return Answer(
        f"2. {_flow(small)} seems little for {show(rig()['heat'], 'large power', SI)}. You fit 3/4 in pipe. What does the flow do?",
        {
            "it grows": "You let the pipe decide. Which three numbers say how many litres must carry the heat?",
            "it grows until the pump is at its end": "The unit holds the temperature that it sends out. What would happen to that with more water?",
        },
        f"Nothing: {_flow(large)}. Heat and temperature rise decide. But the speed falls from {_speed(small.speed)} to "
        f"{_speed(large.speed)}, the loss grows from {100 * small.lost:.1f} to {100 * large.lost:.1f} %, and to carry air out it now takes "
        f"{both(Q_(large.least_flow, 'm**3/s').to('L/min'), 'flow')} instead of {both(Q_(small.least_flow, 'm**3/s').to('L/min'), 'flow')}. "
        "All that it buys is more time to ice: more water to cool.",
    )


def the_way_back() -> Answer:
    """A loop has two lines."""
    scene = _scene(bottom=FULL)
    length = both(rig()["length"], "length")
    return Answer(
        f"3. The tank is {length} away. The store is nearly full, its bottom at {both(FULL, 'temperature')}. You reckon {length} of hot "
        f"line: {scene.hot_loss:.0f} W. What does the loop lose?",
        {
            f"{scene.hot_loss:.0f} W": "You counted the way out. By which way does the water come back?",
            f"{2 * scene.hot_loss:.0f} W": "Two lines, yes. But are both as warm above the air?",
        },
        f"{scene.hot_loss + scene.cold_loss:.0f} W: the return line adds {scene.cold_loss:.0f} W, less than the hot line because it is "
        "cooler. Pipe, foam, tape and brackets are needed twice.",
    )


def hotter_store() -> Answer:
    """Each degree of the store costs electricity."""
    air = rig()["air"]
    found = store_cost(air, *STORES)
    return Answer(
        f"4. Air at {both(air, 'temperature')}. The same heat into a store at {both(STORES[1], 'temperature')} instead of "
        f"{both(STORES[0], 'temperature')}: how much more electricity?",
        {
            "none: the heat is the same": "You counted the heat. Where does the rest of it come from, and does the air give it as easily to "
                "hotter water?",
            "a fifth: 60 is a fifth more than 50": "You divided temperatures. From where must the heat be lifted?",
        },
        f"{100 * found.extra_electricity:.0f} %: COP {found.high_cop:.2f} instead of {found.low_cop:.2f}. That is the price of safety from "
        "bacteria, not a reason to store cooler: store hot and mix down at the taps.",
    )


def gurgling() -> Answer:
    """A slow loop cannot purge itself."""
    scene = _scene()
    return Answer(
        "5. The new loop gurgles. You let the circulator run all night to drive the air out. Does it?",
        {
            "yes, given time": "You counted hours. A bubble in a leg that falls rises against the water: which of the two is faster?",
            "yes, at the pump's highest step": "Which flow does the heat pump allow, and how fast is that in this pipe?",
        },
        f"No: {_speed(scene.speed)}, and it takes about {_speed(scene.carries_air)} to carry air down a leg (common practice, no source). "
        f"Purge each line cold, from house pressure, with {both(Q_(scene.least_flow, 'm**3/s').to('L/min'), 'flow')} or more, until the "
        "hose runs without bubbles; and nothing heats before that.",
    )


def by_hand() -> Told:
    """The loop on paper, in both sets of units, held against the panel."""
    loop, scene = rig(), _scene()
    run = run_of(loop)
    section = run.line.parts[0][1]
    hot, bottom, air, length = scene.store, scene.bottom, scene.air, loop["length"].magnitude
    entering = water(hot)
    per_litre = round(float(entering.density * water(0.5 * (hot + bottom)).heat_capacity) / 60_000, 1)  # [W per L/min and °C]
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
    stored = sum(loop_stored_heat(Q_(content, "m**3"), celsius(value), loop["air"]).magnitude for value in (hot, bottom))
    off = 100 * (sum(lines) / (scene.hot_loss + scene.cold_loss) - 1)
    return Told(
        f"**Metric.**\n\n* Flow: {scene.heat:.0f} W ÷ ({per_litre:.1f} × {hot - bottom:.0f} °C) = **{flow:.2f} L/min**, for one L/min "
        f"carries {per_litre:.1f} W for each °C; the panel says {scene.flow * 60_000:.1f} L/min.\n"
        f"* Speed: {flow:.2f} L/min through a bore of {bore:.1f} mm = **{speed:.2f} m/s**; the panel says {scene.speed:.2f} m/s.\n"
        f"* Loss, as in lesson 06, with ln(outer ÷ inner) = {log:.3f}: hot line {lines[0]} W, cold line {lines[1]} W, together "
        f"**{sum(lines)} W**, {100 * sum(lines) / scene.heat:.1f} % of the heat; the panel says {scene.hot_loss + scene.cold_loss:.0f} W.\n"
        f"* COP: {SHARE_OF_CARNOT} × ({hot + CONDENSER_STEP:.0f} + 273) ÷ ({hot + CONDENSER_STEP:.0f} − "
        f"({show(celsius(air - EVAPORATOR_STEP), 'temperature', SI).split()[0]})) = **{cop:.2f}**; the panel says {scene.cop:.2f}.\n\n"
        f"**US customary.**\n\n* Flow: {heat_us} Btu/h ÷ (500 × {rise_us} °F) = **{gpm:.2f} gpm**; the panel says "
        f"{Q_(scene.flow, 'm**3/s').to('gpm').magnitude:.2f} gpm.\n"
        f"* Speed: 0.409 × {gpm:.2f} ÷ {bore_us:.3f}² = **{0.4085 * gpm / bore_us**2:.1f} ft/s**; the panel says "
        f"{Q_(scene.speed, 'm/s').to('ft/s').magnitude:.1f} ft/s.\n"
        f"* COP: {SHARE_OF_CARNOT} × ({warm:.0f} + 460) ÷ ({warm:.0f} − "
        f"({show(celsius(air - EVAPORATOR_STEP), 'temperature', US).split()[0]})) = "
        f"**{SHARE_OF_CARNOT * (warm + 460) / (warm - frost):.2f}**.\n\n"
        f"By hand the loss comes out {off:.0f} % high: paper leaves out the films of water and air and the wall of the pipe.\n\n"
        f"**Each stop.** When the heat pump stops, the water in both lines cools: {stored:.0f} Wh each time, as much as the lines lose in "
        f"{60 * stored / (scene.hot_loss + scene.cold_loss):.0f} minutes of running. Many short runs cost more than one long one."
    )


def _line(section, inside: float, air: float, log: float) -> float:
    """Loss through the foam alone [W/m]. inside, air [degC]; log : of outer over inner diameter"""
    return 2 * np.pi * float(section.conductivity(0.5 * (inside + air))) * (inside - air) / log
