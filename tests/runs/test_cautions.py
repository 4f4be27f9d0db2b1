"""Where the sources contradict each other, the result says so: each conflict of the sources' list, and where it is answered.

12 (run lengths of codes) and 14 (chart-read answers) touch no result: tests/published/test_dead_legs.py states the edition, and
tests/published compares with exact solutions only.
"""

import numpy as np
import pytest

from lessons_lib import (
    Q_,
    Insulation,
    Pipe,
    Run,
    Surroundings,
    Tape,
    Weather,
    assess,
    bacteria_band,
    ground_fault,
    night,
    plan,
    relief_settings,
    skin_injury,
    tape_circuit,
    time_to_burn,
)
from lessons_lib.runs import flow

HOT, COLD, FLOW = Q_(60, "degC"), Q_(8, "degC"), Q_(6, "L/min")
FROST = Surroundings(Q_(-12, "degC"), wind=Q_(5, "m/s"))
FOAM = Insulation("elastomeric foam", Q_(19, "mm"))
COPPER, PEX = Pipe.nominal("copper L", "3/4 in"), Pipe.nominal("PEX CTS", "3/4 in")
PLAIN = Run(COPPER, Q_(18, "m"), FOAM, FROST)
BARE, GAPS = Run(COPPER, Q_(18, "m"), Insulation.none(), FROST), Run(COPPER, Q_(18, "m"), FOAM, FROST, bare_share=0.05)
PLASTIC, BENT = Run(PEX, Q_(18, "m"), FOAM, FROST), Run(COPPER, Q_(18, "m"), FOAM, FROST, [("elbow 90", 3)])
TAPE = Tape.constant(Q_(16, "W/m"), thermostat=Q_(5, "degC"))
NIGHT = Weather.day_and_night(Q_(-8, "degC"), Q_(2, "degC"))
TAPED_WORDS = (
    "maker lists",
    "foam or vinyl",
    "rigid plastic",
    "outdoors",
    "Self-regulating",
    "ground-fault",
    "local code",
)

ANSWERED = [
    ("1 damage integral", lambda: skin_injury(HOT).caution, ("never instead of it", "from 47 to 60 °C only")),
    ("2 burn tables", lambda: time_to_burn(HOT).caution, ("factor of two", "Children")),
    ("2 burn tables, assessed", lambda: assess(PLAIN, HOT, FLOW).caution, ("factor of two", "Children")),
    ("3 bacteria", lambda: bacteria_band(HOT).caution, ("Bands, not lines", "several-fold")),
    ("4 Hazen-Williams C", lambda: flow.CAUTION, ("123 to 150", "40 %")),
    ("5 fittings", lambda: flow.CAUTION, ("twofold", "Technical Paper 410")),
    ("5 fittings of a run", lambda: BENT.first_draw(HOT, FLOW, COLD).caution, ("twofold",)),
    ("6 bare copper", lambda: BARE.caution, ("0.03", "0.8", "0.44 is taken")),
    ("6 bare share, in a night", lambda: night(GAPS, NIGHT, COLD).caution, ("Emissivity",)),
    ("7 tape", lambda: plan(PLAIN, TAPE).caution, TAPED_WORDS),
    ("7 tape itself", lambda: TAPE.caution, TAPED_WORDS),
    ("7 tape in a night", lambda: night(PLAIN, NIGHT, COLD, TAPE).caution, TAPED_WORDS),
    ("7 hold power, assessed", lambda: assess(PLAIN, HOT, FLOW, hold=Q_(4, "degC")).caution, TAPED_WORDS),
    (
        "7 tape circuit",
        lambda: tape_circuit(Q_(16, "W/m"), Q_(20, "m"), Q_(230, "V"), Q_(16, "A")).caution,
        ("maker lists together",),
    ),
    ("8 ground fault", lambda: ground_fault("United States"), ("United States", "5 mA", "30 mA", "ocal code")),
    ("9 PEX", lambda: PLASTIC.first_draw(HOT, FLOW, COLD).caution, ("bores in print differ", "0.35 to 0.46")),
    ("10 ice", lambda: PLAIN.freezing(COLD).caution, ("20 %",)),
    ("11 warning level", lambda: PLAIN.freezing(COLD).caution, ("-7 °C (20 °F)", "attics", "not for a pipe outdoors")),
    ("11 warning level, in a night", lambda: night(PLAIN, NIGHT, COLD).caution, ("-7 °C (20 °F)",)),
    ("13 relief valve", lambda: relief_settings("United States")[0].caution, ("differ by region", "local code")),
]


@pytest.mark.parametrize("said, words", [case[1:] for case in ANSWERED], ids=[case[0] for case in ANSWERED])
def test_the_result_says_so(said, words):
    text = said()
    assert all(word in text for word in words), text


def test_nothing_is_said_where_nothing_is_in_doubt():
    assert PLAIN.caution == "" and "PEX" not in BARE.caution and "Emissivity" not in PLASTIC.caution
    assert "heat tape" not in assess(PLAIN, HOT, FLOW).caution and TAPE.caution not in night(PLAIN, NIGHT, COLD).caution


def test_a_chain_says_each_thing_once():
    chain = Run.series([BARE, BARE, PLASTIC])
    assert chain.caution.count("Bare copper") == 1 and chain.caution.count("PEX") == 1


@pytest.mark.parametrize("size", ["1/2 in", "3/4 in", "1 in"])
def test_a_bare_pipe_is_taken_as_level_and_says_what_that_is_worth(size):
    """Against vertical plates 1 and 2.5 m high (Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1323), plain and with a
    fifth more for a slender pipe (from memory), and radiation; surface 60, air 20 degC, air's properties at 40 degC."""
    run = Run(Pipe.nominal("copper L", size), Q_(1, "m"), Insulation.none(), Surroundings(Q_(20, "degC")))
    outside = run.pipe.outside_diameter.to("m").magnitude
    level = run.heat_loss(Q_(60, "degC")).magnitude / (np.pi * outside * 40)
    radiation = run.pipe.emissivity * 5.67e-8 * (333.15**4 - 293.15**4) / 40
    for height in (1.0, 2.5):
        rayleigh = 9.81 * 40 / 313.15 * height**3 / (1.70e-5 * 2.40e-5)
        plate = (
            0.0272 / height * (0.825 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.492 / 0.706) ** (9 / 16)) ** (8 / 27)) ** 2
        )
        assert 0.10 < 1 - (1.2 * plate + radiation) / level < 1 - (plate + radiation) / level < 0.34
    assert "a tenth to a third less" in run.caution and "safe side for frost" in run.caution
    assert "taken as level" not in PLAIN.caution
