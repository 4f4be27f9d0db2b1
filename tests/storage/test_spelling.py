"""Words of the two sides of the ocean: what is put into the reader's own, and what is left alone."""

import pytest

from lessons_lib import Insulation
from lessons_lib.quantities.display import SI, SYSTEMS, US
from lessons_lib.quantities.units import Q_
from lessons_lib.storage.spelling import as_in_tables, in_words_of
from lessons_lib.storage.tables import rows


@pytest.mark.parametrize(
    "text, metric, customary",
    [
        ("The centre is 3 metres up.", "The centre is 3 metres up.", "The center is 3 meters up."),
        ("Draughty. ALUMINIUM.", "Draughty. ALUMINIUM.", "Drafty. ALUMINUM."),
        ("Lock the isolator (disconnect).", "Lock the isolator.", "Lock the disconnect."),
        ("Expansion vessels (expansion tanks) age.", "Expansion vessels age.", "Expansion tanks age."),
        ("one clip, a paperclip", "one clip, a paperclip", "one hanger, a paperclip"),
        ("a mixing valve (tempering valve, TMV)", "a mixing valve", "a mixing valve"),
        ("centre-to-face", "centre-to-face", "center-to-face"),
    ],
)
def test_a_text_is_said_as_each_side_says_it(text, metric, customary):
    assert in_words_of(text, SI) == metric and in_words_of(text, US) == customary
    assert in_words_of(customary, US) == customary, "said once more it stays"


@pytest.mark.parametrize(
    "text",
    [
        "cut_length centres_face",
        "per_metre",
        "12 m, 3/4 in, 2 × 15 W/m",
        '<b class="centre" title="metre">7</b>',
        'There is no leg "sports centre".',
        "no leg &quot;sports centre&quot;",
        "Ms Grey, Mr Storey",
        "a licensed trade",
    ],
)
def test_names_units_tags_and_what_somebody_typed_are_left_alone(text):
    assert {in_words_of(text, system) for system in SYSTEMS} == {text}


@pytest.mark.parametrize(
    "table, columns", [("spelling", ("metric", "united_states")), ("trade_words", ("forms", "also", "united_states"))]
)
def test_each_form_has_its_fellow_in_every_column(table, columns):
    for row in rows(table):
        assert len({row[column].count("|") for column in columns}) == 1, row


def test_a_material_is_found_in_either_spelling():
    assert as_in_tables("weathered aluminum, glass fiber") == "weathered aluminium, glass fibre"
    one, other = (
        Insulation(name, Q_(20, "mm"), jacket=f"bright {metal}")
        for name, metal in (("glass fibre", "aluminium"), ("Glass fiber", "aluminum"))
    )
    assert one.surface_emissivity == other.surface_emissivity == 0.05
    assert (one.conductivity_at[1] == other.conductivity_at[1]).all()
