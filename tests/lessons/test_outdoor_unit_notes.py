"""The notes on the outdoor unit: sums that follow the panel, both unit systems, and no card that is ever green."""

import re

import pytest

from lessons_lib import Q_
from lessons_lib.lessons import outdoor_unit_notes
from lessons_lib.lessons.outdoor_unit_notes import words as notes
from lessons_lib.lessons.outdoor_unit_notes.panel import BOLTS, calculate, readouts, rigs
from lessons_lib.quantities.display import SI, US

START = next(iter(rigs().values()))


def scene(**changes):
    return calculate({**START, **changes})


def test_bracket_and_wind_by_hand():
    """65 kg weigh 637.4 N; at 0.25 m 159.4 N m; over two bolts 0.4 m up 199.2 N; a quarter across each; half rho V2 is 551 Pa."""
    found = scene()
    assert found.load == pytest.approx(65 * 9.80665) and found.moment == pytest.approx(65 * 9.80665 * 0.25)
    assert found.tension == pytest.approx(199.2, abs=0.05) and found.shear == pytest.approx(159.4, abs=0.05)
    assert found.factored_tension == pytest.approx(4 * found.tension) and found.factored_shear == pytest.approx(
        4 * found.shear
    )
    assert found.pressure == pytest.approx(551.25)


def test_what_the_page_says_to_notice():
    """Half the spacing or twice the arm doubles the pull and leaves the weight across each bolt; wind grows with its square."""
    plain, close, long, windy = (
        scene(),
        scene(spacing=Q_(200, "mm")),
        scene(arm=Q_(500, "mm")),
        scene(wind=Q_(60, "m/s")),
    )
    assert close.tension == pytest.approx(2 * plain.tension) == pytest.approx(long.tension)
    assert close.shear == long.shear == plain.shear and windy.pressure == pytest.approx(4 * plain.pressure)
    assert scene(bolts=list(BOLTS)[1]).tension == pytest.approx(0.5 * plain.tension)


def test_no_card_is_ever_green():
    for changes in ({}, {"mass": Q_(10, "kg"), "extra": Q_(0, "kg"), "wind": Q_(0, "m/s")}):
        assert all(card.level > 0 for card in readouts(scene(**changes), SI))
    assert "licensed" in outdoor_unit_notes.panel().sentence


@pytest.mark.parametrize("system", [SI, US])
@pytest.mark.parametrize("rig", rigs())
@pytest.mark.parametrize(
    "changes", [{}, {"mass": Q_(123, "lb"), "arm": Q_(13, "inch"), "spacing": Q_(17, "inch"), "factor": Q_(2.5, "")}]
)
def test_paper_agrees_with_the_panel(system, rig, changes):
    """Each result of the sums lies beside the panel's within rounding."""
    parts = notes.written(calculate({**rigs()[rig], **changes}), system)
    pairs = [
        pair
        for lines in parts.values()
        for line in lines
        for pair in re.findall(r"= ([\d.]+) [^=;]*; the panel says ([\d.]+)", line)
    ]
    assert len(pairs) == 5
    for paper, panel in pairs:
        assert float(paper) == pytest.approx(float(panel), rel=0.01, abs=1.0)


def test_the_sums_follow_the_sliders_and_the_units():
    panel = outdoor_unit_notes.panel()
    sums = notes.sums(panel)
    assert "= 638 N" in repr(sums) and "lbf" not in repr(sums)
    panel.set({"mass": Q_(85, "kg")})
    assert "(85 + 15) kg" in repr(sums) and "(85 + 15) kg" in sums.widget.value
    panel.set_system(US)
    assert "lbf ft" in repr(sums) and " N m" not in repr(sums)
    assert sums._repr_mimebundle_()["text/plain"] == repr(sums)


def test_cautions_are_the_librarys_own():
    words = repr(notes.cautions())
    assert "pull-out of the anchor in THAT wall" in words
