"""The sums of the water side on paper: a pump on its loop, frost on the coil, a tank in layers."""

from ...panels.pages import Told
from ...panels.shared_controls import in_goods
from ...physics import moist_air
from ...physics.heat_pump import EVAPORATOR_STEP
from ...physics.properties import water
from ...physics.pump import EXCHANGER_POWER, STRAINER_FLOW, STRAINER_LOSS
from ...quantities.display import SI, SYSTEMS, number, show
from ...quantities.units import Q_
from .frost_outside import calculate as frost_scene
from .frost_outside import ready_made as frost_settings
from .pump_on_the_loop import calculate as pump_scene
from .pump_on_the_loop import ready_made as pump_settings
from .tank_and_units import calculate as tank_scene
from .tank_and_units import ready_made as tank_settings


def water_by_hand() -> Told:
    """The three sums for the readers of both unit systems, each held against its panel."""
    parts = [f"**{system[0].upper()}{system[1:]}.**\n\n{_pump(system)}\n{_tank(system)}" for system in SYSTEMS]
    return Told("\n\n".join((*parts, f"**Both.**\n\n{_coil()}")))


def _opening(ready_made, calculate, system: str) -> tuple[dict, object]:
    """Gives the settings that a panel opens with, and its scene."""
    settings = in_goods(next(iter(ready_made().values())), system)
    return settings, calculate(settings)


def _pump(system: str) -> str:
    settings, scene = _opening(pump_settings, pump_scene, system)

    def pressure(value) -> float:
        return float(number(value, "loop pressure", system))

    def flow(value) -> float:
        return float(number(value, "measured flow", system))

    here, most, rated = (flow(value) for value in (Q_(scene.flow, "m**3/s"), settings["largest"], settings["rated"]))
    shut_off, stated = pressure(settings["shut_off"]), pressure(settings["loss"])
    strainer, at = pressure(Q_(STRAINER_LOSS, "Pa")), flow(Q_(STRAINER_FLOW, "m**3/s"))
    gives = shut_off * (1 - (here / most) ** 2)
    takes = stated * (here / rated) ** EXCHANGER_POWER, strainer * (here / at) ** 2
    places, unit = (1, "kPa") if system == SI else (2, "psi")
    lines = show(Q_(scene.parts[0], "Pa"), "loop pressure", system)
    litre = "L/min" if system == SI else "gpm"
    each, heat, degrees = _carried(scene, settings, system)
    return (
        f"* The pump at {here:g} {litre}: {shut_off:g} × (1 − ({here:g} ÷ {most:g})²) = {gives:.{places}f} {unit}."
        f" The exchanger takes {stated:g} × ({here:g} ÷ {rated:g})^{EXCHANGER_POWER:g} = {takes[0]:.{places}f} {unit},"
        f" the clean strainer {strainer:g} × ({here:g} ÷ {at:g})² = {takes[1]:.{places}f} {unit}. For both lines"
        f" **{gives - sum(takes):.{places}f} {unit}** is left; the panel says {lines}.\n* Rise: {heat:.0f} ÷"
        f" ({each:g} × {here:g}) = **{heat / each / here:.1f} {degrees}**; the panel says"
        f" {show(Q_(scene.rise, 'delta_degC'), 'temperature drop', system)}."
    )


def _carried(scene, settings: dict, system: str) -> tuple[float, float, str]:
    """Gives what one step of flow carries for each degree, the heat in the same unit, and the degree."""
    entering = water(scene.back)
    if system == SI:
        each = float(entering.density * entering.heat_capacity) / 60_000
        return round(each, 1), settings["heat"].to("W").magnitude, "°C"
    return 500.0, settings["heat"].to("Btu/hour").magnitude, "°F"


def _tank(system: str) -> str:
    settings, scene = _opening(tank_settings, tank_scene, system)
    hot, cold, wanted = (
        float(number(Q_(value, "degC"), "temperature", system)) for value in (scene.store, scene.cold, scene.wanted)
    )
    tank, unit = float(number(settings["tank"], "large volume", system)), "L" if system == SI else "gal"
    found = scene.filled * tank * (hot - cold) / (wanted - cold)
    says = show(Q_(scene.usable[1], "m**3"), "large volume", system)
    return (
        f"* Usable from layers: {scene.filled:g} × {tank:g} × ({hot:g} − {cold:g}) ÷ ({wanted:g} − {cold:g}) ="
        f" **{found:.1f} {unit}**; the panel says {says}."
    )


def _coil() -> str:
    _, scene = _opening(frost_settings, frost_scene, SI)
    holds = 1000 * float(moist_air.humidity_ratio(scene.air, scene.humidity))
    keeps = 1000 * float(moist_air.humidity_ratio(scene.coil, 1.0))
    each = moist_air.SUBLIMATION / 1000
    wet, dry = (holds - keeps) * each, EVAPORATOR_STEP * (moist_air.AIR_HEAT + moist_air.VAPOUR_HEAT * holds / 1000)
    return (
        f"* 1 kg of dry air at {scene.air:.0f} °C and {100 * scene.humidity:.0f} % holds {holds:.2f} g of water. At the"
        f" coil's −{-scene.coil:.0f} °C only {keeps:.2f} g stay in it. {holds - keeps:.2f} g × {each:.0f} J/g ="
        f" {wet:.0f} J come from frost, and {dry:.0f} J from cooling the air by {EVAPORATOR_STEP:.0f} °C. So the frost"
        f" brings **{100 * wet / (wet + dry):.1f} %** of the heat; the panel says {100 * scene.latent:.1f} %."
    )
