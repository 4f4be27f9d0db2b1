"""What is still missing in a question that is being made: each step of the form has a check, which says so."""

from ...exercises.bank import lessons
from ...exercises.question import implied
from ...physics.properties import KELVIN
from ...quantities.display import SI, SYSTEMS, symbol, unit
from ...quantities.errors import InputError, shown
from ...quantities.reading import Typed, examples, read_typed
from ...quantities.units import unit_of
from .draft import AMOUNT, KINDS, Draft

MEASURES = {  # kinds of display.KINDS that a question may ask for, in plain words
    "temperature": "a temperature",
    "temperature difference": "a difference between two temperatures",
    "length": "a length",
    "cut": "a length read off a tape measure",
    "diameter": "a diameter or a thickness",
    "surface": "an area",
    "volume": "a volume of water",
    "flow": "a flow",
    "speed": "a speed of water",
    "pressure": "a pressure",
    "seconds": "a time in seconds",
    "minutes": "a time in minutes",
    "hours": "a time in hours",
    "heat": "a heat output",
    "heat loss": "a heat loss along a pipe",
    "tape power": "the output of heat tape (trace heating)",
    "power": "an electric power",
    "energy": "an electric energy",
    "current": "an electric current",
    "voltage": "a voltage",
    "share": "a part of a whole, in percent",
    "mass": "a mass",
    "force": "a force",
    "hardness": "a hardness of water",
    "count": "a number of things, without a unit",
    "ratio": "another number without a unit",
}
LONGEST = {"question": 600, "option": 160, "step": 160, "answer": 120}  # characters that find room on page and paper
LONG = 500  # of every other text
JOINERS = "\u200c\u200d"  # letters of some scripts, and people in emoji, hang together by them
LARGEST = 1e9
MOST_OFF = 50  # percent
COLDEST = -KELVIN  # degC


def tidy(text: str) -> str:
    """A text as it is shown: in one line, without signs that cannot be seen."""
    text = str(text).encode("utf-8", "replace").decode("utf-8")
    return " ".join("".join(one if one.isprintable() or one in JOINERS else " " for one in text).split())


def written(text: str, what: str, of: str = "") -> str:
    """A text that has to be there, tidy. Raises InputError: it is empty, or finds no room.

    what : what the sentence calls it; of : its kind in LONGEST
    """
    line, most = tidy(text), LONGEST.get(of, LONG)
    if not line:
        raise InputError(f"{what} is still empty. Write it, then go on.")
    if len(line) > most:
        raise InputError(f"{what} has {len(line)} characters, and {most} find room. Make it shorter.")
    return line


def lesson(draft: Draft) -> None:
    """A lesson is chosen."""
    if draft.lesson not in lessons():
        raise InputError("No lesson is chosen yet. Choose the one on whose page your question is asked.")


def kind(draft: Draft) -> None:
    """A kind is chosen."""
    if draft.kind not in KINDS:
        raise InputError("No kind is chosen yet. Choose how your question is answered.")


def text(draft: Draft) -> None:
    """The question is there, with both places of numbers that differ from seat to seat or with none."""
    written(draft.text, "The question", "question")
    there = [place for place in ("[A]", "[B]") if place in draft.text]
    if draft.kind == "number" and len(there) == 1:
        other = "[B]" if there == ["[A]"] else "[A]"
        raise InputError(f"{there[0]} stands in the question, but {other} does not. Write both, or neither.")


def options(draft: Draft) -> None:
    """Every option is there, each once."""
    named = {"The right option": draft.right}
    named |= {f"Wrong option {place}": one.what for place, one in enumerate(draft.wrong, 1)}
    empty = next((name for name, words in list(named.items())[1:] if not tidy(words)), None)
    if tidy(draft.right) and empty and len(draft.wrong) > 1:
        raise InputError(f"{empty} is still empty. Write it or take it out, then go on.")
    _each_once({name: written(words, name, "option") for name, words in named.items()})


def wrong_options(draft: Draft) -> None:
    """Each wrong option has its two sentences."""
    for place, one in enumerate(draft.wrong, 1):
        written(one.thinking, f"What is wrong with wrong option {place}")
        written(one.ask, f"The question back to wrong option {place}")


def number(draft: Draft) -> Typed:
    """The right number as it was typed; what it may be off by is there too."""
    found = read(draft.number, draft.measure, "The right number")
    allowed(draft)
    written(draft.why_within, "Why that is near enough")
    return found


def read(typed: str, measure: str, what: str) -> Typed:
    """A number with its unit, as `quantities.reading` reads it. Raises InputError: none, no unit, none that can be."""
    if measure not in MEASURES:
        raise InputError("It is not chosen yet what the number is. Choose it.")
    own, like = unit(measure, SI), examples(measure)
    try:
        found = read_typed(typed, own, like)
    except InputError as error:
        raise InputError(f"{what}: {error}") from None
    if own and not found.written:
        raise InputError(f'{what}: "{shown(typed)}" has no unit. Write it with its unit, like {like}.')
    if measure == "temperature" and found.quantity.to(unit_of("degC")).magnitude < COLDEST:
        raise InputError(f"{what}: nothing can be as cold as {shown(typed)}. Write another number.")
    if not abs(found.number) <= LARGEST:
        raise InputError(f"{what}: {shown(typed)} is too large for a question. Write it in a larger unit.")
    return found


def allowed(draft: Draft) -> str:
    """Gives how far off a number may be, as a question file says it: "3 %" or "1 delta_degC". Raises InputError."""
    what = "How far off is still right"
    if draft.way == AMOUNT:
        step = "temperature difference" if draft.measure == "temperature" else draft.measure
        found = read(draft.within, step, what)
        if found.number < 0:
            raise InputError(f"{what}: less than nothing was given. Write 0 or more.")
        return f"{found.number:.12g} {found.unit}"
    if draft.measure == "temperature":
        raise InputError(
            f"A share of a temperature is another one on each scale. Choose “{AMOUNT}”, and write one, like 1 °C."
        )
    try:
        found = read_typed(draft.within, "percent", '"5 %"')
    except InputError as error:
        raise InputError(f"{what}: {error}") from None
    if not 0 <= found.number <= MOST_OFF:
        raise InputError(f"{what}: {shown(draft.within)} was given; possible is 0 to {MOST_OFF} %.")
    if not draft.varies and read(draft.number, draft.measure, "The right number").number == 0:
        raise InputError(f"{what}: a share of nothing is nothing. Choose “{AMOUNT}”, and write one.")
    return f"{found.number:.12g} %"


def wrong_numbers(draft: Draft) -> None:
    """Each likely wrong number that was begun is whole, and would not be marked right."""
    for place, one in told_numbers(draft):
        read(one.what, draft.measure, f"Wrong number {place}")
        written(one.thinking, f"The thinking behind wrong number {place}")
        written(one.ask, f"The question back to wrong number {place}")
    _each_once({f"Wrong number {place}": one.what for place, one in told_numbers(draft)})


def told_numbers(draft: Draft) -> list:
    """(place, Told) of the wrong numbers of which anything was written; places from 1."""
    typed = ((place, one) for place, one in enumerate(draft.wrong_numbers, 1))
    return [(place, one) for place, one in typed if tidy(one.what + one.thinking + one.ask)]


def steps(draft: Draft) -> None:
    """Every step is there, each once."""
    named = {f"Step {place}": one for place, one in enumerate(draft.steps, 1)}
    _each_once({name: written(words, name, "step") for name, words in named.items()})


def pairs(draft: Draft) -> list[tuple[int, int]]:
    """The pairs of steps that are asked about: each with the next, and those further apart that do not follow from
    the pairs that hold.
    """
    count, asked = len(draft.steps), []
    for gap in range(1, count):
        bound = implied([pair for pair in asked if draft.wait(*pair).ordered])
        asked += [(first, first + gap) for first in range(count - gap) if (first, first + gap) not in bound]
    return asked


def holding(draft: Draft) -> list:
    """The pairs whose second step has to wait for the first."""
    return [draft.wait(*pair) for pair in pairs(draft) if draft.wait(*pair).ordered]


def waits(draft: Draft) -> None:
    """Some step has to wait for another, and it is said why."""
    if not holding(draft):
        raise InputError("No step has to wait for another now, so every order would be right. Tick one pair at least.")
    for one in holding(draft):
        written(one.why, f"Why step {one.second + 1} has to wait for step {one.first + 1}")


def help_given(draft: Draft) -> None:
    """Hint and worked solution are there."""
    written(draft.hint, "The hint")
    written(draft.worked, "The worked solution")


def in_words(measure: str) -> str:
    """A kind of number with the units in which it is asked: "a pressure (kPa or psi)"."""
    units = dict.fromkeys(symbol(measure, system) for system in SYSTEMS if symbol(measure, system))
    return f"{MEASURES[measure]} ({' or '.join(units)})" if units else MEASURES[measure]


def _each_once(named: dict) -> None:
    """Raises InputError where two of some texts are the same."""
    seen = {}
    for name, words in named.items():
        first = seen.setdefault(tidy(words).casefold(), name)
        if first != name:
            raise InputError(f"{first} and {name[0].lower()}{name[1:]} say the same. Change one of them.")
