"""An outdoor unit's circuit: by hand, what its nameplate states, what each region asks for, what cannot be."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessons_lib import Q_, InputError
from lessons_lib.plant.unit_circuit import heat_pump_circuit, isolator_places

steady = settings(max_examples=100, deadline=None, derandomize=True)
PUMP = Q_(12, "A"), Q_(2.5, "A"), Q_(240, "V")


def test_by_hand():
    """1.25 x 12 + 2.5 = 17.5 A, next 20 A; 1.75 x 12 + 2.5 = 23.5 A, next down 20 A; 14.5 A together. 12 AWG at 75 degC:
    2 x 6.3373e-3 x 20 x 14.5 = 3.6756 V, 1.5315 % of 240 V."""
    found = heat_pump_circuit(*PUMP, cable="12 AWG solid", cable_length=Q_(20, "m"))
    amps = found.load, found.least_ampacity, found.next_device, found.largest_device, found.carries
    assert [one.to("A").magnitude for one in amps] == [14.5, 17.5, 20, 20, 20]
    assert found.voltage_drop.magnitude == pytest.approx(3.6756, rel=1e-4)
    assert found.drop_share.magnitude == pytest.approx(1.5315, rel=1e-4)


def test_nothing_is_multiplied_elsewhere():
    """14.5 A are 14.5 A; 2.5 mm2 carries 23 A in a conduit, so the breaker is at most 20 A; without a cable nothing says so."""
    found = heat_pump_circuit(*PUMP, region="IEC", cable="2.5 mm2", cable_length=Q_(20, "m"))
    assert (found.factor, found.least_ampacity.magnitude, found.next_device.magnitude) == (1, 14.5, 16)
    assert found.largest_device.magnitude == 20
    free = heat_pump_circuit(*PUMP, region="IEC")
    assert free.largest_device.magnitude == 100 and free.carries is None and "\ncarries" not in str(free)


def test_the_nameplate_rules():
    found = heat_pump_circuit(*PUMP, plate_least=Q_(19, "A"), plate_largest=Q_(30, "A"))
    assert (found.least_ampacity.magnitude, found.largest_device.magnitude) == (19, 30)
    assert heat_pump_circuit(*PUMP, plate_largest=Q_(24, "A")).largest_device.magnitude == 20


def test_a_cable_that_is_not_for_this():
    found = heat_pump_circuit(*PUMP, cable="16 AWG solid", cable_length=Q_(5, "m"))
    assert found.carries.magnitude == 0
    there = heat_pump_circuit(*PUMP, region="IEC", cable="16 AWG solid", cable_length=Q_(5, "m"))
    assert there.largest_device.magnitude == 0, "no breaker is small enough for it"


def test_each_region_says_its_own():
    here, there = (heat_pump_circuit(*PUMP, region=region) for region in ("United States", "IEC"))
    for found, own, other in ((here, "NEC 440.32", "BS 7671"), (there, "BS 7671", "NEC")):
        assert own in found.caution and other not in found.caution
    assert "440.14" in here.isolator and "50 ft" in here.isolator and "locked off" in there.isolator
    assert "210.8(F)" in here.ground_fault and there.ground_fault.startswith("IEC: 30 mA")
    assert "3 % in the branch" in here.drop_guidance and "5 % from the supply" in there.drop_guidance
    assert isolator_places("United States") == ["in sight"] and isolator_places("IEC") == ["in sight", "lockable"]
    assert "422.13" in here.caution, "storage water heaters have a rule of their own"


@steady
@given(st.floats(1, 50), st.floats(0, 40), st.sampled_from(["United States", "IEC"]))
def test_laws(compressor, others, region):
    """The least is never under what runs; one more ampere of fan is one more; the largest is never over its rule."""
    found = heat_pump_circuit(Q_(compressor, "A"), Q_(others, "A"), Q_(230, "V"), region=region)
    more = heat_pump_circuit(Q_(compressor, "A"), Q_(others + 1, "A"), Q_(230, "V"), region=region)
    assert found.least_ampacity >= found.load
    assert (more.least_ampacity - found.least_ampacity).magnitude == pytest.approx(1)
    assert found.next_device >= found.least_ampacity
    if region == "United States":
        assert found.largest_device.magnitude <= max(1.75 * compressor + others, 15) + 1e-9
        assert found.largest_device.magnitude >= 15


@pytest.mark.parametrize(
    "call, says",
    [
        (lambda: heat_pump_circuit(Q_(4, "kW"), *PUMP[1:]), "as on the nameplate"),
        (lambda: heat_pump_circuit(Q_(-1, "A"), *PUMP[1:]), "compressor current: -1 A was given"),
        (lambda: heat_pump_circuit(Q_(np.nan, "A"), *PUMP[1:]), "must be a finite number"),
        (lambda: heat_pump_circuit(PUMP[0], Q_(-1, "A"), PUMP[2]), "other loads: -1 A was given"),
        (lambda: heat_pump_circuit(*PUMP, plate_least=Q_(0, "A")), "current on the nameplate: 0 A was given"),
        (lambda: heat_pump_circuit(*PUMP, region="Atlantis"), 'is not known; choose from "United States", "IEC"'),
        (lambda: heat_pump_circuit(*PUMP, cable="12 AWG solid"), "give both the cable and its length"),
        (lambda: heat_pump_circuit(*PUMP, cable="12 AWG", cable_length=Q_(5, "m")), '"12 AWG solid"'),
        (lambda: heat_pump_circuit(Q_(np.ones(2), "A"), Q_(np.ones(3), "A"), PUMP[2]), "do not fit together"),
    ],
)
def test_what_cannot_be(call, says):
    with pytest.raises(InputError) as caught:
        call()
    assert says in str(caught.value)
