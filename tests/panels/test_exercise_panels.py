"""Questions and guesses on a page: who answers, what is said, what is kept and comes back."""

import json
import re

import pytest
from ipywidgets import Button, Text

from lessons_lib import Q_, InputError, panels
from lessons_lib.exercises import learner, learner_file, lessons, of_lesson, question, variant
from lessons_lib.exercises.learner import EXAMPLE, folder
from lessons_lib.panels import arrival
from lessons_lib.panels import page_state as followers
from lessons_lib.panels.controls import Slide
from lessons_lib.panels.exercises import Exercise
from lessons_lib.panels.page_state import answering, choose_learner, choose_units, forget_learner
from lessons_lib.quantities.display import SI, US
from lessons_lib.storage import preferences

NUMBER, CHOICE, ORDER = "02-tap-before-the-valve", "02-what-cools-most", "10-order-of-work"


def ask(name: str) -> Exercise:
    return Exercise(question(name))


def typed_right(asked: Exercise) -> str:
    """The right answer as a learner might give it."""
    own = asked.variant
    if own.is_number:
        return f"{own.answer.magnitude:.8f}"
    letters = {key: letter for letter, key, _ in own.choices}
    return ", ".join(letters[key] for key in own.answer) if own.question.kind == "order" else letters[own.answer]


def typed_wrong(asked: Exercise) -> str:
    own = asked.variant
    if own.is_number:
        return "4711"
    letters = {key: letter for letter, key, _ in own.choices}
    if own.question.kind == "order":
        return ", ".join(letters[key] for key in reversed(own.answer))
    return next(letter for key, letter in letters.items() if key != own.answer)


def next_day() -> None:
    """Another kernel of the same reader."""
    followers._answering = None


@pytest.mark.parametrize("lesson", lessons())
def test_every_question_is_answered_in_both_units(lesson):
    choose_learner("Ana", "7")
    for units in (SI, US):
        choose_units(units)
        block = panels.exercises(lesson)
        assert len(block.exercises) == len(of_lesson(lesson))
        for one in block.exercises:
            one.box.set(typed_wrong(one))
            one.give()
            assert "Not right" in one.said and "Ask yourself" in one.said and "Worked:" not in one.said
            one.box.set(typed_right(one))
            one.give()
            assert one.said.startswith("● Right") and "Worked:" in one.said


@pytest.mark.parametrize("name", [NUMBER, CHOICE, ORDER])
def test_help_comes_in_steps(name):
    """First the thinking and one question back, then the hint, only then the working."""
    choose_learner("Ana", "7")
    one = ask(name)
    for steps in (
        ("Ask yourself",),
        ("Ask yourself", "Hint"),
        ("Ask yourself", "Hint", "Worked"),
        ("Ask yourself", "Hint", "Worked"),
    ):
        one.box.set(typed_wrong(one))
        one.give()
        assert [step for step in ("Ask yourself", "Hint", "Worked") if f"{step}: " in one.said] == list(steps)


def test_questions_mark_themselves_without_a_name_too():
    one = ask(NUMBER)
    assert one.variant.seat == EXAMPLE
    one.box.set(typed_wrong(one))
    one.give()
    assert "Not right" in one.said and "Ask yourself" in one.said
    one.box.set(typed_right(one))
    one.give()
    assert one.said.startswith("● Right") and not folder().exists()


def sign_in(name: str = "Ana", seat: str = "7"):
    who = panels.Who()
    who.name.value, who.seat.value = name, seat
    who.choose()
    return who


def offered(who) -> bool:
    return who.mine in who.shown


@pytest.mark.parametrize("units", [SI, US])
def test_signing_in_leaves_numbers_and_work_until_it_is_said_whose_they_are(units):
    choose_units(units)
    block, guessed = panels.exercises("02"), guess()
    answered, half, untouched = block.exercises[:3]
    answered.box.set(typed_wrong(answered))
    answered.give()
    half.box.box.value = "5"
    guessed.keep()
    before = [(one.variant.text, one.box.text, one.said) for one in block.exercises], guessed.said
    who = sign_in()
    assert offered(who) and "Was it you?" in who.shown[0].value and preferences.reader() == ("", "")
    assert ([(one.variant.text, one.box.text, one.said) for one in block.exercises], guessed.said) == before
    who.mine.click()
    assert answering().learner.name == "Ana" and preferences.reader() == ("Ana", "7")
    assert (answered.variant.text, answered.box.text, answered.said) == before[0][0]
    assert (half.variant.text, half.box.text, half.said) == before[0][1] and guessed.said == before[1]
    assert untouched.variant.text == variant(untouched.question, "7", units).text
    answered.give()
    next_day()
    again = panels.exercises("02").exercises
    assert [(one.variant.text, one.box.text) for one in again[:2]] == [shown[:2] for shown in before[0][:2]]
    assert len(again[0].learner.tries(again[0].question)) == 2 and "Hint" in again[0].said


def test_work_of_somebody_else_goes_to_nobody():
    one, guessed = ask(NUMBER), guess()
    one.box.set(typed_wrong(one))
    one.give()
    guessed.keep()
    who = sign_in()
    who.not_mine.click()
    who.not_mine.click()  # twice is once
    assert not answering().learner.has_work and one.box.text == "" and one.said == guessed.said == ""
    assert one.variant.text == variant(one.question, "7").text
    forget_learner()
    assert not answering().learner.has_work and one.variant.seat == EXAMPLE


def test_without_work_signing_in_asks_nothing():
    ask(NUMBER)
    assert not offered(sign_in()) and answering().learner.name == "Ana"


def test_what_is_taken_over_joins_what_there_was():
    """Ana answered before; today she guesses and answers once more before she says who she is."""
    choose_learner("Ana", "7")
    old = guess()
    old.slide.slider.value = 45
    old.keep()
    first = ask(NUMBER)
    first.box.set(typed_wrong(first))
    first.give()
    forget_learner()
    first.box.set(typed_right(first))
    first.give()
    guess().keep()
    sign_in().mine.click()
    own = answering().learner
    assert [one["right"] for one in own.tries(first.question)] == [False, True] and first.said.startswith("● Right")
    assert first.variant.seat == EXAMPLE and own.guess("02").guessed.magnitude == 45


def test_an_old_answer_is_not_marked_with_the_numbers_that_were_taken_over():
    """Ana was right with her own numbers; the half-typed answer that she takes along has the example's."""
    choose_learner("Ana", "7")
    one = ask(NUMBER)
    one.box.set(typed_right(one))
    one.give()
    forget_learner()
    one.box.box.value = "5"
    shown = one.variant.text
    sign_in().mine.click()
    assert one.variant.text == shown and one.box.text == "5" and answering().learner.solved(one.question)
    assert one.said == "● You answered this right with other numbers."
    choose_units(US)
    assert one.said == f"● You answered this right in {SI} units." and one.variant.seat == EXAMPLE


def test_what_was_typed_and_rubbed_out_is_no_work():
    one = ask(NUMBER)
    one.box.box.value = "5"
    one.box.box.value = ""
    assert not offered(sign_in()) and answering().learner.name == "Ana"


def test_a_file_that_cannot_be_written_leaves_the_work_on_the_page(monkeypatch):
    one = ask(NUMBER)
    one.box.set(typed_wrong(one))
    one.give()
    before = one.variant.text, one.box.text, one.said
    who = sign_in()

    def full(file, content):
        raise InputError("The disk is full.")

    monkeypatch.setattr(learner_file, "write", full)
    who.mine.click()
    assert "The disk is full." in who.told.value
    assert answering().learner.name == "Ana" and (one.variant.text, one.box.text, one.said) == before


def test_in_a_room_nothing_is_offered_and_no_number_changes(monkeypatch):
    """The door has said who answers before the page opens; a name that arrives from the page changes nothing."""
    for variable, value in ((preferences.ROOM_VARIABLE, "1"), (preferences.NAME_VARIABLE, "Ben")):
        monkeypatch.setenv(variable, value)
    next_day()
    one = ask(NUMBER)
    one.box.set(typed_wrong(one))
    one.give()
    before = one.variant.text, one.box.text, one.said
    who = sign_in("Ana", "7")
    followers.keep_work(True)
    forget_learner()
    assert not offered(who) and answering().learner.name == "Ben" and one.variant.seat == "ben"
    assert (one.variant.text, one.box.text, one.said) == before


def test_welcome_is_said_once_and_only_where_something_came_back():
    sign_in()
    next_day()
    assert "Welcome" not in panels.Who().told.value
    one = ask(NUMBER)
    one.box.box.value = "5"
    next_day()
    assert ["Welcome back: what you guessed" in panels.Who().told.value for _ in range(3)] == [True, False, False]
    one = ask(NUMBER)
    one.give()
    forget_learner()
    lines = [panels.Who(), sign_in(), panels.Who()]
    assert ["Welcome back: 1 answered question restored" in who.told.value for who in lines] == [False, True, False]


def test_somebody_else_begins_with_empty_boxes():
    who = sign_in()
    who.other.click()
    assert who.name in who.shown and who.name.value == who.seat.value == ""


def arrives() -> None:
    """What a browser does when it has sent everything that it held back."""
    for box in set().union(*arrival._waiting.values()):
        box.set_state({"repeated": box.asked})


def test_enter_and_clicks_act_on_what_arrives_after_them():
    """A browser holds "7.8" back behind "7" while the kernel is busy, and sends Enter at once."""
    one, who, guessed = ask(NUMBER), panels.Who(), guess()
    enter = {"event": "submit"}
    who.name.value = "P"
    who.name._handle_custom_msg(enter, [])
    assert answering().learner.is_nobody
    who.name.value = "Patricia"
    arrives()
    assert answering().learner.name == "Patricia"
    one.box.box.value = "7"
    one.box.box._handle_custom_msg(enter, [])
    one.button.click()
    one.box.box.value = "7.8"
    arrives()
    assert [tried["text"] for tried in one.learner.tries(one.question)] == ["7.8"]
    guessed.keep_button.click()
    guessed.slide.box.value = "44"
    arrives()
    assert answering().learner.guess("02").guessed.magnitude == 44


def test_an_older_answer_of_the_browser_is_not_enough_nor_that_of_one_box():
    one, other, done = arrival.Text(), arrival.FloatSlider(max=90), []
    first, second = (lambda said=said: done.append((said, other.value)) for said in ("first", "second"))
    arrival.on_arrival(first, one, other)
    arrival.on_arrival(second, one)
    one.set_state({"repeated": 1})
    assert not done
    one.set_state({"repeated": 2})
    assert done == [("second", 0)]
    other.set_state({"repeated": 1, "value": 45})
    assert done == [("second", 0), ("first", 45)]


def test_what_a_box_brings_with_its_answer_is_taken_first():
    """The number and the value travel together, in either order, and whoever listens to the value is heard first."""
    slider, heard = arrival.FloatSlider(max=90), []
    slider.observe(lambda change: heard.append(change["new"]), "value")
    arrival.on_arrival(lambda: heard.append("kept"), slider)
    slider.set_state({"repeated": 1, "value": 45})
    assert heard == [45, "kept"]


def test_focus_follows_the_item_that_is_moved():
    """By keyboard alone: the same widgets stay, and the focus goes to the moved item's own button."""
    one = ask(ORDER)
    box, focused = one.box, []
    rows, letters = box.widget.children, list(box.letters)
    for pair in box.buttons:
        for button in pair.values():
            button.focus = lambda button=button: focused.append(button)
    last = len(letters) - 1
    box.buttons[last][-1].click()
    box.buttons[last - 1][-1].click()
    assert box.widget.children == rows and box.letters[last - 2] == letters[last]
    assert focused == [box.buttons[last - 1][-1], box.buttons[last - 2][-1]]
    assert (
        f"{letters[last]}: " in box.texts[last - 2].value
        and box.words[letters[last]] in box.buttons[last - 2][-1].tooltip
    )
    box.buttons[1][-1].click()
    assert focused[-1] is box.buttons[0][1], "at the top the button up rests: the focus goes to the one down"


def test_a_box_for_inches_says_so():
    choose_units(US)
    boxes = [one.box for lesson in lessons() for one in panels.exercises(lesson).exercises if one.variant.is_number]
    words = " ".join(box.widget.children[1].value for box in boxes)
    assert "in inches (in), or with another unit" in words and not re.search(r"\bin in\b", words)


@pytest.mark.parametrize("name", [NUMBER, CHOICE, ORDER])
def test_what_was_answered_comes_back_the_next_day(name):
    choose_learner("Ana", "7")
    first = ask(name)
    first.box.set(typed_wrong(first))
    first.give()
    next_day()
    again = ask(name)
    assert not again.learner.is_nobody and again.variant is first.variant
    assert again.box.text == first.box.text and again.said == first.said
    again.box.set(typed_right(again))
    again.give()
    next_day()
    assert ask(name).said == again.said and "Right" in again.said


def test_what_was_only_typed_comes_back_too():
    choose_learner("Ana", "7")
    first = ask(NUMBER)
    first.box.box.value = "5"
    first.box.box.value = "55"
    next_day()
    again = ask(NUMBER)
    assert again.box.text == "55" and not again.learner.tries(again.question)


def test_opening_a_page_writes_no_answer():
    choose_learner("Ana", "7")
    first = ask(ORDER)
    first.box.move(0, 1)
    first.give()
    before = json.loads(first.learner.file.read_text(encoding="utf-8"))
    next_day()
    ask(ORDER)
    assert json.loads(first.learner.file.read_text(encoding="utf-8")) == before


@pytest.mark.parametrize(
    "text",
    [
        "",
        "   ",
        "lots",
        "12 parsnips",
        "3 m",
        "1" * 10_000,
        "<script>alert(1)</script>",
        "__import__('os')",
        "12; rm -r",
        "\x00",
        "½½",
    ],
)
def test_an_answer_that_is_none_is_said_and_costs_nothing(text):
    choose_learner("Ana", "7")
    one = ask(NUMBER)
    one.box.set(text)
    one.give()
    assert one.said.startswith("▲") and "<script" not in one.told.value and len(one.said) < 400
    assert not one.learner.tries(one.question)


@pytest.mark.parametrize(
    "name", ["<img src=x onerror=alert(1)>", "O'Neil & Sons", "../../etc/passwd", "名前", "a" * 300, "\u202etxt.exe"]
)
def test_any_name_is_one_harmless_line(name):
    who = panels.Who()
    who.name.value, who.seat.value = name, "3"
    who.choose()
    shown = "".join(part.value for part in who.shown if hasattr(part, "value")) + who.told.value
    assert not answering().learner.is_nobody and "<img" not in shown and "Answering" in shown
    assert [file.parent for file in folder().glob("*.json")] == [folder()]


def test_neither_name_nor_seat_is_said_and_answers_wait():
    one, who = ask(NUMBER), panels.Who()
    who.choose()
    assert "nothing was given" in who.told.value and one.learner.is_nobody
    who.seat.value = "12"
    who.choose()
    assert not one.learner.is_nobody and "▲" not in who.told.value


def test_a_file_of_another_version_is_left_and_said():
    own = learner("Ana", "7")
    content = own.file.read_text(encoding="utf-8").replace('"version": 1', '"version": 99')
    own.file.write_text(content, encoding="utf-8")
    who, one = panels.Who(), ask(NUMBER)
    who.name.value, who.seat.value = "Ana", "7"
    who.choose()
    assert "another version" in who.told.value and one.learner.is_nobody
    assert own.file.read_text(encoding="utf-8") == content


def test_a_damaged_file_is_kept_beside_and_said():
    own = learner("Ana", "7")
    own.file.write_text("{broken", encoding="utf-8")
    choose_learner("Ana", "7")
    who = panels.Who()
    assert "could not be read" in who.told.value and "kept as" in who.told.value
    assert any(file.read_text(encoding="utf-8") == "{broken" for file in folder().glob("*unreadable*"))


def test_another_learner_takes_over_and_the_first_comes_back():
    choose_learner("Ana", "7")
    one = ask(NUMBER)
    one.box.set(typed_right(one))
    one.give()
    said, text = one.said, one.variant.text
    choose_learner("Ben", "8")
    assert one.told.value == "" and one.box.text == "" and one.variant.text != text
    forget_learner()
    assert one.learner.is_nobody and preferences.reader() == ("", "")
    choose_learner("ana ", "07")
    assert one.said == said and one.variant.text == text


def test_units_are_changed_under_an_answer():
    choose_learner("Ana", "7")
    one = ask(NUMBER)
    one.box.set(typed_right(one))
    one.give()
    metric = one.said
    choose_units(US)
    assert "°F" in one.variant.text and "right in metric units" in one.said
    choose_units(SI)
    assert one.said == metric


def test_in_a_room_the_door_says_who_answers_and_choices_are_remembered(monkeypatch):
    monkeypatch.setenv(preferences.ROOM_VARIABLE, "1")
    monkeypatch.setenv(preferences.NAME_VARIABLE, "Ana")
    monkeypatch.setenv(preferences.SEAT_VARIABLE, "7")
    preferences.keep_reader("Ben", "8")  # of no effect in a room
    who, one = panels.Who(), ask(NUMBER)
    choose_units(US)
    one.box.set(typed_right(one))
    one.give()
    shown = "".join(child.value for child in who.shown)
    assert "Answering: Ana, seat 7." in shown and 'href="/leave"' in shown
    assert not any(isinstance(child, (Button, Text)) for child in who.shown)
    # what a browser could still send
    who.name.value = "Ben"
    who.begin.click()
    who.other.click()
    assert answering().learner.name == "Ana"
    next_day()
    assert answering().learner.name == "Ana" and preferences.unit_system() == US
    assert ask(NUMBER).said.startswith("● Right") and len(list(folder().glob("*.json"))) == 1


def test_a_folder_that_cannot_be_used_is_said(tmp_path, monkeypatch):
    (tmp_path / "taken").write_text("a file where a folder should be")
    monkeypatch.setenv(preferences.FOLDER_VARIABLE, str(tmp_path / "taken"))
    who = panels.Who()
    who.name.value = "Ana"
    who.choose()
    assert "cannot be used" in who.told.value and answering().learner.is_nobody


def guess():
    return panels.guess_temperature("02", lambda system: f"How warm, {system}?", lambda: Q_(59.0, "degC"))


def test_a_guess_is_kept_with_the_learner_and_shown_against_the_result():
    choose_learner("Ana", "7")
    first = guess()
    first.slide.slider.value = 45
    first.keep()
    first.keep()
    next_day()
    again = guess()
    assert (
        again.slide.slider.disabled and again.slide.value.magnitude == 45 and again.said.startswith("Your guess: 45 °C")
    )
    again.compare()
    next_day()
    assert guess().said == again.said == "You guessed 45 °C (just guessing); the model gives 59 °C: 14 °C too low."


@pytest.mark.parametrize(
    "typed, said",
    [
        ("−3,5", "You guessed −3.5 °C (just guessing); the model gives 2 °C: 5.5 °C too low."),
        ("2.4", "You guessed 2.4 °C (just guessing); the model gives 2 °C: right on it."),
    ],
)
def test_a_guess_is_told_as_it_was_typed(typed, said):
    slide = Slide("My guess", "temperature", Q_(0, "degC"), (-15, 10, 1), (5, 50, 1), "what you expect")
    one = panels.Guess("07", lambda system: "?", slide, lambda: Q_(2.2, "degC"))
    one.slide.box.value = typed
    one.keep()
    one.compare()
    assert one.said == said


def test_a_share_is_off_by_points():
    share = Slide("My guess", "share", Q_(42, "percent"), (0, 100, 1), (0, 100, 1), "what you expect")
    one = panels.Guess("09", lambda system: "?", share, lambda: Q_(30.0, "percent"))
    one.keep()
    one.compare()
    assert one.said.endswith("12 points too high.")


def test_a_page_that_asks_for_another_quantity_than_before_takes_a_new_guess():
    """The old guess, at another kind of quantity, is neither shown nor compared; the new one lasts in the file."""
    sign_in()
    share = Slide("My guess", "share", Q_(42, "percent"), (0, 100, 1), (0, 100, 1), "what you expect")
    panels.Guess("02", lambda system: "?", share, lambda: Q_(30.0, "percent")).keep()
    warm = guess()
    assert warm.said == "" and warm.compare_button.disabled and not warm.keep_button.disabled
    warm.slide.set(Q_(45, "degC"))
    warm.keep()
    warm.compare()
    assert guess().said == warm.said == "You guessed 45 °C (just guessing); the model gives 59 °C: 14 °C too low."
    assert answering().learner.guess("02").guessed.magnitude == 45


@pytest.mark.parametrize("first, last", [(0, 1), (3, 2), (1, 99)])
def test_questions_that_a_lesson_has_not(first, last):
    with pytest.raises(InputError, match="questions"):
        panels.exercises("02", first, last)


def test_a_lesson_that_is_not_there():
    with pytest.raises(InputError, match="15"):
        panels.exercises("15")


def test_the_numbers_are_those_of_the_answer_key():
    """The key of a seat and the page of the learner who sits there."""
    choose_learner("Ana", "7")
    for one in panels.exercises("02").exercises:
        assert one.variant.text == variant(one.question, "7").text
