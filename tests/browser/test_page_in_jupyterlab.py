"""How a page behaves in the workbook's JupyterLab: opened, left, folded, saved, restarted, and in the dark theme."""

import json

from on_screen import becomes, place

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
PANEL = f"{SHOWN} .jp-OutputArea-output:has(svg[role=img])"
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


def test_a_page_is_live_at_its_top_leaving_never_asks_and_coming_back_finds_what_the_reader_set(page, opened):
    """The Python goes on while the browser is away; the page that is opened again shows the same panel."""
    asked = []
    page.on("dialog", lambda dialog: (asked.append(dialog.message), dialog.accept()))
    opened(PAGE)
    page.wait_for_timeout(1500)
    assert page.locator(UNSAVED).count() == 0, "what a page made of itself is nothing to save"
    assert place(page.locator(f"{SHOWN} h1").first)["y"] < 300
    box = page.locator(f"{PANEL} input[type=text]:visible").first
    box.fill("30 m")
    box.press("Enter")
    page.locator(f"{PANEL} div[role=status]", has_text="in 30 m").last.wait_for()
    page.goto(page.url)
    assert asked == []
    page.wait_for_selector(f"{PANEL} button:visible")
    page.locator(f"{PANEL} div[role=status]", has_text="in 30 m").last.wait_for()


def test_a_page_that_did_not_come_with_the_workbook_stays_at_rest(window, address_of, workbooks):
    """Somebody changed its code outside: it says so, runs nothing, and starts when the reader says so."""
    content = json.loads((workbooks / "start-here.ipynb").read_text(encoding="utf-8"))
    code = next(cell for cell in content["cells"] if cell["cell_type"] == "code")
    code["source"], code["outputs"] = "# Another line\nprint('it ' + 'ran')", []
    (workbooks / "brought-along.ipynb").write_text(json.dumps(content), encoding="utf-8")
    window.goto(address_of("brought-along"))
    notice = window.locator(f"{SHOWN} .hot-water-notice")
    notice.get_by_text("did not come with the workbook").wait_for()
    window.wait_for_timeout(2000)
    assert window.get_by_text("it ran").count() == 0
    notice.get_by_role("button", name="Make this page live again").click()
    window.get_by_text("it ran").wait_for()


def test_saving_while_a_box_has_the_focus(lesson):
    page = lesson()
    saved = "() => fetch('/api/contents/02-how-hot-at-the-tap.ipynb?content=0').then(a => a.json()).then(a => a.last_modified)"
    before = page.evaluate(saved)
    page.locator(f"{PANEL} input[type=text]").first.focus()
    page.keyboard.press("Control+s")
    page.wait_for_function(f"before => ({saved})().then(now => now !== before)", arg=before)


def test_the_address_of_a_page_opens_that_page(window, address):
    window.goto(address.replace("start-here", "07-will-it-freeze"))
    window.wait_for_selector(f"{SHOWN} h1:has-text('07')")
    tabs = "() => [...document.querySelectorAll('.lm-DockPanel-tabBar .lm-TabBar-tabLabel')].map(one => one.innerText)"
    becomes(window, tabs, ["07-will-it-freeze.ipynb"])
    window.locator("#jp-left-stack").wait_for(state="hidden")


def test_nothing_unlabelled_in_the_toolbar_and_nothing_printed_at_the_start(page, server_log):
    buttons = page.locator(f"{SHOWN} .jp-NotebookPanel-toolbar [data-jp-item-name]").evaluate_all(
        "all => all.map(one => one.dataset.jpItemName)"
    )
    assert "restart-and-run" in buttons and not any("voila" in name for name in buttons)
    assert "Warning" not in server_log.read_text(encoding="utf-8")


def test_after_a_restart_a_panel_says_so_and_one_button_brings_the_page_back(lesson):
    page = lesson()
    choose(page, "Kernel", "Restart Kernel…")
    page.click(".jp-Dialog .jp-mod-accept")
    panel = page.locator(f"{SHOWN} .jp-Cell:has(svg[role=img]) .jupyter-widgets-disconnected").first
    panel.wait_for()
    words = page.evaluate("part => getComputedStyle(part, '::before').content", panel.element_handle())
    assert "has stopped" in words and "Make this page live again" in words
    inner = panel.locator(".jupyter-widgets-disconnected")
    panel.get_by_text("● Ready").filter(visible=True).first.wait_for(state="hidden")
    assert inner.count() > 20
    assert set(inner.evaluate_all("all => all.map(one => getComputedStyle(one, '::before').display)")) == {"none"}
    page.locator(f"{SHOWN} .hot-water-notice").get_by_role("button", name="Make this page live again").click()
    page.wait_for_selector(f"{PANEL} .widget-box:not(.jupyter-widgets-disconnected) button:visible")
    page.wait_for_selector(f"{SHOWN} .hot-water-notice", state="hidden")
    assert page.locator(f"{SHOWN} [data-mime-type='application/vnd.jupyter.error']").count() == 0


def test_a_panel_is_read_in_the_dark_theme(page, opened):
    """Lesson 10; lesson 02 is read in all themes, by axe, in test_readable_by_all.py."""
    opened("10-fill-purge-and-hand-over")
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
