"""The words of lesson 05 whose numbers the library works out: its guess, its questions, its calculation by hand."""

from math import log

from ..closed_system import pipe_growth
from ..display import SI, US, both, show, sixteenths
from ..laying import fall
from ..panels.controls import Slide
from ..panels.guess import Guess
from ..panels.measure_cut import STOCKS, WARMER, calculate, tern_bank_pieces
from ..panels.pages import Answer, Told
from ..physics.tank import ATMOSPHERE, compressibility
from ..pipe import Pipe
from ..take_off import End, cut_length, cutting_list
from ..units import Q_

NINE = {SI: "Nine pieces of 1 m from 3 m bars", US: "Nine pieces of 40 in from 10 ft bars"}
PIPE = Pipe.nominal("copper L", "1/2 in")


def _measured():
    """Settings of the practice wall, measured (Tern Bank, invented)."""
    return tern_bank_pieces()["Practice wall, measured"]


def _bars(system: str, **changes) -> int:
    settings = {**tern_bank_pieces()[NINE[system]], **changes}
    cuts = [(settings["centres"], round(settings["pieces"].magnitude))]
    return cutting_list(cuts, STOCKS[settings["stock"]], settings["kerf"], settings["spare"].to("").magnitude).bars_to_buy


def guess() -> Guess:
    """How many bars for nine pieces, three of which are as long as a bar?"""

    def question(system: str) -> str:
        settings = tern_bank_pieces()[NINE[system]]
        return (
            f"Tern Bank (an invented training yard) needs nine plain pieces of pipe, each {show(settings['centres'], 'cut', system)}, cut with a saw "
            f"that takes {show(settings['kerf'], 'cut', system)} each time. Pipe comes in bars of {settings['stock']}. How many bars do you buy?"
        )

    return Guess("05", question, Slide("My guess", "count", Q_(6, ""), (1, 12, 1), (1, 12, 1), "bars to buy"), lambda: Q_(_bars(SI), ""))


def size_up() -> Answer:
    """The mistake of the lesson before: sizes compared by their names."""
    small, large = (Pipe.nominal("copper L", size).inside_diameter.to("mm").magnitude for size in ("1/2 in", "3/4 in"))
    return Answer(
        "1. You change a run from 1/2 in to 3/4 in copper L. The tap's flow stays the same. How much longer until the water that stood in it has run out?",
        {
            "1.5 times": "You divided the names. Is the bore of a pipe its name? And is it the width or the area that holds water?",
            "just as long": "You looked at the flow only. How much water stands in each pipe?",
        },
        f"{(large / small) ** 2:.1f} times. The bores are {both(Q_(small, 'mm'), 'diameter')} and {both(Q_(large, 'mm'), 'diameter')}; "
        f"water fills an area, so ({large:.1f} ÷ {small:.1f})² counts.",
    )


def cut_it() -> Answer:
    """Centre to centre, less centre to face, plus depth."""
    centres, face, depth = Q_(1200, "mm"), Q_(36, "mm"), Q_(25, "mm")
    end = End("elbow 90", "push", face, depth)
    right = cut_length(PIPE, centres, end, end).length
    forgotten, subtracted = right - 2 * depth, right - 4 * depth
    return Answer(
        f"2. Two elbows, {both(centres, 'cut')} centre to centre. You measured {both(face, 'cut')} centre to face and "
        f"{both(depth, 'cut')} depth on each. How long is the piece?",
        {
            both(forgotten, "cut"): "You stopped at the faces. What holds a pipe that only touches the fitting's face?",
            both(subtracted, "cut"): "You took the depth off as well. Does the pipe inside the fitting make the piece longer or shorter?",
            both(centres, "cut"): "You cut from centre to centre. Can two pipes share the middle of one elbow?",
        },
        f"{both(right, 'cut')}: {centres.magnitude:g} − {face.magnitude:g} − {face.magnitude:g} + {depth.magnitude:g} + {depth.magnitude:g} mm. "
        "Take off to the faces, then give back what goes inside.",
    )


def hot_plastic() -> Answer:
    """Plastic grows several times as much as copper."""
    length = Q_(6, "m")
    grown = {material: pipe_growth(material, length, WARMER) for material in ("copper", "PEX", "CPVC")}
    warmer = both(WARMER, "temperature difference")
    return Answer(
        f"3. {both(length, 'length')} of pipe, fitted cold, carries water {warmer} warmer. How much longer does copper get, and how much PEX?",
        {
            "the same": "You thought of the heat only. What else decides how far a rod grows?",
            "nothing, the clips hold it": "You thought that clips are stronger. Where does the pipe go that wants to be longer between two tight clips?",
        },
        f"Copper {both(grown['copper'], 'diameter')}, CPVC {both(grown['CPVC'], 'diameter')}, PEX {both(grown['PEX'], 'diameter')}: "
        f"PEX {grown['PEX'].magnitude / grown['copper'].magnitude:.0f} times as much as copper. Leave room at elbows; clip so that it slides.",
    )


def air_test() -> Answer:
    """Compressed air stores far more energy than water at the same pressure."""
    pressure = Q_(600.0, "kPa")
    gauge = pressure.to("Pa").magnitude
    whole = gauge + ATMOSPHERE
    air = whole * log(whole / ATMOSPHERE) - gauge  # [J/m3] slow expansion to the air outside, less the work of pushing that away
    water = 0.5 * float(compressibility(15.0)) * gauge**2
    return Answer(
        f"4. A helper wants to test plastic pipe with air at {both(pressure, 'pressure')}: \"no water on the floor\". What do you say?",
        {
            "fine, air finds leaks sooner": "You thought of the leak. What happens if a joint lets go: where does the energy go that is stored in the pipe?",
            "fine at low pressure": "You are on the way. How much energy sits in a litre of air, compared with a litre of water at that pressure?",
        },
        f"No. At this pressure air stores roughly {round(air / water, -3):.0f} times the energy of the same volume of water: a joint that lets go "
        "flies, and plastic breaks into splinters. Water, its air bled out, has lost its pressure with the first drops. Test bare pipe with water, "
        "as its maker and local code say.",
    )


def falls_to_the_drain() -> Answer:
    """A pipe that must drain falls all the way."""
    length = Q_(12, "m")
    return Answer(
        f"5. {both(length, 'length')} of pipe through a cold crawlspace must drain by itself. How much lower is the drain end?",
        {
            "level is enough, open a tap": "You thought that air at the tap pushes the water out. Which way does water run in a level pipe with a sag?",
            "lower at the end only": "You thought of the last metre. What stays behind a clip that is too high?",
        },
        f"{both(fall(length).to('mm'), 'cut')} at about 10 mm in a metre, 1/8 in in a foot (common practice, no source), and falling all the way. "
        "Valves and exchangers still hold water: they need a drain of their own.",
    )


def by_hand() -> Told:
    """The practice wall on paper, in both sets of units, held against the panel."""
    settings = _measured()
    scene = calculate(settings)
    centres, face, depth, other = (settings[name].to("mm").magnitude for name in ("centres", "first_face", "depth", "other_centres"))
    a, b = (length - 2 * face + 2 * depth for length in (centres, other))
    stock, kerf = 1000 * scene.stock, 1000 * scene.kerf
    counts = [count for _, count in scene.pieces]
    total = counts[0] * a + counts[1] * b
    inch = {name: Q_(value, "mm") for name, value in (("centres", centres), ("face", face), ("depth", depth))}
    parts = {name: round(16 * value.to("inch").magnitude) / 16 for name, value in inch.items()}
    by_tape = Q_(parts["centres"] - 2 * parts["face"] + 2 * parts["depth"], "inch")
    bars = sum(alike for alike, _, _ in scene.bars)
    growth = pipe_growth("copper", Q_(1, "m"), Q_(1, "delta_degC")).magnitude
    fahrenheit = WARMER.to("delta_degF").magnitude
    grown = growth * a / 1000 * WARMER.magnitude
    per_inch = growth / 1000 / 1.8
    return Told(
        f"**Metric.** Two elbows {centres:g} mm centre to centre; {face:g} mm centre to face, {depth:g} mm depth (Tern Bank's fittings, invented).\n\n"
        f"* Piece A = {centres:g} − {face:g} − {face:g} + {depth:g} + {depth:g} = **{a:g} mm**; the panel says {1000 * scene.cut:g} mm. "
        f"Piece B = {other:g} − {2 * face:g} + {2 * depth:g} = {b:g} mm.\n"
        f"* Cuts from a bar: each piece takes its length and a saw cut, the last needs no cut: "
        f"({stock:g} + {kerf:g}) ÷ ({a:g} + {kerf:g}) = {(stock + kerf) / (a + kerf):.2f}, so **{int((stock + kerf) // (a + kerf))} pieces A** "
        "in a bar, and what is left takes B.\n"
        f"* {counts[0]} A and {counts[1]} B are {total:g} mm: {total / stock:.2f} bars, so at least {-(-total // stock):.0f}; the panel needs "
        f"{bars} and wastes 1 − {total:g} ÷ {bars * stock:g} = **{1 - total / (bars * stock):.0%}**.\n"
        f"* Growth = {growth:g} mm for each metre and degree × {a / 1000:g} m × {WARMER.magnitude:g} °C = **{grown:.1f} mm**; "
        f"the panel says {1000 * scene.growth:.1f} mm.\n\n"
        f"**US customary**, read off a tape in sixteenths: {sixteenths(inch['centres'])} in centre to centre, {sixteenths(inch['face'])} in to the face, "
        f"{sixteenths(inch['depth'])} in depth.\n\n"
        f"* Piece A = {sixteenths(inch['centres'])} − 2 × {sixteenths(inch['face'])} + 2 × {sixteenths(inch['depth'])} = **{sixteenths(by_tape)} in**; "
        f"the panel says {sixteenths(Q_(scene.cut, 'm'))} in.\n"
        f"* Growth = {1e6 * per_inch:.1f} millionths for each °F × {by_tape.magnitude:g} in × {fahrenheit:g} °F = "
        f"**{per_inch * by_tape.magnitude * fahrenheit:.2f} in**; the panel says {show(Q_(scene.growth, 'm'), 'diameter', US)}.\n\n"
        f"In millimetres paper and panel agree to the last digit: it is the same sum. In inches they may differ by a sixteenth or so, because paper rounds "
        "each of five lengths to the tape and then adds; the panel rounds once. A joint forgives that. It does not forgive a forgotten depth."
    )
