"""A page made large for a room, on a screen of 1366 x 768: what the back row reads is at least 30 px high, the control
that is moved and the picture are seen together, and the same button takes all of it back.
"""

import pytest
from on_screen import becomes, place

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
PANEL = f"{SHOWN} .hot-water-runs:has(> .hot-water-bar)"
IN_HAND = f"{PANEL} .hot-water-in-hand"
BUTTON = f"{SHOWN} button.hot-water-large"
GUESS, QUESTION, CARD, CONTROL = "Keep my guess", "Answer", ".hot-water-cards", ".hot-water-in-hand select"
# What a page must have of that which is read from the back row.
PAGES = {
    "02-how-hot-at-the-tap": (GUESS, QUESTION, CARD, CONTROL),
    "04-choosing-the-pipe-size": (GUESS, QUESTION, CARD, CONTROL),
    "11-your-own-run": (GUESS, QUESTION, CARD),
    "instructor/class-board": (CARD, CONTROL),
}
# [px] of type; of a slider's track
SMALLEST, TRACK = 30, 360
# Every element with words of its own that is seen, as [height of its type in px, words, class].
TYPE = """page => [...page.querySelectorAll('.hot-water-runs *, .jp-MarkdownOutput *')]
    .filter(one => one.checkVisibility() && !one.closest('svg, style') && one.getBoundingClientRect().width)
    .filter(one => one.matches('input:not([type=radio]), select') || [...one.childNodes].some(part => part.nodeType === 3 && part.data.trim()))
    .map(one => [parseFloat(getComputedStyle(one).fontSize) * one.currentCSSZoom,
                 (one.value || one.textContent).trim().slice(0, 40), one.className])"""
# The smallest words in each part of a picture that is shown, and the part's width [px].
WORDS = """panel => [...panel.querySelectorAll('.hot-water-parts svg')].map(part => {
    const width = part.getBoundingClientRect().width, whole = document.querySelector(part.querySelector('use').href.baseVal);
    const sizes = [part, ...whole.querySelectorAll('text')].map(one => parseFloat(getComputedStyle(one).fontSize));
    return [Math.min(...sizes) * width / part.viewBox.baseVal.width, width] })"""
PLACES = """page => [...page.querySelectorAll('.jp-Cell, .jp-Cell *')].map(one => {
    const box = one.getBoundingClientRect(), whole = page.querySelector('.jp-WindowedPanel-viewport').getBoundingClientRect();
    return box.width && [box.x - whole.x, box.y - whole.y, box.width, box.height].map(Math.round).join() })"""
SIDEWAYS = "outer => outer.scrollWidth - outer.clientWidth"


def press(page) -> None:
    """Presses the first button "Large, for the room" by keyboard, which then keeps the focus; all buttons of the page follow."""
    buttons = page.locator(BUTTON)
    button, pressed = buttons.first, page.locator(f"{BUTTON}.mod-active")
    wanted = 0 if pressed.count() else buttons.count()
    button.focus()
    page.keyboard.press("Enter")
    becomes(page, "where => document.querySelectorAll(where).length", wanted, f"{BUTTON}.mod-active")
    assert place(button)["y"] < 400, "the page grew, and the button with it went out of sight"
    assert button.evaluate("button => button === document.activeElement")


@pytest.mark.parametrize("name", PAGES)
def test_the_back_row_reads_all_that_is_live_and_a_second_press_takes_it_back(page, opened, name):
    opened(name)
    notebook = page.locator(f"{SHOWN} .jp-Notebook")
    before = notebook.evaluate(PLACES)
    press(page)
    read = notebook.evaluate(TYPE)
    for part in PAGES[name]:
        there = page.locator(part if part.startswith(".") else f"{SHOWN} button:has-text('{part}')")
        assert there.locator("visible=true").count(), part
    assert [one for one in read if one[0] < SMALLEST] == []
    words = notebook.evaluate(WORDS)
    assert words and min(size for size, _ in words) >= SMALLEST, words
    assert notebook.locator(".jp-WindowedPanel-outer").evaluate(SIDEWAYS) <= 0
    panels = page.locator(f"{SHOWN} .hot-water-runs:has(.hot-water-status)")
    assert page.locator(f"{SHOWN} .hot-water-status:visible").count() == panels.count() > 0
    press(page)
    becomes(page, PLACES, before, notebook.element_handle())


def test_the_control_in_hand_and_the_picture_share_the_screen(lesson):
    page = lesson()
    press(page)
    page.locator(f"{IN_HAND} select").first.select_option(label="Length")
    page.locator(f"{IN_HAND} input[type=text]:visible").wait_for()
    handle, parts = page.locator(f"{IN_HAND} .noUi-handle:visible"), page.locator(f"{PANEL} .hot-water-parts svg")
    assert place(page.locator(f"{IN_HAND} .noUi-target:visible"))["width"] >= TRACK
    assert parts.count() > 1
    for part in parts.all():
        part.evaluate(
            f"part => part.closest('.jp-WindowedPanel-outer').scrollTop += part.getBoundingClientRect().y - 88"
            f" - document.querySelector('{IN_HAND}').getBoundingClientRect().height"
            f" - document.querySelector('{PANEL} .hot-water-headline').getBoundingClientRect().height"
        )
        held, told, seen = (
            place(one) for one in (page.locator(IN_HAND), page.locator(f"{PANEL} .hot-water-headline"), part)
        )
        assert 80 < held["y"] and held["bottom"] <= told["y"] + 20 and told["bottom"] < 220, "they stay at the top edge"
        assert seen["y"] >= told["bottom"] - 24 and 768 - seen["y"] >= min(seen["height"], 540)
    start = place(handle)
    middle = start["x"] + start["width"] / 2, start["y"] + start["height"] / 2
    page.mouse.move(*middle)
    page.mouse.down()
    page.mouse.move(middle[0] + 90, middle[1], steps=6)
    page.mouse.up()
    assert place(handle)["x"] - start["x"] == pytest.approx(90, abs=6), "the handle follows the hand"
