"""Water in equilibrium with calcite, solved all at once by scipy, for tests: mass balances, charges and mass action.

Typed anew from the abstract of Plummer and Busenberg (1982); nothing of lessons_lib. Concentrations in mol/kg.
"""

import numpy as np
from scipy.optimize import root

CACO3 = 100_087.0  # [mg/mol]


def logs(celsius: float) -> dict:
    """Logarithms of the constants, and A of Davies' equation, at a temperature [degC]."""
    t = celsius + 273.15
    e = np.log10(t)
    return {
        "calcite": -171.9065 - 0.077993 * t + 2839.319 / t + 71.595 * e,
        "henry": 108.3865 + 0.01985076 * t - 6919.53 / t - 40.45154 * e + 669365 / t**2,
        "first": -356.3094 - 0.06091964 * t + 21834.37 / t + 126.8339 * e - 1684915 / t**2,
        "second": -107.8871 - 0.03252849 * t + 5151.79 / t + 38.92561 * e - 563713.9 / t**2,
        "water": -283.971 - 0.05069842 * t + 13323.0 / t + 102.24447 * e - 1119669 / t**2,
        "CaHCO3": 1209.120 + 0.31294 * t - 34765.05 / t - 478.782 * e,
        "CaCO3": -1228.732 - 0.299444 * t + 35512.75 / t + 485.818 * e,
        "A": 1.82e6 * ((60954 / (t + 116) - 68.937) * t) ** -1.5,
    }


def species(unknowns, celsius: float) -> dict:
    """Molalities from the logarithms of the activities of H, Ca and CO3, and the ionic strength."""
    k = logs(celsius)
    h, ca, co3, strength = unknowns
    s = np.sqrt(max(strength, 0.0))
    gamma = -k["A"] * (s / (1 + s) - 0.3 * strength)
    hco3 = h + co3 - k["second"]
    found = {
        "H": h - gamma,
        "Ca": ca - 4 * gamma,
        "CO3": co3 - 4 * gamma,
        "HCO3": hco3 - gamma,
        "CO2": h + hco3 - k["first"],
        "OH": k["water"] - h - gamma,
        "CaHCO3": k["CaHCO3"] + ca + hco3 - gamma,
        "CaCO3": k["CaCO3"] + ca + co3,
    }
    return {name: 10.0**value for name, value in found.items()}


def totals(m: dict) -> tuple[float, float]:
    """Calcium, and carbon less calcium."""
    calcium = m["Ca"] + m["CaHCO3"] + m["CaCO3"]
    return calcium, m["CO2"] + m["HCO3"] + m["CO3"] + m["CaHCO3"] + m["CaCO3"] - calcium


def solved(celsius: float, last, start):
    """Species of water that is saturated with calcite and meets one more condition: last(species, H) = 0 [mmol/kg]."""

    def misfit(unknowns):
        m = species(unknowns, celsius)
        charge = 2 * m["Ca"] + m["CaHCO3"] + m["H"] - m["HCO3"] - 2 * m["CO3"] - m["OH"]
        strength = 0.5 * (4 * m["Ca"] + 4 * m["CO3"] + m["HCO3"] + m["OH"] + m["H"] + m["CaHCO3"])
        saturation = unknowns[1] + unknowns[2] - logs(celsius)["calcite"]
        return [saturation, 1e3 * charge, 1e3 * (strength - unknowns[3]), last(m)]

    found = root(misfit, start, tol=1e-13)
    assert max(abs(misfit(found.x)[place]) for place in range(4)) < 1e-7, found.message
    return species(found.x, celsius), found.x


def scale(hardness: float, cold: float, hot: float) -> float:
    """What comes down from each kg of water that is saturated when cold [mg as CaCO3]; below 0: it could dissolve more.

    hardness : [mg/kg as CaCO3]
    """
    wanted = hardness / CACO3
    guess = [-7.4 - 1.9 * np.log10(200 / hardness), np.log10(wanted), -8.4 - np.log10(wanted), 3 * wanted]
    before, start = solved(cold, lambda m: 1e3 * (totals(m)[0] - wanted), guess)
    carbon = totals(before)[1]
    after, _ = solved(hot, lambda m: 1e3 * (totals(m)[1] - carbon), start)
    return CACO3 * (totals(before)[0] - totals(after)[0])


def under_gas(pressure: float, celsius: float) -> float:
    """Calcium of water that is saturated with calcite under CO2 of a pressure [atm], in mmol/kg."""
    gas = 10 ** logs(celsius)["henry"] * pressure
    found, _ = solved(celsius, lambda m: 10 * np.log10(m["CO2"] / gas), [-7.0, -3.0, -5.5, 0.004])
    return 1e3 * totals(found)[0]
