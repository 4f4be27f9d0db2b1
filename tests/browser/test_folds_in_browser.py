"""The line where the ten minutes end, the row of buttons beneath it, and the box that says what can hurt someone."""

from folded_page import PARTS, folds_work, stop_stands_out

SHOWN = ".jp-NotebookPanel:not(.lm-mod-hidden)"


def test_the_folds_of_a_page(lesson):
    page = lesson()
    folds_work(page, SHOWN, PARTS)
    assert page.locator(".jp-mod-dirty").count() == 0, "opening a part is nothing to save"
    stop_stands_out(page, SHOWN)
