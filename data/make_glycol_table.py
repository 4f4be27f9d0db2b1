"""Make glycol.csv from a reference library (CoolProp, in the test extra).

Run once, from the top of the project:  python data/make_glycol_table.py
"""

from pathlib import Path

import CoolProp
from CoolProp.CoolProp import PropsSI

HERE = Path(__file__).parent
COLUMNS = {"density": "D", "heat_capacity": "C", "conductivity": "L", "viscosity": "V"}
SHARES, TEMPERATURES = range(20, 51, 10), range(0, 91, 5)

if __name__ == "__main__":
    lines = [
        "# Propylene glycol in water, share by mass. Melinder (2010), properties of secondary working fluids.",
        f"# Made by make_glycol_table.py with CoolProp {CoolProp.__version__} (INCOMP::MPG) at 300 kPa.",
        "# Units: percent by mass, degC, kg/m3, J/(kg K), W/(m K), Pa s",
        ",".join(["share", "temperature", *COLUMNS]),
    ]
    for share in SHARES:
        for temperature in TEMPERATURES:
            fluid = f"INCOMP::MPG[{share / 100}]"
            values = [PropsSI(code, "T", temperature + 273.15, "P", 300e3, fluid) for code in COLUMNS.values()]
            lines.append(",".join([str(share), str(temperature), *(f"{value:.6g}" for value in values)]))
    (HERE / "glycol.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
