"""Printed sheets: one side in every paper, text escaped, black and white, files never written over unasked."""

import io

import pypdfium2
import pytest
from PIL import Image

from lessons_lib import InputError
from lessons_lib.sheets import Blank, Box, Columns, Heading, Picture, Sheet, Signatures, Stop, Table, Text
from lessons_lib.sheets.blocks import PAPERS

LONG = "A bare elbow loses as much as a long covered pipe; look there first. " * 12


def grey_png() -> bytes:
    stream = io.BytesIO()
    Image.new("L", (200, 100), 128).save(stream, "PNG")
    return stream.getvalue()


def sheet(**changes) -> Sheet:
    blocks = (
        Stop("Stop. Hot water scalds <b>."),
        Columns(((Heading("Left"), Text(LONG)), (Picture(grey_png(), 'a "grey" field', 0.5),)), (2, 1)),
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
