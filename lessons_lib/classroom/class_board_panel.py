"""The class board: a folder of learners' files as a picture; who is stuck and which files were skipped in words
beside it.
"""

import os
from dataclasses import dataclass, replace
from pathlib import Path

import ipywidgets as widgets

from ..exercises import ClassReading, lessons, names, read_class
from ..exercises.bank import lesson_of, name_of, read_again
from ..exercises.class_reading import answers_told, by_need, mistakes_of
from ..exercises.learner import folder
from ..panels.controls import Choice
from ..panels.hand_calculation import Sums
from ..panels.lists import Typed
from ..panels.panel import Panel
from ..panels.readout import Readout
from ..quantities.errors import InputError
from ..quantities.results import Word
from ..storage import preferences
from ..storage.tables import DATA
from .class_board_picture import ClassBoardPicture, GuessRow, QuestionRow, Scene
from .what_next import what_next

INVENTED, HERE, ROOM, ELSEWHERE = (
    "an invented class",
    "answers on this machine",
    "this machine's room",
    "another folder",
)
ALL, SHOWN, HIDDEN = "all lessons", "shown", "hidden"
LISTED = 12  # lines of a list on the screen


class ClassBoard(Panel):
    """A panel whose picture is read from files, anew whenever Refresh is pressed."""

    def update(self) -> None:
        """Reads the answers and draws the board. A folder can be typed as soon as one is asked for, also while none is
        there that could be drawn.
        """
        if self.state["source"] == ELSEWHERE:
            self.controls["folder"].set_active(True)
        super().update()

    def refresh(self) -> None:
        """Reads the answers anew, and a school's own questions too: one may have been made or taken away meanwhile."""
        read_again()
        self.update()

    def _tell_ready(self) -> None:
        """Says what is wrong with the folder: then no class is shown, least of all the one from before."""
        if self.scene.trouble:
            self._tell(f"▲ {self.scene.trouble}")
        else:
            super()._tell_ready()

    def _buttons(self) -> list:
        refresh = widgets.Button(
            description="Refresh", button_style="primary", tooltip="Read the files again", layout={"width": "90px"}
        )
        refresh.on_click(lambda _: self.refresh())
        return [refresh, *super()._buttons()]


@dataclass(frozen=True)
class ReadScene(Scene):
    """A scene that remembers the class it was made from, for the lists beneath the picture. trouble : why there is
    none; ""
    """

    reading: ClassReading
    trouble: str = ""


def class_board() -> ClassBoard:
    """The class board, opened on an invented class, so that nobody's answers appear on a wall unasked."""
    return ClassBoard(
        {
            "Whose answers": {
                "source": Choice(
                    "Answers of",
                    [INVENTED, HERE, ROOM, ELSEWHERE],
                    INVENTED,
                    "the invented class shows how to read the board",
                ),
                "folder": Typed("Folder", "", "where the learners' files lie, if elsewhere"),
            },
            "What is shown": {
                "lesson": Choice(
                    "Lesson", [ALL, *lessons()], ALL, "questions, guesses and mistakes of one lesson, or of all"
                ),
                "names": Choice(
                    "Names", [HIDDEN, SHOWN], HIDDEN, "in the list below the picture; show them when you are alone"
                ),
            },
        },
        scene,
        ClassBoardPicture,
        readouts,
        idle=lambda state: () if state["source"] == ELSEWHERE else ("folder",),
        headline=headline,
    )


def scene(state: dict) -> Scene:
    """Gives what is drawn for the settings; for a folder that cannot be read nobody, and why."""
    try:
        return scene_of(read(state), state)
    except InputError as error:
        return replace(scene_of(NOBODY, state), trouble=str(error))


NOBODY = ClassReading((), (), (), (), (), ())


def read(state: dict) -> ClassReading:
    """The class that the settings name. Raises InputError: no such folder."""
    hide = state["names"] == HIDDEN
    if state["source"] == INVENTED:
        return read_class(DATA / "class", hide)
    if state["source"] in (HERE, ROOM):
        place = folder() if state["source"] == HERE else preferences.folder() / "room"
        return read_class(place, hide) if place.is_dir() else NOBODY
    typed = state["folder"].strip().strip("\"'")
    if not typed:
        raise InputError("folder: nothing was typed. Type the folder that holds the learners' files.")
    return read_class(Path(os.path.expanduser(typed)), hide)  # pathlib's own fails for a user who does not exist


def scene_of(reading: ClassReading, state: dict) -> Scene:
    """Gives what is drawn of a class: one lesson, or all."""
    chosen = state["lesson"]
    questions = by_need(one for one in reading.questions if chosen in (ALL, lesson_of(one.question)))
    stuck = {label for one in questions for label in one.stuck}
    title = {INVENTED: "INVENTED class", HERE: "This machine", ROOM: "The room", ELSEWHERE: "This folder"}[
        state["source"]
    ]
    return ReadScene(
        title if chosen == ALL else f"{title}, lesson {chosen}",
        len(reading.learners),
        tuple(QuestionRow(one.question, one.tried, one.right, one.right_at_once) for one in questions),
        tuple(_guess(one) for one in reading.guesses if chosen in (ALL, one.key[:2])),
        tuple((names.clean(name), count) for name, count in mistakes_of(questions)),
        len(stuck),
        len(reading.skipped),
        what_next(reading, questions),
        reading,
    )


def _guess(one) -> GuessRow:
    unit = one.median.units
    own = [guess.guessed.to(unit).magnitude for _, guess in one.guesses]
    offs = () if one.model is None else tuple(value - one.model.to(unit).magnitude for value in own)
    return GuessRow(names.clean(one.key), one.kind, offs, one.median, one.model)


def headline(scene: Scene, system: str) -> str:
    """Names the question that the class needs most, or says that none was answered."""
    if not scene.questions:
        return "No answer yet"
    hardest = scene.questions[0]
    return f"Lowest: {hardest.name}, {hardest.right} of {hardest.tried} right"


def readouts(scene: Scene, system: str) -> list[Readout]:
    """Gives four cards; none names anybody."""
    if not scene.questions:
        word = Word("no answers yet" if scene.learners else "nobody yet", 1)
        return [Readout("Class", word, f"{scene.learners} learners")]
    hardest = scene.questions[0]
    at_once = scene.at_once
    grave = 0 if hardest.share >= 0.7 else 1 if hardest.share >= 0.4 else 2
    mistake = scene.mistakes[0] if scene.mistakes else ("none", 0)
    return [
        Readout(
            "First answers", Word(f"{100 * at_once:.0f} % right", int(at_once < 0.6)), f"{scene.learners} learners"
        ),
        Readout("Hardest", Word(f"{hardest.right} of {hardest.tried} right", grave), hardest.name),
        Readout(
            "Most common mistake",
            Word(f"{mistake[1]} learner{'' if mistake[1] == 1 else 's'}", 1 if mistake[1] else 0),
            f"“{mistake[0]}”" if mistake[1] else mistake[0],
        ),
        Readout("Stuck", Word(f"{scene.stuck} of {scene.learners}", min(scene.stuck, 2)), "three wrong, none right"),
    ]


def class_lists(board: ClassBoard) -> Sums:
    """Gives what to say next, every question with its mistakes, who is stuck, and which files were skipped; follows the
    board.
    """
    return Sums(board, written)


def written(scene: Scene, system: str) -> dict:
    """Gives the lists of the board, heading → lines."""
    reading, shown = scene.reading, {one.identity for one in scene.questions}
    stuck = [
        f"{label}: {', '.join(name_of(one) for one in ids if one in shown)}"
        for label, ids in reading.stuck
        if shown & set(ids)
    ]
    made = {one.question: one.mistakes for one in by_need(reading.questions)}
    everyone = [
        line
        for one in scene.questions
        for line in (
            f"{one.name}: {one.right} of {one.tried} right, {one.at_once} at once",
            *(f"{name_of(one.identity)} {_mistake(one.identity, *mistake)}" for mistake in made[one.identity]),
        )
    ]
    # then a file's name, which begins with its learner's, is hidden too
    hidden = reading.learners[:1] == ("learner 1",)
    skipped = [f"{'a file' if hidden else names.clean(name)}: {names.clean(why)}" for name, why in reading.skipped]
    return {
        "What to say next": [scene.next],
        "Who is stuck (three wrong answers to a question, none right)": _some(stuck) or ["nobody"],
        "Learners": [", ".join(reading.learners) or "none"],
        "Every question, by need, with what was answered instead": everyone or ["none tried"],
        "Files that were skipped and left alone": _some(skipped) or ["none"],
    }


def _mistake(identity: str, name: str, labels: tuple, answers: tuple) -> str:
    """A mistake, how many made it, and what they answered; names stand where they are not hidden."""
    who = f" ({', '.join(labels)})" if not labels[0].startswith("learner ") else ""
    told = answers_told(identity, answers)
    return (
        f"“{names.clean(name)}”: {len(labels)} learner{'s' if len(labels) > 1 else ''}{who}"
        f"{f'; answered {told}' if told else ''}"
    )


def _some(lines: list) -> list:
    """The first of many lines, and how many more."""
    return lines if len(lines) <= LISTED else [*lines[:LISTED], f"and {len(lines) - LISTED} more"]
