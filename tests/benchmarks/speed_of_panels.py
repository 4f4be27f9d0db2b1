"""How soon a picture follows a hand, on the screen and in the kernel. Prints two tables and never asserts a time.

    .venv/bin/python -m pytest tests/benchmarks/speed_of_panels.py -s

Not collected by the default run. Every panel of the workbook stands on one page of a real JupyterLab, beside the floor (a slider and a
number) and the usual way (`interact` with a new pyplot figure of the main panel's content each time); all but the one that is measured
are hidden. The moves come in rounds that take all of them in turn, so that what else the machine does falls on all alike.
"""

import importlib
import json
import os
import statistics
import struct
import time

import psutil

from lessons_lib.panels.controls import Slide

pytest_plugins = ["tests.browser.conftest"]
ROUNDS = int(os.environ.get("SPEED_ROUNDS", "8"))
MOVES, HELD, QUIET = 5, 60, 200  # moves of a round; key presses while held; updates in the quiet loop
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
}
CELL = f"""%matplotlib inline
import importlib, os
import ipywidgets as widgets, matplotlib.pyplot as plt
from lessons_lib import Q_
from lessons_lib.lessons.how_hot_at_the_tap.panel import calculate
from lessons_lib.panels.controls import Slide
from lessons_lib.panels.shared_controls import tern_bank_runs

def place(name, widget, slider):
    slider.add_class("measured-slider")
    box = widgets.VBox([widget])
    box.add_class("measured")
    box.add_class("measured-" + name.replace(" ", "-"))
    shelf.children = [*shelf.children, box]

def floor():
    slider, number = widgets.FloatSlider(min=1, max=60, step=0.5, value=18), widgets.Label("18.0")
    number.add_class("measured-number")
    slider.observe(lambda change: setattr(number, "value", str(change["new"])), "value")
    place({FLOOR!r}, widgets.HBox([slider, number]), slider)

def usual():
    whole = widgets.interactive(draw, length=widgets.FloatSlider(min=1, max=60, step=0.5, value=18))
    place({USUAL!r}, whole, whole.children[0])
    whole.update()

def ours(name, lesson, function):
    panel = getattr(importlib.import_module("lessons_lib.lessons." + lesson), function)()
    slide = next(one for one in panel.controls.values() if isinstance(one, Slide) and not one.slider.disabled)
    place(name, panel.widget, slide.slider)

start = next(iter(tern_bank_runs().values()))

def draw(length):
    scene = calculate(start | {{"length": Q_(length, "m")}})
    figure = plt.figure(figsize=(9, 4), dpi=100)
    run, tap, standing = figure.add_subplot(2, 1, 1), figure.add_subplot(2, 2, 3), figure.add_subplot(2, 2, 4)
    run.imshow(scene.along[None, :], aspect="auto", cmap="coolwarm", vmin=0, vmax=80, extent=(0, scene.length, 0, 1))
    run.set(title=f"{{scene.supply:.0f}} °C from the tank, {{scene.delivered:.1f}} °C at the tap", xlabel="m", yticks=[])
    tap.bar(["tank", "tap"], [scene.supply, scene.delivered], color=["tab:red", "tab:orange"])
    tap.axhspan(48, 80, color="mistyrose")
    tap.set(ylim=(0, 80), ylabel="°C", title=scene.words[1])
    standing.plot(scene.hours, scene.standing_cold, scene.hours, scene.standing_warm)
    standing.axhline(0, ls="--")
    standing.set(xlabel="h", ylabel="°C", title=scene.words[2])
    figure.tight_layout()
    plt.show()

todo = iter([floor, usual, *(lambda one=one: ours(one[0], *one[1]) for one in {PANELS!r}.items())])
shelf, more = widgets.VBox(), widgets.Button(description="next")
more.on_click(lambda _: next(todo)())
more.add_class("measured-next")
display(more, shelf)
"""
SCRIPT = """
window.box = name => document.querySelector('.measured-' + name);
window.picture = box => box.querySelector('svg[role=img], img, .measured-number');
window.sign = box => {
    const shown = picture(box);
    return shown && (shown.src || (shown.matches('svg') ? shown.outerHTML : shown.textContent));
};
window.only = name => document.querySelectorAll('.measured').forEach(one => {
    one.style.display = one === box(name) ? '' : 'none';
});
// From the key press to the end of the first animation frame that paints another picture.
window.watch = name => { window.found = new Promise(done => {
    const before = sign(box(name)), beginning = performance.now();
    let pressed = null;
    addEventListener('keydown', event => pressed = event.timeStamp, {capture: true, once: true});
    const frame = () => {
        if (pressed && sign(box(name)) && sign(box(name)) !== before) {
            const after = new MessageChannel();
            after.port1.onmessage = () => done(performance.now() - pressed);
            after.port2.postMessage(0);
        } else if (performance.now() - beginning > 8000) done(null);
        else requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
}); };
// Every animation frame while a key is held: how many pictures, and in how many frames it is missing, empty or elsewhere.
window.look = name => {
    const seen = window.seen = {frames: 0, pictures: 0, bad: 0, on: true}, begun = performance.now();
    const first = picture(box(name)).getBoundingClientRect();
    let before = sign(box(name));
    const frame = () => {
        const shown = picture(box(name)), now = shown && shown.getBoundingClientRect(), sight = sign(box(name));
        seen.frames += 1;
        seen.bad += !sight || !now.height || (shown.matches('svg') && shown.children.length < 2)
            || (!shown.matches('.measured-number') && ['left', 'top', 'width', 'height'].some(side => Math.abs(now[side] - first[side]) > 1));
        seen.pictures += Boolean(sight) && sight !== before;
        before = sight || before;
        seen.seconds = (performance.now() - begun) / 1000;
        if (seen.on) requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
};
window.seen = null;
"""


class Measured:
    """What was measured of one way. waits : [ms]; cores : [ms] of the kernel; sizes : [B] of the largest message of each block's moves."""

    def __init__(self):
        self.waits, self.cores, self.moves, self.sizes, self.messages, self.seen = [], 0.0, 0, [], 0, None

    @property
    def median(self) -> float:
        return statistics.median(self.waits)

    @property
    def core(self) -> float:
        """Core time of the kernel a move [ms]."""
        return self.cores / self.moves

    def row(self, name: str, floor: "Measured") -> str:
        late, seen = sorted(self.waits)[int(0.95 * (len(self.waits) - 1))], self.seen
        return (
            f"| {name} | {self.median:.0f} | {late:.0f} | {self.median - floor.median:.0f} | {self.core - floor.core:.1f} | "
            f"{statistics.median(self.sizes) / 1000:.1f} | {self.messages / self.moves:.1f} | "
            f"{seen['pictures'] / seen['seconds']:.0f} | {seen['bad']} of {seen['frames']} |"
        )


def _size(frame) -> int:
    """Bytes of what a frame from the kernel shows: a widget's text, else the whole content; 0 for what shows nothing."""
    count = int.from_bytes(frame[:8], "little")
    places = struct.unpack(f"<{count}Q", frame[8 : 8 + 8 * count])
    kind = json.loads(frame[places[1] : places[2]])["msg_type"]
    if kind not in ("comm_msg", "display_data", "update_display_data", "clear_output"):
        return 0
    value = json.loads(frame[places[4] : places[5]]).get("data", {}).get("state", {}).get("value")
    return len(value.encode()) if isinstance(value, str) else places[5] - places[4]


def test_on_the_screen(page, page_of):
    """Key press to picture, the kernel's work, the messages, and what is seen while a key is held."""
    frames, load = [], os.getloadavg()[0]
    page.on("websocket", lambda line: line.on("framereceived", lambda one: frames.append(one)))
    page_of("speed", CELL, ".measured-next")
    for name in (FLOOR, USUAL, *PANELS):
        page.locator(".measured-next").click()
        page.wait_for_selector(f".measured-{name.replace(' ', '-')}", timeout=120_000)
    page.evaluate(SCRIPT)
    kernel = psutil.Process(int(page.locator("pre", has_text="kernel").last.inner_text().split()[-1]))
    found = {name: Measured() for name in (FLOOR, USUAL, *PANELS)}
    for turn in range(ROUNDS):
        for name, one in found.items():
            _moves(page, name.replace(" ", "-"), "ArrowLeft" if turn % 2 else "ArrowRight", one, kernel, frames)
    for name, one in found.items():
        _hold(page, name.replace(" ", "-"), one)
    floor, main = found[FLOOR], found[MAIN]
    print(
        f"\nload {load:.1f} before, {os.getloadavg()[0]:.1f} after, on {os.cpu_count()} cores; {ROUNDS * MOVES} moves each\n"
    )
    print(
        "| panel | median ms | 95 % ms | over the floor | core-ms over the floor's | kB | messages | pictures/s held | blank or jumping frames |"
    )
    print("|" + "---|" * 9)
    for name, one in found.items():
        print(one.row(name, floor))
    print(
        f"\nmain panel: {main.median - floor.median:.0f} ms over the floor (goal 15), {found[USUAL].median / main.median:.1f} times as "
        f"fast as the usual way (goal 5), {main.core - floor.core:.1f} core-ms over the floor's {floor.core:.1f} (goal 12), "
        f"{statistics.median(main.sizes) / 1000:.1f} kB (goal 12); above twice the main panel's time: "
        + (", ".join(name for name in PANELS if found[name].median > 2 * main.median) or "none")
    )


def _moves(page, name: str, key: str, one: Measured, kernel, frames: list) -> None:
    """A round's moves of one way."""
    page.evaluate("name => only(name)", name)
    page.locator(f".measured-{name} .measured-slider .noUi-handle:visible").focus()
    page.wait_for_timeout(100)
    before = kernel.cpu_times()
    for _ in range(MOVES):
        frames.clear()
        page.evaluate("name => watch(name)", name)
        page.keyboard.press(key)
        waited = page.evaluate("() => window.found")
        assert waited is not None, f"{name}: no other picture within 8 s"
        page.wait_for_timeout(60)
        sizes = [size for frame in frames if isinstance(frame, bytes) and (size := _size(frame))]
        one.waits.append(waited)
        one.sizes.append(max(sizes))
        one.messages += len(sizes)
    after = kernel.cpu_times()
    one.cores += 1000 * (after.user + after.system - before.user - before.system)
    one.moves += MOVES


def _hold(page, name: str, one: Measured) -> None:
    """A key held, there and back, as a keyboard repeats it."""
    page.evaluate("name => only(name)", name)
    page.locator(f".measured-{name} .measured-slider .noUi-handle:visible").focus()
    page.evaluate("name => look(name)", name)
    for number in range(HELD):
        key = "ArrowLeft" if number // 15 % 2 else "ArrowRight"
        page.keyboard.down(key)
        page.wait_for_timeout(30)
        if number % 15 == 14:
            page.keyboard.up(key)
    one.seen = page.evaluate("() => { seen.on = false; return seen; }")
    page.wait_for_timeout(500)


def test_in_the_kernel():
    """Core time of one panel's work for a move, in a quiet loop without a page."""
    print("\n| panel | median core-ms | 95 % | least | kB |\n|---|---|---|---|---|")
    for name, (lesson, function) in PANELS.items():
        panel, spent = getattr(importlib.import_module(f"lessons_lib.lessons.{lesson}"), function)(), []
        slide = next(one for one in panel.controls.values() if isinstance(one, Slide) and not one.slider.disabled)
        middle, step = (
            slide.slider.value,
            slide.slider.step * (1 if slide.slider.value < slide.slider.max - 9 * slide.slider.step else -1),
        )
        for number in range(QUIET):
            begin = time.process_time()
            slide.slider.value = middle + step * (number % 8 + 1)
            spent.append(1000 * (time.process_time() - begin))
            assert "Ready" in panel._status.value
        spent, size = sorted(spent), len(panel._shown.value.encode())
        print(
            f"| {name} | {spent[QUIET // 2]:.1f} | {spent[int(0.95 * QUIET)]:.1f} | {spent[0]:.1f} | {size / 1000:.1f} |",
            flush=True,
        )
