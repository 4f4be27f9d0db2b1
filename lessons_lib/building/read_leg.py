"""A leg read from its table in a layout file: pipe, covering, what is around it, what sits along it."""

import re
from functools import cache

from ..quantities.errors import InputError, shown, unknown_name
from ..quantities.reading import read_quantity
from ..quantities.units import AIR, DEPTH, Q_, SOIL, THICKNESS, WIND, Domain, to_base
from ..runs.fittings import fitting_named, names, resolve_fittings
from ..runs.insulation import NONE, Insulation, materials
from ..runs.pipe import Pipe, families
from ..runs.surroundings import Ground, Surroundings
from ..runs.tape import POINT, POINT_POWER, Tape
from ..storage import tables
from . import parts
from .kept import as_written, kept
from .source import LONGEST_LINE, NO_LENGTH, Entry, Source, Unfinished

USUAL = ("pipe", "size", "insulation", "thickness", "place", "joint", "bare_share", "tape", "air", "wind")
LEG = ("name", "from", "go", "length", "fittings", *USUAL)
DRAWN_LENGTH = Q_(1.0, "m")  # of a leg on the sketch whose length is not known yet; nothing is worked out with it
TWO_POINTS = re.compile(r"\s*(.+?)\s+at\s+(.+?)\s*,\s*(.+?)\s+at\s+(.+?)\s*")
SIZED = re.compile(r"(.*?[a-z])\s+((?:\d+[ -])?\d+(?:/\d+)?\s*(?:in|mm|\"))\s*", re.IGNORECASE)
NO_SHARE, BARE, STILL = Q_(0.0, "percent"), Q_(0.0, "mm"), Q_(0.0, "m/s")


@cache
def joints() -> list[str]:
    """The kinds of joint of data/insertion_depths.csv."""
    return list(dict.fromkeys(row["joint"] for row in tables.rows("insertion_depths")))


@cache
def along() -> list[str]:
    """The fittings of data/fittings.csv that can sit along a straight leg: no tees, no elbows, no outlets."""
    return [
        name
        for name in names()
        if "tee" not in name and "elbow" not in name and not fitting_named(name).hole and not fitting_named(name).heads
    ]


class LegReader:
    """Reads legs. One that stands in the file as it stood before is the same object, and so are coverings and
    surroundings that many legs share.
    """

    def __init__(self, source: Source, night: parts.NightSpec, places: Entry, usual: Entry, note):
        self.source, self.night, self.places, self.usual, self.note = source, night, places, usual, note
        places.only("indoors", "crawlspace", "buried", "depth", "soil")
        self.around = repr(places.table), repr(usual.table)

    def chain(self, entries: list[Entry], start: str) -> tuple:
        """Legs one after the other."""
        legs = []
        for entry in entries:
            legs.append(self.leg(entry, legs[-1].name if legs else start))
        return tuple(legs)

    def leg(self, entry: Entry, start: str | None = None) -> parts.Leg:
        """A leg from its table. start : where it begins, of a leg in a chain"""
        entry = Entry(entry.source, entry.path, entry.table, self.usual)
        outdoors = str(entry.raw("place", "")).strip().lower() == parts.OUTDOORS
        key = "leg", repr(entry.table), start, *self.around, self.night if outdoors else None
        finished = "length" in entry.table  # what is missing must be said each time
        return kept(key, lambda: self._leg(entry, start)) if finished else self._leg(entry, start)

    def _leg(self, entry: Entry, start: str | None) -> parts.Leg:
        entry.only(*(word for word in LEG if start is None or word != "from"))
        place = entry.word("place", parts.PLACES)
        family = entry.word("pipe", families())
        with entry.about("size"):
            pipe = Pipe.nominal(family, entry.text("size"))
        size = pipe.name.removeprefix(family).strip()
        bare = entry.quantity("bare_share", parts.SHARE, NO_SHARE)
        return parts.Leg(
            name=entry.text("name"),
            start=start or entry.text("from"),
            go=entry.word("go", list(parts.OPPOSITE)),
            length=self._length(entry),
            family=family,
            size=size,
            insulation=self._insulation(entry),
            surroundings=self._surroundings(entry, place),
            place=place,
            fittings=self._fittings(entry, size),
            joint=entry.word("joint", joints(), "push"),
            tape=self._tape(entry),
            bare_share=to_base(bare, parts.SHARE) / 100,
        )

    def _length(self, entry: Entry):
        """The length of a leg; one to draw it with where it is not said yet."""
        try:
            return entry.quantity("length", parts.LEG_LENGTH)
        except Unfinished as error:
            self.note(error.on(entry.text("name"), NO_LENGTH))
            return DRAWN_LENGTH

    def _insulation(self, entry: Entry) -> Insulation:
        material = entry.word("insulation", [NONE, *materials()])
        thickness = BARE if material == NONE else entry.quantity("thickness", THICKNESS)
        with entry.about("thickness"):
            return kept(("insulation", material, *as_written(thickness)), lambda: Insulation(material, thickness))

    def _surroundings(self, entry: Entry, place: str):
        """Gives what is around a leg: its own air or that of its place."""
        wind = self.night.wind if place == parts.OUTDOORS else STILL
        if place == parts.BURIED:
            soil, depth = entry.quantity("air", SOIL, None), self.places.quantity("depth", DEPTH)
            soil = self.places.quantity("buried", SOIL) if soil is None else soil
            word = self.places.word("soil", [row["soil"] for row in tables.rows("soils")], "moist")
            return kept(("ground", *as_written(soil, depth), word), lambda: Ground(soil, depth, word))
        air = entry.quantity("air", AIR, None)
        if air is None:
            air = self.night.air if place == parts.OUTDOORS else self.places.quantity(place, AIR)
        wind = entry.quantity("wind", WIND, wind)
        return kept(("air", *as_written(air, wind)), lambda: Surroundings(air, wind))

    def _fittings(self, entry: Entry, size: str) -> tuple:
        """Fittings along the leg; a size after the name must be the pipe's own."""
        given = entry.raw("fittings", [])
        if not isinstance(given, list) or not all(isinstance(one, str) and len(one) <= LONGEST_LINE for one in given):
            raise entry.fail(
                "fittings",
                f'fittings: {shown(repr(given))} was given where a list is needed, like fittings = ["ball valve"].',
            )
        with entry.about("fittings"):
            found = []
            for one in given:
                sized = SIZED.fullmatch(one)
                if _plain(sized[1] if sized else one) not in map(_plain, along()):
                    raise unknown_name(
                        "fittings",
                        sized[1] if sized else one,
                        along(),
                        "Elbows and tees at the ends of legs count themselves.",
                    )
                found.append(sized[1] if sized else one)
                if sized and _inches(sized[2]) != _inches(size):
                    small = "too small" if _inches(size) < _inches(sized[2]) else "too large"
                    raise InputError(
                        f'fittings: the pipe, {size}, is {small} for "{one}". Nearest: "{sized[1]} {size}".'
                    )
            return resolve_fittings(found).counts

    def _tape(self, entry: Entry) -> Tape | None:
        """ "none", "16 W/m", or "16 W/m at 10 °C, 8 W/m at 40 °C"."""
        said = entry.text("tape", NONE)
        if said.lower() == NONE:
            return None
        points = TWO_POINTS.fullmatch(said)
        with entry.about("tape"):
            if points is None:
                return Tape.constant(
                    read_quantity(said, Domain("tape", "W/m", 0, 100, 'Q_(10, "W/m")', above_low=True))
                )
            power, where, less, warmer = points.groups()
            return Tape.self_regulating(
                (read_quantity(where, POINT), read_quantity(power, POINT_POWER)),
                (read_quantity(warmer, POINT), read_quantity(less, POINT_POWER)),
            )


def _plain(name: str) -> str:
    """A fitting's name without the freedoms of writing."""
    return re.sub(r"[\s\-_]+", " ", name.lower()).strip()


def _inches(size: str) -> float:
    """A nominal size as one number, to compare two: 0.75 for 3/4 in, 22 mm as inches."""
    outside = Domain("size", "m", 0, 0.2, 'Q_(22, "mm")')
    return round(to_base(read_quantity(size.split(" x ")[0], outside), outside) / 0.0254, 6)
