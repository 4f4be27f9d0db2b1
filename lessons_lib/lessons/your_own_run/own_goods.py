"""Layouts that came with the workbook, with the pipe, foam and tape measure of their reader."""

from pathlib import Path

import tomlkit

from ...building import LayoutDocument
from ...building.document import KINDS
from ...building.document_tables import put, read_with_comments
from ...panels.shared_controls import in_goods
from ...quantities.display import US, measured, show
from ...quantities.reading import read_quantity
from ...quantities.units import LENGTH, Q_, THICKNESS
from .own_files import came_along


def document_of(file: Path, system: str) -> LayoutDocument:
    """A layout file as a document whose rows can be shown. One that came with the workbook has the goods of a unit
    system's reader; a reader's own, and a school's, is as it is written. Raises InputError.
    """
    document = LayoutDocument.open(file)
    for kind in KINDS:
        document.rows(kind)
    if not came_along(file):
        return document
    whole = read_with_comments(document.text)
    usual, loop = dict(whole["usual"]), whole.get("loop", {})
    measured = whole.get("fittings_measured", [])
    for table in (whole["usual"], *whole["leg"], *loop.get("hot", []), *loop.get("return", []), *measured):
        for word, value in _in_goods(table, usual, system).items():
            put(table, word, value)
    return LayoutDocument(tomlkit.dumps(whole), document.name)


def opened_with_text(file: Path, system: str) -> tuple[LayoutDocument, str]:
    """The document of a file, and its text as it was opened. Raises InputError."""
    document = document_of(file, system)
    return document, document.text


def _in_goods(row: dict, usual: dict, system: str) -> dict:
    """Gives what a row, or what is usual, says otherwise for a reader of that system: word → text."""
    whole, said = usual | row, {}
    if "pipe" in row or "size" in row:
        found = in_goods({"pipe": (whole["pipe"], whole["size"])}, system)
        said["pipe"], said["size"] = found["pipe"]
    if "thickness" in row:
        found = in_goods({"thickness": read_quantity(row["thickness"], THICKNESS)}, system)
        said["thickness"] = show(found["thickness"], "thickness", system)
    if "length" in row and system == US:
        inches = read_quantity(row["length"], LENGTH).to("inch").magnitude
        said["length"] = measured(Q_(round(inches), "inch"), system)
    return {word: value for word, value in said.items() if word in row and value != row[word]}
