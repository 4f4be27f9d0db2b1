"""What was worked out before: an edit of one leg, or a change on trial, leaves most of a building as it was."""

MOST = 30_000  # entries; a thousand legs have some 5000
MOST_LATELY = 16  # wholes: one of a large building takes some megabytes
_found: dict = {}
_lately: dict = {}  # the one that was asked for last stands last


def kept(key: tuple, make):
    """Gives what was made for this key before, or makes it; what raises is not kept.

    key : words and numbers, which count by their value, and frozen parts of a layout, which count as themselves
    """
    if key not in _found:
        made = make()
        if len(_found) >= MOST:
            _found.clear()
        _found[key] = made
        return made
    return _found[key]


def lately(key: tuple, steps):
    """The same for what a whole building gives, which is large: only the last few are kept. steps : see steps.py"""
    made = _lately.pop(key, None)
    if made is None:
        made = yield from steps
    _lately[key] = made
    while len(_lately) > MOST_LATELY:
        _lately.pop(next(iter(_lately)), None)
    return made


def as_written(*quantities) -> tuple:
    """Quantities as they were written, as a part of a key."""
    return tuple(part for one in quantities for part in (one.magnitude, str(one.units)))
