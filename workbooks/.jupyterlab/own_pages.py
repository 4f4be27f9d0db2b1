"""Which pages came with the workbook, unchanged: only those run by themselves when they are opened.

`own_pages.json` holds a mark of each; run this file to write it anew after a page was changed on purpose.
"""

import hashlib
import json
from pathlib import Path

MARKS = Path(__file__).with_name("own_pages.json")


def mark_of(page: Path) -> str:
    """The mark of a page as it is now: the same however its lines end and its fields are ordered."""
    content = json.loads(page.read_text(encoding="utf-8"))
    return hashlib.sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()


def unchanged(folder: Path) -> "list[Path]":
    """The pages in a folder of workbooks that are as they came."""
    marks = json.loads(MARKS.read_text(encoding="utf-8"))
    pages = ((folder / name, mark) for name, mark in marks.items())
    return [page for page, mark in pages if page.exists() and mark_of(page) == mark]


def write(folder: Path) -> None:
    """Take the pages of a folder of workbooks as those that come with it."""
    pages = sorted(page for page in folder.rglob("*.ipynb") if ".ipynb_checkpoints" not in page.parts)
    marks = {page.relative_to(folder).as_posix(): mark_of(page) for page in pages}
    MARKS.write_text(json.dumps(marks, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    write(Path(__file__).parent.parent)
