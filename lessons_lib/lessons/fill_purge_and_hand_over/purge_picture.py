"""Purging: two legs with the air in them, and the speed of their water against the speed that carries air."""

from dataclasses import dataclass

from ...drawing.canvas import Canvas
from ...drawing.leg_strip import LegStrip
from ...drawing.picture import Picture
from ...quantities.display import celsius, duration, show
from ...quantities.units import Q_

WIDTH, HEIGHT = 484, 400  # [px]


@dataclass(frozen=True)
class PurgedLeg:
    """One leg that is purged by itself, SI."""

    bore: float
    volume: float
    speed: float
    seconds: float  # to change its water so often as was chosen
    fast: bool  # it carries air


@dataclass(frozen=True)
class PurgeScene:
    """Everything that the picture shows, in SI floats."""

    loop: PurgedLeg
    run: PurgedLeg
    flow: float
    cold: float  # [degC] of the water that fills the legs
    need: float  # speed that carries air
    changes: float
    fill_seconds: float  # for the tank at this flow

    @property
    def slow(self) -> list[str]:
        """The legs whose water is too slow to carry air."""
        return [name for name, leg in (("the loop", self.loop), ("the hot run", self.run)) if not leg.fast]


class PurgePicture(Picture):
    """Shows the legs that are purged."""

    size = WIDTH, HEIGHT

    def build(self, canvas: Canvas) -> None:
        self.loop = LegStrip(canvas, 4, 4, "Loop, out and back", "return vent")
        self.run = LegStrip(canvas, 4, 206, "Hot run", "highest tap")

    def show(self, scene: PurgeScene) -> None:
        largest = max(scene.loop.volume, scene.run.volume)
        for strip, name in ((self.loop, "loop"), (self.run, "run")):
            strip.show(getattr(scene, name), scene.need, scene.changes, largest, self.system)
            strip.show_kept(getattr(self.kept, name) if self.kept else None)

    def sentence(self, scene: PurgeScene) -> str:
        flow, need = (
            show(Q_(scene.flow, "m**3/s"), "flow", self.system),
            show(Q_(scene.need, "m/s"), "speed", self.system),
        )
        loop, run = (show(Q_(leg.speed, "m/s"), "speed", self.system) for leg in (scene.loop, scene.run))
        cold = show(celsius(scene.cold), "temperature", self.system)
        return (
            f"Cold water of {cold} flows at {flow}. It moves at {loop} in the loop and at {run} in the hot run. Water"
            f" carries air from {need} on. This flow fills the tank in {duration(scene.fill_seconds)}."
        )

    def description(self, scene: PurgeScene) -> str:
        return (
            "Two drawings, one of each leg: the pipe with the air in it, a bar of its water's speed against the speed"
            " that carries air, and a vessel with the leg's water."
        )
