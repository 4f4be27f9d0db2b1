"""The panel on cut lengths: a piece between two fittings, and how its length was worked out."""

from ...panels import shared_controls as usual
from ...panels.controls import Choice, Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...plant.closed_system import pipe_growth
from ...plant.supports import clip_spacing, fall
from ...plant.take_off import End, cut_length
from ...quantities.display import show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.pipe import Pipe, materials
from .joint import JointEnd
from .picture import LONG, OUT, JointPicture, PieceScene, about, seat_words
from .tries import ADDED, CENTRES_ONLY, FORGOTTEN, SUBTRACTED, TRIES

PLAIN_END = "plain end"
FITTINGS = ["elbow 90", "elbow 45", "tee through", "tee branch", "coupling", "ball valve", PLAIN_END]
PUSH, OWN = "push fit", "solder, cement or crimp"
# What each way of working it out takes off and adds, as shares of centre to face and of depth.
WAYS = {ADDED: (-1, 1), FORGOTTEN: (-1, 0), SUBTRACTED: (-1, -1), CENTRES_ONLY: (0, 0)}
WARMER = Q_(50, "delta_degC")  # from a cold workshop to hot water
LEAST_MEASURED = Q_(1, "mm")  # below it a slider stands at "not measured"
# The practice wall as a reader in US customary units finds it: a US pipe, in inches.
US_WALL = {"pipe": ("copper L", "1/2 in"), "centres": Q_(32, "in")}
US_MEASURED = {"first_face": Q_(1.375, "in"), "second_face": Q_(1.375, "in"), "depth": Q_(1, "in")}
US_GOODS = {
    "Practice wall, measured": {**US_WALL, **US_MEASURED},
    "Practice wall, not measured yet": US_WALL,
    "Outdoor loop in PEX, measured": {
        **US_WALL,
        **US_MEASURED,
        "pipe": ("PEX CTS", "1/2 in"),
        "centres": Q_(48, "in"),
        "second_face": Q_(1.0625, "in"),
    },
}
ROOM_TO_GROW = 2e-3  # [m] from here on a verdict asks for care


def measure_cut() -> Panel:
    """A piece between two fittings, opened on Tern Bank's practice wall (invented)."""
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
                    "Middle to middle",
                    start["centres"],
                    "from the middle of one fitting to the middle of the other",
                ),
                "way": Choice(
                    "Cut by",
                    list(WAYS),
                    start["way"],
                    "how the length was worked out: the right way and three mistakes",
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
        },
        calculate,
        JointPicture,
        readouts,
        ready,
        idle_controls,
        headline=headline,
        tries=TRIES,
        goods=usual.goods_with(ready, US_GOODS),
    )


def own_joints() -> list[str]:
    """Says how each material's own joint is made: "copper is soldered", then "PEX crimped" and so on."""
    first, *others = materials()
    return [f"{first.name} is {first.joined}", *(f"{one.name} {one.joined}" for one in others)]


def _centres(label: str, start, explained: str) -> Slide:
    return Slide(label, "cut", start, (300, 2400, 10), (12, 94, 0.5), explained)


def _face(start) -> Slide:
    explained = "from the fitting's middle to its face; 0: not measured, a provisional figure is used"
    return Slide("Middle to face", "cut", start, (0, 90, 1), (0, 3.5, 0.0625), explained)


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
    }
    measured = {"first_face": Q_(35, "mm"), "second_face": Q_(35, "mm"), "depth": Q_(25, "mm")}
    loop = {"pipe": ("PEX CTS", "1/2 in"), "centres": Q_(1200, "mm"), "second": "coupling", "second_face": Q_(27, "mm")}
    return {
        "Practice wall, measured": {**wall, **measured},
        "Practice wall, not measured yet": wall,
        "Outdoor loop in PEX, measured": {**wall, **measured, **loop},
    }


def idle_controls(state: dict) -> list:
    """Names the controls that do nothing: a plain end has nothing to measure."""
    plain = [name for name in ("first", "second") if state[name] == PLAIN_END]
    return [f"{name}_face" for name in plain] + (["depth"] if len(plain) == 2 else [])


def calculate(state: dict) -> PieceScene:
    """Turns the controls' values into a scene. Raises InputError."""
    pipe = Pipe.nominal(*state["pipe"])
    joint = "push" if state["joint"] == PUSH else pipe.made_of.joint
    ends, faults = zip(*(_end(state, name, joint) for name in ("first", "second")))
    centres, right = state["centres"].to("m").magnitude, cut_length(pipe, state["centres"], *ends).length.magnitude
    inside = [end.inside(pipe) for end in ends]
    faces, depths = (sum(one[place] for one in inside) for place in (0, 1))
    less, more = WAYS[state["way"]]
    cut = centres + less * faces + more * depths
    off, fitted = cut - right, sum(end.fitting is not None for end in ends)
    return PieceScene(
        *(_seated(end, one, fault, off / max(fitted, 1)) for end, one, fault in zip(ends, inside, faults)),
        joint=joint,
        material=pipe.material,
        outside=pipe.outside_diameter.to("m").magnitude,
        bore=pipe.inside_diameter.to("m").magnitude,
        centres=centres,
        right=right,
        cut=cut,
        how=state["way"],
        growth=pipe_growth(pipe.material, Q_(cut, "m"), WARMER).to("m").magnitude,
        warmer=WARMER.magnitude,
        spacing=clip_spacing(pipe).magnitude,
        fall=fall(Q_(cut, "m")).to("m").magnitude,
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


def headline(scene: PieceScene, system: str) -> str:
    """Says how long the piece was cut, and how it sits."""
    if scene.fault:
        return "Measure again: the depth is more than middle to face"
    sits = seat_words(scene, system) if scene.measured or scene.seat in (LONG, OUT) else "measure before you cut"
    return f"Cut {about(scene.cut, scene.measured, system)}: {sits}"


def readouts(scene: PieceScene, system: str) -> list[Readout]:
    """Gives the three verdicts."""
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
    room = Word("leave it room", 1) if scene.growth >= ROOM_TO_GROW else Word("grows little", 0)
    spacing, falls = show(Q_(scene.spacing, "m"), "length", system), show(Q_(scene.fall, "m"), "cut", system)
    sits = {LONG: "fittings off their marks", OUT: "nothing holds it"}.get(scene.seat, f"cut by: {scene.how}")
    return [
        Readout("Cut length", length, about(scene.cut, scene.measured, system)),
        Readout("Joint", scene.seat, sits),
        Readout("Laying", room, f"clip (hanger) every {spacing}; fall {falls}"),
    ]
