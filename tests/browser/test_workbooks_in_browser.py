"""What a reader does: open, run everything, move every slider by keyboard, choose units, type nonsense."""

import os
import re
from pathlib import Path

import pytest
from on_screen import place
from playwright.sync_api import TimeoutError as TooLate
from playwright.sync_api import expect

WORKBOOKS = Path(__file__).resolve().parents[2] / "workbooks"

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
PANEL = f"{SHOWN} .jp-OutputArea-output:has(svg[role=img])"
LESSONS = ["start-here", *sorted(path.stem for path in WORKBOOKS.glob("[0-9]*.ipynb"))]

OWN_RUN = "11-your-own-run"  # its panel has boxes to type into
EACH_KEY = 400  # [ms] for a change to be seen before the next key is tried


SENTENCE = ".hot-water-shown div[role=status]"


def sentence(panel) -> str:
    return panel.locator(SENTENCE).last.inner_text()


def no_traceback(page) -> None:
    text = page.locator(SHOWN).inner_text()
    assert "Traceback" not in text and "Error" not in text
    assert page.locator(f"{SHOWN} [data-mime-type='application/vnd.jupyter.stderr']").count() == 0


# What a reader sees change: the picture, all words, and the numbers in the boxes, which the kernel writes.
SEEN = """panel => [...panel.querySelectorAll('input')].map(box => box.value).join()
    + panel.innerText + panel.querySelector('svg[role=img]').outerHTML"""


def press_until_changed(page, handle, panel) -> bool:
    """Arrow keys on a slider's handle, right and, from the right end, left, until something is seen to change."""
    panel = panel.element_handle()
    panel.evaluate(f"panel => {{ panel.before = ({SEEN})(panel); }}")
    handle.focus()
    for key in ["ArrowRight"] * 6 + ["ArrowLeft"] * 12:
        page.keyboard.press(key)
        try:
            page.wait_for_function(
                f"panel => ({SEEN})(panel) !== panel.before", arg=panel, timeout=EACH_KEY, polling=50
            )
            return True
        except TooLate:
            pass
    return False


def test_the_first_screen_is_the_start_page(window, address):
    """No news, no dialog, no file browser, no code, and in the first lines that the page starts by itself."""
    window.goto(address)
    window.wait_for_selector(f"{SHOWN} .jp-MarkdownOutput h1")
    assert window.locator(".jp-Dialog, .Toastify__toast").count() == 0
    assert not window.locator("#jp-left-stack").is_visible()
    assert window.locator(".jp-NotebookPanel").count() == 1
    assert "starts by itself" in window.locator(f"{SHOWN} .jp-MarkdownOutput").first.inner_text()
    assert window.locator(f"{SHOWN} .jp-CodeCell .jp-InputArea-editor:visible").count() == 0


@pytest.mark.parametrize("name", LESSONS)
def test_a_workbook_as_a_reader_meets_it(page, opened, live, name):
    """Stored pictures before anything runs; then, without a menu, every slider moves its panel, by keyboard."""
    opened(name, live=False)
    pictures = page.locator(f"{SHOWN} .jp-RenderedSVG img, {SHOWN} .jp-RenderedImage img")
    pictures.first.wait_for()
    assert pictures.first.evaluate("picture => picture.naturalWidth") > 600
    no_traceback(page)
    live()
    panels, sliders = page.locator(PANEL), 0
    for number in range(panels.count()):
        panel = panels.nth(number)
        handles = panel.locator(".noUi-target:not([disabled]) .noUi-handle:visible")
        sliders += handles.count()
        for one in range(handles.count()):
            assert press_until_changed(page, handles.nth(one), panel), f"slider {one} of panel {number} changes nothing"
    assert sliders or name == OWN_RUN
    no_traceback(page)


def test_the_main_panel_fits_without_scrolling(lesson):
    page = lesson()
    panel, view = place(page.locator(PANEL).first), place(page.locator(f"{SHOWN} .jp-Notebook").first)
    assert panel["height"] <= view["height"] and panel["width"] <= view["width"]
    inside = page.locator(PANEL).first.evaluate(
        "box => [...box.querySelectorAll('*')].filter(part => part.getBoundingClientRect().right > box.getBoundingClientRect().right + 1).length"
    )
    assert inside == 0, "something sticks out on the right"
    if "README_PICTURE" in os.environ:  # see DEVELOPERS.md
        page.locator(PANEL).first.screenshot(path=os.environ["README_PICTURE"])


def test_units_ghost_typing_and_reset(lesson):
    page = lesson()
    panel = page.locator(PANEL).first
    first = sentence(panel)
    panel.get_by_role("button", name="US customary").click()
    panel.locator("div[role=status]", has_text="140 °F").last.wait_for()
    panel.get_by_role("button", name="Keep for comparison").click()
    panel.get_by_text("kept:").first.wait_for()
    box = panel.locator("input[type=text]:visible").first
    box.fill("long")
    box.press("Enter")
    panel.get_by_role("alert").get_by_text("is not a number here").wait_for()
    box.fill("30 m")
    box.press("Enter")
    panel.locator("div[role=status]", has_text=re.compile(r"in 98\sft")).last.wait_for()
    panel.get_by_role("button", name="metric").click()
    panel.locator("div[role=status]", has_text="in 30 m").last.wait_for()
    panel.get_by_role("button", name="Reset").click()
    panel.locator("div[role=status]", has_text="in 18 m").last.wait_for()
    assert sentence(panel) == first
    no_traceback(page)


def test_ready_made_settings_right_after_a_change_of_units(lesson):
    """Sliders must not send back values that nobody chose."""
    page = lesson()
    panel = page.locator(PANEL).first
    menu = panel.locator("select:visible").first
    first = sentence(panel)
    for system, minutes in (("US customary", 58), ("metric", 57)):  # each side's own pipe
        panel.get_by_role("button", name=system).click()
        menu.select_option(index=2)
        panel.locator("div[role=status]", has_text=re.compile(f"after (?!{minutes})")).last.wait_for()
        menu.select_option(index=1)
        panel.locator("div[role=status]", has_text=f"after {minutes} min").last.wait_for()
        page.wait_for_timeout(1500)  # time for anything that the browser might send back
    assert sentence(panel) == first


def test_letters_and_arrows_leave_the_page_alone(lesson):
    """A key meant for a slider or a menu neither cuts nor inserts nor opens a cell; nor does one after a click on the words."""
    page = lesson()
    panel = page.locator(PANEL).first
    cells = page.locator(f"{SHOWN} .jp-Cell").count()
    page.locator(f"{SHOWN} .jp-MarkdownOutput p").first.click()
    for key in "xabvdd":
        page.keyboard.press(key)
    panel.locator(".noUi-handle:visible").nth(1).focus()
    for key in "xabvdd":
        page.keyboard.press(key)
    before = sentence(panel)
    panel.locator("select:visible").nth(2).focus()
    page.keyboard.press("ArrowDown")
    expect(panel.locator(SENTENCE).last).not_to_have_text(before, use_inner_text=True)
    assert page.locator(f"{SHOWN} .jp-Cell").count() == cells
    assert page.locator(f"{SHOWN} .jp-mod-editMode").count() == 0


def test_a_saved_page_still_shows_its_picture_the_next_day(lesson):
    """Saved with picture and sentence only: a widget view would show a line about a missing model instead."""
    page = lesson()
    with page.expect_response(lambda answer: answer.request.method == "PUT" and "/api/contents/" in answer.url):
        page.keyboard.press("Control+s")
    saved = page.evaluate("fetch('/api/contents/02-how-hot-at-the-tap.ipynb').then(answer => answer.json())")
    kinds = [
        kind
        for cell in saved["content"]["cells"]
        for output in cell.get("outputs", [])
        for kind in output.get("data", {})
    ]
    assert "image/png" in kinds and not any("widget" in kind for kind in kinds)
    assert "widgets" not in saved["content"]["metadata"]


def test_a_layout_of_ones_own_by_keyboard(page, opened):
    """Edit a leg, type nonsense, undo, save, save again: in a box by typing, on a button by Enter; all on one screen's width."""
    opened(OWN_RUN)
    panel = page.locator(PANEL).first
    first = sentence(panel)
    box, view = place(panel), place(page.locator(f"{SHOWN} .jp-Notebook").first)
    rows = place(panel.locator(".hot-water-table-row:visible").last)
    assert box["width"] <= view["width"] and rows["bottom"] - box["y"] <= view["height"]
    size = panel.get_by_role("textbox", name="size").first

    def told(words: str) -> None:
        panel.locator("span[role=status]", has_text=words).first.wait_for()

    def press(name: str) -> None:
        panel.get_by_role("button", name=name, exact=True).focus()
        page.keyboard.press("Enter")

    size.fill("15 mm")
    size.press("Enter")
    told("Not saved yet")
    expect(panel.locator(SENTENCE).last).not_to_have_text(first, use_inner_text=True)
    size.fill("23 mm")
    size.press("Enter")
    panel.get_by_role("alert").get_by_text("the nearest are").wait_for()
    told("Picture kept from before")
    press("Undo")
    press("Undo")
    told("Ready")
    panel.locator("div[role=status]", has_text=first).last.wait_for()
    press("Save the layout")
    told("Written: ")
    press("Take-off as a table (CSV)")
    told("take-off.csv")
    press("Take-off as a table (CSV)")
    told("is there already")
    press("Write over my-bunk-cabin-take-off.csv")
    told("Written: ")
    no_traceback(page)
