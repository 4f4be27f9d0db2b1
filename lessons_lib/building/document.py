"""A layout file being edited: legs and taps added, changed, removed, and undone; comments stay where they are.

Plain data, no widgets: every value is the text that stands in the file.
"""

import re
from pathlib import Path

import tomlkit
from tomlkit.exceptions import TOMLKitError

from ..quantities.errors import InputError, unknown_name
from ..storage.files import NotThere, kept_aside, write_whole
from .document_floors import FLOOR, FLOOR_WORDS, add_floor, change_floor, floors_of, remove_floor
from .document_tables import after_last_word, drop, put, read_with_comments, tail, words_of
from .layout import Layout
from .read import BUILDING, MOST_LEGS, read
from .read_leg import LEG
from .source import Source, parsed

TAP = ("name", "leg", "kind", "flow", "useful", "at_pressure")
NIGHT = ("name", "air", "wind", "hours", "hours_without_power")
ONLY_NIGHT = re.compile(r"^[ \t]*\[[ \t]*night[ \t]*\](.*)$", re.MULTILINE)
KINDS = {
    "leg": LEG,
    "night": NIGHT,
    "tap": TAP,
    FLOOR: FLOOR_WORDS,
    "loop.hot": tuple(word for word in LEG if word != "from"),
    "loop.return": tuple(word for word in LEG if word != "from"),
}
WHOLE = "building"  # the words that stand above all tables: the building's name, its address …
TABLES = (WHOLE, "water", "night", "tank", "valve", "places", "usual", "loop", "tape", "buy")
NOT_IN_EVERY = ("valve", "loop")  # tables that a house may be without: emptied, they are taken out of the file
MOST_UNDONE = 200
FIRST_NIGHT = "usual winter"  # what the only night is called once there are more


class LayoutDocument:
    """The text of a layout file, and edits of it.

    An edit that leaves the layout without sense is kept (the reader may be half way): `layout()` says what is wrong,
    `undo()` takes it back.
    """

    def __init__(self, text: str, name: str = "layout.toml"):
        """text : of a layout file. Raises InputError where it is not TOML or has too many legs."""
        found = Source(name, text).tables()
        legs = found.get("leg")
        if isinstance(legs, list) and len(legs) > MOST_LEGS:
            raise InputError(
                f"{name}: {len(legs)} legs are too many; at most {MOST_LEGS}. Make a file for each building."
            )
        self.name, self._before, self._text, self._parsed = name, [], text, None

    @classmethod
    def open(cls, path) -> "LayoutDocument":
        """Read a file; it is not touched. Raises InputError as load_layout does for what is not TOML."""
        source = Source.of(path)
        return cls(source.text, source.name)

    @property
    def text(self) -> str:
        """The file as it stands now."""
        return self._text

    @property
    def can_undo(self) -> bool:
        """Says whether there is an edit to take back."""
        return bool(self._before)

    def layout(self, so_far: bool = False) -> Layout:
        """The layout as it stands now. Raises InputError that names the line.

        so_far : True: half-done work is no error; what is not there yet is left out and named in Layout.unfinished
        """
        return read(Source(self.name, self._text), so_far)

    def rows(self, kind: str = "leg") -> list[dict]:
        """The legs or taps as they stand, each a dictionary of text. kind : see KINDS"""
        found = parsed(self._text)
        return floors_of(found) if kind == FLOOR else [dict(one) for one in self._array(found, kind)]

    def settings(self, table: str) -> dict:
        """Gives what a single table says, word by word; nothing where the file has none."""
        if table not in TABLES:
            raise unknown_name("table", table, list(TABLES))
        found = parsed(self._text)
        return words_of(found if table == WHOLE else found.get(table))

    def add(self, kind: str, values: dict, after: str | int | None = None) -> None:
        """A new leg or tap. values : word → text; after : name or number of the one that it stands behind; None: at the
        end

        Raises InputError: unknown words, no name, a name that is there already.
        """
        self._check(kind, values)
        if not values.get("name"):
            raise InputError(f'{kind}: it needs a name, for example name = "riser".')
        self._refuse_double(kind, values["name"])
        if kind == FLOOR:
            document = self._document()
            add_floor(document, values)
            self._keep(document)
            return
        document = self._with_many_nights() if kind == "night" else self._document()
        array, place = self._made(document, kind), None
        if after is not None:
            place = self._place(array, kind, after) + 1
        place = len(array) if place is None else place
        table = tomlkit.table()
        for word, value in values.items():
            table.add(word, value)
        # what stands below the row before speaks of what follows the new one
        for item in (tail(array[place - 1]) if place else None) or [tomlkit.nl()]:
            table.add(item)
        if place and not array[place - 1].as_string().endswith("\n\n"):
            array[place - 1].add(tomlkit.nl())
        array.insert(place, table)
        self._keep(document)

    def remove(self, kind: str, name: str | int) -> None:
        """Take out a leg or tap by its name or its number from 0. Raises InputError for unknown names."""
        document = self._document()
        if kind == FLOOR:
            remove_floor(document, self._place(self.rows(kind), kind, name))
            self._keep(document)
            return
        array = self._array(document, kind)
        place = self._place(array, kind, name)
        if kind == "night" and len(array) == 1:
            raise InputError("night: a layout needs at least one night. Change this one, or add another first.")
        after = after_last_word(array[place])
        del array[place]
        if len(array):
            for comment in after:  # a comment above the next table stands at the end of this one
                array[max(place - 1, 0)].add(comment)
        self._keep(document)

    def change(self, kind: str, name: str | int, word: str, value) -> None:
        """Another value for one word of a leg or tap; None takes the word out, so that the usual value counts.

        name : or its number from 0. A new name of a leg is carried into everything that speaks of it. Raises
            InputError.
        """
        self._check(kind, [word])
        document = self._document()
        if kind == FLOOR:
            number = self._place(self.rows(kind), kind, name)
            if word == "name" and value != self.rows(kind)[number]["name"]:
                self._refuse_double(kind, value)
            source = Source(self.name, self._text)
            self._keep(change_floor(document, source, number, word, value))
            return
        array = self._array(document, kind)
        table = array[self._place(array, kind, name)]
        if word == "name" and value != table.get("name"):
            self._refuse_double(kind, value)
            self._renamed(document, kind, table.get("name"), value)
        put(table, word, value)
        self._keep(document)

    def set(self, table: str, word: str, value) -> None:
        """Another value for a word of a single table, for example set("tank", "set_temperature", "60 °C"); None
        takes it out. A mixing valve or a loop without any word is taken out of the file, the loop with its legs.
        """
        if table not in TABLES:
            raise unknown_name("table", table, list(TABLES))
        document = self._document()
        if table == "night" and isinstance(document.get("night"), tomlkit.items.AoT):
            raise InputError("night: this layout has several nights. Change them in the table Nights.")
        if table == WHOLE:
            if word not in BUILDING:
                raise unknown_name("word of a building", word, list(BUILDING))
            put(document, word, value)
        else:
            if table not in document:
                document.add(table, tomlkit.table())
            if not isinstance(document[table], dict):
                raise InputError(
                    f"{self.name}: {table} must be a table. Begin it with [{table}]; correct the file by hand first."
                )
            put(document[table], word, value)
            if table in NOT_IN_EVERY and not words_of(document[table]):
                drop(document, table)
        self._keep(document)

    def drop(self, table: str) -> None:
        """Takes the mixing valve or the loop out of the file, with all that belongs to it. Raises InputError."""
        if table not in NOT_IN_EVERY:
            raise unknown_name("table that a house may be without", table, list(NOT_IN_EVERY))
        document = self._document()
        if table in document:
            drop(document, table)
            self._keep(document)

    def take(self, text: str) -> None:
        """Another text altogether, as one edit. Raises InputError where it is not TOML."""
        Source(self.name, text).tables()
        self._before = [*self._before[1 - MOST_UNDONE :], self._text]
        self._text, self._parsed = text, None

    def undo(self) -> bool:
        """Take the last edit back; False where there is none."""
        if not self._before:
            return False
        self._text, self._parsed = self._before.pop(), None
        return True

    def save(self, path, replace: bool = False) -> str:
        """Write the text, as `write` does, and say where in words."""
        name, aside = self.write(path, replace)
        return " ".join(filter(None, (f"Saved as {name}.", aside)))

    def write(self, path, replace: bool = False) -> tuple[str, str]:
        """Write the text, whole or not at all; gives the file's name, and what became of one that was there before.

        replace : True: an existing file may be written over. One that cannot be read is never lost: it is renamed, and
            the second text says so; else that is "".
        Half-done work is written as it stands. Raises InputError: the file is there and replace is False.
        """
        file, aside = Path(path), ""
        if replace and not _readable(file):
            aside = f"The file of that name could not be read and is kept as {kept_aside(file).name}."
        return write_whole(file, self._text, replace).name, aside

    def _with_many_nights(self):
        """The parsed text, in which the only [night] has become the first [[night]], with a name and its comments."""
        text = ONLY_NIGHT.sub(rf'[[night]]\1\nname = "{FIRST_NIGHT}"', self._text, count=1)
        return self._document() if text == self._text else read_with_comments(text)

    def _document(self):
        """The parsed text with its comments; parsed anew after an undo only."""
        if self._parsed is None:
            try:
                # what is added begins on a line of its own
                whole = self._text if self._text.endswith("\n") else f"{self._text}\n"
                self._parsed = read_with_comments(whole)
            except TOMLKitError as reason:
                raise InputError(f"{self.name}: {reason}. Correct the file by hand first.") from None
        return self._parsed

    def _keep(self, document) -> None:
        """Notes that the edit is done: remember what was before."""
        fresh = tomlkit.dumps(document)
        try:
            Source(self.name, fresh).tables()
        except InputError:
            self._parsed = None
            raise InputError(f"{self.name}: this cannot be changed here. Correct the file by hand.") from None
        self._parsed = document
        if fresh != self._text:
            self._before = [*self._before[1 - MOST_UNDONE :], self._text]
            self._text = fresh

    def _check(self, kind: str, words) -> None:
        if kind not in KINDS:
            raise unknown_name("kind", kind, list(KINDS))
        for word in words:
            if word not in KINDS[kind]:
                raise unknown_name(f"word of a {kind}", word, list(KINDS[kind]))

    def _refuse_double(self, kind: str, name: str) -> None:
        kinds = (kind,) if kind in ("tap", "night", FLOOR) else ("leg", "loop.hot", "loop.return")
        if any(row.get("name") == name for one in kinds for row in self.rows(one)):
            raise InputError(f'{kind}: there is one called "{name}" already. Choose another name.')

    def _array(self, document, kind: str):
        """The tables of a kind; empty where there are none. Raises InputError where something else stands under that
        name.
        """
        if kind not in KINDS:
            raise unknown_name("kind", kind, list(KINDS))
        inside = document
        for name in kind.split("."):
            self._refuse_other(inside, dict, kind)
            inside = inside.get(name)
            if inside is None:
                return []
            if kind == "night" and isinstance(inside, dict):  # the only night
                return [inside]
        self._refuse_other(inside, tomlkit.items.AoT if isinstance(document, tomlkit.TOMLDocument) else list, kind)
        for one in inside:
            self._refuse_other(one, dict, kind)
        return inside

    def _refuse_other(self, found, wanted: type, kind: str) -> None:
        if not isinstance(found, wanted):
            line = Source(self.name, self._text).line_of(tuple(kind.split(".")))
            raise InputError(
                f"{self.name}, line {line}: there can be several: begin each with [[{kind}]]. Correct the file by hand"
                " first."
            )

    def _made(self, document, kind: str):
        """The tables of a kind, begun where there are none."""
        inside, names = document, kind.split(".")
        self._array(document, kind)
        for name in names[:-1]:
            if name not in inside:
                inside.add(name, tomlkit.table(is_super_table=True))
            inside = inside[name]
        if names[-1] not in inside:
            inside.add(names[-1], tomlkit.aot())
        return inside[names[-1]]

    def _place(self, array, kind: str, name: str | int) -> int:
        if isinstance(name, int) and 0 <= name < len(array):
            return name
        names = [one.get("name") for one in array]
        if name not in names:
            raise unknown_name(kind, name, [str(one) for one in names])
        return names.index(name)

    def _renamed(self, document, kind: str, old: str | None, new: str) -> None:
        """Everything that speaks of a leg by its old name speaks of it by its new one."""
        if kind != "leg" or old is None:
            return
        spoken = [(one, "from") for one in self._array(document, "leg")] + [
            (one, "leg") for one in self._array(document, "tap")
        ]
        for table, word in [*spoken, (document.get("valve", {}), "leg")]:
            if table.get(word) == old:
                table[word] = new


def _readable(file: Path) -> bool:
    """Says whether nothing would be lost: a file holds TOML, or is not there."""
    try:
        Source.of(file).tables()
    except NotThere:
        return True
    except InputError:
        return False
    return True
