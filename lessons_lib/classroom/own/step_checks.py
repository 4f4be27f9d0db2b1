"""The checks of the form's steps, in their order."""

from . import checks, varying
from .draft import Draft


def number(draft: Draft) -> None:
    """The right number is there, the same for everybody or worked out from each seat's numbers."""
    (varying.number if draft.varies else checks.number)(draft)


def wrong_numbers(draft: Draft) -> None:
    """The likely wrong numbers that were begun are whole."""
    (varying.wrong_numbers if draft.varies else checks.wrong_numbers)(draft)


BY_KIND = {
    "choice": (checks.options, checks.wrong_options),
    "number": (number, wrong_numbers),
    "order": (checks.steps, checks.waits),
}


def of_steps(draft: Draft) -> tuple:
    """The checks of the form's steps, in their order."""
    return (checks.lesson, checks.kind, checks.text, *BY_KIND.get(draft.kind, ()), checks.help_given)


def all_of(draft: Draft) -> None:
    """Everything is there. Raises InputError: the first thing that is missing."""
    for one in of_steps(draft):
        one(draft)
