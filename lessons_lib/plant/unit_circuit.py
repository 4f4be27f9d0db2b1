"""The circuit of a heat pump's outdoor unit, from its nameplate: numbers to hand to an electrician, never a verdict."""

from dataclasses import dataclass

import numpy as np

from ..physics import circuit as physics
from ..quantities.results import Printed
from ..quantities.units import Q_, Domain, Quantity, broadcast, quantity, to_base
from ..runs.cautions import joined
from ..storage import tables
from .circuit import VOLTAGE, breakers, continuous_rule, drop_along, drop_guidance, rows_of

COMPRESSOR = Domain("compressor current", "A", 0, 100, 'Q_(12, "A"), as on the nameplate', above_low=True)
OTHERS = Domain("current of the other loads", "A", 0, 100, 'Q_(2.5, "A"): fan, pump, heater')
ON_THE_PLATE = Domain("current on the nameplate", "A", 0, 200, 'Q_(18, "A")', above_low=True)
LEAST_LARGEST = 15.0  # [A] no code asks for a smaller breaker than this: NEC 440.22(A), from memory
CAUTION = (
    "A licensed electrician chooses and makes the circuit: these are numbers to hand over, and they do not say that it"
    " is safe. Where the nameplate states a least circuit ampacity and a largest breaker, those two rule and not this"
    " arithmetic. Never put in a larger breaker because one trips. A means of disconnection at the unit and its"
    " protection against ground faults and weather: local code. What the cable carries falls where it lies warm,"
    " bundled or under insulation. Nothing gets power before the loop is full and vented."
)


@dataclass(frozen=True, repr=False, eq=False)
class UnitCircuit(Printed):
    """Holds the numbers of an outdoor unit's circuit; each quantity a single value or an array.

    load : all that runs together [A]; factor : by which the region's rule multiplies the compressor, a plain number
    least_ampacity : that the circuit must carry at least [A]: the nameplate's, else by the rule
    largest_device : the largest standard breaker [A]: the nameplate's, else by the rule; 0: no standard one is so small
    next_device : the smallest standard breaker from the least up [A], inf: none is so large
    carries : what the cable carries for hours before any correction [A], 0: not for this; None without a cable
    voltage_drop : along the cable [V]; drop_share : of the supply voltage [%]; None without a cable
    drop_guidance, rule, isolator, ground_fault, caution : text that travels with the numbers
    """

    load: Quantity
    factor: float
    least_ampacity: Quantity
    largest_device: Quantity
    next_device: Quantity
    carries: Quantity | None
    voltage_drop: Quantity | None
    drop_share: Quantity | None
    drop_guidance: str
    rule: str
    isolator: str
    ground_fault: str
    caution: str

    def _rows(self):
        return [row for row in super()._rows() if row[1] != "None"]


def heat_pump_circuit(
    compressor,
    others,
    voltage,
    *,
    region="United States",
    plate_least=None,
    plate_largest=None,
    cable=None,
    cable_length=None,
    conductor=Q_(75.0, "degC"),
) -> UnitCircuit:
    """The circuit of a heat pump's outdoor unit.

    compressor : its rated-load current, from the nameplate; others : fan, pump and heater together, 0 A: none
    voltage : of the single-phase supply; region : "United States" or "IEC", whose rule, sizes and guidance hold
    plate_least, plate_largest : least circuit ampacity and largest breaker where the nameplate states them: they rule
    cable, cable_length : as in data/cables.csv, and its length one way; without a nameplate's, the largest breaker
    of an IEC circuit is what its cable carries, and without a cable the largest there is
    conductor : temperature of the cable's copper; 75 degC is the cautious figure of a loaded cable
    Raises InputError.
    """
    motor, rest, volts = to_base(compressor, COMPRESSOR), to_base(others, OTHERS), to_base(voltage, VOLTAGE)
    shape = broadcast(compressor=motor, others=rest, voltage=volts)
    load, factor, ladder = motor + rest, compressor_factor(region), breakers(region)
    drop = drop_along(load, cable, cable_length, conductor)
    carries = None if cable is None else carried(cable)
    least = physics.of_compressor(motor, rest, factor) if plate_least is None else to_base(plate_least, ON_THE_PLATE)
    stated = None if plate_largest is None else to_base(plate_largest, ON_THE_PLATE)
    most = _most(motor, rest, region, carries) if stated is None else stated
    broadcast(load=np.empty(shape), plate_least=least, plate_largest=most, cable=0.0 if drop is None else drop)
    return UnitCircuit(
        load=quantity(load, "A"),
        factor=factor,
        least_ampacity=quantity(least, "A"),
        largest_device=quantity(physics.last_standard(most, ladder), "A"),
        next_device=quantity(physics.next_standard(least, ladder), "A"),
        carries=None if carries is None else quantity(carries, "A"),
        voltage_drop=None if drop is None else quantity(drop, "V"),
        drop_share=None if drop is None else quantity(100 * drop / volts, "percent"),
        drop_guidance=drop_guidance(region),
        rule=rule(region),
        isolator=isolator(region),
        ground_fault=unit_ground_fault(region),
        caution=joined(CAUTION, rule(region), continuous_rule(region)),
    )


def _most(compressor, others, region: str, carries):
    """Gives what the largest breaker may not pass [A]: a share of the compressor, or where no rule has one, what the
    cable carries; inf: no cable is named.
    """
    rows = rows_of(region, "largest device")
    if rows:
        return np.maximum(physics.of_compressor(compressor, others, float(rows[0]["value"])), LEAST_LARGEST)
    return np.inf if carries is None else carries


def carried(cable: str) -> float:
    """Gives what a cable of data/cables.csv carries for hours before any correction [A], 0: not for such a circuit.
    Raises InputError.
    """
    listed = tables.row("cables", "cable", cable, "cable")["carries"]
    return float(listed) if listed else 0.0


def compressor_factor(region: str) -> float:
    """Says by what a compressor's rated-load current is multiplied to get the least ampacity. Raises InputError for
    unknown regions.
    """
    return float(rows_of(region, "compressor")[0]["value"])


def largest_factor(region: str) -> float | None:
    """Says by what a compressor's rated-load current is multiplied to get the largest breaker; None: this region has
    no such rule. Raises InputError for unknown regions.
    """
    rows = rows_of(region, "largest device")
    return float(rows[0]["value"]) if rows else None


def drop_limit(region: str) -> float:
    """The share of the supply's voltage that guidance lets a unit's cable lose [%]. Raises InputError for unknown
    regions.
    """
    return float(rows_of(region, "voltage drop")[0]["value"])


def isolator_places(region: str) -> list[str]:
    """Says where a unit's isolator may be: "in sight", "lockable". Raises InputError for unknown regions."""
    return rows_of(region, "isolator")[0]["value"].split("|")


def rule(region: str) -> str:
    """A region's rules for the circuit of an outdoor unit, in words. Raises InputError for unknown regions."""
    rows = [*rows_of(region, "compressor"), *rows_of(region, "largest device")]
    said = ". ".join(f"{_capital(row['protects'])} ({row['source']}; {row['how_known']})" for row in rows)
    return f"An outdoor unit, {rows[0]['region']}: {said}."


def isolator(region: str) -> str:
    """Says where a region asks for a unit's isolator, in words. Raises InputError for unknown regions."""
    row = rows_of(region, "isolator")[0]
    return f"Isolator, {row['region']}: {row['protects']} ({row['source']}; {row['how_known']})."


def unit_ground_fault(region: str) -> str:
    """Says what is asked for against ground faults of an outdoor unit in a region. Raises InputError for unknown
    regions.
    """
    row = rows_of(region, "unit ground fault")[0]
    return (
        f"{row['region']}: {row['value']} mA to protect {row['protects']} ({row['source']}; {row['how_known']}). Local"
        " code, its edition and the maker decide."
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
