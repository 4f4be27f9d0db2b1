"""The lessons that a school hands out: all of them, until its instructor chooses some."""

import json

from ..quantities.errors import InputError, shown, unknown_name
from ..storage import own_material
from ..storage.files import NotThere, held, read_bytes, write_whole
from .bank import lessons

LARGEST = 10_000  # bytes of the file; one that names all lessons has some hundred
NAMED = "lessons"  # the field of the file


def handed_out() -> tuple[str, ...]:
    """The lessons that are handed out, in teaching order; all of them where the school's file cannot be read."""
    try:
        return chosen(read_bytes(own_material.lessons(), LARGEST), own_material.lessons().name)
    except InputError:
        return lessons()


def slip() -> str:
    """Says what is wrong with the school's file and what to do, "" where nothing is."""
    try:
        handed = read_bytes(own_material.lessons(), LARGEST)
        chosen(handed, own_material.lessons().name)
    except NotThere:  # the usual case: all are handed out
        return ""
    except InputError as error:
        return f"{error} Until then all lessons are handed out."
    return ""


def chosen(content: bytes, name: str) -> tuple[str, ...]:
    """The lessons that the content of a school's file names. Raises InputError that names the file and the remedy."""
    remedy = "Tick the lessons anew on the page of your own material."
    try:
        found = json.loads(content)[NAMED]
        named = [one for one in found if isinstance(one, str)]
        if len(named) != len(found) or isinstance(found, str):
            raise ValueError("not names alone")
    except (ValueError, TypeError, KeyError, RecursionError):
        raise InputError(f"{shown(name)}: this is no list of lessons. {remedy}") from None
    if not named:
        raise InputError(f"{shown(name)}: it names no lesson, and at least one is handed out. {remedy}")
    for one in named:
        if one not in lessons():
            raise unknown_name(f"{shown(name)}, lesson", one, list(lessons()), remedy)
    return tuple(one for one in lessons() if one in named)


def hand_out(named) -> None:
    """From now on these lessons are handed out. Raises InputError: none is named, or one that there is not; the folder
    cannot be used.
    """
    content = json.dumps({NAMED: list(named)})
    file, kept = own_material.lessons(), chosen(content.encode(), own_material.lessons().name)
    with held(file):
        if kept == lessons():
            file.unlink(missing_ok=True)  # so that a lesson that a newer workbook brings is among them
        else:
            write_whole(file, content, replace=True)


def in_words(handed) -> str:
    """Names lessons by their numbers: "lesson 02", "lessons 01, 02 and 07"."""
    *first, last = handed
    return f"lessons {', '.join(first)} and {last}" if first else f"lesson {last}"
