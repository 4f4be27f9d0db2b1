"""The numbers of an outdoor unit's circuit, worked out on paper for the reader's own settings."""

from ...panels.hand_calculation import Sums
from ...panels.pages import Told
from ...panels.panel import Panel
from ...plant.circuit import continuous_rule
from ...plant.unit_circuit import CAUTION, rule
from ...quantities.display import SI
from ...quantities.units import Q_
from ...runs.cautions import joined
from .unit_circuit import REGIONS
from .unit_picture import UnitScene, at_least, sum_of

LEFT_OUT = (
    "Not in these numbers: what heat, bundles and insulation take from the cable where it lies, the current at the"
    " start, a short circuit, what else the board feeds, the power factor."
)


def unit_sums(of: Panel) -> Sums:
    """The calculation by hand that follows the panel of the unit's circuit."""
    return Sums(of, written)


def written(scene: UnitScene, system: str) -> dict:
    """The calculation in the reader's units: heading → lines."""
    return {"For the electrician": [*_currents(scene), _cable(scene, system == SI), *scene.words, LEFT_OUT]}


def _currents(scene: UnitScene) -> list[str]:
    """The least that the circuit carries, and the largest breaker."""
    least = scene.factor * scene.compressor + scene.others
    by_rule = f"By the rule ({scene.region}): {sum_of(scene, scene.factor)} = {least:.2f} A"
    says = "the nameplate states" if "plate_least" in scene.stated else "the panel says"
    lines = [f"{by_rule}; {says} {at_least(scene.least)}. Next standard size up: {scene.next_device:.0f} A."]
    if "plate_largest" in scene.stated:
        lines.append(f"Largest breaker: the nameplate's, as a standard size {scene.most}. It rules.")
    elif scene.largest_factor:
        most = scene.largest_factor * scene.compressor + scene.others
        lines.append(
            f"Largest breaker: {sum_of(scene, scene.largest_factor)} = {most:.2f} A; the next standard size"
            f" down is {scene.largest:.0f} A."
        )
    else:
        lines.append(f"Largest breaker: the cable carries {scene.carries:g} A, next standard size down: {scene.most}.")
    return lines


def _cable(scene: UnitScene, metric: bool) -> str:
    """The volts that the cable loses."""
    long, warm = (
        (scene.cable_length, 1000 * scene.resistance)
        if metric
        else (scene.cable_length / 0.3048, 304.8 * scene.resistance)
    )
    per, length = ("km", "m") if metric else ("1000 ft", "ft")
    copper = Q_(scene.copper, "degC").to("degC" if metric else "degF")
    lost = 2 * long / 1000 * warm * scene.load
    return (
        f"Cable {scene.thickness}, copper at {copper.magnitude:.0f} {'°C' if metric else '°F'}: {warm:.2f} ohm for"
        f" each {per}. Lost = 2 × {long:.0f} {length} × {warm:.2f} ÷ 1000 × {scene.load:.1f} A = {lost:.1f} V,"
        f" {100 * lost / scene.volts:.1f} % of {scene.volts:.0f} V; the panel says {scene.drop:.1f} V."
    )


def unit_cautions() -> Told:
    """Gives what travels with these numbers, in the library's own words."""
    heaters = joined(*map(continuous_rule, REGIONS))
    return Told(
        f"* **The unit's circuit.** {joined(CAUTION, *map(rule, REGIONS))}\n* **Tank heater and heat tape** have rules"
        f" of their own. {heaters}"
    )
