"""What a fit to bench readings gives, and two of them side by side."""

from dataclasses import dataclass, field, fields
from math import exp, hypot, isclose, log

from ..quantities.display import both
from ..quantities.errors import InputError
from ..quantities.plain_data import fields_from, plain
from ..quantities.results import Printed
from ..quantities.units import Quantity
from .readings import Readings, left_out_words
from .words import WORDS, difference_words

CAUTION = (
    "Hot pipe and hot water burn: fix the thermometer before hot water runs, never feel for heat, and keep taps for"
    " learners at 45 °C or less. The interval holds the scatter of these readings and what the model is not sure of,"
    " such as air read to half a degree. A thermometer that reads 1 °C wrong, air further off or another length than"
    " given moves the answer as a whole: check them first."
)

LATER = ("scatter", "doubt", "like_low", "like_high")  # fields that were not kept at first


@dataclass(frozen=True, repr=False, eq=False)
class BenchFit(Printed):
    """One unknown fitted to readings by least squares.

    experiment : "cooling", "first draw" or "along the run"
    unknown : "conductivity" [W/(m K)] of the insulation, "UA": the loss per metre and kelvin [W/(m K)], or "flow"
        [L/min]
    value, standard_error : of the unknown; low, high : its 95 % interval
    label : what the model takes without readings: the table's conductivity, its UA, the flow that was given; None: none
        given
    ua, ua_low, ua_high : the loss per metre and kelvin that goes with it [W/(m K)]; None in a first draw
    like_thickness, like_low, like_high : with its 95 % interval,
        of the same insulation as on the label that would lose as much (its own heat is not part of it);
        0: none would; inf: more than 100 mm; None: a bare run, or a flow
    word : "like the label", "worse than the label", …; meaning : the whole sentence
    others : what was fitted beside it, by name: the water's start, a late start of the clock, the thermometer's time
        constant
    scatter, doubt : half-widths of the 95 % interval as shares of the value, from the readings alone and from all else
        alone
        (the model; in a first draw the clock); together they add as squares; None: saved before this was told
    rms : root mean square of the residuals; residuals : reading less model, (n,) [K], of `readings`, the rows that were
        used
    curve_at, curve, curve_expected : time [s] or place [m], the fitted curve and the label's [degC], (m,); the last may
        be None
    """

    experiment: str
    unknown: str
    value: object
    low: object
    high: object
    standard_error: object
    label: object
    ua: Quantity = field(repr=False)
    ua_low: Quantity = field(repr=False)
    ua_high: Quantity = field(repr=False)
    like_thickness: Quantity = field(repr=False)
    word: str
    meaning: str
    others: dict
    rms: object
    residuals: object = field(repr=False)
    readings: Readings = field(repr=False)
    curve_at: object = field(repr=False)
    curve: object = field(repr=False)
    curve_expected: object = field(repr=False)
    scatter: float | None = field(default=None, repr=False)
    doubt: float | None = field(default=None, repr=False)
    like_low: Quantity | None = field(default=None, repr=False)
    like_high: Quantity | None = field(default=None, repr=False)
    caution: str = CAUTION

    @property
    def left_out(self) -> tuple:
        """The rows that were not used, each with its reason."""
        return self.readings.left_out

    def _rows(self):
        others = ", ".join(f"{name} {value:.4g~P}" for name, value in self.others.items())
        rows = [(name, others if name == "others" else text) for name, text in super()._rows()]
        return [*rows, ("readings", str(len(self.readings.row))), ("left out", left_out_words(self.left_out))]

    def to_data(self) -> dict:
        """Gives the fit as plain data, what JSON can hold. Of a long logger file give the fit `thinned()` readings, or
        keep the file beside it.
        """
        values = {one.name: getattr(self, one.name) for one in fields(self)}
        return plain({**values, "readings": self.readings.to_data()})

    @classmethod
    def from_data(cls, data) -> "BenchFit":
        """Makes a fit from what `to_data` gave. Raises InputError where it is something else."""
        told = {**dict.fromkeys(LATER), **data} if isinstance(data, dict) else data
        given = fields_from(told, [one.name for one in fields(cls)], "bench fit")
        if str(given["word"]) not in WORDS:
            raise InputError(f'bench fit: "{given["word"]}" is no word of a fit. Fit the readings once more.')
        return cls(**{**given, "word": WORDS[str(given["word"])], "readings": Readings.from_data(data["readings"])})


@dataclass(frozen=True, repr=False, eq=False)
class Comparison(Printed):
    """Two experiments, for example before and after insulating.

    ratio : other over one, of the loss per metre and kelvin, or of the flow; low, high : its 95 % interval
    overlap : True where the two 95 % intervals overlap: the difference may be chance
    meaning : a sentence
    """

    what: str
    ratio: float
    low: float
    high: float
    overlap: bool
    meaning: str
    caution: str = CAUTION


def compare(one: BenchFit, other: BenchFit) -> Comparison:
    """Says how the other experiment compares with the first; both of a loss, or both of a flow. Raises InputError."""
    for fit in (one, other):
        if not isinstance(fit, BenchFit):
            raise InputError(
                f"compare: {str(fit)[:60]!r} was given where the result of a fit is needed, for example of fit_cooling."
            )
    if (one.unknown == "flow") != (other.unknown == "flow"):
        raise InputError("compare: one of these fits is of a flow, the other of a loss. Compare two of a kind.")
    kind = "flow" if one.unknown == "flow" else "loss per kelvin"
    first, second = (
        (fit.value, fit.low, fit.high) if kind == "flow" else (fit.ua, fit.ua_low, fit.ua_high) for fit in (one, other)
    )
    ratio = float((second[0] / first[0]).to("").magnitude)
    # The intervals are those of logarithms; two independent ones add as squares.
    spread = hypot(*(0.5 * log(float((high / low).to("").magnitude)) for _, low, high in (first, second)))
    overlap = bool(first[1] <= second[2] and second[1] <= first[2])
    shown = "measured flow" if kind == "flow" else kind
    same = all(isclose((b / a).to("").magnitude, 1.0, rel_tol=1e-9) for a, b in zip(first, second))
    values = both(first[0], shown), both(second[0], shown)
    words = f"Both fits are the same: {values[0]}." if same else difference_words(kind, ratio, overlap, *values)
    return Comparison(kind, ratio, ratio * exp(-spread), ratio * exp(spread), overlap, words)
