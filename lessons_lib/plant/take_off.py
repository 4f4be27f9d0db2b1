"""The take-off: lengths to cut between fittings, and the bars to buy for them."""

from dataclasses import dataclass
from math import ceil

import numpy as np

from ..physics import take_off as physics
from ..quantities.border import whole
from ..quantities.errors import InputError, unknown_name
from ..quantities.results import Printed
from ..quantities.units import Q_, Domain, Quantity, in_unit_of, quantity, share, to_base
from ..runs.fittings import fitting_named
from ..runs.pipe import Pipe
from ..storage import tables

CENTRE_TO_CENTRE = Domain("centre to centre", "m", 0, 1000, 'Q_(1.2, "m")', above_low=True)
CENTRE_TO_FACE = Domain("centre to face", "m", 0, 0.5, 'Q_(35, "mm")')
INSERTION_DEPTH = Domain("insertion depth", "m", 0, 0.2, 'Q_(25, "mm")')
CUT = Domain("cut", "m", 0, 1000, 'Q_(0.84, "m")', above_low=True)
STOCK = Domain("stock length", "m", 0, 500, 'Q_(3, "m")', above_low=True)
KERF = Domain("saw kerf", "m", 0, 0.02, 'Q_(2, "mm")')
MOST_CUTS = 2000
TEE_ORDER = " (run x run x branch)"  # behind the sizes that meet in a tee
CAUTION = (
    "Measure the insertion depth and the centre-to-face on the fittings in your hand: makers differ. Cut square,"
    " deburr, mark the depth, put the stiffener in plastic pipe, push to the mark, tug, read the mark again. Plastic"
    " and long hot runs grow: leave room for it. Cut one piece and try it before cutting the rest."
)


@dataclass(frozen=True, repr=False, eq=False)
class End(Printed):
    """One end of a piece of pipe.

    fitting : name in data/fittings.csv; None: a plain end at the measuring point, nothing to take off
    joint : "push", "solder", "cement", "crimp", "press", "compression" or "expansion" (data/insertion_depths.csv)
    centre_to_face, insertion_depth : as measured on the fitting; None: not measured, a provisional figure is used
    Raises InputError.
    """

    fitting: str | None = "elbow 90"
    joint: str = "push"
    centre_to_face: Quantity | None = None
    insertion_depth: Quantity | None = None

    def __post_init__(self):
        if self.fitting is not None:
            fitting_named(self.fitting)
        known = list(dict.fromkeys(row["joint"] for row in tables.rows("insertion_depths")))
        if self.joint not in known:
            raise unknown_name("joint", self.joint, known)
        self._measured()

    def _measured(self):
        """Centre to face and insertion depth as measured [m]; None where not."""
        face = None if self.centre_to_face is None else to_base(self.centre_to_face, CENTRE_TO_FACE)
        depth = None if self.insertion_depth is None else to_base(self.insertion_depth, INSERTION_DEPTH)
        if face is not None and depth is not None and np.any(depth > face + 1e-9):
            raise InputError(
                f"insertion depth: {self.insertion_depth} goes beyond the middle of the fitting, whose centre to face"
                f" is {self.centre_to_face}. Measure both again."
            )
        return face, depth

    def inside(self, pipe: Pipe) -> tuple:
        """Centre to face and insertion depth [m] for this pipe, and what was not measured, a tuple of words.

        Not measured: depth from data/insertion_depths.csv, the row with the nearest outside diameter; centre to face
        from the depth and the fitting's `stop` in data/fittings.csv.
        """
        if self.fitting is None:
            return 0.0, 0.0, ()
        outside = pipe.outside_diameter.to("m").magnitude
        face, depth = self._measured()
        missing = tuple(word for word, value in (("centre to face", face), ("insertion depth", depth)) if value is None)
        if depth is None:
            depth = provisional_depth(self.joint, outside)
            depth = depth if face is None else np.minimum(depth, face)
        if face is None:
            face = depth + fitting_named(self.fitting).stop * outside
        return face, depth, missing


def provisional_depth(joint: str, outside_diameter: float) -> float:
    """Insertion depth [m] of the row of data/insertion_depths.csv with the nearest outside diameter [m]."""
    rows = [row for row in tables.rows("insertion_depths") if row["joint"] == joint]
    nearest = min(rows, key=lambda row: abs(float(row["outside_diameter"]) - 1e3 * outside_diameter))
    return float(nearest["depth"]) / 1e3


@dataclass(frozen=True, repr=False, eq=False)
class Cut(Printed):
    """A piece of pipe to cut.

    length : [m]; provisional where something was not measured
    measure : what to measure first, a tuple of words; empty: nothing
    """

    length: Quantity
    measure: tuple
    caution: str = CAUTION

    def _rows(self):
        rows = super()._rows()
        if self.measure:
            rows[:2] = [("length", f"measure (about {rows[0][1]})"), ("measure", ", ".join(self.measure))]
        return [row for row in rows if row[1] != "()"]


def cut_length(pipe: Pipe, centre_to_centre, first=None, second=None) -> Cut:
    """Length to cut for a piece between two fittings: centre-to-centre - both centre-to-face + both insertion depths.

    pipe : Pipe
    centre_to_centre : between the middles of the two fittings, one value or an array
    first, second : End; None: End(), a push elbow that was not measured
    Raises InputError, also where the fittings leave no room for pipe between them.
    """
    if not isinstance(pipe, Pipe):
        raise InputError(
            f'pipe: {pipe!r} was given where a Pipe is needed, for example Pipe.nominal("PEX CTS", "1/2 in").'
        )
    ends = [End() if end is None else end for end in (first, second)]
    if not all(isinstance(end, End) for end in ends):
        raise InputError('end: give an End, for example End("elbow 90", "push", insertion_depth=Q_(25, "mm")).')
    centres = to_base(centre_to_centre, CENTRE_TO_CENTRE)
    (face_1, depth_1, missing_1), (face_2, depth_2, missing_2) = (end.inside(pipe) for end in ends)
    length = physics.cut_length(centres, face_1, face_2, depth_1, depth_2)
    gap = centres - face_1 - face_2  # pipe seen between the faces of the fittings
    if np.any(np.asarray(length) <= 0) or np.any(np.asarray(gap) < -physics.FIT):
        raise InputError(
            f"cut length: {centre_to_centre} centre to centre leaves no room for pipe; the two fittings alone take"
            f" {in_unit_of(centre_to_centre, float(np.max(face_1 + face_2)), 'm')}. Move them apart or join them"
            " directly."
        )
    missing = tuple(f"{word} of the first end" for word in missing_1) + tuple(
        f"{word} of the second end" for word in missing_2
    )
    return Cut(quantity(length, "m"), missing)


@dataclass(frozen=True, repr=False, eq=False)
class CuttingList(Printed):
    """Cuts laid into bars of one stock length.

    bars : for each bar the lengths to cut from it, longest first [m], a tuple of arrays
    left_over : of each bar [m], shape (bars,)
    bars_needed, bars_to_buy : whole numbers; what the spare share adds lies in the longest left-over or in more bars
    total, waste, spare_length : [m]; waste is stock less cuts: left-overs and saw kerfs
    waste_share : of the stock [%]
    method : how the bars were found
    measure : True where a cut is provisional: measure before you buy
    """

    bars: tuple
    left_over: Quantity
    bars_needed: int
    bars_to_buy: int
    total: Quantity
    waste: Quantity
    waste_share: float | np.ndarray
    spare_length: Quantity
    method: str
    measure: bool
    caution: str = CAUTION

    @property
    def stock(self) -> Quantity:
        """The length of one bar or coil [m]."""
        return (self.total + self.waste) / self.bars_needed

    def _rows(self):
        lines = [
            (f"bar {place}", ", ".join(f"{length:.4g~P}" for length in bar)) for place, bar in enumerate(self.bars, 1)
        ]
        return lines + super()._rows()[1:]


def cutting_list(cuts, stock, kerf=Q_(2.0, "mm"), spare=0.1) -> CuttingList:
    """Cuts nested into bars of one stock length with the least waste, and how many bars to buy.

    cuts : iterable of lengths or Cuts, or of (length or Cut, count) pairs
    stock : length of a bar or coil
    kerf : lost at each cut; 0 for a wheel cutter
    spare : share of the total length to have in hand, 0 to 1
    First-fit decreasing; where that may not be the best, an exact search for fewer bars, bounded: `method` says which.
    Raises InputError: a cut longer than the stock, nothing to cut, numbers that cannot be.
    """
    bar, lost, share_spare = to_base(stock, STOCK), to_base(kerf, KERF), share(spare, "spare share")
    if np.ndim(bar) or np.ndim(lost):
        raise InputError("stock length: give one value for the stock and one for the kerf, not lists.")
    lengths, provisional = _lengths(cuts)
    longest = max(lengths)
    if longest > bar + physics.FIT:
        raise InputError(
            f"cut: {in_unit_of(stock, longest, 'm')} is longer than the stock, {stock}. "
            "Take longer stock or plan a coupling."
        )
    nesting = physics.nest(lengths, bar, lost)
    used = [sum(lengths[place] for place in one) + lost * len(one) for one in nesting.bars]
    left = np.maximum(bar - np.array(used), 0.0)
    total, needed = sum(lengths), len(nesting.bars)
    more = share_spare * total
    extra = 0 if more <= left.max() + physics.FIT else ceil(more / bar - physics.FIT)
    waste = max(needed * bar - total, 0.0)  # bars used up to the last digit leave a rounding below zero
    return CuttingList(
        bars=tuple(quantity(np.array([lengths[place] for place in one]), "m") for one in nesting.bars),
        left_over=quantity(left, "m"),
        bars_needed=needed,
        bars_to_buy=needed + extra,
        total=quantity(total, "m"),
        waste=quantity(waste, "m"),
        waste_share=quantity(100 * waste / (needed * bar), "percent"),
        spare_length=quantity(more, "m"),
        measure=provisional,
        method="fewest bars, proven" if nesting.proven else "first-fit decreasing, no fewer bars found",
    )


def _lengths(cuts) -> tuple[list[float], bool]:
    """Every single cut [m], and whether one of them is provisional."""
    lengths, provisional = [], False
    try:
        items = [cuts] if isinstance(cuts, (Q_, Cut)) else list(cuts)
    except TypeError:
        raise InputError(f"cuts: {cuts!r} was given; give a list of lengths or (length, count) pairs.") from None
    for item in items:
        length, count = item if isinstance(item, (tuple, list)) and len(item) == 2 else (item, 1)
        if isinstance(length, Cut):
            provisional = provisional or bool(length.measure)
            length = length.length
        each = np.ravel(to_base(length, CUT)).tolist()
        count = whole(count, "cuts, number of one length")
        if len(lengths) + count * len(each) > MOST_CUTS:
            raise InputError(
                f"cuts: {count} of {length} makes more than {MOST_CUTS} pieces. Make a list for each part of the job."
            )
        lengths += each * count
    if not lengths:
        raise InputError('cuts: there is nothing to cut. Give a list, for example [Q_(0.84, "m"), (Q_(0.4, "m"), 3)].')
    return lengths, provisional
