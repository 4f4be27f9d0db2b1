"""The take-off of a layout: every piece to cut, every fitting, insulation, clips and tape, and the bars to buy."""

import csv
import io
from collections import Counter, defaultdict
from dataclasses import dataclass, field
from math import ceil, floor

from ..physics.take_off import FIT
from ..plant.supports import clip_spacing
from ..plant.take_off import CAUTION, cutting_list
from ..quantities.display import SI, US, celsius, measured, show
from ..quantities.results import Printed
from ..quantities.units import LENGTH, quantity, to_base
from ..runs.cautions import joined
from ..runs.pipe import in_full, pipe_material
from ..runs.tape import CAUTION as TAPE_CAUTION
from ..storage.files import write_whole
from .parts import BURIED, Leg
from .pieces import not_measured, stock_of
from .tree import Socket, called

MEASURE = "measure"
PUSH = "push"  # a joint that every material has
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")  # a cell that begins so may be run by a spreadsheet
ABOUT = (
    "Elbows, tees, couplings and reducers follow from the directions and sizes of the legs. The sizes of a tee stand in"
    " the order run x run x branch. A tee is listed with two sizes at most, an elbow with one size or two neighbours,"
    " and a reducer makes up the rest (common practice, no source); your shop may have a tee of three sizes. A fitting"
    " is listed in the pipe and joint of one leg, and a transition where the pipe of another leg does not fit it. A"
    " transition may be two parts with a thread between. A push fitting that its maker lists for both pipes does"
    " without. Valves along a leg part it evenly: move them as you like, the sum stays. Ends at tank, heat pump and"
    " taps are plain, up to the connection. Insulation, clips and tape are reckoned centre to centre. Of the lengths"
    " that a pipe is sold in, the one is bought of which least is left over. Pipe, insulation and clips have your"
    " spare. Of fittings only whole spare ones are counted: 10 % of nine is none (common practice, no source). Taps and"
    " valves have no spare. Tape that weakens as it warms is cut from a reel and has spare. Tape of one power is never"
    " cut: buy the length that its maker sells for this."
)


@dataclass(frozen=True, repr=False, eq=False)
class Row(Printed):
    """One line of the list. need, with_spare : a length [m] or a plain number; note : "measure …" where it is
    provisional.
    """

    kind: str
    what: str
    size: str
    need: object
    with_spare: object
    note: str = ""


@dataclass(frozen=True, repr=False, eq=False)
class TakeOff(Printed):
    """Lists what to cut and buy.

    rows : tuple of Row, kinds "pipe", "fitting", "insulation", "clip", "tape"
    pieces : tuple of Piece; bars : CuttingList of each pipe, by its name
    invented : a sentence where the building came with the workbook, else ""
    """

    rows: tuple
    pieces: tuple
    bars: dict
    invented: str = field(default="", repr=False)
    caution: str = field(default=CAUTION, repr=False)

    def _rows(self):
        return [
            (
                f"{row.kind}: {row.what} {row.size}".strip(),
                f"{_plain(row.need)} ({_plain(row.with_spare)} with spare) {row.note}".strip(),
            )
            for row in self.rows
        ]

    def to_csv(self, path, replace: bool = False):
        """Write the list and the pieces as a table of text, lengths in m and ft, whole or not at all.

        replace : True: an existing file may be written over, else it is an InputError
        """
        lines = [("kind", "what", "size", "need", "with spare", "unit", "need [ft]", "note")]
        if self.invented:
            lines.append(("note", self.invented, "", "", "", "", "", ""))
        lines += [(row.kind, row.what, row.size, *_cells(row.need, row.with_spare), row.note) for row in self.rows]
        for piece in self.pieces:
            ends = " to ".join(end or "plain end" for end in (piece.first, piece.second))
            note = f"{MEASURE}: {', '.join(piece.measure)}" if piece.measure else ""
            cut = f"{piece.cut.to('m').magnitude:.3f}"
            lines.append(
                (
                    "cut",
                    f"{piece.leg} {piece.number}: {ends}",
                    piece.pipe,
                    cut,
                    "",
                    "m",
                    f"{piece.cut.to('ft').magnitude:.2f}",
                    note,
                )
            )
        stream = io.StringIO()
        csv.writer(stream, lineterminator="\n").writerows(map(as_text, line) for line in lines)
        return write_whole(path, stream.getvalue(), replace)


def as_text(cell):
    """A cell that no spreadsheet runs: one that would begin a formula stands behind an apostrophe (OWASP ASVS 5.0,
    1.2.10).
    """
    return f"'{cell}" if isinstance(cell, str) and cell.startswith(FORMULA) else cell


def take_off(layout, system: str) -> TakeOff:
    """The whole list, sizes in the words of a unit system; see TakeOff."""
    pieces = {leg.name: layout.pieces_of(leg) for leg in layout.all_legs}
    bars = _bars(layout, [piece for those in pieces.values() for piece in those])
    rows = (
        *_pipe_rows(bars, {leg.pipe.name: leg for leg in layout.all_legs}),
        *_fitting_rows(layout, pieces),
        *_insulation_rows(layout, system),
        *_clip_rows(layout),
        *_tape_rows(layout, system),
    )
    taped = any(leg.tape for leg in layout.all_legs)
    all_pieces = tuple(piece for those in pieces.values() for piece in those)
    return TakeOff(rows, all_pieces, bars, layout.invented, joined(CAUTION, ABOUT, TAPE_CAUTION if taped else ""))


def _bars(layout, pieces) -> dict:
    """Gives a cutting list for each pipe: of the lengths that it is sold in, from the one of which least is bought, and
    of equals from the longest.
    """
    legs, cuts, buying = {leg.pipe.name: leg for leg in layout.all_legs}, defaultdict(list), layout.buying
    for piece in pieces:
        cuts[piece.pipe].append(piece.cut)

    def bought(stock: float, those: list):
        found = cutting_list(those, quantity(stock, "m"), buying.kerf, buying.spare)
        return round(found.bars_to_buy * stock, 6), -stock, found

    found = {}
    for pipe, those in cuts.items():
        longest = max(those).to("m").magnitude - FIT
        found[pipe] = min(bought(stock, those) for stock in stock_of(layout, legs[pipe]) if stock >= longest)[-1]
    return found


def _pipe_rows(bars, legs):
    """Lists the pipe to buy; a metric one with its wall, for a plain 15 mm is thinner in the United Kingdom."""
    for pipe, nested in bars.items():
        wall = in_full(legs[pipe].family, legs[pipe].size)
        note = (
            f"buy {nested.bars_to_buy} of {_plain(nested.stock)}; waste {_plain(nested.waste)} in the"
            f" {nested.bars_needed} that {'is' if nested.bars_needed == 1 else 'are'} cut"
        )
        yield Row(
            "pipe",
            pipe,
            "" if wall == legs[pipe].size else wall,
            nested.total,
            nested.total + nested.spare_length,
            note,
        )


def _fitting_rows(layout, pieces):
    """Lists elbows, tees, couplings, reducers and valves with their joint, transitions, a connection for each tap, and
    the mixing valve. Spare ones are counted where the share makes a whole one; taps and valves have none.
    """
    counts, missing, ask = Counter(), defaultdict(set), {}
    for joint in layout.joints:
        if joint.name:
            counts[joint.name, joint.size] += 1
            for leg, socket in joint.ends:
                if not socket.between:
                    missing[joint.name, joint.size].update(not_measured(layout, leg, socket))
                    ask[joint.name, joint.size] = _unusual(leg, socket.joint)
        for key in joint.between:
            counts[key] += 1
            missing[key].add("what it takes of both legs")
    for leg in layout.all_legs:
        for name, count in Counter(piece.second for piece in pieces[leg.name][:-1]).items():
            key = called(name, leg.joint), leg.pipe.name
            counts[key] += count
            missing[key].update(not_measured(layout, leg, Socket(name, leg.joint)))
            ask[key] = _unusual(leg, leg.joint)
    for tap, number in zip(layout.taps, layout.tap_legs):
        counts[f"tap, {tap.kind}", layout.legs[number].pipe.name] += 1
    if layout.valve is not None:
        counts["mixing valve", layout.legs[layout.valve_leg].pipe.name] += 1
        missing["mixing valve", layout.legs[layout.valve_leg].pipe.name].add("what it takes of the leg it sits on")
    for (name, size), count in counts.items():
        unknown = sorted(missing[name, size])
        spare = 0 if "valve" in name or name.startswith("tap,") else floor(count * layout.buying.spare + 1e-9)
        notes = f"{MEASURE} {', '.join(unknown)}" if unknown else "", ask.get((name, size))
        yield Row("fitting", name, size, count, count + spare, "; ".join(filter(None, notes)))


def _unusual(leg: Leg, joint: str) -> str:
    """Says how a material is usually joined where another joint was asked for, else ""."""
    usual = pipe_material(leg.pipe.material).joint
    return "" if joint in (PUSH, usual) else f"ask first: {leg.pipe.material} is usually joined by {usual} or {PUSH}"


def _insulation_rows(layout, system: str):
    """Lists the insulation by material, bore and thickness; over a tape the bore is provisional until the tape is
    measured.
    """
    lengths, notes = defaultdict(float), {}
    for leg in layout.all_legs:
        thick = leg.insulation.thickness
        if thick.magnitude == 0:
            continue
        bore = layout.bore_of(leg)
        inside = measured(bore, US) if system == US else show(bore, "diameter", SI)
        key = leg.insulation.material, f"bore {inside}, {show(thick, 'thickness', system)} thick"
        lengths[key] += to_base(leg.length, LENGTH)
        notes[key] = f"{MEASURE} the tape's thickness" if leg.tape and layout.tape_supply.thickness is None else ""
    for (material, size), length in lengths.items():
        yield Row(
            "insulation",
            material,
            size,
            quantity(length, "m"),
            quantity(length * (1 + layout.buying.spare), "m"),
            notes[material, size],
        )


def _clip_rows(layout):
    """One clip for every spacing begun along a leg; none where it is buried."""
    counts: Counter = Counter()
    for leg in layout.all_legs:
        if leg.place != BURIED:
            counts[leg.pipe.name] += ceil(to_base(leg.length, LENGTH) / spacing(leg) - 1e-9)
    for pipe, count in counts.items():
        yield Row("clip", "support", pipe, count, ceil(count * (1 + layout.buying.spare) - 1e-9))


def spacing(leg: Leg) -> float:
    """Distance between a leg's supports [m], at most; see laying.clip_spacing."""
    return clip_spacing(leg.pipe, leg.go in ("up", "down")).magnitude


def _tape_rows(layout, system: str):
    """Length by kind of tape, with what valves take of it; spare of a tape that is cut from a reel."""
    lengths, notes, spare = defaultdict(float), defaultdict(str), {}
    for leg in layout.all_legs:
        if leg.tape is not None:
            name = _called(leg.tape, system)
            lengths[name] += to_base(layout.tape_plan(leg).tape_length, LENGTH)
            spare[name] = 0.0 if _one_power(leg.tape) else layout.buying.spare
            if any("valve" in fitting for fitting, _ in leg.fittings):
                notes[name] = f"{MEASURE} what valves take, by the maker's figure"
    for name, length in lengths.items():
        yield Row("tape", name, "", quantity(length, "m"), quantity(length * (1 + spare[name]), "m"), notes[name])


def _one_power(tape) -> bool:
    """Says whether a tape gives the same power at every pipe temperature."""
    (_, most), (_, least) = tape.points
    return most == least


def _called(tape, system: str) -> str:
    """Says what a tape is called: its power at one or two pipe temperatures."""
    points = (
        (show(quantity(power, "W/m"), "tape power", system), show(celsius(at), "temperature", system))
        for at, power in tape.points
    )
    (most, cool), (least, warm) = points
    return most if _one_power(tape) else f"{most} at {cool}, {least} at {warm}"


def _cells(need, with_spare) -> tuple:
    """need, with spare, unit and need in feet of a row, as text."""
    if isinstance(need, int):
        return need, with_spare, "pieces", ""
    return f"{need.to('m').magnitude:.2f}", f"{with_spare.to('m').magnitude:.2f}", "m", f"{need.to('ft').magnitude:.1f}"


def _plain(value) -> str:
    return str(value) if isinstance(value, int) else f"{value.to('m').magnitude:.2f} m"
