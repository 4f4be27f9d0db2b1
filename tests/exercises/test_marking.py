"""Marking is unit-safe: any equivalent notation is right, a slip of units is wrong and is named; feedback comes in stages."""

import re
from dataclasses import replace
from itertools import islice, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessons_lib import Q_, InputError
from lessons_lib.exercises import mark, question, questions, variant
from lessons_lib.exercises.marking import OTHER, OUT_OF_ORDER
from lessons_lib.exercises.question import implied
from lessons_lib.exercises.slips import DIFFERENCE, PART_OF_ONE, POINT, UNIT_SLIP
from lessons_lib.quantities.display import KINDS, SI, SYSTEMS, US

NUMBERS = [one for one in questions() if one.kind in ("number", "panel")]
# Other ways to write a unit of the registry, and how many of it make the unit that KINDS names first; a plain factor each.
WAYS = {
    "degC": ("°C", " C", " deg C", " degrees C"),
    "degF": ("°F", "F", " deg F"),
    "delta_degC": (" °C", " K", " C"),
    "delta_degF": (" °F", "F"),
    "m": (" m", "m", " metres", " meters"),
    "ft": (" ft", "'", " feet"),
    "mm": (" mm", "mm"),
    "in": (" in", '"', " inches"),
    "L": (" L", " l", " litres"),
    "gallon": (" gal", " gallons"),
    "L/min": (" L/min", " l / min", " litres per minute"),
    "gpm": (" gpm", " gal/min"),
    "kPa": (" kPa", "kpa"),
    "psi": (" psi",),
    "m/s": (" m/s",),
    "ft/s": (" ft/s",),
    "W": (" W", " watts"),
    "Btu/hour": (" Btu/h", " btu/hr"),
    "W/m": (" W/m",),
    "Btu/(hour*ft)": (" Btu/h ft", " Btu/(h ft)"),
    "W/ft": (" W/ft",),
    "W/(m*K)": (" W/(m K)", " W/mK"),
    "Btu*inch/(hour*ft**2*delta_degF)": (" Btu in/h ft² °F",),
    "s": (" s", " sec", " seconds"),
    "min": (" min",),
    "h": (" h", " hours"),
    "kW": (" kW",),
    "kWh": (" kWh",),
    "Wh": (" Wh",),
    "A": (" A", " amps"),
    "kg": (" kg", "kg"),
    "lb": (" lb", " pounds"),
    "mg/L": (" mg/L", " mg/l"),
    "grain/gallon": (" gr/gal",),
    "ms": (" ms", "ms"),
    "Pa": (" Pa",),
    "inH2O": (" inH2O",),
    "V": (" V",),
    "percent": ("%", " %", " percent"),
    "": ("",),
}
seats, systems, numbers = st.integers(1, 200), st.sampled_from(SYSTEMS), st.sampled_from(NUMBERS)


@given(numbers, seats, systems, st.data())
@settings(max_examples=300, deadline=None)
def test_any_equivalent_notation_is_right(one, seat, system, data):
    own = variant(one, seat, system)
    units = KINDS[one.answer.kind].units
    unit = units[SYSTEMS.index(system)] if one.own_unit else data.draw(st.sampled_from(units))
    figure = f"{own.answer.to(unit).magnitude:.10f}"
    figure = figure.replace(".", ",") if data.draw(st.booleans()) else figure
    text = data.draw(st.sampled_from(("", "ca. ", "about ", " ~"))) + figure + data.draw(st.sampled_from(WAYS[unit]))
    marked = mark(own, text)
    assert marked.right and not marked.mistake, (text, marked.read, own.shown_answer())


SLIPPED = [
    one
    for one in NUMBERS
    if one.answer.kind not in ("heat loss", "conductivity") and len(set(KINDS[one.answer.kind].units)) == 2
]


@given(st.sampled_from(SLIPPED), seats, systems, st.booleans())
@settings(max_examples=300, deadline=None)
def test_the_other_systems_figure_is_wrong_and_named(one, seat, system, written):
    """60 where 140 °F is right: 60 is the figure in °C. Unless it is, by chance, the figure of a likely mistake."""
    own = variant(one, seat, system)
    units = KINDS[one.answer.kind].units
    here, there = units[SYSTEMS.index(system)], units[1 - SYSTEMS.index(system)]
    text = f"{own.answer.to(there).magnitude:.6f}" + (WAYS[here][0] if written else "")
    marked = mark(own, text)
    assert not marked.right
    assert marked.mistake == UNIT_SLIP or marked.mistake in {wrong.name for wrong in own.wrongs}, (
        text,
        own.shown_answer(),
        marked,
    )


@pytest.mark.parametrize(
    "identity, factor",
    [
        ("05-cut-length", 1 / 25.4),
        ("05-cut-length", 0.1),
        ("05-cut-length", 1e-3),
        ("05-elbows-again", 1 / 0.3048),
        ("03-litres-down-the-drain", 1 / 3.785412),
        ("03-swept-once", 1 / 60),
        ("04-height", 0.01),
        ("08-electricity", 1000),
        ("04-height", 1 / 6.894757),
    ],
)
def test_slips_between_units_of_one_kind(identity, factor):
    """Millimetres for inches, metres for feet, litres for gallons, minutes for seconds, bar for kilopascal."""
    own = variant(question(identity), 11)
    marked = mark(own, f"{own.answer.magnitude * factor:.7g}")
    assert not marked.right and marked.mistake in (UNIT_SLIP, POINT, "hours forgotten"), marked


@pytest.mark.parametrize("factor", [10, 0.1, 100, 0.01])
@given(seats)
@settings(max_examples=20, deadline=None)
def test_a_moved_point_is_named(factor, seat):
    own = variant(question("12-bucket"), seat)
    marked = mark(own, f"{own.answer.magnitude * factor:.6f} L/min")
    assert not marked.right and marked.mistake in (POINT, *(wrong.name for wrong in own.wrongs))


@given(seats, systems)
@settings(max_examples=60, deadline=None)
def test_a_difference_taken_for_a_temperature_is_named(seat, system):
    """A drop of 5 °C is 9 °F and not 41 °F; a tap at 55 °C is 131 °F and not 99 °F."""
    drop = variant(question("02-less-flow"), seat, system)
    kelvins = drop.answer.to("delta_degC").magnitude
    marked = mark(drop, f"{1.8 * kelvins + 32:.4f} °F")
    assert not marked.right and marked.mistake == DIFFERENCE
    tap = variant(question("02-tap-before-the-valve"), seat, system)
    marked = mark(tap, f"{1.8 * tap.answer.to('degC').magnitude:.4f} °F")
    assert not marked.right and marked.mistake in (DIFFERENCE, *(wrong.name for wrong in tap.wrongs))


@given(numbers, seats, systems, st.floats(-1e5, 1e5))
@settings(max_examples=200, deadline=None)
def test_whatever_number_is_marked(one, seat, system, figure):
    own = variant(one, seat, system)
    marked = mark(own, f"{figure:.4f}")
    assert marked.right == (not marked.mistake) and all((marked.hint, marked.worked, marked.read))
    assert marked.right or marked.thinking and marked.ask.endswith("?")


def test_a_share_with_and_without_its_sign():
    own = variant(question("01-hot-share"), 7)
    assert own.answer.magnitude == pytest.approx(100 * 32 / 48)
    assert all(mark(own, text).right for text in ("67 %", "67", "0.67", "0,667", "2/3"))
    slipped = mark(own, "0.67 %")
    assert slipped.mistake == PART_OF_ONE and slipped.read == "0.67 %" and "less than one hundredth" in slipped.thinking
    assert slipped.ask == "Did you mean 67 %?"


def test_no_registry_sign_in_what_was_read():
    one = next(one for one in NUMBERS if one.answer.kind == "temperature drop" and not one.own_unit)
    assert mark(variant(one, 7, SI), "8.6 °F").read == "8.6 °F = 4.8 °C"


@pytest.mark.parametrize(
    "typed, read",
    [
        ("0.67", "67 %"),
        ("0,67", "67 %"),
        ("2/3", "67 %"),
        ("28/42", "67 %"),
        ("67", "67 %"),
        ("66.7 %", "66.7 %"),
        ("0.665", "66.5 %"),
        ("7/10", "70 %"),
        ("0.7", "70 %"),
        ("28/40", "70 %"),
    ],
)
def test_a_share_is_repeated_as_a_percentage(typed, read):
    """ "Right: 0.7 %" would teach what is wrong."""
    assert mark(variant(question("01-hot-share"), 7), typed).read == read


def test_the_question_that_states_the_other_unit_wants_its_own():
    own = variant(question("01-degrees-between"), 7, SI)
    with pytest.raises(InputError, match="other unit"):
        mark(own, f"{own.answer.to('delta_degF').magnitude:.6f} °F")
    assert mark(own, f"{own.answer.magnitude} K").right and mark(own, f"{own.answer.magnitude}").right


def test_feedback_in_stages():
    own = variant(question("01-hot-share"), 7, US)
    wrong = mark(own, "80 %")
    assert wrong.mistake == "divided temperatures"
    assert [stage for stage, _ in wrong.feedback(0)] == ["thinking", "ask"]
    assert [stage for stage, _ in wrong.feedback(1)] == ["thinking", "ask", "hint"]
    assert (
        [stage for stage, _ in wrong.feedback(2)]
        == [stage for stage, _ in wrong.feedback(99)]
        == ["thinking", "ask", "hint", "worked"]
    )
    assert [stage for stage, _ in mark(own, "67 %").feedback(0)] == ["worked"]
    assert own.shown_answer() not in "".join(text for _, text in wrong.feedback(1)), (
        "the answer is not given away early"
    )


@pytest.mark.parametrize("one", questions(), ids=lambda one: one.id)
@pytest.mark.parametrize("system", SYSTEMS)
def test_hints_do_not_give_the_answer(one, system):
    if one.kind in ("number", "panel"):
        for seat in range(1, 11):
            own = variant(one, seat, system)
            given_away = [
                text
                for text in (own.hint, *(part for wrong in own.wrongs for part in (wrong.thinking, wrong.ask)))
                if "{answer}" in text
            ]
            assert not given_away


def test_an_order_names_the_gravest_slip_first():
    own = variant(question("10-order-of-work"), 7)
    letters = {key: letter for letter, key, _ in own.choices}
    early = [letters[key] for key in ("vessel", "pressure test", "fill", "energise", "purge", "set the valve")]
    assert mark(own, " ".join(early)).mistake == "power before purge"


def test_a_wrong_order_is_told_which_step_stands_too_early_and_why():
    """In the words of the items, with their letters, so that a learner finds both."""
    own = variant(question("05-push-joint"), 7)
    letters = {key: letter for letter, key, _ in own.choices}
    text = " ".join(letters[key] for key in ("cut", "mark", "deburr", "stiffener", "tug", "push", "read"))
    told = (
        f'{letters["tug"]}, "tug at it", stands too early. It belongs after {letters["push"]}, "push the pipe in to the'
        ' mark".'
    )
    marked = mark(own, text)
    assert not marked.right and marked.mistake == "tugged before the push"
    assert marked.thinking == f"{told} The fitting does not hold the pipe yet."
    bare = variant(replace(own.question, mistakes=()), 7)
    unexplained = mark(bare, text)
    assert unexplained.mistake == OUT_OF_ORDER and unexplained.thinking == told
    assert unexplained.ask.endswith("?") and "numbers" not in unexplained.ask
    twice = ("stiffener", "cut", "mark", "deburr", "tug", "push", "read")  # the first wrong step is told first
    assert mark(bare, " ".join(letters[key] for key in twice)).thinking.startswith(f"{letters['stiffener']}, ")


ORDERS = [one for one in questions() if one.kind == "order"]


@pytest.mark.parametrize("one", ORDERS, ids=lambda one: one.id)
def test_every_wrong_order_is_told_the_two_steps_that_stand_wrong(one):
    """One step moved from a right order to any other place: the words name two steps, and putting them right helps."""
    own = variant(one, 7)
    texts = {text: key for _, key, text in own.choices}
    letters = {key: letter for letter, key, _ in own.choices}
    wrong = 0
    for keys in permutations(own.answer) if len(own.answer) < 7 else islice(permutations(own.answer), 0, 5040, 7):
        marked = mark(own, " ".join(letters[key] for key in keys))
        if marked.right:
            continue
        early, late = (texts[words] for words in re.findall('[A-G], "([^"]*)"', marked.thinking))
        assert keys.index(early) < keys.index(late) and (late, early) in implied(one.constraints)
        assert marked.mistake != OUT_OF_ORDER and not marked.thinking.endswith('".'), "no reason is given"
        wrong += 1
    assert wrong > 500


@pytest.mark.parametrize("one", [one for one in questions() if one.kind == "choice"], ids=lambda one: one.id)
def test_every_wrong_option_is_told_what_is_wrong_with_it(one):
    """A sentence of its own, of 18 words at most, and no other option's."""
    told = {}
    for seat in range(12):
        own = variant(one, seat)
        for letter, key, _ in own.choices:
            marked = mark(own, letter)
            assert marked.right == (key == own.answer)
            if not marked.right:
                told.setdefault(key, set()).add(marked.thinking)
                assert marked.mistake not in ("", OTHER) and "go through it step by step" not in marked.thinking
    assert len(told) >= len(one.options) - 1
    sentences = [words for texts in told.values() for words in texts]
    assert len(set(sentences)) == len(sentences)
    for sentence in (sentence for words in sentences for sentence in re.split(r"(?<=[.!?]) ", words)):
        assert 3 < len(sentence.split()) <= 18 and sentence[0].isupper(), sentence


@pytest.mark.parametrize(
    "text", ["", "banana", "3 kg", "x" * 10_000, "<img src=x onerror=alert(1)>", "{answer}", "%s", "\ud800"]
)
def test_what_cannot_be_read_is_told_and_not_marked(text):
    for one in (question("02-cabin-tap"), question("10-relief-drips"), question("10-order-of-work")):
        with pytest.raises(InputError):
            mark(variant(one, 1), text)


def test_kelvin_is_a_temperature_too():
    own = variant(question("02-tap-before-the-valve"), 3)
    assert mark(own, f"{Q_(own.answer.magnitude, 'degC').to('kelvin').magnitude} K").right
