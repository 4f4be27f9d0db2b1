"""Speed of marking, keeping and reading a class; never asserts a time. Measure with --benchmark-enable -s.

Aims: a class of 40 files within 2 s, an answer marked and kept within 50 ms, the key of a seat within 3 s.
"""

from lessons_lib import Q_
from lessons_lib.exercises import key, learner, lessons, question, questions, read_class
from lessons_lib.exercises.variants import _variant

ROOM = 40


def filled_room():
    """40 learners with an answer or three to every numeric question of four lessons, and a guess for each lesson."""
    asked = [one for one in questions() if one.kind == "number" and one.lesson in ("01", "05", "08", "11")]
    for seat in range(1, ROOM + 1):
        who = learner(f"Learner {seat}", seat)
        for place, one in enumerate(asked):
            for _ in range((seat + place) % 3):
                who.answer(one, "1")
            who.answer(one, str(who.variant(one).answer.magnitude))
        for lesson in range(1, 15):
            who.keep_guess(f"{lesson:02d}", Q_(30 + seat, "degC"), "temperature")


def test_a_class_of_40(benchmark):
    filled_room()
    found = benchmark.pedantic(read_class, rounds=3)
    assert len(found.learners) == ROOM and not found.skipped and len(found.guesses) == len(lessons())


def test_an_answer(benchmark):
    who, one = learner("Ana", 7), question("01-hot-share")
    assert not benchmark.pedantic(who.answer, (one, "1 %"), rounds=20).right


def test_a_key(benchmark):
    def fresh():
        _variant.cache_clear()
        return key(7)

    assert len(benchmark.pedantic(fresh, rounds=2)) == len(questions())
