"""The circuit of a heat tape: numbers to hand to an electrician, never a verdict. An outdoor unit: unit_circuit.py."""

from dataclasses import dataclass

import numpy as np

from ..physics import circuit as physics
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import LENGTH, Q_, Domain, Quantity, broadcast, quantity, to_base
from ..runs.cautions import joined
from ..storage import tables

# Of all tapes side by side on one metre: a bare pipe in a gale takes dozens of them.
TAPE_POWER = Domain("tape power", "W/m", 0, 5000, 'Q_(16, "W/m")', above_low=True)
VOLTAGE = Domain("supply voltage", "V", 12, 480, 'Q_(230, "V")')
RATING = Domain("breaker", "A", 1, 100, 'Q_(15, "A")')
CABLE_LENGTH = Domain("cable length", "m", 0, 1000, 'Q_(20, "m")', above_low=True)
CONDUCTOR = Domain("conductor temperature", "degC", -40, 90, 'Q_(75, "degC")')
TAPE_CAUTION = (
    "Numbers for an electrician, who chooses and makes the circuit; they do not say that it is safe. Pipe heating"
    " counts as a continuous load. A cold self-regulating tape starts with more than it holds: the maker's table of"
    " longest lengths decides. Only tape and insulation that the tape's maker lists together, grounded covering, no"
    " extension lead. Test the protective device before each frost: a tripped one is a silent power cut, and tape"
    " stores no heat. The maker's instructions and local code decide."
)
WHICH_DEVICE = (
    "Take the device that code and the maker name for this circuit: one that protects people may trip by itself on a"
    " long heat tape, and a tripped device is a silent power cut."
)


@dataclass(frozen=True, repr=False, eq=False)
class Circuit(Printed):
    """Holds the numbers of one circuit; each quantity a single value or an array.

    load : continuous [A]; breaker : its rating [A]
    factor : by which the region's rule multiplies a continuous load, a plain number
    continuous_limit : the most that this breaker may carry for hours by that rule [A]
    room : limit less load [A]; 0 is at the limit, negative is over it
    least_rating : load times factor [A]; next_breaker : standard rating from there up [A], inf: none
    longest_tape : on this breaker, warm [m]; None where there is no tape
    voltage_drop : along the supply cable [V]; drop_share : of the supply voltage [%]; None without a cable
    drop_guidance, ground_fault, caution : text that travels with the numbers
    """

    load: Quantity
    breaker: Quantity
    factor: float
    continuous_limit: Quantity
    room: Quantity
    least_rating: Quantity
    next_breaker: Quantity
    longest_tape: Quantity
    voltage_drop: Quantity
    drop_share: float | np.ndarray
    drop_guidance: str
    ground_fault: str
    caution: str

    def _rows(self):
        return [row for row in super()._rows() if row[1] != "None"]


def tape_circuit(
    power,
    length,
    voltage,
    breaker,
    *,
    region="United States",
    cable=None,
    cable_length=None,
    conductor=Q_(75.0, "degC"),
) -> Circuit:
    """The circuit of a heat tape.

    power : of the tape when it holds the pipe, per metre; length : of the tape
    voltage, breaker : supply voltage and rating of the breaker
    region : "United States" or "IEC": rule for a continuous load, standard ratings and ground-fault note
    cable, cable_length : supply cable in data/cables.csv and its length one way, for the voltage drop
    conductor : temperature of the cable's copper; 75 degC is the cautious figure of a loaded cable
    Raises InputError.
    """
    per_metre, metres, volts = to_base(power, TAPE_POWER), to_base(length, LENGTH), to_base(voltage, VOLTAGE)
    rating = to_base(breaker, RATING)
    broadcast(power=per_metre, length=metres, voltage=volts, breaker=rating)
    load = physics.current(per_metre * metres, volts)
    longest = quantity(physics.longest_tape(per_metre, volts, rating, continuous_factor(region)), "m")
    return _circuit(load, volts, rating, region, cable, cable_length, conductor, longest, TAPE_CAUTION)


def _circuit(load, volts, rating, region, cable, cable_length, conductor, longest, caution) -> Circuit:
    shape = broadcast(load=load, voltage=volts, breaker=rating)
    ladder = breakers(region)
    factor = continuous_factor(region)
    limit, least = physics.continuous_limit(rating, factor), physics.least_rating(load, factor)
    drop = drop_along(load, cable, cable_length, conductor)
    if drop is not None:
        broadcast(load=np.empty(shape), cable=drop)
    return Circuit(
        load=quantity(load, "A"),
        breaker=quantity(rating, "A"),
        factor=factor,
        continuous_limit=quantity(limit, "A"),
        room=quantity(limit - load, "A"),
        least_rating=quantity(least, "A"),
        next_breaker=quantity(physics.next_standard(least, ladder), "A"),
        longest_tape=longest,
        voltage_drop=None if drop is None else quantity(drop, "V"),
        drop_share=None if drop is None else quantity(100 * drop / volts, "percent"),
        drop_guidance=drop_guidance(region),
        ground_fault=ground_fault(region),
        caution=joined(caution, continuous_rule(region)),
    )


def drop_along(load, cable, cable_length, conductor):
    """Voltage lost in the supply cable [V]; None where no cable was named. load [A]; the others as in tape_circuit.
    Raises InputError.
    """
    if cable is None and cable_length is None:
        return None
    if cable is None or cable_length is None:
        raise InputError("cable: give both the cable and its length, or neither.")
    listed = float(tables.row("cables", "cable", cable, "cable")["resistance"]) / 1000
    metres, warm = to_base(cable_length, CABLE_LENGTH), to_base(conductor, CONDUCTOR)
    broadcast(load=load, cable_length=metres, conductor=warm)
    return physics.voltage_drop(physics.conductor_resistance(listed, warm), metres, load)


def rows_of(region: str, kind: str) -> list[dict]:
    """The rows of one kind of a region in data/circuits.csv. Raises InputError for unknown regions."""
    name = tables.row("circuits", "region", region, "region")["region"]
    return [row for row in tables.rows("circuits") if (row["region"], row["kind"]) == (name, kind)]


def breakers(region: str) -> np.ndarray:
    """Gives a region's standard ratings [A], rising."""
    return np.array([float(value) for value in rows_of(region, "breaker")[0]["value"].split()])


def continuous_factor(region: str) -> float:
    """Gives by what a continuous load is multiplied to get the least rating, a plain number. Raises InputError for
    unknown regions.
    """
    return float(rows_of(region, "continuous")[0]["value"])


def continuous_rule(region: str) -> str:
    """A region's rule for a load that runs for hours, in words. Raises InputError for unknown regions."""
    row, factor = rows_of(region, "continuous")[0], continuous_factor(region)
    rule = (
        f"{row['protects']} are rated for {100 * factor:.0f} % of it, so it is at most {100 / factor:.0f} % of the"
        " breaker"
        if factor > 1
        else (
            "it is at most the rating of the breaker, and that is at most what the cable carries where it "
            "lies; breakers side by side in a warm box carry less, by their maker's table"
        )
    )
    return f"A load that runs for hours, {row['region']}: {rule} ({row['source']}; {row['how_known']})."


def drop_guidance(region: str) -> str:
    """Gives what a region's guidance says of the voltage lost in cables. Raises InputError for unknown regions."""
    row = rows_of(region, "voltage drop")[0]
    return f"guidance, not a limit: {row['protects']} ({row['source']}, {row['how_known']})"


def ground_fault(region: str) -> str:
    """Gives what is asked for against ground faults of a heat tape in a region, the smaller current first. Raises
    InputError for unknown regions.
    """
    rows = sorted(rows_of(region, "ground fault"), key=lambda row: float(row["value"]))
    asked = "; ".join(
        f"{row['value']} mA to protect {row['protects']}: {row['source']} ({row['how_known']})" for row in rows
    )
    return f"{rows[0]['region']}: {asked}. {WHICH_DEVICE} Local code, its edition and the maker decide."
