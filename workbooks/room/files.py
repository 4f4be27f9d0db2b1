"""A member's own files as downloads."""


def handlers(room) -> list:
    """The pages of this part of the room."""
    return []
