"""Two materials that meet in water: which of them is eaten, what the water carries on, and what joins them."""

from dataclasses import dataclass
from functools import cache

from ..quantities.errors import InputError
from ..quantities.results import Printed, Word
from ..quantities.units import START, Quantity, quantity, to_base
from ..storage import tables

YES_OR_NO = ("yes", "no")
ALIKE, PARTED, SLOWED, EATEN = (
    Word("nothing to fear", 0),
    Word("parted", 0),
    Word("slower, not stopped", 1),
    Word("one eats the other", 2),
)
CARRIES_NOTHING, CARRIED, ZINC_TURNS = (
    Word("no copper carried on", 0),
    Word("copper is carried on", 2),
    Word("too warm for zinc", 1),
)
NO_BRASS, MARKED_BRASS = Word("no brass here", 0), Word("marked brass only", 1)
BONDED, INTERRUPTED = Word("metal goes through", 0), Word("bonding interrupted", 1)
CAUTION = (
    "The order is that of sea water; tap water, its temperature, its oxygen and the areas in touch change how fast it"
    " goes. A large noble part beside a small base one is the worst. Local code, the makers and a licensed trade decide"
    " what may be joined and how. Earth bonding is an electrician's work: never part or bridge a bonded pipe on your"
    " own account. For drinking water only lead-free parts that are listed for it."
)


@dataclass(frozen=True)
class Material:
    """Holds what meets in water: a row of data/metals.csv. potential [V] in sea water; None: it conducts nothing."""

    name: str
    potential: float | None
    gives_copper: bool
    harmed_by_copper: bool
    zinc: bool
    colour: str
    source: str


@dataclass(frozen=True)
class Joint:
    """A way to join: a row of data/metal_joints.csv. length [m] of what stands between."""

    name: str
    parts: bool
    brass: bool
    length: float
    source: str


@dataclass(frozen=True, repr=False, eq=False)
class Together(Printed):
    """Says what becomes of two materials in water.

    apart : their potentials in sea water [V]; 0 where one conducts nothing
    eaten : the one that is eaten at the joint; "" : neither
    joint, carried, brass, bonding : the four verdicts, each a word
    """

    apart: Quantity
    eaten: str
    joint: str
    carried: str
    brass: str
    bonding: str
    caution: str = CAUTION


def metals() -> list[str]:
    """The names of the materials in data/metals.csv, noblest first."""
    return [row["material"] for row in tables.rows("metals")]


def metal_joints() -> list[str]:
    """The names of the joints in data/metal_joints.csv."""
    return [row["joint"] for row in tables.rows("metal_joints")]


@cache
def material(name: str) -> Material:
    """The material of that name in data/metals.csv. Raises InputError with the nearest names."""
    row = tables.row("metals", "material", name, "material")
    flags = (row.word(flag, YES_OR_NO) == "yes" for flag in ("gives_copper", "harmed_by_copper", "zinc"))
    potential = row.number("potential") if row["potential"] else None
    return Material(row["material"], potential, *flags, row["colour"], row["source"])


@cache
def metal_joint(name: str) -> Joint:
    """The joint of that name in data/metal_joints.csv. Raises InputError with the nearest names."""
    row = tables.row("metal_joints", "joint", name, "joint")
    parts, brass = (row.word(flag, YES_OR_NO) == "yes" for flag in ("parts", "between"))
    return Joint(row["joint"], parts, brass, row.number("length") / 1e3, row["source"])


@cache
def fact(name: str) -> tables.Row:
    """A row of data/metals_together.csv. Raises InputError with the nearest names."""
    return tables.row("metals_together", "fact", name, "fact")


def together(first: str, second: str, joint: str, temperature) -> Together:
    """Says what becomes of two materials through which water flows, from the first to the second.

    first, second : in data/metals.csv; joint : in data/metal_joints.csv; temperature : of the water, one value
    Raises InputError.
    """
    up, down, way = material(first), material(second), metal_joint(joint)
    warm = to_base(temperature, START)
    if not isinstance(warm, float):
        raise InputError("water temperature: give one value, not a list.")
    apart = _apart(up, down)
    eaten = "" if apart <= fact("alike").number("value") else min(up, down, key=lambda one: one.potential).name
    return Together(
        quantity(apart, "V"),
        eaten,
        _joint_word(eaten, way),
        _carried_word(up, down, warm),
        MARKED_BRASS if up.zinc or down.zinc or way.brass else NO_BRASS,
        INTERRUPTED if way.parts or up.potential is None or down.potential is None else BONDED,
    )


def _apart(up: Material, down: Material) -> float:
    """Says how far apart two materials lie [V]; 0 where one conducts nothing."""
    if up.potential is None or down.potential is None:
        return 0.0
    return round(abs(up.potential - down.potential), 3)


def _joint_word(eaten: str, way: Joint) -> Word:
    if not eaten:
        return ALIKE
    return PARTED if way.parts else SLOWED if way.brass else EATEN


def _carried_word(up: Material, down: Material, warm: float) -> Word:
    """Says what the water carries on to the second material; warm water is hard on zinc by itself."""
    if up.gives_copper and down.harmed_by_copper:
        return CARRIED
    galvanised = material("galvanised steel")
    return ZINC_TURNS if galvanised in (up, down) and warm >= fact("zinc turns").number("value") else CARRIES_NOTHING
