"""What water does to the works: hardness, and scale on a heat exchanger."""

from ...plant.scale import scale_from
from ...quantities.units import Q_
from .registry import solves

MAIN = Q_(10.0, "degC")  # the cold water of these questions, as on the panel of lesson 13


@solves
def scale_of_each_litre(hardness, hot):
    """Gives what can come down at most from water that is heated."""
    return scale_from(hardness, MAIN, hot)


@solves
def scale_of_harder_water(soft, hard, hot):
    """Says whether water that is twice as hard gives twice the scale."""
    ratio = (scale_from(hard, MAIN, hot) / scale_from(soft, MAIN, hot)).to("dimensionless").magnitude
    return "more" if ratio > 2.1 else "less" if ratio < 1.9 else "twice"


@solves
def step_across_scale(heat, thick, conductivity, surface):
    """Gives by how many degrees the refrigerant must be warmer to send heat through a flat layer (Fourier's law)."""
    return Q_((heat * thick / (conductivity * surface)).to("kelvin").magnitude, "delta_degC")


@solves
def hardness_the_wrong_way(stated):
    """Gives the figure that comes of dividing where one has to multiply, or the other way round."""
    other = "mg/L" if "grain" in f"{stated.units:D}" else "grain/gallon"
    return float(stated.magnitude**2 / stated.to(other).magnitude)
