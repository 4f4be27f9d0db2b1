"""What stands on the form, step by step: for each step its heading, its fields and what it tells of them."""

from dataclasses import dataclass, field

from ...exercises.bank import broken, lessons
from ...quantities.errors import InputError
from ..lesson_pages import lesson_pages
from . import checks, varying
from .draft import AMOUNT, FEWEST_STEPS, KINDS, MOST_STEPS, MOST_WRONG_NUMBERS, MOST_WRONG_OPTIONS, SHARE, Draft, Told
from .fields import Field, beneath, few, line, lines, menu, tick, words

MORE = "More questions"  # the part of a lesson's page that ends with a school's own
DIFFER = (
    "Shall each seat have its own two numbers? Then write [A] and [B] where they belong, like: A pipe is [A] long and"
    " loses [B]. You give their values in the next step."
)
BACK_AT = "Which question makes a learner see it? Ask one, and do not give the answer away."


@dataclass
class FormStep:
    """One step of the form. parts : widgets in their order; fields : those of them that hold something"""

    heading: str
    parts: list = field(default_factory=list)
    fields: list = field(default_factory=list)

    def put(self, *added) -> None:
        """Put fields and other widgets beneath what is there."""
        for one in added:
            self.parts.append(one.widget if isinstance(one, Field) else one)
            if isinstance(one, Field):
                self.fields.append(one)

    def named(self, label: str) -> Field:
        """The field of that label, or of those words beside its tick."""
        return next(one for one in self.fields if label in (one.label, one.box.description))


def titles() -> dict:
    """Number → name of the lessons that can take a question."""
    try:
        pages = lesson_pages()
    except InputError:
        pages = {}
    open_ones = (one for one in lessons() if one not in broken())
    return {one: pages[one].title if one in pages else f"Lesson {one}" for one in open_ones}


def lesson(draft: Draft, form) -> FormStep:
    """Asks for the lesson."""
    step = FormStep("The lesson")
    told = f"Your question is asked under “{MORE}” on this lesson's page, after the workbook's own questions."
    step.put(menu("Lesson", titles(), draft.lesson, form.into(draft, "lesson"), told))
    return step


def kind(draft: Draft, form) -> FormStep:
    """Asks for the kind."""
    step = FormStep("How it is answered")
    told = "A number shows you what a learner worked out. Options show you what a learner believes."
    step.put(few("The answer is", KINDS, draft.kind, form.into(draft, "kind"), told))
    return step


def text(draft: Draft, form) -> FormStep:
    """Asks for the question itself."""
    step = FormStep("The words of the question")
    if draft.kind == "number":
        step.put(words(DIFFER))
    step.put(
        lines(
            "The question",
            draft.text,
            form.into(draft, "text"),
            "One idea, in short sentences. Give every number that is needed. Do you have readers on both sides of the"
            " ocean? Then write both units, like 40 °C (104 °F).",
            rows=4,
        )
    )
    return step


def options(draft: Draft, form) -> FormStep:
    """Asks for the options."""
    step = FormStep("The options")
    step.put(words("Each learner finds the options in another order. So write the right one first."))
    step.put(line("The right option", draft.right, form.into(draft, "right")))
    for place, one in enumerate(draft.wrong, 1):
        label = f"Wrong option {place}"
        step.put(line(label, one.what, form.into(one, "what"), "" if place > 1 else "What somebody may truly believe."))
        if len(draft.wrong) > 1:
            step.put(beneath(f"Take out wrong option {place}", form.taking(draft.wrong, place - 1)))
    if len(draft.wrong) < MOST_WRONG_OPTIONS:
        step.put(beneath("One more option", form.adding(draft.wrong)))
    return step


def wrong_options(draft: Draft, form) -> FormStep:
    """Asks what is wrong with each wrong option."""
    step = FormStep("What is wrong with each wrong option")
    step.put(words("A learner who chooses it reads these two sentences."))
    for place, one in enumerate(draft.wrong, 1):
        step.put(words(f"{place}. “{checks.tidy(one.what)}”"))
        step.put(lines(f"What is wrong with it ({place})", one.thinking, form.into(one, "thinking")))
        told = BACK_AT if place == 1 else ""
        step.put(line(f"One question back ({place})", one.ask, form.into(one, "ask"), told))
    return step


def number(draft: Draft, form) -> FormStep:
    """Asks for the right number, and how near is near enough."""
    step = FormStep("The right number")
    measures = {one: checks.in_words(one) for one in checks.MEASURES}
    if draft.varies:
        _seats_numbers(step, draft, form)
    step.put(menu("The number is", measures, draft.measure, form.into(draft, "measure")))
    if not draft.varies:
        told = "With its unit, in whichever you measure. Learners may answer in any unit that fits."
        step.put(line("The right number", draft.number, form.into(draft, "number"), told, "like 3 bar or 1/2 in"))
    off = {SHARE: "a share of the right number, like 5 %", AMOUNT: "an amount with its unit, like 1 °C"}
    step.put(few("Near enough is", off, draft.way, form.into(draft, "way")))
    step.put(line("How far off is still right?", draft.within, form.into(draft, "within"), "", "like 5 %, or 1 °C"))
    why = "The answer key shows it to you."
    like = "like: a gauge cannot be read closer"
    step.put(line("Why is that near enough?", draft.why_within, form.into(draft, "why_within"), why, like))
    return step


def _seats_numbers(step: FormStep, draft: Draft, form) -> None:
    """Asks for the numbers that differ from seat to seat, and how the right one is worked out from them."""
    step.put(
        words("Each seat gets one value of [A] and one of [B]. The other unit system gets round values near them.")
    )
    drawn = {one: checks.in_words(one) for one in varying.DRAWN}
    for place, measure, typed in (("A", "a_measure", "a_values"), ("B", "b_measure", "b_values")):
        step.put(menu(f"[{place}] is", drawn, getattr(draft, measure), form.into(draft, measure)))
        told = f"Now {get}." if (get := varying.others_get(draft, place)) else ""
        values = line(
            f"Values of [{place}]", getattr(draft, typed), form.into(draft, typed), told, "like 10 m, 12 m, 15 m"
        )
        step.put(values)
    calculations = {one: one for one in varying.CALCULATIONS}
    step.put(
        menu("The right number is worked out as", calculations, draft.calculation, form.into(draft, "calculation"))
    )


def wrong_numbers(draft: Draft, form) -> FormStep:
    """Asks for likely wrong numbers."""
    step = FormStep("Likely wrong numbers")
    calculations = {one: one for one in varying.WRONG}
    step.put(words("If you know the wrong number that comes out of a wrong idea, write it. If not, go on with Next."))
    for place, one in enumerate(draft.wrong_numbers, 1):
        if draft.varies:
            step.put(menu(f"Wrong number {place}", calculations, one.what, form.into(one, "what")))
        else:
            step.put(line(f"Wrong number {place}", one.what, form.into(one, "what"), "", "with its unit"))
        step.put(lines(f"The thinking behind it ({place})", one.thinking, form.into(one, "thinking")))
        told = BACK_AT if place == 1 else ""
        step.put(line(f"One question back ({place})", one.ask, form.into(one, "ask"), told))
    if len(draft.wrong_numbers) < MOST_WRONG_NUMBERS:
        step.put(beneath("One more wrong number", form.adding(draft.wrong_numbers)))
    return step


def steps(draft: Draft, form) -> FormStep:
    """Asks for the steps of an order."""
    step = FormStep("The steps in a right order")
    step.put(words("Write them in a right order. Each learner finds them in another order."))
    for place in range(len(draft.steps)):
        step.put(line(f"Step {place + 1}", draft.steps[place], form.into(draft.steps, place)))
        if len(draft.steps) > FEWEST_STEPS:
            step.put(beneath(f"Take out step {place + 1}", form.doing(lambda place=place: draft.take_out_step(place))))
    if len(draft.steps) < MOST_STEPS:
        step.put(beneath("One more step", form.doing(lambda: draft.steps.append(""))))
    return step


def waits(draft: Draft, form) -> FormStep:
    """Asks which steps have to wait for which, and why."""
    step = FormStep("Which step has to wait for which")
    step.put(words("Take a tick away where the two steps may change places. Both orders are right then."))
    for pair in checks.pairs(draft):
        one = draft.wait(*pair)
        first, second = (checks.tidy(draft.steps[place]) for place in pair)
        name = f"{pair[0] + 1} before {pair[1] + 1}"
        step.put(words(f"{pair[0] + 1}. {first} → {pair[1] + 1}. {second}"))
        step.put(tick(f"It has to be {name}", one.ordered, form.into(one, "ordered", anew=True)))
        if one.ordered:
            step.put(
                line(f"Why has step {pair[1] + 1} to wait for step {pair[0] + 1}?", one.why, form.into(one, "why"))
            )
            step.put(line(f"One question back, if you like ({name})", one.ask, form.into(one, "ask")))
    return step


def help_given(draft: Draft, form) -> FormStep:
    """Asks for hint and worked solution."""
    step = FormStep("Hint and worked solution")
    hint = "Shown after the second wrong answer. It points to the next thought and leaves the answer open."
    worked = "Shown after the third wrong answer, and after the right one. Say how one gets there, step by step."
    if draft.varies:
        step.put(words("[A], [B] and [answer] stand for each seat's own numbers here too."))
    step.put(lines("The hint", draft.hint, form.into(draft, "hint"), hint))
    step.put(lines("The worked solution", draft.worked, form.into(draft, "worked"), worked, rows=3))
    return step


BY_KIND = {"choice": (options, wrong_options), "number": (number, wrong_numbers), "order": (steps, waits)}


def of_kind(draft: Draft) -> tuple:
    """The steps of the form before the last one, which tries the question out."""
    return (lesson, kind, text, *BY_KIND.get(draft.kind, BY_KIND["choice"]), help_given)


def another(rows: list) -> None:
    """Puts an empty row beneath some likely mistakes."""
    rows.append(Told())
