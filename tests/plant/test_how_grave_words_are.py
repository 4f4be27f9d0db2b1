"""How grave each verdict's word is, said a second time: fine; take care; what can hurt, burst, leak or be forbidden."""

import pytest

from lessons_lib.plant import discharge, hammer, joints, metals, mixing_valve, plastic_limits, purge, tank
from lessons_lib.quantities.results import Word

FINE, CARE, DANGER = 0, 1, 2
SAID = {
    # a pipe that is too narrow, can be closed, holds water or ends out of reach of an eye keeps a relief valve from working
    discharge: {
        FINE: "FITS DRAINS SEEN",
        CARE: "WIDER",
        DANGER: "TOO_SMALL NOT_IN_TABLE BARRED STANDS BEND_TOO_SOON NO_GAP SPLASHES",
    },
    # above what arrestors are to hold; above what they are tested with
    hammer: {FINE: "SOFT SLOWER", CARE: "HAMMERS FASTER", DANGER: "HARD"},
    # a joint that lets go of hot water, now or when it is hot
    joints: {
        FINE: "SUITS SOUND WITHIN MAY_HIDE",
        CARE: "NOT_STATED IF_LISTED NEVER_HIDE",
        DANGER: "OTHER_PIPE UNSAFE BEYOND TOO_HOT",
    },
    # a wall that is eaten through
    metals: {
        FINE: "ALIKE PARTED CARRIES_NOTHING NO_BRASS BONDED",
        CARE: "SLOWED ZINC_TURNS MARKED_BRASS INTERRUPTED",
        DANGER: "EATEN CARRIED",
    },
    # a tap that may scald
    mixing_valve: {
        FINE: "EVEN MUST_SHUT APART PASSED",
        CARE: "OUTSIDE NEED_NOT DIRT",
        DANGER: "UNEVEN CROSSES CANNOT_PASS",
    },
    tank: {FINE: "HOLDS", DANGER: "CANNOT_HOLD"},
    # a pipe that bursts, at once or after years in the sun
    plastic_limits: {
        FINE: "WITHIN METAL_ENOUGH SHADED JACKETED NO_BARRIER_NEEDED BARRIER",
        CARE: "FOR_A_TIME TOO_NEAR LETS_IN",
        DANGER: "ABOVE DIRECT IN_THE_SUN",
    },
    # air that stays: a heater that runs dry
    purge: {FINE: "FAST_ENOUGH", DANGER: "TOO_SLOW"},
}


@pytest.mark.parametrize("module", SAID, ids=lambda module: module.__name__.split(".")[-1])
def test_how_grave_a_word_is(module):
    """A new word of these modules asks for its second entry here."""
    said = {name: grave for grave, names in SAID[module].items() for name in names.split()}
    assert {name: one.gravity for name, one in vars(module).items() if isinstance(one, Word)} == said
