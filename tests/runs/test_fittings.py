"""Fittings by name: counts, equivalent lengths, names that no table holds."""

import numpy as np
import pytest

from lessons_lib import InputError, Pipe
from lessons_lib.runs.fittings import Fittings, resolve_fittings
from lessons_lib.runs.pipe import sizes

HALF = Pipe.nominal("copper L", "1/2 in")


def test_fittings_as_people_write_them():
    written = resolve_fittings(
        [("Elbow-90", 2), "  ELBOW   90", ("tap", 1), ("ball valve", 0), ("tee branch", np.int64(1))]
    )
    assert written.counts == (("elbow 90", 3), ("tap", 1), ("tee branch", 1))
    assert resolve_fittings(written) is written
    assert str(written) == "3 elbow 90, 1 tap, 1 tee branch"


def test_no_fittings_cost_nothing():
    for none in ((), [], [("elbow 90", 0)], iter(())):
        assert resolve_fittings(none) == Fittings(())
    assert str(resolve_fittings()) == "none" and resolve_fittings().equivalent_length(HALF).magnitude == 0


@pytest.mark.parametrize(
    "wrong, says",
    [
        (["elbow90"], '"elbow90" is not known; the nearest are "elbow 90"'),
        (["flux capacitor"], "is not known"),
        ("elbow 90", "Write a list"),
        (3, "Write a list"),
        ({"elbow 90": 3}, "Write a list"),
        (None, "Write a list"),
        (("elbow 90", 3), "3 is neither a name nor a pair"),
        ([("elbow 90",)], "neither a name nor a pair"),
        ([(3, "elbow 90")], "neither a name nor a pair"),
        ([("elbow 90", -1)], "number of elbow 90: -1 was given; possible is a whole number, 0 or more"),
        ([("elbow 90", 2.5)], "2.5 was given; possible is a whole number"),
        ([("elbow 90", "3")], "'3' was given; possible is a whole number"),
        ([("elbow 90", True)], "True was given; possible is a whole number"),
        ([("elbow 90", np.nan)], "nan was given"),
        ([("elbow 90", np.inf)], "inf was given"),
        ([("elbow 90", None)], "None was given"),
    ],
)
def test_fittings_that_cannot_be(wrong, says):
    with pytest.raises(InputError, match="^fitting") as caught:
        resolve_fittings(wrong)
    assert says in str(caught.value)


def test_fittings_of_pex_shrink_in_bores_as_the_pipe_grows():
    elbow = resolve_fittings(["PEX crimp elbow"])
    pipes = [Pipe.nominal("PEX CTS", size) for size in sizes("PEX CTS")]
    ratios = [(elbow.equivalent_length(pipe) / pipe.inside_diameter).to("").magnitude for pipe in pipes]
    assert ratios == sorted(ratios, reverse=True) and ratios[1] == pytest.approx(9.4 * 12 / 0.475, rel=1e-9)
