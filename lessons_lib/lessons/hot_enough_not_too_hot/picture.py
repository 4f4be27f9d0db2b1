"""The picture of lesson 01: hot enough for the store, not too hot for a hand, and what it costs."""

from dataclasses import dataclass

from ...drawing.bars import Bars
from ...drawing.canvas import INK, Canvas
from ...drawing.colours import water_colour
from ...drawing.picture import Picture
from ...drawing.skin_and_bacteria import SkinAndBacteria
from ...drawing.vessels import Vessel
from ...quantities.display import burns_briefly, celsius, show
from ...quantities.units import Q_
from .valve_strip import AT_EACH, NOWHERE, ValveStrip

WIDTH, HEIGHT = 884, 440  # [px]
BELOW = 156  # [px] top of what stands beneath the strip
RIGHT = 580  # [px] left edge of vessels and bars
MOST = 3.4  # litres at the tap for each litre in the tank that the vessels can show: 75 degC mixed down with 25 degC
FULL_BAR = 14.0  # [kWh a day] longest bar
BACTERIA = {
    "at rest": "are at rest",
    "may grow": "may grow",
    "grows": "grow",
    "growth fades": "can still grow, but slowly",
    "dies slowly": "die slowly",
    "dies in minutes": "die in minutes",
}
LOOKS = (("#9dc3e6", ""), ("#d5dbe0", ".."), ("#aab5bf", "//"))  # to the taps, lost by the tank, electricity


@dataclass(frozen=True)
class Scene:
    """Everything that the picture shows, in SI floats (temperatures in degC, volumes in m3, energies in kWh a day)."""

    tank: float
    cold: float
    place: str  # of the valve, see valve_strip
    setting: float
    flow: float  # [m3/s]
    holds: bool
    gap: float  # [K] by which the tank is above the setting
    enough_gap: bool
    enough_flow: bool
    out: float  # what to reckon with after the valve
    trunk: float  # water in the pipe to the first tap
    leg: float  # and on to the last one
    first: float  # at the first tap
    last: float
    first_burn: tuple  # (seconds, bound)
    last_burn: tuple
    tepid_volume: float
    tepid_most: float  # the hottest that any of it gets
    store_band: str  # one word for bacteria in the tank
    volume: float  # of the tank
    mixed: float  # that it gives at the wash temperature
    wash: float
    outdoor: float
    cop: float
    heat: float
    standby: float
    electricity: float

    @property
    def has_valve(self) -> bool:
        """Says whether there is a mixing valve at all."""
        return self.place != NOWHERE


class HotEnoughPicture(Picture):
    """Made once; `draw` moves its artists to a scene and gives the picture and its sentence.

    first : share of the way from tank to last tap at which the first tap is
    """

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, 442, BELOW),
        (442, 0, 442, BELOW),
        (0, BELOW, 322, HEIGHT - BELOW),
        (278, BELOW, 294, HEIGHT - BELOW),
        (RIGHT - 8, BELOW, WIDTH - RIGHT + 8, HEIGHT - BELOW),
    )

    def __init__(self, system: str, first: float):
        self.first = first
        super().__init__(system)

    def build(self, canvas: Canvas) -> None:
        self.strip = ValveStrip(canvas, 4, 4, WIDTH - 8, 150, self.first)
        self.scale = SkinAndBacteria(canvas, 4, BELOW, RIGHT - 14, HEIGHT - BELOW - 2)
        axes = canvas.drawing(RIGHT, BELOW, WIDTH - RIGHT, 146)
        self.full = canvas.words(axes, 0, 16, weight="bold")
        self.vessels = [
            Vessel(canvas, axes, 10 + 106 * number, 28, 66, 70, name)
            for number, name in enumerate(("from tank", "cold added", "at the tap"))
        ]
        for x, sign in ((96, "+"), (202, "=")):
            axes.text(x, 72, sign, size=18, color=INK, ha="center")
        names = ("to the taps", "tank loses", "electricity")
        self.bars = Bars(canvas, RIGHT, BELOW + 160, WIDTH - RIGHT, "Each day", names, LOOKS, room=104, numbers=90)
        self.cop = canvas.words(
            canvas.drawing(RIGHT, BELOW + 160, WIDTH - RIGHT, 24), WIDTH - RIGHT - 4, 14, ha="right"
        )
        self.scales = (self.scale,)

    def show(self, scene: Scene) -> None:
        kept = self.kept
        self.strip.show(scene, self.system)
        self.scale.show(scene.first, scene.last, scene.tank, scene.out)
        self.scale.show_kept(*((kept.first, kept.last, kept.tank) if kept else (None, None, None)))
        self._show_litres(scene)
        self._show_cost(scene)

    def sentence(self, scene: Scene) -> str:
        return sentence(scene, self.system)

    def _show_litres(self, scene: Scene) -> None:
        """The tank and the cold water that make the wash water."""
        self.full.set_text(f"A full tank mixed to {show(celsius(scene.wash), 'temperature', self.system)}")
        parts = (scene.volume, scene.mixed - scene.volume, scene.mixed)
        for vessel, part, warm in zip(self.vessels, parts, (scene.tank, scene.cold, scene.wash)):
            vessel.show(
                part / (MOST * scene.volume), water_colour(warm), show(Q_(part, "m**3"), "large volume", self.system)
            )
        self.vessels[2].show_kept(self.kept and self.kept.mixed / (MOST * scene.volume))

    def _show_cost(self, scene: Scene) -> None:
        """Heat and electricity of a day."""
        parts = (scene.heat, scene.standby, scene.electricity)
        self.bars.show(
            [part / FULL_BAR for part in parts], [show(Q_(part, "kWh"), "energy", self.system) for part in parts]
        )
        kept = self.kept and [part / FULL_BAR for part in (self.kept.heat, self.kept.standby, self.kept.electricity)]
        self.bars.show_kept(kept)
        self.cop.set_text(f"COP {scene.cop:.1f}")

    def description(self, scene: Scene) -> str:
        heat, lost = (show(Q_(value, "kWh"), "energy", self.system) for value in (scene.heat, scene.standby))
        return (
            "Four drawings. A pipe from the tank past a first tap to a last one, with the mixing valve where it was"
            " put; tepid pipe is hatched. One scale of temperature with two columns of bands: what water does to a"
            " hand, where the taps point, and what it does to bacteria, where the tank and the water after the valve"
            f" point. Three vessels: hot from the tank, cold added, mixed at the tap. Three bars for a day: {heat} to"
            f" the taps, {lost} lost by the tank, and the electricity for both."
        )


def sentence(scene: Scene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    tank, first, last, wash, outdoor, cold = (
        show(celsius(value), "temperature", system)
        for value in (scene.tank, scene.first, scene.last, scene.wash, scene.outdoor, scene.cold)
    )
    first_burn, last_burn = (burns_briefly(*burn) for burn in (scene.first_burn, scene.last_burn))
    taps = (
        f"both taps {first}, {first_burn}"
        if first == last
        else f"first tap {first}, {first_burn}; last tap {last}, {last_burn}"
    )
    most, electricity = (
        show(Q_(scene.mixed, "m**3"), "large volume", system),
        show(Q_(scene.electricity, "kWh"), "energy", system),
    )
    return (
        f"In the tank at {tank} bacteria {BACTERIA[scene.store_band]}. {valve_words(scene, system)} Adult skin: {taps}."
        f" {tepid_words(scene, system)} A full tank and {cold} cold give at most {most} at {wash}. Outdoors {outdoor}:"
        f" COP {scene.cop:.1f}, {electricity} a day."
    )


def valve_words(scene: Scene, system: str) -> str:
    """Says in a sentence what the valve does, and why it cannot hold its setting."""
    if not scene.has_valve:
        return "No mixing valve."
    called = "A mixing valve at each tap" if scene.place == AT_EACH else f"The mixing valve {scene.place}"
    setting, flow = show(celsius(scene.setting), "temperature", system), show(Q_(scene.flow, "m**3/s"), "flow", system)
    if scene.holds:
        return f"{called} holds {setting} at {flow}."
    why = []
    if not scene.enough_gap:
        gap = show(Q_(scene.gap, "delta_degC"), "temperature difference", system)
        why.append(f"the tank is only {gap} hotter" if scene.gap > 0 else "the tank is no hotter")
    if not scene.enough_flow:
        why.append(f"{flow} is too little")
    return f"{called} can't hold {setting}: {' and '.join(why)}; count on the tank's water at the taps."


def tepid_words(scene: Scene, system: str) -> str:
    """Says how much of the pipe is never hot."""
    if scene.tepid_volume == 0:
        return "No pipe stays tepid."
    volume, most = (
        show(Q_(scene.tepid_volume, "m**3"), "pipe content", system),
        show(celsius(scene.tepid_most), "temperature", system),
    )
    return f"{volume} of pipe never gets above {most}."
