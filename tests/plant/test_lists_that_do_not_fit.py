"""Lists of two and of three values for any two things that are asked for: a sentence that names both, not numpy's error."""

from itertools import permutations

import numpy as np
import pytest

from lessons_lib import Q_, InputError
from lessons_lib.plant import bracket, circuit, closed_system, heat_pump, purge, scale, tank, unit_circuit

LITRES, WARM, MIXED, COLD = Q_(150.0, "L"), Q_(60.0, "degC"), Q_(40.0, "degC"), Q_(10.0, "degC")
KELVIN, POWER, FLOW, METRES = Q_(5.0, "delta_degC"), Q_(3000.0, "W"), Q_(6.0, "L/min"), Q_(10.0, "m")
LOW, HIGH, AMPS, VOLTS = Q_(300.0, "kPa"), Q_(600.0, "kPa"), Q_(12.0, "A"), Q_(230.0, "V")
CALLS = {
    tank.hot_share: {"hot": WARM, "cold": COLD, "mixed": MIXED},
    tank.water_at_the_tap: {"tank_volume": LITRES, "stored": WARM, "cold": COLD, "mixed": MIXED},
    tank.mixing_valve: {
        "hot": WARM,
        "cold": COLD,
        "setting": MIXED,
        "flow": FLOW,
        "least_difference": KELVIN,
        "least_flow": FLOW,
        "lowest": COLD,
        "highest": WARM,
    },
    tank.standby_loss: {"stored": WARM, "room": COLD, "rated": Q_(70.0, "W"), "rated_difference": KELVIN},
    tank.reheat_time: {"tank_volume": LITRES, "start": COLD, "stored": WARM, "power": POWER, "standby": Q_(70.0, "W")},
    tank.recovery: {"power": POWER, "rise": KELVIN, "cold": COLD},
    closed_system.expansion: {"volume": LITRES, "cold": COLD, "hot": WARM},
    closed_system.vessel: {
        "expanded": Q_(3.0, "L"),
        "precharge": LOW,
        "highest": HIGH,
        "cold": LOW,
        "atmosphere": Q_(100.0, "kPa"),
    },
    closed_system.vessel_pressure: {
        "volume": Q_(12.0, "L"),
        "expanded": Q_(3.0, "L"),
        "precharge": LOW,
        "cold": LOW,
        "atmosphere": Q_(100.0, "kPa"),
    },
    closed_system.vessel_reading: {"precharge": LOW, "water_side": HIGH},
    closed_system.trapped_pressure_rise: {"start": COLD, "rise": KELVIN, "pressure": LOW},
    heat_pump.heat_pump_cop: {"store": WARM, "outdoor": COLD},
    heat_pump.store_cost: {"outdoor": COLD, "low": MIXED, "high": WARM},
    heat_pump.loop_flow: {"heat": POWER, "difference_of_loop": KELVIN, "supply": WARM},
    heat_pump.loop_stored_heat: {"volume": LITRES, "water": WARM, "surroundings": COLD},
    purge.purge_legs: {"inside_diameter": Q_(20.0, "mm"), "length": METRES, "flow": FLOW},
    scale.scale_from: {"hardness": Q_(200.0, "mg/L"), "cold": COLD, "hot": WARM},
    bracket.bracket_loads: {
        "mass": Q_(50.0, "kg"),
        "arm": Q_(0.25, "m"),
        "bolt_spacing": Q_(0.4, "m"),
        "extra": Q_(5.0, "kg"),
    },
    circuit.tape_circuit: {
        "power": Q_(16.0, "W/m"),
        "length": METRES,
        "voltage": VOLTS,
        "breaker": AMPS,
        "cable_length": METRES,
        "conductor": MIXED,
    },
    unit_circuit.heat_pump_circuit: {
        "compressor": AMPS,
        "others": AMPS,
        "voltage": VOLTS,
        "plate_least": AMPS,
        "plate_largest": 2 * AMPS,
        "cable_length": METRES,
        "conductor": MIXED,
    },
}
BESIDE = {
    bracket.bracket_loads: {"safety_factor": 4},
    circuit.tape_circuit: {"cable": "2.5 mm2"},
    unit_circuit.heat_pump_circuit: {"cable": "2.5 mm2"},
}


@pytest.mark.parametrize("call", CALLS, ids=lambda call: call.__name__)
def test_lists_that_do_not_fit_are_told(call):
    single, beside = CALLS[call], BESIDE.get(call, {})
    call(**single, **beside)
    for two, three in permutations(single, 2):
        lists = {
            name: Q_(np.full(count, single[name].magnitude), single[name].units)
            for name, count in ((two, 2), (three, 3))
        }
        with pytest.raises(InputError, match="do not fit together"):
            call(**single | lists, **beside)
