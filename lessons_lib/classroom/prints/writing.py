"""Several sheets written into one folder, each whole or not at all; the set that lay there before is put aside."""

import hashlib
import os
import re
import shutil
import unicodedata
from datetime import datetime
from pathlib import Path

from ...quantities.errors import InputError
from ...storage import preferences

PAPERS = ("A4", "Letter")
EARLIER = "earlier"  # folder of the sets that were put aside, beside the newest one


def folder(of: str) -> Path:
    """Says where the prints of a page lie."""
    return preferences.seen_folder() / "prints" / of


class PrintedSet:
    """Prints that are made one after the other. files : those that are written; aside : folder of the earlier set,
    None where there was none

    makers : plain name without ending → function that makes what is saved under it; paper : "A4" or "Letter"
    """

    def __init__(self, makers: dict, paper: str, where: Path):
        self.makers, self.paper, self.where = makers, paper, where
        self.files, self.aside = (), None

    def steps(self):
        """Writes them, and yields after each what share is done. Nothing of the earlier set is touched before all are
        written. Raises InputError: the folder cannot be used; a sheet that cannot be made.
        """
        fresh = self.where / f".being-written-{os.getpid()}"
        try:
            fresh.mkdir(parents=True, exist_ok=True)
            made = []
            for number, (name, make) in enumerate(self.makers.items(), 1):
                made.append(make().save(fresh / f"{name}-{self.paper}.pdf", self.paper, replace=True))
                yield number / (len(self.makers) + 1)
            self._put_aside()
            self.files = tuple(one.replace(self.where / one.name) for one in made)
        except OSError as reason:
            raise InputError(
                f"The folder {self.where} can't be used ({reason.strerror}). Nothing was changed; ask who set up this"
                " machine."
            ) from None
        finally:
            shutil.rmtree(fresh, ignore_errors=True)

    def _put_aside(self) -> None:
        """Moves the set that lies there into a folder named by the time."""
        there = sorted(self.where.glob("*.pdf"))
        if there:
            self.aside = self.where / EARLIER / datetime.now().strftime("%Y-%m-%d %H.%M.%S.%f")[:-4]
            self.aside.mkdir(parents=True)
            for file in there:
                file.replace(self.aside / file.name)

    def told(self) -> str:
        """Says what became of the prints, in a sentence or two."""
        count = "1 file" if len(self.files) == 1 else f"{len(self.files)} files"
        aside = f" The earlier set was put aside, into {EARLIER}/{self.aside.name}." if self.aside else ""
        return f"Written: {count}, to {self.where}.{aside}"


def plain_name(*parts) -> str:
    """A name for a file from texts of any kind: plain letters, and a mark of its own where letters had to be left
    out.
    """
    text = " ".join(str(part) for part in parts)
    letters = unicodedata.normalize("NFKD", text.lower()).encode("ascii", "ignore").decode("ascii")
    plain = re.sub(r"[^a-z0-9]+", "-", letters).strip("-")
    if len(plain) <= 60 and not re.search(r"[^a-z0-9 ,.·-]", text.lower()):
        return plain
    return f"{plain[:48].strip('-') or 'sheet'}-{hashlib.sha256(text.encode('utf-8', 'surrogatepass')).hexdigest()[:6]}"
