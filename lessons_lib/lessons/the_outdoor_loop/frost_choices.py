"""What a reader can choose on the panel of frost: drains, frost modes, power."""

GROUND, WALKWAY, BARE_LINE, WARM_LINE = "bed of gravel", "walkway", "pipe without heat tape", "pipe with heat tape"
PUMP_RUNS, VALVE_OPENS, NOTHING = "the pump runs", "a frost valve opens", "nothing"
ON, CUT = "on", "power cut"
