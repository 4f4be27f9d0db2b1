"""How much calcium carbonate falls out of hard water when it is warmed, and what a layer of it costs in heat.

The water holds calcium and its carbonates, nothing else that counts, and the main brings it just saturated with
calcite: it neither lays scale down nor takes any up while it is cold. In a closed system no gas leaves. So what falls
out takes as many moles of carbon as of calcium with it, and total carbon less calcium is the same before and after.

Concentrations are in mol for each kg of water, which is taken as 1 L of cold water; hardness in mg/L as CaCO3.
"""

from dataclasses import dataclass

import numpy as np

from .properties import KELVIN

MOLAR_MASS = 100_087.0  # [mg/mol] CaCO3 (IUPAC 2021: 40.078 + 12.011 + 3 * 15.999)
STEPS, ROUNDS = 32, 6  # halvings of the pH; rounds in which its ionic strength settles
MOST_ACID, LEAST_ACID = 5.0, 10.2  # pH between which saturated drinking water lies, up to that of calcite alone


@dataclass(frozen=True)
class Equilibria:
    """Holds what the water's equilibria are at a temperature: plain constants, each a float or an array.

    calcite : [Ca][CO3]; first, second : of carbonic acid; water : [H][OH]
    bicarbonate_pair, carbonate_pair : CaHCO3+ and CaCO3 dissolved, as association constants
    debye : A of Davies' equation [(kg/mol)^0.5]
    """

    calcite: np.ndarray
    first: np.ndarray
    second: np.ndarray
    water: np.ndarray
    bicarbonate_pair: np.ndarray
    carbonate_pair: np.ndarray
    debye: np.ndarray


def equilibria(temperature) -> Equilibria:
    """Gives the constants of calcite, carbonic acid and water at a temperature [degC], 0 to 90.

    Plummer and Busenberg (1982), Geochim. Cosmochim. Acta 46, 1011-1040: equations for calcite, carbonic acid and both
    ion pairs; water's own constant and A as in Standard Methods 2330 (as quoted in secondary literature).
    """
    kelvin = np.add(temperature, KELVIN)
    log = np.log10(kelvin)

    def power(constant, linear, inverse, logarithm, square=0.0):
        return 10.0 ** (constant + linear * kelvin + inverse / kelvin + logarithm * log + square / kelvin**2)

    dielectric = 60954.0 / (kelvin + 116.0) - 68.937
    return Equilibria(
        calcite=power(-171.9065, -0.077993, 2839.319, 71.595),
        first=power(-356.3094, -0.06091964, 21834.37, 126.8339, -1684915.0),
        second=power(-107.8871, -0.03252849, 5151.79, 38.92561, -563713.9),
        water=power(-283.971, -0.05069842, 13323.0, 102.24447, -1119669.0),
        bicarbonate_pair=power(1209.120, 0.31294, -34765.05, -478.782),
        carbonate_pair=power(-1228.732, -0.299444, 35512.75, 485.818),
        debye=1.82e6 * (dielectric * kelvin) ** -1.5,
    )


def saturated(ph, at: Equilibria, ionic=0.005):
    """Calcium, carbon less calcium, and ionic strength [mol/kg] of water of this pH that is saturated with calcite.

    Charges balance with hydroxide, carbonate and the pair CaHCO3+ among them: in soft water, whose pH is high,
    hydroxide carries a good part of the charge. ionic : first value of the ionic strength, from which it
        settles in ROUNDS
    """
    acid = 10.0 ** -np.asarray(ph, dtype=float)  # activity of H+
    squares = at.calcite * acid / at.second
    for _ in range(ROUNDS):
        root = np.sqrt(ionic)
        one = 10.0 ** (-at.debye * (root / (1.0 + root) - 0.3 * ionic))  # Davies (1962)
        two = one**4
        pair = at.bicarbonate_pair * squares / one
        rest = pair + acid / one - at.water / (acid * one)
        # 2 Ca + rest = HCO3 + 2 CO3 = both / Ca, since calcite holds the product of Ca and CO3
        both = squares / (two * one) + 2.0 * at.calcite / two**2
        free = 0.25 * (np.sqrt(rest**2 + 8.0 * both) - rest)
        bicarbonate, carbonate = squares / (two * one * free), at.calcite / (two**2 * free)
        ionic = 0.5 * (4.0 * (free + carbonate) + bicarbonate + pair + (acid + at.water / acid) / one)
    gas = acid * squares / (at.first * two * free)
    calcium = free + pair + at.carbonate_pair * at.calcite
    return calcium, gas + bicarbonate + carbonate - free, ionic


def comes_down(hardness, cold, hot):
    """Calcium carbonate [mg/L] that falls out of water which is saturated at `cold` and warmed to `hot` [degC].

    hardness : [mg/L as CaCO3] all of it calcium with its carbonates; at least what calcite alone gives, about 15.
    Nothing falls out of water that is not warmed. Equilibrium: it is the most that can come down.
    """
    calcium = np.divide(hardness, MOLAR_MASS)
    at_cold, at_hot = equilibria(cold), equilibria(np.maximum(hot, cold))
    _, carbon, ionic = _halved(0, calcium, at_cold, 3.0 * np.max(calcium))
    left, _, _ = _halved(1, carbon, at_hot, ionic)
    return MOLAR_MASS * np.maximum(calcium - left, 0.0)


def _halved(which: int, wanted, at: Equilibria, ionic):
    """Finds what `saturated` gives where one of its first two values is `wanted`; both fall as the pH rises."""
    low, high = np.full(np.broadcast_shapes(np.shape(wanted), np.shape(at.calcite)), MOST_ACID), LEAST_ACID
    for _ in range(STEPS):
        middle = 0.5 * (low + high)
        found = saturated(middle, at, ionic)
        ionic = found[2]
        acid = found[which] > wanted
        low, high = np.where(acid, middle, low), np.where(acid, high, middle)
    return found


def layer(mass, surface, density):
    """Thickness [m] of a layer of scale: its mass [kg] over surface [m2] and density [kg/m3]."""
    return np.divide(mass, np.multiply(surface, density))


def warmer(heat, surface, thickness, conductivity):
    """Temperature step [K] across a flat layer that carries `heat` [W] through `surface` [m2]: Fourier's law."""
    return np.multiply(heat, thickness) / np.multiply(surface, conductivity)
