"""What was worked out before: an edit of one leg, or a change on trial, leaves most of a building as it was."""

MOST = 30_000  # entries; a thousand legs have some 5000
_found: dict = {}


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
