"""Results of the bench, kept by name in one file of the reader's, and found again when a page is opened.

A file that cannot be read is set aside under a new name, never written over.
"""

import json
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from . import preferences
from .bench_result import BenchFit
from .errors import InputError
from .files import kept_aside, write_whole
from .plain_data import plain, restored
from .readings import LeftOut, Readings

NAME = "bench-results.json"
FORMAT, VERSION = "hot water runs: bench results", 1
KEPT_READINGS, KEPT_LEFT_OUT = 400, 50  # of a long logger file; the file itself stays with the reader
LONGEST = 60  # characters of a name


@dataclass(frozen=True)
class Saved:
    """One experiment: the panel's settings, its readings (a long file's thinned) and the fit, if there was one."""

    settings: dict
    readings: Readings
    fit: BenchFit | None


class Store:
    """The saved experiments by name. `notice` says what was found damaged, "" if nothing."""

    def __init__(self):
        self.file, self.notice = preferences.folder() / NAME, ""

    def all(self) -> dict[str, Saved]:
        """Name → Saved, the latest last. Raises InputError: the file cannot be opened, or comes from another version."""
        return {name: _saved(entry) for name, entry in self._entries().items()}

    def save(self, name: str, saved: Saved) -> str:
        """Keep an experiment under a name, instead of an earlier one of that name; returns the name as kept.

        Raises InputError: no name, or the file cannot be written.
        """
        name = " ".join(str(name).split())[:LONGEST]
        if not name:
            raise InputError("name: nothing was given. Type a name for this experiment, for example: leg in foam, March.")
        entries = self._entries()
        entries.pop(name, None)
        entries[name] = {
            "settings": plain(saved.settings),
            "readings": _thin(saved.readings).to_data(),
            "fit": None if saved.fit is None else _thin_fit(saved.fit).to_data(),
        }
        content = {"format": FORMAT, "version": VERSION, "results": entries}
        try:
            self.file.parent.mkdir(parents=True, exist_ok=True)
        except OSError as reason:
            raise InputError(f"{self.file.name} was not written ({reason.strerror}). Keep this page open and ask for another folder.") from None
        write_whole(self.file, json.dumps(content, ensure_ascii=False, indent=1, allow_nan=True) + "\n", replace=True)
        return name

    def _entries(self) -> dict:
        """The entries as plain data, each of them readable; {} and a notice where the file is damaged."""
        try:
            found = json.loads(self.file.read_text(encoding="utf-8"))
            if found["format"] != FORMAT:
                raise ValueError("another file")
            if found["version"] == VERSION:
                for entry in found["results"].values():
                    _saved(entry)
                return dict(found["results"])
        except FileNotFoundError:
            return {}
        except OSError as reason:
            raise InputError(f"{self.file.name} cannot be opened ({reason.strerror}). Nothing was changed; ask who set up this machine.") from None
        except (ValueError, KeyError, TypeError, AttributeError, RecursionError):  # InputError is a ValueError
            aside = kept_aside(self.file)
            self.notice = f"{self.file.name} could not be read. It was kept as {aside.name}, and a new one is begun."
            return {}
        raise InputError(f"{self.file.name} was written by another version of this workbook. It was left as it is; open it with that version.")


def _saved(entry: dict) -> Saved:
    """One entry; InputError, KeyError or TypeError where it is damaged."""
    settings = {key: tuple(value) if isinstance(value, list) else value for key, value in restored(entry["settings"]).items()}
    fit = None if entry["fit"] is None else BenchFit.from_data(entry["fit"])
    return Saved(settings, Readings.from_data(entry["readings"]), fit)


def _thin(readings: Readings) -> Readings:
    thin, more = readings.thinned(KEPT_READINGS), readings.left_out[KEPT_LEFT_OUT:]
    if len(thin.row) < len(readings.row):
        thin = replace(thin, name=f"{readings.name} ({len(thin.row)} of {len(readings.row)} readings)")
    if more:
        thin = replace(thin, left_out=(*readings.left_out[:KEPT_LEFT_OUT], LeftOut(more[0].row, f"this row and {len(more) - 1} more")))
    return thin


def _thin_fit(fit: BenchFit) -> BenchFit:
    """The same fit with the readings that are kept, and their residuals."""
    thin = _thin(fit.readings)
    return replace(fit, readings=thin, residuals=fit.residuals[np.isin(fit.readings.row, thin.row)])
