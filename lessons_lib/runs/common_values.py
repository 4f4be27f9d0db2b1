"""Values that are taken unless somebody gives another: each stands here alone, with where it is from."""

from ..quantities.units import Q_

WARM_ENOUGH = Q_(40.0, "degC")  # to wash with (common practice, no source)
HELD_AT = Q_(4.0, "degC")  # what tape or a trickle holds at the coldest hour: above freezing, with a little in hand
THERMOSTAT = Q_(5.0, "degC")  # at which a tape's thermostat switches (common practice, no source)
TAPE_MARGIN = (
    0.15  # on the heat that holds a run, when tape is chosen: 0.10 to 0.20 is usual (common practice, no source)
)
LONG_NIGHT = Q_(14.0, "h")  # one long winter night, from dusk to dawn
