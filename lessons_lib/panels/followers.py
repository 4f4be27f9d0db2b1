"""Everything on the screen that follows the reader's choice of units."""

from weakref import WeakSet

from .. import preferences

_followers: WeakSet = WeakSet()


def follow_units(follower) -> None:
    """From now on the follower's `set_system` is called when the reader chooses units."""
    _followers.add(follower)


def choose_units(system: str) -> None:
    """Keep the reader's unit system and show everything that is open in it."""
    preferences.keep_unit_system(system)
    for follower in list(_followers):
        follower.set_system(system)
