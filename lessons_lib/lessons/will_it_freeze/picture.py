"""A night of standing water: the air, the water from cold and from hot, and the ice that grows in the pipe."""

from dataclasses import dataclass

import numpy as np
from matplotlib.patches import Rectangle

from ...drawing.canvas import FAINT, INK, TEXT, Canvas
from ...drawing.colours import GHOST, ICE_EDGE
from ...drawing.graph import ROOM_LEFT, Axis, Graph, even
from ...drawing.picture import Picture
from ...drawing.rings import Rings
from ...quantities.display import celsius, duration, ice_words, show
from ...quantities.units import Q_
from ...runs.common_values import LONG_NIGHT

WIDTH, HEIGHT = 884, 446  # [px]
LEFT, WIDE, TALL = 0, 858, 312  # [px] of the graph
NIGHT = LONG_NIGHT.magnitude  # [h]
HOURS = Axis("hours after dusk", "hours", 0, NIGHT, even(0, NIGHT, 2), even(0, NIGHT, 2))
CUTS = np.array(HOURS.metric)  # [h]
LOWS, HIGHS = (-10, -20, -35), (25, 85)  # [degC] ends of the upright scale
NOTHING, CIRCULATOR, TAPE = "nothing", "circulator", "heat tape"  # what may keep the run warm
NO_POWER, NO_POWER_EDGE = "#eceff2", "#b9c2ca"
RING = 25  # [px]


def _scale(low: float, high: float) -> Axis:
    """Numbers at the same places in both systems, so that freezing is one of them."""
    step = 5 if high - low <= 45 else 20 if high > 50 else 10
    metric = even(step * np.ceil(low / step), high, step)
    return Axis("", "temperature", low, high, metric, tuple(1.8 * value + 32 for value in metric))


@dataclass(frozen=True)
class Scene:
    """Everything that the picture shows, in SI floats (temperatures in degC, times in h)."""

    hours: np.ndarray  # shape (n,), from dusk
    air: np.ndarray
    wind: float  # [m/s]
    sky: float  # [K] what the pipe radiates to, below the air
    keeps: str  # what keeps the run warm, in words; empty: nothing
    fails: float  # when its power fails; inf: not in this night
    begin: float  # water at dusk
    hot: float  # and of the fainter curve
    water: np.ndarray
    ice: np.ndarray  # share of the bore
    ice_after: float  # inf: not in this night
    hot_water: np.ndarray
    hot_ice_after: float
    rest: float  # where the water would settle at the coldest hour

    @property
    def most_ice(self) -> float:
        """The largest share of the bore that is ice in this night."""
        return float(self.ice.max())

    @property
    def in_hand(self) -> float:
        """Hours from the failure of the power to the first ice; inf: more than the night has."""
        return self.ice_after - self.fails if np.isfinite(self.ice_after) else np.inf


class FreezePicture(Picture):
    """Shows the run through a night: its scale of temperature, its water and its ice."""

    size = WIDTH, HEIGHT
    parts = (
        (0, 0, 530, TALL + 4),
        (305, 0, 552, TALL + 4),
        (0, TALL + 4, 452, HEIGHT - TALL - 4),
        (452, TALL + 4, WIDTH - 452, HEIGHT - TALL - 4),
    )

    def build(self, canvas: Canvas) -> None:
        graph = self.graph = Graph(canvas, LEFT, 2, WIDE, TALL, "The night", HOURS, _scale(LOWS[1], HIGHS[0]))
        band = Rectangle((0, LOWS[-1]), 0, HIGHS[-1] - LOWS[-1], fc=NO_POWER, ec=NO_POWER_EDGE, hatch="//", lw=0)
        self.band = canvas.moving(graph.axes.add_patch(band))
        self.zero = canvas.moving(*graph.axes.plot([0, NIGHT], [0, 0], color=ICE_EDGE, lw=1.2))
        self.air = graph.line(lw=2, ls="-.", color=FAINT)
        self.hot = graph.line(lw=2.5, ls=":", color=FAINT)
        self.ghost = graph.line(lw=2, ls="--", color=GHOST)
        self.icy = graph.line(lw=7, color=ICE_EDGE, solid_capstyle="butt")
        self.water = graph.line()
        self.hot_mark = graph.mark("v", ms=11, mfc="white", mec=ICE_EDGE, mew=2.5)
        self.mark = graph.mark("v", ms=14, color=ICE_EDGE)
        self.first_ice = graph.words(0, 0, color=ICE_EDGE, weight="bold", backed=True)
        around = canvas.drawing(LEFT, 2, WIDE, TALL)
        self.legend = canvas.words(around, WIDE - 6, 14, ha="right")
        low = canvas.drawing(LEFT, TALL + 4, WIDTH - LEFT, HEIGHT - TALL - 4)
        low.text(0, 14, "Cuts through the pipe at those hours", size=TEXT, weight="bold", color=INK)
        places = ROOM_LEFT + (WIDE - ROOM_LEFT - 12) * CUTS / NIGHT
        self.rings = Rings(canvas, low, places, 62, RING)
        self.shares = [canvas.words(low, x, 114, ha="center") for x in places]
        self.scales = (self.graph,)

    def show(self, scene: Scene) -> None:
        self._show_scale(scene)
        self._show_night(scene)
        shares = np.interp(CUTS, scene.hours, scene.ice)
        self.rings.show(shares, np.interp(CUTS, scene.hours, scene.water))
        for words, share in zip(self.shares, shares):
            words.set_text(ice_share(share))
        self.ghost.set_data(*((self.kept.hours, self.kept.water) if self.kept else ([], [])))

    def sentence(self, scene: Scene) -> str:
        return sentence(scene, self.system)

    def _show_scale(self, scene: Scene) -> None:
        lowest = min(scene.air.min(), scene.water.min(), *((self.kept.water.min(),) if self.kept else ()))
        low = next((low for low in LOWS if low <= lowest), LOWS[-1])
        self.graph.stretch(up=_scale(low, HIGHS[int(max(scene.begin, scene.water[0]) > HIGHS[0])]))

    def _show_night(self, scene: Scene) -> None:
        powered = min(scene.fails, NIGHT)
        self.band.set(x=powered, width=NIGHT - powered)
        self.air.set_data(scene.hours, scene.air)
        self.hot.set_data(scene.hours, scene.hot_water)
        self.water.set_data(scene.hours, scene.water)
        self.icy.set_data(scene.hours, np.where(scene.ice > 0, 0.0, np.nan))
        for mark, hours in ((self.mark, scene.ice_after), (self.hot_mark, scene.hot_ice_after)):
            mark.set_data(*(([hours], [0.0]) if np.isfinite(hours) else ([], [])))
        icy = np.isfinite(scene.ice_after)
        self.first_ice.set_text("first ice" if icy else "")
        if icy:  # beside its mark, and always inside the graph
            self.first_ice.set_position(
                (
                    min(scene.ice_after + 0.15, NIGHT - 2),
                    -0.11 * (self.graph.up.high - self.graph.up.low),
                )
            )
        begin, hot = (show(celsius(value), "temperature", self.system) for value in (scene.begin, scene.hot))
        power = "  ▨ no power" if np.isfinite(scene.fails) else ""
        self.legend.set_text(f"━ {began(scene)} {begin}  ┅ just used at {hot}  –·– air{power}")

    def description(self, scene: Scene) -> str:
        cuts = ", ".join(f"{ice_share(np.interp(hour, scene.hours, scene.ice))} at {hour:g} h" for hour in CUTS)
        ends = [
            show(celsius(values[-1]), "temperature", self.system)
            for values in (scene.air, scene.water, scene.hot_water)
        ]
        return (
            f"A graph of {NIGHT:g} hours with curves of the air, of water in the run and, fainter, of water that was"
            f" just used; at dawn they are at {ends[0]}, {ends[1]} and {ends[2]}. Below it eight cuts through the pipe:"
            f" {cuts}."
        )


def began(scene: Scene) -> str:
    """Says how the followed run begins its night."""
    return f"{scene.keeps} from" if scene.keeps else "stood at"


def ice_share(share: float) -> str:
    """Ice in a cut, in words."""
    if share <= 0:
        return "water"
    return "solid" if share >= 0.999 else f"{100 * share:.0f} % ice" if share >= 0.005 else "first ice"


def no_ice(scene: Scene) -> str:
    """Says of a run without ice how far that holds."""
    lasts = ", while the power lasts" if scene.keeps and not np.isfinite(scene.fails) else ""
    return f"no ice forms by dawn{lasts}"


def _end(scene: Scene) -> str:
    """The last words about the followed run."""
    if not np.isfinite(scene.ice_after):
        return no_ice(scene)
    return f"{ice_words(scene.ice_after)}, and by dawn {_most(scene)}"


def _most(scene: Scene) -> str:
    return "it is solid" if scene.most_ice >= 0.999 else f"up to {100 * scene.most_ice:.0f} % of it is ice"


def sentence(scene: Scene, system: str) -> str:
    """Puts into words what the picture shows, with its numbers."""
    low, begin, hot = (
        show(celsius(value), "temperature", system) for value in (scene.air.min(), scene.begin, scene.hot)
    )
    wind = f"wind {show(Q_(scene.wind, 'm/s'), 'wind', system)}" if scene.wind > 0 else "no wind"
    sky = f", sky {show(Q_(scene.sky, 'delta_degC'), 'temperature difference', system)} colder" if scene.sky > 0 else ""
    power = ""
    if scene.keeps:
        power = (
            f"; power fails after {duration(3600 * scene.fails)}"
            if 0 < scene.fails < NIGHT
            else "; no power"
            if scene.fails == 0
            else ""
        )
    used = ice_words(scene.hot_ice_after) if np.isfinite(scene.hot_ice_after) else "no ice forms by dawn"
    kept = f"{scene.keeps.capitalize()} from {begin}" if scene.keeps else f"Water that stood at {begin}"
    return f"Coldest air {low}, {wind}{sky}{power}. {kept}: {_end(scene)}. Just used at {hot} and left alone: {used}."
