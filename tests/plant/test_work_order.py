"""The order of work: every step locked until the one before it is done, and never heat into a dry tank."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessons_lib import InputError
from lessons_lib.plant.work_order import NEVER_DRY, WorkOrder, keys, step, steps

ORDER = (
    "supply",
    "vessel",
    "pressure test",
    "flush",
    "fit",
    "fill",
    "purge",
    "cold leak check",
    "disinfect",
    "energise",
    "first heat",
    "hot leak check",
    "set the valve",
    "insulate",
    "record",
    "hand over",
)
some = settings(max_examples=60, deadline=None, derandomize=True)


def worked_up_to(key) -> WorkOrder:
    return WorkOrder(ORDER[: ORDER.index(key)])


def test_the_order_is_the_lessons():
    assert keys() == ORDER


def test_each_condition_unlocks_the_next_step_only():
    work = WorkOrder()
    for place, key in enumerate(ORDER):
        assert work.current.key == key and work.state(key) == "open" and not work.finished
        assert all(work.state(done) == "done" for done in ORDER[:place])
        assert all(work.state(later) == "locked" for later in ORDER[place + 1 :])
        work = work.meet(key)
    assert work.finished and work.current is None and work.done == ORDER


@pytest.mark.parametrize("place", range(len(ORDER)))
def test_every_later_step_is_locked(place):
    """The message names the step that is open and what must be seen there."""
    work = WorkOrder(ORDER[:place])
    for later in ORDER[place + 1 :]:
        with pytest.raises(
            InputError,
            match=f'"{later}" is locked until "{ORDER[place]}" is done: {re.escape(step(ORDER[place]).until)}',
        ):
            work.meet(later)


@pytest.mark.parametrize("wrong", ["energise", "first heat"])
@pytest.mark.parametrize("reached", ["fill", "purge", "cold leak check"])
def test_never_heat_a_dry_tank(wrong, reached):
    work = worked_up_to(reached)
    assert not work.may_heat
    with pytest.raises(InputError, match=re.escape(NEVER_DRY)):
        work.meet(wrong)


def test_heat_is_allowed_only_after_all_that_comes_before_it():
    assert [WorkOrder(ORDER[:place]).may_heat for place in range(len(ORDER) + 1)] == [
        place >= 10 for place in range(len(ORDER) + 1)
    ]
    assert [one.key for one in steps() if one.heats] == ["first heat"]


@some
@given(st.lists(st.sampled_from(ORDER), max_size=60))
def test_no_way_round_the_locks(tries):
    """Whatever is tried in whatever order, what is done is a beginning of the order."""
    work = WorkOrder()
    for key in tries:
        before = work
        try:
            work = work.meet(key)
        except InputError:
            assert before.state(key) != "open"
        assert work.done == ORDER[: len(work.done)]
        assert not work.may_heat or "purge" in work.done


def test_a_leak_takes_the_work_back():
    work = worked_up_to("set the valve")
    back = work.undo("fill")
    assert back.done == ORDER[:5] and back.current.key == "fill" and not back.may_heat
    assert work.done == ORDER[:12], "the state before stays as it was"


def test_done_twice_and_undone_too_early():
    with pytest.raises(InputError, match='"supply" is done already; undo it'):
        WorkOrder(("supply",)).meet("supply")
    with pytest.raises(InputError, match='"fill" is not done'):
        WorkOrder().undo("fill")


@pytest.mark.parametrize("done", [("vessel",), ("supply", "fill"), ("supply", "supply"), ("vessel", "supply")])
def test_a_state_out_of_order_is_refused(done):
    with pytest.raises(InputError, match="^work order: .*possible is from the first on and in order"):
        WorkOrder(done)


@pytest.mark.parametrize(
    "call", [step, WorkOrder().meet, WorkOrder().undo, WorkOrder().state, lambda key: WorkOrder((key,))]
)
def test_unknown_step(call):
    with pytest.raises(InputError, match='step: "purg" is not known; the nearest are "purge"'):
        call("purg")


def test_names_are_read_as_people_write_them():
    assert WorkOrder(["Supply"]).meet(" Vessel ").done == ("supply", "vessel")
    assert WorkOrder("supply").done == ("supply",)


def test_cautions_stand_at_their_steps():
    assert "Never test plastic pipe with air" in step("pressure test").caution
    assert "live main" in step("vessel").caution and "open valve proves nothing" in step("fill").caution
    assert all("Never heat a dry tank" in step(key).caution for key in ("purge", "first heat"))
    assert "electrician" in step("energise").step and "Thermometer" in step("set the valve").caution
    assert all(one.until and one.step for one in steps())


def test_it_prints_its_state():
    text = str(WorkOrder(("supply",)))
    assert re.search(r"supply +done: ", text) and re.search(r"vessel +open: ", text) and "locked: First heat" in text
    assert NEVER_DRY in text


def test_two_states_with_the_same_steps_are_equal():
    assert WorkOrder(("supply",)) == WorkOrder().meet("supply")
