"""The changes that `tests/mutate.py` makes: those of Cosmic Ray that suit numbers and logic, and ours in its form of an operator."""

import ast
import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import ndiff
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast, is_number
from cosmic_ray.mutating import mutate_code
from cosmic_ray.operators.operator import Example, Operator
from cosmic_ray.plugins import get_operator

SHARE = 1.03
OTHER_SUBJECTS = (
    "words",
    "run_sheet",
    "sketch",
    "__init__",
)  # modules of words and drawings, left out of a room's sample
# what takes counts or places: there a whole number is changed by one
COUNTING = {"range", "round", "reshape", "linspace", "zeros", "ones", "full", "islice", "split", "rsplit", "repeat"}
COUNTING |= {"moveaxis", "expand_dims", "take", "stack", "concatenate", "Word"}  # how grave a word is, too
# what takes its arguments either way, or stops at once when they are swapped, as it does with a text among them
EITHER_WAY = {"max", "min", "maximum", "minimum", "hypot", "add", "multiply", "isclose", "allclose", "union1d"}
EITHER_WAY |= {"isinstance", "issubclass", "getattr", "hasattr"}
TEXTS = {"string", "strings", "fstring"}
ASIDE = {"fstring", "decorator", "raise_stmt"}  # words, and what says nothing about the world


def _ancestors(node) -> Iterator:
    while node.parent is not None:
        yield node.parent
        node = node.parent


def is_aside(node) -> bool:
    """Whether a node stands in a message or a decorator."""
    return any(one.type in ASIDE for one in _ancestors(node))


def _called(arguments) -> str:
    """The bare name of what a bracket of arguments belongs to."""
    bracket = next((one for one in _ancestors(arguments) if one.type == "trailer"), None)
    before = bracket.get_previous_sibling() if bracket is not None else None
    if before is None or bracket.children[0].value != "(":
        return ""
    return before.get_last_leaf().value


def counts(node) -> bool:
    """Whether a number is a count or a place: in a subscript, beside `len`, or an argument of what takes counts."""
    if any(one.type in ("subscript", "subscriptlist") for one in _ancestors(node)):
        return True
    bracket = next((one for one in _ancestors(node) if one.type in ("trailer", "comparison", "argument")), None)
    if bracket is None:
        return False
    if bracket.type == "comparison":
        return "len(" in bracket.get_code() or ".ndim" in bracket.get_code() or ".size" in bracket.get_code()
    if bracket.type == "argument":
        return (
            bracket.children[0].get_code().strip() in ("axis", "ndigits", "maxsplit", "num")
            or _called(node) in COUNTING
        )
    return bracket.children[0].value == "[" or _called(node) in COUNTING


def _put(node, index: int, text: str, before=None):
    """A node with new code in place of one child, and the space that was before it (or before another one)."""
    node.children[index] = get_ast((before or node.children[index]).get_first_leaf().prefix + text)
    return node


def _bare(node) -> str:
    return node.get_code(include_prefix=False)


class NumberByThreePercent(Operator):
    """A number that stands for a value is 3 % larger."""

    def mutation_positions(self, node):
        if is_number(node) and not counts(node) and eval(node.value) != 0:
            yield (node.start_pos, node.end_pos)

    def mutate(self, node, index):
        node.value = f"{eval(node.value) * SHARE:.9g}"
        return node

    @classmethod
    def examples(cls):
        return Example("x = 2.0 * y", "x = 2.06 * y"), Example("x = f(60, y[1])", "x = f(61.8, y[1])")


class CountByOne(get_operator("core/NumberReplacer")):
    """A whole number that counts or says a place is one larger or smaller."""

    def mutation_positions(self, node):
        return super().mutation_positions(node) if is_number(node) and counts(node) else ()

    @classmethod
    def examples(cls):
        return Example("x = y[1] + 2", "x = y[ 2] + 2"), Example("x = range(3)", "x = range( 2)", occurrence=1)


class TermDropped(Operator):
    """A sum lacks one of its terms."""

    kind, signs, nothing = "arith_expr", "+-", "0"

    def mutation_positions(self, node):
        if node.type == self.kind and all(sign.value in self.signs for sign in node.children[1::2]):
            if not any(child.type in TEXTS for child in node.children):
                yield from ((child.start_pos, child.end_pos) for child in self._dropped(node))

    def _dropped(self, node) -> list:
        """What can be dropped; of 1 / x nothing would change without the 1."""
        return [child for child in node.children[::2] if _bare(child) != self.nothing]

    def mutate(self, node, index):
        index = node.children.index(self._dropped(node)[index]) // 2
        if index:
            del node.children[2 * index - 1 : 2 * index + 1]
            return node
        first, sign = node.children[:2]
        del node.children[:2]
        return _put(node, 0, self.alone(sign.value) + _bare(node.children[0]), before=first)

    def alone(self, sign: str) -> str:
        return "-" if sign == "-" else ""

    @classmethod
    def examples(cls):
        return (
            Example("x = a - b + c", "x = -b + c"),
            Example("x = a - b + c", "x = a + c", occurrence=1),
            Example("x = a + (b)", "x = (b)"),
        )


class FactorDropped(TermDropped):
    """A product or quotient lacks one of its factors."""

    kind, signs, nothing = "term", "*/", "1"

    def alone(self, sign: str) -> str:
        return "1 / " if sign == "/" else ""

    @classmethod
    def examples(cls):
        return (
            Example("x = a / b * c", "x = 1 / b * c"),
            Example("x = a / b * c", "x = a / b", occurrence=2),
            Example("x = 1 / b", "x = 1"),
        )


class ArgumentsSwapped(Operator):
    """Two neighbours among the arguments of a call have changed places."""

    def mutation_positions(self, node):
        for first, second in self._pairs(node):
            yield (node.children[first].start_pos, node.children[second].end_pos)

    def _pairs(self, node) -> list[tuple[int, int]]:
        if node.type != "arglist" or node.parent.type != "trailer" or _called(node) in EITHER_WAY:
            return []
        return [
            (at, at + 2)
            for at in range(0, len(node.children) - 2, 2)
            if not ({"argument"} | TEXTS) & {node.children[at].type, node.children[at + 2].type}
            and _bare(node.children[at]) != _bare(node.children[at + 2])
        ]

    def mutate(self, node, index):
        first, second = self._pairs(node)[index]
        texts = _bare(node.children[first]), _bare(node.children[second])
        return _put(_put(node, first, texts[1]), second, texts[0])

    @classmethod
    def examples(cls):
        return Example("x = f(a, b, c=1)", "x = f(b, a, c=1)"), Example(
            "x = f(a, b, c)", "x = f(a, c, b)", occurrence=1
        )


CHANGES = {
    "a number by 3 %": NumberByThreePercent,
    "a count by one": CountByOne,
    "a term dropped": TermDropped,
    "a factor dropped": FactorDropped,
    "arguments swapped": ArgumentsSwapped,
    "+ to -": get_operator("core/ReplaceBinaryOperator_Add_Sub"),
    "- to +": get_operator("core/ReplaceBinaryOperator_Sub_Add"),
    "* to /": get_operator("core/ReplaceBinaryOperator_Mul_Div"),
    "/ to *": get_operator("core/ReplaceBinaryOperator_Div_Mul"),
    "a sign lost": get_operator("core/ReplaceUnaryOperator_Delete_USub"),
    "a not lost": get_operator("core/ReplaceUnaryOperator_Delete_Not"),
    "< to <=": get_operator("core/ReplaceComparisonOperator_Lt_LtE"),
    "<= to <": get_operator("core/ReplaceComparisonOperator_LtE_Lt"),
    "> to >=": get_operator("core/ReplaceComparisonOperator_Gt_GtE"),
    ">= to >": get_operator("core/ReplaceComparisonOperator_GtE_Gt"),
    "== to !=": get_operator("core/ReplaceComparisonOperator_Eq_NotEq"),
    "is to is not": get_operator("core/ReplaceComparisonOperator_Is_IsNot"),
    "is not to is": get_operator("core/ReplaceComparisonOperator_IsNot_Is"),
    "a condition turned round": get_operator("core/AddNot"),
    "and to or": get_operator("core/ReplaceAndWithOr"),
    "or to and": get_operator("core/ReplaceOrWithAnd"),
    "True to False": get_operator("core/ReplaceTrueWithFalse"),
    "False to True": get_operator("core/ReplaceFalseWithTrue"),
}


@dataclass(frozen=True)
class Mutation:
    """One change that can be made in a file of the root: its kind, which of that kind, and its lines."""

    root: Path
    file: str
    kind: str
    occurrence: int
    lines: tuple[int, int]
    key: str  # the line as it is written and the place in it

    def lot(self, seed: int) -> bytes:
        return hashlib.sha256(f"{seed} {self.file} {self.kind} {self.key}".encode()).digest()

    def made(self) -> tuple[str, str]:
        """The file's new text, and what was changed in words."""
        old = (self.root / self.file).read_text(encoding="utf-8")
        new = mutate_code(old, CHANGES[self.kind](), self.occurrence)
        parts = [one for one in ndiff(old.splitlines(), new.splitlines()) if one[0] in "-+"]
        before, after = (" ".join(one[2:].strip() for one in parts if one[0] == sign) for sign in "-+")
        return new, f"{self.file}:{self.lines[0]}  {self.kind}:  {before}  ->  {after}"


def mutations(root: Path, given: str) -> list[Mutation]:
    """All changes that can be made in a room, a file, or (`file:line`) one line."""
    name, _, line = given.partition(":")
    files = [root / name] if name.endswith(".py") else sorted((root / name).rglob("*.py"))
    found = []
    for path in files:
        if not (name.endswith(".py") or not any(word in str(path.relative_to(root)) for word in OTHER_SUBJECTS)):
            continue
        text = path.read_text(encoding="utf-8")
        nodes = list(ast_nodes(get_ast(text)))
        for kind, operator in CHANGES.items():
            places = [(node, place) for node in nodes for place in operator().mutation_positions(node)]
            for occurrence, (node, ((first, column), (last, _))) in enumerate(places):
                if not is_aside(node) and (not line or first <= int(line) <= last):
                    key = f"{text.splitlines()[first - 1].strip()} {column} {occurrence if line else ''}"
                    found.append(Mutation(root, str(path.relative_to(root)), kind, occurrence, (first, last), key))
    return found


def statement(text: str, line: int) -> range | None:
    """Lines of the statement inside a function that a line belongs to; None if it runs when the file is read."""
    found = None
    for function in ast.walk(ast.parse(text)):
        if isinstance(function, ast.FunctionDef) and function.body[0].lineno <= line <= function.end_lineno:
            for one in ast.walk(function):
                if isinstance(one, ast.stmt) and one is not function and one.lineno <= line <= one.end_lineno:
                    body = getattr(one, "body", None)
                    last = max(one.lineno, body[0].lineno - 1) if body else one.end_lineno
                    if line <= last:
                        found = range(one.lineno, last + 1)
    return found
