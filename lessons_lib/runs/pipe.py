"""Pipes by their trade names."""

import re
from dataclasses import dataclass
from functools import cache

import numpy as np

from ..quantities.errors import InputError, unknown_name
from ..quantities.reading import plain
from ..quantities.results import Printed
from ..quantities.units import (
    BORE,
    CONDUCTIVITY,
    DENSITY,
    HEAT_CAPACITY,
    OUTSIDE,
    Q_,
    ROUGHNESS,
    Quantity,
    share,
    to_base,
)
from ..storage import tables

YES_OR_NO = ("yes", "no")


@dataclass(frozen=True, repr=False, eq=False)
class Pipe(Printed):
    """A pipe: its dimensions and what its wall is made of.

    inside_diameter, outside_diameter [length]; wall_conductivity [W/(m K)]; roughness [length];
    density, heat_capacity of the wall; emissivity of the bare surface [-]; name and material as the trade says
    them; region : where its standard is the usual one, as in data/pipes.csv; "" : not known.
    Raises InputError where a value is out of range or the bore is not smaller than the outside.
    """

    name: str
    inside_diameter: Quantity
    outside_diameter: Quantity
    wall_conductivity: Quantity
    roughness: Quantity
    density: Quantity
    heat_capacity: Quantity
    emissivity: float
    material: str = ""
    region: str = ""

    def __post_init__(self):
        inside, outside, *others = (
            to_base(value, domain)
            for value, domain in (
                (self.inside_diameter, BORE),
                (self.outside_diameter, OUTSIDE),
                (self.wall_conductivity, CONDUCTIVITY),
                (self.roughness, ROUGHNESS),
                (self.density, DENSITY),
                (self.heat_capacity, HEAT_CAPACITY),
            )
        )
        if any(map(np.ndim, (inside, outside, *others))):
            raise InputError(
                "pipe: give one value for each property of a pipe, not a list; make several pipes instead."
            )
        if inside >= outside:
            raise InputError(
                f"pipe: the inside diameter {self.inside_diameter} must be smaller than "
                f"the outside diameter {self.outside_diameter}."
            )
        object.__setattr__(self, "emissivity", share(self.emissivity, "emissivity"))

    @classmethod
    def nominal(cls, family: str, size: str) -> "Pipe":
        """The pipe of a family and nominal size in data/pipes.csv, for example ("copper L", "1/2 in").

        Sizes are read as the trade writes them: "1 1/4 in" or "1-1/4 in", "22 mm".
        Raises InputError with the nearest names.
        """
        return _nominal(str(family), str(size))

    @property
    def made_of(self) -> "PipeMaterial | None":
        """The row of the pipe's material; None where data/pipe_materials.csv does not have it."""
        known = any(row["material"] == self.material for row in tables.rows("pipe_materials"))
        return pipe_material(self.material) if known else None


@dataclass(frozen=True)
class PipeMaterial:
    """Says what the trade must know of a pipe's material: a row of data/pipe_materials.csv.

    plastic : whether the wall shows plastic; stiffener : whether a push fitting needs one in this pipe
    joint : the pipe's own joint, a kind in data/insertion_depths.csv; joined : the trade's word for making it
    colour : of the wall in pictures; highest_taped [degC] : under heat tape, inf where the tape's own limit comes first
    note : what to know of every result of this pipe; empty: nothing
    expansion [1/K] of the length; elastic_modulus [Pa] and poisson [-] of the wall
    """

    name: str
    plastic: bool
    joint: str
    joined: str
    stiffener: bool
    colour: str
    highest_taped: float
    note: str
    expansion: float
    elastic_modulus: float
    poisson: float


def pipe_material(name: str) -> PipeMaterial:
    """The material of that name in data/pipe_materials.csv. Raises InputError with the nearest names."""
    row = tables.row("pipe_materials", "material", name, "pipe material")
    return PipeMaterial(
        name=row["material"],
        plastic=row.word("plastic", YES_OR_NO) == "yes",
        joint=row["joint"],
        joined=row["joined"],
        stiffener=row.word("stiffener", YES_OR_NO) == "yes",
        colour=row["colour"],
        highest_taped=row.number("highest_taped") if row["highest_taped"] else np.inf,
        note=row["note"],
        expansion=1e-3 * row.number("expansion"),
        elastic_modulus=1e9 * row.number("elastic_modulus"),
        poisson=row.number("poisson"),
    )


def materials() -> list[PipeMaterial]:
    """The materials that data/pipes.csv has sizes of, in file order."""
    return [pipe_material(name) for name in dict.fromkeys(row["material"] for row in tables.rows("pipes"))]


def finishes(material: str) -> dict[str, float]:
    """The finishes that bare pipe of a material may have, brightest first: name → emissivity; plastic has none."""
    return {row["surface"]: row.number("emissivity") for row in tables.rows("surfaces") if row["material"] == material}


@cache
def _nominal(family: str, size: str) -> Pipe:
    known = families()
    wanted = _plain(family)
    family_name = next((name for name in known if _plain(name) == wanted), None)
    if family_name is None:
        raise unknown_name("pipe family", family, known)
    size_name = next((name for name in sizes(family_name) if _plain(name) == _plain(size)), None)
    if size_name is None:
        raise unknown_name(f"size of {family_name}", size, sizes(family_name))
    row = next(row for row in tables.rows("pipes") if (row["family"], row["size"]) == (family_name, size_name))
    material = tables.row("pipe_materials", "material", row["material"], "pipe material")
    outside, wall = row.number("outside_diameter"), row.number("wall")
    return Pipe(
        name=f"{family_name} {size_name}",
        inside_diameter=Q_(outside - 2 * wall, row["unit"]),
        outside_diameter=Q_(outside, row["unit"]),
        wall_conductivity=Q_(float(material["conductivity"]), "W/(m*K)"),
        roughness=Q_(float(material["roughness"]), "mm"),
        density=Q_(float(material["density"]), "kg/m**3"),
        heat_capacity=Q_(float(material["heat_capacity"]), "J/(kg*K)"),
        emissivity=float(material["emissivity"]),
        material=row["material"],
        region=row["region"],
    )


def families() -> list[str]:
    """The pipe families of data/pipes.csv, in file order."""
    return list(dict.fromkeys(row["family"] for row in tables.rows("pipes")))


def sizes(family: str) -> list[str]:
    """The nominal sizes of a family, smallest first."""
    return [row["size"] for row in tables.rows("pipes") if row["family"] == family]


@cache
def counterpart(family: str, size: str, region: str) -> tuple[str, str]:
    """The pipe of a region that is bought there in place of another: (family, size) of the same material, nearest in
    outside diameter.

    region : as in data/pipes.csv. A region in Europe that has nothing within 10 % takes what is usual in Europe. The
    pipe stays what it is where it is usual already, or where there is none of its material.
    """
    pipe = Pipe.nominal(family, size)
    if pipe.region == region:
        return family, size

    def apart(one: tuple[str, str]) -> float:
        return abs((Pipe.nominal(*one).outside_diameter / pipe.outside_diameter).to("").magnitude - 1)

    for place in (region, "Europe") if region == "United Kingdom" else (region,):
        rows = [row for row in tables.rows("pipes") if (row["material"], row["region"]) == (pipe.material, place)]
        nearest = min(((row["family"], row["size"]) for row in rows), key=apart, default=(family, size))
        if apart(nearest) < 0.1:
            break
    return nearest


def in_full(family: str, size: str) -> str:
    """A size as its control shows it; metric ones with their wall, for a plain one differs between countries: "15 × 1
    mm". A size that a school called by a name of its own keeps it.
    """
    row = next(row for row in tables.rows("pipes") if (row["family"], row["size"]) == (family, size))
    across = f"{float(row['outside_diameter']):g}"
    if row["unit"] != "mm" or not size.startswith(f"{across} mm"):  # inches, or a school's own size with a name
        return size
    return f"{across} × {float(row['wall']):g} mm"


def aloud(family: str, size: str) -> str:
    """A pipe as people say it, by size and material, without its standard: "22 mm copper", "3/4 in copper"; with the
    wall where the size's name has it, "15 mm copper (0.7 mm wall)".
    """
    across, _, wall = size.partition(" x ")
    return f"{across} {Pipe.nominal(family, size).material}{f' ({wall} wall)' if wall else ''}"


def _plain(name: object) -> str:
    """A trade name without the freedoms of writing: case, blanks, hyphens, inch marks."""
    text = plain(str(name)).lower().replace('"', " in").replace("inches", "in").replace("inch", "in").replace("×", "x")
    text = re.sub(r"[\s\-_]+", " ", text).strip()
    return re.sub(r"(\d)(in|mm)\b", r"\1 \2", text)
