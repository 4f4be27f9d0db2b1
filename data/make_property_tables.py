"""Make water.csv and air.csv from a reference library (CoolProp, in the test extra).

Run once, from the top of the project:  python data/make_property_tables.py
tests/published/test_properties.py checks every row against a second library.
"""

from pathlib import Path

import CoolProp
from CoolProp.CoolProp import PropsSI

HERE = Path(__file__).parent
COLUMNS = {"density": "D", "heat_capacity": "C", "conductivity": "L", "viscosity": "V"}
WATER_PRESSURE, AIR_PRESSURE = 300e3, 101.325e3


def write_table(name: str, fluid: str, pressure: float, temperatures: range, source: str) -> None:
    """Write one CSV of properties [SI] at whole degrees Celsius."""
    lines = [
        f"# {source}",
        f"# Made by make_property_tables.py with CoolProp {CoolProp.__version__} at {pressure / 1000:g} kPa.",
        "# Units: degC, kg/m3, J/(kg K), W/(m K), Pa s",
        ",".join(["temperature", *COLUMNS]),
    ]
    for temperature in temperatures:
        values = [PropsSI(code, "T", temperature + 273.15, "P", pressure, fluid) for code in COLUMNS.values()]
        lines.append(",".join([str(temperature), *(f"{value:.7g}" for value in values)]))
    (HERE / name).write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    write_table(
        "water.csv",
        "Water",
        WATER_PRESSURE,
        range(0, 101),
        "Liquid water. IAPWS R6-95(2018) density and heat capacity, R12-08 viscosity, R15-11 conductivity.",
    )
    write_table(
        "air.csv",
        "Air",
        AIR_PRESSURE,
        range(-70, 111),
        "Dry air. Lemmon et al. (2000) density and heat capacity; Lemmon and Jacobsen (2004) viscosity and conductivity.",
    )
