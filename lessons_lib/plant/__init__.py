"""Tank and valve, closed system, heat pump, circuit, bracket, purge, order of work and take-off."""
