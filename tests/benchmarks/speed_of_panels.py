"""How soon a picture follows a hand, on the screen and in the kernel. Prints one table and never asserts a time.

    .venv/bin/python -m pytest tests/benchmarks/speed_of_panels.py -s

Not collected by the default run. Every panel of the workbook stands on one page of a real JupyterLab, beside the floor (a slider and a
number) and the usual way (`interactive_output` with a new figure of the main panel's content each time); all but the one that is
measured are hidden. The moves come in rounds that take all of them in turn, so that what else the machine does falls on all alike.
"""

import importlib
import json
import os
import statistics
import time
from pathlib import Path

from lessons_lib.panels.controls import Slide

pytest_plugins = ["tests.browser.conftest"]
ROUNDS = int(os.environ.get("SPEED_ROUNDS", "8"))
MOVES, HELD = 5, 3.0  # moves of a round; seconds that a key is held
FLOOR, USUAL, MAIN = "floor", "usual way", "02 main panel"
PANELS = {  # name → lesson's module, function
    "start page": ("start_here", "panel"),
    "01": ("hot_enough_not_too_hot", "panel"),
    MAIN: ("how_hot_at_the_tap", "panel"),
    "03": ("waiting_for_hot", "panel"),
    "04": ("choosing_the_pipe_size", "panel"),
    "05": ("measure_cut_join_test", "panel"),
    "06": ("where_the_heat_goes", "panel"),
    "07": ("will_it_freeze", "panel"),
    "08": ("heat_tape", "panel"),
    "09": ("the_outdoor_loop", "panel"),
    "10 filling": ("fill_purge_and_hand_over", "panel"),
    "10 valve": ("fill_purge_and_hand_over", "set_valve"),
    "12": ("at_the_bench", "panel"),
    "13": ("what_water_does_to_the_works", "panel"),
    "14": ("hot_water_that_comes_back", "panel"),
    "14 branches": ("hot_water_that_comes_back", "balancing"),
    "14 by itself": ("hot_water_that_comes_back", "thermosiphon"),
}
ROOT = str(Path(__file__).resolve().parents[2])
CELL = (
    f"import sys; sys.path.append({ROOT!r})\n"
    + """import ipywidgets as widgets, matplotlib.pyplot as plt
from lessons_lib import Q_
from lessons_lib.lessons.how_hot_at_the_tap.panel import calculate
from lessons_lib.panels.shared_controls import tern_bank_runs
from tests.benchmarks.speed_of_panels import FLOOR, PANELS, USUAL, panel_and_slider
%matplotlib inline

def place(name, slider, *parts):
    slider.add_class("measured-slider")
    box = widgets.VBox(parts)
    box.add_class("measured")
    box.add_class("measured-" + name.replace(" ", "-"))
    display(box)

def draw(length):
    scene = calculate(start | {"length": Q_(length, "m")})
    figure = plt.figure(figsize=(9, 4), dpi=100)
    run, tap, standing = figure.add_subplot(2, 1, 1), figure.add_subplot(2, 2, 3), figure.add_subplot(2, 2, 4)
    run.imshow(scene.along[None, :], aspect="auto", cmap="coolwarm", vmin=0, vmax=80, extent=(0, scene.length, 0, 1))
    run.set(title=f"{scene.supply:.0f} °C from the tank, {scene.delivered:.1f} °C at the tap", xlabel="m", yticks=[])
    tap.bar(["tank", "tap"], [scene.supply, scene.delivered], color=["tab:red", "tab:orange"])
    tap.axhspan(48, 80, color="mistyrose")
    tap.set(ylim=(0, 80), ylabel="°C", title=scene.words[1])
    standing.plot(scene.hours, scene.standing_cold, scene.hours, scene.standing_warm)
    standing.axhline(0, ls="--")
    standing.set(xlabel="h", ylabel="°C", title=scene.words[2])
    figure.tight_layout()
    plt.show()

start = next(iter(tern_bank_runs().values()))
slider, number = widgets.FloatSlider(min=1, max=60, step=0.5, value=18), widgets.HTML("18.0")
number.add_class("measured-number")
slider.observe(lambda change: setattr(number, "value", str(change["new"])), "value")
place(FLOOR, slider, slider, number)
slider = widgets.FloatSlider(min=1, max=60, step=0.5, value=18)
place(USUAL, slider, slider, widgets.interactive_output(draw, {"length": slider}))
for name in PANELS:
    panel, slider = panel_and_slider(name)
    place(name, slider, panel.widget)
widgets.Button(description="all are there").add_class("measured-ready")
"""
)
SCRIPT = """
window.picture = name => document.querySelector(`.measured-${name} :is(svg[role=img], img, .measured-number)`);
window.sign = name => {
    const shown = picture(name);
    return shown && (shown.src || (shown.closest('.hot-water-shown') || shown).innerHTML);
};
window.take = name => {
    for (const one of document.querySelectorAll('.measured'))
        one.style.display = one.matches('.measured-' + name) ? '' : 'none';
    const handles = document.querySelectorAll(`.measured-${name} .measured-slider .noUi-handle`);
    Array.from(handles).find(one => one.offsetParent).focus();  // a panel's first slider stands in its hidden bar too
};
// Milliseconds from the key press to the end of the first animation frame that paints another picture.
window.watch = name => { window.found = new Promise(done => {
    const before = sign(name), beginning = performance.now();
    let pressed = null;
    addEventListener('keydown', event => pressed = event.timeStamp, {capture: true, once: true});
    const frame = () => {
        const now = sign(name);
        if (pressed && now && now !== before) {
            const after = new MessageChannel();
            after.port1.onmessage = () => done(performance.now() - pressed);
            after.port2.postMessage(0);
        } else if (performance.now() - beginning > 3000) done(null);
        else requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
}); };
// Counts animation frames, and those in which the picture is missing, empty or without size.
window.look = name => {
    const seen = window.seen = {frames: 0, blank: 0, on: true};
    const frame = () => {
        const shown = picture(name);
        seen.frames += 1;
        seen.blank += !sign(name) || !shown.getBoundingClientRect().height || (shown.matches('svg') && !shown.children.length);
        if (seen.on) requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
};
window.seen = null;
"""


def panel_and_slider(name: str) -> tuple:
    """Gives a panel of the workbook and the first of its sliders that moves the picture."""
    lesson, function = PANELS[name]
    panel = getattr(importlib.import_module(f"lessons_lib.lessons.{lesson}"), function)()
    before = panel._shown.value
    for slider in (one.slider for one in panel.controls.values() if isinstance(one, Slide)):
        slider.value += slider.step
        if panel._shown.value != before:
            return panel, slider
    raise AssertionError(f"{name}: no slider moves the picture")


def test_speed_of_panels(page, page_of):
    """Prints the table: every panel on the screen and in the kernel."""
    page_of("speed", CELL, ".measured-ready")
    page.evaluate(SCRIPT)
    ways = {name: name.replace(" ", "-") for name in (FLOOR, USUAL, *PANELS)}
    waits = {name: [] for name in ways}
    for turn in range(ROUNDS):
        for name, box in ways.items():
            waits[name] += _moves(page, box, "ArrowLeft" if turn % 2 else "ArrowRight")
    cores, sizes = _in_the_kernel()
    wait = {name: statistics.median(found) for name, found in waits.items()}
    print(f"\n{ROUNDS * MOVES} moves each; load {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores\n")
    print(
        "| panel | ms | over the floor | usual way ÷ this | core-ms a move | kB a message | pictures | blank, key held |"
    )
    print("|---|---|---|---|---|---|---|---|")
    for name, box in ways.items():
        core, size = (f"{cores[name]:.1f}", f"{sizes[name] / 1000:.1f}") if name in PANELS else ("", "")
        print(
            f"| {name} | {wait[name]:.0f} | {wait[name] - wait[FLOOR]:.0f} | {wait[USUAL] / wait[name]:.1f} |"
            f" {core} | {size} | {len(waits[name])} | {_held(page, box)} |",
            flush=True,
        )


def _moves(page, box: str, key: str) -> list:
    """Gives the milliseconds from each key press of a round to its picture."""
    page.evaluate("box => take(box)", box)
    page.wait_for_timeout(100)
    found = []
    for _ in range(MOVES):
        page.evaluate("box => watch(box)", box)
        page.keyboard.press(key)
        found.append(page.evaluate("() => window.found"))
        page.wait_for_timeout(60)
    return [one for one in found if one is not None]  # none: no other picture within 3 s, which the table counts


def _held(page, box: str) -> str:
    """Holds keys as a keyboard repeats them, there and back; gives the blank frames of all."""
    page.evaluate("box => { take(box); look(box); }", box)
    end, number = time.monotonic() + HELD, 0
    while time.monotonic() < end:
        page.keyboard.down("ArrowLeft" if number // 15 % 2 else "ArrowRight")
        page.wait_for_timeout(30)
        number += 1
    for key in ("ArrowLeft", "ArrowRight"):
        page.keyboard.up(key)
    seen = page.evaluate("() => { seen.on = false; return seen; }")
    page.wait_for_timeout(500)
    return f"{seen['blank']} of {seen['frames']}"


def _in_the_kernel() -> tuple[dict, dict]:
    """Gives the median core time of a move [ms] and the bytes of its message, of each panel, without a page."""
    panels, spent = {name: panel_and_slider(name) for name in PANELS}, {name: [] for name in PANELS}
    first = {name: slider.value for name, (_, slider) in panels.items()}
    for number in range(ROUNDS * MOVES):
        for name, (panel, slider) in panels.items():
            way = 1 if first[name] + 8 * slider.step < slider.max else -1
            begin = time.process_time()
            slider.value = first[name] + way * (number % 8 + 1) * slider.step
            spent[name].append(1000 * (time.process_time() - begin))
            assert "Ready" in panel._status.value
    state = {name: {"state": {"value": panel._shown.value}} for name, (panel, _) in panels.items()}
    sizes = {name: len(json.dumps(content, ensure_ascii=False).encode()) for name, content in state.items()}
    return {name: statistics.median(found) for name, found in spent.items()}, sizes
