"""Pressure, speed, and the flow that a tap really gets.

Functions take a pipe, its length and its fittings, or `legs`: a sequence of (pipe, length, fittings) in the order that
the water takes them. Fittings are what `resolve_fittings` takes or returns.
"""

from dataclasses import dataclass

import numpy as np

from ..physics import pressure as physics
from ..physics.properties import water as water_properties
from ..quantities.border import number
from ..quantities.errors import InputError
from ..quantities.results import Printed
from ..quantities.units import (
    FLOW_OR_NONE,
    LENGTH,
    WATER,
    Domain,
    Quantity,
    broadcast,
    number_in,
    quantity,
    to_base,
    unit_of,
    ureg,
)
from ..storage import tables
from .fittings import resolve_fittings
from .pipe import Pipe

__all__ = [
    "CAUTION",
    "SpeedLimit",
    "fastest",
    "flow_at",
    "flow_through",
    "flow_through_each",
    "hazen_williams",
    "pressure_drop",
    "pressure_drop_through",
    "resolve_fittings",
    "speed",
    "speed_limit",
]

PRESSURE = Domain("pressure", "Pa", 0, 2e6, 'Q_(300, "kPa")')
HEIGHT = Domain("height", "m", -200, 200, 'Q_(3, "m")')
UNITED_STATES = "United States"  # its speed limits are the stricter ones for hot copper
CAUTION = (
    "Steady flow through new, clean pipe, taps wide open. Tables of fittings differ twofold (Technical Paper 410 is"
    " taken here); the hand method's C of 123 to 150 in print is 40 % in loss. Meters, filters, mixing valves, flow"
    " limiters and scale take their own share: makers' figures. The pressure is the one at the start of the run while"
    " the water flows. Where supply pressure exceeds what parts are rated for, or a code sizes the pipe, local code and"
    " a licensed trade decide."
)
SPEED_CAUTION = (
    "Above it water wears copper, most of all hot and at elbows and burrs, and any pipe grows noisy and hammers when a "
    "tap shuts. The maker's figure and local code decide."
)


def _legs(legs) -> list[physics.FlowLeg]:
    """Gives the same in SI floats, checked."""
    if isinstance(legs, str) or not hasattr(legs, "__iter__"):
        raise InputError("legs: give at least one (pipe, length, fittings).")
    found = [_leg(*leg) if isinstance(leg, (tuple, list)) and len(leg) == 3 else _refuse(leg) for leg in legs]
    return found or _refuse(())


def _refuse(leg):
    raise InputError(f"legs: {leg!r} was given where (pipe, length, fittings) is needed, at least one.")


def _leg(pipe, length, fittings) -> physics.FlowLeg:
    bore, metres, resolved = _bore(pipe), to_base(length, LENGTH), resolve_fittings(fittings)
    return physics.FlowLeg(bore, number_in(pipe.roughness, "m"), metres + resolved.bores(bore), resolved.holes(bore))


def _bore(pipe) -> float:
    """Inside diameter [m]."""
    if not isinstance(pipe, Pipe):
        raise InputError(
            f'pipe: {pipe!r} was given where a Pipe is needed, for example Pipe.nominal("copper L", "1/2 in").'
        )
    return number_in(pipe.inside_diameter, "m")


def speed(pipe, flow):
    """Mean speed of the water [m/s]. flow : volume flow, 0 or more, one value or an array"""
    return quantity(physics.speed(to_base(flow, FLOW_OR_NONE), _bore(pipe)), "m/s")


def fastest(legs, flow):
    """Speed in the leg with the smallest bore [m/s]; one flow through all."""
    bores = [leg.inside_diameter for leg in _legs(legs)]
    return quantity(physics.speed(to_base(flow, FLOW_OR_NONE), min(bores)), "m/s")


def pressure_drop(pipe, length, fittings, flow, water):
    """Pressure lost to friction and fittings along one run [kPa]; see pressure_drop_through."""
    return pressure_drop_through([(pipe, length, fittings)], flow, water)


def pressure_drop_through(legs, flow, water):
    """Pressure lost to friction and fittings along legs in a row [kPa]. Height is not part of it.

    legs : sequence of (pipe, length, fittings)
    flow : volume flow at the water's temperature, 0 or more, the same in every leg; water : its temperature, 0 to 99
        degC
    Darcy-Weisbach with Churchill's friction factor; fittings by equivalent length, taps as holes (data/fittings.csv).
    Raises InputError.
    """
    inside = _legs(legs)
    moving, temperature = to_base(flow, FLOW_OR_NONE), to_base(water, WATER)
    broadcast(flow=moving, water=temperature, **_lengths(inside))
    return quantity(physics.loss(inside, moving, water_properties(temperature)), "Pa").to("kPa")


def flow_at(pipe, length, fittings, pressure, height, water):
    """Flow at the far end of one run [L/min]; see flow_through."""
    return flow_through([(pipe, length, fittings)], pressure, height, water)


def flow_through(legs, pressure, height, water):
    """Flow that a pressure drives through legs in a row [L/min]; 0 where it cannot lift the water that high.

    legs : sequence of (pipe, length, fittings); without a tap among the fittings the far end is wide open
    pressure : at the start while the water flows, above the air's (a gauge reading), 0 to 2 MPa
    height : of the tap above the start; negative below it
    water : temperature, 0 to 99 degC
    Raises InputError.
    """
    return _driven(_legs(legs), pressure, height, water)


def flow_through_each(legs, pressure, height, water):
    """Flow that one pressure would drive through each of several legs instead of one another [L/min], shape (n,).

    legs : sequence of (pipe, length, fittings), single values; the others as in flow_through
    """
    instead = physics.FlowLeg(*(np.array(values, dtype=float) for values in zip(*_legs(legs))))
    return _driven([instead], pressure, height, water)


def _driven(legs, pressure, height, water):
    """The flow of flow_through; legs in SI."""
    available, lift, temperature = to_base(pressure, PRESSURE), to_base(height, HEIGHT), to_base(water, WATER)
    broadcast(pressure=available, height=lift, water=temperature, **_lengths(legs))
    return quantity(physics.flow_for(legs, available, lift, water_properties(temperature)), "m**3/s").to("L/min")


def _lengths(legs) -> dict:
    return {f"length of leg {place}": leg.length for place, leg in enumerate(legs, 1)}


def hazen_williams(pipe, length, flow, coefficient=150):
    """Friction along a run by the trade's hand method [kPa]: no temperature, no fittings.

    coefficient : C, up to 160; printed tables for copper and plastic use anything from 123 to 150, 40 % in loss
    (150: Copper Tube Handbook). Raises InputError.
    """
    rate = number(coefficient, "Hazen-Williams C", 50, 160, 150)
    metres, moving = to_base(length, LENGTH), to_base(flow, FLOW_OR_NONE)
    broadcast(length=metres, flow=moving)
    return quantity(metres * physics.hazen_williams(moving, _bore(pipe), rate), "Pa").to("kPa")


@dataclass(frozen=True, repr=False, eq=False)
class SpeedLimit(Printed):
    """Speed that water should not exceed, for a material, a region and a temperature.

    region : whose practice it is
    low, high : the span that the source gives [m/s]; where it names one figure they are the same
    source, how_known : text, or an array of text
    """

    material: str
    region: str
    low: Quantity
    high: Quantity
    source: str | np.ndarray
    how_known: str | np.ndarray
    caution: str = SPEED_CAUTION


def speed_limit(material, water) -> SpeedLimit:
    """A published speed limit for a pipe material at a water temperature: each region has its own.

    material : a name in data/pipe_materials.csv: the United States' limit; or a Pipe: the limit of the region of its
        standard, and the United States' where the table has none for that. A material that data/speed_limits.csv does
        not have takes that table's limit for any other
    water : temperature, 0 to 99 degC, one value or an array
    Raises InputError.
    """
    named = (material.material or material.name) if isinstance(material, Pipe) else str(material)
    temperature = to_base(water, WATER)
    name = tables.row("pipe_materials", "material", named, "speed limit, pipe material")["material"]
    of_material = tables.rows_or_other("speed_limits", "material", name)
    wanted = material.region if isinstance(material, Pipe) else UNITED_STATES
    regions = {row["region"] for row in of_material}
    if not regions & {wanted, UNITED_STATES}:  # a material that is sold elsewhere only
        of_material = tables.rows_or_other("speed_limits", "material", tables.ANY_OTHER)
    region = wanted if wanted in {row["region"] for row in of_material} else UNITED_STATES
    rows = [row for row in of_material if row["region"] == region]
    edges = np.array([float(row["to"]) for row in rows])
    index = np.searchsorted(edges, np.asarray(temperature) - 1e-6)
    low, high = (
        np.array([ureg.convert(float(row[key]), unit_of(row["unit"]), unit_of("m/s")) for row in rows])[index]
        for key in ("low", "high")
    )
    texts = (np.array([row[key] for row in rows], dtype=object)[index] for key in ("source", "how_known"))
    return SpeedLimit(name, region, quantity(low, "m/s"), quantity(high, "m/s"), *texts)
