"""The tries that stand beneath a panel's controls: they can be done as they are written, and the model answers them."""

import re

import pytest
from panels.test_panels import PANELS

from lessons_lib.panels import StepList
from lessons_lib.quantities.display import SI, SYSTEMS, US
from lessons_lib.storage.spelling import in_words_of

pytestmark = pytest.mark.usefixtures("no_background")
TRIES, MOVES = 3, 8  # what ten minutes hold


@pytest.fixture(params=PANELS)
def panel(request):
    made = PANELS[request.param]()
    if made.tries is None:
        pytest.skip("this panel has no tries")
    return made


def test_whoever_does_the_steps_sees_what_the_answer_is_made_from(panel):
    """Each value can be set on its control, and the panel then shows the very scene that the answer speaks of. An answer is
    worked out: it has numbers, and with the scenes in another order it reads otherwise. All steps fit into ten minutes.
    """
    tries = panel.tries.tries
    moves = sum(len(step.sets) for one in tries for step in one.steps)
    print(f"{len(tries)} tries, {moves} moves, {len(repr(StepList(panel)).split())} words")
    assert len(tries) <= TRIES and moves <= MOVES
    for system in SYSTEMS:
        panel.set_system(system)
        for one in tries:
            panel.reset()
            seen = [panel.sentence]
            for step in one.steps:
                values = panel.tries.values(step, system)
                assert all(panel.controls[name].takes(value) for name, value in values.items())
                panel.set(values)
                assert "Ready" in panel._status.value
                seen.append(panel.sentence)
            scenes = panel.tries.scenes(one, system)
            told = [in_words_of(panel.picture.sentence(scene), system) for scene in scenes]
            assert told == seen
            answer = one.answer(scenes, system)
            assert re.search(r"\d", answer) and "{" not in answer
            assert len(set(told)) == 1 or one.answer(scenes[::-1], system) != answer


def test_back_next_the_end_and_the_units(panel):
    """Every step and answer is shown in turn; a new try puts the panel back; Back does not; the last leads to the first.

    Whoever stands before a room need not look in the menu for the control that a step names; what they choose there stays until
    the next step. In other units what is shown changes at once wherever it has a value with a unit; each panel has one.
    """
    tries, places, in_sight, shown = panel.tries, panel.tries.places, [], []
    for place, (one, step) in enumerate(places):
        if place:
            tries.next.click()
        assert one.title in tries.told.value
        named = [name for later in one.steps[step:] for name in later.sets]
        shown.append(tries.told.value)
        in_sight.append(panel._one.value)
        assert in_sight[-1] == (named[0] if named else in_sight[-2])
        assert panel.controls[in_sight[-1]].widget in panel._in_hand.children
    assert len(set(shown)) == len(places)
    other = next((name for name in panel.controls if name != in_sight[-1]), in_sight[-1])
    panel._one.value = other
    step = next(step for one in tries.tries for step in one.steps if step.sets)
    panel.set(tries.values(step, panel.system))
    moved = panel.state
    tries.back.click()
    assert panel.state == moved and tries.told.value == shown[-2]
    panel._one.value = other
    panel.set_system(US)
    assert panel._one.value == other
    customary = []
    for place in range(len(places)):
        tries.go(place)
        customary.append(tries.told.value)
    panel.set_system(SI)
    assert tries.told.value == shown[-1]
    tries.next.click()
    assert tries.told.value == shown[0] and panel.state == panel.opening(SI)
    place = next(place for place in range(len(places)) if shown[place] != customary[place])
    tries.go(place)
    panel.set_system(US)
    assert tries.told.value == customary[place]
    assert not tries.back.disabled and not tries.next.disabled
