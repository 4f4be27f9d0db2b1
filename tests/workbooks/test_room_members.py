"""The learners of a room: odd names, words of their own, seats, changes by the instructor, a full disk."""

import dataclasses
import json
from concurrent.futures import ThreadPoolExecutor

import pytest

pytest.importorskip("argon2", reason='install the extra "room" to run this test')
from room import members as of_members  # noqa: E402
from room.members import Members, Refused, WrongWord  # noqa: E402

from lessons_lib.exercises import of_lesson  # noqa: E402
from lessons_lib.exercises.learner import learner  # noqa: E402
from lessons_lib.quantities.errors import InputError  # noqa: E402

WORD = "kite"
QUESTION = of_lesson("02")[0]


@pytest.fixture(autouse=True)
def quick(monkeypatch):
    """The library's hash with its smallest costs."""
    monkeypatch.setattr(of_members, "HASHER", of_members.argon2.PasswordHasher(1, 8, 1))


@pytest.fixture
def members(tmp_path):
    return Members(tmp_path / "room")


@pytest.mark.parametrize(
    "name, kept",
    [
        ("🙂", "🙂"),
        ("x" * 200, "x" * 59 + "…"),
        ("<b>Ana</b><script>alert(1)</script>", "<b>Ana</b><script>alert(1)</script>"),
        ("../../x", "../../x"),
        ("  Ana \t Müller ", "Ana Müller"),
        ("\u202eAna\u200f", "Ana"),
        ("A\x00na\nBen", "A na Ben"),
        ("Ａｎａ", "Ana"),
        ("安娜", "安娜"),
        ("Анна Smith", "Анна Smith"),
        ("con", "con"),
    ],
)
def test_odd_names_come_in_under_a_plain_folder(members, name, kept):
    account = members.admit(name, "", WORD)
    assert members.get(account).name == kept
    assert account.isascii() and set(account) <= set("abcdefghijklmnopqrstuvwxyz0123456789-") and len(account) < 64
    folder = members.folder(account)
    assert folder.parent.name == "members" and folder.stat().st_mode & 0o077 == 0
    assert members.admit(kept.upper().lower() if kept.isascii() else kept, "", WORD) == account


@pytest.mark.parametrize(
    "name, why",
    [
        ("", "No name was given"),
        ("   \t", "No name was given"),
        ("\u200f\u202e", "No name was given"),
        ("...", "No name was given"),
        ("Аna", "two alphabets"),
        ("Ανa", "two alphabets"),
    ],
)
def test_names_that_cannot_be_taken_are_refused_in_a_sentence(members, name, why):
    with pytest.raises(Refused, match=why):
        members.admit(name, "", WORD)
    assert members.all() == {}


@pytest.mark.parametrize("word", ["", "abc", "x" * 201])
def test_words_that_are_too_short_or_too_long(members, word):
    with pytest.raises(Refused, match=f"has {len(word)} characters"):
        members.admit("Ana", "", word)
    assert members.all() == {}


def test_a_taken_name_needs_its_own_word(members):
    ana = members.admit("Ana", "7", WORD)
    with pytest.raises(WrongWord, match="Somebody called Ana is in this room already"):
        members.admit("ANA ", "8", "other")
    assert members.admit("ana", "", WORD) == ana and members.get(ana).seat == "7"
    kept = members.get(ana).word
    assert WORD not in json.dumps([dataclasses.asdict(one) for one in members.all().values()])
    assert kept.startswith("$argon2id$")
    members.free_word(ana)
    assert members.admit("Ana", "", "new word") == ana
    with pytest.raises(WrongWord):
        members.admit("Ana", "", WORD)


def test_of_two_who_give_one_name_at_once_one_has_it(members):
    def enter(word):
        try:
            return members.admit("Ana", "", word)
        except WrongWord:
            return None

    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(enter, [f"word {place}" for place in range(8)]))
    assert sum(one is not None for one in found) == 1 and len(members.all()) == 1


def test_thirty_at_once_are_all_in(members):
    with ThreadPoolExecutor(10) as pool:
        accounts = list(pool.map(lambda place: members.admit(f"Learner {place}", str(place), WORD), range(30)))
    assert set(members.all()) == set(accounts) and len(accounts) == 30


def test_two_on_one_seat_are_known(members):
    ana, ben = members.admit("Ana", "7", WORD), members.admit("Ben", "Seat 07", WORD)
    assert members.at_seat("7", ana) == ["Ben"] and members.at_seat("7", ben) == ["Ana"]
    members.reseat(ben, "8")
    assert members.at_seat("7", ana) == [] and members.get(ben).seat == "8"
    cem = members.admit("Cem", "", WORD)
    members.admit("Dee", "", WORD)
    assert members.at_seat("", cem) == [], "no seat is nobody's to share"


@pytest.mark.parametrize("seat", ["7", ""])
def test_answers_move_along_with_a_new_name_and_a_new_seat(members, seat):
    ana = members.admit("Ana", seat, WORD)
    answers = members.folder(ana) / "answers"
    before = learner("Ana", seat, answers)
    before.answer(QUESTION, "4711")
    asked = before.variant(QUESTION).text
    members.rename(ana, "Anna")
    members.reseat(ana, "9")
    after = learner("Anna", "9", answers)
    assert [one["text"] for one in after.tries(QUESTION)] == ["4711"] and after.variant(QUESTION).text == asked
    assert [file.suffix for file in answers.iterdir()].count(".json") == 1
    assert members.admit("Anna", "", WORD) == ana
    other = members.admit("Ana", "7", "another")
    assert other != ana and not list(members.folder(other).iterdir()), "the free name leads nobody to what was answered"


def test_a_name_that_is_taken_or_empty_renames_nobody(members):
    ana = members.admit("Ana", "", WORD)
    members.admit("Ben", "", WORD)
    for name, why in (("BEN", "in this room already"), (" ", "No name")):
        with pytest.raises(Refused, match=why):
            members.rename(ana, name)
    members.rename(ana, "ANA")
    assert members.get(ana).name == "ANA"


def test_who_is_removed_leaves_nothing(members):
    ana, ben = members.admit("Ana", "", WORD), members.admit("Ben", "", WORD)
    (members.folder(ana) / "file").write_text("x")
    (members.folder(ben) / "file").write_text("x")
    members.remove(ana)
    assert list(members.all()) == [ben] and not (members.folder(ben).parent / ana).exists()
    assert (members.folder(ben) / "file").exists()
    members.remove_all()
    assert members.all() == {} and not list((members._folders).iterdir())


def test_what_a_removed_learner_left_is_never_handed_on(members):
    ana = members.admit("Ana", "", WORD)
    (members.folder(ana) / "file").write_text("x")
    members._keep({})
    assert members.admit("Ana", "", "another") != ana


def test_a_full_disk_is_said_and_changes_nothing(members, monkeypatch):
    ana = members.admit("Ana", "7", WORD)
    before = members.all()

    def full(*_, **__):
        raise InputError("members.json was not written (No space left on device). Choose another folder or name.")

    monkeypatch.setattr(of_members, "write_whole", full)
    for change in (
        lambda: members.admit("Ben", "", WORD),
        lambda: members.rename(ana, "Anna"),
        lambda: members.free_word(ana),
        lambda: members.seen(ana, "02"),
        lambda: members.remove(ana),
    ):
        with pytest.raises(Refused, match="nothing was changed. .*No space left"):
            change()
    assert members.all() == before


@pytest.mark.parametrize("content", ["", "[]", '{"x": {"name": 1, "odd": 2}}', "\x00"])
def test_a_damaged_list_is_said_and_left_alone(members, content):
    members._file.write_text(content)
    with pytest.raises(Refused, match="cannot be read. Nothing in it was touched"):
        members.admit("Ana", "", WORD)
    assert members._file.read_text() == content
