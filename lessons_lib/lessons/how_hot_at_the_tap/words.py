"""The words of lesson 02 whose numbers the library works out: its guess, its calculation by hand."""

import numpy as np

from ...panels.guess import Guess, guess_temperature
from ...panels.pages import Told
from ...panels.shared_controls import in_goods, run_of, tern_bank_runs
from ...physics.properties import water
from ...quantities.display import SI, SYSTEMS, show
from ...quantities.units import Q_
from ...runs.insulation import NONE
from ...runs.pipe import aloud
from ...storage import preferences

SHOWN = {"length": "length", "air": "temperature", "wind": "wind", "supply": "temperature"}
TRICKLE = Q_(1.0, "L/min")


def _cabin(system: str, **changes):
    """Settings of the run that the panel opens on in a unit system, with some of them changed."""
    return {**in_goods(next(iter(tern_bank_runs().values())), system), **changes}


def _tap(system: str, **changes):
    settings = _cabin(system, **changes)
    return run_of(settings).delivery_temperature(settings["supply"], settings["flow"])


def _bare_trickle():
    """Gives what arrives with the foam gone and the tap nearly shut."""
    return _tap(preferences.unit_system(), insulation=NONE, flow=TRICKLE)


def guess() -> Guess:
    """Asks how warm the water is that arrives at the cabin's tap, bare and at a trickle."""

    def question(system: str) -> str:
        cabin = _cabin(system)
        shown = {name: show(cabin[name], kind, system) for name, kind in SHOWN.items()}
        # In hundredths: rounded up to 0.3 gpm it would arrive 5 °F warmer.
        flow = show(TRICKLE, "flow", SI) if system == SI else f"{TRICKLE.to('gpm').magnitude:.2f} gpm"
        return (
            f"At Tern Bank, an invented yard, {shown['length']} of bare {aloud(*cabin['pipe'])} lead to a cabin."
            f" The air is at {shown['air']}, and the wind blows at {shown['wind']}. Water leaves the tank at"
            f" {shown['supply']}. The tap runs at {flow}. How warm is the water there?"
        )

    return guess_temperature("02", question, _bare_trickle)


def by_hand() -> Told:
    """The cabin's run on paper, for the readers of both unit systems, held against the model."""
    (metric, compared), (us, _) = map(_on_paper, SYSTEMS)
    return Told("\n\n".join((metric, us, compared)))


def _on_paper(system: str) -> tuple[str, str]:
    """Gives the sums of one unit system's reader, and how far they are from the model."""
    cabin = _cabin(system)
    run, hot, air = run_of(cabin), cabin["supply"], cabin["air"]
    section = run.line.section
    inner, outer = Q_(section.insulation_bore, "m"), Q_(section.outside_of_insulation, "m")
    mean = 0.5 * (hot.to("degC").magnitude + air.to("degC").magnitude)
    k = Q_(float(section.conductivity(mean)), "W/(m*K)")
    difference = Q_(hot.to("degC").magnitude - air.to("degC").magnitude, "delta_degC")
    log = float(np.log(outer.magnitude / inner.magnitude))
    loss = round(float((2 * np.pi * k * Q_(difference.magnitude, "K") / log).to("W/m").magnitude), 1)
    whole = round(loss * cabin["length"].magnitude)
    flow = cabin["flow"]
    entering = water(hot.to("degC").magnitude)
    per_litre = round(float(entering.density * entering.heat_capacity) / 60_000, 1)  # [W per L/min and °C]
    inches = round(k.to("Btu*inch/(hour*ft**2*delta_degF)").magnitude, 3)
    fahrenheit, feet = round(difference.to("delta_degF").magnitude), round(cabin["length"].to("ft").magnitude)
    per_foot, gpm = round(2 * np.pi * inches * fahrenheit / (12 * round(log, 3)), 1), round(flow.to("gpm").magnitude, 1)
    btu = round(per_foot * feet)
    model, drop = run.heat_loss(hot, flow), Q_((hot - _tap(system)).magnitude, "delta_degC")
    metric = (
        f"**Metric.** Foam conductivity at the mean temperature ({mean:.0f} °C): k = {k.magnitude:.4f} W/(m K)."
        f" Diameters {outer.to('mm').magnitude:.1f} and {inner.to('mm').magnitude:.1f} mm, so ln(outer/inner) ="
        f" {log:.3f}.\n\n* Loss per m = 2π × {k.magnitude:.4f} × {difference.magnitude:.0f} ÷ {log:.3f} ="
        f" **{loss:.1f} W/m**; the panel says {model.magnitude:.1f} W/m.\n* Whole run: {loss:.1f} ×"
        f" {cabin['length'].magnitude:g} = {whole} W.\n* 1 L/min carries {per_litre:.1f} W for each °C (at"
        f" {hot.magnitude:.0f} °C). Drop = {whole} ÷ ({per_litre:.1f} × {flow.magnitude:g}) ="
        f" **{whole / (per_litre * flow.magnitude):.1f} °C**; the panel says {drop.magnitude:.1f} °C."
    )
    us = (
        f"**US customary.** k = {inches:.3f} Btu in/(h ft² °F), the difference is {fahrenheit} °F."
        "\n\n* Loss per ft = 2π"
        f" × {inches:.3f} × {fahrenheit} ÷ (12 × {log:.3f}) = **{per_foot:.1f} Btu/h ft**; the panel says"
        f" {model.to('Btu/(hour*ft)').magnitude:.1f}.\n* Whole run: {per_foot:.1f} × {feet} = {btu} Btu/h.\n* One gpm"
        f" carries about 500 Btu/h for each °F. Drop = {btu} ÷ (500 × {gpm:.1f}) = **{btu / (500 * gpm):.1f} °F**; the"
        f" panel says {drop.to('delta_degF').magnitude:.1f} °F."
    )
    compared = (
        f"By hand the loss comes out {100 * (loss / model.magnitude - 1):.0f} % high:"
        " paper counts the foam only; the model adds the film of air"
        " outside and the film of water inside."
    )
    return metric if system == SI else us, compared
