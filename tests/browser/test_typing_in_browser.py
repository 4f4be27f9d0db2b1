"""Fast typing while the kernel is busy: Enter and clicks take what was typed, and the keyboard keeps its place."""

import os

from on_screen import becomes

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
TIMES = int(os.environ.get("TYPING_TIMES", "2"))  # more, to look for what is rare
CELL = """import time
from lessons_lib import panels
from lessons_lib.lessons import how_hot_at_the_tap
from lessons_lib.panels.exercises import Exercise
changed = Exercise._changed
Exercise._changed = lambda self: time.sleep(0.2) or changed(self)  # each value takes the kernel a while
guess, block, order = how_hot_at_the_tap.guess(), panels.exercises("02", 1, 2), panels.exercises("10")
for box in (guess.slide.box, guess.slide.slider, block.who.name):
    box.observe(lambda change: time.sleep(0.2), "value")
display(block, guess, order)
"""


def mark_boxes(page) -> None:
    """Another learner has other numbers and gets new boxes; what is typed must not go into those that were there before."""
    page.evaluate(
        "() => document.querySelectorAll('input[placeholder=\"your answer\"]').forEach(box => box.dataset.former = 'yes')"
    )


def boxes_are_new(page) -> None:
    page.wait_for_function("() => !document.querySelector('[data-former]')")


def test_enter_and_clicks_never_overtake_the_last_letters(page, page_of):
    page_of("fast", CELL, "input[placeholder=name]")
    failed = []
    for time in range(TIMES):
        name = f"Patricia{time}"
        mark_boxes(page)
        page.locator(f"{SHOWN} input[placeholder=name]").first.click()
        page.keyboard.type(name, delay=15)
        page.keyboard.press("Enter")
        line = page.locator(f"{SHOWN} span", has_text="Answering:").first
        line.wait_for()
        failed += [line.inner_text()] if line.inner_text() != f"Answering: {name}." else []

        boxes_are_new(page)
        page.locator(f"{SHOWN} input[placeholder='your answer']").first.click()
        page.keyboard.type(f"1{time}7.8", delay=15)
        page.keyboard.press("Enter")
        marked = page.locator(f"{SHOWN} div[role=status]", has_text="Not right").first
        marked.wait_for()
        failed += [marked.inner_text()] if f"Not right: 1{time}7.8 °C" not in marked.inner_text() else []

        handle = page.locator(f"{SHOWN} .noUi-handle:visible").first
        handle.focus()
        for _ in range(15):
            page.keyboard.press("ArrowLeft" if time % 2 else "ArrowRight")
        degrees = round(float(handle.get_attribute("aria-valuenow")))  # where the reader left it
        page.get_by_role("button", name="Keep my guess").click()
        kept = page.locator(f"{SHOWN} div[role=status]", has_text="Your guess").first
        kept.wait_for()
        left = f"the handle was left at {degrees} and stands at {handle.get_attribute('aria-valuenow')}"
        failed += [f"{left}: {kept.inner_text()}"] if f"Your guess: {degrees} °C" not in kept.inner_text() else []

        mark_boxes(page)
        page.get_by_role("button", name="Somebody else").first.click()
        page.locator(f"{SHOWN} input[placeholder=name]").first.wait_for()
        page.wait_for_function(
            "() => [...document.querySelectorAll('input[placeholder=name]')].every(box => !box.offsetParent || !box.value)"
        )
        boxes_are_new(page)
    assert not failed, f"{len(failed)} of {3 * TIMES}: {failed}"


def test_a_click_that_another_thread_hears_waits_for_the_handle(page, page_of):
    """ipykernel 7.4 hears a widget's first message in its main thread, and those that follow in another. So the first
    click is heard while the slider's values are still at work, and the newest of them has not left the browser.
    """
    page_of("threads", CELL.replace("0.2", "1"), "input[placeholder=name]")
    handle = page.locator(f"{SHOWN} .noUi-handle:visible").first
    handle.focus()
    # two seconds of work in the main thread
    page.keyboard.press("ArrowRight")
    page.wait_for_timeout(1000)
    # when that is done, two seconds in the other thread
    page.keyboard.press("ArrowRight")
    page.wait_for_timeout(1600)
    # held back by the browser
    page.keyboard.press("ArrowRight")
    page.get_by_role("button", name="Keep my guess").click()
    kept = page.locator(f"{SHOWN} div[role=status]", has_text="Your guess").first
    kept.wait_for()
    assert "Your guess: 33 °C" in kept.inner_text()


def test_an_item_is_moved_to_the_top_by_keyboard_alone(page, page_of):
    """The focus stays on the moved item's button, so that the same key moves it on."""
    page_of("order", CELL, "input[placeholder=name]")
    focused = "() => document.activeElement.title"
    last = page.locator(f"{SHOWN} button[title^='Earlier: ']").last
    title = last.get_attribute("title")
    words = title.removeprefix("Earlier: ")
    last.focus()
    count = page.locator(f"{SHOWN} button[title^='Earlier: ']").count()
    for step in range(1, count):
        page.keyboard.press("Enter")
        page.wait_for_timeout(700)
        expected = title if step < count - 1 else f"Later: {words}"
        becomes(page, focused, expected)
    first = page.locator(f"{SHOWN} button[title^='Earlier: ']").first
    assert first.get_attribute("title") == title and first.is_disabled()
