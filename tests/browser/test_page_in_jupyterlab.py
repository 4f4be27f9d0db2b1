"""How a page behaves in the workbook's JupyterLab: opened, left, folded, saved, restarted, and in the dark theme."""

import pytest

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
PANEL = f"{SHOWN} .jp-OutputArea-output:has(img[alt])"
UNSAVED = ".lm-DockPanel-tabBar .lm-mod-current.jp-mod-dirty"
PAGE = "02-how-hot-at-the-tap"

# Each piece of text that is seen, with its contrast (WCAG 2.2, relative luminance) against what stands behind it.
PALE = """panel => {
    const parts = colour => colour.match(/[\\d.]+/g).map(Number);
    const light = rgb => { const [r, g, b] = rgb.slice(0, 3).map(v => v / 255).map(v => v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
                           return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
    const behind = part => { for (; part; part = part.parentElement) { const c = parts(getComputedStyle(part).backgroundColor); if (c.length < 4 || c[3] > 0.5) return c; }
                             return [255, 255, 255]; };
    const pale = [];
    for (const part of panel.querySelectorAll('*')) {
        const own = [...part.childNodes].filter(n => n.nodeType === 3).map(n => n.textContent.trim()).join(' ') || part.value;
        if (!own || part.disabled || !part.offsetParent || part.tagName === 'STYLE' || part.tagName === 'OPTION') continue;
        const [a, b] = [light(parts(getComputedStyle(part).color)), light(behind(part))].sort((x, y) => y - x);
        if ((a + 0.05) / (b + 0.05) < 4.5) pale.push(own);
    }
    return pale;
}"""


def choose(page, menu: str, entry: str) -> None:
    page.click(f".lm-MenuBar-itemLabel:text-is('{menu}')")
    page.click(f".lm-Menu-itemLabel:text-is('{entry}')")


def test_opening_a_page_changes_nothing_and_leaving_never_asks(page, opened):
    asked = []
    page.on("dialog", lambda dialog: (asked.append(dialog.message), dialog.accept()))
    opened(PAGE, run=False)
    page.wait_for_timeout(1500)
    assert page.locator(UNSAVED).count() == 0
    choose(page, "Run", "Run All Cells")
    page.wait_for_selector(f"{PANEL} button:visible", timeout=60_000)
    page.locator(UNSAVED).wait_for()  # its pictures are new, so there is something to keep now
    page.goto("about:blank")
    assert asked == []


def test_saving_while_a_box_has_the_focus(page, opened):
    opened(PAGE)
    page.locator(UNSAVED).wait_for()
    page.locator(f"{PANEL} input[type=text]").first.focus()
    page.keyboard.press("Control+s")
    page.locator(UNSAVED).wait_for(state="detached")


def test_the_address_of_a_page_opens_that_page(page, address):
    page.goto(address.replace("start-here", "07-will-it-freeze"))
    page.wait_for_selector(f"{SHOWN} h1:has-text('07')")
    assert page.locator(".lm-DockPanel-tabBar .lm-TabBar-tabLabel").all_inner_texts() == ["07-will-it-freeze.ipynb"]
    assert not page.locator("#jp-left-stack").is_visible()


def test_nothing_unlabelled_in_the_toolbar_and_nothing_printed_at_the_start(page, server_log):
    buttons = page.locator(f"{SHOWN} .jp-NotebookPanel-toolbar [data-jp-item-name]").evaluate_all(
        "all => all.map(one => one.dataset.jpItemName)"
    )
    assert "restart-and-run" in buttons and not any("voila" in name for name in buttons)
    assert "Warning" not in server_log.read_text(encoding="utf-8")


def test_a_part_folds_open_and_shut_again(page, opened):
    opened(PAGE, run=False)
    heading = page.locator(f"{SHOWN} .jp-MarkdownCell:has(h2:has-text('By hand'))")
    inside = page.locator(f"{SHOWN} .jp-MarkdownOutput:has-text('Paper can do the cabin')")
    assert not inside.is_visible()
    for seen in (True, False):
        heading.locator(".jp-collapseHeadingButton").click()
        inside.wait_for(state="visible" if seen else "hidden")


def test_after_a_restart_a_panel_says_so_and_its_cell_alone_brings_it_back(page, opened):
    opened(PAGE)
    choose(page, "Kernel", "Restart Kernel…")
    page.click(".jp-Dialog .jp-mod-accept")
    panel = page.locator(f"{SHOWN} .jp-Cell:has(img[alt]) .jupyter-widgets-disconnected").first
    panel.wait_for()
    words = page.evaluate("part => getComputedStyle(part, '::before').content", panel.element_handle())
    assert "has stopped" in words and "Run All Cells" in words
    inner = panel.locator(".jupyter-widgets-disconnected")
    assert inner.count() > 20
    assert set(inner.evaluate_all("all => all.map(one => getComputedStyle(one, '::before').display)")) == {"none"}
    assert panel.get_by_text("● Ready").filter(visible=True).count() == 0
    page.locator(f"{SHOWN} .jp-CodeCell:has(img[alt])").first.click(position={"x": 3, "y": 3})
    page.click(f"{SHOWN} [data-jp-item-name=run] button, {SHOWN} [data-jp-item-name=run] jp-button")
    page.wait_for_selector(f"{PANEL} .widget-box:not(.jupyter-widgets-disconnected) button:visible", timeout=60_000)
    assert page.locator(f"{SHOWN} [data-mime-type='application/vnd.jupyter.error']").count() == 0


@pytest.mark.parametrize("name", [PAGE, "10-fill-purge-and-hand-over"])
def test_a_panel_is_read_in_the_dark_theme(page, opened, name):
    opened(name)
    choose(page, "Settings", "Theme")
    page.click(".lm-Menu-itemLabel:text-is('JupyterLab Dark')")
    page.wait_for_selector("body[data-jp-theme-light=false]", state="attached")
    try:
        for panel in page.locator(PANEL).all():
            assert panel.evaluate(PALE) == []
    finally:
        choose(page, "Settings", "Theme")
        page.click(".lm-Menu-itemLabel:text-is('JupyterLab Light')")
        page.wait_for_selector("body[data-jp-theme-light=true]", state="attached")
