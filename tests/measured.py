"""Series of measurements from print, held beside the model: what each is, and their table for tests/published/README.md."""

from dataclasses import dataclass

HEADS = "measured", "by whom; how known", "how the model is set", "values", "model against it", "tolerance, and why"


@dataclass(frozen=True)
class Series:
    """One set of measurements.

    measured : what was measured, and on what; source : who, where, when; known : how its values are known here
    setting : how the model is set to be the same thing
    tolerance : relative to the measured value; why : what in the measurement it follows from
    """

    measured: str
    source: str
    known: str
    setting: str
    tolerance: float
    why: str


def table(deviations: dict) -> str:
    """Markdown rows of {Series: [model/measured - 1, ...]}: mean, lowest and highest deviation of each."""
    rows = [HEADS, ["---"] * len(HEADS)]
    for series, off in sorted(deviations.items(), key=lambda item: item[0].measured):
        spread = f"{100 * sum(off) / len(off):+.2g} % on average, {100 * min(off):+.2g} to {100 * max(off):+.2g} %"
        rows.append(
            [
                series.measured,
                f"{series.source}; {series.known}",
                series.setting,
                str(len(off)),
                spread,
                f"{100 * series.tolerance:.3g} %: {series.why}",
            ]
        )
    return "\n".join("| " + " | ".join(row) + " |" for row in rows) + "\n"
