"""What learners type: every common notation is read, nonsense is told in a sentence, and nothing is ever run."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lessons_lib import InputError
from lessons_lib.exercises.reading import LONGEST, read_amount, read_choice, read_order
from lessons_lib.quantities.display import KINDS, SI, SYSTEMS, US
from lessons_lib.quantities.reading import read_number, read_quantity
from lessons_lib.quantities.unit_words import WORDS
from lessons_lib.quantities.units import FLOW, LENGTH, Q_, SUPPLY
from lessons_lib.storage.reading_table import KINDS as COLUMNS
from lessons_lib.storage.reading_table import heading

CHOICES = (
    ("A", "tank", "the tank's 60 °C"),
    ("B", "setting", "the valve's 46 °C"),
    ("C", "between", "something between the two"),
)
ITEMS = tuple(zip("ABCD", ("fill", "test", "purge", "power"), ("fill it", "test it", "purge it", "power on")))


@pytest.mark.parametrize(
    "text, kind, system, unit, value",
    [
        ("1/2 in", "thickness", SI, "mm", 12.7),
        ('1/2"', "thickness", SI, "mm", 12.7),
        ("½ in", "thickness", US, "inch", 0.5),
        ("1-1/2 in", "thickness", US, "inch", 1.5),
        ("1 1/2", "thickness", US, "inch", 1.5),
        ("5 5/8 inches", "thickness", US, "inch", 5.625),
        ("3' 6\"", "length", US, "ft", 3.5),
        ("3’ 6″", "length", US, "ft", 3.5),
        ("3 ft 6 in", "length", SI, "ft", 3.5),
        ("3ft-6in", "length", US, "ft", 3.5),
        ("3'6", "length", US, "ft", 3.5),
        ("3' 6 1/2\"", "length", US, "inch", 42.5),
        ("1,5 m", "length", SI, "m", 1.5),
        ("1.5 m", "length", US, "m", 1.5),
        ("1 m 20 cm", "length", SI, "m", 1.2),
        ("150 cm", "length", SI, "m", 1.5),
        ("1 500", "heat", SI, "W", 1500),
        ("1,500 W", "heat", SI, "W", 1500),
        ("1 500,5", "heat", SI, "W", 1500.5),
        ("1.500,5 W", "heat", SI, "W", 1500.5),
        ("1.5e3", "heat", SI, "W", 1500),
        ("1,5E3 W", "heat", SI, "W", 1500),
        ("1.5 kW", "heat", SI, "W", 1500),
        ("140F", "temperature", SI, "degF", 140),
        ("140 °F", "temperature", SI, "degF", 140),
        ("60 °C", "temperature", US, "degC", 60),
        ("60 deg C", "temperature", US, "degC", 60),
        ("60℃", "temperature", US, "degC", 60),
        ("60 degrees", "temperature", SI, "degC", 60),
        ("60", "temperature", SI, "degC", 60),
        ("140", "temperature", US, "degF", 140),
        ("−5 °C", "temperature", SI, "degC", -5),
        ("10 K", "temperature difference", SI, "delta_degC", 10),
        ("18 °F", "temperature drop", SI, "delta_degC", 10),
        ("58%", "share", SI, "percent", 58),
        ("58 %", "share", US, "percent", 58),
        ("0.76", "share", SI, "percent", 76),
        ("0,76", "share", SI, "percent", 76),
        ("76", "share", SI, "percent", 76),
        ("58 percent", "share", SI, "percent", 58),
        ("ca. 3", "count", SI, "", 3),
        ("about 3 bars", "count", SI, "", 3),
        ("~ 3", "count", SI, "", 3),
        ("2.1 times", "ratio", SI, "", 2.1),
        ("1 h 20 min", "hours", SI, "min", 80),
        ("1 h 20", "hours", SI, "min", 80),
        ("2 min 5 s", "seconds", SI, "s", 125),
        ("−1 h 20 min", "hours", SI, "min", -80),
        ("90 min", "hours", SI, "hour", 1.5),
        ("5 L/min", "flow", US, "L/min", 5),
        ("5 litres per minute", "flow", SI, "L/min", 5),
        ("1.3 gpm", "flow", SI, "gpm", 1.3),
        ("2 gal", "volume", SI, "gallon", 2),
        ("12 Btu/(h ft)", "heat loss", SI, "Btu/(hour*ft)", 12),
        ("12 btu/h/ft", "heat loss", US, "Btu/(hour*ft)", 12),
        ("0.04 W/(m·K)", "conductivity", SI, "W/(m*K)", 0.04),
        ("0.04 W/mK", "conductivity", US, "W/(m*K)", 0.04),
        ("3 bar", "pressure", SI, "kPa", 300),
        ("1 min", "seconds", SI, "s", 60),
        ("1 min 30 s", "seconds", SI, "s", 90),
        ("1m30s", "seconds", US, "s", 90),
        ("1'30\"", "seconds", SI, "s", 90),
        ("half an hour", "minutes", SI, "min", 30),
        ("half an hour", "seconds", SI, "s", 1800),
        ("an hour and a half", "hours", SI, "min", 90),
        ("a quarter of an hour", "minutes", SI, "min", 15),
        ("three quarters of a minute", "seconds", SI, "s", 45),
        ("half a minute", "seconds", SI, "s", 30),
        ("a minute", "seconds", SI, "s", 60),
        ("half", "share", SI, "percent", 50),
        ("28/40", "share", SI, "percent", 70),
        ("half a gallon", "volume", US, "gallon", 0.5),
        ("1:20", "seconds", SI, "s", 80),
        ("1:20", "hours", SI, "min", 80),
        ("1:20 h", "minutes", SI, "min", 80),
        ("1:20 min", "minutes", SI, "s", 80),
        ("1:02:03", "seconds", SI, "s", 3723),
        ("3 quarts", "volume", US, "gallon", 0.75),
        ("1 qt", "volume", SI, "L", 0.946352946),
        ("16 fl oz", "volume", US, "gallon", 0.125),
        ("8 fl. oz.", "volume", SI, "L", 8 * 0.0295735295625),
        ("2 m3", "volume", SI, "L", 2000),
        ("2 m³", "volume", SI, "L", 2000),
        ("3ft3", "length", US, "ft", 3.25),
        ("45 psi", "pressure", SI, "psi", 45),
        ("5 ft/s", "speed", SI, "ft/s", 5),
        ("300 Wh", "energy", SI, "kWh", 0.3),
        ("5 W/ft", "tape power", SI, "W/ft", 5),
    ],
)
def test_common_notations(text, kind, system, unit, value):
    assert read_amount(text, kind, system).quantity.to(unit or "dimensionless").magnitude == pytest.approx(
        value, rel=1e-9
    )


@pytest.mark.parametrize(
    "text, kind, said",
    [
        ("", "length", "no answer"),
        ("   ", "length", "no answer"),
        ("x" * 10_000, "length", "10000 characters"),
        ("9" * 10_000, "length", "10000"),
        ("hot", "temperature", "60 °C"),
        ("3 kg", "temperature", "is a mass, not a temperature"),
        ("3 L/min", "length", "not a length"),
        ("40 pounds", "pressure", 'a mass, not a pressure. Do you mean pounds per square inch? Then write "psi"'),
        ("40 lb", "length", "is a mass, not a length. Write"),
        ("3 m3", "length", "is a volume, not a length"),
        ("1:20", "minutes", 'Write "1 h 20 min" or "1 min 20 s"'),
        ("1:75", "seconds", "not known"),
        ("1:20", "length", "not known"),
        ("5 bars", "share", "is a pressure, not a share"),
        ("3 foo", "length", '"foo" is not known'),
        ("1/0 in", "length", "divides by nothing"),
        ("1e400", "length", "not a number"),
        ("nan", "length", "not a number"),
        ("inf m", "length", "not a number"),
        ("20 °C 3 °F", "temperature", "not one number"),
        ("5 in 3 ft", "length", "not one number"),
        ("7 8", "count", "not one number"),
        ("__import__('os').system('x')", "length", "not a number"),
        ("<script>1</script>", "length", "not a number"),
        ("5 m; rm -rf /", "length", "not known"),
        ("\x00\x1b[2J", "length", "not a number"),
        ("1 1/2 1/2", "length", ""),
        ("٣ foo", "length", "not known"),
        ("5**9**9**9", "length", ""),
    ],
)
def test_nonsense_is_told(text, kind, said):
    with pytest.raises(InputError) as caught:
        read_amount(text, kind, SI)
    assert said in str(caught.value) and len(str(caught.value)) < 300 and "\x1b" not in str(caught.value)


@given(st.text(max_size=2 * LONGEST), st.sampled_from(sorted(KINDS)), st.sampled_from(SYSTEMS))
@settings(max_examples=400, deadline=None)
def test_any_text_is_a_quantity_or_a_sentence(text, kind, system):
    try:
        found = read_amount(text, kind, system)
    except InputError as error:
        assert str(error).endswith((".", '".'))
    else:
        assert math.isfinite(found.number)


@given(st.floats(-1e6, 1e6, allow_nan=False), st.integers(0, 6))
@settings(max_examples=200, deadline=None)
def test_numbers_read_back_however_written(value, places):
    text = f"{value:.{places}f}"
    for written in (
        text,
        text.replace("-", "−"),
        text.replace(".", ",") if abs(float(text)) < 1 or places not in (3,) else text,
        f" {text} ",
    ):
        assert read_number(written)[0] == pytest.approx(float(text), rel=1e-12, abs=1e-12)


@given(st.integers(1000, 999_999_999), st.sampled_from([" ", ",", "\u202f", "\u00a0"]))
@settings(max_examples=100, deadline=None)
def test_thousands(value, between):
    assert read_number(f"{value:,}".replace(",", between) + " W") == (float(value), "w")


@given(st.integers(0, 300), st.integers(1, 15))
@settings(max_examples=100, deadline=None)
def test_feet_inches_and_sixteenths(inches, sixteenths):
    feet, rest = divmod(inches, 12)
    for text in (f"{feet}' {rest} {sixteenths}/16\"", f"{feet} ft {rest}-{sixteenths}/16 in"):
        assert read_amount(text, "length", SI).quantity.to("inch").magnitude == pytest.approx(inches + sixteenths / 16)


@pytest.mark.parametrize(
    "text, key",
    [
        ("A", "tank"),
        ("b", "setting"),
        ("(c)", "between"),
        ("B)", "setting"),
        ("answer b", "setting"),
        ("Option C.", "between"),
        ("the valve's 46 °C", "setting"),
        ("THE TANK'S 60 °c", "tank"),
        ("between", "between"),
        ("something between the two", "between"),
        ("tank", "tank"),
    ],
)
def test_choices(text, key):
    assert read_choice(text, CHOICES) == key


@pytest.mark.parametrize("text", ["D", "the", "60 bananas", "", "A B", "x" * 10_000, "<b>A</b>"])
def test_no_such_choice(text):
    with pytest.raises(InputError):
        read_choice(text, CHOICES)


@pytest.mark.parametrize(
    "text", ["B A C D", "b,a,c,d", "bacd", "B > A > C > D", "B-A-C-D", "b → a → c → d", " B\nA\nC\nD "]
)
def test_orders(text):
    assert read_order(text, ITEMS) == ("test", "fill", "purge", "power")


@pytest.mark.parametrize(
    "text, said",
    [
        ("ABC", "D not at all"),
        ("AABCD", "A more than once"),
        ("ABCE", "E"),
        ("", "no answer"),
        ("A" * 10_000, "10000"),
        ("first test", "possible are the letters"),
    ],
)
def test_no_such_order(text, said):
    with pytest.raises(InputError, match=said):
        read_order(text, ITEMS)


@pytest.mark.parametrize(
    "column, kind, domain",
    [("place", "length", LENGTH), ("temperature", "temperature", SUPPLY), ("flow", "flow", FLOW)],
)
def test_every_reader_knows_the_same_words_for_units(column, kind, domain):
    """A word for a unit means the same in an answer, in a building file and over a column of readings."""
    words = [word for name in COLUMNS[column] if name != "kelvin" for word in WORDS[name]]
    assert len(words) >= 9
    for word in words:
        answer, over_column = read_amount(f"50 {word}", kind, SI).quantity, heading(f"{column} [{word}]")
        assert Q_(50.0, over_column.unit).to(answer.units).magnitude == pytest.approx(answer.magnitude), word
        in_a_file = read_quantity(f"50 {word}", domain)
        assert in_a_file.to(answer.units).magnitude == pytest.approx(answer.magnitude), word
