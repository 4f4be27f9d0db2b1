"""The words of lesson 04 whose numbers the library works out: its guess, its questions, its calculation by hand."""

import numpy as np

from ..display import both, show, stopwatch
from ..draws import CAUTION as DRAW_CAUTION
from ..flow import CAUTION, SPEED_CAUTION, hazen_williams, pressure_drop, speed_limit
from ..insulation import Insulation
from ..panels.controls import Slide
from ..panels.guess import Guess
from ..panels.pages import Answer, Told
from ..panels.pipe_size import ROOM, calculate, every_size, taps
from ..pipe import Pipe
from ..run import Run
from ..surroundings import Surroundings
from ..units import Q_

BATH = "Cabin bath across the yard"
DOWN = "1/2 in"  # one size down from the bath's


def _bath(**changes):
    """The cabin bath's settings, with some of them changed."""
    return {**taps()[BATH], **changes}


def _smaller():
    return _bath(pipe=(_bath()["pipe"][0], DOWN))


def _run():
    bath = _bath()
    sizes = every_size(bath["pipe"][0], bath["length"].magnitude, round(bath["elbows"].magnitude), bath["outlet"])
    return next(run for run in sizes.runs if run.pipe.name == " ".join(bath["pipe"]))


def _flow(value: float) -> str:
    return both(Q_(value, "m**3/s"), "flow")


def _lost(value: float) -> str:
    return both(Q_(value, "Pa"), "pressure drop")


def _ratio():
    """How many times as much pressure the smaller pipe loses at the flow wanted."""
    bath = _bath()
    lost = [
        pressure_drop(Pipe.nominal(*settings["pipe"]), bath["length"], [("elbow 90", round(bath["elbows"].magnitude))], bath["wanted"], bath["supply"])
        for settings in (_smaller(), bath)
    ]
    return (lost[0] / lost[1]).to("dimensionless")


def guess() -> Guess:
    """One size down at the same flow: how many times the pressure?"""
    bath = _bath()

    def question(system: str) -> str:
        length, wanted = (show(bath[name], kind, system) for name, kind in (("length", "length"), ("wanted", "flow")))
        return (
            f"Tern Bank's bath (invented): {length} of {' '.join(reversed(bath['pipe']))}. At {wanted} some pressure is lost on the way. "
            f"In {DOWN}, at the same flow, how many times as much?"
        )

    return Guess("04", question, Slide("My guess", "ratio", Q_(2.0, ""), (1, 20, 0.5), (1, 20, 0.5), "what you expect"), _ratio)


def foam_in_the_morning() -> Answer:
    """The mistake of the lesson before: foam shortens the first draw."""
    bath, run = _bath(), _run()
    thick = Run(run.pipe, run.length, Insulation("elastomeric foam", Q_(25, "mm")), Surroundings(ROOM))
    now, smaller = calculate(bath), calculate(_smaller())
    wait = thick.first_draw(bath["supply"], bath["wanted"], ROOM).wait.magnitude
    return Answer(
        f"1. The bath waits {stopwatch(now.waits[now.chosen])} every morning under 13 mm (1/2 in) of foam. "
        "Somebody offers 25 mm (1 in). How long does it wait then?",
        {
            "about half": "You gave foam a night's work. How warm is the pipe eight hours after the last draw, under any foam?",
            "a few seconds less": "While hot water runs in, how much heat can it lose through the foam in one minute?",
        },
        f"{stopwatch(wait)}. Foam keeps heat; in the morning there is none to keep. One pipe size down: {stopwatch(smaller.waits[smaller.chosen])}.",
    )


def tap_wide_open() -> Answer:
    """On a given pressure the wait grows less than the area."""
    now, small = calculate(_bath()), calculate(_smaller())
    areas = (now.bores[now.chosen] / now.bores[small.chosen]) ** 2
    waits = now.waits_open[small.chosen], now.waits_open[now.chosen]
    return Answer(
        f"2. {now.names[now.chosen]} has {areas:.1f} times the area of {DOWN}. With the tap wide open, how many times as long is its wait?",
        {
            f"{areas:.1f} times": "You kept the flow the same. Who sets it, with the tap wide open?",
            "no longer": "You let the bigger pipe flow as much more as it holds more. What else limits the flow, beside the pipe?",
        },
        f"{waits[1] / waits[0]:.1f} times: {stopwatch(waits[1])} against {stopwatch(waits[0])}. The bigger pipe passes {_flow(now.wide[now.chosen])} "
        f"instead of {_flow(now.wide[small.chosen])}; the tap itself allows no more.",
    )


def gauge_at_rest() -> Answer:
    """A gauge on still water says nothing of friction."""
    now = calculate(_bath())
    return Answer(
        f"3. A gauge beside the bath reads {both(Q_(now.pressure - now.lift, 'Pa'), 'pressure')} with every tap shut. Is that enough to know that the bath fills well?",
        {
            "yes, that is plenty": "You read a still gauge. Where was the water moving, and what uses pressure up only when it moves?",
            "no, height was forgotten": "The gauge stands at the bath: is the height not in its reading already?",
        },
        f"No. Still water loses nothing on the way. A half-shut stop valve or a far too small pipe reads the same at rest. Open the tap: at "
        f"{_flow(now.drawn)} the way takes {_lost(now.lost)} here. Read while it flows, and time a bucket.",
    )


def height_or_length() -> Answer:
    """Four metres up cost more than thirty along."""
    now = calculate(_bath())
    return Answer(
        f"4. At {_flow(now.wanted)}, which takes more pressure: {both(Q_(now.height, 'm'), 'length')} up, or {both(_bath()['length'], 'length')} along with its elbows?",
        {
            "the length": "You compared metres with metres. What does each metre up cost, and what does each metre along, in this pipe?",
            "the same": "One of the two depends on the pipe's size. Which?",
        },
        f"The height: {_lost(now.lift)}, against {_lost(now.lost)} along the way. Height costs the same in any pipe and at any flow; friction depends on both.",
    )


def hotter_copper() -> Answer:
    """The speed limit of copper falls with temperature."""
    pipe, hot = Pipe.nominal(*_smaller()["pipe"]), Q_(65.0, "degC")
    small = calculate(_smaller())
    limits = [speed_limit(pipe, water) for water in (_bath()["supply"], hot)]
    shown = [both(value, "speed") for value in (limits[0].high, limits[1].low, limits[1].high)]
    fast = both(Q_(small.speeds[small.chosen], "m/s"), "speed")
    return Answer(
        f"5. In {DOWN} copper the bath's water runs at {fast}, under the limit of {shown[0]}. The tank goes up to {both(hot, 'temperature')}. Still right?",
        {
            "yes, same pipe, same speed": "You took the limit for the pipe's alone. What does hotter water do to copper at each elbow?",
            "yes, hot water is thinner": "It is, and loses less pressure. But is pressure what wears the elbow?",
        },
        f"No. For copper routinely above 60 °C (140 °F) the Copper Tube Handbook asks for {shown[1]} to {shown[2]}. Then the larger pipe is right, and its wait is the price.",
    )


def by_hand() -> Told:
    """The bath's pressure on paper, in both sets of units, held against the model."""
    bath, scene = _bath(), calculate(_bath())
    pipe, elbows = Pipe.nominal(*bath["pipe"]), round(bath["elbows"].magnitude)
    bore, metres, flow = round(pipe.inside_diameter.to("mm").magnitude, 1), bath["length"].magnitude, bath["wanted"].magnitude
    extra = round(30 * elbows * bore / 1000, 1)
    each = round(hazen_williams(pipe, Q_(1, "m"), bath["wanted"]).to("kPa").magnitude, 2)
    lost, lift = round(each * (metres + extra), 1), round(9.81 * bath["height"].magnitude)
    main = round(scene.pressure / 1000)
    inches, feet, gpm = round(pipe.inside_diameter.to("in").magnitude, 3), round(bath["length"].to("ft").magnitude), round(bath["wanted"].to("gpm").magnitude, 2)
    more = round(30 * elbows * inches / 12, 1)
    per_foot = round(4.52 * gpm**1.85 / (150**1.85 * inches**4.87), 4)
    psi, up, start = round(per_foot * (feet + more), 2), round(0.433 * bath["height"].to("ft").magnitude, 1), round(scene.pressure / 6894.757)
    litres = round(np.pi / 4 * (bore / 100) ** 2 * 10 * metres, 1)
    return Told(
        f"**Metric.** Bore {bore:.1f} mm; {metres:g} m and {elbows} elbows of 30 bores each: {extra:.1f} m more.\n\n"
        f"* Friction, Hazen-Williams with C = 150: 6.05 × 10⁷ × {flow:g}^1.85 ÷ (150^1.85 × {bore:.1f}^4.87) = {each:.2f} kPa for each metre.\n"
        f"* On the way: {each:.2f} × ({metres:g} + {extra:.1f}) = **{lost:.1f} kPa**; the panel says {scene.lost / 1000:.1f} kPa.\n"
        f"* Height: 9.81 × {bath['height'].magnitude:g} = {lift} kPa. Left for the tap: {main} − {lift} − {lost:.1f} = **{main - lift - lost:.0f} kPa**; "
        f"the panel says {scene.left / 1000:.0f} kPa.\n"
        f"* Content in litres, cubes of 1 dm (10 cm): π/4 × {bore / 100:.3f}² × {10 * metres:g} = {litres:.1f} L; one pipe-full at {flow:g} L/min takes {60 * litres / flow:.0f} s. "
        f"The wall makes it {scene.waits[scene.chosen]:.0f} s (lesson 03).\n\n"
        f"**US customary.** Bore {inches:.3f} in; {feet} ft and {more:.1f} ft for the elbows; {gpm:.2f} gpm.\n\n"
        f"* Friction: 4.52 × {gpm:.2f}^1.85 ÷ (150^1.85 × {inches:.3f}^4.87) = {per_foot:.4f} psi for each foot.\n"
        f"* On the way: {per_foot:.4f} × ({feet} + {more:.1f}) = **{psi:.2f} psi**; the panel says {scene.lost / 6894.757:.2f} psi.\n"
        f"* Height: 0.433 × {bath['height'].to('ft').magnitude:.0f} = {up:.1f} psi. Left: {start} − {up:.1f} − {psi:.2f} = **{start - up - psi:.0f} psi**.\n\n"
        f"By hand the way takes {100 * (1000 * lost / scene.lost - 1):.0f} % more: the hand rule was fitted to cold water and knows no temperature. "
        "Hot water is thinner and loses less. On the safe side, then; but only for hot water."
    )


def cautions() -> Told:
    """What the library says beside every flow, speed and wait."""
    return Told("\n".join(f"* {text}" for text in (CAUTION, f"The speed limit: {SPEED_CAUTION[0].lower()}{SPEED_CAUTION[1:]}", DRAW_CAUTION)))
