"""A school's own material as one file: whole on the other computer, and nothing of a hostile one gets in."""

import io
import stat
import struct
import zipfile
from pathlib import Path

import pytest
from own_question import QUESTION

from lessons_lib.classroom import material_package
from lessons_lib.classroom.own import package
from lessons_lib.exercises import handed_out
from lessons_lib.lessons.your_own_run.own_files import READY
from lessons_lib.quantities.errors import InputError
from lessons_lib.storage import own_material, preferences

CABIN = (READY / "bunk_cabin.toml").read_bytes()
KIT = b"lesson,item,per,count,kg\n02,our blue crate,room,1,4.5\n02,stopwatch,bench,3,\n"
ALL = {
    "questions/02-own-1.toml": QUESTION.encode(),
    "kit.csv": KIT,
    "session_minutes.csv": b"lesson,path,hands,wait,rest,talk,lead,meanwhile,begin\n02,10,25,0,0,5,0,,\n",
    "opening.toml": CABIN,
    "lessons.json": b'{"lessons": ["02", "07"]}',
}
HOLDS = '1 question, 1 row of minutes, 2 rows of kit, the building "Bunk cabin", the choice of lessons 02 and 07'


def zipped(files: dict, packing=zipfile.ZIP_DEFLATED, **fields) -> bytes:
    """A package as anybody could make it. files : name → content; fields : of each entry of its list"""
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w", packing) as archive:
        for name, inside in files.items():
            entry = zipfile.ZipInfo(name)
            entry.compress_type = packing
            for field, value in fields.items():
                setattr(entry, field, value)
            archive.writestr(entry, inside)
    return content.getvalue()


def lay(files: dict) -> None:
    """Puts own material into its folder."""
    for name, content in files.items():
        file = own_material.folder() / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content)


def lying() -> dict:
    """Name → content of all that lies in the folder of own material, what was put aside among it; no locks."""
    folder = own_material.folder()
    files = [file for file in folder.rglob("*") if file.is_file() and file.suffix != ".lock"] if folder.is_dir() else []
    return {file.relative_to(folder).as_posix(): file.read_bytes() for file in files}


def test_all_material_gets_to_another_computer_whole(tmp_path, monkeypatch):
    lay(ALL)
    here = material_package()
    here.write()
    (file,) = (preferences.seen_folder() / "packages").iterdir()
    assert str(file) in here.said and f'download="{file.name}"' in here.link.value
    monkeypatch.setenv(preferences.FOLDER_VARIABLE, str(tmp_path / "other"))
    there = material_package()
    there.look(file.read_bytes(), file.name)
    assert HOLDS in there.said and "Take in only what comes from your own school" in there.said and lying() == {}
    there.take_in()
    assert lying() == ALL and handed_out.handed_out() == ("02", "07")
    assert "● Taken in" in there.said and there.asked.layout.display == "none"


def test_what_was_there_before_is_put_aside_and_not_mixed_in():
    lay({"kit.csv": b"old", "questions/03-own-1.toml": b"old too", "notes.txt": b"stays"})
    package.take_in(package.looked_at(zipped(ALL), "a.zip"))
    aside = {name: content for name, content in lying().items() if name.startswith("put aside/")}
    assert sorted(aside.values()) == [b"old", b"old too"]
    assert {name: content for name, content in lying().items() if name not in aside} == ALL | {"notes.txt": b"stays"}


def test_it_is_left_alone_unless_it_is_asked_for():
    panel = material_package()
    panel.look(zipped(ALL), "a.zip")
    panel.leave()
    panel.take_in()
    assert lying() == {} and "Nothing was taken in" in panel.said


STRANGE = [
    "../kit.csv",
    "/kit.csv",
    "C:\\kit.csv",
    "questions\\02-own-1.toml",
    "questions/../kit.csv",
    "questions/./02-own-1.toml",
    "other/kit.csv",
    "kit.csv\n",
    "kit.csv/",
    "KIT.CSV",
    "kit.csv.exe",
    "water.csv",
    "questions/02-1.toml",
    "put aside/kit.csv",
    ".ipynb_checkpoints/kit.csv",
    "own_pages.json",
    "",
]


@pytest.mark.parametrize("name", STRANGE)
def test_a_name_that_has_no_place_is_refused_before_anything_is_read(name, monkeypatch):
    monkeypatch.setattr(package, "_read", None)
    with pytest.raises(InputError, match="has no place in a package"):
        package.looked_at(zipped({"kit.csv": KIT, name: b"x"}), "a.zip")


def test_links_devices_and_two_of_a_name_are_refused():
    for kind in (stat.S_IFLNK, stat.S_IFIFO, stat.S_IFBLK, stat.S_IFDIR):
        with pytest.raises(InputError, match="has no place"):
            package.looked_at(zipped({"kit.csv": b"/etc/passwd"}, external_attr=(kind | 0o777) << 16), "a.zip")
    content = io.BytesIO()
    with zipfile.ZipFile(content, "w") as archive, pytest.warns(UserWarning, match="Duplicate"):
        archive.writestr("kit.csv", KIT)
        archive.writestr("kit.csv", b"other")
    with pytest.raises(InputError, match="has no place"):
        package.looked_at(content.getvalue(), "a.zip")


def test_what_unpacks_to_too_much_is_refused(monkeypatch):
    with pytest.raises(InputError, match="opening.toml: 10 MB are too large"):
        package.looked_at(zipped({"opening.toml": b"#" * 10_000_000}), "a.zip")
    many = {f"questions/02-own-{number}.toml": b"#" * 900_000 for number in range(23)}
    with pytest.raises(InputError, match="too much is in it"):
        package.looked_at(zipped(many), "a.zip")
    with pytest.raises(InputError, match="at most 1000 files"):
        package.looked_at(zipped({f"questions/02-own-{number}.toml": b"" for number in range(1001)}), "a.zip")
    with pytest.raises(InputError, match="5.1 MB are too large; at most 5 MB"):
        package.looked_at(b"x" * 5_100_000, "a.zip")


@pytest.mark.parametrize("says", [10, 1_000_001])
def test_a_list_that_lies_about_a_size_is_refused(says):
    """A megabyte of blanks whose entries say another size; never more than that is unpacked."""
    honest = zipped({"kit.csv": b" " * 1_000_000})
    lying_list = honest.replace(struct.pack("<L", 1_000_000), struct.pack("<L", says))
    assert lying_list != honest
    with pytest.raises(InputError, match="no package, or it is damaged"):
        package.looked_at(lying_list, "a.zip")


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"PK\x05\x06" + b"\0" * 10,
        b"lesson,item",
        zipped(ALL)[:-30],
        zipped(ALL)[:200] + b"\0" * 60 + zipped(ALL)[260:],
        zipped(ALL, zipfile.ZIP_BZIP2),
        zipped(ALL, zipfile.ZIP_LZMA),
    ],
)
def test_what_is_damaged_or_packed_in_another_way_is_told(content):
    with pytest.raises(InputError, match="no package, or it is damaged"):
        package.looked_at(content, "a.zip")


def test_one_with_a_password_is_told():
    content = bytearray(zipped({"kit.csv": KIT}, zipfile.ZIP_STORED))
    content[6] |= 1
    content[content.index(b"PK\x01\x02") + 8] |= 1
    with pytest.raises(InputError, match="no package, or it is damaged"):
        package.looked_at(bytes(content), "a.zip")


def test_an_empty_one_is_told_and_one_with_its_folder_listed_is_taken():
    with pytest.raises(InputError, match="nothing is in it"):
        package.looked_at(zipped({}), "a.zip")
    assert package.looked_at(zipped({"questions/": b"", **ALL}), "a.zip").files == ALL


SLIPS = [
    ("questions/02-own-1.toml", QUESTION.replace('answer = "near"', 'answer = "x"').encode(), "02-own-1.toml"),
    ("questions/77-own-1.toml", QUESTION.encode(), '"77" is not known'),
    ("questions/02-own-2.toml", QUESTION.encode(), 'holds "own-02-1"'),
    ("kit.csv", KIT.replace(b"room", b"table"), "kit.csv, row 2, per"),
    ("kit.csv", b"", "kit.csv"),
    ("session_minutes.csv", b"lesson,path\n02,10\n", "there is no column"),
    ("opening.toml", CABIN.replace(b"[[leg]]", b"[[lag]]"), "opening.toml"),
    ("opening.toml", b"x = " + b"[" * 9000, "opening.toml"),
    ("lessons.json", b'{"lessons": ["99"]}', '"99" is not known'),
    ("lessons.json", b"[" * 9000, "lessons.json"),
]


@pytest.mark.parametrize("name, content, told", SLIPS)
def test_a_slip_inside_is_told_and_nothing_is_kept(name, content, told):
    panel = material_package()
    panel.look(zipped(ALL | {name: content}), "a.zip")
    panel.take_in()
    assert "▲ Nothing was taken in. This has to be mended first:" in panel.said and told in panel.said
    assert lying() == {} and "Until then" not in panel.said


def test_a_slip_here_is_told_before_a_package_is_written():
    lay(ALL | {"kit.csv": KIT.replace(b"room", b"table"), "lessons.json": b"{}"})
    panel = material_package()
    panel.write()
    assert "kit.csv, row 2, per" in panel.said and "lessons.json: this is no list" in panel.said
    assert not (preferences.seen_folder() / "packages").exists()


def test_without_material_there_is_nothing_to_write():
    panel = material_package()
    panel.write()
    assert "There is no material of your own yet" in panel.said and repr(panel).startswith("Two buttons")


def test_a_question_that_would_be_left_out_is_told():
    lay({"questions/02-own-1 (copy).toml": b"x", "kit.csv": KIT})
    with pytest.raises(InputError, match=r"02-own-1 \(copy\).toml: this name has no place"):
        package.written()


@pytest.mark.parametrize("fails_at", range(1, 8))
def test_a_disk_that_fails_on_the_way_leaves_all_as_it_was(fails_at, monkeypatch):
    lay({"kit.csv": b"old", "questions/03-own-1.toml": b"old too"})
    before, found = lying(), package.looked_at(zipped(ALL), "a.zip")
    real, left = Path.rename, [fails_at]

    def rename(self, target):
        left[0] -= 1
        if left[0] == 0:
            raise OSError(28, "No space left on device")
        return real(self, target)

    monkeypatch.setattr(Path, "rename", rename)
    with pytest.raises(InputError, match="No space left on device.*Nothing was changed"):
        package.take_in(found)
    assert lying() == before
