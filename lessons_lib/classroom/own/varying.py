"""Two numbers that differ from seat to seat, [A] and [B] in the texts, and the number that is worked out from them."""

from ...exercises.question import Call, Question
from ...exercises.solvers import solvers
from ...quantities.display import KINDS as SHOWN
from ...quantities.display import SI, SYSTEMS, US, symbol, unit
from ...quantities.errors import InputError, shown
from ...quantities.units import Q_, unit_of
from .checks import LARGEST, MEASURES, allowed, read, tidy, told_numbers, written
from .draft import PLACES, Draft

CALCULATIONS = {  # as the form says it → the solver's name, and what it is given
    "[A] × [B]": "times A B",
    "[A] ÷ [B]": "over A B",
    "[B] ÷ [A]": "over B A",
    "[A] + [B]": "plus A B",
    "[A] − [B]": "minus A B",
    "[B] − [A]": "minus B A",
}
WRONG = {**CALCULATIONS, "[A] alone": "same A", "[B] alone": "same B"}
DRAWN = {one: words for one, words in MEASURES.items() if one != "cut"}  # a tape's sixteenths are no decimals
MOST_VALUES = 20
SEATS = 60  # that are looked at before a question is saved


def values(draft: Draft, place: str) -> dict:
    """Unit system → the values of a place as a question file holds them: as typed in their own system, and near them,
    as round as they are shown, in the other one. Raises InputError.
    """
    measure, typed = measure_of(draft, place), draft.a_values if place == "A" else draft.b_values
    what = f"[{place}]"
    if measure not in DRAWN:
        raise InputError(f"It is not chosen yet what {what} is. Choose it.")
    parts = [one for one in tidy(typed).replace(";", ",").split(", ") if one.strip(" ,")]
    if not 2 <= len(parts) <= MOST_VALUES:
        raise InputError(
            f"{what} has {len(parts)} value{'' if len(parts) == 1 else 's'}; possible are 2 to {MOST_VALUES}. Write"
            " each with its unit, and a comma and a blank between."
        )
    found = [read(one.strip(" ,"), measure, f"A value of {what}") for one in parts]
    home = US if unit(measure, US) != unit(measure, SI) and found[0].unit == unit(measure, US) else SI
    listed = {system: [_rounded(one.quantity, measure, system) for one in found] for system in SYSTEMS}
    for one, value, words in zip(found, listed[home], parts):
        exact = one.quantity.to(unit_of(unit(measure, home))).magnitude
        if abs(exact - value) > 1e-6 * max(1.0, abs(exact)):
            near = f"{value:.12g} {symbol(measure, home)}".strip()
            raise InputError(f"{what}: {shown(words)} is finer than a page shows it. Write {near}.")
    return listed


def measure_of(draft: Draft, place: str) -> str:
    """The kind of number that a place is."""
    return draft.a_measure if place == "A" else draft.b_measure


def _rounded(quantity, measure: str, system: str) -> float:
    """The value of a quantity as its kind is shown in a system."""
    places = SHOWN[measure].decimals[SYSTEMS.index(system)]
    return round(float(quantity.to(unit_of(unit(measure, system))).magnitude), places)


def parts_of(draft: Draft) -> dict:
    """Gives what an entry of a question file says of numbers and answer. Raises InputError."""
    numbers = {
        place: {"kind": measure, "metric": listed[SI], "us": listed[US]}
        for place in ("A", "B")
        for measure in [measure_of(draft, place)]
        for listed in [values(draft, place)]
    }
    if draft.calculation not in CALCULATIONS:
        raise InputError("It is not chosen yet how the right number is worked out. Choose it.")
    if draft.measure not in MEASURES:
        raise InputError("It is not chosen yet what the number is. Choose it.")
    return {"numbers": numbers, "answer": {"kind": draft.measure, "by": by(draft, draft.calculation)}}


def number(draft: Draft) -> None:
    """Both lists of values and the calculation are there; what the right number may be off by too."""
    parts_of(draft)
    allowed(draft)
    written(draft.why_within, "Why that is near enough")


def wrong_numbers(draft: Draft) -> None:
    """Each likely wrong number that was begun is whole."""
    for place, one in told_numbers(draft):
        by(draft, one.what)
        if one.what == draft.calculation:
            raise InputError(f"Wrong number {place} comes out as the right one does. Choose another calculation.")
        written(one.thinking, f"The thinking behind wrong number {place}")
        written(one.ask, f"The question back to wrong number {place}")


def by(draft: Draft, words: str) -> str:
    """The call of a calculation, for a question file. Raises InputError: it is none, or does not give what is asked for
    with every value.
    """
    if words not in WRONG:
        raise InputError("It is not chosen yet how the wrong number comes out. Choose it.")
    name, *given = WRONG[words].split()
    for system in SYSTEMS:
        own = unit_of(unit(draft.measure, system))
        lists = [_quantities(draft, place, system) for place in given]
        for first in lists[0]:
            for rest in lists[1] if len(lists) > 1 else [None]:
                _result(name, first, rest, own, words, draft.measure)
    return WRONG[words]


def _quantities(draft: Draft, place: str, system: str) -> list:
    measure = measure_of(draft, place)
    return [Q_(one, unit_of(unit(measure, system))) for one in values(draft, place)[system]]


def _result(name: str, first, second, own, words: str, measure: str) -> None:
    """Raises InputError where a calculation with two quantities gives no number of the kind that is asked for."""
    try:
        found = solvers()[name](*(one for one in (first, second) if one is not None)).to(own)
    except ZeroDivisionError:
        raise InputError(f"{words} divides by 0 with one of the values. Take that value away.") from None
    except Exception:  # quantities that do not go together: each kind of them has an error of its own
        raise InputError(
            f"{words} does not give {MEASURES[measure]}. Choose another calculation, or say again what the number is."
        ) from None
    if not abs(found.magnitude) <= LARGEST:
        raise InputError(f"{words} is too large for a question with one of the values. Take that value away.")


def placed(text: str) -> str:
    """A text of a question file whose places are written as on the form, with braces: [A] becomes {A}."""
    for place, held in PLACES.items():
        text = text.replace(place, held)
    return text


def unplaced(text: str) -> str:
    """Gives the places of a text as they are written on the form."""
    for place, held in PLACES.items():
        text = text.replace(held, place)
    return text


def fits(asked: Question) -> bool:
    """Says whether the form can hold the numbers of a question, and how its answers come out."""
    calls = [asked.answer, *(one.value for one in asked.mistakes)]
    return (
        set(asked.varies) == {"A", "B"}
        and all(one.kind in DRAWN and not one.foreign and not one.follows for one in asked.varies.values())
        and all(isinstance(one, Call) for one in calls)
        and all(words_of(one) for one in calls)
        and words_of(asked.answer) in CALCULATIONS
        and asked.answer.kind in MEASURES
        and all(typed_values(one) for one in asked.varies.values())
    )


def words_of(call: Call) -> str:
    """A calculation as the form says it, "" where it has none."""
    wanted = " ".join((call.solver, *call.arguments))
    return next((words for words, one in WRONG.items() if one == wanted), "")


def typed_values(spec) -> str:
    """The values of a number as one would type them, in the system from which those of the other one follow."""
    for system in SYSTEMS:
        typed = ", ".join(f"{one:.12g} {symbol(spec.kind, system)}".strip() for one in spec.values[system])
        try:
            again = values(Draft(a_measure=spec.kind, a_values=typed), "A")
        except InputError:
            continue
        if all(again[one] == [float(value) for value in spec.values[one]] for one in SYSTEMS):
            return typed
    return ""


def others_get(draft: Draft, place: str) -> str:
    """Says which values readers of the other unit system get; "" while they cannot be told."""
    measure = measure_of(draft, place)
    try:
        listed = values(draft, place)
    except InputError:
        return ""
    return "; ".join(
        f"{system}: {', '.join(f'{one:.12g}' for one in listed[system])} {symbol(measure, system)}".strip()
        for system in SYSTEMS
    )
