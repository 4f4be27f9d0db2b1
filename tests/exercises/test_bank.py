"""The bank of questions: enough of them, well formed, fair to every seat in both unit systems; bad files are refused with a sentence."""

import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from lessons_lib import InputError
from lessons_lib.exercises import bank, mark, of_lesson, question, questions, variant
from lessons_lib.exercises.marking import within
from lessons_lib.exercises.question import Call
from lessons_lib.exercises.reading import read_amount
from lessons_lib.exercises.solvers import solvers
from lessons_lib.quantities.display import SI, SYSTEMS, US

FOLDER = Path(__file__).parents[2] / "data" / "questions"
SEATS = range(1, 26)
LESSONS = [f"{number:02d}" for number in range(1, 15)]
every_question = pytest.mark.parametrize("one", questions(), ids=lambda one: one.id)


def variants(one):
    """Those of all seats in both unit systems, the same ones for every test, as each answer is reckoned once."""
    return _variants(one.id)


@cache
def _variants(name):
    return [variant(question(name), seat, system) for system in SYSTEMS for seat in SEATS]


def test_enough_for_every_lesson():
    counted = Counter(one.lesson for one in questions())
    assert set(counted) == set(LESSONS) and min(counted.values()) >= 5 and sum(counted.values()) >= 66
    assert {one.kind for one in questions()} == {"number", "panel", "choice", "order"}
    assert all(one.id.startswith(one.lesson) for one in questions())


@pytest.mark.parametrize("lesson", LESSONS)
def test_the_first_repeats_a_mistake_of_the_lesson_before(lesson):
    """By the same name, so that a class board counts both together."""
    first, before = of_lesson(lesson)[0], f"{int(lesson) - 1:02d}"
    assert first.repeats == ("start" if lesson == "01" else before)
    if lesson != "01":
        earlier = {mistake.name for one in of_lesson(before) for mistake in one.mistakes}
        assert earlier & {mistake.name for mistake in first.mistakes}


@pytest.mark.parametrize("lesson", LESSONS)
def test_what_comes_from_the_lesson_before_says_so(lesson):
    """Else a reader looks for it on this page. In 07 and 09 the old mistake is met in this page's own matter."""
    said = re.match(r"From lesson (\d\d)\. ", of_lesson(lesson)[0].text)
    assert said is None if lesson in ("01", "07", "09") else said[1] == of_lesson(lesson)[0].repeats
    assert not any(one.text.startswith("From lesson") for one in of_lesson(lesson)[1:])


@every_question
def test_what_is_shown_is_what_is_reckoned_with(one):
    """Every number in the text reads back as the very number that the solver got."""
    for own in variants(one):
        for name, spec in one.varies.items():
            if spec.kind != "words":
                shown_in = own.system if not spec.foreign else next(other for other in SYSTEMS if other != own.system)
                back = read_amount(own.filled(f"{{{name}}}"), spec.kind, shown_in).quantity
                assert back.to(own.values[name].units).magnitude == pytest.approx(
                    own.values[name].magnitude, rel=1e-9
                ), (name, own.text)


@every_question
def test_the_shown_answer_is_marked_right(one):
    """Rounded as a learner would write it, and with the letters of this seat."""
    for own in variants(one):
        given = own.shown_answer().split(":")[0] if one.kind == "choice" else own.shown_answer()
        assert mark(own, given).right, (given, own.text)


@every_question
def test_each_likely_mistake_is_wrong_and_named(one):
    for own in variants(one):
        for wrong in own.wrongs:
            if wrong.value is not None:
                assert not within(own, wrong.value, own.answer), (wrong.name, own.text)
                marked = mark(own, f"{wrong.value.magnitude:.9f} {own.asked_in}")
                assert not marked.right and marked.mistake == wrong.name, (wrong.name, marked.mistake, own.text)


@every_question
def test_every_option_that_can_be_wrong_has_its_thinking(one):
    if one.kind == "choice":
        explained = {mistake.key for mistake in one.mistakes}
        for own in variants(one):
            assert own.answer in one.options
            assert set(one.options) - {own.answer} <= explained
    if one.kind == "order":
        for own in variants(one):
            assert set(own.answer) == set(one.options) and one.broken(own.answer) is None
            assert one.broken([key for _, key, _ in own.choices]), "no right order stands there already"


@every_question
def test_words_are_whole(one):
    """Every text is filled, ends as a sentence does, and mistakes ask one question back."""
    for system in SYSTEMS:
        own = variant(one, 3, system)
        texts = [
            own.text,
            own.hint,
            own.worked,
            *(part for wrong in own.wrongs for part in (wrong.thinking, wrong.ask)),
        ]
        assert all(text and "{" not in text and "  " not in text for text in texts)
        assert all(
            wrong.ask.endswith("?") and wrong.ask.count("?") == 1 and wrong.thinking.endswith((".", "!"))
            for wrong in own.wrongs
        )
    assert one.hint.strip() and one.mistakes
    assert one.kind not in ("number", "panel") or one.why_within and one.within


def test_a_panel_question_names_its_panel():
    assert all(bool(one.panel) == (one.kind == "panel") for one in questions())


def test_every_solver_is_used():
    used = {
        call.solver
        for one in questions()
        for call in (one.answer, *one.steps.values(), *(m.value for m in one.mistakes))
        if isinstance(call, Call)
    }
    assert used == set(solvers())


def test_seats_differ_and_stay():
    one = question("01-hot-share")
    assert len({variant(one, seat).text for seat in SEATS}) > 10
    assert variant(one, 7).text == variant(one, " Seat 07").text == variant(one, "7").text
    assert variant(one, "Ana").text == variant(one, "  aNa ").text
    assert {variant(one, 7, system).text for system in SYSTEMS} == {variant(one, 7, SI).text, variant(one, 7, US).text}


def test_seats_are_the_same_on_every_machine():
    """Typed in once; whoever changes how numbers are drawn changes every learner's questions."""
    assert variant(question("01-hot-share"), 7).shown_answer() == "67 %"
    assert variant(question("10-order-of-work"), 7).shown_answer() == "C, F, A, D, E, B"
    assert variant(question("09-both-lines"), "Ana", US).text.startswith("Heat pump and tank are")


def test_neighbours_in_the_two_systems():
    """The same place in both lists, so that a learner who changes units meets much the same question."""
    for seat in SEATS:
        metric, customary = (variant(question("04-height"), seat, system).values["height"] for system in SYSTEMS)
        assert metric.to("m").magnitude == pytest.approx(customary.to("m").magnitude, rel=1.0)


@pytest.mark.parametrize("seat", ["", "   ", "\n"])
def test_no_seat_is_no_variant(seat):
    with pytest.raises(InputError, match="seat"):
        variant(question("01-hot-share"), seat)


def test_unknown_names_are_told():
    with pytest.raises(InputError, match="01-hot-share"):
        question("01-hotshare")
    with pytest.raises(InputError, match="lesson"):
        of_lesson("99")
    with pytest.raises(InputError, match="unit system"):
        variant(question("01-hot-share"), 7, "imperial")


GOOD = (FOLDER / "_template.toml").read_text(encoding="utf-8")
CALLED = 'answer = { kind = "share", by = "hot_share store cold mixed" }'


def test_the_template_is_a_question():
    assert "_template" not in {one.lesson for one in questions()}
    (one,) = bank.read(FOLDER / "_template.toml")
    assert mark(variant(one, 1), variant(one, 1).shown_answer()).right


@pytest.mark.parametrize(
    "old, new, said",
    [
        ('by = "hot_share store cold mixed"', 'by = "hot_shore store cold mixed"', "hot_share"),
        ('by = "hot_share store cold mixed"', 'by = "__import__ store"', "solver"),
        ('by = "hot_share store cold mixed"', 'by = "hot_share stoer cold mixed"', "store"),
        ('kind = "number"', 'kind = "nomber"', "kind"),
        ("hint = ", "hnit = ", "hint"),
        ("{rise} of {whole}", "{rise} of {hole}", "whole"),
        ("{rise} of {whole}", "{rise.__class__} of {whole}", ""),
        ('metric = "54 to 64 step 2"', 'metric = "54 - 64"', "span"),
        ('metric = "54 to 64 step 2", us', "us", "both"),
        ('within = "1 percent"', 'within = "a bit"', "within"),
        ('kind = "temperature", metric = [8', 'kind = "warmth", metric = [8', "warmth"),
        ('id = "00-hot-share"', "", "id is missing"),
        ('ask = "How much', 'akk = "How much', "ask"),
        ("[question.numbers]", "[question.numbers", "template"),
        (CALLED, 'answer = "a third"', 'value = "49 degC"'),
        (CALLED, 'answer = { kind = "share", value = "67 degC" }', "a share with its unit"),
        (CALLED, 'answer = { kind = "share", value = 67 }', "a share with its unit"),
        (CALLED, 'answer = { value = "67 %" }', "kind is missing"),
        (CALLED, 'answer = { by = "hot_share store cold mixed" }', "a number needs one"),
    ],
)
def test_a_bad_file_is_refused_with_a_sentence(tmp_path, old, new, said):
    assert old in GOOD
    path = tmp_path / "00.toml"
    path.write_text(GOOD.replace(old, new, 1), encoding="utf-8")
    if said:
        with pytest.raises(InputError, match=re.escape(said)) as caught:
            bank.read(path)
        assert "00.toml" in str(caught.value)
    else:  # an attribute in braces is no placeholder: it stays text
        assert "{rise.__class__}" in variant(bank.read(path)[0], 1).worked


def test_a_number_that_is_the_same_for_every_seat(tmp_path):
    """It stands in the question file with its unit; each learner meets it in their own."""
    path = tmp_path / "00.toml"
    text = GOOD.partition("[[question.mistakes]]")[0].replace('"1 percent"', '"1 %"')
    path.write_text(text.replace(CALLED, 'answer = { kind = "temperature", value = "49 degC" }'), encoding="utf-8")
    (one,) = bank.read(path)
    assert mark(variant(one, 1, US), "120.2 °F").right and not mark(variant(one, 1, US), "49 °F").right
    assert mark(variant(one, 1, SI), "49").right


def test_a_right_option_that_nobody_can_choose_is_refused(tmp_path):
    path = tmp_path / "07.toml"
    text = (FOLDER / "07.toml").read_text(encoding="utf-8")
    path.write_text(text.replace('answer = "tap"', 'answer = "tab"'), encoding="utf-8")
    with pytest.raises(InputError, match='"tab" is not known; the nearest are "tap"'):
        bank.read(path)


ORDERED = """[[question]]
id = "00-order"
kind = "order"
text = "Put these in order."
answer = { by = "order_of_work" }
constraints = [["a", "b"], ["b", "c"]]
hint = "Which comes first?"
worked = "a, b, c"
options = [{ key = "a", text = "one" }, { key = "b", text = "two" }, { key = "c", text = "three" }, { key = "d", text = "any time" }]
mistakes = [{ name = "c too early", before = ["c", "a"], thinking = "You began with the end.", ask = "What comes first?" }]
"""


def test_an_order_keeps_its_constraints(tmp_path):
    """What the pairs imply is kept too: a before b before c. Items without a pair between them may change places."""
    path = tmp_path / "00.toml"
    path.write_text(ORDERED, encoding="utf-8")
    (one,) = bank.read(path)
    assert one.broken("abcd") is one.broken("dabc") is one.broken("adbc") is None
    assert one.broken("bacd") == ("a", "b") and one.broken("acbd") == ("b", "c")
    assert one.free(("a", "d", "b", "c")) == (("a", "d"), ("d", "b"), ("d", "c"))


@pytest.mark.parametrize(
    "old, new, said",
    [
        ('["b", "c"]]', '["b", "e"]]', "e"),
        ('["b", "c"]]', '["b", "c"], ["c", "a"]]', "before itself"),
        ('["b", "c"]]', '["b"]]', "two keys"),
        ('constraints = [["a", "b"], ["b", "c"]]', "", "constraints"),
        ('before = ["c", "a"]', 'before = ["a", "c"]', "c too early"),
        ('before = ["c", "a"]', 'before = ["d", "a"]', "c too early"),
        ('kind = "order"', 'kind = "choice"', "constraints"),
        ('answer = { by = "order_of_work" }', 'answer = ["a", "b", "c"]', "the key of each option once"),
        ('answer = { by = "order_of_work" }', 'answer = ["a", "c", "b", "d"]', '"c" comes before "b"'),
        ('answer = { by = "order_of_work" }', 'answer = ["d", "a", "b", "e"]', '"e" is not known'),
        ('answer = { by = "order_of_work" }', 'answer = [["d", "a"], "b", "c"]', "is not known"),
        ('answer = { by = "order_of_work" }', 'answer = "a"', "the keys of all options in a right order"),
    ],
)
def test_an_order_that_nobody_can_keep_is_refused(tmp_path, old, new, said):
    assert old in ORDERED
    path = tmp_path / "00.toml"
    path.write_text(ORDERED.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(InputError, match=re.escape(said)) as caught:
        bank.read(path)
    assert "00.toml" in str(caught.value)
