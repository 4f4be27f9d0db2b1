"""Make the INVENTED class of data/class: twelve learners who never were, their answers and guesses.

    .venv/bin/python tests/make_demo_class.py

Run it anew when questions change. The same files come out each time: dice, times and ids are counted, not taken from the clock.
"""

import json
import random
import shutil
import tempfile
from pathlib import Path

from lessons_lib.exercises import learner, of_lesson
from lessons_lib.exercises.names import SUFFIX
from lessons_lib.lessons.hot_enough_not_too_hot import words as hot_enough
from lessons_lib.lessons.how_hot_at_the_tap import words as how_hot
from lessons_lib.lessons.where_the_heat_goes import words as heat_goes

FOLDER = Path(__file__).resolve().parent.parent / "data" / "class"
NAMES = ("Aro", "Bela", "Cem", "Dita", "Eno", "Fia", "Gil", "Hanne", "Ivo", "Jun", "Kaja", "Lio")
LESSONS = {"01": hot_enough.guess, "02": how_hot.guess, "06": heat_goes.guess}
NOTE = """INVENTED. Nobody of this class exists: tests/make_demo_class.py made its answers with dice, so that the class board has something to show.
The class board names this file as one that is no learner's; that is as it should be.
"""


def answers(who, skill: float, dice: random.Random, lessons) -> None:
    """Answer most questions of some lessons, wrong ones first where the dice say so."""
    for one in (one for lesson in lessons for one in of_lesson(lesson)):
        mine = who.variant(one)
        if dice.random() < 0.08:
            continue  # left out
        easy = random.Random(one.id).uniform(0.35, 1.0)  # the same question is hard for all
        for _ in range(dice.choice((1, 2, 3, 3))):
            if dice.random() < skill * easy:
                who.answer(one, mine.shown_answer().split(":")[0])
                break
            who.answer(one, wrong(mine, dice))


def wrong(variant, dice: random.Random) -> str:
    """A likely wrong answer."""
    if variant.question.kind == "choice":
        return dice.choice([letter for letter, key, _ in variant.choices if key != variant.answer])
    if variant.question.kind == "order":
        return ", ".join(letter for letter, _, _ in variant.choices)
    return f"{dice.choice(variant.wrongs[:2]).value.magnitude:.4g}"  # as somebody reads it off a calculator


def guesses(who, dice: random.Random, lessons) -> None:
    """Guess around the model's result, more often above it than below, and compare."""
    for lesson in lessons:
        asked = LESSONS[lesson]()
        model = asked.answer()
        unit = model.units
        who.keep_guess(
            lesson,
            type(model)(round(model.magnitude * dice.uniform(0.4, 2.6), 1), unit),
            asked.slide.kind,
            "fairly sure",
        )
        who.compare_guess(lesson, model)


def settled(file: Path) -> str:
    """The file with counted ids and times."""
    content = json.loads(file.read_text(encoding="utf-8"))
    for place, entry in enumerate(content["tries"]):
        entry["id"], entry["when"] = (
            f"{content['seat']:0>8}{place:08}",
            f"2000-01-01T10:{place // 60:02}:{place % 60:02}.000000+00:00",
        )
    for entry in content["guesses"].values():
        entry["when"] = "2000-01-01T09:00:00.000000+00:00"
    return json.dumps(content, ensure_ascii=False, indent=1) + "\n"


def main() -> None:
    shutil.rmtree(FOLDER, ignore_errors=True)
    FOLDER.mkdir()
    (FOLDER / "README.txt").write_text(NOTE, encoding="utf-8")
    dice = random.Random(7)
    with tempfile.TemporaryDirectory() as place:
        for seat, name in enumerate(NAMES, 1):
            who = learner(f"{name} (invented)", seat, Path(place))
            lessons = list(LESSONS)[: 3 if seat % 3 else 2]
            guesses(who, dice, lessons)
            answers(who, dice.uniform(0.4, 0.95), dice, lessons)
        for file in sorted(Path(place).glob(f"*{SUFFIX}")):
            (FOLDER / file.name).write_text(settled(file), encoding="utf-8")
    print(f"made {len(list(FOLDER.glob('*' + SUFFIX)))} learners who never were")


if __name__ == "__main__":
    main()
