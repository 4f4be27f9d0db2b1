"""The plan of a session, kept from one opening of a page to the next: planner, key page and prints follow it."""

import json
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path

from ..exercises.seats import read_seats
from ..quantities.errors import InputError
from ..storage import preferences
from ..storage.files import read_bytes, write_whole
from .rotation import TOGETHER
from .session_clock import read_clock

LARGEST = 1_000_000  # [bytes] of the file


@dataclass(frozen=True)
class KeptPlan:
    """Holds what an instructor chose. names : of the people, as typed, with commas between; empty: seats count from 1
    begins : a time of day as typed, or empty; paper : of the prints
    """

    minutes: int = 90
    people: int = 12
    benches: int = 3
    lessons: tuple = ("01", "02")
    way: str = TOGETHER
    begins: str = ""
    names: str = ""
    paper: str = "A4"

    @property
    def seats(self) -> str:
        """Gives whose sheets are printed, as the key page types it: the names, or the seats from 1."""
        return self.names or f"1-{self.people}"

    def people_named(self) -> tuple[str, ...]:
        """Gives the names, one for each of the people; none where none was typed.

        Raises InputError: as many names as people are wanted.
        """
        named = read_seats(self.names) if self.names.strip() else ()
        if named and len(named) != self.people:
            raise InputError(
                f"names: {len(named)} for {self.people} people. Type each name once with commas between, set People to"
                f" {len(named)}, or leave the names out."
            )
        return named


def file() -> Path:
    """Says where the plan lies: in the reader's own folder."""
    return preferences.folder() / "session.json"


def kept_plan() -> KeptPlan:
    """Gives the plan that was kept last, or the one to begin with. What of it cannot be read is as in the latter."""
    try:
        found = json.loads(read_bytes(file(), LARGEST))
    except (ValueError, RecursionError):  # not there yet, or spoilt: the next plan is written over it
        return KeptPlan()
    if not isinstance(found, dict):
        return KeptPlan()
    words = {
        name: tuple(one for one in value if isinstance(one, str))
        for name, value in found.items()
        if type(value) is list
    }
    found = {**found, **words}
    begin = KeptPlan()
    names = (one.name for one in fields(KeptPlan))
    usable = {name: found[name] for name in names if type(found.get(name)) is type(getattr(begin, name))}
    kept = replace(begin, **usable)
    try:
        read_seats(kept.seats)
        read_clock(kept.begins)
    except InputError:  # changed by hand, or by another version
        return replace(kept, people=begin.people, names=begin.names, begins=begin.begins)
    return kept


def keep(**changes) -> None:
    """Remember these fields of the plan. Raises InputError: the folder cannot be written to."""
    before = kept_plan()
    now = replace(before, **changes)
    if now == before and file().exists():
        return
    try:
        file().parent.mkdir(parents=True, exist_ok=True)
    except OSError as reason:
        raise InputError(
            f"The folder {file().parent} cannot be made ({reason.strerror}): the plan holds for this page only."
        ) from None
    write_whole(file(), json.dumps(asdict(now), ensure_ascii=False, indent=1), replace=True)
