"""Which view of a large building's sketch is shown: chosen from a list, or by a leg that is gone to.

A row of the tables that is taken in hand types the number of its leg into the box "Go to leg" where the picture does
not show that leg (`legs.js`), so that its view comes.
"""

import ipywidgets as widgets

LONGEST = 34  # letters of what a view shows, in the list


class ViewChoice:
    """A list of the views, not shown where there is only one. panel : has picture, scene, and draws on `_draw`"""

    def __init__(self, panel):
        self.panel, self._setting = panel, False
        self.box = widgets.Dropdown(
            options=[],
            description=panel.controls["view"].label,
            tooltip=panel.controls["view"].explained,
            style={"description_width": "auto"},
            layout={"width": "420px", "max_width": "100%", "display": "none"},
        )
        self.box.observe(lambda change: None if self._setting else self.turn_to(change["new"]), "value")
        panel.picture.turned = self._follow

    def turn_to(self, number: int) -> None:
        """Shows the view with this number, the first is 1."""
        self._show(self.panel.picture.sketched[number - 1])

    def show_leg(self, number: int) -> None:
        """Shows the view with the leg of this number on the sketch, where the sketch has it already."""
        view = next((one for one in self.panel.picture.sketched if number - 1 in one.chosen), None)
        if view is not None and view is not self.panel.picture.view:
            self._show(view)

    def _show(self, view) -> None:
        with self.panel._lock:
            self.panel.picture.view = view
            self.panel._draw()

    def _follow(self) -> None:
        """Lists the views of what was drawn, and shows in the list which it is."""
        views = self.panel.picture.sketched
        self._setting = True
        self.box.options = [(_named(view), view.number) for view in views]
        self.box.value = self.panel.picture.view.number
        self.box.layout.display = None if len(views) > 1 else "none"
        self._setting = False


def _named(view) -> str:
    """A view in the list: its number, what it shows, its first leg."""
    shows = view.shows if len(view.shows) <= LONGEST else f"{view.shows[: LONGEST - 1].rstrip()}…"
    return f"{view.number} of {view.count}: {shows}{', ' if shows else ''}from leg {view.chosen[0] + 1}"
