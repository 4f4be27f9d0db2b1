"""The start page's list: which lessons a learner has begun and done, and what was right, also from other pages."""

from lessons_lib import Q_
from lessons_lib.exercises import learner, of_lesson
from lessons_lib.lessons import start_here
from lessons_lib.panels.page_state import answering, choose_learner, forget_learner


def right_to(who, question) -> str:
    own = who.variant(question)
    letters = {key: letter for letter, key, _ in own.choices}
    if own.is_number:
        return f"{own.answer.magnitude:.8f}"
    return ", ".join(letters[key] for key in own.answer) if question.kind == "order" else letters[own.answer]


def test_nobody_is_asked_for_a_name():
    assert "Give your name" in start_here.progress().words


def test_a_lesson_is_begun_then_done_and_the_list_follows_who_answers():
    shown = start_here.progress()
    choose_learner("Ana", "7")
    assert shown.words == "You have not begun a lesson yet."
    first, second, *others = of_lesson("02")
    who = answering().learner
    who.answer(first, right_to(who, first))
    shown.look_again()
    asked = len(others) + 2
    begun = f"Lesson 02 is begun. 1 of {asked} questions is right. Still to do: the guess, question 2."
    assert shown.words == begun and begun in shown.told.value
    who.keep_guess("02", Q_(45, "degC"), "temperature")
    shown.look_again()
    assert "Still to do: compare your guess, question 2." in shown.words
    who.compare_guess("02", Q_(59, "degC"))
    who.answer(second, right_to(who, second))
    shown.look_again()
    assert shown.words == f"Lesson 02: the ten minutes are done. 2 of {asked} questions are right."
    forget_learner()
    assert "Give your name" in shown.words


def test_answers_that_another_page_kept_are_found():
    choose_learner("Ana", "7")
    shown, elsewhere = start_here.progress(), learner("Ana", "7")
    question = of_lesson("03")[0]
    elsewhere.answer(question, right_to(elsewhere, question))
    assert "03" not in shown.words
    shown.look_again()
    assert shown.words.startswith("Lesson 03 is begun. 1 of ")
