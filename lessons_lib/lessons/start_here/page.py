"""The start page's helpers: choose units, and see that the installation works."""

import sys

import ipywidgets as widgets

from ...panels.page_state import choose_units, follow_units
from ...panels.pages import Told
from ...physics.properties import water
from ...quantities.display import SYSTEMS
from ...storage import preferences
from ...storage.tables import DATA, rows, tern_bank
from ..how_hot_at_the_tap.panel import main
from .panel import first


class UnitChooser:
    """One choice for all lessons."""

    def __init__(self):
        self.buttons = widgets.ToggleButtons(
            options=[("metric (°C, m, L/min)", SYSTEMS[0]), ("US customary (°F, ft, gpm)", SYSTEMS[1])],
            value=preferences.unit_system(),
            style={"button_width": "220px"},
        )
        self.buttons.add_class("hot-water-runs")
        self.buttons.observe(lambda change: choose_units(change["new"]), "value")
        follow_units(self)

    def set_system(self, system: str) -> None:
        """Follow a choice made elsewhere."""
        self.buttons.value = system

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.buttons._repr_mimebundle_() or {})
        bundle["text/plain"] = "(Run the page, then choose here: metric or US customary.)"
        return bundle


def units() -> UnitChooser:
    """Buttons for the unit system; the choice is remembered."""
    return UnitChooser()


def check() -> Told:
    """See that the installation works: each line is a real try."""
    panel = main()
    tried = {
        "Python is new enough": sys.version_info >= (3, 11),
        f"the tables are found ({len(rows('pipes'))} pipes, {len(tern_bank())} places)": (DATA / "pipes.csv").is_file(),
        "water at 20 °C weighs 998.2 kg per cubic metre": abs(float(water(20.0).density) - 998.2) < 0.1,
        "the first panel draws its picture": first().png.startswith(b"\x89PNG"),
        "the main panel draws its picture": panel.png.startswith(b"\x89PNG") and "°" in panel.sentence,
    }
    lines = "".join(f"<li>{'● works' if works else '■ FAILS'}: {what}</li>" for what, works in tried.items())
    if all(tried.values()):
        return Told(f"**● All is well.** <details><summary>What was tried</summary><ul>{lines}</ul></details>")
    return Told(
        "**■ Something is missing. Close the workbook and open it again with the command in the README.**"
        f" <ul>{lines}</ul>"
    )
