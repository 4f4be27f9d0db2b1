"""A layout file read into a Layout: every word and number checked, every error with its line."""

from dataclasses import replace
from datetime import date

from ..plant.circuit import RATING, VOLTAGE
from ..plant.take_off import CENTRE_TO_FACE, INSERTION_DEPTH, KERF, STOCK, End
from ..plant.tank import SETTING
from ..quantities.errors import InputError, unknown_name
from ..quantities.units import AIR, FLOW, HOLD, Q_, SUPPLY, USEFUL, WIND, Domain, to_base
from ..runs.common_values import HELD_AT, WARM_ENOUGH
from ..runs.fittings import resolve_fittings
from ..runs.flow import PRESSURE
from ..runs.insulation import NONE
from ..runs.pipe import Pipe, families
from ..storage import tables
from . import parts
from .check import check_legs, check_loop, check_room, check_taps, check_valve
from .kept import kept
from .layout import Layout
from .read_leg import USUAL, LegReader, joints
from .source import Entry, Source, Unfinished

MOST_LEGS, MOST_NIGHTS = 1000, 6
LONGEST_ABOUT, LONGEST_AUTHOR, LONGEST_DATE = 2000, 80, 40  # characters
START = Domain("cold inlet", "degC", 0, 40, 'Q_(8, "degC")')
BUILDING = ("name", "about", "address", "author", "date")
TABLES = (
    *BUILDING,
    "water",
    "night",
    "tank",
    "valve",
    "places",
    "floors",
    "usual",
    "leg",
    "tap",
    "loop",
    "tape",
    "fittings_measured",
    "buy",
)
STILL = Q_(0.0, "m/s")


def load_layout(path) -> Layout:
    """Read a layout file (data/layouts/template.toml says what can stand in one).

    path : of a TOML file, at most 1000 legs
    Raises InputError: one message that names the file, the line, and the nearest word that would do. The file is only
    read.
    """
    return read(Source.of(path))


def read(source: Source, so_far: bool = False) -> Layout:
    """The layout of a text. so_far : True: pieces that are not there yet are left out, and named in its `unfinished`"""
    unfinished: list = []

    def note(error: Unfinished) -> None:
        if not so_far:
            raise error
        unfinished.append(error)

    found = source.tables()
    whole = Entry(source, (), found)
    whole.only(*TABLES)
    legs = _entries(source, found, "leg")
    if len(legs) > MOST_LEGS:
        raise source.error(
            ("leg", MOST_LEGS), f"{len(legs)} legs are too many; at most {MOST_LEGS}. Make a file for each building."
        )
    if not legs:
        told = "no legs: a layout needs at least one {} from the tank, and one {} at its end."
        raise source.error((), told.format("[[leg]]", "[[tap]]"), told.format("leg", "tap"), Unfinished)
    nights, places = _as_before(source, found, "night", _nights), _table(source, found, "places")
    usual = _table(source, found, "usual")
    usual.only(*USUAL)
    first = LegReader(source, nights[0], places, usual, note)
    others = [LegReader(source, night, places, usual, lambda error: None) for night in nights[1:]]  # told already
    taps = [(row, _there(note, _tap_as_before, entry)) for row, entry in enumerate(_entries(source, found, "tap"))]
    taps = [(row, tap) for row, tap in taps if tap is not None]
    layout = Layout(
        name=whole.text("name"),
        about=whole.text("about", "", LONGEST_ABOUT),
        address=whole.text("address", ""),
        author=whole.text("author", "", LONGEST_AUTHOR),
        date=_date(whole),
        file=source.name,
        night=first.night,
        **_water(source, found),
        valve=_there(note, _valve, source, found),
        legs=tuple(first.leg(entry) for entry in legs),
        taps=tuple(tap for _, tap in taps),
        loop=_there(note, _loop, source, found, first),
        tape_supply=_as_before(source, found, "tape", _tape_supply),
        measured=_as_before(source, found, "fittings_measured", _all_measured),
        buying=_as_before(source, found, "buy", _buying),
        floors=_floors(source, found),
    )
    check_legs(layout, source)
    layout = replace(layout, unfinished=tuple(unfinished))
    layout, rows = check_taps(layout, [row for row, _ in taps], source, note)
    layout = check_loop(check_valve(layout, rows, source, note), source, note)
    check_room(layout, source)
    layout = replace(layout, unfinished=tuple(unfinished)) if unfinished else layout
    also = (_on_night(source, found, layout, reader) for reader in others)
    return replace(layout, also=tuple(also)) if others else layout


def _on_night(source: Source, found: dict, layout: Layout, reader: LegReader) -> Layout:
    """The layout on another night, whose air and wind its reader gives to the legs outdoors."""
    return replace(
        layout,
        night=reader.night,
        legs=tuple(reader.leg(entry) for entry in _entries(source, found, "leg")),
        loop=layout.loop and _loop(source, found, reader),
    )


def _there(note, make, *given):
    """Gives what `make` reads; None where words of it are not there yet, which goes to `note`."""
    try:
        return make(*given)
    except Unfinished as error:
        note(error)
        return None


def _date(whole: Entry) -> str:
    """The day of the drawing as its author writes it; a date without quotation marks is one too."""
    said = whole.raw("date", "")
    return said.isoformat() if isinstance(said, date) else whole.text("date", "", LONGEST_DATE)


def _as_before(source: Source, found: dict, table: str, read_it):
    """Gives what `read_it` makes of a table: the same object as long as the same stands in the file."""
    return kept((table, repr(found.get(table))), lambda: read_it(source, found))


def _table(source: Source, found: dict, *path: str) -> Entry:
    """A table, or an empty one where the file has none."""
    inside = found
    for name in path:
        inside = inside.get(name, {}) if isinstance(inside, dict) else inside
    return Entry(source, path, inside)


def _entries(source: Source, found: dict, *path: str, usual: Entry | None = None) -> list[Entry]:
    """The tables of an array of tables."""
    inside = found
    for name in path:
        inside = inside.get(name, []) if isinstance(inside, dict) else []
    if not isinstance(inside, list):
        called = ".".join(path)
        raise source.error(path, f"there can be several: begin each with [[{called}]], in two pairs of brackets.")
    return [Entry(source, (*path, number), one, usual) for number, one in enumerate(inside)]


def _water(source: Source, found: dict) -> dict:
    """Reads main and tank."""
    main, tank = _table(source, found, "water"), _table(source, found, "tank")
    main.only("pressure", "cold_inlet")
    tank.only("set_temperature", "place")
    values = {
        "pressure": main.quantity("pressure", PRESSURE),
        "cold_inlet": main.quantity("cold_inlet", START),
        "set_temperature": tank.quantity("set_temperature", SUPPLY),
        "tank_place": tank.word("place", parts.PLACES[:3], parts.INDOORS),
    }
    if to_base(values["set_temperature"], SUPPLY) <= to_base(values["cold_inlet"], START):
        raise tank.fail(
            "set_temperature",
            "the tank is no hotter than the cold inlet. Give a hotter tank, or check the units of both.",
        )
    return values


def _nights(source: Source, found: dict) -> tuple:
    """The one [night] of a file, or each [[night]] with its name."""
    if not isinstance(found.get("night"), list):
        return (_night(_table(source, found, "night")),)
    nights = tuple(_night(entry, entry.text("name")) for entry in _entries(source, found, "night"))
    if not 0 < len(nights) <= MOST_NIGHTS:
        raise source.error(
            ("night", MOST_NIGHTS),
            f"{len(nights)} nights; possible are 1 to {MOST_NIGHTS}. Keep those that decide something.",
        )
    names = [night.name for night in nights]
    for number, name in enumerate(names):
        if name in names[:number]:
            raise source.error(("night", number, "name"), f'two nights are called "{name}". Give each its own name.')
    return nights


def _night(entry: Entry, name: str = "") -> parts.NightSpec:
    """A night from its table. name : of one of several"""
    entry.only(*(("name",) if name else ()), "air", "wind", "hours", "hours_without_power")
    night = parts.NightSpec(
        entry.quantity("air", AIR),
        entry.quantity("wind", WIND, STILL),
        entry.quantity("hours", Domain("hours", "s", 3600, 2.6e5, 'Q_(14, "hour")')),
        entry.quantity("hours_without_power", parts.HOURS, Q_(0.0, "hour")),
        name,
    )
    if to_base(night.without_power, parts.HOURS) > to_base(night.hours, parts.HOURS):
        raise entry.fail(
            "hours_without_power", "the power is off for longer than the night lasts. Make the night longer."
        )
    return night


def _valve(source: Source, found: dict) -> parts.Valve | None:
    if "valve" not in found:
        return None
    entry = _table(source, found, "valve")
    entry.only("setting", "leg", "end")
    return parts.Valve(
        entry.quantity("setting", SETTING), entry.text("leg"), entry.word("end", (parts.START, parts.END), parts.START)
    )


def _tap_as_before(entry: Entry) -> parts.Tap:
    """Gives a tap; the same object as long as the same stands in the file."""
    return kept(("tap", repr(entry.table)), lambda: _tap(entry))


def _tap(entry: Entry) -> parts.Tap:
    entry.only("name", "leg", "kind", "flow", "useful", "at_pressure")
    return parts.Tap(
        entry.text("name"),
        entry.text("leg"),
        entry.word("kind", parts.KINDS),
        entry.quantity("flow", parts.TAP_FLOW),
        entry.quantity("useful", USEFUL, WARM_ENOUGH),
        entry.quantity("at_pressure", Domain("pressure", "Pa", 1e4, 2e6, 'Q_(300, "kPa")'), Q_(300.0, "kPa")),
    )


def _loop(source: Source, found: dict, reader: LegReader) -> parts.Loop | None:
    if "loop" not in found:
        return None
    entry = _table(source, found, "loop")
    entry.only("flow", "leaves_at", "comes_back_at", "hot", "return")
    hot, back = (
        reader.chain(_entries(source, found, "loop", line), start)
        for line, start in (("hot", parts.HEAT_PUMP), ("return", parts.TANK))
    )
    return parts.Loop(
        entry.quantity("flow", FLOW),
        entry.quantity("leaves_at", SUPPLY),
        entry.quantity("comes_back_at", SUPPLY),
        hot,
        back,
    )


def _tape_supply(source: Source, found: dict) -> parts.TapeSupply:
    entry = _table(source, found, "tape")
    entry.only("hold", "thermostat", "voltage", "breaker", "region", "thickness")
    regions = list(dict.fromkeys(row["region"] for row in tables.rows("circuits")))
    hold = entry.quantity("hold", HOLD, HELD_AT)
    always_on = str(entry.raw("thermostat", "")).strip().lower() == NONE
    return parts.TapeSupply(
        hold,
        entry.quantity("voltage", VOLTAGE, Q_(120.0, "V")),
        entry.quantity("breaker", RATING, Q_(15.0, "A")),
        entry.word("region", regions, regions[0]),
        entry.quantity("thickness", Domain("tape thickness", "m", 0, 0.03, 'Q_(6, "mm")'), None),
        None if always_on else entry.quantity("thermostat", HOLD, hold),
    )


def _measured(entry: Entry) -> parts.Measured:
    entry.only("fitting", "size", "joint", "pipe", "centre_to_face", "insertion_depth")
    family = entry.word("pipe", families(), None)
    size = entry.text("size")
    with entry.about("size"):
        fits = [one for one in ([family] if family else families()) if _has(one, size)]
        if not fits:
            raise unknown_name(
                "size", size, sorted({row["size"] for row in tables.rows("pipes") if family in (None, row["family"])})
            )
    with entry.about("fitting"):
        resolved = resolve_fittings([entry.text("fitting")]).counts[0][0]
    face, depth = (
        entry.quantity("centre_to_face", CENTRE_TO_FACE, None),
        entry.quantity("insertion_depth", INSERTION_DEPTH, None),
    )
    joint = entry.word("joint", joints(), "push")
    with entry.about("insertion_depth"):
        End(resolved, joint, face, depth)
    return parts.Measured(
        resolved, Pipe.nominal(fits[0], size).name.removeprefix(fits[0]).strip(), joint, family, face, depth
    )


def _all_measured(source: Source, found: dict) -> tuple:
    """The fittings that the reader measured."""
    return tuple(map(_measured, _entries(source, found, "fittings_measured")))


def _has(family: str, size: str) -> bool:
    try:
        Pipe.nominal(family, size)
    except InputError:
        return False
    return True


def _buying(source: Source, found: dict) -> parts.Buying:
    entry, stock = _table(source, found, "buy"), _table(source, found, "buy", "stock")
    entry.only("spare", "saw_kerf", "stock")
    stock.only(*families(), *(f"{row['family']} {row['size']}" for row in tables.rows("pipes")))
    spare = entry.quantity("spare", parts.SHARE, Q_(10.0, "percent"))
    return parts.Buying(
        to_base(spare, parts.SHARE) / 100,
        entry.quantity("saw_kerf", KERF, Q_(0.0, "mm")),
        tuple((pipe, stock.quantity(pipe, STOCK)) for pipe in stock.table),
    )


def _floors(source: Source, found: dict) -> tuple:
    """Names of floors with their heights above the tank's outlet, the lowest first."""
    entry = _table(source, found, "floors")
    for name in entry.table:
        if not name.strip() or not name.isprintable() or len(name) > parts.FLOOR_NAME:
            raise entry.fail(
                name, f'a floor\'s name has 1 to {parts.FLOOR_NAME} letters in one line, like "upper floor" = "2.8 m".'
            )
    heights = [(name, entry.quantity(name, parts.FLOOR)) for name in entry.table]
    return tuple(sorted(heights, key=lambda one: to_base(one[1], parts.FLOOR)))
