"""A pressure test of bare pipe: the pressure that a rule asks for, and what the gauge does that is no leak."""

from dataclasses import dataclass

import numpy as np

from ..physics import pressure_test as physics
from ..quantities.border import difference
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import LENGTH, START, Domain, Quantity, quantity, share, to_base
from ..runs.pipe import Pipe
from ..storage import tables
from .closed_system import give_and_growth

WORKING = Domain("working pressure", "Pa", 50e3, 2e6, 'Q_(600, "kPa")')
TESTED = Domain("test pressure", "Pa", 50e3, 3e6, 'Q_(600, "kPa")')
WARMED = Domain("change of temperature", "delta_degC", -30, 30, 'Q_(1, "delta_degC")')
WATCHED = Domain("time", "s", 0, 1e6, 'Q_(15, "min")', above_low=True)
LEAK = Domain("leak", "m**3/s", 0, 1e-3, 'Q_(1, "mL/min")')
WATER, AIR = "water", "air"
CAUTION = (
    "Test with water, and never with air in plastic: squeezed air throws what lets go. Only bare pipe is tested, with"
    " nobody in line with a joint and the air bled out. An air test of metal is for licensed trades under their own"
    " rules. Local code and the pipe's maker name pressure and time."
)


@dataclass(frozen=True, repr=False, eq=False)
class Rule(Printed):
    """Says how a region's rule has new pipe tested.

    factor : of the highest working pressure, for water; minutes : that it is watched, of metal and of plastic
    least_air : least pressure of an air test [kPa], None where the rule names none
    """

    name: str
    region: str
    factor: float
    least_air: Quantity | None
    minutes: tuple[float, float]
    words: str
    source: str
    caution: str = CAUTION

    def pressure(self, working, medium: str = WATER):
        """Gives the least pressure of the test [kPa]. working : the highest that the pipe will see"""
        asked = to_base(working, WORKING) * self.factor
        if medium == AIR and self.least_air is not None:
            asked = self.least_air.to("Pa").magnitude
        return quantity(asked, "Pa").to("kPa")


def rules() -> tuple[Rule, ...]:
    """Gives the rules of data/pressure_tests.csv."""
    return tuple(
        Rule(
            row["rule"],
            row["region"],
            row.number("factor"),
            quantity(1000 * row.number("least_air"), "Pa").to("kPa") if row["least_air"] else None,
            (row.number("metal"), row.number("plastic")),
            row["words"],
            row["source"],
        )
        for row in tables.rows("pressure_tests")
    )


@dataclass(frozen=True, repr=False, eq=False)
class PressureTest(Printed):
    """Says what a gauge shows through a test.

    times [min], gauge [kPa] : the whole course; by_temperature : what the gauge would show at the end without a leak
    per_degree : how far one degree more moves the gauge at the end, without a leak [kPa]
    content : of the pipe [L]; energy : set free if the pipe lets go at the test pressure [J]
    """

    times: Quantity
    gauge: Quantity
    by_temperature: Quantity
    per_degree: Quantity
    content: Quantity
    energy: Quantity
    caution: str = CAUTION


def pressure_test(pipe, length, pressure, start, warmed, time, leak, air=0.0) -> PressureTest:
    """Gives what the gauge on a closed pipe shows through a test.

    pressure : at the start, above the air's; start : the water's temperature; warmed : by how much it changes over the
    test, negative where it cools; time : of the test; leak : at the pressure of the start; air : share of the volume,
    1 for an air test
    The pipe is free to grow and as stiff as at 23 degC; plastic that stretches slowly is left out. Raises InputError.
    """
    if not isinstance(pipe, Pipe):
        raise InputError(
            f'pipe: {pipe!r} was given where a Pipe is needed, for example Pipe.nominal("copper L", "1/2 in").'
        )
    begin, change = float(to_base(start, START)), float(difference(warmed, WARMED))
    if not 0.5 <= begin + change <= 99:
        raise InputError(
            f"change of temperature: {warmed} from {start} ends where water freezes or is close to boiling."
            " Choose less."
        )
    gauge, seconds, lost = (float(to_base(*one)) for one in ((pressure, TESTED), (time, WATCHED), (leak, LEAK)))
    bore = pipe.inside_diameter.to("m").magnitude
    content = float(0.25 * np.pi * bore**2 * to_base(length, LENGTH))
    within = float(share(air, "share of air"))
    give, growth = (float(one) for one in give_and_growth(pipe))
    absolute = gauge + physics.ATMOSPHERE
    times, found = physics.course(begin, change, absolute, seconds, lost / content, within, give, growth)

    def at(end: float) -> float:
        return physics.closed_pressure(begin, end, absolute, 0.0, within, give, growth)

    half = 0.05
    end = begin + change
    stored = (
        physics.air_energy(content, absolute) if within == 1 else physics.water_energy(content, absolute, begin, give)
    )
    return PressureTest(
        times=quantity(np.array(times), "s").to("min"),
        gauge=quantity(np.maximum(np.array(found) - physics.ATMOSPHERE, 0.0), "Pa").to("kPa"),
        by_temperature=quantity(max(at(end) - physics.ATMOSPHERE, 0.0), "Pa").to("kPa"),
        per_degree=quantity((at(end + half) - at(end - half)) / (2 * half), "Pa").to("kPa"),
        content=quantity(content, "m**3").to("L"),
        energy=quantity(float(stored), "J"),
    )
