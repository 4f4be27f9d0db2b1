"""One small file per learner: read with care, merged with what another notebook wrote, written whole or not at all."""

import json
import math
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock, Timeout

from ..display import KINDS
from ..errors import InputError
from ..files import kept_aside, write_whole

FORMAT, VERSION = "hot water runs: answers", 1
LARGEST = 5_000_000  # bytes; a learner's file has some ten thousand
PATIENCE = 20.0  # [s] that one notebook waits for another to finish writing
TRY = {"id": str, "when": str, "question": str, "system": str, "text": str, "right": bool, "mistake": str}
GUESS = {"when": str, "kind": str, "value": (int, float), "unit": str, "sure": str}


class Damaged(ValueError):
    """A file that is no learner's file, or no longer one."""


def empty(name: str, seat: str) -> dict:
    """What a learner's file holds before the first answer."""
    return {"format": FORMAT, "version": VERSION, "name": name, "seat": seat, "tries": [], "drafts": {}, "guesses": {}}


def load(file: Path) -> dict:
    """The content of a learner's file, checked.

    Raises FileNotFoundError; Damaged: no such file or a broken one; InputError: it is from another version, or cannot be opened.
    """
    try:
        if file.stat().st_size > LARGEST:
            raise Damaged("too large")
        found = json.loads(file.read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise
    except OSError as reason:
        raise InputError(f"{file.name} cannot be opened ({reason.strerror}). Nothing was changed; ask who set up this machine.") from None
    except (ValueError, RecursionError):
        raise Damaged("not readable") from None
    if not isinstance(found, dict) or found.get("format") != FORMAT:
        raise Damaged("not a learner's file")
    if found.get("version") != VERSION:
        raise InputError(
            f"{file.name} was written by another version of this workbook ({found.get('version')!r}; this one reads {VERSION}). It was left "
            "as it is. Open it with that version, or begin again under another name or seat."
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
        if not known or any(not isinstance(one, (int, float)) or isinstance(one, bool) or not math.isfinite(one) for one in figures):
            raise Damaged("a guess is broken")
    for entry in found["drafts"].values():
        _check_entry(entry, {"when": str, "text": str})


def _check_entry(entry, kinds: dict) -> None:
    known = isinstance(entry, dict) and all(isinstance(entry.get(name), kind) for name, kind in kinds.items())
    if not known or not isinstance(entry.get("numbers", ""), str):  # "numbers": whose, where they are not the learner's own
        raise Damaged("an entry is broken")


def merged(mine: dict, theirs: dict) -> dict:
    """Everything that either holds: every try once, the first guess of each, the latest draft."""
    tries = {entry["id"]: entry for entry in [*theirs["tries"], *mine["tries"]]}
    drafts, guesses = dict(theirs["drafts"]), dict(theirs["guesses"])
    for key, draft in mine["drafts"].items():
        if key not in drafts or drafts[key]["when"] <= draft["when"]:
            drafts[key] = draft
    for key, guess in mine["guesses"].items():
        first = min((guesses.get(key, guess), guess), key=lambda one: one["when"])
        model = guess.get("model") if guess.get("model") is not None else guesses.get(key, {}).get("model")
        guesses[key] = {**first, "model": model}
    return {**mine, "tries": sorted(tries.values(), key=lambda entry: (entry["when"], entry["id"])), "drafts": drafts, "guesses": guesses}


@contextmanager
def held(file: Path):
    """Nobody else writes this file meanwhile. The lock is the operating system's: it ends with the process that held it."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        with FileLock(file.with_name(f".{file.name}.lock"), timeout=PATIENCE):
            for left in file.parent.glob(f".{file.name}.*.new"):  # of a process that ended while it wrote
                left.unlink(missing_ok=True)
            yield
    except Timeout:
        raise InputError(f"{file.name} is being written by another program. Nothing is lost: try once more.") from None
    except OSError as reason:
        raise InputError(
            f"The folder {file.parent.name} cannot be used ({reason.strerror}). Keep this page open and ask for another folder."
        ) from None


def take_in(file: Path, mine: dict) -> tuple[dict, Path | None]:
    """What is in the file and in memory together, and the new name of the file if it was damaged. Call it while `held`."""
    try:
        return merged(mine, load(file)), None
    except FileNotFoundError:
        return mine, None
    except Damaged:
        return mine, kept_aside(file)


def write(file: Path, content: dict) -> None:
    """The whole content, or none of it. Call it while `held`."""
    write_whole(file, json.dumps(content, ensure_ascii=False, indent=1) + "\n", replace=True)
