"""Lessons on a phone and on an enlarged page: all of it is read and worked, the moved control beside its picture."""

import pytest
from on_screen import becomes

PANEL = ".jp-OutputArea-output .hot-water-runs:has(.hot-water-parts)"
PHONE, ENLARGED = {"width": 400, "height": 800}, {"width": 910, "height": 512}
SMALLEST = 10  # [px] of type
READABLE = 16  # [px] type in a picture at its full size
# What reaches beyond the window or its own box, and what must be moved sideways to be seen.
CUT = """() => [...document.querySelectorAll('.jp-Notebook, .jp-Notebook *')].filter(part => {
    const box = part.getBoundingClientRect(), style = getComputedStyle(part);
    if (box.width < 3 || box.height < 3 || style.visibility === 'hidden' || part.closest('svg svg, g, defs')) return false;
    const inTable = part.closest('[role=region][tabindex], table');
    return !inTable && (box.right > innerWidth + 1
        || (style.overflowX !== 'visible' && part.clientWidth && part.scrollWidth > part.clientWidth + 1));
}).map(part => `${part.tagName} ${part.className.baseVal ?? part.className}: ${part.textContent.slice(0, 40)}`)"""
# The size of the type in each part of a picture that is shown [px].
TYPE = """panel => [...panel.querySelectorAll('svg')].filter(part => part.getBoundingClientRect().width > 2).map(part =>
    parseFloat(getComputedStyle(part).fontSize) * part.getBoundingClientRect().width / part.viewBox.baseVal.width)"""
# Whether picture and control are both to be seen whole, neither on the other.
TOGETHER = """handle => {
    const shown = handle.closest('.hot-water-runs').querySelector('.hot-water-parts').getBoundingClientRect();
    const own = handle.getBoundingClientRect(), room = handle.closest('.jp-WindowedPanel-outer').getBoundingClientRect();
    const seen = document.elementFromPoint(own.x + own.width / 2, own.y + own.height / 2);
    return shown.height > 0.35 * innerHeight && shown.top >= room.top - 1 && shown.bottom <= innerHeight + 1
        && own.bottom <= innerHeight + 1 && handle.contains(seen);
}"""
# Whether the first part of a picture, as it is by now, shows the picture.
DRAWN = """where => {
    const use = document.querySelector(where);
    return use?.getBoundingClientRect().width > 100 && use.href.baseVal === '#' + document.querySelector('svg[role=img] > g').id;
}"""
# Whether the middle of a leg's mark is to be seen in the window of the picture's parts.
IN_SIGHT = """number => {
    const mark = document.querySelector(`svg[role=img] line[data-leg="${number}"]`);
    const frame = document.querySelector('.hot-water-parts:has(use)').getBoundingClientRect();
    const middle = axis => (mark[axis + 1].baseVal.value + mark[axis + 2].baseVal.value) / 2;
    const parts = [...document.querySelectorAll('.hot-water-parts svg')];
    return getComputedStyle(mark).opacity === '1' && parts.some(part => {
        const place = part.getBoundingClientRect(), box = part.viewBox.baseVal, scale = place.width / box.width;
        const x = place.x + (middle('x') - box.x) * scale, y = place.y + (middle('y') - box.y) * scale;
        return x > frame.left && x < frame.right && y > frame.top && y < frame.bottom - 18;
    });
}"""


@pytest.fixture
def opened_on_a_phone(window, address_of):
    """Lesson 07 as a phone opens it, live."""
    window.set_viewport_size(PHONE)
    window.goto(address_of("07-will-it-freeze"))
    window.wait_for_selector(f"{PANEL} button:visible")
    window.wait_for_selector(".jp-Notebook-ExecutionIndicator[data-status=idle]", state="attached")
    return window


@pytest.fixture
def shown(lesson):
    """A lesson, live, in a window that is then made as small as a phone's, or an enlarged page's."""

    def made_small(name: str, size: dict):
        page = lesson(name)
        page.set_viewport_size(size)
        return page

    return made_small


def _moves(page) -> None:
    """Each slider moves with its picture in sight, and the parts of the picture follow."""
    handles = page.locator(f"{PANEL} .noUi-handle:visible")
    assert handles.count() > 3
    for handle in handles.all():
        if handle.evaluate("one => one.closest('.noUi-target').hasAttribute('disabled')"):
            continue
        handle.focus()
        page.wait_for_function(TOGETHER, arg=handle.element_handle())
    before = page.locator(f"{PANEL} svg[role=img]").inner_html()
    scrolled = page.locator(f"{PANEL} .hot-water-parts").evaluate(
        "parts => { parts.scrollTop = 120; return parts.scrollTop; }"
    )
    handles.nth(1).press("ArrowRight")
    page.wait_for_function(
        "before => document.querySelector('.hot-water-runs svg[role=img]').innerHTML !== before", arg=before
    )
    page.wait_for_function(DRAWN, arg=f"{PANEL} .hot-water-parts use")
    assert page.locator(f"{PANEL} .hot-water-parts").evaluate("parts => parts.scrollTop") == scrolled > 0


def _all_is_read(page) -> None:
    becomes(page, CUT, [])
    sizes = page.locator(PANEL).evaluate(TYPE)
    assert len(sizes) > 1 and min(sizes) >= SMALLEST, sizes


def test_a_lesson_is_opened_and_read_on_a_phone(opened_on_a_phone):
    _all_is_read(opened_on_a_phone)
    _moves(opened_on_a_phone)


def test_a_lesson_is_read_on_a_phone(shown):
    page = shown("02-how-hot-at-the-tap", PHONE)
    _all_is_read(page)
    _moves(page)


def test_an_enlarged_page_has_picture_and_control_side_by_side(shown):
    page = shown("02-how-hot-at-the-tap", ENLARGED)
    becomes(page, CUT, [])
    assert min(page.locator(PANEL).evaluate(TYPE)) >= SMALLEST
    _moves(page)


def test_a_row_is_typed_into_with_its_leg_in_sight_on_a_phone(shown):
    """Lesson 11 has a table in place of sliders: the row opens within the window's width, and the sketch above it shows its leg."""
    page = shown("11-your-own-run", PHONE)
    _all_is_read(page)
    for number in (10, 2):
        row = page.locator(f".hot-water-table-row:visible:has(.hot-water-number[data-leg='{number}'])")
        for name in ("length", "left bare"):
            box = row.get_by_label(name)
            box.focus()
            box.press("1")
            page.wait_for_function(TOGETHER, arg=box.element_handle())
        assert page.evaluate(CUT) == []
        page.wait_for_function(IN_SIGHT, arg=str(number))
