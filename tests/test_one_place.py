"""One fact stands in one place: each verdict's word, each threshold and each text that is cut apart nowhere again."""

import ast
import copy
import pickle
import re
from collections import Counter
from pathlib import Path

import numpy as np
import pytest

from lessons_lib.panels.readout import Readout
from lessons_lib.quantities.results import Word

PACKAGE = Path(__file__).resolve().parent.parent / "lessons_lib"
# Words that are also something else, and what: a key of settings or of data, a heading, a count.
ALSO = {
    "cold": "the cold water, a control's key",
    "measured": "an argument of the experiments",
    "hand over": "a step's key in data/work_order.csv",
    "none yet": "a table without rows",
    "as given": "a heading of the bench sheet",
    "too little flow": "a part of a layout's score",
    "steady": "a column of data/application_classes.csv",
}
# Value and unit of a fact → the one module that may write it as a literal, and the setting or example that is not it.
FACTS = {
    (14, "h"): {"runs/common_values.py": 1},
    (4, "degC"): {"runs/common_values.py": 1},
    (40, "degC"): {"runs/common_values.py": 1},
    (45, "degC"): {"lessons/hot_enough_not_too_hot/panel.py": 1},  # what the workshop's valve is set to
    (60, "degC"): {
        "exercises/solvers/pipes.py": 1,
        "lessons/at_the_bench/bench_controls.py": 1,
        "lessons/hot_enough_not_too_hot/burn_times.py": 1,
    },  # the tanks of a question and a rig, the water of a try
}
# A name that stands for a fact → the module that gives it its value.
NAMES = {
    "WARM_ENOUGH": "runs/common_values.py",
    "HELD_AT": "runs/common_values.py",
    "THERMOSTAT": "runs/common_values.py",
    "TAPE_MARGIN": "runs/common_values.py",
    "LONG_NIGHT": "runs/common_values.py",
    "RECOMMENDED_STORE": "runs/bacteria.py",
    "GROWTH": "runs/bacteria.py",
    "BENCH_LIMIT": "runs/scald.py",
    "SAFEST_LIMIT": "runs/assessment.py",
    "BARELY_WARM": "runs/assessment.py",
    "TOO_COOL_TO_BURN": "runs/scald.py",
    "SOONER": "runs/scald.py",
    "BURN_SOONER": "runs/scald.py",
    "USUAL_LEAST": "plant/tank.py",
    "CARRIES_AIR": "physics/purge.py",
    "GRAVITY": "physics/properties.py",
    "KELVIN": "physics/properties.py",
    "STEFAN_BOLTZMANN": "physics/heat_loss.py",
}


@pytest.fixture(scope="module")
def nodes() -> list[tuple[str, ast.AST]]:
    """(module, node) of everything that is written in the library."""
    trees = {str(file.relative_to(PACKAGE)): ast.parse(file.read_text("utf-8")) for file in PACKAGE.rglob("*.py")}
    return [(module, node) for module, tree in sorted(trees.items()) for node in ast.walk(tree)]


def calls(nodes, *names: str) -> list[tuple[str, ast.Call]]:
    """Every call of functions by their bare names."""
    return [
        (module, one) for module, one in nodes if isinstance(one, ast.Call) and getattr(one.func, "id", "") in names
    ]


def texts(nodes) -> list[tuple[str, ast.Constant]]:
    """Every text that is written out."""
    return [(module, one) for module, one in nodes if isinstance(one, ast.Constant) and isinstance(one.value, str)]


def declared(nodes) -> list[str]:
    """The text of every verdict's word that is written out."""
    return [call.args[0].value for _, call in calls(nodes, "Word") if isinstance(call.args[0], ast.Constant)]


def test_each_verdict_word_is_declared_once(nodes):
    words = declared(nodes)
    assert len(words) > 120
    assert [word for word, times in Counter(words).items() if times > 1] == []


def test_no_verdict_word_is_written_a_second_time(nodes):
    words = set(declared(nodes)) - set(ALSO)
    written = Counter(node.value for _, node in texts(nodes) if node.value in words)
    assert {word: times for word, times in written.items() if times > 1} == {}


@pytest.mark.parametrize("fact", FACTS, ids=lambda fact: f"{fact[0]} {fact[1]}")
def test_each_threshold_is_written_once(fact, nodes):
    """No `Q_(14, "h")` beside the one that says what a long night is."""
    value, unit = fact
    units = {unit, "hour"} if unit == "h" else {unit}
    written = Counter(
        module
        for module, call in calls(nodes, "Q_", "celsius", "quantity")
        if module != "__init__.py"
        and isinstance(call.args[0], ast.Constant)
        and call.args[0].value == value
        and {getattr(one, "value", None) for one in call.args[1:]} <= units
    )
    assert written == FACTS[fact]


@pytest.mark.parametrize("name", NAMES)
def test_each_named_fact_has_one_value(name, nodes):
    givers = [
        module
        for module, tree in nodes
        if isinstance(tree, ast.Module)
        for node in tree.body
        if isinstance(node, ast.Assign)
        for target in ast.walk(node.targets[0])
        if isinstance(target, ast.Name) and target.id == name
    ]
    assert givers == [NAMES[name]]


def test_texts_with_a_fact_take_it_from_where_it_stands(nodes):
    """Sentences that name the store's temperature, the long night or the tape's margin write none of them out."""
    said = re.compile(r"60 °C|140 °F|\b14 h\b|15 % to spare|children and older people burn", re.IGNORECASE)
    docs = {node.value for _, node in nodes if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)}
    found = {module for module, node in texts(nodes) if node not in docs and said.search(node.value)}
    # Where the words are made; and how far experiments on skin went, which is another fact.
    assert found == {"runs/scald.py", "runs/skin.py"}


def test_no_text_that_is_shown_is_cut_apart(nodes):
    """Parts travel as parts: nothing takes a beginning, an end or a piece from what `show` and its like have joined."""
    makers = {"show", "both", "number", "duration", "stopwatch", "burns", "ice_words", "to_buy", "_show", "save", "str"}
    cutters = {"split", "rsplit", "partition", "rpartition", "removeprefix", "removesuffix", "startswith"}
    cut = [
        f"{module}:{node.lineno}"
        for module, node in nodes
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in cutters
        for made in ast.walk(node.func.value)
        if isinstance(made, ast.Call) and getattr(made.func, "id", getattr(made.func, "attr", "")) in makers
    ]
    # Typed by people, not shown to them: a list of seats, a name to save under, a pipe's name; and whether an error is
    # about a depth.
    typed = ("exercises/seats.py", "exercises/variants.py", "bench/store.py", "building/check.py")
    assert [place for place in cut if not place.startswith(typed)] == []


def test_a_word_is_a_text_that_knows_its_gravity():
    word = Word("cold", 2)
    assert word == "cold" and hash(word) == hash("cold") and f"{word}" == "cold" and {"cold": 1}[word] == 1
    assert [again.gravity for again in (pickle.loads(pickle.dumps(word)), copy.deepcopy(word))] == [2, 2]
    assert np.array([word, word], dtype=object)[1].gravity == 2
    assert Readout("Tap", word, "").level == 2 and "■ cold" in Readout("Tap", word, "").html()
