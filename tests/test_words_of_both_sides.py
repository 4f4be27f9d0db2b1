"""US readers get US spelling and trade words, metric readers theirs; a page's own text serves both and has neither."""

import html
import json
import pkgutil
import re
from importlib import import_module
from pathlib import Path

import pytest
from matplotlib.text import Text

from lessons_lib import lessons, load_layout
from lessons_lib.building.run_sheet import run_sheet
from lessons_lib.classroom.prints.bench_card import bench_card
from lessons_lib.classroom.prints.keys import key_sheet
from lessons_lib.classroom.prints.records import commissioning_record, leave_home
from lessons_lib.classroom.prints.session_sheet import session_sheet
from lessons_lib.classroom.prints.worksheets import worksheet_sheet
from lessons_lib.classroom.session import plan
from lessons_lib.exercises import questions, variant
from lessons_lib.exercises.bank import lessons as lessons_asked
from lessons_lib.exercises.reading import read_choice
from lessons_lib.panels.page_state import choose_units
from lessons_lib.panels.pages import Legend, Told
from lessons_lib.panels.readout import Readout
from lessons_lib.quantities.display import SI, SYSTEMS, US
from lessons_lib.quantities.results import Word
from lessons_lib.storage.tables import rows

WORKBOOKS = Path(__file__).parents[1] / "workbooks"
PAGES = sorted(WORKBOOKS.rglob("*.ipynb"))
MAKERS = (
    "panel",
    "burn_times",
    "bars",
    "purge",
    "set_valve",
    "sequence",
    "testing",
    "joining",
    "discharge",
    "hand_over",
)
ROOMS = [import_module(f"lessons_lib.lessons.{room.name}") for room in pkgutil.iter_modules(lessons.__path__)]
PANELS = {f"{room.__name__} {name}": getattr(room, name) for room in ROOMS for name in MAKERS if hasattr(room, name)}
SHEETS = {
    "worksheet": lambda system: worksheet_sheet(7, lessons_asked(), system),
    "key": lambda system: key_sheet(7, lessons_asked(), system),
    "record": commissioning_record,
    "leaving": leave_home,
    "run sheet": lambda system: run_sheet(cabin(), system=system, changes=()),
}


def cabin():
    return load_layout(WORKBOOKS.parent / "data" / "layouts" / "bunk_cabin.toml")


def forms(table: str, column: str, unlike: str) -> set:
    """The forms of a column that differ from those of another one."""
    both = [pair for row in rows(table) for pair in zip(row[column].split("|"), row[unlike].split("|"))]
    return {one for one, other in both if one != other}


BRITISH = forms("spelling", "metric", "united_states")
# A meter that measures and a program that runs are the same on both sides.
AMERICAN = forms("spelling", "united_states", "metric") - {"meter", "meters", "program"}
FOREIGN = {  # unit system → what its reader must not meet
    US: BRITISH | forms("trade_words", "forms", "united_states"),
    SI: AMERICAN,
}


def met(text: str, words) -> set:
    """Which of some words stand in a text."""
    return {one.lower() for one in re.findall(rf"(?<!\w)(?:{'|'.join(words)})(?!\w)", text, re.IGNORECASE)}


def shown(widget) -> str:
    """All words of a widget and of what is in it: values, names, options, tooltips, and the names of pictures."""
    said = [getattr(widget, name, None) for name in ("value", "description", "tooltip", "placeholder")]
    said += getattr(widget, "_options_labels", ())
    words = " ".join(one for one in said if isinstance(one, str))
    words = re.sub(r"<style>.*?</style>", " ", words, flags=re.S)
    named = " ".join(re.findall(r'aria-label="([^"]*)"', words))
    words = html.unescape(f"{re.sub(r'<[^>]*>', ' ', words)} {named}")
    return " ".join([words, *(shown(child) for child in getattr(widget, "children", ()))])


def seen(panel) -> str:
    """All words of a panel as it stands, those of its picture that stand still among them."""
    texts = [text.get_text() for text in panel.picture.canvas.figure.findobj(Text)]
    return " ".join([shown(panel.widget), panel.sentence, *texts])


def whole(panel) -> str:
    """All words of a panel, those of every try among them."""
    texts, tries = [seen(panel)], getattr(panel, "tries", None)
    for place in range(len(tries.places) if tries else 0):
        tries.go(place)
        texts.append(shown(tries.widget))
    return " ".join([*texts, seen(panel)])


@pytest.mark.usefixtures("no_background")
@pytest.mark.parametrize("name", PANELS)
def test_a_panel_speaks_as_its_reader_does(name):
    """In all its tries, and again after the way back; the names of its controls are the same on both sides."""
    panel = PANELS[name]()
    if hasattr(panel, "controls"):
        assert not met(repr(Legend(panel)), BRITISH | AMERICAN)
    for system, words in ((SI, whole), (US, whole), (SI, seen)):
        choose_units(system)
        assert not met(words(panel), FOREIGN[system]), system


def test_headline_cards_and_status_are_said_as_the_reader_says_them():
    panel = PANELS["lessons_lib.lessons.how_hot_at_the_tap panel"]()
    panel.headline = lambda scene, system: "Fibre from the centre on"
    panel.readouts = lambda scene, system: [Readout("Neighbours", Word("oxidised", 0), "each metre")]
    choose_units(US)
    panel._tell("▲ The colour is missing.")
    said = shown(panel.widget)
    assert not met(said, BRITISH)
    assert met(said, AMERICAN) >= {"fiber", "center", "neighbors", "oxidized", "color"}


@pytest.mark.parametrize("room", [room for room in ROOMS if hasattr(room, "by_hand")], ids=lambda room: room.__name__)
def test_a_calculation_for_both_readers_has_no_word_of_one_side(room):
    written = room.by_hand()
    if isinstance(written, Told):
        assert not met(repr(written), BRITISH | AMERICAN)


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_question_and_what_is_said_of_answers_are_in_the_readers_words(system):
    for question in questions():
        one = variant(question, 7, system)
        said = [one.text, one.hint, one.worked, *(words for *_, words in one.choices)]
        said += [text for wrong in one.wrongs for text in (wrong.thinking, wrong.ask)]
        assert not met(" ".join(said), FOREIGN[system]), question.id


def test_a_choice_is_read_in_either_sides_words():
    choices = (("A", "bare", "bare at the centre"), ("B", "wool", "glass fibre, a metre of it"))
    for typed in ("glass fibre, a metre of it", "Glass fiber, a meter of it"):
        assert read_choice(typed, choices) == "wool"


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("name", SHEETS)
def test_a_print_is_in_its_readers_words(name, system):
    printed = html.unescape(re.sub(r"<style>.*?</style>|<[^>]*>", " ", SHEETS[name](system).html(), flags=re.S))
    assert not met(printed, FOREIGN[system])


@pytest.mark.parametrize("system", SYSTEMS)
def test_what_a_session_prints_is_in_its_readers_words(system):
    halves = (lessons_asked()[::2], lessons_asked()[1::2])  # all of them do not fit into one day
    run_sheets = [session_sheet(plan(600, 12, 3, half), system=system) for half in halves]
    made = [*(bench_card(one, system) for one in lessons_asked()), *run_sheets]
    printed = " ".join(
        html.unescape(re.sub(r"<style>.*?</style>|<[^>]*>", " ", one.html(), flags=re.S)) for one in made
    )
    assert not met(printed, FOREIGN[system])


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_no_page_has_a_word_that_is_spelled_differently_on_the_other_side(page):
    cells = json.loads(page.read_text(encoding="utf-8"))["cells"]
    text = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown")
    both = re.sub(r"centre to centre \(US: center to center\)", "", text, flags=re.IGNORECASE)
    assert not met(both, BRITISH | AMERICAN)


LESSONS = [page for page in PAGES if page.name[:2].isdigit()]


@pytest.mark.parametrize("page", LESSONS, ids=lambda page: page.stem)
def test_the_first_time_a_page_says_a_trade_word_as_both_sides_do(page):
    cells = json.loads(page.read_text(encoding="utf-8"))["cells"]
    text = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "markdown")
    # Headings, addresses and the names of controls and cards are no running text.
    text = re.sub(r"^#.*$|\]\([^)]*\)|(?<!\*)\*[\w ]+\*(?!\*)|\*", "", text, flags=re.MULTILINE)
    for row in rows("trade_words"):
        first = re.search(rf"(?<!expansion )\b({row['forms']})\b(.{{0,60}})", text, re.IGNORECASE)
        if first and row["also"] != "ground":
            assert first[2].startswith(tuple(f" ({also})" for also in row["also"].split("|"))), first[0]
