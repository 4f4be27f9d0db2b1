"""A learner: answers, drafts and guesses, kept as they are given and restored when a notebook is opened again."""

import datetime
import secrets
from dataclasses import dataclass
from pathlib import Path

from ..quantities.display import KINDS, SI, as_given, number, show, symbol, unit
from ..quantities.errors import InputError, unknown_name
from ..quantities.reading import read_number
from ..quantities.units import Q_, unit_of, ureg
from ..storage import preferences
from ..storage.files import held, make_private
from . import learner_file, names
from .bank import Question, of_school
from .marking import Marked, mark
from .reading import LONGEST
from .variants import Variant, variant

EXAMPLE = "example"  # whose numbers everybody has who gave neither name nor seat
SURENESS = ("just guessing", "fairly sure", "very sure")


def folder() -> Path:
    """Says where learners' files lie: "answers" in the reader's own folder."""
    return preferences.folder() / "answers"


@dataclass(frozen=True)
class Guess:
    """A guess before a panel, and the model's result once it was compared.

    kind : of display.KINDS; guessed, model : quantities, model None until then; sure : one of SURENESS
    """

    kind: str
    guessed: object
    model: object
    sure: str

    def told(self, system: str) -> str:
        """Guess and result in a sentence."""
        mine = as_given(self.guessed, self.kind, system)
        guessed = f"{mine} {symbol(self.kind, system)}".strip()
        if self.model is None:
            return f"Your guess: {guessed} ({self.sure})."
        theirs = number(self.model, self.kind, system)
        right = number(self.guessed, self.kind, system) == theirs
        verdict = "right on it" if right else self._off(mine, theirs, system)
        return f"You guessed {guessed} ({self.sure}); the model gives {show(self.model, self.kind, system)}: {verdict}."

    def _off(self, mine: str, theirs: str, system: str) -> str:
        """Says how far the guess lies from the result, as both are shown."""
        kind = "temperature difference" if self.kind == "temperature" else self.kind
        off = read_number(mine)[0] - read_number(theirs)[0]
        away = as_given(Q_(abs(off), unit_of(unit(kind, system))), kind, system)
        own = symbol(kind, system).replace("%", "points")  # a share is off by points, not by per cent of itself
        return " ".join(filter(None, (away, own, "too", "high" if off > 0 else "low")))


class Learner:
    """Keeps one learner's answers. Made by `learner`, or by `nobody` for whoever gave neither name nor seat.

    name, seat : as given, made safe; system : unit system of the variants
    file : where everything is kept; None: nowhere, it lasts as long as the page
    notices : sentences to show once, about what was found when the file was opened
    """

    def __init__(self, name: str, seat: str, file: Path | None):
        self.name, self.seat, self.file = name, seat, file
        self.notices: list[str] = (
            [f"The name was shortened to {names.LONGEST} characters."] if name.endswith("…") else []
        )
        self._content = learner_file.empty(name, seat)
        if file is not None:
            self._open()

    @property
    def is_nobody(self) -> bool:
        """Says whether neither name nor seat was given, so that nothing is kept in a file."""
        return self.file is None

    @property
    def numbers_from(self) -> str:
        """Gives what the learner's own numbers come from: the seat, or the name where there is none, or the example."""
        return self.seat or self.name or EXAMPLE

    @property
    def has_work(self) -> bool:
        """Says whether there is an answer, a half-typed one or a guess."""
        typed = any(one["text"].strip() for one in self._content["drafts"].values())
        return bool(typed or self._content["tries"] or self._content["guesses"])

    def variant(self, question: Question, system: str = SI) -> Variant:
        """This learner's variant of a question; the one that was last worked on, where that was taken over with
        other numbers.
        """
        return variant(question, self._numbers(question, system), system)

    def _numbers(self, question: Question, system: str) -> str:
        """Whose numbers a question has for this learner in a unit system."""
        draft = self._content["drafts"].get(question.id)
        worked_on = [*self.tries(question), *([draft] if draft else [])]
        last = max(worked_on, key=lambda one: (one.get("system", system) == system, one["when"]), default={})
        return last.get("numbers", self.numbers_from)

    def _other_numbers(self, question: Question, system: str) -> dict:
        """Gives what an entry says of its numbers: nothing where they are the learner's own."""
        numbers = self._numbers(question, system)
        return {} if numbers == self.numbers_from else {"numbers": numbers}

    def take_over(self, other: "Learner") -> None:
        """Take what somebody did before giving this name: tries, half-typed answers, guesses. These questions keep
        their numbers.

        A guess that this learner made before stays. Raises InputError: the file cannot be written.
        """
        theirs = {
            **other._content,
            "tries": [{"numbers": other.numbers_from, **one} for one in other._content["tries"]],
            "drafts": {key: {"numbers": other.numbers_from, **one} for key, one in other._content["drafts"].items()},
        }
        self._content = learner_file.merged(self._content, theirs)
        self._save()

    def answer(self, question: Question, text, system: str = SI) -> Marked:
        """Mark an answer and keep it. Raises InputError where it cannot be read; then nothing is kept as a try."""
        marked = mark(self.variant(question, system), text)
        self._content["tries"].append(
            {
                "id": secrets.token_hex(8),
                "when": _now(),
                "question": question.id,
                "system": system,
                "text": _line(text),
                "right": marked.right,
                "mistake": marked.mistake,
                **self._other_numbers(question, system),
                **({"wording": question.wording} if of_school(question.id) else {}),
            }
        )
        self._content["drafts"].pop(question.id, None)
        self._save()
        return marked

    def tries(self, question: Question) -> tuple[dict, ...]:
        """The answers given to a question, oldest first: text, right, mistake, system, when."""
        return tuple(dict(one) for one in self._content["tries"] if one["question"] == question.id)

    def tries_here(self, question: Question, system: str = SI) -> tuple[dict, ...]:
        """The answers given in a unit system with the numbers that the question has now, oldest first."""
        now = self._numbers(question, system)
        same = (one for one in self.tries(question) if one.get("numbers", self.numbers_from) == now)
        return tuple(one for one in same if one["system"] == system)

    def changed_since(self, question: Question, system: str = SI) -> bool:
        """Says whether a school changed its question after this learner's last answer to it."""
        last = next(reversed(self.tries_here(question, system)), {})
        return last.get("wording", question.wording) != question.wording

    def wrong_so_far(self, question: Question) -> int:
        """Wrong answers to a question, for Marked.feedback."""
        return sum(not one["right"] for one in self.tries(question))

    def solved(self, question: Question) -> bool:
        return any(one["right"] for one in self.tries(question))

    def keep_draft(self, question: Question, text, system: str = SI) -> None:
        """Keep what stands in an answer's box and was not given yet."""
        self._content["drafts"][question.id] = {
            "when": _now(),
            "system": system,
            "text": _line(text),
            **self._other_numbers(question, system),
        }
        self._save()

    def draft(self, question: Question, system: str = SI) -> str:
        """Gives what stood in the box when the notebook was closed; after an answer, the last one given. Of this unit
        system's numbers only.
        """
        kept = self._content["drafts"].get(question.id)
        kept = kept if kept and kept.get("system", system) == system else None
        last = next(reversed(self.tries_here(question, system)), None)
        if kept and (last is None or kept["when"] > last["when"]):
            return kept["text"]
        return last["text"] if last else ""

    def keep_guess(self, key: str, value, kind: str, sure: str = SURENESS[0]) -> Guess:
        """Keeps a learner's guess. The first guess for a key stays, and a later one changes nothing; only where the
        page asks for another kind of quantity than it did then does the new guess take the place of the old one.

        key : of the guess, for example "02"; value : quantity; kind : of display.KINDS
        """
        if kind not in KINDS:
            raise unknown_name("guess, kind", kind, list(KINDS))
        if not isinstance(value, ureg.Quantity) or not value.is_compatible_with(unit_of(KINDS[kind].units[0])):
            raise InputError(
                f"guess: {value} was given; possible is a quantity like"
                f" {show(Q_(3, unit_of(KINDS[kind].units[0])), kind, SI)}."
            )
        own = KINDS[kind].units[0]
        entry = {
            "when": _now(),
            "kind": kind,
            "value": _figure(value, own),
            "unit": own,
            "sure": _line(sure),
            "model": None,
        }
        if self.guess(key, kind) is None:
            self._content["guesses"][_line(key)] = entry
        self._save()
        return self.guess(key)

    def compare_guess(self, key: str, model) -> Guess:
        """Keep the model's result beside a guess. Raises InputError where nothing was guessed."""
        entry = self._content["guesses"].get(_line(key))
        if entry is None:
            raise InputError("guess: none was kept yet. Guess first, then compare.")
        entry["model"] = _figure(model, entry["unit"])
        self._save()
        return self.guess(key)

    def guess(self, key: str, kind: str | None = None) -> Guess | None:
        """The kept guess, or None. kind : the kind of quantity that the page asks for; None: any"""
        entry = self._content["guesses"].get(_line(key))
        return None if entry is None or kind not in (None, entry["kind"]) else guess_of(entry)

    def look_again(self) -> None:
        """Takes in what other pages of this learner kept meanwhile. Raises InputError: the file cannot be used."""
        self._save()

    def _open(self) -> None:
        """Restores what is there and says what a reader should know."""
        with held(self.file):
            found, aside = learner_file.take_in(self.file, self._content)
            if aside is not None:
                self.notices.append(
                    f"The file with your answers could not be read. It was kept as {aside.name}; ask before you delete"
                    " it. A new one was begun."
                )
            self._content = found
            learner_file.write(self.file, self._content)
        if found["tries"] or found["guesses"] or found["drafts"]:
            count = len({one["question"] for one in found["tries"]})
            answered = f"{count} answered question{'s' if count != 1 else ''} restored, over all lessons"
            if preferences.in_room():  # its door has asked for the word of this name
                more = 'press "Somebody else"'
            elif self.seat:
                more = "another learner uses this name: add a mark of your own to the seat"
            else:
                more = "another learner uses this name: give your seat number or a mark of your own as well"
            self.notices.append(
                f"Welcome back: {answered if count else 'what you guessed or began to type is restored'}. Not you? Then"
                f" {more}."
            )
        others = [seat for seat in _seats_of(self.name, self.file) if seat != self.seat]
        if others and self.name:
            listed = ", ".join(f"seat {seat}" if seat else "no seat" for seat in others)
            apart = "seat" if self.seat else "name alone"
            self.notices.append(
                f"There is another file under this name ({listed}). Yours is kept apart from it by your {apart}."
            )

    def _save(self) -> None:
        """Take in what another notebook of the same learner wrote, and write everything."""
        if self.file is None:
            return
        with held(self.file):
            self._content, aside = learner_file.take_in(self.file, self._content)
            if aside is not None:
                self.notices.append(
                    f"The file with your answers was damaged meanwhile. It was kept as {aside.name}; everything given"
                    " here is in a new one."
                )
            learner_file.write(self.file, self._content)


def learner(name, seat="", where=None) -> Learner:
    """The learner of a name and a seat (or another mark that tells two of one name apart), restored if there is a file.

    where : folder, if not the usual one
    Raises InputError: neither name nor seat, a file of another version (left as it is), a folder that cannot be used.
    """
    place = folder() if where is None else Path(where)
    if where is None:
        make_private(place)
    kept, mark_ = names.clean(name), names.seat(seat)
    return Learner(kept, mark_, place / names.file_name(name, seat))


def nobody() -> Learner:
    """Whoever gave neither name nor seat: example numbers, and answers that last as long as the page."""
    return Learner("", "", None)


def guess_of(entry: dict) -> Guess:
    """A guess as it stands in a file."""
    own = unit_of(entry["unit"])
    model = entry.get("model")
    return Guess(entry["kind"], Q_(entry["value"], own), None if model is None else Q_(model, own), entry["sure"])


def _figure(value, own: str) -> float:
    """The number of a quantity in a unit, as a file can hold it. Raises InputError."""
    figure = float(value.to(unit_of(own)).magnitude)
    if not learner_file.is_figure(figure):
        raise InputError(f"guess: {value} was given; possible is a number up to {learner_file.FARTHEST:g}.")
    return figure


def _seats_of(name: str, own: Path) -> list[str]:
    """Seats of other files under the same name, as far as they can be read."""
    found = []
    for file in sorted(own.parent.glob(f"*{names.SUFFIX}")):
        if file != own and not file.name.startswith("."):
            try:
                content = learner_file.load(file)
            except (learner_file.Damaged, InputError):
                continue  # not one that could be told about here; the class reading names such files
            if content["name"].casefold() == name.casefold():
                found.append(content["seat"])
    return found


def _line(text) -> str:
    """Text as it is kept: short, and of characters that every file can hold."""
    return str(text)[:LONGEST].encode("utf-8", "replace").decode("utf-8")


def _now() -> str:
    """The time of day, to the microsecond, so that entries sort by it."""
    return datetime.datetime.now(datetime.timezone.utc).isoformat(timespec="microseconds")
