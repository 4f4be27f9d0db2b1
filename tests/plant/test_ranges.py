"""What runs, plant, bench and buildings take: every range a second time, by hand, with the reason; its ends are in it, beyond is not.

An entry is a name, a bar, the least and the most, and ">" where the least itself is not allowed.
"""

import pytest

from lessons_lib.bench import experiments, reading_columns
from lessons_lib.building import parts
from lessons_lib.plant import (
    bracket,
    circuit,
    closed_system,
    discharge,
    hammer,
    heat_pump,
    joints,
    mixing_valve,
    plastic_limits,
    pressure_test,
    scale,
    take_off,
    tank,
    unit_circuit,
)
from lessons_lib.quantities import units
from lessons_lib.quantities.errors import InputError
from lessons_lib.quantities.units import Q_, Domain, to_base, unit_of
from lessons_lib.runs import bacteria, flow, nights, skin, tape, weather

SAID = {
    # liquid water at the air's pressure, 0 to 99 degC; rooms from an arctic night to a roof space in summer
    tank: """HOT | 0 99\nSTORED | 0 99\nCOLD | 0 99\nMIXED | 0 99\nSETTING | 0 99\nLOWEST | 0 99\nHIGHEST | 0 99
        ROOM | -60 60\nTANK_VOLUME | > 0 100\nLEAST_FLOW | 0 0.1\nLEAST_DIFFERENCE | 0 60\nRISE | > 0 99
        RATED_DIFFERENCE | > 0 99\nPOWER | 0 1e6\nSTANDBY | 0 1e5""",
    # gauge pressures up to 20 bar; the air's from a high pass (50 kPa) to below the sea (110 kPa)
    closed_system: """VOLUME | > 0 100\nVESSEL_VOLUME | > 0 10\nEXPANDED | 0 10\nPRECHARGE | 0 2e6\nCOLD_PRESSURE | 0 2e6
        HIGHEST_PRESSURE | 0 2e6\nPRESSURE | 0 2e6\nATMOSPHERE | 5e4 1.1e5\nTRAPPED_RISE | 0 99\nCHANGE | -150 150""",
    # a store that a heat pump warms, air that it works in
    heat_pump: """STORE | 5 75\nOUTDOOR | -30 45\nHEAT | > 0 1e6\nHEAT_LOSS | -2000 2000\nLOOP_DIFFERENCE | > 0 60
        LOOP_VOLUME | > 0 10""",
    # one phase, low voltage; copper in a cable up to what its plastic stands
    circuit: """TAPE_POWER | > 0 5000\nVOLTAGE | 12 480\nRATING | 1 100\nCABLE_LENGTH | > 0 1000\nCONDUCTOR | -40 90""",
    unit_circuit: """COMPRESSOR | > 0 100\nOTHERS | 0 100\nON_THE_PLATE | > 0 200""",
    # a unit on a wall, and gusts of the strongest storms
    bracket: """MASS | > 0 1000\nEXTRA | 0 1000\nARM | > 0 2\nSPACING | > 0 3\nGUST | 0 90""",
    discharge: """ALONG | 0 100\nABOVE | 0 5\nSTRAIGHT | 0 5""",
    hammer: """CLOSING | 0 60\nHOUSE_PRESSURE | 1e4 2e6\nCUSHION | 0 0.01""",
    joints: """IN_USE | 0 1e7""",
    mixing_valve: """INLET | 1e3 2e6\nFLOWING | 1e-6 1e-2\nPASSES | 1e-6 1e-1""",
    plastic_limits: """WATER_IN_PLASTIC | 0 120\nINSIDE | 0 5e6\nMETAL | 0 100""",
    pressure_test: """WORKING | 5e4 2e6\nTESTED | 5e4 3e6\nWARMED | -30 30\nWATCHED | > 0 1e6\nLEAK | 0 1e-3""",
    # from nearly rain to the hardest wells, mg/L as CaCO3
    scale: """HARDNESS | 20 500\nCOLD_WATER | 0 25""",
    take_off: """CENTRE_TO_CENTRE | > 0 1000\nCENTRE_TO_FACE | 0 0.5\nINSERTION_DEPTH | 0 0.2\nCUT | > 0 1000
        STOCK | > 0 500\nKERF | 0 0.02""",
    experiments: """CONSTANT | 0 600\nLATE | -600 600""",
    # water in which legionellae die (a measured series of that span); skin that burns, from warm to scalding
    bacteria: """TENFOLD_WATER | 55 66""",
    skin: """INJURY_WATER | 44 70\nBATH_WATER | 0 99\nSKIN_DEPTH | 0 0.02\nEXPOSURE | > 0 1e5\nFILM | 10 1e5""",
    # up to 20 bar; a tower's height; a year
    flow: """PRESSURE | 0 2e6\nHEIGHT | -200 200""",
    nights: """STEP | 1 3600\nMOMENT | 0 3.2e7""",
    weather: """TIME | 0 3.2e7""",
    # the strongest tapes for pipes give some 60 W/m; the hottest stand 260 degC for a while
    tape: """POWER | > 0 100\nPOINT_POWER | 0 100\nPOINT | -40 120\nLIMIT | 0 260\nTIES | 0 0.02""",
    # hours up to three days
    parts: """LEG_LENGTH | > 0 300\nTAP_FLOW | > 0 0.002\nHOURS | 0 2.6e5\nFLOOR | -100 100\nSHARE | 0 100""",
}
COLUMNS = {  # a year before or after; a thermometer of a bench
    "time": (-3.2e7, 3.2e7),
    "place": (0, 10_000),
    "temperature": (-60, 100),
    "air": (-60, 100),
    "flow": (0, 0.1),
}


def ranges():
    for module, text in SAID.items():
        for line in text.strip().splitlines():
            name, bounds = (part.strip() for part in line.split("|"))
            open_end = bounds.startswith(">")
            low, high = map(float, bounds.removeprefix(">").split())
            yield f"{module.__name__.split('.')[-1]}.{name}", getattr(module, name), low, high, open_end
    for name, (low, high) in COLUMNS.items():
        yield f"reading_columns.{name}", reading_columns.DOMAINS[name], low, high, False


def test_every_range_is_said_twice():
    """A new range of these modules asks for its second entry here; those that all rooms share stand in units.py."""
    said = {id(domain) for _, domain, *_ in ranges()} | {id(value) for value in vars(units).values()}
    for module in SAID:
        new = [name for name, value in vars(module).items() if isinstance(value, Domain) and id(value) not in said]
        assert not new, f"{module.__name__}: no second entry of {new}"


@pytest.mark.parametrize("name, domain, low, high, open_end", list(ranges()), ids=[one[0] for one in ranges()])
def test_both_ends_of_a_range(name, domain, low, high, open_end):
    """The ends themselves are possible; a thousandth of the whole beyond them is not."""
    unit, beyond = unit_of(domain.unit), 1e-3 * (high - low)
    assert (
        to_base(Q_(high, unit), domain) == high and to_base(Q_(low + (beyond if open_end else 0), unit), domain) >= low
    )
    for wrong in (high + beyond, low - beyond, *([low] if open_end else [])):
        with pytest.raises(InputError, match=domain.name.split(",")[0]):
            to_base(Q_(wrong, unit), domain)
