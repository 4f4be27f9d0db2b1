"""The numbers of the notes on the outdoor unit, worked out on paper for the reader's own settings."""

from ...panels.hand_calculation import Sums
from ...panels.pages import Told
from ...panels.panel import Panel
from ...plant.bracket import CAUTION
from ...quantities.display import SI
from ...quantities.units import Q_

LEFT_OUT = (
    "Not in these numbers: the anchor in that wall, the code's factors for gusts, height and shape, drifted snow,"
    " vibration, edge distances, the bracket itself."
)


def sums(of: Panel) -> Sums:
    """The calculation by hand that follows the panel."""
    return Sums(of, written)


def written(scene, system: str) -> dict:
    """The calculation in the reader's units: heading → lines."""
    bracket = _bracket_metric(scene) if system == SI else _bracket_customary(scene)
    return {"For the fixer": [*bracket, LEFT_OUT]}


def _bracket_metric(scene) -> list[str]:
    weight = (scene.mass + scene.extra) * 9.81
    moment = weight * scene.arm
    return [
        (
            f"Weight = ({scene.mass:.0f} + {scene.extra:.0f}) kg × 9.81 = {weight:.0f} N; the panel says"
            f" {scene.load:.0f} N, for it takes 9.80665."
        ),
        f"Moment = {weight:.0f} N × {scene.arm:.3f} m = {moment:.0f} N m; the panel says {scene.moment:.0f} N m.",
        *_bolts(scene, weight, moment, scene.spacing, "N", "m"),
        (
            f"Wind at rest against a wall = ½ × 1.225 kg/m³ × ({scene.wind:.0f} m/s)² ="
            f" {0.5 * 1.225 * scene.wind**2:.0f} Pa; the panel says {scene.pressure:.0f} Pa."
        ),
    ]


def _bracket_customary(scene) -> list[str]:
    unit, extra = (Q_(value, "kg").to("lb").magnitude for value in (scene.mass, scene.extra))
    arm, spacing = (Q_(value, "m").to("ft").magnitude for value in (scene.arm, scene.spacing))
    load, moment = Q_(scene.load, "N").to("lbf").magnitude, Q_(scene.moment, "N*m").to("lbf*ft").magnitude
    wind, pressure = Q_(scene.wind, "m/s").to("mph").magnitude, Q_(scene.pressure, "Pa").to("lbf/ft**2").magnitude
    weight = unit + extra
    return [
        (
            f"Weight = {unit:.0f} + {extra:.0f} lb = {weight:.0f} lbf, for a pound of mass weighs a pound of force; the"
            f" panel says {load:.0f} lbf."
        ),
        f"Moment = {weight:.0f} lbf × {arm:.2f} ft = {weight * arm:.0f} lbf ft; the panel says {moment:.0f} lbf ft.",
        *_bolts(scene, weight, weight * arm, spacing, "lbf", "ft"),
        (
            f"Wind at rest against a wall = 0.00256 × ({wind:.0f} mph)² = {0.00256 * wind**2:.1f} lbf/ft²; the panel"
            f" says {pressure:.1f} lbf/ft²."
        ),
    ]


def _bolts(scene, weight: float, moment: float, spacing: float, force: str, length: str) -> list[str]:
    """Pull and load across each bolt, plain and with the safety factor; weight, moment and spacing in the reader's
    units.
    """
    pull, across = moment / (scene.upper_bolts * spacing), weight / scene.bolts
    says, says_across = (Q_(value, "N").to(force).magnitude for value in (scene.tension, scene.shear))
    return [
        (
            f"Pull on each upper bolt = {moment:.0f} {force} {length} ÷ ({scene.upper_bolts} × {spacing:.3f} {length})"
            f" = {pull:.0f} {force}; the panel says {says:.0f} {force}. Times {scene.factor:g}:"
            f" {scene.factor * pull:.0f} {force}."
        ),
        (
            f"Across each bolt = {weight:.0f} {force} ÷ {scene.bolts} = {across:.0f} {force}; the panel says"
            f" {says_across:.0f} {force}. Times {scene.factor:g}: {scene.factor * across:.0f} {force}."
        ),
    ]


def cautions() -> Told:
    """Gives what travels with these numbers, in the library's own words."""
    return Told(f"* **Bracket.** {CAUTION}")
