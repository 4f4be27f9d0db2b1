"""A question of a school's own: made step by step, tried out, saved, asked, changed, taken away."""

import json

import pypdfium2
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from ipywidgets import Button

from lessons_lib import InputError, panels
from lessons_lib.classroom import class_board, own_questions, question_maker
from lessons_lib.classroom.class_board_picture import QuestionRow
from lessons_lib.classroom.own import draft, entry, varying
from lessons_lib.classroom.own.checks import MEASURES, pairs
from lessons_lib.classroom.own.draft import AMOUNT, SHARE, Draft, Told, Wait
from lessons_lib.classroom.prints.keys import key_sheet, room_key
from lessons_lib.classroom.prints.worksheets import worksheet_sheet
from lessons_lib.classroom.prints.writing import PAPERS
from lessons_lib.exercises import bank, key, learner, mark, own_file, read_class, variant, worksheet
from lessons_lib.exercises.learner import folder, nobody
from lessons_lib.panels.exercises import CHANGED, Exercise
from lessons_lib.panels.page_state import choose_learner
from lessons_lib.quantities.display import KINDS, SI, SYSTEMS, US

HELP = {"The hint": "What does a gauge read when it is closed?", "The worked solution": "It reads what pushes on it."}
ODD = "He said \"no\" \\ {tank} {{ }} <b>ä</b> 🔧 ''' # [[x]]"


@pytest.fixture
def form(material):
    return question_maker()


def fill(form, **texts) -> None:
    """Types into fields of the step that is shown, by their labels."""
    for label, value in texts.items():
        form.step.named(label).box.value = value


def begin(form, kind: str, text: str, lesson: str = "02") -> None:
    fill(form, Lesson=lesson)
    form.go_on()
    fill(form, **{"The answer is": kind})
    form.go_on()
    fill(form, **{"The question": text})
    form.go_on()


def press(form, words: str) -> None:
    """Presses a button of the step that is shown; the browser's part of waiting is left out."""
    form._soon = lambda act: act()
    next(one for one in form.step.parts if isinstance(one, Button) and one.description == words).click()


def choice(form, right="The far one", wrong=("The near one", "Neither")) -> None:
    begin(form, "choice", "Which tap waits longer?")
    fill(form, **{"The right option": right}, **{f"Wrong option {n}": one for n, one in enumerate(wrong, 1)})
    form.go_on()
    for place, _ in enumerate(wrong, 1):
        fill(form, **{f"What is wrong with it ({place})": f"Reason {place}.", f"One question back ({place})": "Why?"})
    form.go_on()
    fill(form, **HELP)
    form.go_on()


def number(form, right="3 bar", within="5 %", way=SHARE, measure="pressure", wrong=()) -> None:
    begin(form, "number", "What does the gauge read?")
    fill(form, **{"The number is": measure, "The right number": right, "Near enough is": way})
    fill(form, **{"How far off is still right?": within, "Why is that near enough?": "a gauge is no finer"})
    form.go_on()
    if form.draft.step == 4:
        for place, one in enumerate(wrong, 1):
            if place > 1:
                press(form, "One more wrong number")
            fill(form, **{f"Wrong number {place}": one, f"The thinking behind it ({place})": "You took the other one."})
            fill(form, **{f"One question back ({place})": "Which one?"})
        form.go_on()
    if form.draft.step == 5:
        fill(form, **HELP)
        form.go_on()


def order(form, steps=("Shut the water off", "Drain the pipe", "Cut the pipe")) -> None:
    begin(form, "order", "In which order do you work?")
    fill(form, **{f"Step {n}": one for n, one in enumerate(steps, 1)})
    form.go_on()
    for first in range(1, len(steps)):
        fill(form, **{f"Why has step {first + 1} to wait for step {first}?": "Water runs out otherwise."})
    form.go_on()
    fill(form, **HELP)
    form.go_on()


MADE = {"choice": choice, "number": number, "order": order}


@pytest.mark.parametrize("kind", MADE)
def test_the_whole_way(form, kind):
    count = len(bank.of_lesson("02"))
    MADE[kind](form)
    assert form.last and form.said == "" and form.trial.exercise.name == f"02 · {count + 1}"
    form.save()
    assert f"stands as 02 · {count + 1}" in form.said and not form.draft.begun
    asked = bank.question("own-02-1")
    assert asked.kind == kind and bank.own_slips() == []
    (shown,) = panels.exercises("02", count).exercises[1:]
    assert shown.question.id == "own-02-1" and shown.name == f"02 · {count + 1}"
    for system in SYSTEMS:
        one = variant(asked, "7", system)
        marked = mark(one, one.shown_answer().split(":")[0])
        assert marked.right and marked.worked == HELP["The worked solution"] and marked.hint == HELP["The hint"]
        assert worksheet("7", [asked], system)[0].text == asked.text and key("7", [asked], system)[0].answer[system]


def test_a_form_shows_one_step_and_the_last_one_saves(form):
    assert form.step.heading == "The lesson" and form.back.layout.display == "none" == form.save_it.layout.display
    number(form)
    assert form.save_it.layout.display is None and form.next.layout.display == "none"
    assert "Step 7 of 7" in form.heading.value
    form.go_back()
    assert form.step.named("The hint").box.value == HELP["The hint"] and form.next.layout.display is None


def test_every_missing_thing_is_said_in_a_sentence(form):
    """No step is left with a field empty; what is said names no id, no key and no word of the file's format."""
    said = []

    def refused() -> None:
        before = form.draft.step
        form.go_on()
        assert form.draft.step == before and form.said.startswith("▲ "), before
        said.append(form.said)

    refused()
    fill(form, Lesson="02")
    form.go_on()
    refused()
    fill(form, **{"The answer is": "choice"})
    form.go_on()
    refused()
    fill(form, **{"The question": "Which?"})
    form.go_on()
    for label in ("The right option", "Wrong option 1", "Wrong option 2"):
        refused()
        fill(form, **{label: label})
    form.go_on()
    for place in (1, 2):
        for label in (f"What is wrong with it ({place})", f"One question back ({place})"):
            refused()
            fill(form, **{label: "So."})
    form.go_on()
    refused()
    fill(form, **{"The hint": "h"})
    refused()
    assert len(set(said)) == len(said)
    for words in said:
        assert not any(odd in words for odd in ("own-", ".toml", "key", "[[", "id ", "Traceback")), words


@pytest.mark.parametrize(
    "right, within, way, measure, told",
    [
        ("", "5 %", SHARE, "pressure", "no number yet"),
        ("fünfzehn", "5 %", SHARE, "pressure", '"fünfzehn" is not a number'),
        ("15", "5 %", SHARE, "pressure", '"15" has no unit'),
        ("60 °", "5 %", SHARE, "temperature", "has no unit"),
        ("15 mm", "5 %", SHARE, "pressure", "is a length, not a pressure"),
        ("15 {mm}", "5 %", SHARE, "pressure", "not known here"),
        ("3 bar", "", SHARE, "pressure", "no number yet"),
        ("3 bar", "80 %", SHARE, "pressure", "possible is 0 to 50 %"),
        ("3 bar", "-1 %", SHARE, "pressure", "possible is 0 to 50 %"),
        ("0 bar", "5 %", SHARE, "pressure", "a share of nothing is nothing"),
        ("60 °C", "5 %", SHARE, "temperature", "another one on each scale"),
        ("3 bar", "5 %", AMOUNT, "pressure", "is a share, not a pressure"),
        ("3 bar", "-1 kPa", AMOUNT, "pressure", "less than nothing"),
        ("3 bar", "1", AMOUNT, "pressure", "has no unit"),
        ("-300 °C", "1 °C", AMOUNT, "temperature", "nothing can be as cold"),
        ("4e300 bar", "1 %", SHARE, "pressure", "too large"),
        ("9" * 400 + " bar", "1 %", SHARE, "pressure", "characters"),
        ("3 bar", "5 %", SHARE, "", "not chosen yet"),
    ],
)
def test_a_number_that_cannot_be_is_explained(form, right, within, way, measure, told):
    number(form, right, within, way, measure)
    assert form.draft.step == 3 and told in form.said


@pytest.mark.parametrize(
    "right, measure, shown",
    [
        ("2.45 m", "length", {SI: "2.45 m"}),
        ("5 gal", "volume", {US: "5.0 gal", SI: "18.93 L"}),
        ("1/2 in", "cut", {US: "1/2 in", SI: "12.7 mm"}),
        ("0.31 in", "diameter", {US: "0.31 in"}),
        ("3", "count", {SI: "3", US: "3"}),
    ],
)
def test_the_right_number_is_shown_as_it_was_typed(form, right, measure, shown):
    """No kind's usual rounding makes another number of it: 2.45 m is not told as 2.5 m."""
    number(form, right, "1 %", measure=measure)
    form.save()
    asked = bank.question("own-02-1")
    assert {system: variant(asked, "7", system).shown_answer() for system in shown} == shown
    assert all(
        mark(variant(asked, "7", system), variant(asked, "7", system).shown_answer()).right for system in SYSTEMS
    )


def test_a_wrong_number_is_known_by_its_thinking_in_both_units(form):
    number(form, "60 °C", "1 °C", AMOUNT, "temperature", wrong=["140 °C", "104 °F"])
    form.save()
    asked = bank.question("own-02-1")
    for text, name in (("140 °C", "answered 140 °C"), ("40 °C", "answered 104 °F"), ("104 °F", "answered 104 °F")):
        for system in SYSTEMS:
            marked = mark(variant(asked, "7", system), text)
            assert not marked.right and marked.mistake == name and marked.ask == "Which one?"
    assert key("7", [asked])[0].misconceptions[1].answer == {SI: "40 °C", US: "104 °F"}


def test_a_wrong_number_near_the_right_one_is_refused(form):
    number(form, "60 °C", "5 °C", AMOUNT, "temperature", wrong=["58 °C"])
    assert "so near the right one" in form.said and "58 °C" in form.said and not form.last


@pytest.mark.parametrize(
    "right, wrong, told",
    [
        ("", ("a", "b"), "The right option is still empty"),
        ("r", ("a", "  \n "), "Wrong option 2 is still empty. Write it or take it out"),
        ("r", ("a", "A "), "Wrong option 1 and wrong option 2 say the same"),
        ("r", ("R", "b"), "The right option and wrong option 1 say the same"),
        ("r" * 161, ("a", "b"), "161 characters, and 160 find room"),
    ],
)
def test_options_that_cannot_be_are_explained(form, right, wrong, told):
    begin(form, "choice", "Which?")
    fill(form, **{"The right option": right, "Wrong option 1": wrong[0], "Wrong option 2": wrong[1]})
    form.go_on()
    assert form.draft.step == 3 and told in form.said


def test_options_and_steps_are_added_and_taken_out(form):
    begin(form, "choice", "Which?")
    fill(form, **{"Wrong option 1": "first", "Wrong option 2": "second"})
    for _ in range(3):
        press(form, "One more option")
    assert len(form.draft.wrong) == 5 and not [one for one in form.step.parts if "One more" in str(one)]
    press(form, "Take out wrong option 1")
    assert form.step.named("Wrong option 1").box.value == "second"
    made = Draft(steps=["a", "b", "c"], waits=[Wait(0, 1, why="x"), Wait(1, 2, why="y"), Wait(0, 2, why="z")])
    made.take_out_step(1)
    assert made.steps == ["a", "c"] and made.waits == [Wait(0, 1, why="z")]
    made = Draft(steps=["a", "b", "c"], waits=[Wait(1, 2, why="y")])
    made.take_out_step(0)
    assert made.waits == [Wait(0, 1, why="y")]


def test_steps_that_may_change_places(form):
    """The two in the middle are free; the ends still have to wait."""
    begin(form, "order", "In which order?")
    press(form, "One more step")
    fill(form, **{f"Step {n}": f"step {n}" for n in range(1, 5)})
    form.go_on()
    assert pairs(form.draft) == [(0, 1), (1, 2), (2, 3)]
    form.step.named("It has to be 2 before 3").box.value = False
    assert pairs(form.draft) == [(0, 1), (1, 2), (2, 3), (0, 2), (1, 3)]
    for one in form.step.fields:
        if one.label.startswith("Why"):
            one.box.value = f"Because: {one.label}"
    form.go_on()
    fill(form, **HELP)
    form.go_on()
    form.save()
    one = variant(bank.question("own-02-1"), "7")
    letters = {words: letter for letter, _, words in one.choices}

    def marked(places: str):
        return mark(one, "".join(letters[f"step {place}"] for place in places))

    assert marked("1234").right and marked("1324").right
    for wrong in ("3124", "1342", "2134", "4321"):
        assert not marked(wrong).right and "Because" in marked(wrong).thinking
    assert sorted(draft_pairs(one)) == [(0, 1), (0, 2), (1, 3), (2, 3)]


def draft_pairs(one) -> list:
    again = entry.draft_of(one.question.id)
    return [pair for pair in pairs(again) if again.wait(*pair).ordered]


def test_an_order_without_any_wait_is_refused(form):
    begin(form, "order", "In which order?")
    press(form, "Take out step 3")
    fill(form, **{"Step 1": "a", "Step 2": "b"})
    form.go_on()
    form.step.named("It has to be 1 before 2").box.value = False
    form.go_on()
    assert "every order would be right" in form.said and form.step.heading.startswith("Which step")


def test_odd_signs_come_back_as_they_were_typed(form):
    begin(form, "choice", ODD)
    fill(
        form,
        **{"The right option": f"r {ODD}", "Wrong option 1": f"a {ODD}", "Wrong option 2": "multi\nline\x00 \u202e"},
    )
    form.go_on()
    for place in (1, 2):
        fill(form, **{f"What is wrong with it ({place})": ODD, f"One question back ({place})": ODD})
    form.go_on()
    fill(form, **{"The hint": ODD, "The worked solution": "{answer} {wrong} {}"})
    form.go_on()
    assert "&lt;b&gt;" in form.trial.exercise.asked.value and "<b>ä" not in form.trial.exercise.asked.value
    form.save()
    one = variant(bank.question("own-02-1"), "7")
    assert one.text == one.hint == ODD and one.worked == "{answer} {wrong} {}"
    assert {words for _, _, words in one.choices} == {f"r {ODD}", f"a {ODD}", "multi line"}
    assert all(wrong.thinking == wrong.ask == ODD for wrong in one.wrongs) and bank.own_slips() == []


LETTERS = st.text(st.characters(exclude_categories=["Cs"]), max_size=60)
TEXTS = LETTERS.map(lambda text: f"x{text}")


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(TEXTS, TEXTS, TEXTS, st.sampled_from(sorted(MADE)))
def test_whatever_is_typed_is_saved_and_read_again(material, text, said, back, kind):
    made = Draft(
        lesson="03",
        kind=kind,
        text=text,
        right=f"1{text}",
        wrong=[Told(f"2{said}", said, back)],
        measure="volume",
        number="2.5 gal",
        within="2 %",
        why_within=said,
        wrong_numbers=[Told("9 L", said, back)],
        steps=[f"1{text}", f"2{said}", f"3{back}"],
        waits=[Wait(0, 1, True, said, back), Wait(1, 2, True, back, said)],
        hint=said,
        worked=back,
    )
    written = entry.entry(made)
    own_file.keep(written)
    again = entry.draft_of(written["id"])
    assert entry.entry(again) == written
    assert mark(
        variant(bank.question(written["id"]), "x"),
        variant(bank.question(written["id"]), "x").shown_answer().split(":")[0],
    ).right
    own_file.take_away(written["id"])


def test_a_half_made_question_survives_the_closing_of_the_page(form):
    begin(form, "number", "Half a question {")
    fill(form, **{"The right number": "3 b"})
    later = question_maker()
    assert later.draft == form.draft and later.step.named("The right number").box.value == "3 b"
    assert "last time" in later.said
    later.begin_anew()
    assert later.draft.begun and later.sure.layout.display is None
    later.empty()
    assert question_maker().draft == Draft()


@pytest.mark.parametrize(
    "text",
    ["", "{", "[]", "null", '{"step": "7"}', '{"wrong": [1], "text": 5}', '{"waits": [{}], "steps": [[1]]}', "[" * 9999]
    + [json.dumps({"wrong": [{"what": 3}]}), json.dumps({"step": 99, "wrong_numbers": [], "steps": []})],
)
def test_a_spoilt_draft_is_an_empty_form(material, text):
    draft.file().write_text(text, encoding="utf-8")
    assert question_maker().step.heading


def test_nothing_that_is_tried_out_is_kept(form):
    choose_learner("Ana", "7")
    before = {file.name: file.read_bytes() for file in folder().iterdir() if file.suffix == ".json"}
    number(form, wrong=["30 bar"])
    exercise = form.trial.exercise
    for system in SYSTEMS:
        form.trial.units.value = system
        assert exercise.system == system
        exercise.box.set("30 bar")
        exercise.give()
        assert "You took the other one." in exercise.said
    form.trial.afresh()
    exercise.box.set("3 bar")
    exercise.give()
    assert exercise.said.startswith("● Right")
    assert {file.name: file.read_bytes() for file in folder().iterdir() if file.suffix == ".json"} == before
    assert panels.page_state.answering().learner.name == "Ana" and nobody().tries(exercise.question) == ()
    assert "300 kPa" in form.trial.told.value and "43.5 psi" in form.trial.told.value


def test_a_question_is_changed_and_old_answers_are_told_so(form):
    choice(form)
    form.save()
    choose_learner("Ana", "7")
    asked = Exercise(bank.question("own-02-1"))
    asked.box.set("A")
    asked.give()
    assert asked.said and CHANGED not in Exercise(bank.question("own-02-1")).said
    listed = own_questions(form)
    listed.change("own-02-1")
    assert form.draft.changes == "own-02-1" and "stands in the form" in listed.said
    fill(form, **{"The question": "Which tap waits less?"})
    while not form.last:
        form.go_on()
    form.save()
    assert [one.text for one in listed.listed] == ["Which tap waits less?"]
    assert not listed.said, "nothing stands in the form any more"
    again = Exercise(bank.question("own-02-1"))
    assert CHANGED in again.said and again.box.text == ""
    again.box.set("B")
    again.give()
    assert CHANGED not in Exercise(bank.question("own-02-1")).said
    assert learner("Ana", "7").tries(bank.question("own-02-1"))[0]["text"] == "A"


def test_a_change_of_the_lesson_moves_the_question(form):
    choice(form)
    form.save()
    form.change("own-02-1")
    form.go_back()
    form.go_back()
    fill(form, Lesson="05")
    while not form.last:
        form.go_on()
    form.save()
    assert [one.id for one in bank.questions() if bank.of_school(one.id)] == ["own-05-1"]


def test_a_half_made_question_is_not_lost_by_a_change(form):
    choice(form)
    form.save()
    form.empty()
    begin(form, "number", "Half")
    listed = own_questions(form)
    listed.change("own-02-1")
    assert "Begin anew" in listed.said and form.draft.text == "Half"


def test_taking_away_asks_once_and_loses_nothing(form, material):
    choice(form)
    form.save()
    choose_learner("Ana", "7")
    asked = Exercise(bank.question("own-02-1"))
    asked.box.set("A")
    asked.give()
    assert learner("Ana", "7") and read_class().results[0].lessons["02"].tried == 1
    listed = own_questions(form)
    assert "lie in" in listed.where.value
    listed.take_away("own-02-1")
    assert bank.question("own-02-1") and list(listed.buttons["own-02-1"]) == ["Yes, take it away", "No, keep it"]
    listed.keep()
    assert list(listed.buttons["own-02-1"]) == ["Change", "Take away"]
    listed.take_away("own-02-1")
    listed.really()
    assert not listed.where.value, "there is no file to look for"
    assert not listed.listed and (material.folder / "questions" / own_file.ASIDE / "02-own-1.toml").is_file()
    (skipped,) = read_class().skipped
    assert skipped == ("answers to a question of your own in lesson 02", "it was taken away or has a slip")
    assert own_file.free_id("02") == "own-02-2", "learners' files still name the first"
    panels.exercises("02")
    with pytest.raises(InputError, match="taken away already"):
        own_file.take_away("own-02-1")


def test_the_menus_of_a_number_open_unchosen(form):
    begin(form, "number", "A pipe is [A] long and loses [B].")
    form.draft.a_values = "6 m, 9 m"
    form.go_on()
    assert "not chosen yet what [A] is" in form.said


def test_the_board_names_it_as_own_and_follows_its_file(form, material):
    choice(form)
    form.save()
    assert QuestionRow("own-02-1", 1, 1, 1).name == f"{bank.name_of('own-02-1')} own question"
    (material.folder / "questions" / "02-own-1.toml").unlink()  # as another page does
    class_board().refresh()
    assert not [one for one in bank.questions() if bank.of_school(one.id)]


def test_slips_and_questions_written_by_hand_are_told(material):
    """A question that draws its numbers cannot be changed in the form; a file with a slip is named."""
    place = material.folder / "questions"
    (place / "02-own-1.toml").write_text("[[question", encoding="utf-8")
    (place / "02-own-10.toml").write_text(BY_HAND.replace("own-02-3", "own-02-10"), encoding="utf-8")
    (place / "02-own-3.toml").write_text(BY_HAND, encoding="utf-8")
    material.read_again()
    listed = own_questions(question_maker())
    assert [one.id for one in listed.listed] == ["own-02-3", "own-02-10"]
    assert "02-own-1.toml" in listed.slips.value and "left out" in listed.slips.value
    listed.change("own-02-3")
    assert "written by hand" in listed.said
    (place / "02-own-1.toml").unlink()
    (place / "02-own-4.toml").write_text(BY_HAND.replace("own-02-3", "own-02-4"), encoding="utf-8")
    listed.read_again()
    assert [one.id for one in listed.listed] == ["own-02-3", "own-02-4", "own-02-10"] and not listed.slips.value


BY_HAND = """[[question]]
id = "own-02-3"
kind = "number"
text = "How far is {far}?"
answer = { kind = "length", by = "same far" }
hint = "h"
worked = "w"
[question.numbers]
far = { kind = "length", both = [2, 3] }
"""


@pytest.mark.parametrize("change", ['by = "same far"\nvalue = "2 m"', 'value = "2 kg"', 'value = "two m"', "value = 2"])
def test_a_stated_wrong_number_that_cannot_be_is_an_error(material, change):
    text = f'{BY_HAND}[[question.mistakes]]\nname = "n"\nthinking = "t"\nask = "a"\n{change}\n'
    (material.folder / "questions" / "02-own-3.toml").write_text(text, encoding="utf-8")
    material.read_again()
    (slip,) = bank.own_slips()
    assert slip.startswith("02-own-3.toml, question 1 (own-02-3), mistake")


def test_every_measure_is_one_that_values_have():
    assert set(MEASURES) <= set(KINDS)


def long_one(kind: str, most: int) -> Draft:
    """A question whose texts are as long as the form lets them be."""
    text, option = ("q" * 9 + " ") * (most // 10), ("o" * 7 + " ") * 19
    return Draft(
        lesson="02",
        kind=kind,
        text=f"{text[:-90]} {ODD}",
        right=option,
        wrong=[Told(f"{place} {option}", text[:490], text[:490]) for place in range(5)],
        measure="pressure",
        number="3 bar",
        within="5 %",
        why_within=text[:490],
        wrong_numbers=[Told(f"{place} psi", text[:490], text[:490]) for place in range(4)],
        steps=[f"{place} {option}" for place in range(8)],
        waits=[Wait(place, place + 1, True, text[:490], text[:490]) for place in range(7)],
        hint=text[:490],
        worked=text[:490],
    )


@pytest.mark.parametrize("papers", [PAPERS, pytest.param(PAPERS[::-1], marks=pytest.mark.million)], ids="-".join)
@pytest.mark.parametrize("kind", MADE)
def test_the_longest_question_is_printed_whole(material, kind, papers):
    """On the paper of each side; with `million` on the other side's too."""
    own_file.keep(entry.entry(long_one(kind, 600)))
    for system, paper in zip(SYSTEMS, papers, strict=True):
        for make in (worksheet_sheet, key_sheet, lambda *given: room_key(("1", "2"), *given[1:])):
            document = pypdfium2.PdfDocument(make("7", ("02",), system).pdf(paper))
            words = " ".join("".join(page.get_textpage().get_text_range() for page in document).split())
            assert "He said" in words and "{tank} {{ }} <b>ä</b>" in words, (make, paper)


VARYING = {
    "[A] is": "flow",
    "Values of [A]": "6 L/min, 9 L/min, 12 L/min",
    "[B] is": "minutes",
    "Values of [B]": "2 min, 5 min",
    "The right number is worked out as": "[A] × [B]",
    "The number is": "volume",
    "Near enough is": SHARE,
    "How far off is still right?": "2 %",
    "Why is that near enough?": "a bucket is no finer",
}


def varying_form(form, **changes) -> None:
    """Goes as far as the step of the right number, and fills it."""
    begin(form, "number", "A tap runs at [A] for [B]. {A} How much water is that?")
    fill(form, **{**VARYING, **{label.replace("_", " "): one for label, one in changes.items()}})
    form.go_on()


def test_numbers_that_differ_from_seat_to_seat(form):
    varying_form(form)
    fill(
        form,
        **{"Wrong number 1": "[A] ÷ [B]", "The thinking behind it (1)": "Divided [A].", "One question back (1)": "?"},
    )
    form.go_on()
    assert "does not give a volume" in form.said
    fill(form, **{"Wrong number 1": "[A] × [B]"})
    form.go_on()
    assert "comes out as the right one does" in form.said
    fill(form, **{"Wrong number 1": "", "The thinking behind it (1)": "", "One question back (1)": ""})
    form.go_on()
    fill(form, **{"The hint": "Each minute brings [A].", "The worked solution": "[A] × [B] = [answer]."})
    form.go_on()
    assert form.last, form.said
    first = form.trial.exercise.variant.text
    form.trial.next_seat()
    shown = {first, form.trial.exercise.variant.text}
    for _ in range(8):
        form.trial.next_seat()
        shown.add(form.trial.exercise.variant.text)
    assert len(shown) > 2
    form.save()
    asked = bank.question("own-02-1")
    seen = set()
    for seat in range(1, 40):
        for system in SYSTEMS:
            one = variant(asked, str(seat), system)
            flow, minutes = one.values["A"], one.values["B"]
            assert one.text.startswith(f"A tap runs at {one._shown('A')} for {one._shown('B')}. {{A}} How")
            assert flow.magnitude in ({6, 9, 12} if system == SI else {1.6, 2.4, 3.2}) and minutes.magnitude in {2, 5}
            assert one.answer.magnitude == pytest.approx(flow.magnitude * minutes.magnitude)
            assert mark(one, one.shown_answer()).right and one.worked.endswith(f"= {one.shown_answer()}.")
            seen.add((flow.magnitude, minutes.magnitude))
    assert len(seen) == 12, "not every pair of numbers is met"
    again = entry.draft_of("own-02-1")
    assert again.varies and again.a_values == VARYING["Values of [A]"] and again.calculation == "[A] × [B]"
    assert entry.entry(again)["text"] == "A tap runs at {A} for {B}. {{A}} How much water is that?"
    form.change("own-02-1")
    assert form.step.named("The question").box.value.startswith("A tap runs at [A] for [B]. {A}")


@pytest.mark.parametrize(
    "label, text, told",
    [
        ("Values of [A]", "", "has 0 values"),
        ("Values of [A]", "6 L/min", "has 1 value; possible"),
        ("Values of [A]", ", ".join(["6 L/min"] * 21), "has 21 values"),
        ("Values of [A]", "6 L/min, 9", "has no unit"),
        ("Values of [A]", "6 L/min, nine", "not a number"),
        ("Values of [A]", "6 L/min, 9.234 L/min", "finer than a page shows it. Write 9.2 L/min"),
        ("Values of [B]", "0 min, 5 min", ""),
        ("The right number is worked out as", "[A] ÷ [B]", "does not give a volume"),
        ("The right number is worked out as", "", "not chosen yet how"),
        ("The number is", "pressure", "does not give a pressure"),
        ("How far off is still right?", "x", "not a number"),
        ("[A] is", "", "not chosen yet what [A] is"),
    ],
)
def test_numbers_that_do_not_go_together_are_explained(form, label, text, told):
    varying_form(form)
    form.go_back()
    fill(form, **{label: text})
    form.go_on()
    assert (form.draft.step == 3 and told in form.said) if told else form.draft.step == 4


def test_what_would_be_marked_wrong_although_right_is_refused(form):
    """17 ÷ 3 is shown as 5.7; with a tolerance of 0.1 % the shown answer would not be right."""
    begin(form, "number", "[A] lasts [B]. How much comes each minute?")
    fill(form, **{**VARYING, "[A] is": "volume", "Values of [A]": "17 L, 20 L", "Values of [B]": "3 min, 7 min"})
    fill(
        form,
        **{
            "The right number is worked out as": "[A] ÷ [B]",
            "The number is": "flow",
            "How far off is still right?": "0.1 %",
        },
    )
    form.go_on()
    form.go_on()
    fill(form, **HELP)
    form.go_on()
    assert "would be marked wrong" in form.said and not form.last


def test_a_question_needs_both_places_or_none(form):
    begin(form, "number", "Only [A] is here.")
    assert form.draft.step == 2 and "[B] does not" in form.said
    form.go_back()
    fill(form, **{"The answer is": "choice"})
    form.go_on()
    form.go_on()
    assert form.draft.step == 3, "of a choice [A] is only a word"
    assert not Draft(kind="choice", text="[A] and [B]").varies


def test_division_by_nothing_is_said(form):
    begin(form, "number", "[A] lasts [B].")
    fill(form, **{**VARYING, "[A] is": "volume", "Values of [A]": "17 L, 20 L", "Values of [B]": "0 min, 7 min"})
    fill(form, **{"The right number is worked out as": "[A] ÷ [B]", "The number is": "flow"})
    form.go_on()
    assert "divides by 0" in form.said


@pytest.mark.parametrize(
    "measure, typed, metric, customary",
    [
        ("temperature", "50 °C, 60 °C", [50, 60], [122, 140]),
        ("temperature", "120 °F, 140 °F", [49, 60], [120, 140]),
        ("temperature difference", "5 °C, 10 K", [5, 10], [9, 18]),
        ("pressure", "1 bar, 3 bar", [100, 300], [15, 44]),
        ("length", "10 ft, 20 ft", [3.0, 6.1], [10, 20]),
        ("count", "2, 3", [2, 3], [2, 3]),
    ],
)
def test_the_other_system_gets_round_values_near_by(measure, typed, metric, customary):
    listed = varying.values(Draft(a_measure=measure, a_values=typed), "A")
    assert listed == {SI: metric, US: customary}
