"""A filled system whose water grows: how much, where it goes, and what happens where it can't."""

from dataclasses import dataclass

import numpy as np

from ..physics import tank as physics
from ..quantities.border import ROUNDING, difference, first_bad
from ..quantities.errors import InputError, unknown_name
from ..quantities.results import Printed
from ..quantities.units import LENGTH, Q_, START, Domain, Quantity, broadcast, in_unit_of, quantity, share, to_base
from ..runs.pipe import Pipe, pipe_material
from ..storage import tables
from .tank import COLD, HOT

VOLUME = Domain("volume", "m**3", 0, 100, 'Q_(180, "L")', above_low=True)
VESSEL_VOLUME = Domain("vessel volume", "m**3", 0, 10, 'Q_(12, "L")', above_low=True)
EXPANDED = Domain("expanded volume", "m**3", 0, 10, 'Q_(3, "L")')
PRECHARGE = Domain("pre-charge", "Pa", 0, 2e6, 'Q_(300, "kPa")')
COLD_PRESSURE = Domain("cold pressure", "Pa", 0, 2e6, 'Q_(300, "kPa")')
HIGHEST_PRESSURE = Domain("highest pressure", "Pa", 0, 2e6, 'Q_(600, "kPa")')
PRESSURE = Domain("pressure", "Pa", 0, 2e6, 'Q_(300, "kPa")')
ATMOSPHERE = Domain("air pressure", "Pa", 50e3, 110e3, 'Q_(101.325, "kPa")')
TRAPPED_RISE = Domain("temperature rise", "delta_degC", 0, 99, 'Q_(10, "delta_degC")')
CHANGE = Domain("temperature change", "delta_degC", -150, 150, 'Q_(50, "delta_degC")')
AIR_OUTSIDE = Q_(physics.ATMOSPHERE / 1000, "kPa")  # at sea level

RELIEF_CAUTION = (
    "No valve, cap or plug on a relief valve or its discharge; the discharge full size, falling, visible, with an air"
    " gap, where it can't freeze. If it drips: switch the heat off, cap nothing, and call a licensed trade. Dripping at"
    " each heat-up means that expansion is not taken up: the vessel is the suspect. Settings differ by region; local"
    " code decides."
)
VESSEL_CAUTION = (
    "Measure and set the pre-charge with the heat off and the water side at zero: on a live main the gauge shows the"
    " main. In a system that has been in use a licensed trade does this. A result for choosing, not a design: the"
    " maker, local code and a licensed trade decide."
)
TRAPPED_CAUTION = (
    "Never leave water shut in between two valves where it can warm: one end must see the expansion vessel or a relief "
    "valve. Real pipes with some air rise less than this, and burst before they reach it. " + RELIEF_CAUTION
)


def expansion(volume, cold, hot):
    """Gives by how much the water of a filled system grows [L], from the density table.

    volume : water in the system when cold; cold, hot : temperatures
    The tank's own growth is left out, the cautious side. Raises InputError where hot is below cold.
    """
    filled, cool, warm = to_base(volume, VOLUME), to_base(cold, COLD), to_base(hot, HOT)
    broadcast(volume=filled, cold=cool, hot=warm)
    wrong = np.less(warm, cool)
    if np.any(wrong):
        low, high = (in_unit_of(hot, value, "degC") for value in first_bad(wrong, warm, cool))
        raise InputError(
            f"hot temperature: {low} was given; possible is from {high} (the cold) up. Are hot and cold exchanged?"
        )
    return quantity(filled * physics.growth_of_water(cool, warm), "m**3").to("L")


@dataclass(frozen=True, repr=False, eq=False)
class Vessel(Printed):
    """An expansion vessel that just suffices.

    volume : of the whole vessel [L]; the next larger one in the maker's list does
    acceptance : share of it that is water when hot and at the highest pressure, 0 to 1
    reserve : water that it holds already when cold [L]
    """

    volume: Quantity
    acceptance: Quantity
    reserve: Quantity
    caution: str = VESSEL_CAUTION


def vessel(expanded, precharge, highest, cold=None, atmosphere=AIR_OUTSIDE) -> Vessel:
    """The expansion vessel that takes up `expanded` without passing the `highest` pressure.

    expanded : volume by which the water grows: see `expansion`
    precharge : of the vessel's air, with the water side at zero
    highest : pressure when all is hot; below the relief valve's
    cold : pressure of the cold system, as the reducing valve sets it; None: equal to the pre-charge
    atmosphere : pressure of the air outside: less on a mountain
    Pressures as gauges show them, above the air's; Boyle's law is reckoned in absolute ones.
    Raises InputError where the pre-charge is above the cold pressure or that is not below the highest.
    """
    growth, outside = to_base(expanded, EXPANDED), to_base(atmosphere, ATMOSPHERE)
    charged, filled = _pressures(precharge, cold)
    top = to_base(highest, HIGHEST_PRESSURE)
    broadcast(expanded=growth, precharge=charged, highest=top, cold=filled, atmosphere=outside)
    wrong = np.less_equal(top, np.multiply(filled, 1 + ROUNDING))
    if np.any(wrong):
        high, low = (in_unit_of(highest, value, "Pa") for value in first_bad(wrong, top, filled))
        raise InputError(
            f"highest pressure: {high} was given; possible is above the cold pressure {low}, or no vessel is large"
            " enough. Lower the reducing valve or look at the relief valve's setting."
        )
    air, start, end = np.add(charged, outside), np.add(filled, outside), np.add(top, outside)
    volume = physics.vessel_volume(growth, air, start, end)
    acceptance = 1 - air / end
    return Vessel(
        volume=quantity(volume, "m**3").to("L"),
        acceptance=float(acceptance) if np.ndim(acceptance) == 0 else acceptance,
        reserve=quantity(volume * (1 - air / start), "m**3").to("L"),
    )


def vessel_pressure(volume, expanded, precharge, cold=None, atmosphere=AIR_OUTSIDE):
    """Pressure of the hot system with a vessel of this volume [kPa], as a gauge shows it; inf: no air is left.

    Arguments as in `vessel`.
    """
    whole, growth, outside = (
        to_base(volume, VESSEL_VOLUME),
        to_base(expanded, EXPANDED),
        to_base(atmosphere, ATMOSPHERE),
    )
    charged, filled = _pressures(precharge, cold)
    broadcast(volume=whole, expanded=growth, precharge=charged, cold=filled, atmosphere=outside)
    found = physics.vessel_pressure(whole, growth, np.add(charged, outside), np.add(filled, outside))
    return quantity(found - outside, "Pa").to("kPa")


def vessel_reading(precharge, water_side):
    """Gives what a gauge at the vessel's air valve shows [kPa]: the water's pressure as soon as that is the higher
    one.
    """
    charged, water = to_base(precharge, PRECHARGE), to_base(water_side, PRESSURE)
    broadcast(precharge=charged, water_side=water)
    return quantity(np.maximum(charged, water), "Pa").to("kPa")


def _pressures(precharge, cold):
    """Pre-charge and cold pressure [Pa above the air's], checked against each other."""
    charged = to_base(precharge, PRECHARGE)
    filled = charged if cold is None else to_base(cold, COLD_PRESSURE)
    broadcast(precharge=charged, cold=filled)
    wrong = np.greater(charged, np.multiply(filled, 1 + ROUNDING))
    if np.any(wrong):
        high, low = (in_unit_of(precharge, value, "Pa") for value in first_bad(wrong, charged, filled))
        raise InputError(
            f"pre-charge: {high} was given; possible is at most the cold pressure {low}, or the first of the "
            "growing water finds no room. Set it to the cold pressure, with the water side at zero."
        )
    return charged, filled


@dataclass(frozen=True, repr=False, eq=False)
class TrappedWater(Printed):
    """Water between two shut valves, warmed. rise : of its pressure [kPa]; 0 where the pipe grows more than the
    water
    """

    rise: Quantity
    caution: str = TRAPPED_CAUTION


def trapped_pressure_rise(start, rise, pipe=None, pressure=Q_(300.0, "kPa"), air=0.0) -> TrappedWater:
    """Pressure rise of water trapped between two shut valves and warmed.

    start : its temperature; rise : by how much it warms
    pipe : what encloses it, of a material in data/pipe_materials.csv; None: a rigid vessel, the worst case
    pressure : at the start, as a gauge shows it
    air : share of the volume that is air, 0 to 1; a little of it is what keeps real tanks at 4 to 6 psi/degF
    Plastic is taken as stiff as at 23 degC, though it softens when warm. Raises InputError.
    """
    begin, warming, gauge = to_base(start, START), difference(rise, TRAPPED_RISE), to_base(pressure, PRESSURE)
    broadcast(start=begin, rise=warming, pressure=gauge)
    if np.any(np.add(begin, warming) > HOT.high + ROUNDING):
        raise InputError(
            f"temperature rise: {rise} from {start} ends above 99 °C, where water is close to boiling. Choose less."
        )
    give, growth = give_and_growth(pipe)
    found = physics.trapped_rise(
        begin, warming, np.add(gauge, physics.ATMOSPHERE), give, growth, share(air, "share of air")
    )
    return TrappedWater(quantity(found, "Pa").to("kPa"))


def give_and_growth(pipe):
    """Says how a pipe yields to pressure [1/Pa] and grows with warmth [1/K]; 0 and 0 for a rigid vessel."""
    if pipe is None:
        return 0.0, 0.0
    if not isinstance(pipe, Pipe):
        raise InputError(
            f'pipe: {pipe!r} was given where a Pipe is needed, for example Pipe.nominal("copper L", "1/2 in"), or None.'
        )
    material = pipe_material(pipe.material)
    inside, outside = (value.to("m").magnitude for value in (pipe.inside_diameter, pipe.outside_diameter))
    return physics.give_of_pipe(inside, outside, material.elastic_modulus, material.poisson), material.expansion


def pipe_growth(material, length, change):
    """Gives by how much a free pipe lengthens [mm]; negative where it shortens.

    material : in data/pipe_materials.csv: "copper", "PEX", "CPVC", "stainless steel" …
    length : when it was fitted; change : of its temperature
    """
    grows = pipe_material(material).expansion
    long, warming = to_base(length, LENGTH), difference(change, CHANGE)
    broadcast(length=long, change=warming)
    return quantity(1e3 * grows * np.multiply(long, warming), "mm")


@dataclass(frozen=True, repr=False, eq=False)
class ReliefSetting(Printed):
    """Says when a protective device of a store acts, in one region.

    lowest, highest : its temperature [degC], None where it acts by pressure alone
    pressure : above the air's [kPa], None where the source states none
    source : where it is from and how it is known
    """

    region: str
    device: str
    lowest: Quantity
    highest: Quantity
    pressure: Quantity
    source: str
    caution: str = RELIEF_CAUTION


def relief_settings(region: str | None = None) -> tuple[ReliefSetting, ...]:
    """The settings of data/relief_settings.csv, of one region or of all. Raises InputError for an unknown region."""
    rows = tables.rows("relief_settings")
    known = list(dict.fromkeys(row["region"] for row in rows))
    if region is not None and str(region).lower() not in [name.lower() for name in known]:
        raise unknown_name("region", region, known, "Local code decides in any case.")
    return tuple(
        ReliefSetting(
            row["region"],
            row["device"],
            *(
                Q_(float(row[name]), unit) if row[name] else None
                for name, unit in (("low_degC", "degC"), ("high_degC", "degC"), ("kPa", "kPa"))
            ),
            row["source"],
        )
        for row in rows
        if region is None or row["region"].lower() == str(region).lower()
    )
