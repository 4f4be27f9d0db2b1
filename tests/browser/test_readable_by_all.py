"""Read by everybody: in every theme."""

import pytest

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"
THEMES = ("JupyterLab Light", "JupyterLab Dark", "JupyterLab Dark High Contrast")
PAGES = (
    "start-here",
    "02-how-hot-at-the-tap",
)
# Faults of JupyterLab's own parts, which this project leaves as they are: a button of its toolbar is never "pressed",
# and the column of cells calls itself a feed of articles.
OF_JUPYTERLAB = ("aria-allowed-attr: <jp-button", 'aria-required-children: <div role="feed"')


def use_theme(page, name: str) -> None:
    page.click(".lm-MenuBar-itemLabel:text-is('Settings')")
    page.click(".lm-Menu-itemLabel:text-is('Theme')")
    page.click(f".lm-Menu-itemLabel:text-is('{name}')")
    page.wait_for_function("name => document.body.dataset.jpThemeName === name", arg=name)


@pytest.mark.parametrize("name", PAGES)
def test_everything_on_a_page_can_be_read_in_every_theme(page, opened, faults, name):
    opened(name)
    page.evaluate("document.querySelectorAll('details').forEach(fold => (fold.open = true))")
    wrong = []
    try:
        for theme in THEMES:
            use_theme(page, theme)
            page.wait_for_timeout(500)  # colours fade from one theme into the other
            wrong += [f"{theme}: {one}" for one in faults(page, SHOWN) if not one.startswith(OF_JUPYTERLAB)]
    finally:
        use_theme(page, THEMES[0])
    assert wrong == []
