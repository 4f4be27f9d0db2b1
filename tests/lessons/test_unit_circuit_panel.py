"""The panel of an outdoor unit's circuit: by hand, each region's rules, no card that is ever green, sums beside the panel."""

import re
from random import Random

import pytest
from panels.test_panels import anywhere

from lessons_lib import Q_
from lessons_lib.lessons import heat_tape
from lessons_lib.lessons.heat_tape import unit_words
from lessons_lib.lessons.heat_tape.unit_circuit import (
    ABOVE,
    IN_SIGHT,
    ITS_PLATE,
    LOCKABLE,
    METRIC_UNIT,
    NO_DEVICE,
    NO_ISOLATOR,
    NO_SIZE,
    NO_TRIP,
    NOT_HERE,
    OVER_LARGEST,
    TOO_THIN,
    UNDER_LEAST,
    US_UNIT,
    breaker_word,
    cable_word,
    calculate,
    headline,
    readouts,
    unit_word,
    units,
)
from lessons_lib.lessons.heat_tape.unit_picture import HAND_OVER, NOWHERE
from lessons_lib.panels.pages import Legend
from lessons_lib.quantities.display import SI, SYSTEMS, US


def scene(title=METRIC_UNIT, **changes):
    return calculate({**units()[title], **changes})


def test_by_hand_there():
    """9 + 2 = 11 A; 2.5 mm2 carries 23 A, so at most 20 A; 7.41 ohm/km at 20 degC is 9.0117 at 75: 2 x 0.020 x 9.0117 x 11 = 3.965 V, 1.724 %."""
    found = scene()
    assert (found.load, found.least, found.largest, found.carries) == (11, 11, 20, 23)
    assert found.drop == pytest.approx(3.965, abs=5e-4) and found.drop_share == pytest.approx(1.724, abs=5e-4)


def test_by_hand_in_the_united_states():
    """1.25 x 11 + 2.5 = 16.25 A; 1.75 x 11 + 2.5 = 21.75 A, next down 20 A."""
    found = scene(US_UNIT)
    assert (found.load, found.least, found.largest) == (13.5, 16.25, 20)
    assert headline(found, US) == "At least 16.3 A, breaker at most 20 A"


def test_the_same_unit_asks_for_less_where_nothing_is_multiplied():
    here, there = scene(US_UNIT), scene(US_UNIT, region="IEC", cable="2.5 mm2", breaker="16 A")
    assert here.load == there.load and there.least == there.load < here.least
    assert breaker_word(there) is HAND_OVER and breaker_word(scene(US_UNIT, breaker="16 A")) is NOT_HERE


@pytest.mark.parametrize(
    "title, breaker, word",
    [
        (METRIC_UNIT, "10 A", UNDER_LEAST),
        (METRIC_UNIT, "13 A", HAND_OVER),
        (METRIC_UNIT, "20 A", HAND_OVER),
        (METRIC_UNIT, "25 A", OVER_LARGEST),
        (METRIC_UNIT, "15 A", NOT_HERE),
        (US_UNIT, "15 A", UNDER_LEAST),
        (US_UNIT, "20 A", HAND_OVER),
        (US_UNIT, "25 A", OVER_LARGEST),
        (ITS_PLATE, "15 A", UNDER_LEAST),
        (ITS_PLATE, "25 A", HAND_OVER),
        (ITS_PLATE, "30 A", OVER_LARGEST),
    ],
)
def test_word_of_the_breaker(title, breaker, word):
    found = scene(title, breaker=breaker)
    assert breaker_word(found) is word
    assert (str(word) in headline(found, SI)) == (word is not HAND_OVER)


def test_where_least_and_largest_do_not_meet_no_breaker_suits():
    """By hand, large other loads: 1.25 × 11 + 40 = 53.75 A at the least, 1.75 × 11 + 40 = 59.25 A: 50 A at the most."""
    for breaker in ("50 A", "60 A"):
        found = scene(US_UNIT, others=Q_(40, "A"), breaker=breaker)
        assert breaker_word(found) is NO_SIZE and str(NO_SIZE) in headline(found, SI)
    assert breaker_word(scene(cable="1.5 mm2", compressor=Q_(30, "A"))) is not NO_SIZE  # a thicker cable helps


def test_word_of_the_cable():
    """There it carries the breaker's rating; in the US the least, for the code sizes a compressor's breaker by itself."""
    assert cable_word(scene(breaker="25 A")) is TOO_THIN and cable_word(scene(breaker="20 A")) is HAND_OVER
    assert cable_word(scene(ITS_PLATE, breaker="25 A")) is HAND_OVER
    assert cable_word(scene(US_UNIT, cable="14 AWG solid")) is TOO_THIN
    assert cable_word(scene(US_UNIT, cable="16 AWG solid")) is TOO_THIN
    assert (
        cable_word(scene(cable_length=Q_(58, "m"))) is HAND_OVER
        and cable_word(scene(cable_length=Q_(59, "m"))) is ABOVE
    )
    assert cable_word(scene(US_UNIT, cable_length=Q_(200, "ft"))) is ABOVE


def test_word_at_the_unit():
    for title, place, word in (
        (METRIC_UNIT, IN_SIGHT, HAND_OVER),
        (METRIC_UNIT, LOCKABLE, HAND_OVER),
        (METRIC_UNIT, NOWHERE, NO_ISOLATOR),
        (US_UNIT, IN_SIGHT, HAND_OVER),
        (US_UNIT, LOCKABLE, NO_ISOLATOR),
    ):
        assert unit_word(scene(title, isolator=place)) is word
    assert unit_word(scene(device=NO_DEVICE)) is NO_TRIP


def test_no_card_is_ever_green():
    panel, dice = heat_tape.unit_circuit(), Random(8)
    for _ in range(300):
        found = calculate({name: anywhere(control, dice) for name, control in panel.controls.items()})
        assert all(card.level > 0 for system in SYSTEMS for card in readouts(found, system))
    assert "licensed electrician" in panel.sentence


@pytest.mark.parametrize("system", [SI, US])
@pytest.mark.parametrize("title", units())
def test_paper_agrees_with_the_panel(system, title):
    lines = [line for lines in unit_words.written(scene(title), system).values() for line in lines]
    pairs = [pair for line in lines for pair in re.findall(r"= ([\d.]+) [^=;]*; the panel says ([\d.]+)", line)]
    assert len(pairs) >= (1 if title == ITS_PLATE else 2)
    for paper, panel in pairs:
        assert float(paper) == pytest.approx(float(panel), rel=0.01, abs=0.06)


def test_the_sums_follow_the_sliders_and_name_the_regions_rules():
    panel = heat_tape.unit_circuit()
    sums = heat_tape.unit_sums(panel)
    assert "9.0 + 2.0 A = 11.00 A" in repr(sums) and "BS 7671" in repr(sums) and "NEC" not in repr(sums)
    panel.set_system(US)
    assert "1.25 × 11.0 + 2.5 A = 16.25 A" in repr(sums) and "440.14" in repr(sums) and "BS 7671" not in repr(sums)
    assert "disconnect" in repr(sums).lower() and "isolator" not in repr(sums).lower()
    words = repr(heat_tape.unit_cautions())
    assert words.index("licensed electrician") < 40 and "least circuit ampacity" in words and "NEC 440.22" in words


def test_the_device_has_the_name_that_it_has_at_the_readers_place():
    panel = heat_tape.unit_circuit()
    for system, name, kind in (
        (US, "GFCI", "a GFCI trips"),
        (SI, "Residual device", "a residual-current device trips"),
    ):
        panel.set_system(system)
        assert f">{name}<" in panel.controls["device"].name.value
        assert f"{name}: {kind} when current leaks to {'ground' if system == US else 'earth'}" in repr(Legend(panel))
