"""Lesson 01: its surprises are on the panel, its numbers on paper are the panel's, and nothing that scalds or breeds is called fine."""

import re

import pytest

from lessons_lib import Q_
from lessons_lib.exercises import mark, question, variant
from lessons_lib.lessons import hot_enough_not_too_hot
from lessons_lib.lessons.hot_enough_not_too_hot import words as lesson
from lessons_lib.lessons.hot_enough_not_too_hot.panel import calculate, contents, readouts, workshop
from lessons_lib.lessons.hot_enough_not_too_hot.picture import FULL_BAR, MOST, sentence
from lessons_lib.lessons.hot_enough_not_too_hot.valve_strip import AT_EACH, AT_TANK, BETWEEN, NOWHERE, PLACES
from lessons_lib.quantities.display import SYSTEMS
from lessons_lib.runs.bacteria import guidance

START = next(iter(workshop().values()))


def scene(**changes):
    return calculate({**START, **changes})


def celsius(value):
    return Q_(float(value), "degC")


def levels(found, system="metric"):
    return {card.title: (card.word, card.level) for card in readouts(found, system)}


def test_it_opens_on_a_hot_store_and_does_not_give_the_guess_away():
    opening = scene()
    assert (opening.place, opening.tank, opening.first, opening.last) == (AT_TANK, 60, 45, 45)
    answer = lesson.guess().answer().to("s").magnitude
    assert f"{answer:.0f} s" not in hot_enough_not_too_hot.panel().sentence


def test_eleven_degrees_turn_minutes_into_seconds_and_back():
    """Try these 2: the cooler tank scalds later and costs less, gives fewer litres, and lets bacteria live."""
    cool, hot = scene(place=NOWHERE, supply=celsius(49)), scene(place=NOWHERE)
    assert cool.first_burn[0] == pytest.approx(300) and hot.first_burn[0] == pytest.approx(3)
    assert cool.mixed == pytest.approx(0.195) and hot.mixed == pytest.approx(0.250)
    assert hot.electricity > 1.15 * cool.electricity and hot.cop < cool.cop
    assert levels(cool)["Tank"] == ("bacteria can grow", 2) and levels(hot)["Tank"] == ("stored hot", 0)
    assert levels(cool)["Pipe"] == ("tepid all the way", 2) and levels(hot)["Pipe"] == ("hot to the taps", 0)


def test_a_valve_protects_what_comes_after_it_and_leaves_that_tepid():
    """Try these 1."""
    taps = {place: (scene(place=place).first, scene(place=place).last) for place in PLACES}
    assert taps == {NOWHERE: (60, 60), AT_TANK: (45, 45), BETWEEN: (60, 45), AT_EACH: (45, 45)}
    tepid = {place: scene(place=place).tepid_volume for place in PLACES}
    trunk, leg, end = contents()
    assert tepid[AT_TANK] == pytest.approx(trunk + leg + 2 * end) and tepid[BETWEEN] == pytest.approx(leg + end)
    assert tepid[AT_EACH] == pytest.approx(2 * end) and tepid[NOWHERE] == 0
    assert tepid[AT_TANK] > 20 * tepid[AT_EACH] > 0
    assert [levels(scene(place=place))["Pipe"][1] for place in PLACES] == [0, 1, 1, 0], "short ends are no tepid pipe"


@pytest.mark.parametrize(
    "changes", [{"flow": Q_(2.0, "L/min")}, {"supply": celsius(49)}, {"setting": celsius(55)}, {"supply": celsius(44)}]
)
def test_a_valve_outside_its_limits_is_not_trusted(changes):
    """Try these 3: too little flow, too cool a tank, a setting too near the tank's, a tank below the setting."""
    found = scene(**changes)
    assert not found.holds and found.first == found.last == found.tank
    assert "can't hold" in sentence(found, "metric")


def test_the_limits_themselves_still_hold():
    assert scene(flow=Q_(4.0, "L/min"), supply=celsius(55)).holds
    assert not scene(flow=Q_(3.9, "L/min")).holds and not scene(supply=celsius(54.9)).holds


def test_never_all_green_with_a_scald_or_a_tepid_pipe():
    for place in PLACES:
        for tank in range(40, 76, 5):
            for setting in (35, 45, 49, 60):
                found = scene(place=place, supply=celsius(tank), setting=celsius(setting))
                grave = [level for _, level in levels(found).values()]
                safe = place == AT_EACH and tank >= 60 and max(found.first, found.last) <= 41
                assert (max(grave) > 0) == (not safe), (place, tank, setting)
                if max(found.first, found.last) > 49:
                    assert max(grave) == 2
                if tank < 60:
                    assert levels(found)["Tank"][1] > 0


def test_everything_fits_the_vessels_and_the_bars():
    most = scene(supply=celsius(75), cold=celsius(25), volume=Q_(300, "L"))
    assert most.mixed <= MOST * most.volume
    greedy = scene(cold=celsius(1), used=Q_(80, "gal"))
    assert max(greedy.heat, greedy.standby, greedy.electricity) < FULL_BAR


def test_the_cold_changes_litres_and_heat_by_hand():
    """150 L at 60 with 10 degC cold is 150 x 50/30; 180 L warmed by 30 K is 180 x 30 x 1.163 Wh; standby 1.6 x 40/45."""
    opening = scene()
    assert opening.mixed == pytest.approx(0.150 * 50 / 30)
    assert opening.heat == pytest.approx(180 * 30 * 1.163e-3, rel=0.005)
    assert opening.standby == pytest.approx(1.6 * 40 / 45)
    assert opening.electricity == pytest.approx((opening.heat + opening.standby) / (0.45 * 338.15 / 68))
    assert scene(volume=Q_(300, "L")).standby == pytest.approx(opening.standby * 2 ** (2 / 3))


def test_paper_agrees_with_the_panel():
    """Bold numbers of the hand calculation, beside what the panel says after them."""
    told = repr(lesson.by_hand())
    for paper, panel in re.findall(r"\*\*([\d,.]+) (?:L|gal|kWh)\*\*; the panel says ([\d,.]+)", told):
        assert float(paper.replace(",", "")) == pytest.approx(float(panel.replace(",", "")), rel=0.02)
    metric, customary = (
        re.search(r"Electricity .*\*\*([\d.]+) kWh", part)[1] for part in told.split("**US customary.**")
    )
    assert float(metric) == pytest.approx(scene().electricity, abs=0.06) and float(customary) == pytest.approx(
        scene().electricity, abs=0.06
    )
    assert told.count("the panel says") == 4 and "the panel says 66 gal" in told


def test_advice_shows_both_sides_with_their_region():
    lines = repr(lesson.advice()).splitlines()
    assert sum("in the store | at least" in line for line in lines) == len(guidance("store"))
    assert sum("at most" in line for line in lines) >= 8
    assert any("United States" in line and "at most 49 °C (120 °F)" in line for line in lines)


@pytest.mark.parametrize("system, unit", [("metric", "°C"), ("US customary", "°F")])
def test_guess_asks_in_the_readers_units(system, unit):
    words = lesson.guess().question(system)
    assert words.count(unit) == 2 and "about 5 min" in words


def test_a_little_pipe_is_not_called_no_pipe():
    assert "0.04 gal" in sentence(scene(place=AT_EACH), "US customary")
    assert "0.2 L" in sentence(scene(place=AT_EACH), "metric")


@pytest.mark.parametrize("system", SYSTEMS)
def test_the_question_of_the_panel_is_answered_by_the_panel(system):
    """Set as the question says, whoever asks: the time beside the first tap is marked right, that of the last tap by its mistake."""
    panel = hot_enough_not_too_hot.panel()
    panel.set_system(system)
    for seat in range(1, 13):
        asked = variant(question("01-time-to-burn"), seat, system)
        panel.set({"place": BETWEEN, "supply": asked.values["tank"], "setting": asked.values["setting"]})
        first, last = re.search(
            r"first tap .*? burns in about (.*?); last tap .*? burns in about (.*?)\. ", panel.sentence
        ).groups()
        assert mark(asked, first).right, panel.sentence
        assert mark(asked, last).mistake == "valve protects what comes before it", panel.sentence
