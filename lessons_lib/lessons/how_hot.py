"""The words of lesson 02 whose numbers the library works out: its guess, its questions, its calculation by hand."""

import numpy as np

from ..display import SI, both, burns, duration, show
from ..insulation import NONE
from ..physics.properties import water
from ..scald import time_to_burn
from ..units import Q_
from ..panels.guess import Guess, guess_temperature
from ..panels.pages import Answer, Told
from ..panels.usual import run_of, tern_bank_runs

SHOWN = {"length": "length", "air": "temperature", "wind": "wind", "supply": "temperature"}
TRICKLE = Q_(1.0, "L/min")


def _cabin(**changes):
    """Settings of the run that the panel opens on, with some of them changed."""
    return {**next(iter(tern_bank_runs().values())), **changes}


def _tap(**changes):
    settings = _cabin(**changes)
    return run_of(settings).delivery_temperature(settings["supply"], settings["flow"])


def _drop(**changes):
    """How much the water cools on its way, in both systems."""
    settings = _cabin(**changes)
    return both(Q_((settings["supply"] - _tap(**changes)).magnitude, "delta_degC"), "temperature drop")


def _hours_to_ice(start=None, **changes) -> float:
    settings = _cabin(**changes)
    begin = settings["cold"] if start is None else start
    return run_of(settings).freezing(begin).hours_to_zero.magnitude


def _bare_trickle():
    """What arrives with the foam gone and the tap nearly shut."""
    return _tap(insulation=NONE, flow=TRICKLE)


def guess() -> Guess:
    """What arrives at the cabin's tap, bare and at a trickle?"""
    cabin = _cabin()

    def question(system: str) -> str:
        shown = {name: show(cabin[name], kind, system) for name, kind in SHOWN.items()}
        # In hundredths: rounded up to 0.3 gpm it would arrive 5 °F warmer.
        flow = show(TRICKLE, "flow", SI) if system == SI else f"{TRICKLE.to('gpm').magnitude:.2f} gpm"
        return (
            f"At Tern Bank (an invented training yard) {shown['length']} of {' '.join(reversed(cabin['pipe']))} crosses the yard "
            f"to the bunk cabin, at {shown['air']} in wind of {shown['wind']}. Somebody took the foam off. "
            f"Water leaves the tank at {shown['supply']}; the tap runs at {flow}. How warm is it there?"
        )

    return guess_temperature("02", question, _bare_trickle)


def before_the_valve() -> Answer:
    """The mistake of the lesson before: a valve protects only what comes after it."""
    tank, valve = _cabin()["supply"], Q_(46.0, "degC")
    burn = time_to_burn(tank)
    return Answer(
        f"1. Tank at {both(tank, 'temperature')}; down the line a mixing valve, which blends cold water in, at "
        f"{both(valve, 'temperature')}; one tap between them. How hot is its water?",
        {
            both(valve, "temperature"): "You gave it the valve's setting. Walk along the pipe from the tank: which do you meet first, the tap or the valve?",
            "somewhere between": "You mixed the two in your head. Where does the cold water come in: before this tap or after it?",
        },
        f"It gets the tank's water, {both(tank, 'temperature')} less the little that the pipe loses. For an adult's skin: "
        f"{burns(burn.seconds.magnitude, burn.bound)}. A valve protects every tap after it and none before it.",
    )


def half_the_flow() -> Answer:
    """The drop doubles when the flow halves."""
    full = _cabin()["flow"]
    return Answer(
        f"2. At {both(full, 'flow')} the water cools by {_drop()}. You close the tap to half that flow. How much does it cool now?",
        {
            "just as much": "You thought that the drop belongs to the pipe. The pipe gives off the same heat every second: but out of how much water?",
            "half as much": "You thought that less water loses less. How long is each litre now in the pipe?",
        },
        f"By {_drop(flow=full / 2)}: about twice as much. The pipe loses nearly the same heat each second, out of half the water.",
    )


def double_the_foam() -> Answer:
    """Twice the foam is not twice the time to ice."""
    cabin = _cabin()
    once, twice = (duration(3600 * _hours_to_ice(thickness=cabin["thickness"] * factor)) for factor in (1, 2))
    bigger = duration(3600 * _hours_to_ice(pipe=(cabin["pipe"][0], "1 in")))
    return Answer(
        f"3. Standing from the cold inlet, the cabin's run can have ice after {once}. How long with foam twice as thick?",
        {
            "twice as long": "You doubled the time with the thickness. Draw the ring: is the outer layer of foam as hard to cross as the inner one?",
            "no longer, foam does not heat": "Right that it does not heat. But what does it do to the heat that is there?",
        },
        f"{twice}. Each further layer is a wider ring, and heat crosses a wide ring more easily than a narrow one. One pipe size up (1 in), "
        f"with the foam as it was, gives {bigger}: more water to cool. Neither stops ice; both only delay it.",
    )


def ten_degrees() -> Answer:
    """A difference is not a temperature."""
    drop = Q_(10.0, "delta_degC")
    return Answer(
        "4. Water cools by 10 °C on its way. How much is that in °F?",
        {"50 °F": "You turned it into a temperature: 10 °C on a thermometer is 50 °F. But how far apart are 50 °C and 60 °C in °F?"},
        f"{drop.to('delta_degF').magnitude:.0f} °F. A difference takes the 1.8 only; the 32 is for the place on the scale.",
    )


def cold_start() -> Answer:
    """A pipe that stood cold freezes sooner."""
    cabin = _cabin()
    cold, hot = _hours_to_ice(), _hours_to_ice(start=cabin["supply"])
    return Answer(
        "5. Two nights, same frost. On one the cabin's run was just used; on the other nobody drew hot water all day. "
        "Which one freezes first, and how many times sooner?",
        {
            "the hot one": "You may have heard that hot water freezes first. Follow both curves on the panel: can the hot one reach the freezing point without passing where the cold one starts?",
            "both the same": "You looked at the frost only. What has to leave the water before the first ice?",
        },
        f"The one that stood cold: ice can form after {duration(3600 * cold)}, against {duration(3600 * hot)} from hot: "
        f"{hot / cold:.1f} times sooner. That is why the panel's verdict starts from the cold inlet.",
    )


def by_hand() -> Told:
    """The cabin's run on paper, in both sets of units, held against the model."""
    cabin = _cabin()
    run, hot, air = run_of(cabin), cabin["supply"], cabin["air"]
    section = run.line.parts[0][1]
    inner, outer = Q_(section.insulation_bore, "m"), Q_(section.outside_of_insulation, "m")
    mean = 0.5 * (hot.to("degC").magnitude + air.to("degC").magnitude)
    k = Q_(float(section.conductivity(mean)), "W/(m*K)")
    difference = Q_(hot.to("degC").magnitude - air.to("degC").magnitude, "delta_degC")
    log = float(np.log(outer.magnitude / inner.magnitude))
    loss = round(float((2 * np.pi * k * Q_(difference.magnitude, "K") / log).to("W/m").magnitude), 1)
    whole = round(loss * cabin["length"].magnitude)
    flow = cabin["flow"]
    entering = water(hot.to("degC").magnitude)
    per_litre = round(float(entering.density * entering.heat_capacity) / 60_000, 1)  # [W per L/min and °C]
    inches = round(k.to("Btu*inch/(hour*ft**2*delta_degF)").magnitude, 3)
    fahrenheit, feet = round(difference.to("delta_degF").magnitude), round(cabin["length"].to("ft").magnitude)
    per_foot, gpm = round(2 * np.pi * inches * fahrenheit / (12 * round(log, 3)), 1), round(flow.to("gpm").magnitude, 1)
    btu = round(per_foot * feet)
    model, drop = run.heat_loss(hot, flow), Q_((hot - _tap()).magnitude, "delta_degC")
    return Told(
        f"**Metric.** Foam conductivity at the mean temperature ({mean:.0f} °C): k = {k.magnitude:.4f} W/(m K). "
        f"Diameters {outer.to('mm').magnitude:.1f} and {inner.to('mm').magnitude:.1f} mm, so ln(outer/inner) = {log:.3f}.\n\n"
        f"* Loss per metre = 2π × {k.magnitude:.4f} × {difference.magnitude:.0f} ÷ {log:.3f} = **{loss:.1f} W/m**; "
        f"the panel says {model.magnitude:.1f} W/m.\n"
        f"* Whole run: {loss:.1f} × {cabin['length'].magnitude:g} = {whole} W.\n"
        f"* One litre a minute carries {per_litre:.1f} W for each °C (at {hot.magnitude:.0f} °C). "
        f"Drop = {whole} ÷ ({per_litre:.1f} × {flow.magnitude:g}) = **{whole / (per_litre * flow.magnitude):.1f} °C**; "
        f"the panel says {drop.magnitude:.1f} °C.\n\n"
        f"**US customary.** k = {inches:.3f} Btu in/(h ft² °F), the difference is {fahrenheit} °F.\n\n"
        f"* Loss per foot = 2π × {inches:.3f} × {fahrenheit} ÷ (12 × {log:.3f}) = **{per_foot:.1f} Btu/h ft**; "
        f"the panel says {model.to('Btu/(hour*ft)').magnitude:.1f}.\n"
        f"* Whole run: {per_foot:.1f} × {feet} = {btu} Btu/h.\n"
        f"* One gpm carries about 500 Btu/h for each °F. Drop = {btu} ÷ (500 × {gpm:.1f}) = **{btu / (500 * gpm):.1f} °F**; "
        f"the panel says {drop.to('delta_degF').magnitude:.1f} °F.\n\n"
        f"By hand the loss comes out {100 * (loss / model.magnitude - 1):.0f} % high: paper counts the foam only; "
        "the model adds the film of air outside and the film of water inside."
    )
