"""The verdict on water at a tap: never fine above what care asks for at a shower, and always with whom its times are for."""

import numpy as np
import pytest

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, assess, load_layout, time_to_burn
from lessons_lib.drawing.thermometer import EDGES, WORDS
from lessons_lib.lessons import (
    at_the_bench,
    choosing_the_pipe_size,
    fill_purge_and_hand_over,
    hot_enough_not_too_hot,
    how_hot_at_the_tap,
    waiting_for_hot,
)
from lessons_lib.quantities.display import SYSTEMS, burn_time, burns
from lessons_lib.runs.assessment import SAFEST_LIMIT, SCALD_WORDS, scald_word
from lessons_lib.storage.tables import DATA

SCALDS = {word for _, word in SCALD_WORDS}


def test_nothing_above_41_degrees_is_called_fine():
    """45 degC was "fine, low for adults": children and frail people use that tap."""
    assert SAFEST_LIMIT == 41.0  # 106 degF
    water = np.arange(0.0, 99.0, 0.25)
    levels = np.array([scald_word(value).gravity for value in water])
    assert np.all(levels[water <= 41] == 0) and np.all(levels[water > 41] > 0) and np.all(np.diff(levels) >= 0)
    assert [scald_word(value) for value in (41.0, 41.1, 45.0, 47.0, 50.0, 60.0)] == [
        "low scald risk",
        "hot for children",
        "hot for children",
        "test it first",
        "scalds in minutes",
        "scalds in seconds",
    ]
    assert scald_word(Q_(105.8, "degF").to("degC").magnitude) == "low scald risk"


PANELS = {
    "burn_times": hot_enough_not_too_hot.burn_times,
    "main": how_hot_at_the_tap.panel,
    "waiting": waiting_for_hot.panel,
    "pipe_size": choosing_the_pipe_size.panel,
    "hot_enough": hot_enough_not_too_hot.panel,
    "set_valve": fill_purge_and_hand_over.set_valve,
    "bench": at_the_bench.panel,
}


@pytest.mark.parametrize(
    "name, control",
    [
        ("burn_times", "water"),
        ("main", "supply"),
        ("waiting", "supply"),
        ("pipe_size", "supply"),
        ("hot_enough", "setting"),
        ("set_valve", "knob"),
        ("bench", "supply"),
    ],
)
def test_every_panel_asks_for_care_at_45_and_says_for_whom(name, control):
    panel = PANELS[name]()
    if name == "hot_enough":
        panel.set({"supply": Q_(60, "degC"), "flow": Q_(8, "L/min")})
    if name == "set_valve":
        panel.set({"tank": Q_(65, "degC"), "flow": Q_(6, "L/min")})
    panel.set({control: Q_(45, "degC")})
    for system in SYSTEMS:
        cards = [card for card in panel.readouts(panel.scene, system) if card.word in SCALDS]
        assert cards
        for card in cards:
            assert (
                card.level > 0
                and "adults" in card.detail
                and "children and frail people can burn sooner" in card.detail
            ), card


def test_the_bands_in_the_pictures_are_the_verdicts():
    """A picture's green band must not reach further than the card's green mark."""
    assert WORDS == tuple(word for _, word in SCALD_WORDS)
    for low, high, word in zip(EDGES, EDGES[1:], WORDS):
        assert {scald_word(value) for value in np.linspace(low + 0.11, high, 9, endpoint=False)} == {word}


def test_run_and_building_say_the_same():
    run = Run(
        Pipe.nominal("copper L", "1/2 in"),
        Q_(1, "m"),
        Insulation("elastomeric foam", Q_(19, "mm")),
        Surroundings(Q_(20, "degC")),
    )
    found = assess(run, Q_([40.5, 45.2], "degC"), Q_(12, "L/min"))
    assert list(found.scald.word) == ["low scald risk", "hot for children"]
    assert all(
        "an adult's skin" in reason and "children and frail people can burn sooner" in reason
        for reason in found.scald.reason
    )
    for tap in load_layout(DATA / "layouts" / "bunk_cabin.toml").assess().taps:
        assert tap.scald.word == scald_word(tap.delivered.magnitude) and "adults" in tap.scald.reason
        assert (tap.scald.word.gravity == 0) == (tap.delivered.magnitude <= 41)


@pytest.mark.parametrize(
    "celsius, words", [(44.0, "6 h"), (44.76, "2 h"), (45.0, "2 h"), (45.2, "1 h"), (48.0, "15 min"), (60.0, "3 s")]
)
def test_one_style_for_burn_times(celsius, words):
    """45 degC burned "in about 2 h" in one lesson and "2.6 h" in another: the tables are no finer than a factor of two."""
    found = time_to_burn(Q_(celsius, "degC"))
    assert (
        burn_time(found.seconds.magnitude) == words
        and burns(found.seconds.magnitude, "at") == f"burns in about {words}"
    )


def test_the_hottest_published_water_is_the_same_in_both_units():
    """140 degF is 60 degC (exact by definition of the scales), the end of the table's column."""
    metric, customary = time_to_burn(Q_(60, "degC")), time_to_burn(Q_(140, "degF"))
    assert metric.bound == customary.bound == "at" and time_to_burn(Q_(60.1, "degC")).bound == "shorter than"
    assert customary.seconds.magnitude == pytest.approx(metric.seconds.magnitude)
