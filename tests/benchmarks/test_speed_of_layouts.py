"""Speed of whole buildings, measured and never asserted; see test_speed.py.

Aims without pictures: a house of 12 legs end to end (read, assess, take-off) 150 ms, a building of 300 legs 3 s, growth near
linear. With its sketch, on paper: the sheet of 500 legs in 20 s. A building is a riser with floors; on each floor a corridor of five legs with a tap on four of them.
"""

import time

import numpy as np
import pytest

from lessons_lib import load_layout
from lessons_lib.building import LayoutDocument, kept
from lessons_lib.building.run_sheet import run_sheet
from lessons_lib.lessons import your_own_run

HEAD = """name = "Bench building (INVENTED)"
[water]
pressure = "500 kPa"
cold_inlet = "8 °C"
[night]
air = "-12 °C"
wind = "5 m/s"
hours = "14 h"
hours_without_power = "3 h"
[tank]
set_temperature = "60 °C"
[valve]
setting = "48 °C"
leg = "floor 0"
[places]
indoors = "20 °C"
crawlspace = "-4 °C"
[usual]
pipe = "copper L"
size = "1 in"
insulation = "elastomeric foam"
thickness = "19 mm"
place = "indoors"
"""
SIZES = ("1 in", "3/4 in", "1/2 in")
PLACES = ("indoors", "crawlspace", "outdoors", "indoors")


def a_leg(name, start, go, length, size="1 in", place="indoors") -> str:
    return f'[[leg]]\nname = "{name}"\nfrom = "{start}"\ngo = "{go}"\nlength = "{length} m"\nsize = "{size}"\nplace = "{place}"\n'


def a_building(legs: int) -> str:
    """Text of a building with that many legs: twelve a floor, one up, five along, six with taps."""
    found, taps, riser = [], [], "tank"
    for floor in range(legs // 12):
        found.append(a_leg(f"floor {floor}", riser, "up", 0.5))
        riser, along = f"floor {floor}", f"floor {floor}"
        for part in range(5):
            name = f"along {floor}.{part}"
            found.append(
                a_leg(name, along, "east", 2 + 0.1 * floor, SIZES[min(part // 2, 2)], PLACES[(floor + part) % 4])
            )
            found.append(a_leg(f"tap {floor}.{part}", name, "north", 1 + 0.2 * part, "1/2 in"))
            taps.append(f"tap {floor}.{part}")
            along = name
        found.append(a_leg(f"tap {floor}.5", along, "east", 1, "1/2 in"))
        taps.append(f"tap {floor}.5")
    listed = "".join(
        f'[[tap]]\nname = "{name}"\nleg = "{name}"\nkind = "sink"\nflow = "4 L/min"\nuseful = "38 °C"\n'
        for name in taps
    )
    return HEAD + "".join(found) + listed


@pytest.fixture
def file_of(tmp_path):
    def write(legs):
        file = tmp_path / f"{legs}.toml"
        file.write_text(a_building(legs), encoding="utf-8")
        return file

    return write


def for_the_first_time(file):
    """A layout of which nothing is known from before."""
    kept._found.clear()
    kept._lately.clear()
    return load_layout(file)


def end_to_end(file):
    """Read, assess, take off."""
    house = for_the_first_time(file)
    return house.assess(), house.take_off()


def seconds(call) -> float:
    begin = time.perf_counter()
    call()
    return time.perf_counter() - begin


def test_a_house_of_12_legs(benchmark, file_of):
    found, listed = benchmark(end_to_end, file_of(12))
    assert len(found.taps) == 6 and len(listed.pieces) >= 12


def test_what_to_change_first_in_a_house_of_12_legs(benchmark, file_of):
    house = load_layout(file_of(12))
    assert len(benchmark.pedantic(house.first_changes, rounds=1)) == 3


def test_a_building_of_300_legs(benchmark, file_of):
    found, listed = benchmark.pedantic(end_to_end, (file_of(300 if benchmark.enabled else 36),), rounds=1)
    assert all(np.isfinite(tap.wait.magnitude) for tap in found.taps) and listed.bars


def test_the_sheet_of_500_legs(benchmark, file_of):
    """From the layout to the PDF: assessment, sketch, tables, pages."""
    house = load_layout(file_of(500 if benchmark.enabled else 24))
    pdf = benchmark.pedantic(lambda: run_sheet(house, changes=(), papers=("A4",)).pdf(), rounds=1)
    assert pdf.startswith(b"%PDF")


def test_an_edit_of_a_building_of_500_legs(benchmark, file_of):
    """Read and assess after an edit, with what it is of the first time: the other legs are taken as they were."""
    document = LayoutDocument.open(file_of(500 if benchmark.enabled else 24))
    read = seconds(document.layout)
    whole = read + seconds(lambda: document.layout().assess())
    document.change("leg", 3, "length", "2.2 m")
    again = seconds(document.layout)
    found = benchmark.pedantic(lambda: document.layout().assess(), rounds=1)
    benchmark.extra_info["read again over first"] = round(again / read, 3)
    if benchmark.enabled:
        print(f"\nread {read:.2f} s, after an edit {again:.2f} s; read and assess {whole:.2f} s")
    assert len(found.taps) == len(document.rows("tap"))


def test_an_edit_in_the_panel_of_500_legs(benchmark, file_of):
    """An edit as a reader makes it: numbers, then the whole with its sketch, over the first opening of the building."""
    panel, file = your_own_run.panel(), file_of(500 if benchmark.enabled else 24)
    opening = seconds(lambda: panel.open_typed(str(file)))

    def edit(length: str) -> tuple:
        begin, told = time.perf_counter(), []
        panel.take = lambda *scene: (told.append(time.perf_counter() - begin), type(panel).take(panel, *scene))
        panel.change("leg", 3, "length", length)
        return told[0], time.perf_counter() - begin

    numbers, whole = map(min, zip(*(edit(f"2.{place} m") for place in range(1, 6 if benchmark.enabled else 2))))
    benchmark.pedantic(lambda: panel.change("leg", 3, "length", "3.1 m"), rounds=1)
    benchmark.extra_info["edit over opening"] = round(whole / opening, 2)
    benchmark.extra_info["numbers over edit"] = round(numbers / whole, 2)
    if benchmark.enabled:
        print(f"\nopening {opening:.2f} s; an edit's numbers after {numbers:.2f} s, with its sketch {whole:.2f} s")
    assert panel.is_drawn() and "3.1 m" in panel.document.text


@pytest.mark.parametrize("what", ["end to end", "assessment", "take-off"])
def test_growth_near_linear(benchmark, what, file_of):
    """Slope of log(time) against log(legs): 1 is linear; printed, not asserted. In the default run one small size only."""
    sizes = (60, 120, 240, 480) if benchmark.enabled else (12,)
    files = [file_of(size) for size in sizes]
    work = {
        "end to end": end_to_end,
        "assessment": lambda file: for_the_first_time(file).assess(),
        "take-off": lambda file: for_the_first_time(file).take_off(),
    }[what]
    benchmark.pedantic(work, (files[0],), rounds=1)
    if benchmark.enabled:
        times = [min(seconds(lambda file=file: work(file)) for _ in range(2)) for file in files]
        slope = np.polyfit(np.log(sizes), np.log(times), 1)[0]
        benchmark.extra_info["slope"] = round(float(slope), 2)
        print(f"\n{what}: {dict(zip(sizes, np.round(np.array(times) * 1000)))} ms, slope {slope:.2f}")
