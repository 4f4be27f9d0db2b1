"""One small file per learner: read with care, merged with what another notebook wrote, written whole or not at all."""

import json
from pathlib import Path

from ..quantities.display import KINDS
from ..quantities.errors import InputError
from ..storage.files import NotThere, TooLarge, kept_aside, read_bytes, write_whole

FORMAT, VERSION = "hot water runs: answers", 1
LARGEST = 5_000_000  # bytes; a learner's file has some ten thousand
FARTHEST = 1e12  # of a guess, in its unit: nothing here is larger, and what is does not fit on a board
TRY = {"id": str, "when": str, "question": str, "system": str, "text": str, "right": bool, "mistake": str}
GUESS = {"when": str, "kind": str, "value": (int, float), "unit": str, "sure": str}


class Damaged(ValueError):
    """A file that is no learner's file, or no longer one."""


def empty(name: str, seat: str) -> dict:
    """Gives what a learner's file holds before the first answer."""
    return {"format": FORMAT, "version": VERSION, "name": name, "seat": seat, "tries": [], "drafts": {}, "guesses": {}}


def load(file: Path) -> dict:
    """The content of a learner's file, checked.

    Raises NotThere; Damaged: no learner's file or a broken one; InputError: it is from another version, or cannot be
    opened.
    """
    try:
        found = json.loads(read_bytes(file, LARGEST).decode("utf-8"))
    except TooLarge:
        raise Damaged("too large") from None
    except InputError:
        raise
    except (ValueError, RecursionError):
        raise Damaged("not readable") from None
    if not isinstance(found, dict) or found.get("format") != FORMAT:
        raise Damaged("not a learner's file")
    if found.get("version") != VERSION:
        raise InputError(
            f"{file.name} was written by another version of this workbook ({found.get('version')!r}; this one reads"
            f" {VERSION}). It was left as it is. Open it with that version, or begin again under another name or seat."
        )
    _check(found)
    return found


def _check(found: dict) -> None:
    """Raise Damaged unless every part has its kind."""
    parts = {"name": str, "seat": str, "tries": list, "drafts": dict, "guesses": dict}
    if any(not isinstance(found.get(name), kind) for name, kind in parts.items()):
        raise Damaged("parts are missing")
    for entry in found["tries"]:
        _check_entry(entry, TRY)
    for entry in found["guesses"].values():
        _check_entry(entry, GUESS)
        figures = [entry["value"], *([] if entry.get("model") is None else [entry["model"]])]
        known = entry["kind"] in KINDS and entry["unit"] == KINDS[entry["kind"]].units[0]
        if not known or not all(map(is_figure, figures)):
            raise Damaged("a guess is broken")
    for entry in found["drafts"].values():
        _check_entry(entry, {"when": str, "text": str})


def is_figure(value) -> bool:
    """A number that a float can hold. (A whole number of 400 digits cannot become one, and is compared without
    becoming one.)
    """
    return isinstance(value, (int, float)) and not isinstance(value, bool) and abs(value) <= FARTHEST


def _check_entry(entry, kinds: dict) -> None:
    known = isinstance(entry, dict) and all(isinstance(entry.get(name), kind) for name, kind in kinds.items())
    # "numbers": whose, where they are not the learner's own; "wording": of a school's own question at that time
    if not known or any(not isinstance(entry.get(name, ""), str) for name in ("numbers", "wording")):
        raise Damaged("an entry is broken")


def merged(mine: dict, theirs: dict) -> dict:
    """Gives everything that either holds: every try once, the first guess of each, the latest draft. Of guesses at two
    kinds of quantity the later one stays: the page has another question since.
    """
    tries = {entry["id"]: entry for entry in [*theirs["tries"], *mine["tries"]]}
    drafts, guesses = dict(theirs["drafts"]), dict(theirs["guesses"])
    for key, draft in mine["drafts"].items():
        if key not in drafts or drafts[key]["when"] <= draft["when"]:
            drafts[key] = draft
    for key, guess in mine["guesses"].items():
        other = guesses.get(key, guess)
        if other["kind"] == guess["kind"]:
            first = min((other, guess), key=lambda one: one["when"])
            model = guess.get("model") if guess.get("model") is not None else other.get("model")
            guesses[key] = {**first, "model": model}
        else:
            guesses[key] = max((other, guess), key=lambda one: one["when"])
    return {
        **mine,
        "tries": sorted(tries.values(), key=lambda entry: (entry["when"], entry["id"])),
        "drafts": drafts,
        "guesses": guesses,
    }


def take_in(file: Path, mine: dict) -> tuple[dict, Path | None]:
    """Gives what is in the file and in memory together, and the new name of the file if it was damaged. Call it while
    `held`.
    """
    try:
        return merged(mine, load(file)), None
    except NotThere:
        return mine, None
    except Damaged:
        return mine, kept_aside(file)


def write(file: Path, content: dict) -> None:
    """The whole content, or none of it, for its owner alone. Call it while `held`."""
    write_whole(file, json.dumps(content, ensure_ascii=False, indent=1) + "\n", replace=True, private=True)
