"""The pieces of pipe that a leg is cut into: between its fittings, and coupled together where the stock is shorter."""

from dataclasses import dataclass
from functools import cache

from ..physics.take_off import FIT
from ..plant.take_off import STOCK, End, cut_length
from ..quantities.results import Printed
from ..quantities.units import LENGTH, Q_, Quantity, quantity, to_base
from ..runs.pipe import Pipe
from ..storage import tables
from .parts import Leg
from .tree import Socket, fitting

LEAST_PIECE = 0.3  # [m] shorter pieces are not left over at the end of a long leg (common practice, no source)


@dataclass(frozen=True, repr=False, eq=False)
class Piece(Printed):
    """One piece of pipe to cut.

    leg, pipe : names; number : 1, 2 … along the leg
    centre_to_centre : of its two ends [m]; cut : length to cut [m]
    first, second : fittings at its ends; None: a plain end
    measure : what was not measured yet, a tuple of words; the cut is provisional then
    """

    leg: str
    pipe: str
    number: int
    centre_to_centre: Quantity
    first: str | None
    second: str | None
    cut: Quantity
    measure: tuple


def pieces_of(layout, leg: Leg) -> tuple:
    """The pieces of one leg. Valves along it part it evenly. Raises InputError where its fittings leave no room for
    pipe.
    """
    first, last = layout.ends[leg.name]
    sockets = [first, *(Socket(name, leg.joint) for name, count in leg.fittings for _ in range(count)), last]
    part = to_base(leg.length, LENGTH) / (len(sockets) - 1)
    pieces: list = []
    for one, two in zip(sockets, sockets[1:]):
        pieces += _stretch(layout, leg, part, one, two, len(pieces) + 1)
    return tuple(pieces)


def _stretch(layout, leg: Leg, part: float, first, second, number: int) -> list[Piece]:
    """Gives what lies between two sockets `part` apart [m]: one piece, or several with couplings between them."""
    whole = cut_length(leg.pipe, quantity(part, "m"), *(end_of(layout, leg, socket) for socket in (first, second)))
    stock, length = stock_of(layout, leg)[-1], whole.length.to("m").magnitude
    behind = ((end, socket.between) for end, socket in (("first", first), ("second", second)) if socket)
    missing = (*whole.measure, *(f"what the {part} takes at the {end} end" for end, part in behind if part))
    coupling = Socket(fitting(leg, "coupling"), leg.joint)
    if length <= stock + FIT:
        cuts = [length]
    else:
        cuts = _in_stock(length, stock, 2 * _reach(layout, leg, coupling))
        missing = (*missing, *(f"{word} of the coupling" for word in not_measured(layout, leg, coupling)))
    chain = [first, *[coupling] * (len(cuts) - 1), second]
    return [
        Piece(
            leg.name,
            leg.pipe.name,
            number + place,
            quantity(_reach(layout, leg, one) + cut + _reach(layout, leg, two), "m"),
            one and one.fitting,
            two and two.fitting,
            quantity(cut, "m"),
            missing,
        )
        for place, (cut, one, two) in enumerate(zip(cuts, chain, chain[1:]))
    ]


def _in_stock(length: float, stock: float, gap: float) -> list[float]:
    """A cut longer than the stock as whole stock lengths and a rest, `gap` apart in each coupling; all [m]."""
    cuts = []
    while length > stock + FIT:
        cuts.append(stock)
        length -= stock + gap
    cuts.append(length)
    if length < LEAST_PIECE:
        cuts[-2:] = [0.5 * (stock + length)] * 2
    return cuts


def end_of(layout, leg: Leg, socket: Socket | None) -> End:
    """An end of a piece, with what the reader measured of the fitting that it sits in."""
    if socket is None:
        return End(None)
    name, joint, _ = socket
    fits = [one for one in layout.measured if (one.fitting, one.size, one.joint) == (name, leg.size, joint)]
    own = next((one for one in fits if one.family == leg.family), None) or next(
        (one for one in fits if one.family is None), None
    )
    return End(name, joint) if own is None else End(name, joint, own.centre_to_face, own.insertion_depth)


def not_measured(layout, leg: Leg, socket: Socket | None) -> tuple:
    """Gives what the reader has not measured of a fitting on this leg's pipe, a tuple of words."""
    return end_of(layout, leg, socket).inside(leg.pipe)[2]


def _reach(layout, leg: Leg, socket: Socket | None) -> float:
    """Gives the length from the centre of a fitting to the end of the pipe in it [m]."""
    face, depth, _ = end_of(layout, leg, socket).inside(leg.pipe)
    return float(face - depth)


def stock_of(layout, leg: Leg) -> tuple[float, ...]:
    """Lengths in which a leg's pipe is sold [m], shortest first: the reader's own for this size or the family, else
    those of data/stock_lengths.csv.
    """
    own = dict(layout.buying.stock)
    length = own.get(leg.pipe.name, own.get(leg.family))
    return _sold_in(leg.family, leg.size) if length is None else (to_base(length, STOCK),)


@cache
def _sold_in(family: str, size: str) -> tuple[float, ...]:
    """Lengths of data/stock_lengths.csv in which a size is sold [m], shortest first."""
    outside = Pipe.nominal(family, size).outside_diameter.to("mm").magnitude
    lengths = (
        to_base(Q_(float(row["length"]), row["unit"]), STOCK)
        for row in tables.rows_or_other("stock_lengths", "family", family)
        if outside <= float(row["outside_diameter"] or "inf") + 1e-6
    )
    return tuple(sorted(lengths))
