"""Work on a layout that is not saved yet: kept at every edit beside the reader's own files, and offered when the page
opens again.
"""

import json
import secrets
from hashlib import sha256
from html import escape
from pathlib import Path
from typing import NamedTuple

import ipywidgets as widgets

from ...building.source import MOST_BYTES
from ...quantities.errors import InputError
from ...storage import preferences
from ...storage.files import read_bytes, write_whole
from .arrangement import button
from .own_files import READY, came_along, changed_at, is_ready_made

FOLDER = ".not-saved"  # in the folder of the reader's layouts
SHOWN_OF_NAME = 40  # letters of a layout's name in that of its draft


class Draft(NamedTuple):
    """Work that was not saved. place : the draft's own file; file : of the layout; read : text of that file when it was
    opened; text : with the edits; when : the last edit, in words
    """

    place: Path
    file: Path
    read: str
    text: str
    when: str


class Drafts:
    """The drafts of one page. unreadable : names of drafts that could not be read"""

    def __init__(self):
        self.mark, self.unreadable = secrets.token_hex(4), []

    def keep(self, file: Path, read: str, text: str) -> str:
        """Keeps the text of a layout, or takes its draft away where nothing is unsaved; gives what to say of it."""
        place, named = self._place(file), file.name if came_along(file) else str(file)
        try:
            if text == read:
                if place.is_file():
                    place.unlink()
                return ""
            place.parent.mkdir(parents=True, exist_ok=True)
            write_whole(place, json.dumps({"file": named, "read": read, "text": text}, ensure_ascii=False), True)
        except (OSError, InputError) as reason:
            return f"Not saved yet, and no draft of it can be kept: {reason}"
        return "Not saved yet; a draft is kept."

    def found(self) -> list[Draft]:
        """The drafts of pages before this one, the latest first."""
        places = [one for one in _folder().glob("*.json") if self.mark not in one.name] if _folder().is_dir() else []
        self.unreadable, found = [], []
        for place in sorted(places, key=lambda one: one.stat().st_mtime, reverse=True):
            try:
                said = json.loads(read_bytes(place, 8 * MOST_BYTES))
                file = Path(said["file"])
                file = file if file.is_absolute() else READY / file.name
                draft = Draft(place, file, str(said["read"]), str(said["text"]), changed_at(place))
            except (InputError, ValueError, TypeError, KeyError, RecursionError):
                self.unreadable.append(place.name)
                continue
            if is_ready_made(file) or not preferences.in_room() or file.parent == preferences.layouts_folder():
                found.append(draft)
        return found

    def taken_up(self, draft: Draft) -> None:
        """Takes a draft of an earlier page away, for this page has kept its own."""
        if self._place(draft.file).is_file():
            draft.place.unlink(missing_ok=True)

    def _place(self, file: Path) -> Path:
        """Says where the draft of a layout lies; two pages have two."""
        known = sha256(str(file).encode()).hexdigest()[:8]
        return _folder() / f"{file.stem[:SHOWN_OF_NAME]}-{known}-{self.mark}.json"


class Offer:
    """Asks what to do with work that was not saved. take : (Draft) → opens it

    widget : a row of words and buttons, not shown where there is nothing to ask
    """

    def __init__(self, drafts: Drafts, take):
        self.drafts, self.waiting, self.take = drafts, drafts.found(), take
        self.words = widgets.HTML()
        self.buttons = [
            button("Take it up", self.take_up, "Open it with its edits; Undo goes back to the file"),
            button("Leave it", self.leave, "Not now: it is offered again when the page opens next time"),
            button("Throw it away", self.throw_away, "It cannot be brought back"),
        ]
        self.unreadable = f" {', '.join(drafts.unreadable)} could not be read and stays." if drafts.unreadable else ""
        self.widget = widgets.HBox(
            [self.words, *self.buttons], layout={"align_items": "center", "flex_flow": "row wrap", "width": "100%"}
        )
        self._show()

    def take_up(self) -> None:
        """Opens the work with its edits; from here on this page keeps a draft of it."""
        draft = self.waiting.pop(0)
        self.take(draft)
        self.drafts.taken_up(draft)
        self._show()

    def leave(self) -> None:
        """Leaves the work where it is, to be offered another time."""
        self.waiting.pop(0)
        self._show()

    def throw_away(self) -> None:
        """Takes the draft away for good."""
        self.waiting.pop(0).place.unlink(missing_ok=True)
        self._show()

    def _show(self) -> None:
        told = self.unreadable
        if self.waiting:
            draft = self.waiting[0]
            told = f"▲ Your work on {draft.file.stem} from {draft.when} was not saved.{told}"
        self.words.value = f'<span role="status" style="font-size:15px;line-height:1.3">{escape(told.strip())}</span>'
        self.widget.layout.display = None if told else "none"
        for one in self.buttons:
            one.layout.display = None if self.waiting else "none"


def _folder() -> Path:
    """Says where drafts lie."""
    return preferences.layouts_folder() / FOLDER
