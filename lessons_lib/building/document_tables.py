"""Words and tables put into a parsed layout file or taken out of it, so that comments stay where they speak from."""

import pickle
from functools import lru_cache

import tomlkit


def read_with_comments(text: str):
    """The tables of a text with their comments, to be changed. Raises TOMLKitError.

    Each time they are a copy of what was read the first time, which takes a seventh of the time of reading them.
    """
    return pickle.loads(_read_once(text))


@lru_cache(maxsize=16)
def _read_once(text: str) -> bytes:
    return pickle.dumps(tomlkit.parse(text))


def put(table, word: str, value) -> None:
    """A value into a table, its comment kept; None takes the word out."""
    if value is None:
        table.pop(word, None)
    elif word in table:
        trivia = table[word].trivia
        table[word] = value
        table[word].trivia.comment_ws, table[word].trivia.comment = trivia.comment_ws, trivia.comment
    elif isinstance(table, tomlkit.items.Table) and not any(isinstance(one, (dict, list)) for one in table.values()):
        below = tail(table)  # a new value stands behind the last one, not behind the comment above the next table
        table.add(word, value)
        for item in below:
            table.add(item)
    else:  # of a table with tables in it the last value is found by tomlkit
        table.add(word, value)


def words_of(table) -> dict:
    """The words of a table and their values, without the tables in it; none where it is no table."""
    if not isinstance(table, dict):
        return {}
    return {word: value for word, value in table.items() if not isinstance(value, (dict, list))}


def drop(document, table: str) -> None:
    """Takes a table out with all that is in it. Comments below it, which speak of what follows, stay."""
    kinds, last = (tomlkit.items.Table, tomlkit.items.AoT), _last_table(document[table])
    after = after_last_word(last) if isinstance(last, kinds[0]) else []
    before = [document[one] for one in list(document)[: list(document).index(table)]]
    del document[table]
    home = _last_table(before[-1]) if before and isinstance(before[-1], kinds) else document
    for comment in after:
        home.add(comment)


def _last_table(found):
    """The table, of a table or of several, that ends last in the file."""
    while inside := list(found if isinstance(found, tomlkit.items.AoT) else found.values())[-1:]:
        if not isinstance(inside[0], (tomlkit.items.Table, tomlkit.items.AoT)):
            break
        found = inside[0]
    return found


def tail(table) -> list:
    """Takes what stands below a table's last word out of it and gives it: empty lines, and comments on what follows.

    A comment right below the last word, with an empty line beneath it, is the table's own.
    """
    body = table.value.body
    first = 1 + max((number for number, (key, _) in enumerate(body) if key is not None), default=-1)
    blank = next((number for number in range(first, len(body)) if _is_blank(body[number][1])), first)
    below = [item for _, item in body[blank:]]
    del body[blank:]
    return below


def _is_blank(item) -> bool:
    """Says whether a piece of the file is an empty line."""
    return isinstance(item, tomlkit.items.Whitespace)


def after_last_word(table) -> list:
    """The comments below a table's last word, which mostly speak of what follows, with their empty lines."""
    after: list = []
    for key, item in table.value.body:
        after = [] if key is not None else [*after, item]
    while after and not isinstance(after[0], tomlkit.items.Comment):
        after.pop(0)
    return after
