"""Stores, valves, burns, vessels and the order of work."""

from ...plant import closed_system, tank, work_order
from ...quantities.display import burn_seconds, burns
from ...quantities.units import Q_
from ...runs import scald
from ...runs.assessment import STORE_WORDS
from ...runs.assessment import store_word as word_for_a_store
from .registry import solves

ORDER_ASKED = {"vessel", "pressure test", "fill", "purge", "energise", "set the valve"}
COLD, PLENTY = Q_(10.0, "degC"), Q_(8.0, "L/min")


@solves
def hot_share(hot, cold, mixed):
    """Share of hot water in a mixture."""
    return Q_(tank.hot_share(hot, cold, mixed), "")


@solves
def cold_share(hot, cold, mixed):
    """The rest of a mixture: a slip."""
    return Q_(1 - tank.hot_share(hot, cold, mixed), "")


@solves
def water_at_the_tap(volume, hot, cold, mixed):
    """Mixed water that a full tank gives."""
    return tank.water_at_the_tap(volume, hot, cold, mixed)


@solves
def water_at_the_branch(place):
    """A valve protects what comes after it."""
    return "setting" if place == "after the valve" else "tank"


@solves
def time_to_burn(water):
    """Gives the time until an adult's skin burns, as the panels tell it."""
    return Q_(burn_seconds(scald.time_to_burn(water).seconds.magnitude), "s")


@solves
def burn_words(water):
    """Says the same as `time_to_burn`, in the panels' words."""
    found = scald.time_to_burn(water)
    return burns(found.seconds.magnitude, found.bound)


@solves
def scald_word(water):
    """The order of magnitude of the time to a burn."""
    seconds = scald.time_to_burn(water).seconds.magnitude
    return "hours" if seconds >= 3600 else "minutes" if seconds > 60 else "seconds"


@solves
def store_word(store):
    """Says what guidance on bacteria says of a store."""
    return word_for_a_store(store.to("degC").magnitude)


@solves
def cool_tank(store, setting, gap):
    """Says what a tank that was turned down does to its valve and to bacteria; with cold and flow that no valve
    minds.
    """
    valve = tank.mixing_valve(store, COLD, setting, PLENTY, least_difference=gap, least_flow=PLENTY)
    if store_word(store) == STORE_WORDS[0][1]:
        return "fine"
    return "tank" if valve.word == tank.HOLDS else "both"


@solves
def vessel_reading(precharge, main):
    """Says what a vessel's gauge shows on a live main."""
    return closed_system.vessel_reading(precharge, main)


@solves
def growth_each(volume, cold, hot):
    """Gives by how much a volume of water grows."""
    return closed_system.expansion(volume, cold, hot)


@solves
def valve_set_early(hot, setting, least):
    """Says what a valve gives in a hotter tank that was set while the hot water stood at `hot`; least : difference that
    it needs.
    """
    found = tank.mixing_valve(hot, COLD, setting, PLENTY, least_difference=least, least_flow=PLENTY)
    return "setting" if found.word == tank.HOLDS else "more"


@solves
def order_of_work():
    """Gives six of the steps of data/work_order.csv, in its order."""
    return tuple(key for key in work_order.keys() if key in ORDER_ASKED)
