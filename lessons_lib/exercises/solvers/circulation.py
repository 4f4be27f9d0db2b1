"""Columns of warm and cool water side by side."""

from ...physics.properties import GRAVITY
from ...physics.properties import water as water_properties
from ...quantities.units import Q_
from .registry import solves


@solves
def push_of_columns(warm, cool, tall):
    """Pressure by which a column of cool water outweighs a warm one of the same height."""
    light, heavy = (float(water_properties(value.to("degC").magnitude).density) for value in (warm, cool))
    return Q_((heavy - light) * GRAVITY * tall.to("m").magnitude, "Pa")
