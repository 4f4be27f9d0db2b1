"""The sums of lesson 10 on a discharge pipe and on a mixing valve's own pressure, and its table of relief settings."""

from ...panels.pages import Told
from ...plant.closed_system import relief_settings
from ...plant.discharge import sizes
from ...quantities.units import Q_
from . import discharging, handing_over

UK = "United Kingdom"


def discharge_by_hand() -> str:
    """Gives a way round corners by the table of Approved Document G3, in Markdown."""
    settings = {**discharging.ready_made()[discharging.LONG], "region": UK}
    length, elbows = settings["length"].magnitude, round(settings["elbows"].magnitude)
    first, second, *_ = sizes(UK, settings["outlet"])
    needed = discharging.calculate(settings).needed

    def line(one) -> str:
        left = one.longest - elbows * one.elbow
        return (
            f"{one.size}: {one.longest:g} − {elbows} × {one.elbow:g} = **{left:g} m**, and {length:g} m is"
            f" {'within' if left >= length else 'more than'} that"
        )

    return (
        f"**The discharge pipe (UK table).** From the tundish it is {length:g} m long and has {elbows} elbows, behind a"
        f" valve with a {settings['outlet']} outlet. Each elbow takes some of the straight length that a size may"
        f" have.\n\n* {line(first)}.\n* {line(second)}. The panel asks for **{needed}**."
    )


def valve_by_hand() -> str:
    """Gives what a mixing valve takes of equal pressures, by the square of the flow, in Markdown."""
    settings = handing_over.ready_made()[handing_over.AT_FIXTURE]
    scene = handing_over.calculate(settings)
    flow, rated = settings["flow"].magnitude, settings["passes"].magnitude
    gallons, rated_gallons = (round(settings[name].to("gpm").magnitude, 2) for name in ("flow", "passes"))
    kilopascal, psi = (Q_(scene.takes, "Pa").to(unit).magnitude for unit in ("kPa", "psi"))
    return (
        f"**The mixing valve.** It takes 100 kPa (14.5 psi) at {rated:g} L/min ({rated_gallons:g} gpm), and pressure"
        f" goes with the square of the flow.\n\n* **Metric.** 100 × ({flow:g} ÷ {rated:g})² ="
        f" **{100 * (flow / rated) ** 2:.0f} kPa**; the panel says {kilopascal:.0f} kPa.\n* **US customary.** 14.5 ×"
        f" ({gallons:g} ÷ {rated_gallons:g})² = **{14.5 * (gallons / rated_gallons) ** 2:.1f} psi**; the panel says"
        f" {psi:.1f} psi."
    )


def relief_table() -> Told:
    """Gives the settings of protective devices by region, in both unit systems."""
    rows = ["| region | device | opens at | and at |", "|---|---|---|---|"]
    for one in relief_settings():
        warm, pressure = "", ""
        if one.lowest is not None:
            degrees = " to ".join(dict.fromkeys(f"{value.magnitude:.0f}" for value in (one.lowest, one.highest)))
            warm = f"{degrees} °C ({one.highest.to('degF').magnitude:.0f} °F at most)"
        if one.pressure is not None:
            pressure = f"{one.pressure.to('bar').magnitude:.1f} bar ({one.pressure.to('psi').magnitude:.0f} psi)"
        rows.append(f"| {one.region} | {one.device} | {pressure} | {warm} |")
    return Told("\n".join(rows))
