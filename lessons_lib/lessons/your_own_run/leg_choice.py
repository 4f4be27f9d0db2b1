"""A leg taken in hand by its number on the sketch: its table is turned to, and its page of rows.

A press on a leg of the sketch types the number into this box (`legs.js`, in JupyterLab and in a room). The same
script puts the keyboard into the row when it is there, and marks the leg of the row in hand on the sketch.
"""

import ipywidgets as widgets

from .layout_table import row_of


class LegChoice:
    """A box for the number of a leg.

    panel : has document, controls, view_choice, and show_row(kind, number)
    """

    def __init__(self, panel):
        self.panel = panel
        self.box = widgets.Text(
            description=panel.controls["leg"].label,
            placeholder="number",
            continuous_update=False,
            tooltip=panel.controls["leg"].label,
            style={"description_width": "auto"},
            layout={"width": "146px"},
        )
        self.box.add_class("hot-water-leg-choice")
        self.box.observe(lambda change: self.take(change["new"].strip()) if change["new"].strip() else None, "value")

    def take(self, typed: str) -> None:
        """Shows the row of the leg with this number, or says which numbers there are."""
        self.box.value = ""
        count = sum(len(self.panel.document.rows(kind)) for kind in ("leg", "loop.hot", "loop.return"))
        if not typed.isdecimal() or not 1 <= int(typed) <= count:
            self.panel._tell(f'▲ There is no leg "{typed}". The legs of this layout have the numbers 1 to {count}.')
            return
        self.panel.show_row(*row_of(self.panel.document, int(typed)))
        self.panel.view_choice.show_leg(int(typed))
