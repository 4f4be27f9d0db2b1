"""A new pipe material is rows in tables and no code: an invented plastic and an invented metal go through every panel and a building."""

import csv
import io

import pytest
from panels.test_panels import PANELS, run_through

from lessons_lib import Q_, Insulation, Pipe, Run, Surroundings, load_layout
from lessons_lib.building.pieces import stock_of
from lessons_lib.building.run_sheet import run_sheet
from lessons_lib.exercises.solvers.pipes import growth
from lessons_lib.lessons.measure_cut_join_test.panel import OWN, PUSH
from lessons_lib.lessons.your_own_run.layout_results import cold_legs
from lessons_lib.lessons.your_own_run.picture import OwnRunScene
from lessons_lib.panels.controls import PipeChoice
from lessons_lib.plant.supports import clip_spacing
from lessons_lib.quantities.display import SI, SYSTEMS, US
from lessons_lib.runs import fittings
from lessons_lib.runs import pipe as pipes
from lessons_lib.runs.assessment import CHECK, TOO_HOT, settled_word
from lessons_lib.runs.cautions import ICE
from lessons_lib.runs.flow import speed_limit
from lessons_lib.storage import tables

PLASTIC = {
    "material": "ternene",
    "conductivity": "0.3",
    "density": "1000",
    "heat_capacity": "2000",
    "roughness": "0.007",
    "emissivity": "0.88",
    "plastic": "yes",
    "joint": "cement",
    "joined": "glued",
    "stiffener": "yes",
    "colour": "#123456",
    "highest_taped": "40",
    "note": "Ternene is invented.",
    "expansion": "0.1",
    "elastic_modulus": "1.5",
    "poisson": "0.4",
    "source": "invented for this test",
}
METAL = {
    **PLASTIC,
    "material": "ternium",
    "conductivity": "120",
    "density": "8500",
    "heat_capacity": "390",
    "emissivity": "0.31",
    "plastic": "no",
    "joint": "solder",
    "joined": "brazed",
    "stiffener": "no",
    "colour": "#654321",
    "highest_taped": "",
    "note": "",
    "expansion": "0.02",
    "elastic_modulus": "110",
    "poisson": "0.3",
}
SIZES = {
    SI: [("20 mm", "mm", "20", "2"), ("28 mm", "mm", "28", "2.5")],
    US: [("1/2 in", "in", "0.625", "0.06"), ("1 in", "in", "1.125", "0.1")],
}
REGIONS = {SI: "Europe", US: "United States"}
FROST = Surroundings(Q_(-12, "degC"), wind=Q_(2, "m/s"))


def family(material: dict, system: str) -> str:
    return f"Tern {material['material']} {'metric' if system == SI else 'inch'}"


def add_rows(folder, name: str, rows: list[dict]) -> None:
    """Rows at the end of a table; of a row only what the table has a column for."""
    file = folder / f"{name}.csv"
    text = file.read_text(encoding="utf-8")
    header = next(csv.reader(line for line in text.splitlines() if not line.startswith("#")))
    fresh = io.StringIO()
    csv.DictWriter(fresh, header, extrasaction="ignore", lineterminator="\n").writerows(rows)
    file.write_text(text + fresh.getvalue(), encoding="utf-8")


def forget() -> None:
    """What was read from the tables is read again."""
    for cached in (tables.rows, pipes._nominal, fittings.names, fittings._fitting):
        cached.cache_clear()


@pytest.fixture
def materials(data):
    add_rows(data, "pipe_materials", [PLASTIC, METAL])
    add_rows(
        data,
        "pipes",
        [
            {
                "family": family(material, system),
                "size": size,
                "material": material["material"],
                "region": REGIONS[system],
                "unit": unit,
                "outside_diameter": outside,
                "wall": wall,
                "source": "invented for this test",
                "how_known": "invented",
            }
            for material in (PLASTIC, METAL)
            for system in (SI, US)
            for size, unit, outside, wall in SIZES[system]
        ],
    )
    forget()
    yield data
    forget()


both = pytest.mark.parametrize("row", [PLASTIC, METAL], ids=["plastic", "metal"])
systems = pytest.mark.parametrize("system", [SI, US])


def drawn_in(panel, colour: str) -> bool:
    """Whether a moved artist of the picture has a colour, or pixels of it."""
    from matplotlib.colors import same_color

    faces = [
        one.get_facecolor() for one in panel.picture.canvas.figure.findobj(lambda one: hasattr(one, "get_facecolor"))
    ]
    flat = [tuple(one[0]) if getattr(one, "ndim", 1) == 2 and len(one) else one for one in faces if len(one)]
    return any(same_color(one, colour) for one in flat)


WITH_A_WALL = (
    "bench",
    "main",
    "heat_tape",
    "pipe_size",
    "measure_cut",
    "heat_goes",
    "joining",
    "testing",
    "water_hammer",
)  # panels that draw the pipe's own wall


@pytest.mark.usefixtures("no_background")  # run_through draws the whole as pixels
@pytest.mark.parametrize("name", PANELS)
def test_every_panel_takes_the_materials(name, materials, monkeypatch):
    """No exception, a status that is ready, a wall in the material's own colour, in both unit systems."""
    panel = PANELS[name]()
    choices = [key for key, control in panel.controls.items() if isinstance(control, PipeChoice)]

    def settings():
        for system, sizes in SIZES.items():
            panel.set_system(system)
            for row in (PLASTIC, METAL):
                for size in (sizes[0][0], sizes[-1][0]):
                    yield {key: (family(row, system), size) for key in choices}
                assert drawn_in(panel, row["colour"]) is (name in WITH_A_WALL)

    if choices:
        run_through(panel, monkeypatch, settings())
    else:
        panel.set_system(US)


def at(panel, material: dict, system: str = SI, **changes):
    panel.set({"pipe": (family(material, system), SIZES[system][0][0]), **changes})
    return panel


def test_words_and_joints_of_the_cut(materials):
    panel = PANELS["measure_cut"]()
    assert (
        "ternene glued" in panel.controls["joint"].explained and "ternium brazed" in panel.controls["joint"].explained
    )
    for material, lined in ((PLASTIC, True), (METAL, False)):
        assert at(panel, material, joint=OWN).scene.joint == material["joint"]
        at(panel, material, joint=PUSH, first="elbow 90", depth=Q_(20, "mm"))
        assert panel.picture.joints[0].stiffener.get_visible() is lined
        assert panel.scene.growth == pytest.approx(50e-3 * float(material["expansion"]) * panel.scene.cut)


def test_heat_tape_is_too_hot_for_the_plastic_sooner(materials):
    assert settled_word(41, "ternene") == TOO_HOT and settled_word(39, "ternene") != TOO_HOT
    assert settled_word(64, "ternium") == CHECK and settled_word(66, "ternium") == TOO_HOT


def test_bare_walls(materials):
    """Each radiates with its own emissivity; the metal's surface decides, plastic is never shiny; ice is said of both."""
    panel = PANELS["heat_goes"]()
    for material, told, why in (
        (PLASTIC, "", "ternene is never shiny"),
        (METAL, "Bare ternium", "a shiny face has no figure"),
    ):
        run = Run(Pipe.nominal(family(material, SI), "20 mm"), Q_(5, "m"), Insulation.none(), FROST)
        assert run.pipe.emissivity == float(material["emissivity"])
        assert ("surface decides" in run.caution) is bool(told) and told in run.caution
        assert material["note"] in run.caution and "PEX" not in run.caution and "copper" not in run.caution
        assert ICE in run.freezing(Q_(10, "degC")).caution
        at(panel, material, thickness=Q_(0, "mm"))
        assert panel.scene.shiny is None and why in panel.picture.describe(panel.scene)
        assert panel.scene.dark.loss == pytest.approx(panel.scene.bare)
    assert "0.31 is taken" in run.caution


def test_finishes_of_the_metal_are_a_row_each(materials):
    add_rows(
        materials,
        "surfaces",
        [
            {
                "surface": f"{word} ternium",
                "kind": "bare",
                "material": "ternium",
                "emissivity": value,
                "source": "invented",
            }
            for word, value in (("bright", "0.05"), ("dark", "0.7"))
        ],
    )
    forget()
    run = Run(Pipe.nominal(family(METAL, SI), "20 mm"), Q_(5, "m"), Insulation.none(), FROST)
    assert "from 0.05 (polished) to 0.7 (oxidised); 0.31 is taken" in run.caution
    scene = at(PANELS["heat_goes"](), METAL, thickness=Q_(0, "mm")).scene
    assert scene.shiny.loss < scene.bare < scene.dark.loss


@both
@systems
def test_what_a_table_does_not_say_is_said_for_any_other(row, system, materials):
    """Clips as close, water as slow, bars as short as any material's of that region; growth from the material's own row."""
    pipe = Pipe.nominal(family(row, system), SIZES[system][0][0])
    known = [Pipe.nominal("copper EN 1057", "22 mm"), Pipe.nominal("PEX ISO 15875", "20 mm")]
    if system == US:
        known = [Pipe.nominal("copper L", "1/2 in"), Pipe.nominal("PEX CTS", "1/2 in")]
    assert clip_spacing(pipe) == min(map(clip_spacing, known))
    hot = Q_(55, "degC")
    found = speed_limit(pipe, hot)
    assert found.high == min(speed_limit(one, hot).high for one in known)
    assert found.material == row["material"] and found.region == REGIONS[system]
    assert growth(row["material"], Q_(10, "m"), Q_(50, "delta_degC")).to("mm").magnitude == pytest.approx(
        500 * float(row["expansion"])
    )


@both
def test_a_building_of_it(row, materials, tmp_path):
    """Taps, night, take-off and bars; its own joint, and its own fittings as soon as the table of fittings has them."""
    text = f'''name = "x"
[water]
pressure = "3 bar"
cold_inlet = "8 °C"
[night]
air = "-8 °C"
hours = "10 h"
hours_without_power = "2 h"
[tank]
set_temperature = "60 °C"
[usual]
pipe = "{family(row, SI)}"
size = "20 mm"
joint = "{row["joint"]}"
insulation = "elastomeric foam"
thickness = "19 mm"
place = "outdoors"
[[leg]]
name = "out"
from = "tank"
go = "north"
length = "7 m"
tape = "26 W/m"
[[leg]]
name = "up"
from = "out"
go = "up"
length = "2 m"
[[tap]]
name = "tap"
leg = "up"
kind = "sink"
flow = "6 L/min"
'''
    file = tmp_path / "house.toml"
    file.write_text(text + '[tape]\nthermostat = "none"\n', encoding="utf-8")
    house = load_layout(file)
    names = [one.what for one in house.take_off().rows if one.kind == "fitting"]
    assert f"elbow 90 ({row['joint']})" in names and stock_of(house, house.legs[0]) == (3,)
    found = house.assess()
    for system in SYSTEMS:
        for told in (cold_legs(OwnRunScene(house, found), system), str(run_sheet(house, found, system, changes=()))):
            assert TOO_HOT in told
    assert f"{TOO_HOT}. Choose a weaker tape" in found.caution
    add_rows(
        materials,
        "fittings",
        [
            {
                "fitting": f"{row['material']} {row['joint']} elbow",
                "bores": "90",
                "stop": "0.7",
                "source": "invented",
                "how_known": "invented",
            }
        ],
    )
    forget()
    again = [one.what for one in load_layout(file).take_off().rows if one.kind == "fitting"]
    assert f"{row['material']} {row['joint']} elbow" in again
