"""The words of lesson 01 whose numbers the library works out: its guess, its calculation by hand."""

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...physics.heat_pump import CONDENSER_STEP, EVAPORATOR_STEP, SHARE_OF_CARNOT
from ...physics.properties import KELVIN
from ...quantities.display import US, both, burns, celsius, show
from ...quantities.units import Q_
from ...runs.bacteria import RECOMMENDED_STORE, guidance
from ...runs.scald import time_to_burn
from ...storage.tables import rows
from .panel import COOL, ROOM, STANDBY, calculate, workshop


def _opening() -> dict:
    """The settings that the panel opens on."""
    return next(iter(workshop().values()))


def _burn(temperature) -> str:
    burn = time_to_burn(temperature)
    return burns(burn.seconds.magnitude, burn.bound)


def _warm(temperature) -> str:
    return both(temperature, "temperature")


def guess() -> Guess:
    """Asks how long skin lasts in water at 60 degC."""

    def question(system: str) -> str:
        cool, hot = (show(value, "temperature", system) for value in (COOL, RECOMMENDED_STORE))
        return (
            f"A tap without a mixing valve gives {cool}. An adult's skin {_burn(COOL)}."
            f" Somebody turns the tank up to {hot}. After how many seconds does skin burn?"
        )

    slide = Slide("My guess", "seconds", Q_(150.0, "s"), (1, 300, 1), (1, 300, 1), "what you expect")
    return Guess("01", question, slide, lambda: time_to_burn(RECOMMENDED_STORE).seconds)


def by_hand() -> Told:
    """The panel's opening picture on paper, in both sets of units, held against the panel."""
    scene = calculate(_opening())
    used, volume = _opening()["used"], Q_(scene.volume, "m**3")
    return Told(
        f"{_metric(scene, used, volume)}\n\n{_customary(scene, used, volume)}\n\nPaper and panel agree to about one"
        " part in a hundred. Paper takes round constants for water's weight and heat. The panel takes both from its"
        " table at the temperatures of the day."
    )


def _metric(scene, used, volume) -> str:
    share = (scene.wash - scene.cold) / (scene.tank - scene.cold)
    heat = used.magnitude * (scene.wash - scene.cold) * 1.163 / 1000
    lost = STANDBY.to("kWh/day").magnitude * (scene.tank - ROOM.magnitude) / 45
    hot, cold = scene.tank + CONDENSER_STEP, scene.outdoor - EVAPORATOR_STEP
    cop = round(SHARE_OF_CARNOT * (hot + KELVIN) / (hot - cold), 2)
    litres = volume.to("L").magnitude
    return (
        f"**Metric.** Tank {litres:.0f} L at {scene.tank:.0f} °C, cold {scene.cold:.0f} °C, washing at {scene.wash:.0f}"
        f" °C.\n\n* Hot share = ({scene.wash:.0f} − {scene.cold:.0f}) ÷ ({scene.tank:.0f} − {scene.cold:.0f}) ="
        f" **{share:.2f}**. Water at the tap = {litres:.0f} ÷ {share:.2f} = **{litres / share:.0f} L**; the panel says"
        f" {1000 * scene.mixed:.0f} L.\n* Heat to the taps = {used.magnitude:.0f} L × {scene.wash - scene.cold:.0f} °C"
        f" × 1.163 Wh = **{heat:.1f} kWh**; the panel says {scene.heat:.1f} kWh.\n* The tank loses"
        f" {STANDBY.to('kWh/day').magnitude:g} kWh at 45 °C above its room, so ({scene.tank:.0f} −"
        f" {ROOM.magnitude:.0f}) ÷ 45 of that: **{lost:.1f} kWh**.\n* COP = {SHARE_OF_CARNOT} × ({hot:.0f} + 273) ÷"
        f" ({hot:.0f} − ({_plain(cold)})) = **{cop}**: the heat pump condenses {CONDENSER_STEP:.0f} °C above the store"
        f" and takes its heat {EVAPORATOR_STEP:.0f} °C below the air.\n* Electricity = ({heat:.2f} + {lost:.2f}) ÷"
        f" {cop} = **{(heat + lost) / cop:.1f} kWh**; the panel says {scene.electricity:.1f} kWh."
    )


def _plain(value: float) -> str:
    """A whole number with a true minus sign."""
    return f"{value:.0f}".replace("-", "−")


def _customary(scene, used, volume) -> str:
    tank, cold, wash, room = (
        round(celsius(value).to("degF").magnitude) for value in (scene.tank, scene.cold, scene.wash, ROOM.magnitude)
    )
    gallons, a_day = volume.to("gallon").magnitude, used.to("gallon").magnitude
    share = (wash - cold) / (tank - cold)
    heat = a_day * 8.34 * (wash - cold)
    lost = STANDBY.to("Btu/day").magnitude * (tank - room) / 81
    hot = round(celsius(scene.tank + CONDENSER_STEP).to("degF").magnitude)
    outside = celsius(scene.outdoor - EVAPORATOR_STEP).to("degF").magnitude
    cop = round(SHARE_OF_CARNOT * (hot + 460) / (hot - round(outside)), 2)
    return (
        f"**US customary.** Tank {gallons:.1f} gal at {tank} °F, cold {cold} °F, washing at {wash} °F.\n\n* Hot share ="
        f" ({wash} − {cold}) ÷ ({tank} − {cold}) = **{share:.2f}**. Gallons = {gallons:.1f} ÷ {share:.2f} ="
        f" **{gallons / share:.0f} gal**; the panel says {show(Q_(scene.mixed, 'm**3'), 'large volume', US)}.\n* Heat"
        f" to the taps = {a_day:.1f} gal × 8.34 lb × {wash - cold} °F = **{heat:,.0f} Btu** = {heat / 3412:.1f} kWh"
        f" (3,412 Btu each).\n* The tank loses {STANDBY.to('Btu/day').magnitude:,.0f} Btu at 81 °F above its room, so"
        f" ({tank} − {room}) ÷ 81 of that: **{lost:,.0f} Btu**.\n* COP = {SHARE_OF_CARNOT} × ({hot} + 460) ÷ ({hot} −"
        f" {outside:.0f}) = **{cop}**.\n* Electricity = ({heat:,.0f} + {lost:,.0f}) ÷ {cop} ÷ 3,412 ="
        f" **{(heat + lost) / cop / 3412:.1f} kWh**."
    )


def advice() -> Told:
    """Gives a table of what regions ask of the store and of the tap."""
    lines = ["| who | where | what is asked |", "|---|---|---|"]
    for row in guidance("store"):
        lines.append(f"| {row['name']} | in the store | at least {_warm(celsius(float(row['low'])))} |")
    for row in guidance("tap"):
        lines.append(f"| {row['name']} | hot tap before any valve | at least {_warm(celsius(float(row['low'])))} |")
    for row in rows("code_limits"):
        if row["kind"] == "most":
            lines.append(f"| {row['region']} | {row['where']} | at most {_warm(celsius(float(row['degC'])))} |")
    return Told("\n".join(lines))
