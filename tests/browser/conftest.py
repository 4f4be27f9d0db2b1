"""JupyterLab as a reader gets it, in headless Chromium. Skipped, with the reason, where there is no browser."""

import json
import shutil
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest

WORKBOOKS = Path(__file__).resolve().parents[2] / "workbooks"
QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# Chromium without windows of its own comes first: it shows the same pages for three quarters of the work.
BROWSERS = "chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "chrome"
CHROMIUM = next(filter(None, map(shutil.which, BROWSERS)), None)

SCREEN = {"width": 1366, "height": 768}
PATIENCE = 120_000  # [ms], on a machine that may have much else to do; what comes sooner is seen sooner
START = "start-here.ipynb"
SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
LIVE = ".jp-OutputArea-output:has(svg[role=img]) button:visible"


def _wait_until_live(page, until: str = LIVE) -> None:
    """Until the shown page, which starts by itself, has run to its end."""
    page.wait_for_selector(f"{SHOWN} {until}")
    page.wait_for_selector(f"{SHOWN} .hot-water-notice", state="hidden")
    page.wait_for_selector(f"{SHOWN} .jp-Notebook-ExecutionIndicator[data-status=idle]")


@pytest.fixture(scope="session")
def browser():
    """A Chromium of the machine's own, with a common small screen."""
    if CHROMIUM is None:
        pytest.skip("no Chromium here: install one (Debian: apt install chromium-headless-shell) for the browser tests")
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=PATIENCE)
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        context = chromium.new_context(viewport=SCREEN, reduced_motion="reduce")
        context.set_default_timeout(PATIENCE)
        yield context
        chromium.close()


@pytest.fixture(scope="session")
def server_log(tmp_path_factory):
    """The file that holds what JupyterLab prints in the reader's window until it answers."""
    return tmp_path_factory.mktemp("log") / "at_start.txt"


@pytest.fixture(scope="session")
def workbooks(tmp_path_factory):
    """A copy of the workbooks."""
    folder = tmp_path_factory.mktemp("workbooks")
    for notebook in WORKBOOKS.rglob("*.ipynb"):
        target = folder / notebook.relative_to(WORKBOOKS)
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(notebook, target)
    return folder


@pytest.fixture(scope="session")
def address(browser, workbooks, server_log, tmp_path_factory):
    """A running JupyterLab, started as `python3 workbooks` starts it, on a copy of the workbooks."""
    sys.path.insert(0, str(WORKBOOKS))
    from environment import lab_command

    arguments, variables, start = lab_command(
        Path(sys.executable),
        browser=False,
        folder=workbooks,
        state=tmp_path_factory.mktemp("lab"),
        extra=("--LabApp.expose_app_in_browser=True",),  # for LEAVE, which closes pages
    )
    variables["HOT_WATER_RUNS_FOLDER"] = str(tmp_path_factory.mktemp("choices"))
    everything = server_log.with_name("everything.txt")
    with everything.open("w") as printed:
        server = subprocess.Popen(arguments, env=variables, stdout=printed, stderr=printed)
    _wait_for(start.split("/lab")[0] + "/api")
    shutil.copy(everything, server_log)
    yield start
    for page in browser.pages:
        page.close()
    server.terminate()
    try:
        server.wait(timeout=30)
    except subprocess.TimeoutExpired:  # a thread of it may wait for a request that was given up in the middle
        server.kill()


def _wait_for(url: str) -> None:
    """Until the server answers."""
    end = time.monotonic() + PATIENCE / 1000
    while time.monotonic() < end:
        try:
            urllib.request.urlopen(url, timeout=10).close()
            return
        except (urllib.error.URLError, ConnectionError, TimeoutError):
            time.sleep(0.2)
    pytest.fail("JupyterLab did not start in time")


# Closes all but the start page, and says whether the window is then as it was when it was opened.
LEAVE = """() => {
    const [start, ...others] = window.jupyterapp?.shell.widgets('main') ?? [];
    if (start?.title.label !== 'start-here.ipynb' || !others.length || start.isVisible) return false;
    others.forEach(one => one.dispose());
    return document.body.dataset.jpThemeLight === 'true' && !document.querySelector('.jp-Dialog, .lm-Menu');
}"""


@pytest.fixture(scope="session")
def kept_window():
    """The window that one test leaves to the next, if there is any: JupyterLab takes longer to load than a page in it."""
    return []


@pytest.fixture
def window(browser, address, end_kernels):
    """A window that nothing is open in, closed again at the end."""
    page = browser.new_page()
    yield page
    page.close()
    end_kernels(but=(START,))


@pytest.fixture
def page(browser, address, kept_window, end_kernels, request):
    """The start page, in a window where no other page is open and nobody has touched this one."""
    page = kept_window.pop() if kept_window else browser.new_page()
    if page.url == "about:blank":
        page.goto(address)
    page.wait_for_selector(f"{SHOWN} .jp-MarkdownOutput h1")
    failed = request.session.testsfailed
    yield page
    untouched = request.session.testsfailed == failed and not page.is_closed() and page.evaluate(LEAVE)
    if untouched:
        page.set_viewport_size(SCREEN)
        kept_window.append(page)
    else:
        page.close()
    end_kernels(but=(START,) if untouched else ())


def _server(address: str) -> tuple[str, dict]:
    """Where JupyterLab answers, and the words that let a test in."""
    server, token = address.split("/lab")[0], address.split("token=")[1]
    return server, {"Authorization": f"token {token}"}


@pytest.fixture(scope="session")
def kept_lessons():
    """The lessons that tests left to the next ones, as {name: (window, how it was found)}."""
    return {}


# How the shown page stands: its words, what is in its boxes, the theme, the size of the window.
STANDS = """() => {
    const shown = document.querySelector('.jp-NotebookPanel:not(.lm-mod-hidden) .jp-Notebook');
    const boxes = [...shown.querySelectorAll('input, select')].map(one => `${one.value} ${one.checked}`);
    const window = [document.body.dataset.jpThemeName, innerWidth, innerHeight, document.querySelectorAll('.jp-Dialog').length];
    return [shown.innerText, ...boxes, ...window].join('\\n');
}"""


@pytest.fixture
def address_of(address):
    """The address of a workbook in a window of its own.

    With a name for the window in it: of two windows without, JupyterLab loads the second one twice, to give it a name.
    """
    return lambda name: address.replace("/lab/tree/start-here", f"/lab/workspaces/{Path(name).name}/tree/{name}")


@pytest.fixture
def lesson(browser, address_of, kept_lessons, end_kernels, request):
    """A lesson, live, in a window of its own, as the workbook opens it.

    What one test left as it had found it, up to a press on Reset, goes to the next: to open it anew takes longer than
    most of what is then looked at.
    """
    used, failed = {}, request.session.testsfailed

    def show(name: str = "02-how-hot-at-the-tap"):
        page, found = kept_lessons.pop(name, (None, None))
        if page is None:
            page = browser.new_page()
            page.goto(address_of(name))
            _wait_until_live(page)
            found = page.evaluate(STANDS)
        used[name] = page, found
        return page

    yield show
    for name, (page, found) in used.items():
        if request.session.testsfailed == failed and _as_found(page, found):
            kept_lessons[name] = page, found
        else:
            page.close()
    end_kernels(but=(START,))


def _as_found(page, found: str) -> bool:
    """Whether a lesson is again as it was found, its panel reset and its top in sight."""
    from playwright.sync_api import TimeoutError as TooLate

    page.set_viewport_size(SCREEN)
    reset = page.locator(f"{SHOWN} button:enabled:visible", has_text="Reset").first
    if reset.count():
        reset.click()
    try:
        page.wait_for_function(f"found => ({STANDS})() === found", arg=found, timeout=3000)
    except TooLate:
        return False
    page.evaluate("document.activeElement.blur(); document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0")
    return True


@pytest.fixture
def end_kernels(browser, address, kept_lessons):
    """Each test opens pages with kernels of 100 MB; left behind, those of a dozen lessons would fill a small machine."""

    def end(but: tuple = ()) -> None:
        server, words = _server(address)
        kept = [*but, *(f"{name}.ipynb" for name in kept_lessons)]
        for one in browser.request.get(f"{server}/api/sessions", headers=words).json():
            if one["path"] not in kept:
                assert browser.request.delete(f"{server}/api/sessions/{one['id']}", headers=words).ok

    return end


@pytest.fixture
def page_of(browser, page, address):
    """A notebook of one cell, shown and run until a selector is there."""

    def show(name: str, cell: str, until: str):
        cells = [
            {"cell_type": "code", "id": "only", "execution_count": None, "metadata": {}, "outputs": [], "source": cell}
        ]
        kernel = {"kernelspec": {"name": "python3", "display_name": "Python"}}
        content = {"cells": cells, "metadata": kernel, "nbformat": 4, "nbformat_minor": 5}
        server, words = _server(address)
        answer = browser.request.put(
            f"{server}/api/contents/{name}.ipynb",
            headers=words,
            data=json.dumps({"type": "notebook", "format": "json", "content": content}),
        )
        assert answer.ok, answer.text()
        page.evaluate("path => { jupyterapp.commands.execute('docmanager:open', { path }); }", f"{name}.ipynb")
        page.wait_for_selector(f".lm-DockPanel-tabBar .lm-mod-current:has-text('{name}.ipynb')")
        _wait_until_live(page, until)

    return show


@pytest.fixture
def faults():
    """What axe finds wrong in the parts of a page that a selector names: contrast, names, roles (WCAG 2 A and AA)."""
    from axe_playwright_python.sync_playwright import Axe

    def found(page, within: str, but: tuple = ()) -> list[str]:
        tags = {"runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa"]}, "resultTypes": ["violations"]}
        result = Axe().run(page, {"include": [[within]], "exclude": [[one] for one in but]}, tags)
        return [
            f"{rule['id']}: {node['html'][:200]}" for rule in result.response["violations"] for node in rule["nodes"]
        ]

    return found


@pytest.fixture
def live(page):
    """Wait until the shown page is live."""
    return lambda: _wait_until_live(page)


@pytest.fixture
def not_kept(kept_lessons, end_kernels):
    """Closes a lesson that tests hand on, and ends its Python: what opens it next sees it start from its beginning."""

    def close(name: str) -> None:
        if name in kept_lessons:
            kept_lessons.pop(name)[0].close()
            end_kernels(but=(START,))

    return close


@pytest.fixture
def opened(page, address, not_kept):
    """Go to a workbook by its link on the start page, and wait until it is live, unless `live` says no."""

    def go(name: str, live: bool = True):
        not_kept(name)
        if name != "start-here":
            page.click(f"{SHOWN} a[href*='{name}']")
            page.wait_for_selector(f".lm-DockPanel-tabBar .lm-mod-current:has-text('{Path(name).name}')")
        elif not live:  # in a window that was kept, this page is live already
            page.goto(address)
        if live:
            _wait_until_live(page)

    return go
