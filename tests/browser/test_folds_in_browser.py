"""The line where the ten minutes end, the row of buttons beneath it, and the box that says what can hurt someone."""

import pytest
from room_visitor import HERE, sign_in_with_browser
from room_visitor import opened as opened_room

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
LESSON = "02-how-hot-at-the-tap"
PARTS = ["More to try", "More questions", "By hand", "For the curious", "Cautions", "For the instructor"]
YELLOW = "rgb(255, 212, 0)"


def _works(page, inside: str, parts: list) -> None:
    """Each part opens and closes again by keyboard, and the keyboard keeps its place."""
    row = page.locator(f"{inside} .hot-water-folds")
    row.wait_for()
    assert row.get_by_role("button").all_inner_texts() == parts
    headings = page.locator(f"{inside} h2", has_text="By hand")
    by_hand = page.locator(f"{inside} .jp-Cell", has_text="You can work out the cabin's run on paper")
    assert not headings.first.is_visible() and not by_hand.first.is_visible()

    button = row.get_by_role("button", name="By hand")
    button.focus()
    page.keyboard.press("Enter")
    by_hand.first.wait_for()
    assert headings.first.is_visible() and button.get_attribute("aria-expanded") == "true"
    button.focus()
    page.keyboard.press("Space")
    by_hand.first.wait_for(state="hidden")
    assert not headings.first.is_visible() and button.get_attribute("aria-expanded") == "false"

    button.click()
    by_hand.first.wait_for()
    page.locator(f"{inside} .hot-water-close:visible").click()
    by_hand.first.wait_for(state="hidden")
    assert button.evaluate("button => button === document.activeElement")


def _stop_stands_out(page, inside: str) -> None:
    stop = page.locator(f"{inside} p", has_text="Stop.").first
    paint = "part => getComputedStyle(part).backgroundColor"
    assert stop.evaluate(paint) == YELLOW
    others = page.locator(f"{inside} :is(p, div, button, span, h2)").evaluate_all(
        f"(parts) => parts.map({paint}).filter(colour => colour === '{YELLOW}').length"
    )
    assert others == 1, "nothing else has the colour of the stop box"


def test_the_folds_of_a_page(lesson):
    page = lesson()
    _works(page, SHOWN, PARTS)
    assert page.locator(".jp-mod-dirty").count() == 0, "opening a part is nothing to save"
    _stop_stands_out(page, SHOWN)


def test_the_folds_of_a_page_in_a_room(browser, tmp_path_factory):
    """Its learners get no part for the instructor."""
    with pytest.MonkeyPatch.context() as patch, opened_room(tmp_path_factory.mktemp("room"), patch) as room:
        context = browser.browser.new_context(viewport={"width": 1366, "height": 768})
        page = context.new_page()
        sign_in_with_browser(page, room, "Ana")
        page.goto(f"http://{HERE}:{room.port}/voila/render/{LESSON}.ipynb")
        _works(page, "body", PARTS[:-1])
        _stop_stands_out(page, "body")
        context.close()
