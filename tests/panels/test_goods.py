"""Each reader meets the goods of their own side: pipe of their region, foam as it is sold there, in panels and steps."""

import pytest
from panels.test_panels import PANELS

from lessons_lib import Q_
from lessons_lib.exercises.bank import questions
from lessons_lib.exercises.marking import within
from lessons_lib.exercises.solvers import cabin as solver
from lessons_lib.exercises.variants import Variant
from lessons_lib.panels.page_state import choose_region
from lessons_lib.panels.shared_controls import FOAM, in_goods
from lessons_lib.quantities.display import SI, US
from lessons_lib.runs.pipe import Pipe, counterpart

# What is bought in place of a US pipe (common practice, no source): the tube of nearly the same outside.
BOUGHT = {
    ("copper L", "3/8 in"): ("12 mm", "12 mm"),
    ("copper L", "1/2 in"): ("15 mm", "15 mm x 0.7 mm"),
    ("copper L", "3/4 in"): ("22 mm", "22 mm x 0.9 mm"),
    ("copper L", "1 in"): ("28 mm", "28 mm x 0.9 mm"),
    ("copper L", "1 1/4 in"): ("35 mm", "35 mm"),
    ("PEX CTS", "1/2 in"): ("16 mm", "15 mm"),
    ("PEX CTS", "3/4 in"): ("20 mm", "22 mm"),
    ("PEX CTS", "1 in"): ("32 mm", "28 mm"),
}


@pytest.mark.parametrize("pipe", BOUGHT, ids=" ".join)
def test_the_counterpart_is_what_is_bought_there(pipe):
    found = [counterpart(*pipe, region) for region in ("Europe", "United Kingdom")]
    assert tuple(size for _, size in found) == BOUGHT[pipe]
    for family, size in found:
        assert Pipe.nominal(family, size).material == Pipe.nominal(*pipe).material
    assert counterpart(*pipe, "United States") == pipe


def test_what_no_region_sells_stays():
    assert counterpart("CPVC CTS", "3/4 in", "Europe") == ("CPVC CTS", "3/4 in")


@pytest.mark.usefixtures("no_background")
@pytest.mark.parametrize("name", sorted(set(PANELS) - {"bench"}))
def test_every_panel_opens_and_steps_in_its_readers_goods(name):
    panel = PANELS[name]()
    panel.update = lambda: None  # no picture is needed
    for region in ("Europe", "United Kingdom", "United States"):
        system = US if region == "United States" else SI
        if system == SI:
            choose_region(region)
        panel.set_system(system)
        settings = [panel.opening(system), panel.state]
        for title in panel.ready_made:
            panel.use(title)
            settings.append(panel.state)
        panel.reset()
        settings += [
            panel.tries.values(step, system) for one in (panel.tries.tries if panel.tries else ()) for step in one.steps
        ]
        for state in settings:
            for pipe in (value for value in state.values() if isinstance(value, tuple)):
                own = Pipe.nominal(*pipe).region
                assert own == region or (region, own) == ("United Kingdom", "Europe"), pipe
        if "thickness" in (opened := panel.state):
            shown = opened["thickness"].to("mm" if system == SI else "in").magnitude
            assert min(abs(shown - one) for one in FOAM[system]) < 1e-9


def test_foam_of_the_other_side_becomes_what_is_sold_here_and_ones_own_stays():
    bought = in_goods({"thickness": Q_(19, "mm")}, US)["thickness"]
    assert bought.units == Q_(1, "in").units and bought.magnitude == 0.75
    assert in_goods({"thickness": Q_(0.5, "in")}, SI)["thickness"] == Q_(13, "mm")
    assert in_goods({"thickness": Q_(0.0625, "in")}, US)["thickness"] == Q_(0.0625, "in")


def test_a_question_about_the_cabin_takes_what_the_readers_own_panel_shows(monkeypatch):
    """The questions are worked out on one pipe; the other sides' pipe changes no right answer, and no right one by more than
    a question allows."""
    entry, asks = solver._entry(), []
    monkeypatch.setattr(solver, "_entry", lambda: asks.append(1) or entry)
    answers = {}
    for one in questions():
        for own in (Variant(one, str(seat), SI) for seat in range(1, 9)):
            asks.clear()
            answer = own.answer
            if asks:
                answers[own] = answer
    for region in ("Europe", "United Kingdom"):
        pipe, size = counterpart(entry["pipe"], entry["size"], region)
        monkeypatch.setattr(solver, "_entry", lambda: entry | {"pipe": pipe, "size": size})
        differ = 0
        for own, before in answers.items():
            after = Variant(own.question, own.seat, SI).answer
            differ += after != before
            assert after == before or own.is_number and within(own, after, before), own.question.id
        assert differ >= 8, "the other pipe does change some answers a little"
