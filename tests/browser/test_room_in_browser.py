"""A lesson in a room: its folds; where it loses its Python, its line or the whole server it says so, and comes back with what was typed."""

import os
import time

import psutil
import pytest
from folded_page import PARTS, folds_work, stop_stands_out
from room_visitor import HERE, opened, sign_in_with_browser

LESSON = "02-how-hot-at-the-tap"
SAID_WITHIN = 10_000  # [ms]
BACK_WITHIN = 90_000  # [ms], on a machine that may have much else to do
# The page's lines can be cut from a test, and are then not to be had again.
CUTS = """
const Line = window.WebSocket;
window.lines = [];
window.cut = false;
window.WebSocket = class extends Line {
    constructor(address, ...more) {
        super(window.cut ? 'ws://127.0.0.1:9/channels' : address, ...more);
        window.lines.push(this);
    }
};
"""


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    """An open room."""
    with pytest.MonkeyPatch.context() as monkeypatch, opened(tmp_path_factory.mktemp("room"), monkeypatch) as room:
        yield room


@pytest.fixture(scope="module")
def page_in_room(room, browser):
    """A lesson in the browser of somebody who signed in as Ana; after each loss it is back, and stays for the next."""
    context = browser.browser.new_context(viewport={"width": 1366, "height": 768})
    page = context.new_page()
    page.add_init_script(CUTS)
    sign_in_with_browser(page, room, "Ana")
    page.goto(f"http://{HERE}:{room.port}/voila/render/{LESSON}.ipynb")
    yield page
    context.close()


@pytest.fixture
def half_typed(page_in_room):
    """The lesson with a text half typed into a box."""
    _box(page_in_room).wait_for(timeout=BACK_WITHIN)
    _box(page_in_room).fill("")
    _box(page_in_room).type("62 and a")
    with page_in_room.expect_response("**/awake/*"):  # the page asks whether it is awake
        pass
    return page_in_room


def _box(page):
    """The first box for an answer."""
    return page.locator("input[placeholder='your answer']:visible").first


def _says_it_sleeps(page) -> None:
    began = time.monotonic()
    page.wait_for_selector("#asleep", timeout=SAID_WITHIN)
    assert "asleep" in page.inner_text("#asleep") and time.monotonic() - began <= SAID_WITHIN / 1000


def _is_back(page, text: str) -> None:
    """The page is awake again, made anew, and the text stands in its box."""
    page.wait_for_selector("#asleep", state="detached", timeout=BACK_WITHIN)
    _box(page).wait_for(timeout=BACK_WITHIN)
    page.wait_for_function(
        "text => [...document.querySelectorAll('input')].some(box => box.value === text)", arg=text, timeout=20_000
    )
    assert page.locator("#asleep").count() == 0 and _box(page).input_value() == text


def test_the_folds_of_a_page_in_a_room(page_in_room):
    """Its learners get no part for the instructor."""
    folds_work(page_in_room, "body", PARTS[:-1])
    stop_stands_out(page_in_room, "body")


def test_a_page_whose_python_ended_comes_back_with_what_was_typed(room, half_typed):
    for process in psutil.Process(room.program.pid).children(recursive=True):
        if process.ppid() != room.program.pid:  # a fork of the fork server
            os.kill(process.pid, 9)
    _says_it_sleeps(half_typed)
    half_typed.click("#asleep button")
    _is_back(half_typed, "62 and a")


def test_a_page_whose_line_is_cut_comes_back_with_what_was_typed(half_typed):
    half_typed.evaluate("window.cut = true; window.lines.forEach(line => line.close())")
    _says_it_sleeps(half_typed)
    _box(half_typed).type(" half")
    half_typed.click("#asleep button")
    _is_back(half_typed, "62 and a half")


def test_a_page_whose_server_is_gone_waits_for_it_and_comes_back_by_itself(room, half_typed, monkeypatch):
    room.program.kill()
    room.program.wait()
    _says_it_sleeps(half_typed)
    half_typed.click("#asleep button")
    half_typed.locator("#asleep", has_text="comes back by itself").wait_for()
    assert LESSON in half_typed.url
    with opened(room.state.parent, monkeypatch, room.port):
        _is_back(half_typed, "62 and a")
