"""Printed sheets: one side in every paper, text escaped, black and white, files never written over unasked."""

import re

import pypdfium2
import pytest
from matplotlib.patches import Rectangle

from lessons_lib import InputError
from lessons_lib.drawing.canvas import Canvas
from lessons_lib.sheets import Blank, Box, Columns, Heading, Picture, Sheet, Signatures, Stop, Table, Text
from lessons_lib.sheets.blocks import MARGIN, PAPERS

LONG = "A bare elbow loses as much as a long covered pipe; look there first. " * 12


def grey() -> Picture:
    """A grey field with a word in it, twice as wide as high."""
    canvas = Canvas(200, 100)
    axes = canvas.drawing(0, 0, 200, 100)
    axes.add_patch(Rectangle((0, 0), 200, 100, color="#808080"))
    canvas.words(axes, 100, 50, ha="center").set_text("lagging")
    return Picture(canvas.svg(), canvas.pdf(), 'a "grey" field', 0.5)


def sheet(**changes) -> Sheet:
    blocks = (
        Stop("Stop. Hot water scalds <b>."),
        Columns(((Heading("Left"), Text(LONG)), (grey(),)), (2, 1)),
        Table(("piece", "cut"), (("1/2 in", "1.20 m"), ("", "")), (3, 1)),
        Blank("Your guess", 2),
        Box("Comments", 30),
        Signatures(("installer", "instructor")),
        Text("Last line −5 °C ■", bold=True),
    )
    return Sheet(**{"title": "Sheet <script>", "blocks": blocks, "foot": "invented", **changes})


def pages(pdf: bytes):
    return pypdfium2.PdfDocument(pdf)


@pytest.mark.parametrize("paper", PAPERS)
def test_a_pdf_has_the_papers_size_and_every_word(paper):
    document = pages(sheet().pdf(paper))
    assert len(document) == 1
    assert [round(side / 72 * 25.4, 1) for side in document[0].get_size()] == pytest.approx(PAPERS[paper], abs=0.1)
    text = document[0].get_textpage().get_text_range()
    for words in (
        "Sheet <script>",
        "scalds <b>",
        "1.20 m",
        "Your guess",
        "Comments",
        "installer",
        "Last line −5 °C ■",
        "invented",
    ):
        assert words in text


def test_a_picture_goes_to_paper_as_lines_where_its_room_is_however_much_the_sheet_was_shrunk():
    """Read back by another program: the words of the picture are words, and the field is grey where its room is."""
    for blocks, shrunk in (((grey(), Text(LONG)), 1.0), ((grey(), *(Text(LONG),) * 30), 0.8)):
        paper = pages(Sheet("picture", blocks).pdf())
        assert len(paper) == 1 and "lagging" in paper[0].get_textpage().get_text_range()
        seen = paper[0].render(scale=1).to_pil().convert("L")
        grey_rows = [y for y in range(seen.height) if seen.getpixel((seen.width // 4, y)) == 128]
        grey_columns = [x for x in range(seen.width) if seen.getpixel((x, grey_rows[5])) == 128]
        across, down = (max(places) - min(places) + 1 for places in (grey_columns, grey_rows))
        assert across == pytest.approx(2 * down, abs=3) and min(grey_rows) < 120
        inside = (PAPERS["A4"][0] - 2 * MARGIN) / 25.4 * 72
        assert (across == pytest.approx(inside, abs=2)) if shrunk == 1 else (across < shrunk * inside)
        assert min(grey_columns) == pytest.approx(MARGIN / 25.4 * 72, abs=1.5)


def test_one_page_stays_one_page_and_a_long_one_goes_on():
    long = (Text(LONG),) * 40
    assert len(pages(Sheet("long", long).pdf())) == 1
    assert len(pages(Sheet("long", long, one_page=False).pdf())) > 1


def test_a_web_page_escapes_every_text_and_loads_nothing():
    page = sheet().html("Letter")
    assert "Sheet &lt;script&gt;" in page and "scalds &lt;b&gt;" in page and "&quot;grey&quot;" in page
    assert "<script" not in page and "http" not in page and "size: 215.9mm 279.4mm" in page


@pytest.mark.parametrize("name", ["run.html", "run.pdf"])
def test_a_file_is_never_written_over_unasked(tmp_path, name):
    file = tmp_path / name
    assert sheet().save(file) == file
    before = file.read_bytes()
    with pytest.raises(InputError, match="is there already"):
        sheet().save(file, "Letter")
    assert file.read_bytes() == before
    sheet().save(file, "Letter", replace=True)
    assert file.read_bytes() != before and [path.name for path in tmp_path.iterdir()] == [name]


def test_what_cannot_be_is_said(tmp_path):
    with pytest.raises(InputError, match="A4"):
        sheet().html("A3")
    with pytest.raises(InputError, match=".pdf"):
        sheet().save(tmp_path / "run.docx")
    with pytest.raises(InputError, match="was not written"):
        sheet().save(tmp_path / "nowhere" / "run.pdf")


def test_a_sheet_that_runs_on_has_its_words_and_its_number_at_the_foot_of_every_page():
    """In the PDF within the margin that printers need, and clear of the text; in the style of the web page by number."""
    running = 'Inn "<b>" · x'
    long = sheet(blocks=(Text(LONG),) * 40, one_page=False, running=running)
    document = pages(long.pdf())
    assert len(document) == long.pages() > 1
    for number, side in enumerate(document, 1):
        text = side.get_textpage()
        assert running in text.get_text_range() and f"page {number} of {len(document)}" in text.get_text_range()
        found = text.search(f"page {number} of")
        first, _ = found.get_next()
        _, bottom, _, top = text.get_charbox(first)
        assert bottom / 72 * 25.4 > MARGIN - 1 and top / 72 * 25.4 < MARGIN + 4
        low = [i for i in range(text.count_chars()) if text.get_charbox(i)[1] < top + 2]
        foot = "".join(text.get_text_range(i, 1) for i in low)
        assert "".join(foot.split()) == "".join(f"{running}page {number} of {len(document)}".split())
    lines = [
        pages(Sheet("t", (Text("x\n" * 200),), one_page=False, running=words).pdf())[0].get_textpage()
        for words in ("", "-")
    ]
    free, kept = (side.get_text_range().count("x") for side in lines)
    assert kept < free  # 5 mm, more than a line, are the foot's own
    page = long.html()
    assert r"Inn \000022 \00003c b\00003e \000022  \0000b7  x" in page and "counter(page)" in page and "<b>" not in page
    assert (
        "counter(page)" not in sheet().html()
        and "page 1 of" not in pages(sheet().pdf())[0].get_textpage().get_text_range()
    )


def test_a_long_table_begins_under_its_heading_and_says_its_head_on_each_page():
    """Two thirds of a page are taken; the table does not wait for the next one, and a heading is never left alone."""
    table = Table(("piece", "cut"), tuple((f"row {n}", "1 m") for n in range(90)))
    document = pages(Sheet("t", (*(Text(LONG),) * 5, Heading("Pieces"), table), one_page=False).pdf())
    first, *others = (side.get_textpage().get_text_range() for side in document)
    assert "Pieces" in first and "row 0" in first and others and all("piece" in text for text in (first, *others))
    rows = [int(n) for text in (first, *others) for n in re.findall(r"row (\d+)", text)]
    assert rows == list(range(90))
    for lines in range(40, 58):  # wherever on the page the heading comes
        parts = (Text("x\n" * lines), Heading("Pieces"), table)
        texts = [side.get_textpage().get_text_range() for side in pages(Sheet("t", parts, one_page=False).pdf())]
        assert all(("Pieces" in text) == ("row 0" in text) for text in texts), lines
