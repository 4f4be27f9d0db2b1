"""Layout files that cannot be used: one message each, with the file, the line and the nearest right word; the file stays as it is."""

import random
import re

import pytest

from lessons_lib import InputError, load_layout
from lessons_lib.building.read import read
from lessons_lib.building.source import Source
from lessons_lib.storage.tables import DATA

GOOD = """name = "Test yard"
[water]
pressure = "300 kPa"
cold_inlet = "8 °C"
[night]
air = "-12 °C"
hours = "14 h"
[tank]
set_temperature = "60 °C"
[valve]
setting = "48 °C"
leg = "riser"
[places]
indoors = "20 °C"
crawlspace = "25 °F"
[usual]
pipe = "copper L"
size = "3/4 in"
insulation = "elastomeric foam"
thickness = "19 mm"
place = "indoors"
[[leg]]
name = "riser"
from = "tank"
go = "up"
length = "6 ft"
fittings = ["ball valve"]
[[leg]]
name = "along"
from = "riser"
go = "north"
length = "4 m"
[[leg]]
name = "left"
from = "along"
go = "west"
length = "2 m"
[[leg]]
name = "right"
from = "along"
go = "east"
length = "3 m"
place = "outdoors"
tape = "16 W/m"
[[tap]]
name = "left tap"
leg = "left"
kind = "sink"
flow = "6 L/min"
[[tap]]
name = "right tap"
leg = "right"
kind = "shower"
flow = "2 gpm"
useful = "38 °C"
[loop]
flow = "2 L/min"
leaves_at = "60 °C"
comes_back_at = "50 °C"
[[loop.hot]]
name = "hot line"
go = "north"
length = "3 m"
[[loop.return]]
name = "cold line"
go = "south"
length = "3 m"
[[fittings_measured]]
fitting = "elbow 90"
size = "3/4 in"
centre_to_face = "43 mm"
insertion_depth = "29 mm"
[buy]
spare = "10 %"
[buy.stock]
"copper L" = "20 ft"
"""

# what it is: (text in GOOD, what stands there instead, a text that only the wrong line has, what the message says)
CASES = {
    # not TOML
    "no quotation marks": ('go = "north"\nlength = "4 m"', 'go = north\nlength = "4 m"', "go = north", 'go = "north"'),
    "a quotation mark missing": ('hours = "14 h"', 'hours = "14 h', "14 h", "quotation marks"),
    "no equals sign": ('air = "-12 °C"', 'air "-12 °C"', 'air "-12', 'key = "value"'),
    "a bracket missing": ("[tank]", "[tank", "[tank", "brackets"),
    "a word said twice": ('kind = "sink"', 'kind = "sink"\nkind = "bath" ', 'kind = "bath"', "Keep one"),
    "a table said twice": ("[buy]", '[tank]\nplace = "outdoors"\n[buy]', "[tank]\nplace", "Keep one"),
    "one leg in single brackets": ("[[loop.hot]]", "[loop.hot]", "[loop.hot]", "[[loop.hot]]"),
    # unknown words
    "an unknown table": ("[night]", "[nigth]", "[nigth]", '"night"'),
    "an unknown word": ('length = "6 ft"', 'lenght = "6 ft"', "lenght", '"length"'),
    "an unknown direction": ('go = "up"', 'go = "upp"', '"upp"', '"up"'),
    "an unknown pipe": ('pipe = "copper L"', 'pipe = "coper L"', '"coper L"', '"copper L"'),
    "an unknown size": ('size = "3/4 in"\ninsulation', 'size = "7/8 in"\ninsulation', "7/8 in", '"3/4 in"'),
    "an unknown insulation": ('"elastomeric foam"', '"elastomer foam"', '"elastomer foam"', '"elastomeric foam"'),
    "an unknown place": ('place = "outdoors"', 'place = "outdoor"', '"outdoor"', '"outdoors"'),
    "an unknown fitting": ('["ball valve"]', '["bal valve"]', "bal valve", '"ball valve"'),
    "an elbow along a leg": ('["ball valve"]', '["elbow 90"]', '"elbow 90"]', "count themselves"),
    "an unknown kind of tap": ('kind = "shower"', 'kind = "shover"', "shover", '"shower"'),
    "an unknown fitting measured": ('fitting = "elbow 90"', 'fitting = "elbo 90"', "elbo 90", '"elbow 90"'),
    "an unknown family in stock": ('"copper L" = "20 ft"', '"copper X" = "20 ft"', "copper X", '"copper L"'),
    # floors
    "a floor without a unit": ("[buy]", '[floors]\n"cellar" = 3\n[buy]', '"cellar" = 3', "carries no unit"),
    "a floor that is no height": ("[buy]", '[floors]\n"cellar" = "5 °C"\n[buy]', '"cellar"', "m"),
    "a floor on the moon": ("[buy]", '[floors]\n"cellar" = "500 m"\n[buy]', '"cellar"', "100"),
    "a floor without a name": ("[buy]", '[floors]\n" " = "3 m"\n[buy]', '" " = "3 m"', "1 to 24 letters"),
    "two floors at one height": (
        "[buy]",
        '[floors]\n"cellar" = "3 m"\n"attic" = "300 cm"\n[buy]',
        '"attic"',
        "Give each floor its own height",
    ),
    "floors that are no table": ('name = "Test yard"', 'name = "Test yard"\nfloors = "two"', "floors =", "[floors]"),
    # missing
    "no legs": (GOOD[GOOD.index("[[leg]]") : GOOD.index("[[tap]]")], "", 'name = "Test yard"', "[[leg]]"),
    "no pressure": ('pressure = "300 kPa"\n', "", "[water]", "pressure"),
    "no length": ('length = "4 m"\n', "", '[[leg]]\nname = "along"', "length"),
    "no air where a leg lies": ('place = "outdoors"', 'place = "buried"', "[places]", "depth"),
    "no return line": (
        '[[loop.return]]\nname = "cold line"\ngo = "south"\nlength = "3 m"\n',
        "",
        "[loop]",
        "[[loop.return]]",
    ),
    "an empty name": ('name = "along"', 'name = " "', 'name = " "', "text"),
    # the tree
    "a leg from nowhere": ('from = "riser"', 'from = "rizer"', '"rizer"', '"riser"'),
    "a ring": ('from = "riser"', 'from = "left"', 'from = "left"', "ring"),
    "a leg from itself": ('from = "riser"', 'from = "along"\n', 'from = "along"\n\n', "ring"),
    "a name twice": ('name = "right"\n', 'name = "left"\n', 'name = "left"\nfrom = "along"\ngo = "east"', "own"),
    "a leg called tank": ('name = "left"\n', 'name = "tank"\n', 'name = "tank"', "another name"),
    "a leg that runs back": ('go = "west"', 'go = "south"', 'go = "south"\nlength = "2 m"', '"north"'),
    "two legs one way": ('go = "west"', 'go = "east"', 'go = "east"\nlength = "3 m"', "Turn one"),
    "three legs from one end": (
        '[[tap]]\nname = "left tap"',
        '[[leg]]\nname = "third"\nfrom = "along"\ngo = "up"\nlength = "1 m"\n[[tap]]\nname = "left tap"',
        'from = "along"\ngo = "up"',
        "two tees a short leg apart",
    ),
    "a leg without a tap": ('leg = "left"', 'leg = "right"', 'leg = "right"\nkind = "shower"', "already"),
    "a leg that ends at nothing": (
        '[[tap]]\nname = "left tap"\nleg = "left"\nkind = "sink"\nflow = "6 L/min"\n',
        "",
        '[[leg]]\nname = "left"',
        "ends at nothing",
    ),
    "a tap on nothing": ('leg = "left"', 'leg = "lefd"', '"lefd"', '"left"'),
    "a tap where a leg goes on": ('leg = "left"', 'leg = "along"', 'leg = "along"', "short leg between"),
    "two taps of one name": ('name = "right tap"', 'name = "left tap"', 'name = "left tap"\nleg = "right"', "own"),
    "a valve on nothing": ('leg = "riser"', 'leg = "rise"', 'leg = "rise"', '"riser"'),
    # numbers and units
    "no unit": ('length = "4 m"', 'length = "4"', 'length = "4"', '"6 m"'),
    "a bare number": ('length = "4 m"', "length = 4", "length = 4", '"6 m"'),
    "no number": ('length = "4 m"', 'length = "four m"', "four m", '"6 m"'),
    "an unknown unit": ('length = "4 m"', 'length = "4 metr"', "4 metr", '"m"'),
    "another kind of unit": ('length = "4 m"', 'length = "4 °C"', 'length = "4 °C"', "temperature, not a length"),
    "a pressure in degrees": ('pressure = "300 kPa"', 'pressure = "300 °F"', "300 °F", "not a pressure"),
    "kinds mixed in one value": ('length = "4 m"', 'length = "4 ft 3 kPa"', "4 ft 3 kPa", "pressure, not a length"),
    "a negative length": ('length = "4 m"', 'length = "-4 m"', "-4 m", "above 0 m"),
    "an absurd length": ('length = "4 m"', 'length = "4000 ft"', "4000 ft", "at most"),
    "an endless number": ('length = "4 m"', f'length = "{"9" * 400} m"', "9999", "number"),
    "an absurd thickness": ('thickness = "19 mm"', 'thickness = "19 in"', "19 in", "possible is from 0 in"),
    "insulation of 120 mm": ('thickness = "19 mm"', 'thickness = "120 mm"', '"120 mm"', "250 mm"),
    "an absurd flow": ('flow = "6 L/min"', 'flow = "600 L/min"', "600 L/min", "at most"),
    "a boiling tank": ('set_temperature = "60 °C"', 'set_temperature = "140 °C"', "140 °C", "99 °C"),
    "a tank colder than the main": (
        'set_temperature = "60 °C"',
        'set_temperature = "5 °C"',
        "set_temperature",
        "no hotter",
    ),
    "a spare share above all": ('spare = "10 %"', 'spare = "1000 %"', "1000 %", "100 %"),
    "a valve hotter than the tank": ('setting = "48 °C"', 'setting = "70 °C"', "setting", "60 °C"),
    "hotter than the tank wished": ('useful = "38 °C"', 'useful = "70 °C"', "useful", "hotter than the tank"),
    "hotter than the valve wished": ('useful = "38 °C"', 'useful = "50 °C"', "useful", "mixing valve"),
    "longer without power than the night": (
        'hours = "14 h"',
        'hours = "14 h"\nhours_without_power = "20 h"',
        "hours_without_power",
        "night",
    ),
    "a night among several without a name": ("[night]", "[[night]]", "[[night]]", "name"),
    "two nights of one name": (
        "[night]",
        '[[night]]\nname = "cold"\nair = "-3 °C"\nhours = "9 h"\n[[night]]\nname = "cold" # twice',
        "# twice",
        "its own name",
    ),
    "a second night with an unknown word": (
        "[night]",
        '[[night]]\nname = "cold"\nair = "-3 °C"\nhuors = "9 h"\n[[night]]\nname = "colder"',
        "huors",
        '"hours"',
    ),
    "more nights than can be told apart": (
        "[night]",
        "".join(f'[[night]]\nname = "{n}"\nair = "-3 °C"\nhours = "9 h"\n' for n in range(6)) + '[[night]]\nname = "7"',
        '[[night]]\nname = "7"',
        "1 to 6",
    ),
    "hot and cold of the loop exchanged": (
        'comes_back_at = "50 °C"',
        'comes_back_at = "65 °C"',
        "comes_back_at",
        "exchanged",
    ),
    "a weak tape that grows": ('tape = "16 W/m"', 'tape = "4 W/m at 5 °C, 9 W/m at 40 °C"', "tape =", "fall"),
    "a tape in volts": ('tape = "16 W/m"', 'tape = "120 V"', "tape =", "voltage"),
    # fittings and room
    "a pipe too small for its fitting": ('["ball valve"]', '["ball valve 1 in"]', "fittings =", "too small"),
    "a leg too short for its fittings": ('length = "4 m"', 'length = "1 in"', '"1 in"', "no room"),
    "deeper than the fitting": ('insertion_depth = "29 mm"', 'insertion_depth = "60 mm"', "insertion_depth", "43 mm"),
    "a size that no pipe has": ('size = "3/4 in"\ncentre', 'size = "5 in"\ncentre', '"5 in"', "not known"),
}


def line_with(text: str, mark: str) -> int:
    """The number of the line in which a mark begins."""
    return text[: text.index(mark)].count("\n") + 1


def test_there_are_forty_and_more():
    assert len(CASES) >= 40


def test_the_good_one_is_good(tmp_path):
    file = tmp_path / "good.toml"
    file.write_text(GOOD, encoding="utf-8")
    assert load_layout(file).name == "Test yard"


@pytest.mark.parametrize("what", CASES)
def test_one_message_with_line_and_word(what, tmp_path):
    old, new, mark, said = CASES[what]
    assert old in GOOD
    text = GOOD.replace(old, new, 1)
    file = tmp_path / "yard.toml"
    file.write_text(text, encoding="utf-8")
    before = file.read_bytes()
    with pytest.raises(InputError) as caught:
        load_layout(file)
    message = str(caught.value)
    assert message.startswith(f"yard.toml, line {line_with(text, mark)}: "), message
    assert said in message and message.count("yard.toml") == 1 and "Q_(" not in message, message
    assert len(message) < 600
    assert file.read_bytes() == before and [one.name for one in tmp_path.iterdir()] == ["yard.toml"]


@pytest.mark.parametrize(
    "count, said", [(1_100, r"line \d+: 1104 legs are too many; at most 1000"), (10_000, "are too many for a layout")]
)
def test_too_many_legs_are_refused_at_once(tmp_path, count, said):
    legs = "".join(
        f'[[leg]]\nname = "leg {n}"\nfrom = "leg {n - 1}"\ngo = "north"\nlength = "1 m"\n' for n in range(count)
    )
    file = tmp_path / "yard.toml"
    file.write_text(GOOD + legs, encoding="utf-8")
    before = file.read_bytes()
    with pytest.raises(InputError, match=said):
        load_layout(file)
    assert file.read_bytes() == before


@pytest.mark.parametrize(
    "raw, said",
    [
        (b"", "line 1"),
        (b"\xff\xfe\x00", "line 1: this is not plain text"),
        (b'name = "a"\n\nabout = "\xe9"\n', "line 3: this is not plain text"),
        (b"x" * 1_000_001, "too large"),
        (b"\x00", "line 1"),
        (b"name = 3\n", "line 1"),
        (b"leg = 5\n", "line 1"),
        (b"[[leg]]\n[[leg]]\n", "line"),
    ],
)
def test_what_is_no_layout_at_all(raw, said, tmp_path):
    file = tmp_path / "yard.toml"
    file.write_bytes(raw)
    with pytest.raises(InputError, match=said):
        load_layout(file)
    assert file.read_bytes() == raw


def test_a_file_that_is_not_there(tmp_path):
    with pytest.raises(InputError, match="none.toml: the file cannot be opened"):
        load_layout(tmp_path / "none.toml")
    assert not list(tmp_path.iterdir())


VALUES = (
    "5",
    "true",
    "[]",
    '["a"]',
    "{a = 1}",
    '""',
    '"x"',
    "1979-05-27",
    "nan",
    '"-1 m"',
    '"0 m"',
    '"1 in"',
    '"300 m"',
    '"0.001 mm"',
    '"tank"',
    '"100 %"',
    '"99 °C"',
    '"60 °C"',
    '"0 W/m"',
    '"1 W/m at 0 °C, 0 W/m at 3 °C"',
    '"outdoors"',
    '"buried"',
    '"up"',
    '"PEX CTS"',
    '"1 1/4 in"',
    '"none"',
    '"crimp"',
    '"50 mm"',
    '"-60 °C"',
    '"40 m/s"',
    '"0 h"',
    '"1 h"',
    '["ball valve", "check valve"]',
    '"3/8 in"',
)


def spoilt(text: str, rng) -> str:
    """A layout with a few lines taken out, doubled, or given the value of another or of nothing like it."""
    lines = text.splitlines()
    for _ in range(rng.choice((1, 1, 2, 3))):
        place, said = (
            rng.randrange(len(lines)),
            [number for number, line in enumerate(lines) if re.match(r'["\w].*=', line)],
        )
        how, number = rng.random(), rng.choice(said)
        if how < 0.15:
            del lines[place]
        elif how < 0.22:
            lines.insert(place, rng.choice(lines))
        else:
            value = rng.choice(VALUES) if how < 0.7 else lines[rng.choice(said)].partition("=")[2]
            lines[number] = f"{lines[number].partition('=')[0]}= {value}"
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("path", sorted((DATA / "layouts").glob("*.toml")), ids=lambda path: path.stem)
def test_whatever_is_spoilt_gives_a_line_or_a_whole_answer(path):
    """100 spoilt copies of each layout: an InputError with its line, or a layout that answers every question."""
    rng, whole = random.Random(5), path.read_text(encoding="utf-8")
    for _ in range(100):
        text = spoilt(whole, rng)
        try:
            house = read(Source("yard.toml", text))
        except InputError as error:
            assert re.match(r"yard\.toml, line \d+: ", str(error)) and "Q_(" not in str(error)
        else:
            assert len(house.assess().taps) == len(house.taps) and house.take_off().pieces
