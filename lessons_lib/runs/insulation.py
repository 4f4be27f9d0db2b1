"""What is put around a pipe."""

from dataclasses import dataclass, field

import numpy as np

from ..quantities.errors import InputError, unknown_name
from ..quantities.results import Printed, Word
from ..quantities.units import CONDUCTIVITY, INSULATION_BORE, Q_, THICKNESS, Quantity, own_copy, share, to_base
from ..storage import tables
from ..storage.spelling import as_in_tables

GAPS = ("sealed", "open")
NONE = "none"
BARE_PIPE, ALL_BARE = Word("bare pipe", 2), Word("all bare", 2)


@dataclass(frozen=True, repr=False, eq=False)
class Insulation(Printed):
    """An insulation: material of data/insulation.csv, thickness, bore, and its outer face.

    thickness : radial, one value or an array; 0 is a bare pipe
    bore : of the insulation; None: the pipe's outside diameter (resolved in Run)
    gap : "sealed" or "open": what becomes of the air where the bore is larger than the pipe
    jacket : name in data/surfaces.csv; its emissivity counts
    conductivity : replaces the material's own [W/(m K)]
    emissivity : replaces that of the jacket or of the material [-]
    Raises InputError for unknown names and values out of range.
    """

    material: str
    thickness: Quantity
    bore: Quantity | None = None
    gap: str = "sealed"
    jacket: str | None = None
    conductivity: Quantity | None = None
    emissivity: float | None = None
    conductivity_at: tuple = field(init=False, repr=False)
    density_heat: float = field(init=False, repr=False)
    surface_emissivity: float | None = field(init=False, repr=False)
    own_emissivity: float = field(init=False, repr=False)  # of the material, whatever jacket is on it

    def __post_init__(self):
        if not isinstance(self.gap, str) or self.gap not in GAPS:
            raise unknown_name("gap", self.gap, list(GAPS))
        thickness = to_base(self.thickness, THICKNESS)
        if self.bore is not None:
            to_base(self.bore, INSULATION_BORE)
        rows = self._material_rows()
        if rows[0]["emissivity"] is None and np.any(thickness > 0):
            raise InputError(
                f'insulation: "none" has no thickness, but {self.thickness} was given. Name a material or give 0 mm.'
            )
        at = tuple(np.array([float(row[key]) for row in rows]) for key in ("mean_temperature", "conductivity"))
        if self.conductivity is not None:
            value = to_base(self.conductivity, CONDUCTIVITY)
            if np.ndim(value):
                raise InputError("conductivity: give one value for the insulation, not a list.")
            at = (np.array([0.0]), np.array([value]))
        for name in ("thickness", *(("bore",) if self.bore is not None else ())):
            object.__setattr__(self, name, own_copy(getattr(self, name)))
        object.__setattr__(self, "conductivity_at", at)
        object.__setattr__(self, "density_heat", float(rows[0]["density"]) * float(rows[0]["heat_capacity"]))
        object.__setattr__(self, "surface_emissivity", self._surface_emissivity(rows))
        object.__setattr__(self, "own_emissivity", float(rows[0]["emissivity"] or 0.9))

    def _material_rows(self) -> list[dict]:
        if isinstance(self.material, str) and self.material == NONE:
            return [{"mean_temperature": 0, "conductivity": 1, "density": 0, "heat_capacity": 0, "emissivity": None}]
        wanted = as_in_tables(str(self.material).strip().lower())
        rows = [row for row in tables.rows("insulation") if row["material"] == wanted]
        if not rows:
            raise unknown_name("insulation", self.material, materials(), "For a bare pipe use Insulation.none().")
        return rows

    def _surface_emissivity(self, rows) -> float | None:
        if self.emissivity is not None:
            return share(self.emissivity, "emissivity")
        if self.jacket is not None:
            known = [row["surface"] for row in tables.rows("surfaces") if row["kind"] == "jacket"]
            wanted = as_in_tables(self.jacket.lower()) if isinstance(self.jacket, str) else ""
            if wanted not in known:
                raise unknown_name("jacket", self.jacket, known)
            return float(tables.row("surfaces", "surface", wanted, "jacket")["emissivity"])
        return None if rows[0]["emissivity"] is None else float(rows[0]["emissivity"])

    @classmethod
    def none(cls, emissivity: float | None = None) -> "Insulation":
        """A bare pipe; emissivity None: the pipe's own."""
        return cls(NONE, Q_(0.0, "mm"), emissivity=emissivity)


def materials() -> list[str]:
    """The insulation materials of data/insulation.csv, in file order."""
    return list(dict.fromkeys(row["material"] for row in tables.rows("insulation")))
