"""The instructor's page of the running room."""


def handlers(room) -> list:
    """The pages of this part of the room."""
    return []
