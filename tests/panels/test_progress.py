"""Long work in steps: the bar moves, Stop is heard between two steps, and what fails is told."""

import asyncio

import pytest
from own_thread import in_own_thread

from lessons_lib.panels.progress import Progress


def counted(steps: int, seen: list):
    for number in range(steps):
        seen.append(number)
        yield number / steps


@in_own_thread
def test_without_a_loop_the_work_is_done_at_once():
    progress, seen, ended = Progress(), [], []
    assert progress.widget.layout.display == "none" and not progress.busy
    progress.work(counted(5, seen), ended.append, pytest.fail)
    assert seen == [0, 1, 2, 3, 4] and ended == [False]
    assert progress.bar.value == pytest.approx(0.8) and "80 %" in progress.said.value and not progress.busy


@in_own_thread
def test_with_a_loop_it_gives_way_and_can_be_stopped():
    progress, seen, ended, shares = Progress(), [], [], []

    async def page():
        progress.work(counted(1000, seen), ended.append, pytest.fail)
        assert progress.busy and seen == []
        while len(seen) < 3:
            await asyncio.sleep(0)
            shares.append(progress.bar.value)
        progress.stop.click()
        await progress.task

    asyncio.run(page())
    assert ended == [True] and len(seen) in (3, 4) and len(set(shares)) >= 2 and not progress.busy


@in_own_thread
def test_what_fails_is_told_and_the_bar_goes():
    def broken():
        yield 0.5
        raise ValueError("no")

    progress, told = Progress(), []
    progress.work(broken(), lambda stopped: pytest.fail("done"), told.append)
    assert str(told[0]) == "no" and not progress.busy


@in_own_thread
def test_new_work_takes_the_place_of_the_old():
    progress, old, new, ended = Progress(), [], [], []

    async def page():
        progress.work(counted(1000, old), lambda stopped: ended.append("old"), pytest.fail)
        while len(old) < 2:
            await asyncio.sleep(0)
        progress.work(counted(1000, old), lambda stopped: ended.append("never begun"), pytest.fail)
        progress.work(counted(3, new), lambda stopped: ended.append("new"), pytest.fail)
        await progress.task
        await asyncio.sleep(0.05)

    asyncio.run(page())
    assert ended == ["new"] and len(old) == 2 and new == [0, 1, 2] and not progress.busy


@in_own_thread
def test_work_that_is_left_tells_nothing():
    progress, seen, ended = Progress(stops=False), [], []

    async def page():
        progress.work(counted(1000, seen), ended.append, pytest.fail)
        while len(seen) < 2:
            await asyncio.sleep(0)
        progress.leave()
        assert not progress.busy
        await progress.task

    asyncio.run(page())
    assert not ended and len(seen) == 2 and progress.stop not in progress.widget.children
