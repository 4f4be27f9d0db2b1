"""Everything on the screen that follows the reader's choice of units, or who the reader is."""

from weakref import WeakSet

from ..exercises.learner import Learner, learner, nobody
from ..quantities.errors import InputError
from ..storage import preferences

_units: WeakSet = WeakSet()
_learners: WeakSet = WeakSet()


def follow_units(follower) -> None:
    """From now on the follower's `set_system` is called when the reader chooses units."""
    _units.add(follower)


def choose_units(system: str) -> None:
    """Show everything that is open in this unit system, and keep the choice. Raises InputError: shown, but it cannot
    be kept.
    """
    for follower in list(_units):
        follower.set_system(system)
    preferences.keep_unit_system(system)


def choose_region(region: str) -> None:
    """Everything that is open and untouched takes the goods of this region, and the choice is kept. Raises InputError:
    it cannot be kept.
    """
    if region != preferences.region(preferences.unit_system()):
        preferences.keep_region(region)
        for follower in list(_units):
            follower.set_system(preferences.unit_system())


class Answering:
    """Holds who is answering on this page.

    learner : nobody until a name or seat was given
    coming : who gave a name while there was work of nobody's; takes over when it was said whose work that is
    told : what went wrong when the last one was opened
    """

    def __init__(self):
        self.learner, self.coming, self.told = nobody(), None, ""
        name, seat = preferences.reader()
        if name or seat:
            self.learner = self.open(name, seat) or self.learner

    def open(self, name: str, seat: str) -> Learner | None:
        """This learner, as far as that can be; what is wrong is told."""
        try:
            found, self.told = learner(name, seat), ""
        except InputError as error:
            found, self.told = None, str(error)
        return found


_answering: Answering | None = None


def answering() -> Answering:
    """Who is answering on this page; at first the one whom the reader's own folder remembers."""
    global _answering
    if _answering is None:
        _answering = Answering()
    return _answering


def follow_learner(follower) -> None:
    """From now on the follower's `set_learner` is called when somebody else answers."""
    _learners.add(follower)


def choose_learner(name: str, seat: str) -> None:
    """From now on this learner answers; where nobody's work stands on the page, only when `keep_work` has said whose
    it is. In a room its door decides, and nothing happens.
    """
    if preferences.in_room():
        return
    now = answering()
    found = now.open(name, seat)
    if found is not None and now.learner.has_work and now.learner.is_nobody:
        now.coming = found
        _tell()
    elif found is not None:
        _take(found)
    else:
        _tell()


def keep_work(mine: bool) -> None:
    """Whoever gave a name answers from now on. mine : whether what was done before is taken along; else it goes"""
    now = answering()
    coming, now.coming = now.coming, None
    if coming is None:  # the button was pressed twice
        return
    if mine:
        try:
            coming.take_over(now.learner)
        except InputError as error:
            now.told = str(error)
    _take(coming)


def forget_learner() -> None:
    """From now on nobody answers. The answers stay in their file. In a room its door decides, and nothing happens."""
    if preferences.in_room():
        return
    answering().coming, answering().told = None, ""
    _take(nobody())


def _take(found: Learner) -> None:
    """This learner answers from now on, and is remembered."""
    now = answering()
    now.learner = found
    try:
        preferences.keep_reader(found.name, found.seat)
    except InputError as error:
        now.told = now.told or str(error)
    _tell()


def _tell() -> None:
    for follower in list(_learners):
        follower.set_learner(answering().learner)
