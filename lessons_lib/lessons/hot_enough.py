"""The words of lesson 01 whose numbers the library works out: its guess, its questions, its calculation by hand."""

from ..bacteria import guidance
from ..display import US, both, burns, celsius, show
from ..heat_pump import store_cost
from ..panels.controls import Slide
from ..panels.guess import Guess
from ..panels.hot_enough import LEAST_DIFFERENCE, ROOM, STANDBY, WASH, calculate, workshop
from ..panels.pages import Answer, Told
from ..physics.heat_pump import CONDENSER_STEP, EVAPORATOR_STEP, SHARE_OF_CARNOT
from ..physics.properties import KELVIN
from ..scald import time_to_burn
from ..tables import rows
from ..tank import USUAL_USABLE, hot_share, water_at_the_tap
from ..units import Q_

COOL, HOT = Q_(49.0, "degC"), Q_(60.0, "degC")
# The rig of the questions: store, cold main, valve, tank.
STORE, MAINS, VALVE, TANK = Q_(58.0, "degC"), Q_(8.0, "degC"), Q_(46.0, "degC"), Q_(150.0, "L")


def _opening(**changes) -> dict:
    """The settings that the panel opens on, with some of them changed."""
    return {**next(iter(workshop().values())), **changes}


def _burn(temperature) -> str:
    burn = time_to_burn(temperature)
    return burns(burn.seconds.magnitude, burn.bound)


def _warm(temperature) -> str:
    return both(temperature, "temperature")


def guess() -> Guess:
    """How long does skin last at 60 degC?"""

    def question(system: str) -> str:
        cool, hot = (show(value, "temperature", system) for value in (COOL, HOT))
        return (
            f"A tap without a mixing valve runs at {cool}: by the tables an adult's skin {_burn(COOL)}. Somebody turns the tank up to {hot}. "
            "After how many seconds now?"
        )

    slide = Slide("My guess", "seconds", Q_(150.0, "s"), (1, 300, 1), (1, 300, 1), "what you expect")
    return Guess("01", question, slide, lambda: time_to_burn(HOT).seconds)


def before_the_valve() -> Answer:
    """A valve protects only what comes after it."""
    return Answer(
        f"1. Tank at {_warm(STORE)}. Along the pipe come a basin, then a mixing valve set to {_warm(VALVE)}, then a shower. "
        "How hot is the water at the basin?",
        {
            _warm(VALVE): "You gave the valve's setting to the whole house. Walk along the pipe from the tank: "
            "what does the water meet first, the basin or the valve?",
            "something between": "You let the two mix. Where does the cold water come in: before the basin or after it?",
        },
        f"It gets the tank's water, {_warm(STORE)} less the little that the pipe loses. For an adult's skin: {_burn(STORE)}. "
        "A valve protects every tap after it and none before it.",
    )


def share_of_hot() -> Answer:
    """Rises are divided, not temperatures."""
    wrong = f"{VALVE.magnitude / STORE.magnitude:.2f}"
    share = hot_share(STORE, MAINS, VALVE)
    rises = VALVE.magnitude - MAINS.magnitude, STORE.magnitude - MAINS.magnitude
    return Answer(
        f"2. The valve mixes {_warm(STORE)} from the tank with {_warm(MAINS)} from the main to {_warm(VALVE)}. What share of it is hot?",
        {
            wrong: "You divided the temperatures. Would the cold water then bring no warmth at all? What is the least that any mixture can be?",
            "half": "Half of each gives the middle between hot and cold. Is the setting nearer to the hot or to the cold?",
        },
        f"{share:.2f}. Divide rises above the cold: {rises[0]:.0f} of {rises[1]:.0f} °C. "
        "In °F the same share comes out, because rises are divided.",
    )


def litres() -> Answer:
    """A tank gives more than it holds."""
    most = water_at_the_tap(TANK, STORE, MAINS, WASH)
    size = both(TANK, "large volume")
    return Answer(
        f"3. A full tank of {size} at {_warm(STORE)}, cold at {_warm(MAINS)}. How much water at {_warm(WASH)} can it give at most?",
        {
            size: "You took the tank's size for the shower's. What else runs out of the tap besides the tank's water?",
        },
        f"{both(most, 'large volume')}: the tank's water is {hot_share(STORE, MAINS, WASH):.2f} of the mixture, so divide by that. "
        f"In practice about {USUAL_USABLE:.0%} of it, for the cold that follows mixes in.",
    )


def cool_tank() -> Answer:
    """A valve needs water that is clearly hotter than its setting."""
    gap = Q_(COOL.magnitude - VALVE.magnitude, "delta_degC")
    over, needed = (both(value, "temperature difference") for value in (gap, LEAST_DIFFERENCE))
    return Answer(
        f"4. To save electricity a customer turns the tank down to {_warm(COOL)}. The mixing valve stays at {_warm(VALVE)}. What do you tell them?",
        {
            "all is well, the valve is still cooler": f"You compared two numbers only. The hot water is now {over} above the setting: "
            "how much does the valve's maker ask for?",
            "nothing changes at the tap": "You trusted the valve with any water. How does it know its setting, when hot and mixed are nearly alike?",
        },
        f"Two things. The valve may no longer hold: this workbook takes {needed} as the least difference, and the maker's figure decides. "
        f"And a store below {_warm(HOT)} is not as guidance asks: bacteria live in it.",
    )


def price_of_hot() -> Answer:
    """The lift counts, not the temperature."""
    outdoor = _opening()["outdoor"]
    extra = store_cost(outdoor, COOL, HOT).extra_electricity
    return Answer(
        f"5. A heat pump in air at {_warm(outdoor)} warms the store to {_warm(HOT)} instead of {_warm(COOL)}. "
        "How much more electricity for the same heat, in this workbook's model?",
        {
            f"{HOT.magnitude / COOL.magnitude - 1:.0%}": "You divided the temperatures. From where does a heat pump lift its heat?",
            "none, heat is heat": "True of a plain electric heater. But what does a heat pump do that a heater does not?",
        },
        f"About {extra:.0%}. It lifts heat from outdoor air to the store, and the lift grew by {HOT.magnitude - COOL.magnitude:.0f} °C "
        f"of {COOL.magnitude - outdoor.magnitude + CONDENSER_STEP + EVAPORATOR_STEP:.0f} °C. The maker's table decides for a real one. "
        "That is the price of hot storage, not a reason to store cooler.",
    )


def by_hand() -> Told:
    """The panel's opening picture on paper, in both sets of units, held against the panel."""
    scene = calculate(_opening())
    used, volume = _opening()["used"], Q_(scene.volume, "m**3")
    return Told(
        f"{_metric(scene, used, volume)}\n\n{_customary(scene, used, volume)}\n\n"
        "Paper and panel agree to about one part in a hundred. Paper takes round constants for water's weight and heat; the panel takes both from "
        "its table at the temperatures of the day."
    )


def _metric(scene, used, volume) -> str:
    share = (scene.wash - scene.cold) / (scene.tank - scene.cold)
    heat = used.magnitude * (scene.wash - scene.cold) * 1.163 / 1000
    lost = STANDBY.to("kWh/day").magnitude * (scene.tank - ROOM.magnitude) / 45
    hot, cold = scene.tank + CONDENSER_STEP, scene.outdoor - EVAPORATOR_STEP
    cop = round(SHARE_OF_CARNOT * (hot + KELVIN) / (hot - cold), 2)
    litres = volume.to("L").magnitude
    return (
        f"**Metric.** Tank {litres:.0f} L at {scene.tank:.0f} °C, cold {scene.cold:.0f} °C, washing at {scene.wash:.0f} °C.\n\n"
        f"* Hot share = ({scene.wash:.0f} − {scene.cold:.0f}) ÷ ({scene.tank:.0f} − {scene.cold:.0f}) = **{share:.2f}**. "
        f"Litres = {litres:.0f} ÷ {share:.2f} = **{litres / share:.0f} L**; the panel says {1000 * scene.mixed:.0f} L.\n"
        f"* Heat to the taps = {used.magnitude:.0f} L × {scene.wash - scene.cold:.0f} °C × 1.163 Wh = **{heat:.1f} kWh**; "
        f"the panel says {scene.heat:.1f} kWh.\n"
        f"* The tank loses {STANDBY.to('kWh/day').magnitude:g} kWh at 45 °C above its room, so "
        f"({scene.tank:.0f} − {ROOM.magnitude:.0f}) ÷ 45 of that: **{lost:.1f} kWh**.\n"
        f"* COP = {SHARE_OF_CARNOT} × ({hot:.0f} + 273) ÷ ({hot:.0f} − ({_plain(cold)})) = **{cop}**: "
        f"the heat pump condenses {CONDENSER_STEP:.0f} °C above the store and takes its heat {EVAPORATOR_STEP:.0f} °C below the air.\n"
        f"* Electricity = ({heat:.2f} + {lost:.2f}) ÷ {cop} = **{(heat + lost) / cop:.1f} kWh**; the panel says {scene.electricity:.1f} kWh."
    )


def _plain(value: float) -> str:
    """A whole number with a true minus sign."""
    return f"{value:.0f}".replace("-", "−")


def _customary(scene, used, volume) -> str:
    tank, cold, wash, room = (round(celsius(value).to("degF").magnitude) for value in (scene.tank, scene.cold, scene.wash, ROOM.magnitude))
    gallons, a_day = volume.to("gallon").magnitude, used.to("gallon").magnitude
    share = (wash - cold) / (tank - cold)
    heat = a_day * 8.34 * (wash - cold)
    lost = STANDBY.to("Btu/day").magnitude * (tank - room) / 81
    hot = round(celsius(scene.tank + CONDENSER_STEP).to("degF").magnitude)
    outside = celsius(scene.outdoor - EVAPORATOR_STEP).to("degF").magnitude
    cop = round(SHARE_OF_CARNOT * (hot + 460) / (hot - round(outside)), 2)
    return (
        f"**US customary.** Tank {gallons:.1f} gal at {tank} °F, cold {cold} °F, washing at {wash} °F.\n\n"
        f"* Hot share = ({wash} − {cold}) ÷ ({tank} − {cold}) = **{share:.2f}**. "
        f"Gallons = {gallons:.1f} ÷ {share:.2f} = **{gallons / share:.0f} gal**; "
        f"the panel says {show(Q_(scene.mixed, 'm**3'), 'large volume', US)}.\n"
        f"* Heat to the taps = {a_day:.1f} gal × 8.34 lb × {wash - cold} °F = **{heat:,.0f} Btu** = {heat / 3412:.1f} kWh (3,412 Btu each).\n"
        f"* The tank loses {STANDBY.to('Btu/day').magnitude:,.0f} Btu at 81 °F above its room, so "
        f"({tank} − {room}) ÷ 81 of that: **{lost:,.0f} Btu**.\n"
        f"* COP = {SHARE_OF_CARNOT} × ({hot} + 460) ÷ ({hot} − {outside:.0f}) = **{cop}**.\n"
        f"* Electricity = ({heat:,.0f} + {lost:,.0f}) ÷ {cop} ÷ 3,412 = **{(heat + lost) / cop / 3412:.1f} kWh**."
    )


def advice() -> Told:
    """What regions ask of the store and of the tap, one beside the other."""
    lines = ["| who | where | what is asked |", "|---|---|---|"]
    for row in guidance("store"):
        lines.append(f"| {row['name']} | in the store | at least {_warm(celsius(float(row['low'])))} |")
    for row in guidance("tap"):
        lines.append(f"| {row['name']} | hot tap before any valve | at least {_warm(celsius(float(row['low'])))} |")
    for row in rows("code_limits"):
        if row["kind"] == "most":
            lines.append(f"| {row['region']} | {row['where']} | at most {_warm(celsius(float(row['degC'])))} |")
    return Told("\n".join(lines))
