"""Topic 11: what geometry says of runs to a tap: how long one may be, and how long it takes to sweep it once.

Whether the water that arrives is hot by then is another matter: see the first draw. 1 % for contents rounded to
0.01 fl oz, 3 % for a wait printed in whole seconds, 5 % for an article that names no tube.
"""

import numpy as np
import pytest

from lessons_lib import Q_, Pipe
from lessons_lib.physics import pressure
from lessons_lib.runs.flow import speed

QUOTED = "as quoted in secondary literature"
CONTENTS = f"2009 IPC Table E202.1 contents, {QUOTED}; length computed from them"
ARTICLE = f"trade journal worked example, {QUOTED}"
CODE = "IECC Table C404.5.1 (2015-2021) and IPC 607.2.1, from memory; checked by geometry here"


def content(family, size):
    """Water content [m3/m] by the physics."""
    return pressure.area(Pipe.nominal(family, size).inside_diameter.to("m").magnitude)


HALF_GALLON = [  # family, size, length [ft] that holds 0.5 US gal
    ("copper L", "1/2 in", 41.2903),
    ("copper L", "3/4 in", 19.8758),
    ("copper L", "1 in", 11.6576),
    ("PEX CTS", "1/2 in", 54.2373),
    ("PEX CTS", "3/4 in", 27.234),
]


@pytest.mark.parametrize("family, size, length", HALF_GALLON)
def test_half_a_gallon_passes_at_the_speed_in_the_pipe(agree, family, size, length):
    """At 1.5 US gal/min the water that stands in these lengths has passed after 20 s. 1 %: contents rounded to 0.01 fl oz."""
    seconds = Q_(length, "ft") / speed(Pipe.nominal(family, size), Q_(1.5, "gpm"))
    agree(seconds.to("s").magnitude, 60 * 0.5 / 1.5, CONTENTS, relative=0.01)


@pytest.mark.parametrize("flow, published, tolerance", [(2.2, 47, 0.03), (1.5, 70, 0.03)])
def test_least_wait_of_the_worked_example(agree, flow, published, tolerance):
    """60 ft of 3/4 in and 10 ft of 1/2 in; the volume of the article is that of type M."""
    legs = (("3/4 in", 60), ("1/2 in", 10))
    wait = sum(Q_(feet, "ft") / speed(Pipe.nominal("copper M", size), Q_(flow, "gpm")) for size, feet in legs)
    agree(wait.to("s").magnitude, published, ARTICLE, relative=tolerance)


def test_volume_of_the_worked_example(agree):
    """5 %: the article names no tube."""
    volume = Q_(60, "ft") * Q_(content("copper M", "3/4 in"), "m**2") + Q_(10, "ft") * Q_(
        content("copper M", "1/2 in"), "m**2"
    )
    agree(volume.to("gallon").magnitude, 1.75, ARTICLE, relative=0.05)


LONGEST = [  # size, fl oz per foot in the code's table, longest run [ft]
    ("3/8 in", 0.75, 50),
    ("1/2 in", 1.5, 43),
    ("3/4 in", 3, 21),
    ("1 in", 5, 13),
    ("1-1/4 in", 8, 8),
]


@pytest.mark.parametrize("size, ounces, longest", LONGEST)
def test_the_codes_longest_runs_lie_between_copper_and_pex(size, ounces, longest):
    """One length for every material of a size: 64 fl oz (0.5 US gal) fill it somewhere between PEX and copper L."""
    least, most = ((Q_(content(family, size), "m**2")).to("floz/ft").magnitude for family in ("PEX CTS", "copper L"))
    assert least < ounces < most, CODE
    assert longest == min(50, np.round(64 / ounces)), CODE
