"""The panel on cut lengths: a piece between two fittings, how it was reckoned, and the bars it is cut from."""

from collections import Counter

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...plant.closed_system import pipe_growth
from ...plant.supports import clip_spacing, fall
from ...plant.take_off import End, cut_length, cutting_list
from ...quantities.display import show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.pipe import Pipe, materials
from .joint import JointEnd
from .picture import LONG, OUT, JointPicture, PieceScene, about

PLAIN_END = "plain end"
FITTINGS = ["elbow 90", "elbow 45", "tee through", "tee branch", "coupling", "ball valve", PLAIN_END]
PUSH, OWN = "push fit", "solder, cement or crimp"
STOCKS = {"3 m": Q_(3, "m"), "6 m": Q_(6, "m"), "10 ft": Q_(10, "ft"), "20 ft": Q_(20, "ft")}
ADDED, FORGOTTEN, SUBTRACTED, CENTRES_ONLY = (
    "both depths added",
    "depths forgotten",
    "depths subtracted",
    "centre to centre only",
)
# What each way of reckoning takes off and adds, as shares of centre to face and of depth.
WAYS = {ADDED: (-1, 1), FORGOTTEN: (-1, 0), SUBTRACTED: (-1, -1), CENTRES_ONLY: (0, 0)}
WARMER = Q_(50, "delta_degC")  # from a cold workshop to hot water
LEAST_MEASURED = Q_(1, "mm")  # below it a slider stands at "not measured"
# The practice wall as a reader in US customary units finds it: a US pipe, bars and pieces in feet and inches, a saw of
# 1/16 in.
US_WALL = {
    "pipe": ("copper L", "1/2 in"),
    "centres": Q_(32, "in"),
    "other_centres": Q_(24, "in"),
    "stock": "10 ft",
    "kerf": Q_(0.0625, "in"),
}
US_MEASURED = {"first_face": Q_(1.375, "in"), "second_face": Q_(1.375, "in"), "depth": Q_(1, "in")}
US_GOODS = {
    "Practice wall, not measured yet": US_WALL,
    "Practice wall, measured": {**US_WALL, **US_MEASURED},
    "Outdoor loop in PEX, measured": {
        **US_WALL,
        **US_MEASURED,
        "pipe": ("PEX CTS", "1/2 in"),
        "centres": Q_(48, "in"),
        "second_face": Q_(1.0625, "in"),
    },
}
ROOM_TO_GROW, MUCH_WASTE = 2e-3, 0.25  # [m], [-] from here on a verdict asks for care


def measure_cut() -> Panel:
    """Cut lengths and cutting list, opened on Tern Bank's practice wall (invented)."""
    ready = tern_bank_pieces()
    start = next(iter(ready.values()))
    return Panel(
        {
            "The piece": {
                "pipe": usual.pipe(start["pipe"]),
                "joint": Choice(
                    "Joint",
                    [PUSH, OWN],
                    start["joint"],
                    f"push fit, or this pipe's own: {', '.join(own_joints())}",
                ),
                "centres": _centres(
                    "A, centres",
                    start["centres"],
                    "centre to centre of the piece drawn: between the middles of its two fittings",
                ),
                "way": Choice(
                    "Cut by", list(WAYS), start["way"], "how the length was reckoned: the right way and three slips"
                ),
            },
            "Its fittings; 0: not measured yet": {
                "first": Choice("First end", FITTINGS, start["first"], "fitting at the left end"),
                "first_face": _face(start["first_face"]),
                "second": Choice("Second end", FITTINGS, start["second"], "fitting at the right end"),
                "second_face": _face(start["second_face"]),
                "depth": Slide(
                    "Depth",
                    "cut",
                    start["depth"],
                    (0, 40, 1),
                    (0, 1.5, 0.0625),
                    "how far your pipe goes into your fitting; 0: not measured, a provisional figure is used",
                ),
            },
            "The cutting list": {
                "pieces": _count("Pieces A", start["pieces"], 1, "how many like the one drawn"),
                "others": _count("Pieces B", start["others"], 0, "how many of another length, with the same fittings"),
                "other_centres": _centres("B, centres", start["other_centres"], "centre to centre of the pieces B"),
                "stock": Choice("Stock", list(STOCKS), start["stock"], "length of a bar as sold"),
                "kerf": Slide(
                    "Saw takes",
                    "cut",
                    start["kerf"],
                    (0, 4, 0.5),
                    (0, 0.125, 0.0625),
                    "lost at each cut; 0 for a wheel cutter",
                ),
                "spare": Slide(
                    "Spare", "share", start["spare"], (0, 30, 5), (0, 30, 5), "to have in hand for a wrong cut"
                ),
            },
        },
        calculate,
        JointPicture,
        readouts,
        ready,
        idle_controls,
        US_GOODS,
    )


def own_joints() -> list[str]:
    """Says how each material's own joint is made: "copper is soldered", then "PEX crimped" and so on."""
    first, *others = materials()
    return [f"{first.name} is {first.joined}", *(f"{one.name} {one.joined}" for one in others)]


def _centres(label: str, start, explained: str) -> Slide:
    return Slide(label, "cut", start, (300, 2400, 10), (12, 94, 0.5), explained)


def _face(start) -> Slide:
    explained = "from the fitting's middle to its face; 0: not measured, a provisional figure is used"
    return Slide("Centre to face", "cut", start, (0, 90, 1), (0, 3.5, 0.0625), explained)


def _count(label: str, start, low: int, explained: str) -> Slide:
    return Slide(label, "count", start, (low, 12, 1), (low, 12, 1), explained)


def tern_bank_pieces() -> dict:
    """Ready-made pieces on Tern Bank's rigs (invented): title → settings."""
    wall = {
        "pipe": ("copper EN 1057", "15 mm"),
        "joint": PUSH,
        "centres": Q_(800, "mm"),
        "way": ADDED,
        "first": "elbow 90",
        "first_face": Q_(0, "mm"),
        "second": "elbow 90",
        "second_face": Q_(0, "mm"),
        "depth": Q_(0, "mm"),
        "pieces": Q_(4, ""),
        "others": Q_(2, ""),
        "other_centres": Q_(600, "mm"),
        "stock": "3 m",
        "kerf": Q_(2, "mm"),
        "spare": Q_(10, "percent"),
    }
    measured = {"first_face": Q_(35, "mm"), "second_face": Q_(35, "mm"), "depth": Q_(25, "mm")}
    loop = {"pipe": ("PEX CTS", "1/2 in"), "centres": Q_(1200, "mm"), "second": "coupling", "second_face": Q_(27, "mm")}
    nine = {
        "first": PLAIN_END,
        "second": PLAIN_END,
        "pieces": Q_(9, ""),
        "others": Q_(0, ""),
        "spare": Q_(0, "percent"),
    }
    return {
        "Practice wall, not measured yet": wall,
        "Practice wall, measured": {**wall, **measured},
        "Outdoor loop in PEX, measured": {**wall, **measured, **loop},
        "Nine pieces of 1 m from 3 m bars": {**wall, **nine, "centres": Q_(1, "m")},
        "Nine pieces of 40 in from 10 ft bars": {**wall, **nine, "centres": Q_(40, "in"), "stock": "10 ft"},
    }


def buying(scene: PieceScene, system: str) -> str:
    """Says what the bars are for."""
    if scene.spare_bars:
        return f"{scene.cut_bars} to cut, {scene.spare_bars} spare"
    return (
        f"spare {show(Q_(round(1000 * scene.spare), 'mm'), 'cut', system)} lies in the left-overs"
        if scene.spare
        else "no spare"
    )


def idle_controls(state: dict) -> tuple:
    """A plain end has nothing to measure; without pieces B their length does nothing."""
    plain = [name for name in ("first", "second") if state[name] == PLAIN_END]
    idle = [f"{name}_face" for name in plain] + (["depth"] if len(plain) == 2 else [])
    return (*idle, *(["other_centres"] if round(state["others"].magnitude) == 0 else []))


def calculate(state: dict) -> PieceScene:
    """Turns the controls' values into a scene. Raises InputError."""
    pipe = Pipe.nominal(*state["pipe"])
    joint = "push" if state["joint"] == PUSH else pipe.made_of.joint
    ends, faults = zip(*(_end(state, name, joint) for name in ("first", "second")))
    centres = [state[name].to("m").magnitude for name in ("centres", "other_centres")]
    right = [cut_length(pipe, Q_(length, "m"), *ends).length.magnitude for length in centres]
    inside = [end.inside(pipe) for end in ends]
    faces, depths = (sum(one[place] for one in inside) for place in (0, 1))
    less, more = WAYS[state["way"]]
    cut = [length + less * faces + more * depths for length in centres]
    counts = [round(state[name].magnitude) for name in ("pieces", "others")]
    stock, kerf = STOCKS[state["stock"]], state["kerf"]
    found = cutting_list(
        [(Q_(length, "m"), count) for length, count in zip(cut, counts) if count],
        stock,
        kerf,
        state["spare"].to("").magnitude,
    )
    off, fitted = cut[0] - right[0], sum(end.fitting is not None for end in ends)
    return PieceScene(
        *(_seated(end, one, fault, off / max(fitted, 1)) for end, one, fault in zip(ends, inside, faults)),
        joint=joint,
        material=pipe.material,
        outside=pipe.outside_diameter.to("m").magnitude,
        bore=pipe.inside_diameter.to("m").magnitude,
        centres=centres[0],
        right=right[0],
        cut=cut[0],
        how=state["way"],
        bars=_alike(found, cut),
        pieces=tuple(zip(cut, counts)),
        stock=stock.to("m").magnitude,
        stock_name=state["stock"],
        kerf=kerf.to("m").magnitude,
        spare_share=state["spare"].to("").magnitude,
        spare=found.spare_length.to("m").magnitude,
        spare_bars=found.bars_to_buy - found.bars_needed,
        waste_share=found.waste_share.to("").magnitude,
        growth=pipe_growth(pipe.material, Q_(cut[0], "m"), WARMER).to("m").magnitude,
        warmer=WARMER.magnitude,
        spacing=clip_spacing(pipe).magnitude,
        fall=fall(Q_(cut[0], "m")).to("m").magnitude,
    )


def _end(state: dict, name: str, joint: str) -> tuple[End, bool]:
    """One end of the piece, and whether its depth was given greater than its centre to face."""
    if state[name] == PLAIN_END:
        return End(None), False
    face, depth = (value if value >= LEAST_MEASURED else None for value in (state[f"{name}_face"], state["depth"]))
    fault = face is not None and depth is not None and depth > face
    return End(state[name], joint, face, face if fault else depth), fault


def _seated(end: End, inside: tuple, fault: bool, off: float) -> JointEnd:
    """Says how the piece sits in one end, cut longer by `off` [m] for each end than fits."""
    face, depth, missing = inside
    if end.fitting is None:
        return JointEnd(PLAIN_END, 0.0, 0.0, 0.0, 0.0, True)
    return JointEnd(end.fitting, face, depth, depth + min(off, 0.0), max(off, 0.0), not missing, fault)


def _alike(found, cut) -> tuple:
    """Bars cut alike, with how many there are of each, fullest first; pieces as (kind, length)."""
    patterns = Counter(
        tuple((int(abs(length - cut[0]) > 1e-9), length) for length in bar.magnitude.tolist()) for bar in found.bars
    )
    left = {}
    for bar, rest in zip(found.bars, found.left_over.magnitude):
        left[tuple(bar.magnitude.tolist())] = float(rest)
    return tuple((alike, pieces, left[tuple(length for _, length in pieces)]) for pieces, alike in patterns.items())


def readouts(scene: PieceScene, system: str) -> list[Readout]:
    """Gives the four verdicts."""
    wrong = scene.seat in (LONG, OUT)
    length = (
        Word("measure again", 2)
        if scene.fault
        else Word("wrong length", 2)
        if wrong
        else Word("measured", 0)
        if scene.measured
        else Word("measure first", 1)
    )
    waste = Word("much left over", 1) if scene.waste_share >= MUCH_WASTE else Word("little left over", 0)
    room = Word("leave it room", 1) if scene.growth >= ROOM_TO_GROW else Word("grows little", 0)
    spacing, falls = show(Q_(scene.spacing, "m"), "length", system), show(Q_(scene.fall, "m"), "cut", system)
    sits = {LONG: "fittings off their marks", OUT: "nothing holds it"}.get(scene.seat, f"cut by: {scene.how}")
    return [
        Readout("Cut length", length, about(scene.cut, scene.measured, system)),
        Readout("Joint", scene.seat, sits),
        Readout("Bars", waste, f"buy {scene.bars_to_buy}: {buying(scene, system)}; waste {scene.waste_share:.0%}"),
        Readout("Laying", room, f"clip at {spacing}; fall {falls}"),
    ]
