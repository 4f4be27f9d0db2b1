"""Results of the bench, kept by name in one file of the reader's, and found again when a page is opened.

A file that cannot be read is set aside under a new name, never written over.
"""

import json
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from ..quantities.errors import InputError
from ..quantities.plain_data import plain, restored
from ..storage import preferences
from ..storage.files import NotThere, held, kept_aside, read_bytes, write_whole
from .readings import LeftOut, Readings
from .result import BenchFit

NAME = "bench-results.json"
FORMAT, VERSION, OLDER = "hot water runs: bench results", 2, (1,)  # and the versions that are read too
KEPT_READINGS, KEPT_LEFT_OUT = 400, 50  # of a long logger file; the file itself stays with the reader
LONGEST = 60  # characters of a name, and of what is written about an experiment
ABOUT = ("date", "people", "guess")
LARGEST = 20_000_000  # bytes; one experiment has some 30 thousand


class Damaged(ValueError):
    """A file that is none of ours, or no longer one."""


@dataclass(frozen=True)
class Saved:
    """Holds one experiment: the panel's settings, its readings (a long file's thinned), the fit, if there was one, and
    what the reader wrote about it: ABOUT → text.
    """

    settings: dict
    readings: Readings
    fit: BenchFit | None
    about: dict = field(default_factory=dict)


class Store:
    """The saved experiments by name. `notice` says what was found damaged, "" if nothing."""

    def __init__(self):
        self.file, self.notice = preferences.folder() / NAME, ""

    def all(self) -> dict[str, Saved]:
        """Name → Saved, the latest last. Raises InputError: the file cannot be opened, or comes from another
        version.
        """
        try:
            return _restored(_entries(self.file))
        except Damaged:  # looked at once more while nobody writes, and only then set aside
            with held(self.file):
                return self._whole(lambda: _restored(_entries(self.file)))

    def save(self, name: str, saved: Saved) -> str:
        """Keep an experiment under a name, instead of an earlier one of that name; returns the name as kept.

        What another page saved meanwhile is kept too. Raises InputError: no name, or the file cannot be written.
        """
        name = " ".join(str(name).split())[:LONGEST]
        if not name:
            raise InputError(
                "name: nothing was given. Type a name for this experiment, for example: leg in foam, March."
            )
        entry = {
            "settings": plain(saved.settings),
            "readings": _thin(saved.readings).to_data(),
            "fit": None if saved.fit is None else _thin_fit(saved.fit).to_data(),
            "about": {key: str(saved.about.get(key, ""))[:LONGEST] for key in ABOUT},
        }
        with held(self.file):
            entries = self._whole(lambda: _entries(self.file))
            entries.pop(name, None)
            entries[name] = entry
            text = (
                json.dumps(
                    {"format": FORMAT, "version": VERSION, "results": entries},
                    ensure_ascii=False,
                    indent=1,
                    allow_nan=True,
                )
                + "\n"
            )
            if len(text) > LARGEST:
                raise InputError(
                    f"{self.file.name} is full: it holds {len(entries) - 1} experiments. Give it another name, and a"
                    " new one is begun."
                )
            write_whole(self.file, text, replace=True)
        return name

    def _whole(self, look) -> dict:
        """Gives what is found; a damaged file is set aside, and `notice` says so. Call it while `held`."""
        try:
            return look()
        except Damaged:
            aside = kept_aside(self.file)
            self.notice = f"{self.file.name} could not be read. It was kept as {aside.name}, and a new one is begun."
            return {}


def _entries(file: Path) -> dict:
    """Name → entry as plain data; empty where there is no file yet.

    Raises Damaged; InputError: the file comes from another version, or cannot be opened.
    """
    try:
        raw = read_bytes(file, LARGEST)
    except NotThere:
        return {}
    try:
        found = json.loads(raw.decode("utf-8"))
        if found["format"] != FORMAT or not isinstance(found["results"], dict):
            raise Damaged("another file")
        if found["version"] in (VERSION, *OLDER):
            return found["results"]
    except (ValueError, KeyError, TypeError, RecursionError):
        raise Damaged("not readable") from None
    raise InputError(
        f"{file.name} was written by another version of this workbook. It was left as it is; open it with that version."
    )


def _restored(entries: dict) -> dict[str, Saved]:
    """Makes the entries of a file anew, name → Saved. Raises Damaged."""
    try:
        return {name: _saved(entry) for name, entry in entries.items()}
    # InputError is a ValueError
    except (ValueError, KeyError, TypeError, AttributeError, OverflowError, RecursionError):
        raise Damaged("not readable") from None


def _saved(entry: dict) -> Saved:
    """Makes one entry anew; InputError, KeyError or TypeError where it is damaged."""
    settings = {
        key: tuple(value) if isinstance(value, list) else value for key, value in restored(entry["settings"]).items()
    }
    fit = None if entry["fit"] is None else BenchFit.from_data(entry["fit"])
    about = {key: str(entry.get("about", {}).get(key, "")) for key in ABOUT}  # not kept at first
    return Saved(settings, Readings.from_data(entry["readings"]), fit, about)


def _thin(readings: Readings) -> Readings:
    thin, more = readings.thinned(KEPT_READINGS), readings.left_out[KEPT_LEFT_OUT:]
    if len(thin.row) < len(readings.row):
        thin = replace(thin, name=f"{readings.name} ({len(thin.row)} of {len(readings.row)} readings)")
    if more:
        thin = replace(
            thin,
            left_out=(*readings.left_out[:KEPT_LEFT_OUT], LeftOut(more[0].row, f"this row and {len(more) - 1} more")),
        )
    return thin


def _thin_fit(fit: BenchFit) -> BenchFit:
    """Gives the same fit with the readings that are kept, and their residuals."""
    thin = _thin(fit.readings)
    return replace(fit, readings=thin, residuals=fit.residuals[np.isin(fit.readings.row, thin.row)])
