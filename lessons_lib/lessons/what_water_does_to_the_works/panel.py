"""The panel of lesson 13: what comes down from hard water, and what a millimetre of scale costs."""

import numpy as np

from ...panels import shared_controls as usual
from ...panels.controls import Slide
from ...panels.panel import Panel
from ...panels.readout import Readout
from ...physics import heat_pump
from ...physics import scale as physics
from ...plant.scale import degrees, hardness_word, layer
from ...quantities.display import celsius, show
from ...quantities.results import Word
from ...quantities.units import Q_
from ...runs.assessment import store_word
from ...runs.bacteria import RECOMMENDED_STORE
from ...storage.tables import tern_bank
from .picture import ScalePicture, ScaleScene, how_soon, scale_mass
from .tries import TRIES

MAIN, OUTDOOR = celsius(10.0), celsius(10.0)  # the cold water; the air on a mild day
LAYER = Q_(1.0, "mm")  # of scale, whose cost is asked for
YEAR = 365.0  # [days]
GRID = np.linspace(40, 75, 15)  # [degC] of the curve
# Years until the layer is there, at least so many, if all of the scale stays (common practice, no source).
SOON_WORDS = (
    (10.0, Word("hardly scales", 0)),
    (1.0, Word("scales within years", 1)),
    (0.0, Word("scales within a year", 2)),
)
# Share of electricity that the layer costs, at least (common practice, no source).
COST_WORDS = (
    (0.10, Word("costs much", 2)),
    (0.03, Word("costs some", 1)),
    (-np.inf, Word("costs little", 0)),
)
HARD, SOFT = "Tern Bank, hard water", "The same rig in soft water"


def hardness_and_scale() -> Panel:
    """Tern Bank's heat pump (invented) in hard water."""
    ready = ready_made()
    start = ready[HARD]
    return Panel(
        {
            "The water": {
                "hardness": Slide(
                    "Hardness",
                    "hardness",
                    start["hardness"],
                    (30, 450, 5),
                    (2, 26, 0.5),
                    "counted as calcium carbonate; if your waterworks state it otherwise, the card Water helps; all of"
                    " it is taken as the kind that heat brings down",
                ),
                "hot": Slide(
                    "Set temperature",
                    "temperature",
                    start["hot"],
                    (40, 75, 1),
                    (104, 167, 1),
                    f"to which the heat pump heats the water; it comes in at {show(MAIN, 'temperature', 'metric')}"
                    f" ({show(MAIN, 'temperature', 'US customary')})",
                ),
                "litres": Slide(
                    "Hot water a day",
                    "large volume",
                    start["litres"],
                    (50, 600, 10),
                    (15, 160, 5),
                    "what all taps together draw",
                ),
            },
            "The heat exchanger": {
                "surface": Slide(
                    "Surface",
                    "surface",
                    start["surface"],
                    (0.2, 3, 0.1),
                    (2, 32, 0.5),
                    "of the heat pump's exchanger on the water's side; the maker's sheet says it",
                ),
            },
        },
        calculate,
        ScalePicture,
        readouts,
        ready,
        headline=headline,
        tries=TRIES,
        goods=usual.goods_with(ready, US_GOODS),
    )


def ready_made() -> dict:
    """Tern Bank's heat pump (invented) in two waters: title → settings."""
    hard = {
        "hardness": Q_(300, "mg/L"),
        "hot": RECOMMENDED_STORE,
        "litres": Q_(200, "L"),
        "surface": Q_(0.5, "m**2"),
    }
    return {HARD: hard, SOFT: {**hard, "hardness": Q_(60, "mg/L")}}


US_WATER = {"litres": Q_(55, "gallon"), "surface": Q_(5.5, "ft**2")}  # round numbers of the same kind
US_GOODS = {
    HARD: {**US_WATER, "hardness": Q_(17.5, "grain/gallon")},
    SOFT: {**US_WATER, "hardness": Q_(3.5, "grain/gallon")},
}


def heat_output() -> float:
    """Gives the heat output of Tern Bank's heat pump (invented) [W]."""
    return 1000 * next(place["heat_pump"]["heat"] for place in tern_bank() if "heat_pump" in place)


def calculate(state: dict) -> ScaleScene:
    """Turns the controls' values into a scene. Raises InputError."""
    hardness, hot = state["hardness"].to("mg/L").magnitude, state["hot"].to("degC").magnitude
    volume, surface = state["litres"].to("m**3").magnitude, state["surface"].to("m**2").magnitude
    falls = physics.comes_down(hardness, MAIN.magnitude, np.append(GRID, hot))
    of, thick, heat = layer(), LAYER.to("m").magnitude, heat_output()
    mass = float(falls[-1]) * 1e-3 * volume * YEAR  # 1 mg/L is 1 g in each m3
    step = float(physics.warmer(heat, surface, thick, of.conductivity))
    air = OUTDOOR.magnitude
    grown = float(physics.layer(mass, surface, of.density))
    return ScaleScene(
        hardness=hardness,
        cold=MAIN.magnitude,
        hot=hot,
        litres=1000 * volume,
        surface=surface,
        grid=GRID,
        curve=falls[:-1],
        falls=float(falls[-1]),
        mass=mass,
        grown=grown,
        layer=thick,
        years=thick / grown if grown > 0 else np.inf,
        step=step,
        clean_step=heat_pump.CONDENSER_STEP,
        clean_cop=float(heat_pump.cop(hot, air)),
        scaled_cop=float(heat_pump.cop(hot + step, air)),
        heat=YEAR * float(heat_pump.stored_heat(volume, hot, MAIN.magnitude)) / 3.6e6,
    )


def soon_word(years: float) -> Word:
    """Says how soon the layer is there at the soonest."""
    return next(word for least, word in SOON_WORDS if years >= least)


def cost_word(share: float) -> Word:
    """Says what a layer costs that takes so much more electricity."""
    return next(word for least, word in COST_WORDS if share >= least)


def headline(scene: ScaleScene, system: str) -> str:
    """Says how much scale can come down in a year."""
    return f"At most {scale_mass(scene, system)} of scale a year" if scene.mass > 0 else "No scale comes down"


def readouts(scene: ScaleScene, system: str) -> list[Readout]:
    """The water, the time to the layer, its cost, and the store."""
    thick, advice = show(LAYER, "layer", system), show(RECOMMENDED_STORE, "temperature", system)
    return [
        Readout("Water", hardness_word(scene.hardness), degrees(scene.hardness, system)),
        Readout("Scale", soon_word(scene.years), f"{thick} {how_soon(scene.years)}"),
        Readout("Electricity", cost_word(scene.dearer), f"{100 * scene.dearer:.0f} % more under {thick}"),
        Readout("Store", store_word(scene.hot), f"advice ≥ {advice}; lower scales less"),
    ]
