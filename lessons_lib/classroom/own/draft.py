"""A question that is being made: plain texts as they were typed, kept from one opening of the page to the next."""

import json
from dataclasses import asdict, dataclass, field, fields
from pathlib import Path

from ...quantities.errors import InputError
from ...storage import preferences
from ...storage.files import read_bytes, write_whole

KINDS = {
    "choice": "a choice among options",
    "number": "a number with its unit",
    "order": "an order of steps",
}
SHARE, AMOUNT = "a share of the right number", "an amount"
LARGEST = 200_000  # bytes of a kept draft
PLACES = {"[A]": "{A}", "[B]": "{B}", "[answer]": "{answer}"}  # of numbers that differ: on the form, in the file
FEWEST_STEPS, MOST_STEPS, MOST_WRONG_OPTIONS, MOST_WRONG_NUMBERS = 2, 8, 5, 4


@dataclass
class Told:
    """A likely mistake. what : the wrong option or number; thinking : what is wrong with it; ask : one question back"""

    what: str = ""
    thinking: str = ""
    ask: str = ""


@dataclass
class Wait:
    """Says of two steps whether the second has to wait for the first. ordered : True: it has to; why, ask : as of Told

    first, second : places of the steps, from 0
    """

    first: int
    second: int
    ordered: bool = True
    why: str = ""
    ask: str = ""


@dataclass
class Draft:
    """Everything that was typed so far.

    step : of the form, from 0; changes : id of the question that is changed, "" for a new one
    a_measure, a_values : what [A] is, and its values as typed; calculation : of [A] and [B]; way : SHARE or AMOUNT,
        of what a number may be off by
    """

    step: int = 0
    changes: str = ""
    lesson: str = ""
    kind: str = ""
    text: str = ""
    right: str = ""
    wrong: list = field(default_factory=lambda: [Told(), Told()])
    measure: str = ""
    number: str = ""
    way: str = SHARE
    within: str = ""
    why_within: str = ""
    a_measure: str = ""
    a_values: str = ""
    b_measure: str = ""
    b_values: str = ""
    calculation: str = ""
    wrong_numbers: list = field(default_factory=lambda: [Told()])
    steps: list = field(default_factory=lambda: ["", "", ""])
    waits: list = field(default_factory=list)
    hint: str = ""
    worked: str = ""

    @property
    def begun(self) -> bool:
        """Says whether anything was typed that would be missed."""
        return asdict(self) | {"step": 0, "lesson": "", "kind": ""} != asdict(Draft())

    @property
    def varies(self) -> bool:
        """Says whether the question has numbers that differ from seat to seat."""
        return self.kind == "number" and "[A]" in self.text and "[B]" in self.text

    def wait(self, first: int, second: int) -> Wait:
        """The pair of these two steps; a new one where nothing was said of them yet."""
        found = next((one for one in self.waits if (one.first, one.second) == (first, second)), None)
        if found is None:
            found = Wait(first, second)
            self.waits.append(found)
        return found

    def take_out_step(self, place: int) -> None:
        """Forgets a step, and what was said of it; those after it move up."""
        del self.steps[place]
        self.waits = [one for one in self.waits if place not in (one.first, one.second)]
        for one in self.waits:
            one.first, one.second = one.first - (one.first > place), one.second - (one.second > place)


def file() -> Path:
    """Says where the draft lies: in the reader's own folder."""
    return preferences.folder() / "own-question.json"


def keep(draft: Draft) -> None:
    """Keep what was typed so far. Raises InputError: the folder cannot be written to."""
    try:
        file().parent.mkdir(parents=True, exist_ok=True)
    except OSError as reason:
        raise InputError(
            f"The folder {file().parent} cannot be made ({reason.strerror}): what you type holds for this page only."
        ) from None
    write_whole(file(), json.dumps(asdict(draft), indent=1), replace=True)


def kept() -> Draft:
    """The draft that was kept last, or an empty one. What of it cannot be read is as in an empty one."""
    try:
        found = json.loads(read_bytes(file(), LARGEST))
        return _read(found) if isinstance(found, dict) else Draft()
    except (ValueError, TypeError, RecursionError):  # not there yet (InputError is a ValueError), or spoilt
        return Draft()


def _read(found: dict) -> Draft:
    """A draft from plain data. Raises TypeError where a list in it holds something odd."""
    draft = Draft()
    for one in fields(Draft):
        value = found.get(one.name)
        if type(value) is type(getattr(draft, one.name)):
            setattr(draft, one.name, value)
    draft.wrong = [_made(Told, one) for one in draft.wrong][:MOST_WRONG_OPTIONS] or [Told()]
    draft.wrong_numbers = [_made(Told, one) for one in draft.wrong_numbers][:MOST_WRONG_NUMBERS]
    draft.steps = [str(one) for one in draft.steps][:MOST_STEPS] + [""] * (FEWEST_STEPS - len(draft.steps))
    draft.waits = [_made(Wait, one) for one in draft.waits]
    return draft


def _made(kind, values: dict):
    made = kind(**values)
    wanted = {name: type(value) for name, value in asdict(kind(0, 1) if kind is Wait else kind()).items()}
    if any(type(getattr(made, name)) is not one for name, one in wanted.items()):
        raise TypeError(values)
    return made
