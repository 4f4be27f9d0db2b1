"""The line where the ten minutes end, the row of buttons beneath it, and the box that says what can hurt someone, on a page of any kind."""

PARTS = ["More to try", "More questions", "By hand", "For the curious", "Cautions", "For the instructor"]
YELLOW = "rgb(255, 212, 0)"


def folds_work(page, inside: str, parts: list) -> None:
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


def stop_stands_out(page, inside: str) -> None:
    stop = page.locator(f"{inside} p", has_text="Stop.").first
    paint = "part => getComputedStyle(part).backgroundColor"
    assert stop.evaluate(paint) == YELLOW
    others = page.locator(f"{inside} :is(p, div, button, span, h2)").evaluate_all(
        f"(parts) => parts.map({paint}).filter(colour => colour === '{YELLOW}').length"
    )
    assert others == 1, "nothing else has the colour of the stop box"
