"""The words of lesson 08 whose numbers the library works out: its guess, its questions, its calculation by hand."""

import numpy as np

from ..circuit import tape_circuit
from ..display import SI, both, celsius, duration, show
from ..nights import season_energy
from ..panels.controls import Slide
from ..panels.guess import Guess
from ..panels.heat_tape import CIRCUITS, HOLD, TIES, calculate, cabin, runs_of, tape_of
from ..panels.pages import Answer, Told
from ..units import Q_
from ..weather import Weather

GAP = Q_(0.3, "m")
HELD = {"thermostat": "at 5 °C (41 °F)"}
SHOWN = {"length": "length", "air": "temperature", "wind": "wind", "thickness": "thickness"}
EVENING, SPRING = Q_(0.0, "degC"), Q_(10.0, "degC")


def _scene(**changes):
    """What the panel shows of the run that it opens on, with some settings changed."""
    return calculate({**cabin(), **changes})


def _after(hours: float) -> str:
    return duration(3600 * hours)


def guess() -> Guess:
    """How much covered pipe needs as much heat as a bare piece?"""
    run = cabin()

    def question(system: str) -> str:
        shown = {name: show(run[name], kind, system) for name, kind in SHOWN.items()}
        return (
            f"At Tern Bank (invented) {shown['length']} of {' '.join(reversed(run['pipe']))} lie outdoors under {shown['thickness']} of "
            f"foam, at {shown['air']} in wind of {shown['wind']}. Tape holds it at {show(HOLD, 'temperature', system)}; at one valve "
            f"{show(GAP, 'length', system)} stayed bare. How much covered pipe needs as many watts as that piece?"
        )

    slide = Slide("My guess", "length", Q_(0.5, "m"), (0, 15, 0.1), (0, 50, 0.5), "length of covered pipe")
    return Guess("08", question, slide, lambda: Q_(_scene(gap=GAP).worth, "m"))


def twice_the_foam() -> Answer:
    """The mistake of the lesson before: twice the foam is not twice the time to ice."""
    once, twice = (_scene(thickness=cabin()["thickness"] * factor, **HELD).hours for factor in (1, 2))
    return Answer(
        f"1. The tape held the cabin's run at {both(celsius(5.0), 'temperature')} when the power failed; ice can form after {_after(once)}. "
        "How long with foam twice as thick?",
        {
            "twice as long": "You doubled the time with the thickness. The outer layer of foam is a wider ring: is it as hard to cross as "
                "the inner one?",
            "until the power is back": "You let the tape go on. What is left to keep the pipe warm once it is dead?",
        },
        f"{_after(twice)}: {twice / once:.1f} times as long. Each further layer is a wider ring and easier to cross. Foam only delays ice.",
    )


def ninety_metres() -> Answer:
    """A breaker's rating is not what it may carry for hours."""
    volts, amps = CIRCUITS["120 V, 15 A"]
    power, length = Q_(16.0, "W/m"), Q_(90.0, "m")
    found = tape_circuit(power, length, volts, amps)
    watts = (power * length).to("W").magnitude
    return Answer(
        f"2. {both(length, 'length')} of tape at {both(power, 'tape power')} on one {volts.magnitude:g} V circuit with a {amps.magnitude:g} "
        "A breaker: how many amperes are to spare?",
        {
            f"{amps.magnitude - found.load.magnitude:.0f} A": "You took the number on the breaker for what it may carry all night. How long "
                "does tape stay on in frost?",
            "plenty: it is only a cable": "Add up the watts of all its metres first. What current is that?",
        },
        f"None. {length.magnitude:g} × {power.magnitude:g} = {watts:.0f} W; {watts:.0f} ÷ {volts.magnitude:g} = {found.load.magnitude:.0f} "
        f"A. Tape is a continuous load: 125 % of it, {found.least_rating.magnitude:.0f} A, must fit the breaker, so {amps.magnitude:g} A "
        f"carries {found.continuous_limit.magnitude:.0f} A for hours. It is at its limit, and self-regulating tape starts cold with more. "
        "An electrician decides.",
    )


def power_fails() -> Answer:
    """Tape stores no heat."""
    scene = _scene()
    return Answer(
        "3. The tape was on all evening. At ten the power fails, at six it is back. Did the cabin's run come through?",
        {
            "yes, the tape had warmed it": f"You let the tape store heat. The pipe stood at {both(celsius(scene.covered), 'temperature')}: "
                "how much heat is that, against eight hours of loss?",
            "yes, the circulator keeps the water moving": "Which socket does the circulator hang on?",
        },
        f"No: ice can form after {_after(scene.hours)}. Tape stores no heat, only the water and the pipe do; tape and circulator stop "
        "together. For a cut as long as a night there are two ways: power from elsewhere, or a drained pipe.",
    )


def silent() -> Answer:
    """A tripped protective device is a power cut that nobody notices."""
    return Answer(
        "4. On a mild Tuesday the ground-fault device of the tape trips. The frost comes on Saturday. What tells you in between?",
        {
            "the light goes out": "Is a lamp on that circuit? Many tapes have a circuit to themselves. Who walks past it at night?",
            "it switches itself on again": "You gave it a will of its own. What must somebody do before it closes again, and find out first?",
        },
        f"Nothing. In mild air a dead tape looks like a live one, and on Saturday the run has {_after(_scene(**HELD).hours)} from "
        f"{both(celsius(5.0), 'temperature')} to the first ice. So: test the device and see that the tape takes current before each frost. "
        "A device that trips again says that tape, joint or end is wet or cut: an electrician, not a stronger breaker.",
    )


def more_watts_or_foam() -> Answer:
    """A gap is closed with insulation, not with watts."""
    wanted = runs_of(cabin())[1].hold_power(HOLD)
    strong = tape_of("self-regulating, strong").power(HOLD)
    return Answer(
        "5. A bare valve in the cabin's run froze although its tape was on. Do you fit stronger tape?",
        {"yes": "You fought the wind with watts. How many does one bare metre need here, and what does the strongest tape give?"},
        f"No: bare, it needs {both(wanted, 'tape power')} to stay at {both(HOLD, 'temperature')}; the strong tape gives "
        f"{both(strong, 'tape power')}, and all the covered metres would take its watts too. Cover the valve, with what the tape's maker "
        "lists, and lay the extra tape that his sheet asks for at a valve.",
    )


def by_hand() -> Told:
    """The cabin's tape on paper, in both sets of units, held against the panel."""
    settings, scene = cabin(), _scene()
    run, _ = runs_of(settings)
    section = run.line.parts[0][1]
    hold, air = HOLD.magnitude, settings["air"].magnitude
    k = Q_(float(section.conductivity(0.5 * (hold + air))), "W/(m*K)")
    pipe, bore, outer = (1000 * value for value in (section.outside_diameter, section.insulation_bore, section.outside_of_insulation))
    log = round(float(np.log(outer / bore)), 3)
    difference, length = hold - air, settings["length"]
    loss = round(2 * np.pi * k.magnitude * difference / log, 2)
    tape = tape_of(settings["tape"])
    gives = round(float(tape.available(hold)), 1)
    volts, _ = CIRCUITS[settings["circuit"]]
    amps = gives * length.magnitude / volts.magnitude
    inches = round(k.to("Btu*inch/(hour*ft**2*delta_degF)").magnitude, 3)
    feet, fahrenheit = round(length.to("ft").magnitude), round(1.8 * difference)
    per_foot = round(2 * np.pi * inches * fahrenheit / (12 * log * 3.412), 2)
    gives_us = round(Q_(gives, "W/m").to("W/ft").magnitude, 2)
    millimetres = {"pipe": pipe, "tape": 1000 * scene.tape_thickness, "bore": bore, "outer": outer}
    inch = {name: value / 25.4 for name, value in millimetres.items()}
    model = Q_(scene.needed, "W/m")
    night = season_energy(run, Weather.day_and_night(settings["air"], EVENING, wind=settings["wind"]), Q_(5.0, "degC"))
    return Told(
        f"**Metric.**\n\n* Bore: {pipe:.1f} (pipe) + {1000 * scene.tape_thickness:.0f} (tape) + 2 × {TIES.magnitude:.0f} (ties) = "
        f"**{bore:.1f} mm**; the panel says {1000 * scene.insulation_bore:.1f} mm. Foam of {settings['thickness'].magnitude:.0f} mm over "
        f"it: {outer:.1f} mm across, ln({outer:.1f} ÷ {bore:.1f}) = {log:.3f}.\n"
        f"* To hold {hold:.0f} °C at {show(settings['air'], 'temperature', SI)} with k = {k.magnitude:.4f} W/(m K): 2π × {k.magnitude:.4f} "
        f"× {difference:.0f} ÷ {log:.3f} = {loss:.2f} W/m; with 15 % to spare **{1.15 * loss:.2f} W/m**; the panel says "
        f"{model.magnitude:.1f} W/m.\n"
        f"* Current at {gives:.1f} W/m: {gives:.1f} × {length.magnitude:g} ÷ {volts.magnitude:g} = **{amps:.2f} A**, for cable and breaker "
        f"1.25 × {amps:.2f} = {1.25 * amps:.2f} A; the panel says {scene.load:.1f} A.\n\n"
        f"**US customary.**\n\n* Bore: {inch['pipe']:.3f} + {inch['tape']:.3f} + 2 × 0.039 = **{inch['bore']:.2f} in**; foam to {inch['outer']:.2f} "
        "in, the same logarithm.\n"
        f"* k = {inches:.3f} Btu in/(h ft² °F), difference {fahrenheit} °F: 2π × {inches:.3f} × {fahrenheit} ÷ (12 × {log:.3f}) Btu/h for "
        f"each foot, ÷ 3.412 = {per_foot:.2f} W/ft; with 15 % to spare **{1.15 * per_foot:.2f} W/ft**; the panel says "
        f"{model.to('W/ft').magnitude:.1f} W/ft.\n"
        f"* Current at {gives_us:.2f} W/ft: {gives_us:.2f} × {feet} ÷ {volts.magnitude:g} = **{gives_us * feet / volts.magnitude:.2f} "
        "A**.\n\n"
        f"By hand the heat comes out {100 * (1.15 * loss / model.magnitude - 1):.0f} % high: paper counts the foam only, the panel also the "
        "film of air outside.\n\n"
        f"**A night.** From {both(EVENING, 'temperature')} in the evening down to {both(settings['air'], 'temperature')}, 14 h, with a "
        f"thermostat at {both(celsius(5.0), 'temperature')}, the run takes at least {night.magnitude:.2f} kWh; a hundred such nights "
        f"{100 * night.magnitude:.0f} kWh, times your price. Without thermostat it takes {scene.always_on:.1f} kWh in 24 h at "
        f"{both(settings['air'], 'temperature')}, and in spring, at {both(SPRING, 'temperature')}, still {_scene(air=SPRING).always_on:.1f} "
        "kWh."
    )
