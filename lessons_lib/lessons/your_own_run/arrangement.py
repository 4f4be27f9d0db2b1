"""How lesson 11's panel is laid out: what its parts are called, and where they stand on the screen."""

from collections import namedtuple

import ipywidgets as widgets

Part = namedtuple("Part", "label explained")
PARTS = {
    "layout": Part(
        "Layout",
        "your school's building if it has put one here, Tern Bank's buildings, a template to begin from, and the files"
        " of your own folder",
    ),
    "file": Part("Open", "the name of a file in your own folder, or a whole path; press Enter"),
    "again": Part(
        "Read again", "the file as it lies on the disk now, if you changed it in a text editor; Undo takes it back"
    ),
    "views": Part(
        "Results", "each tap; each leg that can freeze; changes, tried alone and in pairs; what to cut and buy"
    ),
    "table": Part(
        "Change the layout",
        "a row for each leg or tap. Write lengths as you would on paper: 12 ft, 3.5 m, 6 ft 4 in. An empty box means"
        " the usual value, shown faintly",
    ),
    "leg": Part("Go to leg", "the row of the leg with this number on the sketch; a press on the leg does the same"),
    "view": Part("View", "of a building too large for one picture; each leg has its number on one of the views"),
    "rows": Part("+ and ×", "one more after this row; take this row out"),
    "undo": Part("Undo", "take the last change back, one after the other"),
    "name": Part(
        "Name",
        "of the files that are written; a file that is not yours as you opened it is written over when you press twice",
    ),
    "paper": Part("Paper", "of the sheet for a licensed contractor"),
}


def arranged(tables, shown, beneath) -> tuple:
    """Gives the tables beside the sketch, so that typing and seeing share a screen, and what stands beneath both.

    tables, beneath : widgets, one beneath the other; shown : the widget of the sketch with its cards
    """
    left, under = widgets.VBox(tables, layout={"width": "436px", "flex": "0 0 auto"}), widgets.VBox(beneath)
    shown.layout = {"margin": "0 0 0 10px", "flex": "1 1 400px", "min_width": "0"}
    side_by_side = widgets.Box([left, shown], layout={"display": "flex", "flex_flow": "row wrap"})
    for part, *names in (
        (tables[-1], "hot-water-table"),
        (left, "hot-water-controls", "hot-water-tables"),
        (side_by_side, "hot-water-body"),
        (under, "hot-water-under"),
    ):
        for name in names:
            part.add_class(name)
    return side_by_side, under


def button(name: str, act, tip: str) -> widgets.Button:
    """A button as wide as its name."""
    made = widgets.Button(description=name, tooltip=tip, layout={"width": "auto"})
    made.on_click(lambda _: act())
    return made


def choice(options, width: str, act) -> widgets.ToggleButtons:
    """One of several, as buttons side by side."""
    buttons = widgets.ToggleButtons(options=list(options), style={"button_width": width}, layout={"width": "auto"})
    buttons.observe(lambda change: act(), "value")
    return buttons


def row(*parts) -> widgets.HBox:
    """Parts side by side, on a further line where they find no room."""
    return widgets.HBox(list(parts), layout={"align_items": "center", "flex_flow": "row wrap"})


def heading(text: str) -> widgets.HTML:
    """The name of a part of the panel."""
    return widgets.HTML(
        f'<b style="font-size:15px;white-space:nowrap">{text}</b>', layout={"width": "156px", "flex": "0 0 auto"}
    )
