"""Marking an answer: right or not, the likely mistake by name, and feedback in stages, as plain data."""

from dataclasses import dataclass

from ..quantities.display import show, symbol, unit
from ..quantities.reading import Typed
from ..quantities.units import Q_, unit_of
from .reading import read_amount, read_choice, read_order
from .slips import Slip, slip
from .variants import Variant

OTHER, OUT_OF_ORDER = "another mistake", "one step too early"
STAGES = ("thinking", "ask", "hint", "worked")
ROUNDING = 1e-9


@dataclass(frozen=True)
class Marked:
    """Holds what marking says of one answer. Texts are plain; whoever shows them escapes them.

    right : whether it is; read : how the answer was understood, for example "60 °C"
    mistake : short name of the likely mistake, the same for a whole class; "" where right
    thinking : what may have led there; ask : one question back; hint; worked : the worked solution
    """

    question: str
    right: bool
    read: str
    mistake: str
    thinking: str
    ask: str
    hint: str
    worked: str

    def feedback(self, wrong_before: int = 0) -> tuple[tuple[str, str], ...]:
        """(stage, text) pairs to show now.

        wrong_before : wrong answers to this question before this one. The first wrong answer brings the thinking and
            one
        question back, the second the hint too, the third the worked solution; a right one brings the worked solution.
        """
        if self.right:
            return (("worked", self.worked),)
        shown = min(2 + max(wrong_before, 0), len(STAGES))
        return tuple((stage, getattr(self, stage)) for stage in STAGES[:shown])


def mark(variant: Variant, text) -> Marked:
    """Mark an answer to a variant.

    text : as typed, in any unit and common notation; a letter or words for a choice, letters for an order
    Raises InputError where it cannot be read as an answer at all; that is no wrong answer.
    """
    if variant.is_number:
        return _mark_number(variant, text)
    if variant.question.kind == "choice":
        key = read_choice(text, variant.choices)
        wrong = next((one for one in variant.wrongs if one.mistake.key == key), None)
        return _marked(variant, key == variant.answer, _option(variant, key), wrong)
    keys = read_order(text, variant.choices)
    letters = {key: letter for letter, key, _ in variant.choices}
    right = variant.question.broken(keys) is None
    shown = ", ".join(letters[key] for key in keys)
    return _marked(variant, right, shown, None if right else _out_of_order(variant, keys))


def within(variant: Variant, value, target) -> bool:
    """Says whether a quantity agrees with another one, in the learner's unit, as closely as the question asks."""
    own, allowed = unit(variant.question.answer.kind, variant.system), variant.question.within
    off, size = abs(value.to(unit_of(own)).magnitude - target.magnitude), abs(target.magnitude)
    if isinstance(allowed, float):
        return off <= (allowed + ROUNDING) * size
    step = f"delta_{own}" if own in ("degC", "degF") else own
    return off <= allowed.to(unit_of(step)).magnitude + ROUNDING


def _mark_number(variant: Variant, text) -> Marked:
    question = variant.question
    typed = read_amount(text, question.answer.kind, variant.system, question.own_unit)
    shown = _shown(typed, variant)
    if within(variant, typed.quantity, variant.answer):
        return _marked(variant, True, shown, None)
    near = [one for one in variant.wrongs if one.value is not None and within(variant, typed.quantity, one.value)]
    here = typed.quantity.to(variant.answer.units).magnitude
    own = min(near, key=lambda one: abs(here - one.value.magnitude), default=None)
    return _marked(variant, False, shown, own or slip(typed, variant))


def _shown(typed: Typed, variant: Variant) -> str:
    """Says how the answer was understood: as many digits as were typed; in the learner's own unit too, where another
    was written.

    A part of one is told as the share that it is, "70 %" for "0.7"; a number without an end, such as 2/3, is rounded.
    """
    kind = variant.question.answer.kind
    own = show(typed.quantity, kind, variant.system)
    if not typed.written or unit_of(typed.unit) == variant.answer.units:
        figure = typed.quantity.to(variant.answer.units).magnitude if typed.unit == "dimensionless" else typed.number
        text = f"{figure:.6g}"
        endless = abs(float(text) - figure) > ROUNDING * abs(figure)
        return own if kind == "cut" or endless else f"{text} {symbol(kind, variant.system)}".replace("-", "−").strip()
    return f"{Q_(typed.number, unit_of(typed.unit)):.4g~P} = {own}".replace("Δ", "")


def _option(variant: Variant, key: str) -> str:
    return next(f"{letter}: {words}" for letter, one, words in variant.choices if one == key)


def _out_of_order(variant: Variant, keys) -> Slip:
    """Says which step of a wrong order stands too early and after which one it belongs, in their words, and why where
    the question says it: the gravest of its mistakes, else the first broken constraint.
    """
    known = (one for one in variant.wrongs if keys.index(one.mistake.before[0]) < keys.index(one.mistake.before[1]))
    wrong = next(known, None)
    early, late = wrong.mistake.before if wrong else variant.question.broken(keys)[::-1]
    words = {key: f'{letter}, "{text}",' for letter, key, text in variant.choices}
    told = f"{words[early]} stands too early. It belongs after {words[late].rstrip(',')}."
    if wrong:
        return Slip(wrong.name, f"{told} {wrong.thinking}", wrong.ask)
    return Slip(OUT_OF_ORDER, told, "Why does one of these two have to wait for the other?")


def _marked(variant: Variant, right: bool, read: str, wrong) -> Marked:
    panel = variant.question.kind == "panel"
    thinking = wrong.thinking if wrong else "This is not one of the slips that many make; go through it step by step."
    unused = "Which of the numbers in the question have you used, and which not yet?"
    ask = (
        wrong.ask
        if wrong
        else "Did you press Reset first, and does each setting stand as the question says?"
        if panel
        else unused
    )
    name = wrong.name if wrong else OTHER
    return Marked(
        variant.question.id,
        right,
        read,
        "" if right else name,
        "" if right else thinking,
        "" if right else ask,
        variant.hint,
        variant.worked,
    )
