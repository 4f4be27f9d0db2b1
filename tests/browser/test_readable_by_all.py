"""Read and moved by everybody: in every theme, by a screen reader, and by the keyboard alone."""

import json
import re

import pytest

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
PANEL = f"{SHOWN} .jp-OutputArea-output:has(svg[role=img])"
THEMES = ("JupyterLab Light", "JupyterLab Dark", "JupyterLab Dark High Contrast")
# Faults of JupyterLab's own parts, which this project leaves as they are: a button of its toolbar is never "pressed",
# and the column of cells calls itself a feed of articles.
OF_JUPYTERLAB = ("aria-allowed-attr: <jp-button", 'aria-required-children: <div role="feed"')
MOVED = ("slider", "textbox", "combobox", "button", "checkbox", "radio", "spinbutton")
# The unit of each slider of lesson 02; those that are not here are temperatures.
UNITS = {
    "US customary": {"Size": "in", "Length": "ft", "Thickness": "in", "Flow": "gpm", "Wind": "mph", "": "°F"},
    "metric": {"Size": "mm", "Length": "m", "Thickness": "mm", "Flow": "L/min", "Wind": "m/s", "": "°C"},
}
# Sliders change one after the other when other units are chosen.
IN_UNITS = """units => [...document.querySelectorAll('.jp-NotebookPanel:not(.lm-mod-hidden) .noUi-handle')]
    .filter(one => one.checkVisibility())
    .every(one => units.some(unit => one.getAttribute('aria-valuetext')?.endsWith(` ${unit}`)))"""
FOCUSED = """() => {
    const part = document.activeElement, look = getComputedStyle(part);
    return {
        words: part === document.body ? '' : (part.getAttribute('aria-label') || part.textContent || part.title).trim(),
        edge: look.outlineStyle === 'none' ? 0 : parseFloat(look.outlineWidth)
    };
}"""


def use_theme(page, name: str) -> None:
    page.click(".lm-MenuBar-itemLabel:text-is('Settings')")
    page.click(".lm-Menu-itemLabel:text-is('Theme')")
    page.click(f".lm-Menu-itemLabel:text-is('{name}')")
    page.wait_for_function("name => document.body.dataset.jpThemeName === name", arg=name)


def read_in_every_theme(page, faults) -> None:
    unfold = "open => document.querySelectorAll('details').forEach(fold => (fold.open = open))"
    page.evaluate(unfold, True)
    wrong = []
    try:
        for theme in THEMES:
            use_theme(page, theme)
            # colours fade from one theme into the other
            page.wait_for_function("() => !document.getAnimations().some(one => one instanceof CSSTransition)")
            wrong += [f"{theme}: {one}" for one in faults(page, SHOWN) if not one.startswith(OF_JUPYTERLAB)]
    finally:
        use_theme(page, THEMES[0])
        page.evaluate(unfold, False)
    assert wrong == []


def test_everything_on_the_start_page_can_be_read_in_every_theme(page, live, faults):
    live()
    read_in_every_theme(page, faults)


def test_everything_on_a_lesson_can_be_read_in_every_theme(lesson, faults):
    read_in_every_theme(lesson(), faults)


def heard(page, within: str) -> list[dict]:
    """What Chromium's accessibility tree hands to a screen reader: role, name, value, and the words inside.

    The tree holds a slider's bare number; its value in words is asked for at the slider itself.
    """
    chromium = page.context.new_cdp_session(page)
    part = chromium.send("Runtime.evaluate", {"expression": f"document.querySelector({json.dumps(within)})"})["result"]
    nodes = chromium.send("Accessibility.queryAXTree", {"objectId": part["objectId"]})["nodes"]
    by_number = {node["nodeId"]: node for node in nodes}
    of = lambda node, key: str(node.get(key, {}).get("value", ""))

    def words(node) -> str:
        below = [by_number[one] for one in node.get("childIds", ()) if one in by_number]
        return of(node, "name") if of(node, "role") == "StaticText" else " ".join(map(words, below))

    found = []
    for node in nodes:
        if node["ignored"]:
            continue
        one = {key: of(node, key) for key in ("role", "name", "value")} | {"words": words(node)}
        if one["role"] == "slider":
            told = chromium.send("DOM.describeNode", {"backendNodeId": node["backendDOMNodeId"]})["node"]["attributes"]
            one["value"] = dict(zip(told[::2], told[1::2])).get("aria-valuetext", "")
        found.append(one)
    return found


def of_role(nodes: list[dict], *roles: str) -> list[dict]:
    return [one for one in nodes if one["role"] in roles]


def test_a_screen_reader_hears_each_control_with_its_name_value_and_unit(lesson):
    page = lesson()
    for system, units in UNITS.items():
        page.locator(PANEL).get_by_role("button", name=system).click()
        page.wait_for_function(IN_UNITS, arg=list(units.values()))
        page.wait_for_selector(f"{PANEL} svg[role=img][aria-label*='{units['']}']")
        page.locator(f"{PANEL} [role=status]:visible", has_text="● Ready").first.wait_for()
        nodes = heard(page, PANEL)
        assert [one for one in of_role(nodes, *MOVED) if not one["name"].strip()] == []
        sliders = {one["name"]: one["value"] for one in of_role(nodes, "slider")}
        assert len(sliders) == 8 and len(of_role(nodes, "textbox")) == 7 and len(of_role(nodes, "combobox")) == 3
        for name, value in sliders.items():
            assert re.fullmatch(rf"-?[0-9][0-9./ ×]* {units.get(name, units[''])}", value), f"{name}: {value}"
        (picture,) = of_role(nodes, "image")
        headline = page.locator(f"{PANEL} .hot-water-headline").inner_text()
        assert any(one["words"] == headline for one in nodes)
        at_the_tap = re.search(rf"[0-9]+\s{units['']}", headline)[0].replace("\xa0", " ")
        assert f"arrives at {at_the_tap}" in picture["name"].replace("\xa0", " ")
        assert any(one["words"].startswith("● Ready") for one in of_role(nodes, "status"))


def keyboard_at(page) -> str:
    """The words of the part that has the keyboard, which must be seen there and not be the page."""
    now = page.evaluate(FOCUSED)
    assert now["words"], "the keyboard has fallen to the page"
    assert now["edge"] >= 2, f"no edge shows that the keyboard is at {now['words']}"
    return now["words"]


def tab_to(page, words: str) -> None:
    for _ in range(40):
        page.keyboard.press("Tab")
        if keyboard_at(page) == words:
            return
    pytest.fail(f"Tab never comes to {words}")


def enter(page, until: str) -> str:
    """Presses Enter, waits for what a script asks for, and tells where the keyboard is then."""
    page.keyboard.press("Enter")
    page.wait_for_function(until)
    return keyboard_at(page)


def test_the_keyboard_alone_goes_through_a_lesson_and_is_never_lost(lesson):
    page = lesson()
    shown = f"document.querySelector('{SHOWN}')"
    at = "document.activeElement.textContent === '{}'".format

    page.locator(f"{SHOWN} input[placeholder=name]:visible").first.focus()
    assert keyboard_at(page) == "Your name"
    page.keyboard.type("Keys")
    assert enter(page, at("Somebody else"))

    tab_to(page, "Keep my guess")
    assert enter(page, at("Compare with the model"))
    compared = f"/You guessed [0-9]/.test({shown}.textContent)"
    assert enter(page, compared) == "Compare with the model"

    tab_to(page, "Length")
    page.keyboard.press("ArrowRight")
    length = page.evaluate("document.activeElement.getAttribute('aria-valuetext')")
    drawn = f"document.querySelector('{PANEL} svg[role=img]').getAttribute('aria-label').includes('in {length} and')"
    page.wait_for_function(drawn)
    assert keyboard_at(page) == "Length"

    tab_to(page, "Next ›")
    assert enter(page, f"/step 2 of/.test({shown}.textContent)") == "Next ›"
    page.keyboard.press("Shift+Tab")
    assert enter(page, f"/step 1 of/.test({shown}.textContent)") == "‹ Back"

    tab_to(page, "Your answer")
    page.keyboard.type("55")
    assert enter(page, f"/Right: |Not right: /.test({shown}.textContent)") == "Your answer"

    page.keyboard.press("Shift+Tab")
    assert keyboard_at(page) == "Somebody else"
    assert enter(page, "document.activeElement.placeholder === 'name'") == "Your name"


def test_the_keyboard_goes_on_when_a_press_disables_its_button(lesson):
    """Undo can no longer be pressed when nothing is left to take back."""
    page = lesson("11-your-own-run")
    undo = f"[...document.querySelectorAll('{SHOWN} button')].find(one => one.textContent === 'Undo')"
    page.locator(f"{SHOWN} button[title='One more, at the end']:visible").focus()
    page.keyboard.press("Tab")
    page.keyboard.press("Shift+Tab")
    assert enter(page, f"!({undo}).disabled") == "Add at the end"
    page.evaluate(f"({undo}).focus()")
    free = f"({undo}).disabled && ![document.body, {undo}].includes(document.activeElement)"
    assert enter(page, free) not in ("", "Undo")
