"""What a fit to bench readings means, in words: the numbers come from the fit, the thresholds stand here."""

from math import isinf

from ..quantities.display import SI, US, both, number
from ..quantities.results import Word
from ..quantities.units import quantity

LIKE = 0.1  # within a tenth of the label's loss is like the label: tables and films are no better known
THICKEST = 0.1  # [m] beyond this a thickness says nothing more
BETTER, SAME, WORSE = (
    Word("better than the label", 1),
    Word("like the label", 0),
    Word("worse than the label", 1),
)
BARE, UNSURE = Word("like bare pipe", 2), Word("cannot tell", 1)
LESS, AGREES, MORE = (
    Word("less than the model says", 1),
    Word("as the model says", 0),
    Word("more than the model says", 1),
)
NOT_FITTED, FITTED, AS_GIVEN = Word("not fitted yet", 1), Word("fitted", 0), Word("as given", 0)
LESS_FLOW, MORE_FLOW = Word("less than given", 1), Word("more than given", 1)
_FITS = (BETTER, SAME, WORSE, BARE, UNSURE, LESS, AGREES, MORE, FITTED, AS_GIVEN, LESS_FLOW, MORE_FLOW)
WORDS = {str(word): word for word in _FITS}  # of a fit that was kept in a file
# What an interval holds beside the readings' scatter.
MODEL = "the model (films, emissivity, heat held, air read to half a degree)"
CLOCK = "the clock, known to a second"


def thickness(metres: float) -> str:
    """A thickness in both systems; none, or more than the model takes, in words."""
    if metres == 0:
        return "no insulation"
    return (
        f"more than {both(quantity(THICKEST, 'm'), 'thickness')}"
        if isinf(metres)
        else both(quantity(metres, "m"), "thickness")
    )


def _span(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"


def _thicknesses(thinnest: float, thickest: float) -> str:
    """Writes from one thickness to another in both systems."""
    if thinnest == 0 or isinf(thickest):
        return _span(thickness(thinnest), thickness(thickest))
    metric, us = (
        _span(*(number(quantity(metres, "m"), "thickness", system) for metres in (thinnest, thickest)))
        for system in (SI, US)
    )
    return f"{metric} mm ({us} in)"


def insulation_word(loss: float, low: float, high: float, bare: float) -> Word:
    """One word for an insulation. loss, low, high : over the label's; bare : the bare pipe's over the label's"""
    if low < 1 and high >= bare * (1 - LIKE):
        return UNSURE
    if loss >= bare * (1 - LIKE):
        return BARE
    if low > 1 and loss > 1 + LIKE:
        return WORSE
    return BETTER if high < 1 and loss < 1 - LIKE else SAME


def insulation_sentence(
    word: str, given: float, material: str, like: float, thinnest: float, thickest: float, loss: float
) -> str:
    """Says what the insulation is worth. loss : over the label's

    given, like, thinnest, thickest : thicknesses [m], the last two the 95 % interval
    """
    yours = f"Your {both(quantity(given, 'm'), 'thickness')} of {material}"
    behaves = f"{yours} behaves like {thickness(like)}"
    allow = f" The readings allow {_thicknesses(thinnest, thickest)}."
    return {
        SAME: f"{behaves}{_like_the_label(loss)}.{allow}",
        WORSE: (
            f"{behaves}: look for gaps at the elbows, joints and supports, for wet or squeezed insulation, and for"
            f" wind.{allow}"
        ),
        BETTER: (
            f"{behaves}: better than its label. Before you trust it, check the air temperature and that the thermometer"
            f" touches the pipe.{allow}"
        ),
        BARE: (
            f"{yours} behaves like no insulation at all: look for long bare stretches, an open end where air blows"
            " through, or water in the insulation."
        ),
        UNSURE: (
            f"These readings cannot tell what {yours[0].lower() + yours[1:]} is worth.{allow} Read longer, more often,"
            " or with hotter water."
        ),
    }[word]


def _like_the_label(loss: float) -> str:
    """Says why an insulation counts as like its label. loss : over the label's."""
    off = share(loss - 1)
    if off == "0":
        return " and loses as much as its label says"
    more = f" and loses {off} % {'less' if loss < 1 else 'more'} than its label says"
    return f"{more}: within a tenth, so like the label" if abs(loss - 1) <= LIKE else f"{more}, which may be chance"


def share(value: float) -> str:
    """The size of a share in per cent, without its sign."""
    return f"{abs(100 * value):.0f}"


def fine_share(value: float) -> str:
    """A share in per cent with two digits, for small ones."""
    per_cent = 100 * value
    return f"{per_cent:.0f}" if per_cent >= 9.95 else f"{per_cent:.1f}" if per_cent >= 0.05 else "under 0.1"


def interval_sentence(scatter: float, doubt: float, doubted: str) -> str:
    """Says where a 95 % interval comes from. scatter, doubt : half-widths as shares of the value; doubted : what the
    second is of
    """
    readings, rest = fine_share(scatter), fine_share(doubt)
    return (
        f"Of the 95 % interval, {readings} % either way come from the scatter of the readings, {rest} % from {doubted}."
    )


def bare_word(loss: float, low: float, high: float) -> Word:
    """One word for a bare run. loss, low, high : over the model's"""
    if low > 1 and loss > 1 + LIKE:
        return MORE
    return LESS if high < 1 and loss < 1 - LIKE else AGREES


def bare_sentence(word: str, ua, label) -> str:
    """Says what a bare run loses. ua, label : quantities [W/(m K)]"""
    loses = f"Each metre of this bare run loses {both(ua, 'loss per kelvin')}"
    model = f"the model says {both(label, 'loss per kelvin')}"
    return {
        AGREES: f"{loses}; {model}, which is the same within a tenth or within the scatter.",
        MORE: (
            f"{loses}, more than the model: {model}. Look for wind, for metal brackets that carry heat away, for a"
            " surface duller than thought."
        ),
        LESS: (
            f"{loses}, less than the model: {model}. Look for a shinier surface, still warm air that is boxed in, or a"
            " wrong air temperature."
        ),
    }[word]


def flow_words(value, low, high, given) -> tuple[Word, str]:
    """One word and a sentence for a fitted flow; all are quantities, given may be None."""
    fitted = f"The flow that fits is {both(value, 'measured flow')}"
    metric, us = (
        _span(number(low, "measured flow", system), number(high, "measured flow", system)) for system in (SI, US)
    )
    allow = f" The readings allow {metric} L/min ({us} gpm)."
    if given is None:
        return FITTED, f"{fitted}.{allow}"
    ratio = float((value / given).to("").magnitude)
    said = f"you gave {both(given, 'measured flow')}"
    if low <= given <= high:
        return AS_GIVEN, f"{fitted}; {said}, which these readings allow too.{allow}"
    word = LESS_FLOW if ratio < 1 else MORE_FLOW
    off = f"{fine_share(abs(ratio - 1))} % {'less' if ratio < 1 else 'more'}"
    return (
        word,
        (
            f"{fitted}, {off} than the {both(given, 'measured flow')} that you gave: fill a bucket against the clock"
            f" once more.{allow}"
        ),
    )


def difference_words(kind: str, ratio: float, overlap: bool, first: str, second: str) -> str:
    """A sentence for two fits: how much lower the lower one is, whichever that is.

    ratio : second over first; first, second : their values as text
    """
    what = "The flow" if kind == "flow" else "The loss of each metre"
    saved = 1 - min(ratio, 1 / ratio)
    which, lower, higher = ("second", second, first) if ratio < 1 else ("first", first, second)
    change = f"{share(saved)} % lower in the {which} experiment: {lower} instead of {higher}"
    if share(saved) == "0":
        return f"{what} is the same in both experiments: {first} and {second}."
    chance = (
        "The two 95 % intervals overlap, so this may be chance: read both again, longer."
        if overlap
        else "The two 95 % intervals do not overlap, so the difference is real."
    )
    return f"{what} is {change}. {chance}"
