"""Work that takes long is a generator: it yields what share of it is done, 0 to 1, and gives its result back."""


def at_once(steps):
    """Goes through all steps, and gives what the work gives back."""
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return end.value


def within(first: float, last: float, steps):
    """The same steps as a part of longer work: their shares go from `first` to `last` of it."""
    while True:
        try:
            share = next(steps)
        except StopIteration as end:
            return end.value
        yield first + share * (last - first)
