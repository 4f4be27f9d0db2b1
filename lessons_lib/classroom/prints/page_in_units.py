"""Lessons' pages run for paper in a plan's units, by a Python of their own: what the instructor has open keeps its
units and its goods, and no panel of a page on paper follows it from then on.
"""

import ast
import os
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import replace
from multiprocessing import get_context
from tempfile import TemporaryDirectory

from ...quantities.errors import InputError
from ...storage import own_material, preferences
from ..lesson_pages import LessonPage


class PagesInUnits:
    """Runs one page after the other; its Python starts with the first of them and ends with this object.

    system : unit system that the pages speak in, with the goods of its side
    """

    def __init__(self, system: str):
        self.system, self._folder, self._python = system, None, None

    def run(self, page: LessonPage) -> LessonPage:
        """The page with what its code gives in these units, in place of what it stored. Raises InputError: what a
        cell raises; the Python ended before its time.
        """
        if self._python is None:
            self._folder = TemporaryDirectory()
            begun = (self._folder.name, str(own_material.folder()), self.system, preferences.region(self.system))
            self._python = ProcessPoolExecutor(1, get_context("spawn"), _begin, begun)
        sources = [source for kind, source, _ in page.cells if kind == "code"]
        try:
            given = iter(self._python.submit(_outputs, sources).result())
        except BrokenProcessPool:
            raise InputError(
                f"{page.title}: the Python that makes it ready for paper ended before its time. Close what needs much"
                " memory, and write the sheets once more."
            ) from None
        cells = (
            (kind, source, ({"data": next(given)},) if kind == "code" else outputs)
            for kind, source, outputs in page.cells
        )
        return replace(page, cells=tuple(cells))


def _begin(folder: str, material: str, system: str, region: str) -> None:
    """Makes the new Python that of a reader with these units and goods, who gave no name and kept nothing, where the
    school's own material lies.
    """
    os.environ[preferences.FOLDER_VARIABLE] = folder
    os.environ[own_material.MATERIAL_VARIABLE] = material
    for variable in (preferences.ROOM_VARIABLE, preferences.NAME_VARIABLE, preferences.SEAT_VARIABLE):
        os.environ.pop(variable, None)
    preferences.keep_unit_system(system)
    preferences.keep_region(region)


def _outputs(sources: list[str]) -> list[dict]:
    """Gives what each code cell of a page shows, as a notebook stores it: kind of data → data."""
    names: dict = {}
    return [_bundle(_value(source, names)) for source in sources]


def _value(source: str, names: dict):
    """The value of a cell's last line, after the lines above it were run."""
    lines = ast.parse(source)
    last = lines.body.pop()
    exec(compile(lines, "cell", "exec"), names)
    return eval(compile(ast.Expression(last.value), "cell", "eval"), names)


def _bundle(value) -> dict:
    """Whatever paper can take of a value."""
    if hasattr(value, "_repr_mimebundle_"):
        return value._repr_mimebundle_(exclude={"image/png"})  # paper takes the lines, as PDF
    told = {"text/markdown": value._repr_markdown_()} if hasattr(value, "_repr_markdown_") else {}
    return {"text/plain": repr(value), **told}
