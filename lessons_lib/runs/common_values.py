"""Values that are taken unless somebody gives another: each stands here alone, with where it is from."""

from ..quantities.units import Q_

WARM_ENOUGH = Q_(40.0, "degC")  # to wash with (common practice, no source)
HOLD = Q_(4.0, "degC")  # what tape, or a trickle, holds at the coldest hour: above freezing with a little in hand
LONG_NIGHT = Q_(14.0, "h")  # one long winter night, from dusk to dawn
