"""A member's own files: layouts, sheets and take-offs as downloads, and own layouts from elsewhere."""

import asyncio
import os
from pathlib import Path
from urllib.parse import quote

from tornado import web

from lessons_lib.building.of_school import LARGEST_LAYOUT, brought
from lessons_lib.quantities.errors import InputError, shown
from lessons_lib.storage import preferences
from lessons_lib.storage.files import NotThere, held, plain_name, read_bytes, write_whole

from . import door

# ending of what lies in a member's folder of layouts: what it is, and what a browser is told that it is
KINDS = {
    ".toml": ("layout", "text/plain; charset=utf-8"),
    ".html": ("sheet as a web page", "text/html; charset=utf-8"),
    ".pdf": ("sheet as PDF", "application/pdf"),
    ".csv": ("table", "text/csv; charset=utf-8"),
}
LARGEST_FILE = 20_000_000  # bytes of a file that is given out
MOST_FILES = 200  # of one member
PLACE = (
    'Your layouts lie in the room\'s computer. Open the one that you brought along in lesson 11, in the box "Layout".'
)


def layouts_of(room, account: str) -> Path:
    """Gives the folder where a member's layouts and all that is made from them lie; it need not be there yet."""
    return room.members.folder(account) / preferences.LAYOUTS


def own_files(folder: Path) -> list[tuple[str, str, str]]:
    """Gives name, kind and size in words of each file in a member's folder, layouts first. A link is not a file of theirs."""
    if not folder.is_dir():
        return []
    order = list(KINDS)
    files = [file for file in folder.iterdir() if file.suffix in KINDS and file.is_file() and not file.is_symlink()]
    return [
        (file.name, KINDS[file.suffix][0], f"{max(1, round(file.stat().st_size / 1000))} kB")
        for file in sorted(files, key=lambda file: (order.index(file.suffix), file.name))
        if not file.name.startswith(".")
    ]


def keep_layout(folder: Path, name: str, content: bytes) -> str:
    """Keeps a layout that a member brought along, and gives its name there.

    Raises InputError: it is too large, no layout, has an impossible name or that of a file that is there; nothing is kept.
    """
    given = Path(name.replace("\\", "/")).name
    if not given.endswith(".toml"):
        raise InputError(
            f"{shown(given)} is not a layout. Bring a file whose name ends in .toml, as lesson 11 writes it."
        )
    file = folder / f"{plain_name(given)}.toml"
    brought(content, file.name)
    with held(file):
        if len(own_files(folder)) >= MOST_FILES:
            raise InputError(f"There are {MOST_FILES} files of yours already. Ask your instructor to clear them away.")
        write_whole(file, content)
    return file.name


class FilesPage(door.Page):
    """Shows a member's own files, and takes a layout."""

    def get(self):
        """Show the list."""
        self.tell()

    async def post(self):
        """Take a layout; what is wrong with it is said, and nothing is kept."""
        account = door.current_member(self)
        brought = self.request.files.get("layout", [])
        if len(brought) != 1 or not brought[0]["filename"]:
            return self.tell("No file was chosen. Choose a layout, then press the button.", 400)
        folder = layouts_of(self.room, account)
        try:
            name = await asyncio.to_thread(keep_layout, folder, brought[0]["filename"], brought[0]["body"])
        except InputError as error:
            return self.tell(f"Not kept. {error}", 400)
        self.tell(kept=f"{name} is kept. {PLACE}")

    def tell(self, told: str = "", status: int = 200, kept: str = "") -> None:
        """Send the list, with a sentence on what went wrong or was kept."""
        account = door.current_member(self)
        files = own_files(layouts_of(self.room, account))
        rows = [(name, kind, size, f"/files/{quote(name)}") for name, kind, size in files]
        self.show("files.html", status, told=told, kept=kept, rows=rows, largest=LARGEST_LAYOUT // 1000)


class OneFile(door.Page):
    """Gives one of the member's own files, as a download."""

    def get(self, name: str):
        """Send it; only a name of the list is one."""
        folder = layouts_of(self.room, door.current_member(self))
        if name not in {known for known, _, _ in own_files(folder)}:
            raise web.HTTPError(404)
        try:
            content = read_bytes(folder / name, LARGEST_FILE)
        except NotThere:
            raise web.HTTPError(404) from None
        self.set_header("Content-Type", KINDS[os.path.splitext(name)[1]][1])
        self.set_header("Content-Disposition", f"attachment; filename*=UTF-8''{quote(name)}")
        self.set_header("Cache-Control", "no-store")
        self.finish(content)


def handlers(room) -> list:
    """The pages of this part of the room."""
    return [(r"/files", FilesPage), (r"/files/([^/]+)", OneFile)]
