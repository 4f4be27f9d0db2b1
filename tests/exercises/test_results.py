"""What each learner did, from files: counted right, pauses left out, and read from a room's folder as from any other."""

import json

import pytest

from lessons_lib.exercises import folder, learner, lessons, question, read_class
from lessons_lib.exercises.results import Result, results_of, total

SHARE, SECOND = "01-hot-share", "02-tap-before-the-valve"


def a_try(number: int, asked: str, when: str, right: bool) -> dict:
    """Gives a try as it stands in a file."""
    return {
        "id": str(number),
        "when": when,
        "question": asked,
        "system": "SI",
        "text": "1",
        "right": right,
        "mistake": "",
    }


def at(minute: float) -> str:
    """Gives a moment of one morning."""
    return f"2026-03-02T{9 + int(minute // 60):02}:{int(minute % 60):02}:{round(minute % 1 * 60):02}.000000+00:00"


def content_of(tries, drafts=None, guesses=None) -> dict:
    """Gives the content of a learner's file."""
    return {"tries": tries, "drafts": drafts or {}, "guesses": guesses or {}}


def test_questions_answers_and_minutes_are_counted_by_lesson():
    tries = [
        a_try(1, SHARE, at(4), False),
        a_try(2, SHARE, at(6.5), True),
        a_try(3, "01-water-at-the-tap", at(20), False),
        a_try(4, SECOND, at(30), True),
    ]
    found = results_of(
        content_of(
            tries, {"01-time-to-burn": {"when": at(23), "text": "3"}}, {"01": {"when": at(0)}, "02": {"when": at(39)}}
        )
    )
    # in lesson 01: 0 to 4 to 6.5, then a pause of 13.5, then 20 to 23
    assert found == {"01": Result(2, 1, 3, 9.5), "02": Result(1, 1, 1, 9.0)}
    assert total(found.values()) == Result(3, 2, 4, 18.5) and total([]) == Result(0, 0, 0, 0.0)


@pytest.mark.parametrize("minutes, counted", [(10, 10.0), (10.1, 0.0)])  # the instructor's page says ten
def test_a_long_pause_is_not_time_at_work(minutes, counted):
    tries = [a_try(1, SHARE, at(0), False), a_try(2, SHARE, at(minutes), False)]
    assert results_of(content_of(tries))["01"].minutes == pytest.approx(counted)


def test_moments_that_are_none_and_lessons_that_are_none_are_left_out():
    tries = [
        a_try(1, SHARE, "yesterday", True),
        a_try(2, SHARE, "9999-12-31T23:59:59-23:59", True),
        a_try(3, "<b>-x", at(0), True),
    ]
    found = results_of(content_of(tries))
    assert found == {"01": Result(1, 1, 2, 0.0)} and set(found) <= set(lessons())


def test_each_learner_of_a_class_has_results():
    ana, asked = learner("Ana", 1), question(SHARE)
    ana.answer(asked, ana.variant(asked).shown_answer())
    learner("Ben", 2)
    found = {one.label: one for one in read_class().results}
    assert (found["Ana"].in_all.tried, found["Ana"].in_all.right, found["Ben"].in_all.answers) == (1, 1, 0)
    assert found["Ana"].file == ana.file.name
    hidden = read_class(hide_names=True)
    assert sorted(one.in_all.right for one in hidden.results) == [0, 1] and "ana" not in repr(hidden.results).lower()


def test_a_rooms_folder_is_read_as_one_class(tmp_path):
    for name in ("Ana", "Ben"):
        learner(name, "", tmp_path / "members" / f"{name.lower()}-1" / "answers").keep_draft(question(SHARE), "1")
    (tmp_path / "members" / "cem-1").mkdir()
    (tmp_path / "members.json").write_text("{}", encoding="utf-8")
    found = read_class(tmp_path)
    assert found.learners == ("Ana", "Ben") and found.skipped == (), "who has not answered yet is nothing odd"
    assert [one.file.partition("/")[0] for one in found.results] == ["ana-1", "ben-1"]
    (tmp_path / "members" / "ana-1" / "answers" / "notes.txt").write_text("x", encoding="utf-8")
    assert read_class(tmp_path).skipped == (("ana-1/notes.txt", "not a learner's file"),)


def test_a_folder_of_learners_folders_is_read_and_other_folders_are_named(tmp_path):
    own = learner("Ana", "", tmp_path / "pod-1" / "answers")
    (tmp_path / "photos").mkdir()
    learner("Ben", "", tmp_path)
    found = read_class(tmp_path)
    assert set(found.learners) == {"Ana", "Ben"} and found.skipped == (("photos", "not a learner's file"),)
    assert json.loads(own.file.read_text(encoding="utf-8"))["name"] == "Ana" and not folder().exists()
