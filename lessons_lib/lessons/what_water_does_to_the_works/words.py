"""The words of lesson 13 whose numbers the library works out: its guess, its calculation by hand."""

from ...panels.controls import Slide
from ...panels.guess import Guess
from ...panels.pages import Told
from ...panels.shared_controls import goods_with
from ...physics.heat_pump import EVAPORATOR_STEP, SHARE_OF_CARNOT
from ...physics.properties import KELVIN
from ...plant.scale import layer
from ...quantities.display import SI, SYSTEMS, US, show
from ...quantities.units import Q_
from ...storage import preferences
from .panel import HARD, OUTDOOR, US_GOODS, YEAR, calculate, heat_output, ready_made


def _settings(system: str) -> dict:
    """The settings that the panel opens on in a unit system."""
    ready = ready_made()
    return goods_with(ready, US_GOODS)(ready[HARD], system)


def _scene(system: str):
    """Gives what the panel shows as it opens in a unit system."""
    return calculate(_settings(system))


def guess() -> Guess:
    """Asks how much scale can come down in a year."""

    def question(system: str) -> str:
        own = _settings(system)
        hardness, litres, hot = (
            show(own[name], kind, system)
            for name, kind in (("hardness", "hardness"), ("litres", "large volume"), ("hot", "temperature"))
        )
        return (
            f"At Tern Bank, an invented yard, the water has a hardness of {hardness}, counted as calcium carbonate."
            f" Each day {litres} of it are heated to {hot}. How much scale can come down in a year, at most?"
        )

    slide = Slide("My guess", "scale mass", Q_(1, "kg"), (0, 30, 0.5), (0, 66, 1), "scale of one year")
    return Guess("13", question, slide, lambda: Q_(_scene(preferences.unit_system()).mass, "kg"))


def by_hand() -> Told:
    """A year's scale on paper and what a layer of it costs, for the readers of both unit systems."""
    metric, us = map(_on_paper, SYSTEMS)
    return Told(f"{metric}\n\n{us}")


def _on_paper(system: str) -> str:
    scene = _scene(system)
    return (_metric if system == SI else _customary)(scene)


def _metric(scene) -> str:
    of, falls, heat = layer(), round(scene.falls), heat_output()
    mass = falls * scene.litres * YEAR / 1e6
    grown = mass / of.density / scene.surface * 1000
    step = heat * 0.001 / (of.conductivity * scene.surface)
    return (
        f"**Metric.**\n\n* A year's scale: {falls} mg/L (from the panel) × {scene.litres:.0f} L × {YEAR:.0f} days ="
        f" {falls * scene.litres * YEAR / 1e6:.2f} million mg, so **{mass:.1f} kg**; the panel says {scene.mass:.1f}"
        f" kg.\n* Its thickness: {mass:.2f} kg ÷ {of.density:.0f} kg/m³ ÷ {scene.surface:g} m² ="
        f" **{grown:.1f} mm**; the panel says {1000 * scene.grown:.1f} mm.\n* The step across 1 mm: {heat:.0f} W ×"
        f" 0.001 m ÷ ({of.conductivity:g} W/(m K) × {scene.surface:g} m²) = **{step:.1f} °C**; the panel says"
        f" {scene.step:.1f} °C.\n* Electricity: {_cop(scene, step)}"
    )


def _cop(scene, step: float) -> str:
    """The ratio of two shares of Carnot, in words [degC]."""
    cold = OUTDOOR.magnitude - EVAPORATOR_STEP
    clean, scaled = scene.condensing[0], scene.condensing[0] + round(step, 1)
    cops = [SHARE_OF_CARNOT * (one + KELVIN) / (one - cold) for one in (clean, scaled)]
    return (
        f"COP {SHARE_OF_CARNOT} × ({clean:.0f} + 273) ÷ ({clean:.0f} − {cold:.0f}) = {cops[0]:.2f} clean, and"
        f" {cops[1]:.2f} at {scaled:.1f} °C. {cops[0]:.2f} ÷ {cops[1]:.2f} − 1 ="
        f" **{100 * (cops[0] / cops[1] - 1):.0f} % more**; the panel says {100 * scene.dearer:.0f} %."
    )


def _customary(scene) -> str:
    of = layer()
    grains, gallons = round(Q_(scene.falls, "mg/L").to("grain/gallon").magnitude, 2), round(scene.litres / 3.785412)
    pounds = grains * gallons * YEAR / 7000
    feet = round(scene.surface / 0.3048**2, 1)
    density = round(Q_(of.density, "kg/m**3").to("lb/ft**3").magnitude)
    inches = 12 * pounds / density / feet
    k = round(Q_(of.conductivity, "W/(m*K)").to("Btu*inch/(hour*ft**2*delta_degF)").magnitude, 1)
    btu, thick = round(Q_(heat_output(), "W").to("Btu/hour").magnitude, -1), 0.0394
    return (
        f"**US customary.**\n\n* A year's scale: {grains:g} gr/gal × {gallons} gal × {YEAR:.0f} days ÷ 7000 grains in"
        f" a lb = **{pounds:.1f} lb**; the panel says {show(Q_(scene.mass, 'kg'), 'scale mass', US)}.\n* Its"
        f" thickness: {pounds:.1f} lb ÷ {density} lb/ft³ ÷ {feet:g} ft² × 12 = **{inches:.2f} in**; the panel says"
        f" {show(Q_(scene.grown, 'm'), 'layer', US)}.\n* The step across {thick} in (1 mm): {btu:.0f} Btu/h × {thick} ÷"
        f" ({k:g} Btu in/(h ft² °F) × {feet:g} ft²) = **{btu * thick / (k * feet):.1f} °F**; the panel says"
        f" {1.8 * scene.step:.1f} °F."
    )
