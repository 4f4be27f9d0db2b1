"""Looks that many parts of a page have in common. Each look is an object with messages of its own between page and
kernel, so that parts that look alike share one, which nobody changes afterwards.
"""

from functools import cache

import ipywidgets as widgets


@cache
def layout(**words) -> widgets.Layout:
    """The layout of all parts that ask for the same words of CSS."""
    return _unchanged(widgets.Layout(**words))


@cache
def plain(part: type) -> widgets.Style:
    """The style of all parts of a class, as ipywidgets has it. part : for example widgets.HTML"""
    return _unchanged(part.style.klass())


def written(html: str = "", **css) -> widgets.HTML:
    """Words on a page, with a layout that all share who ask for the same CSS."""
    return widgets.HTML(html, layout=layout(**css), style=plain(widgets.HTML))


def _unchanged(look):
    """The same look, which raises TypeError when somebody changes it."""
    look.observe(_refuse, [name for name in look.keys if not name.startswith("_")])
    return look


def _refuse(change) -> None:
    raise TypeError(
        f"{change['name']} belongs to a look that many parts share. Give this part a look of its own:"
        f" layout={{...}} or style={{...}} where it is made."
    )
