"""Make co2_cycle.csv from a reference library (CoolProp, in the test extra).

Run once, from the top of the project:  python data/make_co2_table.py
One-stage cycle: saturated vapour from the evaporator, a compressor of isentropic efficiency EFFICIENCY, the gas cooled
against the water's counterflow with at least PINCH between them, throttled. Of the high pressures tried the best counts.
"""

from functools import cache
from pathlib import Path

import CoolProp
import numpy as np
from CoolProp.CoolProp import PropsSI

HERE = Path(__file__).parent
EFFICIENCY, PINCH = 0.70, 3.0  # [-], [K]
PRESSURES = np.arange(75e5, 140.1e5, 2.5e5)  # [Pa]
STORES, EVAPORATING, RETURNS = (50, 60, 70), range(-35, 16, 10), range(5, 66, 5)
WAY = np.linspace(0, 1, 31)  # shares of the heat from the cold end of the gas cooler on


@cache
def gas_at(pressure: float) -> tuple:
    """Temperatures [K] a quarter of a kelvin apart and the gas's enthalpies [J/kg] at a pressure."""
    kelvin = np.arange(275.0, 475.0, 0.25)
    return kelvin, PropsSI("H", "P", pressure, "T", kelvin, "CO2")


@cache
def compressed(evaporating: float, pressure: float) -> tuple[float, float]:
    """Enthalpy of the gas after a compressor, and the compressor's work [J/kg]."""
    suction, entropy = (PropsSI(name, "T", evaporating + 273.15, "Q", 1, "CO2") for name in "HS")
    work = (PropsSI("H", "P", pressure, "S", entropy, "CO2") - suction) / EFFICIENCY
    return suction + work, work


def cop(store: float, back: float, evaporating: float) -> float:
    """The best COP over the high pressures; water from `back` to `store` [degC]."""
    cold, hot = back + 273.15, max(store, back + 3) + 273.15
    best = 0.0
    for pressure in PRESSURES:
        gas, work = compressed(evaporating, pressure)
        out = pinched(pressure, gas, cold, hot)
        if out is not None:
            best = max(best, (gas - out) / work)
    return best


def pinched(pressure: float, gas: float, cold: float, hot: float):
    """The lowest enthalpy [J/kg] that the gas can leave with; None: it is nowhere hot enough."""
    kelvin, enthalpy = gas_at(pressure)
    for warmer in np.arange(PINCH, 60, 0.25):
        out = np.interp(cold + warmer, kelvin, enthalpy)
        if out >= gas:
            return None
        if np.min(np.interp(out + WAY * (gas - out), enthalpy, kelvin) - cold - WAY * (hot - cold)) >= PINCH - 1e-6:
            return out
    return None


if __name__ == "__main__":
    lines = [
        "# COP of an ideal one-stage transcritical CO2 cycle that heats water in one pass from `back` to `store`.",
        f"# Made by make_co2_table.py with CoolProp {CoolProp.__version__} (Span and Wagner 1996): isentropic efficiency"
        f" {EFFICIENCY:g}, pinch {PINCH:g} K, best high pressure from 75 to 140 bar.",
        "# No fan, no motor's loss, no defrost. Units: degC, degC, degC, -",
        "store,evaporating,back,cop",
    ]
    for store in STORES:
        for evaporating in EVAPORATING:
            for back in RETURNS:
                lines.append(f"{store},{evaporating},{back},{cop(store, back, evaporating):.4f}")
    (HERE / "co2_cycle.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
