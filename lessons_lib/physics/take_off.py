"""Cut lengths between fittings, and how cuts lie in stock lengths."""

from typing import NamedTuple

FIT = 1e-9  # [m] by which a sum of cuts may pass the stock length: rounding of unit conversions
MOST_SEARCHED = 60  # cuts; with more, first-fit decreasing stands as it is
MOST_TRIES = 100_000  # placements that the search for fewer bars may try, about 0.2 s


def cut_length(centre_to_centre, centre_to_face_1, centre_to_face_2, depth_1, depth_2):
    """Gives the length to cut [m]: centre-to-centre, less both fittings, plus what goes into them. All [m], broadcast.

    The take-off of the trade: a fitting's centre-to-face less the insertion depth is its laying length.
    """
    return centre_to_centre - centre_to_face_1 - centre_to_face_2 + depth_1 + depth_2


class Nesting(NamedTuple):
    """Cuts laid into bars of one stock length."""

    bars: tuple  # of tuples: places in the list of cuts, longest first
    proven: bool  # True: no way of cutting needs fewer bars


def nest(cuts, stock, kerf) -> Nesting:
    """The cuts in as few bars as can be found; with one stock length the fewest bars are the least waste.

    cuts : list of lengths [m], none longer than stock [m]; kerf : lost at each cut [m]
    First-fit decreasing, which is the answer if the bars could not be fewer by total length alone. If they could, an
    exact search (branch and bound) for one bar fewer at a time, up to MOST_SEARCHED cuts and MOST_TRIES placements.
    A bar of stock + kerf filled with pieces of cut + kerf says the same as a kerf between any two pieces.
    """
    order = sorted(range(len(cuts)), key=lambda place: -cuts[place])
    sizes, room = [cuts[place] + kerf for place in order], stock + kerf + FIT
    best = _first_fit(sizes, room)
    least = _least_bars(sizes, room)
    tries = [MOST_TRIES if len(cuts) <= MOST_SEARCHED else 0]
    while len(best) > least and tries[0] > 0:
        fewer = _search(sizes, room, len(best) - 1, tries)
        if fewer is None:
            break
        best = fewer
    bars = tuple(tuple(order[number] for number in bar) for bar in best)
    return Nesting(bars, proven=len(best) <= least or tries[0] > 0)


def _least_bars(sizes, room) -> int:
    """No fewer bars than total length needs, nor than there are pieces longer than half a bar."""
    return max(int(-(-sum(sizes) // room)), sum(size > room / 2 for size in sizes))


def _first_fit(sizes, room) -> list[list[int]]:
    """Each piece, longest first, into the first bar that it fits."""
    bars, left = [], []
    for number, size in enumerate(sizes):
        place = next((bar for bar, rest in enumerate(left) if size <= rest), None)
        if place is None:
            place = len(bars)
            bars.append([])
            left.append(room)
        bars[place].append(number)
        left[place] -= size
    return bars


def _search(sizes, room, count, tries):
    """The pieces in `count` bars, or None: there is no way (tries[0] > 0) or the tries ran out (tries[0] == 0).

    sizes fall; bars with equal room left are tried once, and equal pieces go in order, so that mirror images are
    skipped.
    """
    left, bars = [room] * count, [[] for _ in range(count)]
    spare = count * room - sum(sizes)

    def place(number, first):
        if number == len(sizes):
            return True
        seen = set()
        for bar in range(first, count):
            if tries[0] == 0:
                return False
            before = left[bar]
            if before < sizes[number] or before in seen:
                continue
            seen.add(before)
            tries[0] -= 1
            left[bar] = before - sizes[number]
            bars[bar].append(number)
            alike = number + 1 < len(sizes) and sizes[number + 1] == sizes[number]
            if place(number + 1, bar if alike else 0):
                return True
            bars[bar].pop()
            left[bar] = before
        return False

    return bars if spare >= 0 and place(0, 0) else None
