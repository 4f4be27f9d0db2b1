"""Sheets printed by a browser: page one on one side, name and number on each, in both papers and both unit systems."""

import io

import pypdfium2
import pytest

from lessons_lib import load_layout
from lessons_lib.building.run_sheet import run_sheet
from lessons_lib.quantities.display import SYSTEMS
from lessons_lib.sheets.blocks import PAPERS
from lessons_lib.storage.tables import DATA


@pytest.mark.parametrize("name", ["workshop", "bunk_cabin", "wash_house"])
def test_a_buildings_sheet_prints_with_the_talk_on_page_one(browser, name):
    house = load_layout(DATA / "layouts" / f"{name}.toml")
    found, changes = house.assess(), ()
    page = browser.new_page()
    for system in SYSTEMS:
        sheet = run_sheet(house, found, system, changes)
        for paper in ("A4", "Letter"):
            page.set_content(sheet.html(paper), wait_until="load")
            printed = pypdfium2.PdfDocument(io.BytesIO(page.pdf(prefer_css_page_size=True, print_background=True)))
            sides = [" ".join(side.get_textpage().get_text_range().split()) for side in printed]
            assert "Comments of" in sides[0] and f"{house.name}: everything in it" in sides[1], f"{paper}, {system}"
            for number, side in enumerate(sides, 1):
                assert house.name in side and f"page {number} of {len(sides)}" in side, f"{paper}, {system}"
            assert [side / 72 * 25.4 for side in printed[0].get_size()] == pytest.approx(PAPERS[paper], abs=0.5)
    page.close()
