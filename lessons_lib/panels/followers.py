"""Everything on the screen that follows the reader's choice of units, or who the reader is."""

from weakref import WeakSet

from .. import preferences
from ..errors import InputError
from ..exercises.learner import Learner, learner

_units: WeakSet = WeakSet()
_learners: WeakSet = WeakSet()


def follow_units(follower) -> None:
    """From now on the follower's `set_system` is called when the reader chooses units."""
    _units.add(follower)


def choose_units(system: str) -> None:
    """Show everything that is open in this unit system, and keep the choice. Raises InputError: shown, but it cannot be kept."""
    for follower in list(_units):
        follower.set_system(system)
    preferences.keep_unit_system(system)


class Answering:
    """Who is answering on this page. learner : None until somebody said so; told : what went wrong when the last one was opened"""

    def __init__(self):
        self.learner: Learner | None = None
        self.told = ""
        name, seat = preferences.reader()
        if name or seat:
            self.open(name, seat)

    def open(self, name: str, seat: str) -> None:
        """Take this learner, as far as that can be; what is wrong is told."""
        try:
            self.learner, self.told = learner(name, seat), ""
        except InputError as error:
            self.told = str(error)


_answering: Answering | None = None


def answering() -> Answering:
    """Who is answering on this page; at first the one whom the reader's own folder remembers."""
    global _answering
    if _answering is None:
        _answering = Answering()
    return _answering


def follow_learner(follower) -> None:
    """From now on the follower's `set_learner` is called, with None or a Learner, when somebody else answers."""
    _learners.add(follower)


def choose_learner(name: str, seat: str) -> None:
    """From now on this learner answers; remembered where the folder is one reader's own."""
    answering().open(name, seat)
    _remember(name, seat)


def forget_learner() -> None:
    """From now on nobody answers. The answers stay in their file."""
    answering().learner, answering().told = None, ""
    _remember("", "")


def _remember(name: str, seat: str) -> None:
    """Keep who reads for the next page, and tell all that follow."""
    now = answering()
    if not now.told:
        try:
            preferences.keep_reader(name, seat)
        except InputError as error:
            now.told = str(error)
    for follower in list(_learners):
        follower.set_learner(now.learner)
