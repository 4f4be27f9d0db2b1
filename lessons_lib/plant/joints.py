"""How pipe is joined: which joint suits which pipe, what can be forgotten, and how hot it may be."""

from dataclasses import dataclass

import numpy as np

from ..quantities.errors import unknown_name
from ..quantities.results import Printed, Word
from ..quantities.units import Q_, Domain, to_base
from ..runs.pipe import pipe_material
from ..storage import tables
from .tank import HOT

IN_USE = Domain("pressure", "Pa", 0, 1e7, 'Q_(600, "kPa")')
NOTHING, BURR, DEPTH, INSERT, LAST = "nothing", "deburring", "full depth", "insert or stiffener", "the last step"
FORGOTTEN = (NOTHING, BURR, DEPTH, INSERT, LAST)
SUITS, OTHER_PIPE = Word("suits this pipe", 0), Word("not for this pipe", 2)
SOUND, UNSAFE = Word("made as it should be", 0), Word("leaks or lets go", 2)
WITHIN, BEYOND, TOO_HOT = Word("within its rating", 0), Word("above its rating", 2), Word("hotter than it is rated", 2)
NOT_STATED = Word("the maker's figure", 1)
MAY_HIDE, IF_LISTED, NEVER_HIDE = (
    Word("may be covered once tested", 0),
    Word("covered only if listed for it", 1),
    Word("must stay within reach", 1),
)
HIDING = {"yes": MAY_HIDE, "listed": IF_LISTED, "no": NEVER_HIDE}
US_SIDE, EN_SIDE = "United States", "Europe and UK"
SIDES = (US_SIDE, EN_SIDE)
CAUTION = (
    "Use only joints that are listed for this pipe and for hot drinking water, made with the tool and in the order that"
    " the fitting's maker says. A flame belongs to trained people, with a fire watch. Test before you cover. Local code"
    " and the maker decide."
)


@dataclass(frozen=True, repr=False, eq=False)
class JointKind(Printed):
    """Says how one kind of joint is made; the texts are those of data/joints.csv.

    standards : that rate it, one for each of SIDES
    """

    name: str
    pipes: tuple[str, ...]
    prepare: str
    goes_in: str
    insert: str
    tool: str
    shows: str
    last: str
    wrong: str
    undone: str
    hiding: Word
    standards: dict
    source: str
    caution: str = CAUTION

    def suits(self, material: str) -> Word:
        """Says whether it is for pipe of a material."""
        return SUITS if pipe_material(material).name in self.pipes else OTHER_PIPE

    def made(self, forgotten: str, plastic: bool) -> tuple[Word, str]:
        """Says whether the joint is sound when something was forgotten, and what goes wrong. Raises InputError."""
        if forgotten not in FORGOTTEN:
            raise unknown_name("forgotten", forgotten, list(FORGOTTEN))
        loose = plastic and self.insert.endswith("in plastic")  # an insert that is part of the fitting is always there
        harm = {
            BURR: self.wrong,
            DEPTH: "it holds by a part of its depth",
            INSERT: "nothing holds the pipe's end round" if loose else "",
            LAST: f"nobody did this: {self.last}" if self.last else "",
        }.get(forgotten, "")
        return (UNSAFE, harm) if harm else (SOUND, "nothing forgotten" if forgotten == NOTHING else "has no such step")

    def limit(self, temperature, side: str):
        """Highest pressure [kPa] at a temperature as the standard of a side rates the joint.

        None where the standard has no figure here; 0 where it is hotter than the joint is rated at all. Between two
        ratings along a straight line, and below the first one that one. Raises InputError.
        """
        if side not in SIDES:
            raise unknown_name("side", side, list(SIDES))
        _, points = self.standards[side]
        if not points:
            return None
        warm, (degrees, pressures) = float(to_base(temperature, HOT)), zip(*points)
        return Q_(0.0 if warm > degrees[-1] + 1e-9 else float(np.interp(warm, degrees, pressures)), "kPa")

    def rated(self, temperature, pressure, side: str) -> Word:
        """Says whether water of a temperature and pressure is within the joint's rating."""
        limit = self.limit(temperature, side)
        if limit is None:
            return NOT_STATED
        if limit.magnitude == 0:
            return TOO_HOT
        return WITHIN if to_base(pressure, IN_USE) <= limit.to("Pa").magnitude + 1e-6 else BEYOND


def joint_kinds() -> tuple[JointKind, ...]:
    """Gives the joints of data/joints.csv."""
    texts = ("prepare", "goes_in", "insert", "tool", "shows", "last", "wrong", "undone")
    return tuple(
        JointKind(
            row["joint"],
            tuple(row["pipes"].split("|")),
            *(row[name] for name in texts),
            HIDING[row.word("hidden", HIDING)],
            {
                side: (row[f"{short}_standard"], _points(row[f"{short}_limits"]))
                for side, short in zip(SIDES, ("us", "en"))
            },
            row["source"],
        )
        for row in tables.rows("joints")
    )


def joint_kind(name: str) -> JointKind:
    """Gives one joint by its name. Raises InputError for an unknown one."""
    found = next((one for one in joint_kinds() if one.name == name), None)
    if found is None:
        raise unknown_name("joint", name, [one.name for one in joint_kinds()])
    return found


def _points(text: str) -> tuple[tuple[float, float], ...]:
    """Ratings "82.2:690|93.3:552" as pairs of degC and kPa, coolest first."""
    return tuple(tuple(float(part) for part in one.split(":")) for one in text.split("|")) if text else ()
