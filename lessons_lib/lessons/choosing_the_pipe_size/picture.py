"""Choosing a pipe size: what the main gives and what takes it, and beside it every size with its flow and its wait."""

from dataclasses import dataclass

import numpy as np

from ...drawing.canvas import Canvas
from ...drawing.picture import Picture
from ...quantities.display import celsius, number, show, stopwatch
from ...quantities.units import Q_
from ...runs.scald import skin_words
from .pressure_steps import PressureSteps, shown
from .size_rows import SizeRows

WIDTH, HEIGHT = 884, 446  # [px]
PART, RIGHT = 430, 450  # [px] width of a part; left edge of the right one


@dataclass(frozen=True)
class SizeScene:
    """Everything that the picture shows, in SI floats (temperatures in degC); arrays and tuples hold one value for
    each size.
    """

    names: tuple
    chosen: int
    family: str
    material: str
    outsides: np.ndarray
    bores: np.ndarray
    wide: np.ndarray  # [m3/s] of the tap wide open; 0: nothing reaches it
    speeds: np.ndarray  # [m/s] at the flow wanted, or at what there is
    waits: np.ndarray  # [s] at the flow wanted, or at what there is; inf: never
    feed_levels: tuple  # 0, 1, 2: how grave the flow is
    speed_levels: tuple
    supply: float
    delivered: float
    burn_seconds: float
    burn_bound: str
    wanted: float  # [m3/s]
    height: float  # of the tap above the main
    pressure: float  # at the main [Pa]
    lift: float  # what the height takes [Pa]; negative: the fall adds it
    lost: float  # along the run at the flow drawn [Pa]
    left: float  # for the tap at the flow drawn [Pa]
    limit: tuple  # lowest and highest published speed [m/s]
    needs: float  # what the open tap takes at the flow wanted [Pa]

    @property
    def flows(self) -> bool:
        """Says whether any water reaches the tap."""
        return bool(self.wide[self.chosen] > 0)

    @property
    def drawn(self) -> float:
        """The flow wanted, or what there is [m3/s]."""
        return float(min(self.wanted, self.wide[self.chosen]))

    @property
    def levels(self) -> tuple:
        """The pressure at the main, after the height, and after the pipe [Pa]; where nothing flows, none is left."""
        if not self.flows:
            return self.pressure, 0.0, 0.0
        return self.pressure, self.pressure - self.lift, self.left


class PipeSizePicture(Picture):
    """Shows in its left part who takes the main's pressure, in its right part every size of a pipe to one scale."""

    size = WIDTH, HEIGHT
    parts = ((0, 0, 442, HEIGHT), (442, 0, 442, HEIGHT))

    def build(self, canvas: Canvas) -> None:
        self.steps = PressureSteps(canvas, 4, 0, PART, HEIGHT)
        self.rows = SizeRows(canvas, RIGHT, 0, PART, HEIGHT)

    def show(self, scene: SizeScene) -> None:
        self.steps.show(scene, self.system)
        self.steps.show_kept(self.kept)
        self.rows.show(scene, self.system)
        self.rows.show_kept(self.kept, scene)

    def sentence(self, scene: SizeScene) -> str:
        return sentence(scene, self.system)

    def description(self, scene: SizeScene) -> str:
        rows = "; ".join(
            f"{name}: {show(Q_(gives, 'm**3/s'), 'flow', self.system)} open,"
            f" {show(Q_(fast, 'm/s'), 'speed', self.system)}, wait"
            f" {stopwatch(wait) if np.isfinite(wait) else 'without end'}"
            for name, gives, fast, wait in zip(scene.names, scene.wide, scene.speeds, scene.waits)
        )
        needs = f" The tap needs {shown(scene.needs, self.system)} for the flow wanted." if scene.flows else ""
        return (
            "Two drawings. Four bars: what the main gives, what the height takes, what the pipe takes, what is left for"
            f" the tap.{needs} Beside them every size of {scene.family} to one scale ({rows})."
        )


def limit_words(limit: tuple, system: str) -> str:
    """The published speed limit: one figure, or a span."""
    low, high = (Q_(value, "m/s") for value in limit)
    return (
        show(high, "speed", system)
        if limit[0] == limit[1]
        else f"{number(low, 'speed', system)}–{show(high, 'speed', system)}"
    )


def sentence(scene: SizeScene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    pipe = f"{scene.names[scene.chosen]} {scene.family}, water at {show(celsius(scene.supply), 'temperature', system)}"
    height = show(Q_(abs(scene.height), "m"), "length", system)
    main = shown(scene.pressure, system)
    if not scene.flows:
        reach = show(Q_(scene.pressure / scene.lift * scene.height, "m"), "length", system)
        return (
            f"{pipe}: no flow reaches the tap. The main's {main} lift water {reach}, and the tap is {height} up. No"
            " pipe"
            " size changes that."
        )
    gives, drawn, wanted = (
        show(Q_(value, "m**3/s"), "flow", system) for value in (scene.wide[scene.chosen], scene.drawn, scene.wanted)
    )
    lift = shown(abs(scene.lift), system)
    level = f"{lift} lift it {height}" if scene.height >= 0 else f"{lift} are added by a fall of {height}"
    fast, wait = scene.speeds[scene.chosen], scene.waits[scene.chosen]
    warm = f"hot water takes {stopwatch(wait)}" if np.isfinite(wait) else "the tap never gets warm enough"
    tap = show(celsius(scene.delivered), "temperature", system)
    return (
        f"{pipe}: the open tap gives {gives}, and {wanted} are wanted. Of the main's {main}, {level},"
        f" {shown(scene.lost, system, 'pressure drop')} are lost on the way, and {shown(scene.left, system)} are left."
        f" At {drawn} the water runs {show(Q_(fast, 'm/s'), 'speed', system)} and {warm}. In the end it is {tap}"
        f" ({skin_words(scene.burn_seconds, scene.burn_bound)})."
    )
