"""A large building is worked out in steps: the numbers come before the sketch, and a new edit takes the old one's place."""

import asyncio

import pytest
from benchmarks.test_speed_of_layouts import a_building
from own_thread import in_own_thread

from lessons_lib.lessons import your_own_run
from lessons_lib.lessons.your_own_run.working import LARGE, SHOWN
from lessons_lib.quantities.display import unbroken


@pytest.fixture
def large(tmp_path):
    file = tmp_path / "large.toml"
    file.write_text(a_building(LARGE + 36), encoding="utf-8")
    return file


def opened(file):
    panel = your_own_run.panel()
    panel.open_typed(str(file))
    return panel


async def until(met) -> None:
    for _ in range(5000):
        if met():
            return
        await asyncio.sleep(0.005)
    pytest.fail("it never came")


@in_own_thread
def test_the_numbers_are_shown_before_the_sketch(large):
    panel = opened(large)
    assert "Ready" in panel._status.value and not panel.working.progress.busy
    before, wait = panel._drawing, panel.sentence

    async def page():
        panel.set("valve", "setting", "44 °C")
        assert panel.working.progress.busy and "Working it out" in panel._status.value and panel.sentence == wait
        await until(lambda: panel.working.progress.bar.value >= SHOWN)
        assert panel.sentence != wait and unbroken(panel.sentence) in panel._shown.value and panel._drawing == before
        assert "the sketch follows" in panel._status.value
        await until(lambda: not panel.working.progress.busy)
        assert panel._drawing != before and panel.is_drawn() and "Ready" in panel._status.value

    asyncio.run(page())


@in_own_thread
def test_a_new_edit_takes_the_place_of_the_one_that_is_worked_on(large):
    panel, drawn = opened(large), []
    panel.picture.draw = lambda scene, draw=panel.picture.draw: (drawn.append(scene), draw(scene))[1]

    async def page():
        for length in ("2.1 m", "2.2 m", "2.3 m", "2.4 m"):
            panel.change("leg", 3, "length", length)
            await asyncio.sleep(0.001)
        await until(lambda: not panel.working.progress.busy)

    asyncio.run(page())
    assert [str(scene.layout.legs[3].length) for scene in drawn] == ["2.4 m"] and panel.scene is drawn[0]


@in_own_thread
def test_a_small_layout_opened_meanwhile_is_what_stays(large):
    panel = opened(large)
    first = next(iter(panel.files))

    async def page():
        panel.change("leg", 3, "length", "2.1 m")
        await asyncio.sleep(0.001)
        panel.open(first)
        assert not panel.working.progress.busy and panel.scene.layout.name in first
        await asyncio.sleep(0.1)
        assert panel.scene.layout.name in first and "Ready" in panel._status.value

    asyncio.run(page())


@in_own_thread
def test_what_is_wrong_in_a_large_building_stands_beside_its_row(large):
    panel = opened(large)

    async def page():
        panel.change("leg", 3, "length", "2.1 bananas")
        await until(lambda: not panel.working.progress.busy)

    asyncio.run(page())
    assert "Picture kept from before" in panel._status.value and "bananas" in panel.table.rows[3].told.value


@in_own_thread
def test_a_sheet_is_written_in_steps_and_can_be_stopped(large):
    panel = opened(large)
    _, web_page, pdf, *_ = panel.writing.writers
    bar, file = panel.writing.progress, large.with_name("large-A4.html")

    async def page():
        panel.writing.paper.value, shares = "A4", set()
        web_page.press()
        assert bar.busy and "Writing" in panel.writing.answer.value and not file.exists()
        pdf.press()  # one after the other
        while bar.busy:
            shares.add(bar.bar.value)
            await asyncio.sleep(0.001)
        assert file.exists() and len(shares) >= 4 and "● Written" in panel.writing.answer.value
        pdf.press()
        await asyncio.sleep(0.001)
        bar.stop.click()
        await until(lambda: not bar.busy)
        assert "Stopped. Nothing was written" in panel.writing.answer.value

    asyncio.run(page())
    assert not list(large.parent.glob("*.pdf"))
