"""What an instructor can say next, in one sentence that follows from what the class answered."""

from ..exercises.bank import lesson_of, name_of
from ..exercises.class_reading import ClassReading, by_need
from ..exercises.marking import OTHER

ENOUGH = 3  # learners below whom a share says little
MOST = 0.5  # share of those who tried from which on a question stops the room
ASIDE = 0.75  # share of guesses on one side of the result that is more than chance


def what_next(reading: ClassReading, questions: tuple) -> str:
    """The next thing to say. questions : QuestionReading of those that are looked at

    In this order: a question that most got wrong, in one way or in many; somebody stuck; guesses on one side; go on.
    """
    hard = [one for one in by_need(questions) if one.tried >= ENOUGH and 1 - one.right_at_once / one.tried >= MOST]
    if hard:
        return _stop_at(hard[0])
    if stuck := {label for one in questions for label in one.stuck}:
        who = "somebody has" if len(stuck) == 1 else f"{len(stuck)} have"
        return f"Sit down beside whoever is stuck: {who} answered one question wrongly three times."
    if not questions:
        return "Nobody has answered yet: ask them to begin with the first question."
    if aside := _aside(reading, {lesson_of(one.question) for one in questions}):
        return aside
    return "Go on: no question was missed at first by most, and nobody is stuck."


def _stop_at(one) -> str:
    """Says how a question that most got wrong is talked over."""
    wrong = one.tried - one.right_at_once
    mistakes = [(name, len(labels)) for name, labels, _ in one.mistakes if name != OTHER]
    begin = f"Stop at {name_of(one.question)}: {wrong} of {one.tried} were wrong at first"
    if mistakes and mistakes[0][1] >= max(2, MOST * wrong):
        name, made = mistakes[0]
        return f"{begin}, {made} of them as in “{name}”. Name the thinking, not the people, and let two of them argue."
    return f"{begin}, each in another way. Read the question aloud together: it was not understood."


def _aside(reading: ClassReading, lessons: set) -> str:
    """A guess that most made on one side of the result; empty where there is none."""
    for one in reading.guesses:
        if one.key[:2] in lessons and one.model is not None and len(one.guesses) >= ENOUGH:
            unit = one.model.units
            above = sum(guess.guessed.to(unit).magnitude > one.model.magnitude for _, guess in one.guesses)
            below = sum(guess.guessed.to(unit).magnitude < one.model.magnitude for _, guess in one.guesses)
            if max(above, below) >= ASIDE * len(one.guesses):
                side, many = ("above", above) if above >= below else ("below", below)
                return (
                    f"Ask about the guess of lesson {one.key[:2]}: {many} of {len(one.guesses)} were {side} the result."
                    " What did they have in mind?"
                )
    return ""
