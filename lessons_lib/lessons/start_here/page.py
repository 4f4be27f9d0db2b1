"""The start page's helpers: choose units, and see that the installation works."""

import sys

import ipywidgets as widgets

from ...panels.page_state import choose_region, choose_units, follow_units
from ...panels.pages import Told
from ...physics.properties import water
from ...quantities.display import SI, US
from ...storage import preferences
from ...storage.tables import DATA, rows, tern_bank
from ..how_hot_at_the_tap.panel import main
from .panel import first

CONTINENT, UNITED_KINGDOM = preferences.REGIONS[SI]
(UNITED_STATES,) = preferences.REGIONS[US]
GOODS = {
    CONTINENT: "Panels open with copper tube to EN 1057, such as 22 mm with a 1 mm wall, and a 230 V supply.",
    UNITED_KINGDOM: "Panels open with UK copper tube, such as 22 mm with a 0.9 mm wall, and a 230 V supply.",
    UNITED_STATES: "Panels open with US pipe, such as 3/4 in copper L, and a 120 V supply.",
}


class UnitChooser:
    """One choice of units for all lessons, and for metric readers of the goods that a panel opens with."""

    def __init__(self):
        system = preferences.unit_system()
        self.buttons = widgets.ToggleButtons(
            options=[("metric (°C, m, L/min)", SI), ("US customary (°F, ft, gpm)", US)],
            value=system,
            style={"button_width": "220px"},
        )
        self.goods = widgets.ToggleButtons(
            options=[("pipe as on the Continent", CONTINENT), ("pipe as in the UK", UNITED_KINGDOM)],
            value=preferences.region(SI),
            style={"button_width": "220px"},
        )
        self.told = widgets.HTML()
        self.widget = widgets.VBox([self.buttons, self.goods, self.told])
        self.widget.add_class("hot-water-runs")
        self.buttons.observe(lambda change: choose_units(change["new"]), "value")
        self.goods.observe(lambda change: choose_region(change["new"]), "value")
        follow_units(self)
        self.set_system(system)

    def set_system(self, system: str) -> None:
        """Follow a choice made elsewhere."""
        self.buttons.value, self.goods.value = system, preferences.region(SI)
        self.goods.layout.display = None if system == SI else "none"
        self.told.value = f'<span role="status" style="font-size:15px">{GOODS[preferences.region(system)]}</span>'

    def _repr_mimebundle_(self, include=None, exclude=None) -> dict:
        bundle = dict(self.widget._repr_mimebundle_() or {})
        bundle["text/plain"] = "(Your units appear here when the page is live.)"
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
