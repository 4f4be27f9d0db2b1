"""Lesson 11 on a screen of 1366 x 768: table and sketch side by side; row and leg are one."""

from building.block_of_flats import text as block_of_flats
from on_screen import becomes, place

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
PANEL = f"{SHOWN} .hot-water-runs:has(.hot-water-table)"
HEIGHT = 768
# The numbers of the legs that are marked on the sketch.
MARKED = """panel => [...panel.querySelectorAll('svg[role=img] line[data-leg]')]
    .filter(one => getComputedStyle(one).opacity === '1').map(one => one.dataset.leg)"""
# The number of the leg in whose row the keyboard is.
IN_HAND = (
    "() => document.activeElement.closest('.hot-water-table-row')?.querySelector('.hot-water-number')?.dataset.leg"
)
# The middle of a leg's line, or of the box of its words, on the screen.
MIDDLE = """(panel, sign) => {
    const box = panel.querySelector(`svg[role=img] ${sign}`).getBoundingClientRect();
    return [box.x + box.width / 2, box.y + box.height / 2];
}"""
# Names above boxes that are wider than their boxes, tables of results that must be moved sideways.
CUT = """panel => [
    ...[...panel.querySelectorAll('.hot-water-table label')]
        .filter(one => one.clientWidth && one.scrollWidth > one.clientWidth),
    ...[...panel.querySelectorAll('.hot-water-grid')].filter(one => one.scrollWidth > one.clientWidth + 1),
].map(one => one.textContent.slice(0, 60))"""


def waits_for(page, leg: str) -> None:
    page.wait_for_function(f"leg => ({IN_HAND})() === leg", arg=leg)


def test_table_and_sketch_are_one(lesson):
    page = lesson("11-your-own-run")
    panel = page.locator(PANEL)
    panel.evaluate("panel => panel.scrollIntoView()")
    table, sketch = (place(panel.locator(part)) for part in (".hot-water-table", "svg[role=img]"))
    for part in (table, sketch):
        assert part["y"] > 0 and part["bottom"] <= HEIGHT, "both are seen whole"
    assert table["right"] <= sketch["x"] and sketch["width"] > 800

    def marked(legs: list) -> None:
        becomes(page, MARKED, legs, panel.element_handle())

    panel.locator(".hot-water-table-row:visible").nth(4).get_by_label("length").focus()
    assert panel.evaluate(MARKED) == ["5"], "the keyboard in a row marks its leg at once"
    panel.locator(".hot-water-table-row:visible").nth(4).get_by_label("length").fill("3 ft")
    page.keyboard.press("Enter")
    page.wait_for_function(
        "() => document.querySelector('svg[role=img][aria-label*=\"into the cabin: from leg 4 0.914\"]')"
    )
    marked(["5"])  # a new sketch has the mark

    for sign, leg in (("line[data-leg='3']", "3"), ("rect[data-leg='1']", "1"), ("rect[data-leg='9']", "9")):
        page.mouse.click(*panel.evaluate(MIDDLE, sign))
        waits_for(page, leg)
        marked([leg])
    page.mouse.click(*(place + 40 for place in panel.evaluate(MIDDLE, "rect[data-leg='1']")))
    assert page.evaluate(IN_HAND) != "2", "far from every leg nothing is meant"

    panel.get_by_role("button", name="Taps").first.click()
    panel.locator(".hot-water-lit").get_by_label("warm enough at").wait_for()
    marked(["7"])  # a tap marks the leg at whose end it is
    assert panel.evaluate(CUT) == []
    page.mouse.click(*panel.evaluate(MIDDLE, "line[data-leg='2']"))
    waits_for(page, "2")
    panel.get_by_role("button", name="Tank, valve, night").click()
    panel.locator(".hot-water-settings").wait_for()
    marked([])
    assert panel.evaluate(CUT) == []
    choice = panel.get_by_label("Go to leg")
    choice.fill("10")
    choice.press("Enter")
    waits_for(page, "10")
    marked(["10"])
    assert panel.evaluate(CUT) == []


CELL = """
from lessons_lib.lessons.your_own_run import panel
own_run = panel()
own_run.open_typed({file!r})
own_run
"""


def test_a_row_brings_the_view_of_its_leg(page, page_of, tmp_path):
    """A building whose sketch has several views: the keyboard in a row, the box "Go to leg" and a press on a leg."""
    file = tmp_path / "flats.toml"
    file.write_text(block_of_flats(storeys=2), encoding="utf-8")
    page_of("flats", CELL.format(file=str(file)), ".hot-water-table")
    panel = page.locator(PANEL)
    views = panel.get_by_label("View")
    assert views.input_value().startswith("1") and panel.evaluate(
        "panel => panel.querySelectorAll('[data-leg]').length"
    )
    shown = "panel => [...new Set([...panel.querySelectorAll('svg[role=img] line[data-leg]')].map(one => +one.dataset.leg))]"
    first = panel.evaluate(shown)
    choice = panel.get_by_label("Go to leg")
    other = next(leg for leg in range(1, 100) if leg not in first)
    choice.fill(str(other))
    choice.press("Enter")
    waits_for(page, str(other))
    becomes(page, MARKED, [str(other)], panel.element_handle())
    second = panel.evaluate(shown)
    assert other in second and set(second) != set(first)
    choice.fill(str(first[0]))
    choice.press("Enter")
    waits_for(page, str(first[0]))
    becomes(page, MARKED, [str(first[0])], panel.element_handle())
    inside = panel.evaluate(shown)
    row = panel.locator(".hot-water-table-row:visible")
    numbers = row.evaluate_all("rows => rows.map(row => +row.querySelector('.hot-water-number').dataset.leg)")
    beyond = next((place for place, leg in enumerate(numbers) if leg not in inside), None)
    if beyond is not None:  # a page of the table that holds legs of two views
        row.nth(beyond).get_by_label("length").focus()
        becomes(page, MARKED, [str(numbers[beyond])], panel.element_handle())
        assert numbers[beyond] in panel.evaluate(shown) and page.evaluate(IN_HAND) == str(numbers[beyond])
    page.screenshot(path=str(tmp_path / "flats.png"))
    leg = panel.evaluate(shown)[-1]
    page.mouse.click(*panel.evaluate(MIDDLE, f"line[data-leg='{leg}']"))
    page.wait_for_function(f"() => ({IN_HAND})()")
    became = page.evaluate(IN_HAND)
    becomes(page, MARKED, [became], panel.element_handle())
