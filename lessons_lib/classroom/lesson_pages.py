"""The lessons' own pages read as plain words: stop, bench, kit, risks. What stands on a page is printed from there
and nowhere typed twice.
"""

import json
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path

import mistune

from ..quantities.errors import InputError, unknown_name
from ..storage.tables import DATA

PAGES = DATA.parent / "workbooks"  # in a checkout; an installed wheel carries no pages
MARKDOWN = mistune.create_markdown(renderer="ast", plugins=["table"])


@dataclass(frozen=True)
class LessonPage:
    """Holds the page of one lesson. number : "02"; file : of the notebook; cells : (kind, source, stored outputs) of
    every cell, in order
    """

    number: str
    file: Path
    cells: tuple

    @cached_property
    def title(self) -> str:
        """ "02 · How hot at the tap" """
        first = next(source for kind, source, _ in self.cells if kind == "markdown")
        return first.splitlines()[0].removeprefix("# ")

    @property
    def name(self) -> str:
        """The title without its number."""
        return self.title.partition(" · ")[2]

    def section(self, heading: str) -> tuple:
        """The cells under a heading, their heading line left out. Raises InputError for a heading that the page has
        not.
        """
        found, inside, known = [], False, []
        for kind, source, outputs in self.cells:
            if kind == "markdown" and source.startswith("## "):
                line, _, source = source.partition("\n")
                known.append(line[3:])
                inside = line[3:] == heading
            elif kind == "markdown" and source.startswith("---"):
                inside = False  # a line across the page ends a part too
            if inside and source.strip():
                found.append((kind, source.strip(), outputs))
        if heading not in known:
            raise unknown_name(f"{self.file.name}, heading", heading, known)
        return tuple(found)

    def words(self, heading: str) -> str:
        """The paragraphs under a heading as plain words, a blank line between them."""
        return plain("\n\n".join(source for kind, source, _ in self.section(heading) if kind == "markdown"))

    def labelled(self, heading: str, label: str) -> str:
        """The paragraph that begins with a bold label, as plain words without it. Raises InputError where there is
        none.
        """
        found = {}
        for source in (source for kind, source, _ in self.section(heading) if kind == "markdown"):
            for first, *others in (token["children"] for token in MARKDOWN(source) if token["type"] == "paragraph"):
                if first["type"] == "strong":
                    found[token_words(first).removesuffix(".")] = "".join(map(token_words, others)).strip()
        if label not in found:
            raise unknown_name(f"{self.file.name}, paragraph", label, list(found))
        return found[label]

    @property
    def stop(self) -> str:
        """Gives what can hurt someone in this lesson."""
        return self.labelled("Stop and aim", "Stop")

    @property
    def aim(self) -> str:
        return self.labelled("Stop and aim", "Aim")

    @property
    def risks(self) -> str:
        """Risks, and who isolates what."""
        return self.labelled("For the instructor", "Risks, and who isolates what")

    @property
    def guess(self) -> str:
        """The question to guess at, as the page last stored it."""
        stored = [text for _, _, outputs in self.section("Guess first") if (text := stored_words(outputs))]
        return stored[0] if stored else self.words("Guess first")

    @property
    def bench(self) -> str:
        return self.words("At the bench")


def stored_words(outputs) -> str:
    """The plain words of a cell's stored outputs."""
    return "\n".join("".join(one.get("data", {}).get("text/plain", "")) for one in outputs).strip()


def plain(markdown: str) -> str:
    """Gives a Markdown text as plain words, in its lines: marks of emphasis and addresses of links are left out."""
    paragraphs = (MARKDOWN.inline(paragraph, {}) for paragraph in markdown.split("\n\n"))
    return "\n\n".join(
        "".join("\n" if token["type"] == "softbreak" else token_words(token) for token in tokens)
        for tokens in paragraphs
    ).strip()


def token_words(token: dict) -> str:
    """Gives the plain words of a Markdown token and of all in it."""
    if token["type"] in ("softbreak", "linebreak"):
        return " "
    inside = token.get("children")
    return token.get("raw", "") if inside is None else "".join(map(token_words, inside))


def lesson_pages(where: Path | None = None) -> dict[str, LessonPage]:
    """Number → page of every lesson there is, in teaching order.

    where : folder of the notebooks; None: that of this checkout
    Raises InputError: no pages there, or one that cannot be read.
    """
    folder = PAGES if where is None else Path(where)
    found = {file.name[:2]: _read(file) for file in sorted(folder.glob("[0-9][0-9]-*.ipynb"))}
    if not found:
        raise InputError(
            f"lessons: the folder {folder.name} holds no lesson. Prints and plans are made from the workbook's pages:"
            " run this in the workbook's own folder."
        )
    return found


def lesson_page(number: str) -> LessonPage:
    """The page of a lesson, "01" to "14". Raises InputError for another one."""
    pages = lesson_pages()
    if number not in pages:
        raise unknown_name("lesson", number, list(pages))
    return pages[number]


def _read(file: Path) -> LessonPage:
    """Gives the page in a file, read anew only where the file is another one than before."""
    try:
        seen = file.stat()
        return _as_written(file, seen.st_mtime_ns, seen.st_size, seen.st_ino)
    except OSError:
        raise _unreadable(file) from None


@lru_cache(maxsize=64)
def _as_written(file: Path, *_seen: int) -> LessonPage:
    try:
        cells = json.loads(file.read_text(encoding="utf-8"))["cells"]
        return LessonPage(
            file.name[:2],
            file,
            tuple((cell["cell_type"], "".join(cell["source"]), tuple(cell.get("outputs", ()))) for cell in cells),
        )
    except (ValueError, KeyError, TypeError):
        raise _unreadable(file) from None


def _unreadable(file: Path) -> InputError:
    return InputError(f"{file.name} can't be read as a lesson's page. Fetch it anew, or put another copy in its place.")
