"""Choosing a pipe size: pressure along the run, what the tap really gets, and every other size beside it."""

from dataclasses import dataclass

import numpy as np

from ...drawing.canvas import FAINT, INK, Canvas
from ...drawing.colours import GHOST
from ...drawing.graph import Axis, Graph, even
from ...drawing.picture import Picture
from ...quantities.display import celsius, number, show, stopwatch
from ...quantities.units import Q_
from ...runs.scald import skin_words
from .pressure_profile import PressureBudget, PressureProfile, shown
from .size_row import SizeRow

WIDTH, HEIGHT = 884, 446  # [px]
TOP = 272  # [px] height of the upper half
# Ends of the scales and their numbers in each system: [L/min] with gpm, [kPa] with psi.
FLOWS = (
    (10, even(0, 10, 2), even(0, 2.5, 0.5)),
    (20, even(0, 20, 5), even(0, 5, 1)),
    (40, even(0, 40, 10), even(0, 10, 2)),
    (80, even(0, 80, 20), even(0, 20, 5)),
)
PRESSURES = (
    (100, even(0, 100, 25), even(0, 14, 2)),
    (200, even(0, 200, 50), even(0, 25, 5)),
    (300, even(0, 300, 100), even(0, 40, 10)),
    (400, even(0, 400, 100), even(0, 50, 10)),
    (600, even(0, 600, 200), even(0, 80, 20)),
    (900, even(0, 900, 300), even(0, 120, 40)),
)
HEADROOM = 1.32  # over the main's pressure, for the words


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
    waits_open: np.ndarray  # [s] with the tap wide open
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
    flow_axis: np.ndarray  # [m3/s], with what the run leaves and what the open tap takes [Pa]
    leaves: np.ndarray
    takes: np.ndarray

    @property
    def flows(self) -> bool:
        """Says whether any water reaches the tap."""
        return bool(self.wide[self.chosen] > 0)

    @property
    def drawn(self) -> float:
        """The flow wanted, or what there is [m3/s]."""
        return float(min(self.wanted, self.wide[self.chosen]))


class PipeSizePicture(Picture):
    """Shows where the pressure goes, what each flow leaves, and every size of a pipe to one scale."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, 388, TOP),
        (384, 0, 184, TOP),
        (566, 0, WIDTH - 566, TOP),
        (0, TOP, 462, HEIGHT - TOP),
        (462, TOP, WIDTH - 462, HEIGHT - TOP),
    )

    def build(self, canvas: Canvas) -> None:
        self.profile = PressureProfile(canvas, 4, 0, 372, TOP - 14)
        self.budget = PressureBudget(canvas, 392, 0, 176, TOP - 14)
        self.point = Graph(canvas, 576, 0, WIDTH - 576, TOP, "Left at the tap", flow_axis(20), pressure_axis(400))
        looks = ((INK, "right"), (FAINT, "right"), (FAINT, "left"))
        self.run_words, self.tap_words, self.asked_words = (
            self.point.words(0, 0, color=colour, ha=ha, backed=True) for colour, ha in looks
        )
        self.asked = self.point.line(lw=1.6, ls=":", color=FAINT)
        self.kept_run = self.point.line(lw=2, ls="--", color=GHOST)
        self.takes = self.point.line(lw=2, color=FAINT)
        self.leaves = self.point.line()
        self.mark = self.point.mark()
        self.row = SizeRow(canvas, 4, TOP + 4, WIDTH - 8)
        self.scales = (self.point,)

    def show(self, scene: SizeScene) -> None:
        self.profile.show(scene, self.system)
        self.profile.show_kept(self.kept)
        self.budget.show(scene, self.system)
        self._show_point(scene)
        self.row.show(scene, self.system)
        self.row.show_kept(self.kept, scene)

    def sentence(self, scene: SizeScene) -> str:
        return sentence(scene, self.system)

    def _show_point(self, scene: SizeScene) -> None:
        """Marks where what the run leaves meets what the open tap takes."""
        gives, wanted = 60e3 * scene.wide[scene.chosen], 60e3 * scene.wanted
        most = next((end for end, *_ in FLOWS if end >= 1.25 * max(gives, wanted)), FLOWS[-1][0])
        highest = 1e-3 * max(scene.pressure, scene.pressure - scene.lift)
        top = next((end for end, *_ in PRESSURES if end >= HEADROOM * highest), PRESSURES[-1][0])
        self.point.stretch(flow_axis(most), pressure_axis(top))
        flow = 60e3 * scene.flow_axis
        self.leaves.set_data(flow, 1e-3 * scene.leaves)
        self.takes.set_data(flow, np.where(scene.takes <= 1.05e3 * highest, 1e-3 * scene.takes, np.nan))
        self.mark.set_data(*(([gives], [1e-3 * np.interp(gives, flow, scene.takes)]) if scene.flows else ([], [])))
        self.asked.set_data([wanted] * 2, [0, highest])
        self.asked_words.set_position((wanted + 0.015 * most, 0.03 * top))
        self.asked_words.set_text("wanted")
        self.run_words.set_position((0.99 * most, 0.92 * top))
        self.run_words.set_text("dark: the run leaves" if scene.flows else "nothing reaches the tap")
        self.tap_words.set_position((0.99 * most, 0.82 * top))
        self.tap_words.set_text("grey: an open tap takes")
        kept = self.kept
        self.kept_run.set_data(*((60e3 * kept.flow_axis, 1e-3 * kept.leaves) if kept else ([], [])))

    def description(self, scene: SizeScene) -> str:
        rows = "; ".join(
            f"{name}: {show(Q_(gives, 'm**3/s'), 'flow', self.system)} open,"
            f" {show(Q_(fast, 'm/s'), 'speed', self.system)}, wait"
            f" {stopwatch(wait) if np.isfinite(wait) else 'without end'}"
            for name, gives, fast, wait in zip(scene.names, scene.wide, scene.speeds, scene.waits)
        )
        return (
            "Four drawings. The run from the main up to the tap with standpipes that show the pressure; a bar of where"
            f" it goes; what the run leaves at each flow against what an open tap takes; every size of {scene.family}"
            f" to scale ({rows})."
        )


def flow_axis(end: float) -> Axis:
    """The scale of flow that ends at so many L/min."""
    return Axis("flow", "flow", 0, *next(row for row in FLOWS if row[0] == end))


def pressure_axis(end: float) -> Axis:
    """The scale of pressure that ends at so many kPa."""
    return Axis("", "pressure", 0, *next(row for row in PRESSURES if row[0] == end))


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
            f"{pipe}: no flow reaches the tap. {main} at the main lift water {reach}; the tap is {height} up. No pipe"
            " size changes that."
        )
    gives, drawn, wanted = (
        show(Q_(value, "m**3/s"), "flow", system) for value in (scene.wide[scene.chosen], scene.drawn, scene.wanted)
    )
    level = f"{shown(abs(scene.lift), system)} {'lift it' if scene.height >= 0 else 'are added by a fall of'} {height}"
    fast, wait = scene.speeds[scene.chosen], scene.waits[scene.chosen]
    warm = f"hot water takes {stopwatch(wait)}" if np.isfinite(wait) else "the tap never gets warm enough"
    tap = show(celsius(scene.delivered), "temperature", system)
    return (
        f"{pipe}: the open tap gives {gives}, wanted are {wanted}. Of the main's {main}, {level},"
        f" {shown(scene.lost, system, 'pressure drop')} are lost on the way, {shown(scene.left, system)} left. At"
        f" {drawn} it runs {show(Q_(fast, 'm/s'), 'speed', system)} and {warm}; in the end {tap}"
        f" ({skin_words(scene.burn_seconds, scene.burn_bound)})."
    )
