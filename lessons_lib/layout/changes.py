"""What to change first."""


def first_changes(layout, count):
    raise NotImplementedError
