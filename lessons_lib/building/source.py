"""The text of a layout file, read so that every error can name the line that it is about.

`Source.line_of` looks for a line only when an error needs it, so that a good file is read once, by the standard
library.
"""

import re
import tomllib
from contextlib import contextmanager
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from ..quantities.errors import InputError, shown, unknown_name
from ..quantities.reading import example, in_plain_words, read_quantity
from ..quantities.units import Domain
from ..storage.files import read_bytes
from ..storage.spelling import as_in_tables

MOST_BYTES = 1_000_000
# within each other; joined by points; characters outside quotation marks
MOST_BRACKETS, MOST_NAMES, LONGEST_WORD = 20, 5, 200
MOST_ENTRIES = 30_000  # values, brackets and commas; a thousand legs have some 15 000
# These look at a line without blanks at its ends, and each at every sign once: a line can be as long as a file.
HEADER = re.compile(r"(\[\[?)([^\[\]]+)\]\]?\s*(?:#.*)?")
KEY = re.compile(r"""("[^"]*"\s*|'[^']*'\s*|[\w\-. ]+)=""")
AT = re.compile(r"\(at (?:line (\d+), column \d+|end of document)\)$")
# Texts and comments; one that is not closed goes to the end of its line, or of the file, so that nothing is looked at
# twice.
TEXTS = re.compile(
    r'''"""(?s:\\.|[^\\])*?(?:"{3,5}|\Z)|"(?:\\.|[^"\\\n])*(?:"|$)'''
    r"""|'''(?s:.)*?(?:'{3,5}|\Z)|'[^'\n]*(?:'|$)|#[^\n]*""",
    re.MULTILINE,
)
BRACKETS = re.compile(r"[\[{]+|[\]}]+")
TOO_MANY_NAMES = re.compile(r"\.(?:[^.=\n\[\]{},]*\.){%d}" % (MOST_NAMES - 1))
TOO_LONG = re.compile(r"\w{%d}" % (LONGEST_WORD + 1))
NO_LENGTH = "length?"  # what a sketch says at a leg of which no length is known
# A text in quotation marks, straight or as word processors and phones set them. A mark behind a number alone means
# inches or feet.
QUOTED = re.compile(r"""["'“”„‟‘’‚«»‹›]([^"'“”„‟‘’‚«»‹›]*)["'“”„‟‘’‚«»‹›]""")
LONGEST_LINE = 200  # characters of a name or a value
NOTHING = object()  # a key without a value to fall back on


class LayoutError(InputError):
    """An error about a place in a layout file. path : of its key or table, see Source.error; plain : the message for
    a reader at a table, without file and line
    """

    def __init__(self, message: str, path: tuple, plain: str):
        super().__init__(message)
        self.path, self.plain = path, plain


class Unfinished(LayoutError):
    """Something is not there yet, rather than wrong. leg : name of the leg on which a sketch can say so; sign : its
    words there, like "length?"
    """

    leg: str | None = None
    sign = ""

    def on(self, leg: str, sign: str) -> "Unfinished":
        """The same, with the leg that shows it and its words there."""
        self.leg, self.sign = leg, sign
        return self


@dataclass(frozen=True)
class Source:
    """Name and text of a layout file."""

    name: str
    text: str

    @classmethod
    def of(cls, path) -> "Source":
        """Reads a file into its rows. Raises InputError: not there, not text, too large to be a layout."""
        return cls.brought(read_bytes(path, MOST_BYTES), Path(path).name)

    @classmethod
    def brought(cls, raw: bytes, name: str) -> "Source":
        """Takes the content of a file that has this name. Raises InputError: not text."""
        name = shown(name)
        try:
            return cls(name, raw.decode("utf-8-sig"))
        except UnicodeDecodeError as reason:
            line = raw[: reason.start].count(b"\n") + 1
            raise InputError(f"{name}, line {line}: this is not plain text. Save the file as UTF-8.") from None

    def tables(self) -> dict:
        """The whole file as dictionaries. Raises InputError naming the line of what is not TOML."""
        self._refuse_monsters()
        try:
            return parsed(self.text)
        except tomllib.TOMLDecodeError as reason:
            found = AT.search(str(reason))
            lines = self.text.splitlines()
            line = int(found[1]) if found and found[1] else max(len(lines), 1)
            why = shown(AT.sub("", str(reason)), 120)
            said = shown(lines[line - 1], 200) if line <= len(lines) else ""
            raise self.error_at(line, f'"{said[:60]}" cannot be read. {_help(said, why)}') from None

    def _refuse_monsters(self) -> None:
        """An error about what no layout needs and no reader of TOML gets through: brackets in brackets, endless
        names and numbers.
        """
        bare = TEXTS.sub(lambda match: "\n" * match[0].count("\n"), self.text)
        depth, where = 0, None
        for match in BRACKETS.finditer(bare):
            depth += len(match[0]) if match[0][0] in "[{" else -len(match[0])
            if depth > MOST_BRACKETS:
                where, what = match.start(), f"more than {MOST_BRACKETS} brackets stand within each other"
                break
        for pattern, words in (
            (TOO_MANY_NAMES, f"more than {MOST_NAMES} names are joined by points"),
            (TOO_LONG, f"a word or number has more than {LONGEST_WORD} characters"),
        ):
            found = pattern.search(bare)
            if found and (where is None or found.start() < where):
                where, what = found.start(), words
        if where is not None:
            raise self.error_at(
                bare.count("\n", 0, where) + 1, f'{what}. A line is [table], key = "value", or a comment after #.'
            )
        entries = sum(map(bare.count, "=[{,"))
        if entries > MOST_ENTRIES:
            raise InputError(
                f"{self.name}: {entries} values, brackets and commas are too many for a layout; at most {MOST_ENTRIES}."
                " One file for each building."
            )

    def error_at(self, line: int, message: str) -> InputError:
        """An error about a line."""
        return InputError(f"{self.name}, line {line}: {message}")

    def error(self, path: tuple, message: str, plain: str | None = None, kind: type = LayoutError) -> LayoutError:
        """An error about a key or table. path : names and, in arrays of tables, numbers from 0: ("leg", 2, "length")

        plain : the message for a reader at a table, where it differs; kind : LayoutError or Unfinished
        """
        return kind(str(self.error_at(self.line_of(path), message)), path, plain or message)

    def line_of(self, path: tuple) -> int:
        """The line of a key or table; of the nearest table around it where it has none of its own."""
        lines = self._lines()
        while path and path not in lines:
            path = path[:-1]
        return lines.get(path, 1)

    def says(self, path: tuple) -> bool:
        """Says whether a key or table has a line of its own."""
        return path in self._lines()

    def _lines(self) -> dict:
        """Line of each table and key. Text in several lines and lists over several lines are passed over."""
        found, counts, table, inside = {}, {}, (), None
        for number, line in enumerate(self.text.splitlines(), 1):
            if inside:
                inside = _still_open(line, inside)
                continue
            line = line.strip()
            header, key = HEADER.fullmatch(line), KEY.match(line)
            if header:
                table = _table(header, counts)
                found.setdefault(table, number)
            elif key:
                found[(*table, *_names(key[1]))] = number
                inside = _still_open(line[key.end() :], "")
        return found


@lru_cache(maxsize=16)
def parsed(text: str) -> dict:
    """The tables of a file's text, to be read and not changed: an edit asks for them several times."""
    return tomllib.loads(text)


def _table(header, counts: dict) -> tuple:
    """The path of a table's header; each [[name]] gets the next number, and tables below it go into the last one."""
    *above, last = _names(header[2])
    path = ()
    for name in above:
        path = (*path, name)
        if path in counts:
            path = (*path, counts[path])
    path = (*path, last)
    if header[1] == "[[":
        counts[path] = counts.get(path, -1) + 1
        path = (*path, counts[path])
    return path


def _names(text: str) -> list[str]:
    """Names of a header or key: loop.hot, "copper L"."""
    found = re.findall(r""""([^"]*)"|'([^']*)'|([^."']+)""", text)
    return [name for name in ((one or two or plain.strip()) for one, two, plain in found) if name]


def _still_open(line: str, inside: str):
    """Gives what a line leaves open: a text in three quotation marks, or so many brackets; "" where nothing."""
    if inside and inside[0] in "\"'":
        return "" if inside in line else inside
    plain = re.sub(r""""(?:[^"\\]|\\.)*"(?!")|'[^']*'(?!')|#.*""", "", line)
    for mark in ('"""', "'''"):
        if line.count(mark) % 2:
            return mark
    depth = len(inside) + plain.count("[") - plain.count("]")
    return "[" * max(depth, 0)


def _help(said: str, why: str) -> str:
    """Says what a reader who does not know TOML can do about a line."""
    value = said.partition("=")[2].strip()
    if "overwrite" in why.lower() or "twice" in why.lower() or "redefine" in why.lower():
        return "This name was given a value before, in the same table. Keep one of the two."
    if said.startswith("["):
        return "A table begins with its name in brackets: [tank], or [[leg]] where there can be several."
    if "=" not in said:
        return 'A line is [table], key = "value", or a comment after #.'
    if value and value[0] not in "\"'[{":
        return f'Put the value in straight quotation marks: {said.partition("=")[0].strip()} = "{unquoted(value)}".'
    return f"Check quotation marks and brackets ({why[:1].lower()}{why[1:]})."


def unquoted(text: str) -> str:
    """A text without the quotation marks around it, whoever set them."""
    found = QUOTED.fullmatch(text.strip())
    return found[1].strip() if found else text.strip()


class Entry:
    """One table of the file. Values that it does not say come from `usual`, a table of defaults, if there is one."""

    def __init__(self, source: Source, path: tuple, table, usual: "Entry | None" = None):
        self.source, self.path, self.table, self.usual = source, path, table, usual
        if not isinstance(table, dict):
            raise source.error(path, f"{path[0]} must be a table. Begin it with [{path[0]}] on a line of its own.")

    def fail(self, key: str, message: str) -> InputError:
        """An error about a key; about the table where it has no such key."""
        where = self.usual if key not in self.table and self.usual and key in self.usual.table else self
        return self.source.error((*where.path, key), message)

    @contextmanager
    def about(self, key: str):
        """Errors of the library inside become errors about this key's line."""
        try:
            yield
        except InputError as error:
            raise self.fail(key, in_plain_words(str(error))) from None

    def only(self, *known: str) -> None:
        """An error about the first key that is none of `known`, with the nearest of them."""
        for key in self.table:
            if key not in known:
                with self.about(key):
                    raise unknown_name("word", key, list(known))

    def raw(self, key: str, default=NOTHING):
        """The value as it stands; the default where it is not said."""
        if key in self.table:
            return self.table[key]
        if self.usual is not None and key in self.usual.table:
            return self.usual.table[key]
        if default is NOTHING:
            words = key.replace("_", " ")
            told = f'{_called(self)} does not say its {words}. Add a line {key} = "…".'
            raise self.source.error((*self.path, key), told, f"no {words} yet. Type it into its box.", Unfinished)
        return default

    def text(self, key: str, default=NOTHING, most: int = LONGEST_LINE):
        """A text that is not empty, in one line, of at most so many characters."""
        value = self.raw(key, default)
        if value is default:
            return default
        if not isinstance(value, str) or not value.strip():
            raise self.fail(key, f'{key}: {shown(repr(value))} was given where a text is needed, like {key} = "…".')
        line = " ".join(value.split())
        if len(line) > most:
            raise self.fail(
                key, f'{key}: "{shown(line)}" has {len(line)} characters; possible are up to {most}. Write it shorter.'
            )
        if not line.isprintable():
            raise self.fail(key, f'{key}: "{shown(line)}" holds a sign that cannot be shown. Type it anew.')
        return line

    def word(self, key: str, known, default=NOTHING) -> str:
        """One of the known words, whatever its case and in either side's spelling."""
        value = self.text(key, default)
        if value is default:
            return default
        said = value.lower()
        word = next((one for one in known if one.lower() == said), None)
        if word is None:
            word = next((one for one in known if one.lower() == as_in_tables(said)), None)
        if word is None:
            with self.about(key):
                raise unknown_name(key.replace("_", " "), value, list(known))
        return word

    def quantity(self, key: str, domain: Domain, default=NOTHING):
        """A quantity written as text with its unit."""
        value = self.raw(key, default)
        if value is default:
            return default
        if not isinstance(value, str):
            raise self.fail(
                key,
                f"{key}: {shown(repr(value))} carries no unit. Write it in quotation marks with its unit, like"
                f' "{example(domain)}".',
            )
        with self.about(key):
            return read_quantity(value, domain)


def _called(entry: Entry) -> str:
    """Says what a table is called in a message: the leg "riser", or [tank]."""
    name = entry.table.get("name")
    kind = ".".join(part for part in entry.path if isinstance(part, str))
    return f'the {kind} "{name}"' if isinstance(name, str) and name else f"[{kind}]"
