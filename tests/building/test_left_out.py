"""A line that a layout file leaves out: it is as if the value stood there that the template names."""

import re

import pytest

from lessons_lib import load_layout
from lessons_lib.storage.tables import DATA

TEMPLATE = (DATA / "layouts" / "template.toml").read_text(encoding="utf-8")
HOLD = "4 °C"
# word, the value that holds without it, and where it shows; the template says it, or shows it as what is usual
HOLDS = [
    ("wind", "0 mph", "still air", lambda house: house.night.wind.to("m/s").magnitude),
    ("hours_without_power", "0 h", "0", lambda house: house.night.without_power.to("h").magnitude),
    ("useful", "40 °C", "40 °C", lambda house: [tap.useful.to("degC").magnitude for tap in house.taps]),
    ("at_pressure", "300 kPa", "300 kPa", lambda house: [tap.pressure.to("kPa").magnitude for tap in house.taps]),
    ("thermostat", HOLD, "at hold", lambda house: house.tape_supply.thermostat.to("degC").magnitude),
    ("hold", HOLD, None, lambda house: house.tape_supply.hold.to("degC").magnitude),
    ("voltage", "120 V", None, lambda house: house.tape_supply.voltage.to("V").magnitude),
    ("breaker", "15 A", None, lambda house: house.tape_supply.breaker.to("A").magnitude),
    ("region", "United States", None, lambda house: house.tape_supply.region),
    ("spare", "10 %", None, lambda house: house.buying.spare),
    ("saw_kerf", "0 mm", None, lambda house: house.buying.kerf.to("mm").magnitude),
    ("end", "start", None, lambda house: house.valve.end),
]


@pytest.mark.parametrize("word, value, told, shows", HOLDS, ids=[row[0] for row in HOLDS])
def test_a_line_left_out_is_what_the_template_names(word, value, told, shows, tmp_path):
    def read(line: str):
        file = tmp_path / "house.toml"
        file.write_text(re.sub(rf"(?m)^{word} = .*$", line, TEMPLATE), encoding="utf-8")
        return shows(load_layout(file))

    (line, *_) = re.findall(rf"(?m)^{word} = (.*)$", TEMPLATE)
    assert f"leave out: {told}" in line or line.endswith(told) if told else line.startswith(f'"{value}"')
    assert read("") == pytest.approx(read(f'{word} = "{value}"'))
