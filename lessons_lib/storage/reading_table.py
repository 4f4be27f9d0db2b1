"""Tables of readings as people write them: which column is what, in which unit, and what each cell says.

Nothing here knows pipes. A cell that says nothing usable becomes NaN; why is for readings.py to say.
"""

import csv
import math
import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from dateutil import parser as dates

from ..quantities import unit_words
from ..quantities.errors import InputError

# characters that are looked at; Python's own reader of CSV stops at 131 072
LONGEST_LINE, LONGEST_HEADING = 100_000, 200
MOST_ROWS, MOST_COLUMNS = 600_000, 1000
CLOCK, MIN_SEC, HOUR_MIN = "clock", "min:s", "h:min"  # units of time that are not one number
KINDS = {
    "time": ("s", "min", "hour"),
    "temperature": ("degC", "degF", "kelvin"),
    "place": ("m", "cm", "mm", "ft", "in"),
    "flow": ("L/min", "L/s", "gpm", "m**3/hour"),
}
CLOCKS = {
    CLOCK: "clock",
    MIN_SEC: "min:s m:s mm:ss min:sec",
    HOUR_MIN: "h:min h:m hh:mm h:min:s h:m:s hh:mm:ss",
}
UNITS = {word: (kind, unit) for word, unit in unit_words.UNITS.items() for kind, own in KINDS.items() if unit in own}
AIR_WORDS = ("air", "ambient", "room", "luft", "raum")  # of a header: the air around the run
NOT_READ = {"humidity", "pressure", "feuchte", "luftfeuchte", "druck"}  # also of air and water
UNITS |= {word: ("time", unit) for unit, words in CLOCKS.items() for word in words.split()}
WORDS = {
    "time": "time",
    "clock": "time",
    "elapsed": "time",
    "stopwatch": "time",
    "timestamp": "time",
    "zeit": "time",
    "uhrzeit": "time",
    "date": "date",
    "datum": "date",
    "temperature": "temperature",
    "temp": "temperature",
    "temperatur": "temperature",
    "pipe": "temperature",
    **dict.fromkeys(AIR_WORDS, "temperature"),
    "thermometer": "temperature",
    "water": "temperature",
    "surface": "temperature",
    "reading": "temperature",
    "flow": "flow",
    "place": "place",
    "distance": "place",
    "position": "place",
    "along": "place",
}
SAVE_AS_CSV = "If it is a spreadsheet, open it there and save it as CSV: File, Save as…, then give that file."
POSSIBLE = {
    "time": '"time [s]", "time [min]", "time [h]" or "clock"',
    "temperature": '"temperature [°C]" or "temperature [°F]"',
    "place": '"place [m]" or "place [ft]"',
    "flow": '"flow [L/min]" or "flow [gpm]"',
}
LOOKED_AT = 60  # first lines among which the header is
LOOKED_LINE, LOOKED_CELLS = 2000, 40  # characters and cells of such a line
_CLOCK = re.compile(
    r"(?:(?P<date>[^\s:][^:]{0,24}?)(?:[ ,]+|T))?(\d{1,2}):(\d\d)(?::(\d\d(?:[.,]\d{1,9})?))?\s*(?:([ap])\.?\s?m\.?)?"
    r"\s*(?:Z|([+-]\d\d):?(\d\d))?",
    re.I,
)
_NUMERIC_DATE = re.compile(r"(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})")
_WRITTEN_DATE = re.compile(r"[\d .,/-]*[a-z]{3,9}[\d .,/-]*", re.I)  # with the name of the month
_SPAN = re.compile(r"(\d{1,9}):(\d\d)(?::(\d\d))?(?:[.,](\d{1,9}))?")


@dataclass(frozen=True)
class Heading:
    """Says what one column holds ("time", "temperature", "place", "flow" or "" for something else), its unit or
    None.
    """

    kind: str
    unit: str | None
    text: str
    bracket: str = ""  # what stood in brackets, where no unit was known by that name


def heading(text: str) -> Heading:
    """Gives what a header cell says: words and a unit, in brackets or as the last word. Raises no error."""
    text = text[:LONGEST_HEADING]
    plain = re.sub("[º˚]", "°", text.strip().strip('"'))
    plain = unicodedata.normalize("NFKC", plain).lower().replace("l / min", "l/min")
    bracket = re.search(r"[\[(]\s*(.*?)\s*[\])]", plain)
    words = re.findall(r"[a-z]+", plain[: bracket.start()] if bracket else plain)
    kind = next((WORDS[word] for word in words if word in WORDS), "") if NOT_READ.isdisjoint(words) else ""
    if bracket:
        found = UNITS.get(unit_words.squeezed(bracket[1]))
        if found and kind in ("", found[0]):
            return Heading(*found, text.strip())
        return Heading(kind, None, text.strip(), bracket[1])
    last = re.split(r"[\s_]+", plain)[-1]
    for candidate in (last, last.rsplit("/", 1)[-1]):
        found = UNITS.get(unit_words.squeezed(candidate))
        if found and kind in ("", found[0]):
            return Heading(*found, text.strip())
    return Heading(kind, None, text.strip())


def text_of(raw: bytes, name: str) -> str:
    """The text of a file: UTF-8 or UTF-16 by their marks, else what spreadsheets write in western Europe."""
    if not raw.strip():
        raise InputError(
            f"{name}: the file is empty. It needs a header such as time [min], temperature [°C], and rows below it."
        )
    encodings = ("utf-16",) if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else ("utf-8-sig", "cp1252")
    for encoding in encodings:
        try:
            text = raw.decode(encoding)
        except UnicodeDecodeError:
            continue
        if not re.search("[\x00-\x08\x0e-\x1f]", text):
            return text
    raise InputError(f"{name}: row 1: this is not text. {SAVE_AS_CSV}")


class Rows:
    """The rows of a table, parted into cells when they are asked for: cells take ten times the room of their lines."""

    def __init__(self, lines: list[str], delimiter: str):
        self.lines, self.delimiter = lines, delimiter

    def __len__(self) -> int:
        return len(self.lines)

    def __getitem__(self, part: slice) -> list[list[str]]:
        return [_cells(line[:LONGEST_LINE], self.delimiter) for line in self.lines[part]]


def table(text: str, name: str, preamble: bool = False) -> tuple[int, list[str], np.ndarray, Rows]:
    """Row number and cells of the header, row numbers and Rows of the rest; blank and comment lines left away.

    preamble : whether a logger's own lines may stand above the header; they are left away too
    Rows are numbered as an editor or a spreadsheet numbers them, from 1. The header decides the delimiter: tab, else
    semicolon, else comma. Raises InputError: more rows or columns than any table of the bench has.
    """
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    if text.count("\n") > MOST_ROWS:
        raise InputError(f"{name}: {text.count(chr(10))} rows are too many; at most {MOST_ROWS}. Keep a part of them.")
    lines = text.split("\n")
    kept = np.array(
        [place for place, line in enumerate(lines) if line.strip(' ,;\t\ufeff"') and not _is_comment(line)], dtype=int
    )
    if not len(kept):
        return 0, [], kept, Rows([], ",")
    if preamble:
        kept = kept[_header_place([lines[place][:LOOKED_LINE] for place in kept[:LOOKED_AT]]) :]
    rows = Rows([lines[place] for place in kept], _delimiter(lines[kept[0]]))
    header = rows[:1][0]
    if len(header) > MOST_COLUMNS:
        raise InputError(
            f"{name}: row {kept[0] + 1}: {len(header)} columns are too many; at most {MOST_COLUMNS}. Keep a part of"
            " them."
        )
    rows.lines.pop(0)
    return int(kept[0]) + 1, header, kept[1:] + 1, rows


def _delimiter(line: str) -> str:
    return next((mark for mark in "\t;" if mark in line), ",")


def _header_place(lines: list[str]) -> int:
    """Says which of the first lines is the header: one that names what it holds, with values soon beneath it; else the
    one above the first values; else the first.
    """
    rows = [_cells(line, _delimiter(line))[:LOOKED_CELLS] for line in lines]
    values = [sum(math.isfinite(number(one)) or math.isfinite(clock(one)) for one in row) > 1 for row in rows]
    names = [{heading(one).kind for one in row} for row in rows]
    naming = [
        place
        for place, kinds in enumerate(names)
        if "temperature" in kinds and kinds & {"time", "date", "place"} and not values[place]
    ]
    above = [
        place
        for place in naming
        if any(told and len(row) == len(rows[place]) for told, row in list(zip(values, rows))[place + 1 : place + 4])
    ]
    others = [
        place
        for place in range(len(rows) - 1)
        if values[place + 1] and not values[place] and len(rows[place + 1]) == len(rows[place])
    ]
    if above:  # a logger's words may name something too: the last line before the first values counts
        first = next(place for place in range(above[0], len(rows)) if values[place])
        return max(place for place in above if place < first)
    return (naming or others or [0])[0]


def _is_comment(line: str) -> bool:
    """Says whether a line is a comment, also one that a spreadsheet put into quotation marks."""
    return line.lstrip(" \t\ufeff").startswith(("#", '"# '))


def _cells(line: str, delimiter: str) -> list[str]:
    return next(csv.reader([line], delimiter=delimiter)) if '"' in line else line.split(delimiter)


def number(text: str) -> float:
    """A number with a decimal point or a decimal comma; NaN where it is none."""
    plain = text.strip().replace("−", "-")
    if "," in plain:
        plain = "" if "." in plain or plain.count(",") > 1 else plain.replace(",", ".")
    try:
        value = float(plain)
    except ValueError:
        return math.nan
    return value if math.isfinite(value) and "_" not in plain else math.nan


def clock(text: str) -> float:
    """Seconds of "14:03", "14:03:20" or "2:03 pm", since midnight; with a date before it, which `day` can read, since
    year 1 (of a date that names the month by its number, with the day first). NaN where it is none.
    """
    date, seconds = date_and_clock(text)
    number = day(date, True) if date else 0
    return math.nan if number is None else 86400 * number + seconds


def date_and_clock(text: str) -> tuple[str, float]:
    """The date as it was written, "" where there is none, and the seconds since midnight, NaN where there are none."""
    found = _CLOCK.fullmatch(text.strip()[:60])
    if not found:
        return "", math.nan
    date, hour, minute, second, half, *zone = found.groups()
    hours, minutes, seconds = int(hour), int(minute), float((second or "0").replace(",", "."))
    if hours > 23 or minutes > 59 or seconds >= 60 or (half and not 1 <= hours <= 12):
        return "", math.nan
    if half:
        hours = hours % 12 + (12 if half.lower() == "p" else 0)
    ahead = 0 if zone[0] is None else 3600 * int(zone[0]) + (-60 if zone[0][0] == "-" else 60) * int(zone[1])
    return date or "", 3600 * hours + 60 * minutes + seconds - ahead


@lru_cache(maxsize=1000)
def day(date: str, day_first: bool) -> int | None:
    """The number of a day, counted from year 1; None where the text names no day, month and year."""
    if not (_NUMERIC_DATE.fullmatch(date) or _WRITTEN_DATE.fullmatch(date)):
        return None
    try:  # what the text leaves open, the two would fill in differently
        found = {
            dates.parse(date, dayfirst=day_first and not date[:4].isdigit(), default=other).toordinal()
            for other in (dates.parse("2001-01-01"), dates.parse("2002-02-02"))
        }
    except (ValueError, OverflowError):
        return None
    return found.pop() if len(found) == 1 else None


def day_comes_first(written) -> bool | None:
    """Says whether the day stands before the month in dates that are all written alike; None: they do not tell.

    Raises ValueError where some can only have the day first and others only the month.
    """
    found = [_NUMERIC_DATE.fullmatch(date) for date in written]
    numeric = [one for one in found if one and len(one[1]) < 3]
    told = {one[2] == "." or int(one[1]) > 12 for one in numeric if one[2] == "." or max(int(one[1]), int(one[3])) > 12}
    if len(told) > 1:
        raise ValueError("two orders")
    return told.pop() if told else None if numeric and len(set(written)) > 1 else True


def span(text: str, unit: str) -> float:
    """Seconds of a stopwatch's "12:30" (min:s) or "1:12:30" (h:min:s); with the unit h:min "1:12" is an hour and 12
    minutes.
    """
    found = _SPAN.fullmatch(text.strip())
    if not found:
        return math.nan
    first, second, third, part = found.groups()
    if int(second) > 59 or int(third or 0) > 59:
        return math.nan
    share = float(f"0.{part or 0}")
    if third is not None:
        return 3600 * int(first) + 60 * int(second) + int(third) + share
    return 60 * int(first) + int(second) + share if unit == MIN_SEC else 3600 * int(first) + 60 * int(second)
