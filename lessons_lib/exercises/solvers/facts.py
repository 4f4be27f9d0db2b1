"""Answers without numbers: facts and orders of the trade (common practice, no source; see shared cautions of the
modules).
"""

from ...plant.work_order import keys
from .registry import solves

ORDER_ASKED = {"vessel", "pressure test", "fill", "purge", "energise", "set the valve"}


@solves
def order_of_work():
    """Six of the steps of data/work_order.csv, in its order."""
    return tuple(key for key in keys() if key in ORDER_ASKED)


@solves
def push_joint():
    """As in the caution of lessons_lib.plant.take_off."""
    return "cut", "deburr", "mark", "stiffener", "push", "tug", "read"


@solves
def drain_down():
    """Power off and locked, the tag on the lock, shut the supply, cool, open a high tap, drain: one right order."""
    return "power", "tag", "shut", "cool", "open", "drain"


@solves
def outlet_with_the_cold_shut():
    """As in tank.VALVE_CAUTION."""
    return "trickle"


@solves
def gauge_at_rest():
    """Still water loses nothing to friction."""
    return "flowing"


@solves
def test_medium():
    """As in the step "pressure test" of data/work_order.csv."""
    return "water"


@solves
def thaw_first():
    """What comes first with a frozen pipe; the tap, in this workbook's cautions."""
    return "tap"


@solves
def tape_without_power():
    """As in tape.CAUTION: tape stores no heat."""
    return "cools"


@solves
def loop_without_power():
    """Tape and circulator stop together."""
    return "nothing"


@solves
def flow_in_a_bigger_pipe():
    """As in heat_pump.loop_flow: heat and rise make the flow, the pipe has no part in it."""
    return "same"


@solves
def relief_drips():
    """As in closed_system.RELIEF_CAUTION."""
    return "call"


@solves
def what_a_live_reading_tells():
    """As in the step "vessel" of data/work_order.csv."""
    return "nothing"


@solves
def licensed_work():
    """As in circuit.TAPE_CAUTION."""
    return "circuit"


@solves
def reason_for_more_loss():
    """Of the choices, the one that makes a rig lose more than the model: gaps."""
    return "gaps"
