"""Writes a school's own questions, one file each, and takes them away without losing them."""

from pathlib import Path

import tomlkit

from ..quantities.errors import InputError
from ..storage import own_material
from ..storage.files import held, write_whole
from .bank import OWN, lesson_of, read_again
from .question import Question
from .question_file import of_table

ASIDE = "put aside"  # the folder, beside the files, of questions that were taken away
HEAD = (
    "Written by the page of your school's own material, which also changes it. Fields: data/questions/_template.toml."
)


def file_of(identity: str) -> Path:
    """Says where a question of a school's own stands: "own-02-1" in 02-own-1.toml."""
    lesson, _, number = identity.removeprefix(OWN).partition("-")
    return own_material.folder() / "questions" / f"{lesson}-{OWN}{number}.toml"


def free_id(lesson: str) -> str:
    """Gives an id that no question of a school's own in this lesson has, or had: learners' files may still name it."""
    stood = file_of(f"{OWN}{lesson}-0").parent
    files = [*stood.glob(f"{lesson}-{OWN}*.toml"), *(stood / ASIDE).glob(f"{lesson}-{OWN}*.toml")]
    numbers = (file.stem.removeprefix(f"{lesson}-{OWN}").partition(" ")[0] for file in files)
    return f"{OWN}{lesson}-{max((int(one) for one in numbers if one.isdecimal()), default=0) + 1}"


def made_of(entry: dict) -> Question:
    """The question that an entry of a question file says. Raises InputError."""
    (made,) = of_table("Your question", {"question": [entry]}, lesson_of(entry["id"]))
    return made


def keep(entry: dict) -> Path:
    """Write a question to its own file, over an earlier wording of it; from now on it is asked in its lesson.

    entry : as in a question file, with an id like "own-02-1". Raises InputError: it cannot be asked, or not be written.
    """
    made_of(entry)
    file = file_of(entry["id"])
    document = tomlkit.document()
    document.add(tomlkit.comment(HEAD))
    document.add("question", tomlkit.item([entry]))
    with held(file):
        write_whole(file, tomlkit.dumps(document), replace=True)
    read_again()
    return file


def take_away(identity: str) -> Path:
    """Move the file of a question into the folder "put aside", where no page asks it. Gives where it lies now.

    Raises InputError: it is gone already, or its folder cannot be written to.
    """
    file = file_of(identity)
    if not file.is_file():
        read_again()
        raise InputError("This question was taken away already. Open this page again.")
    try:
        with held(file):
            folder = file.parent / ASIDE
            folder.mkdir(exist_ok=True)
            aside, number = folder / file.name, 2
            while aside.exists():
                aside, number = folder / f"{file.stem} ({number}).toml", number + 1
            file.rename(aside)
    except OSError as reason:
        raise InputError(f"The question could not be moved ({reason.strerror}): it stays where it is.") from None
    finally:
        read_again()
    return aside
