"""A page made large for a room, on a screen of 1366 x 768: what the back row reads is at least 30 px high, the control
that is moved and the picture are seen together, and the same button takes all of it back.
"""

import pytest

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
    "class-board": (CARD, CONTROL),
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
    """Presses the first button "Large, for the room" by keyboard, which then keeps the focus."""
    button = page.locator(BUTTON).first
    button.focus()
    page.keyboard.press("Enter")
    page.wait_for_timeout(1000)
    assert button.evaluate("button => button === document.activeElement")
    assert button.bounding_box()["y"] < 400, "the page grew, and the button with it went out of sight"


def box(locator) -> dict:
    """Gives where an element stands [px] once it is seen: the kernel may still be drawing the control just chosen."""
    locator.wait_for()
    place = locator.bounding_box()
    return {**place, "bottom": place["y"] + place["height"], "right": place["x"] + place["width"]}


@pytest.mark.parametrize("name", PAGES)
def test_the_back_row_reads_all_that_is_live_and_a_second_press_takes_it_back(page, opened, name):
    opened(name)
    notebook = page.locator(f"{SHOWN} .jp-Notebook")
    before = notebook.evaluate(PLACES)
    press(page)
    buttons = page.locator(BUTTON)
    assert page.locator(f"{BUTTON}.mod-active").count() == buttons.count(), "all panels of the page follow"
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
    assert notebook.evaluate(PLACES) == before


def test_the_control_in_hand_and_the_picture_share_the_screen(page, opened):
    opened("02-how-hot-at-the-tap")
    press(page)
    page.locator(f"{IN_HAND} select").first.select_option(label="Length")
    page.locator(f"{IN_HAND} input[type=text]:visible").wait_for()
    handle, parts = page.locator(f"{IN_HAND} .noUi-handle:visible"), page.locator(f"{PANEL} .hot-water-parts svg")
    assert box(page.locator(f"{IN_HAND} .noUi-target:visible"))["width"] >= TRACK
    assert parts.count() > 1
    for part in parts.all():
        part.evaluate(
            f"part => part.closest('.jp-WindowedPanel-outer').scrollTop += part.getBoundingClientRect().y - 88"
            f" - document.querySelector('{IN_HAND}').getBoundingClientRect().height"
            f" - document.querySelector('{PANEL} .hot-water-headline').getBoundingClientRect().height"
        )
        page.wait_for_timeout(300)
        held, told, seen = (
            box(one) for one in (page.locator(IN_HAND), page.locator(f"{PANEL} .hot-water-headline"), part)
        )
        assert 80 < held["y"] and held["bottom"] <= told["y"] + 20 and told["bottom"] < 220, "they stay at the top edge"
        assert seen["y"] >= told["bottom"] - 24 and 768 - seen["y"] >= min(seen["height"], 540)
    start = box(handle)
    middle = start["x"] + start["width"] / 2, start["y"] + start["height"] / 2
    page.mouse.move(*middle)
    page.mouse.down()
    page.mouse.move(middle[0] + 90, middle[1], steps=6)
    page.mouse.up()
    page.wait_for_timeout(500)
    assert box(handle)["x"] - start["x"] == pytest.approx(90, abs=6), "the handle follows the hand"
