"""Pipes, what they are made of, their insulation and fittings: each number of the tables is said a second time.

Where a standard has an arithmetic of its own (sizes of copper tube, ratios of plastic pipe, weights) that is the second
statement. Elsewhere the number is typed again from the source that its row names, often in another unit.
"""

import math

import pytest
from second_entry import agrees, cells

from lessons_lib.storage import tables

TRADE = 0.1442279  # [W/(m K)] of 1 Btu in/(h ft2 degF), as tables of conversions print it
INCH, POUND = 0.0254, 0.45359237


def of(family: str) -> dict[str, tuple[float, float]]:
    """size → outside diameter and wall, of one family."""
    rows = cells("pipes", ("family", "size"), ("outside_diameter", "wall"))
    return {size: numbers for (one, size), numbers in rows.items() if one == family}


def density(material: str) -> float:
    return cells("pipe_materials", ("material",), ("density",))[material,][0]


def inches(size: str) -> float:
    """1 1/4 in → 1.25"""
    return sum(int(a) / int(b or 1) for a, _, b in (part.partition("/") for part in size.removesuffix(" in").split()))


@pytest.mark.parametrize("family", ["copper K", "copper L", "copper M", "PEX CTS", "CPVC CTS"])
def test_tube_of_copper_sizes_is_an_eighth_of_an_inch_more_than_its_name(family):
    """The rule of copper tube sizes, in ASTM B88, F876 and D2846 alike (as quoted in secondary literature)."""
    for size, (outside, _) in of(family).items():
        assert outside == pytest.approx(inches(size) + 1 / 8, abs=1e-9), size


POUNDS = {  # lb/ft of 3/8, 1/2, 3/4, 1 and 1 1/4 in: ASTM B88 Table 1, theoretical weights (from memory)
    "copper K": (0.269, 0.344, 0.641, 0.839, 1.04),
    "copper L": (0.198, 0.285, 0.455, 0.655, 0.884),
    "copper M": (0.145, 0.204, 0.328, 0.465, 0.682),
}


@pytest.mark.parametrize("family", POUNDS)
def test_copper_tube_weighs_what_the_standard_prints(family):
    """Outside, wall and density together: a wall that is 3 % off is 3 % of the weight. 1 %: three digits."""
    for (size, (outside, wall)), pounds in zip(of(family).items(), POUNDS[family], strict=True):
        metal = density("copper") * math.pi * (outside - wall) * wall * INCH**2
        assert metal == pytest.approx(pounds * POUND / 0.3048, rel=0.01), size


KILOGRAMS = {  # kg/m: tables of tube to EN 1057 (from memory)
    "10 mm": 0.206,
    "12 mm": 0.308,
    "15 mm": 0.391,
    "15 mm x 0.7 mm": 0.280,
    "18 mm": 0.475,
    "22 mm": 0.587,
    "22 mm x 0.9 mm": 0.531,
    "28 mm": 0.755,
    "28 mm x 0.9 mm": 0.682,
    "35 mm": 1.134,
    "42 mm": 1.369,
}


@pytest.mark.parametrize("size", KILOGRAMS)
def test_metric_copper_tube_weighs_what_tables_print(size):
    outside, wall = of("copper EN 1057")[size]
    metal = density("copper") * math.pi * (outside - wall) * wall * 1e-6
    assert metal == pytest.approx(KILOGRAMS[size], rel=0.01)


@pytest.mark.parametrize(
    "family",
    ["copper EN 1057", "PEX ISO 15875", "PEX BS 7291", "multilayer ISO 21003", "PB BS 7291"],
)
def test_a_metric_size_is_its_outside_diameter_and_names_its_wall(family):
    for size, (outside, wall) in of(family).items():
        named = [float(part.removesuffix(" mm")) for part in size.split(" x ")]
        assert (outside, wall)[: len(named)] == pytest.approx(named, abs=1e-9), size


def test_walls_of_pex_tube_follow_its_ratio():
    """ASTM F876: outside over least wall is 9, but never under 0.070 in; half the tolerance on top (from memory)."""
    tolerance = {"3/8 in": 10, "1/2 in": 10, "3/4 in": 10, "1 in": 13, "1 1/4 in": 15}  # thousandths of an inch
    for size, (outside, wall) in of("PEX CTS").items():
        least = max(round(outside / 9, 3), 0.070)
        assert wall == pytest.approx(least + tolerance[size] / 2000, abs=1e-9), size


def test_walls_of_cpvc_tube_follow_its_ratio():
    """ASTM D2846: outside over wall is 11, but never under 0.068 in (from memory)."""
    for size, (outside, wall) in of("CPVC CTS").items():
        assert wall == pytest.approx(max(round(outside / 11, 3), 0.068), abs=1e-9), size


def test_walls_of_metric_pex_follow_their_series():
    """ISO 4065: wall = outside / (2 S + 1), rounded up to 0.1 mm, S a preferred number of ISO 3: 3.2 stands for the
    square root of ten (from memory). So 25 mm has 3.5 mm, not 3.4."""
    exact = {"S3.2": 10**0.5, "S4": 10**0.6, "S5": 10**0.7}
    for row in tables.rows("pipes"):
        if row["family"] == "PEX ISO 15875":
            outside = row.number("outside_diameter")
            wall = outside / (2 * exact[row["source"].rpartition(" ")[2]] + 1)
            assert row.number("wall") == pytest.approx(math.ceil(10 * wall) / 10, abs=1e-9), row["size"]


def test_walls_of_other_plastic_pipe():
    """BS 7291 (from memory) and a maker's sheet to EN ISO 21003-2, typed again."""
    agrees(
        "pipes",
        "family size",
        "wall",
        """
        PEX BS 7291; 15 mm | 1.5
        PEX BS 7291; 22 mm | 2.0
        PEX BS 7291; 28 mm | 2.6
        PB BS 7291; 15 mm | 1.7
        PB BS 7291; 22 mm | 2.0
        PB BS 7291; 28 mm | 2.6
        multilayer ISO 21003; 16 mm | 2
        multilayer ISO 21003; 20 mm | 2
        multilayer ISO 21003; 20 mm x 2.25 mm | 2.25
        multilayer ISO 21003; 26 mm | 3
        multilayer ISO 21003; 32 mm | 3
        """,
        may_grow=True,
    )


@pytest.mark.parametrize("size, grams", [("16 mm", 125), ("32 mm", 390)])
def test_multilayer_pipe_weighs_what_its_sheet_prints(size, grams):
    """g/m of 16 x 2.0 and 32 x 3.0 mm, the sheet that the material's row names."""
    outside, wall = of("multilayer ISO 21003")[size]
    assert density("multilayer") * math.pi * (outside - wall) * wall * 1e-3 == pytest.approx(grams, rel=0.01)


def test_heat_capacity_of_multilayer_pipe_is_that_of_its_parts():
    """Polyethylene of 940 kg/m3 and 2300 J/(kg K), aluminium of 2700 and 897 (handbooks, from memory), in the shares
    that give the pipe's own density."""
    metal = (density("multilayer") - 940) / (2700 - 940) * 2700 / density("multilayer")
    found = cells("pipe_materials", ("material",), ("heat_capacity",))["multilayer",][0]
    assert found == pytest.approx(metal * 897 + (1 - metal) * 2300, rel=0.01)


def test_pipe_materials_typed_again():
    """From the sources of the rows, most of them from memory: W/(m K), kg/m3, J/(kg K), mm, -, mm/(m K), GPa, -"""
    agrees(
        "pipe_materials",
        "material",
        "conductivity density heat_capacity roughness emissivity highest_taped expansion elastic_modulus poisson",
        """
        copper | 340 8940 385 0.0015 0.44 - 0.0168 117 0.34
        PEX | 0.4 940 2300 0.007 0.9 50 0.15 0.6 0.46
        CPVC | 0.14 1550 1000 0.0015 0.9 50 0.063 2.9 0.38
        multilayer | 0.43 1430 1560 0.007 0.9 50 0.025 10 0.34
        PB | 0.22 930 1900 0.007 0.9 50 0.13 0.45 0.46
        stainless steel | 15 7980 500 0.0015 0.15 - 0.016 193 0.29
        """,
        may_grow=True,
    )


def test_pipe_materials_in_the_units_of_american_handbooks():
    """C12200: 196 Btu/(h ft degF), 0.323 lb/in3, 0.092 Btu/(lb degF), 17 000 ksi; 316 steel: 8.7, 0.29, 0.12 and
    28 000 (all from memory). 2 % for two digits; steel's conductivity rises by 1.5 % in ten degrees, hence 4 % for it."""
    found = cells("pipe_materials", ("material",), ("conductivity", "density", "heat_capacity", "elastic_modulus"))
    ksi, btu = 6.894757e-3, 4186.8
    for material, said, off in (
        ("copper", (196 * 1.730735, 0.323 * 27679.9, 0.092 * btu, 17_000 * ksi), 0.02),
        ("stainless steel", (8.7 * 1.730735, 0.29 * 27679.9, 0.12 * btu, 28_000 * ksi), 0.04),
    ):
        assert found[material,] == pytest.approx(said, rel=off), material


def test_growth_in_the_units_of_american_handbooks():
    """Millionths a degF: copper 9.4 between 68 and 212 degF, 316 steel 8.9, CPVC 34 to 38, PEX 80 to 110 (handbooks
    and pipe makers' associations, from memory); what the table says lies within, or 2 % off."""
    found = cells("pipe_materials", ("material",), ("expansion",))
    for material, low, high in (
        ("copper", 9.4, 9.4),
        ("stainless steel", 8.9, 8.9),
        ("CPVC", 34, 38),
        ("PEX", 80, 110),
    ):
        fahrenheit = found[material,][0] * 1e-3 / 1.8 * 1e6
        assert 0.98 * low <= fahrenheit <= 1.02 * high, material


def test_conductivity_of_insulation_in_the_units_of_the_standards():
    """Btu in/(h ft2 degF): ASTM C534, C1427, C547, C552 and C591 at 75, 75, 50, 100, 200, 75 and 50 degF (as quoted in
    secondary literature, or from memory as the rows say). 1 %: two or three digits, and 75 degF is 23.9 degC."""
    agrees(
        "insulation",
        "material mean_temperature",
        "conductivity",
        """
        elastomeric foam; 24 | 0.278
        polyethylene foam; 24 | 0.35
        glass fibre; 10 | 0.22
        glass fibre; 38 | 0.25
        glass fibre; 93 | 0.31
        cellular glass; 24 | 0.29
        rigid urethane; 10 | 0.165
        """,
        in_units=TRADE,
        off=0.01,
        may_grow=True,
    )


LINES = {  # thousandths of W/(m K) at a temperature [degC], and their rise a kelvin: from memory, as the rows say
    "elastomeric foam": (40.0, 24, 0.10, (0, 24, 80)),
    "polyethylene foam": (50.5, 24, 0.15, (0, 24, 80)),
    "glass fibre": (31.73, 10, 0.1564, (10, 38, 93)),
    "mineral wool": (33.0, 10, 0.10, (10, 50)),
    "phenolic foam": (25.0, 10, 0.10, (10, 50)),
    "rigid urethane": (23.8, 10, 0.10, (10, 50)),
    "cellular glass": (42.0, 24, 0.12, (10, 24, 50)),
}


@pytest.mark.parametrize("material", LINES)
def test_conductivity_of_insulation_is_a_straight_line(material):
    """To 0.1 of a thousandth: the rows print four decimals."""
    at, temperature, slope, points = LINES[material]
    rows = [row for row in tables.rows("insulation") if row["material"] == material]
    assert [row.number("mean_temperature") for row in rows] == list(points)
    for row in rows:
        line = at + slope * (row.number("mean_temperature") - temperature)
        assert 1000 * row.number("conductivity") == pytest.approx(line, abs=0.101), row


def test_what_else_insulation_is_typed_again():
    """kg/m3, J/(kg K), -: typical of the product class (from memory), the same at each temperature."""
    typical = {
        "elastomeric foam": (60, 1400, 0.93),
        "polyethylene foam": (35, 2000, 0.93),
        "glass fibre": (64, 840, 0.90),  # 4 lb/ft3 and 0.20 Btu/(lb degF)
        "mineral wool": (100, 840, 0.90),
        "phenolic foam": (40, 1400, 0.90),
        "rigid urethane": (35, 1400, 0.90),
        "cellular glass": (120, 840, 0.90),  # 7.5 lb/ft3
    }
    for row in tables.rows("insulation"):
        found = tuple(row.number(name) for name in ("density", "heat_capacity", "emissivity"))
        assert found == typical[row["material"]], row["material"]


def test_surfaces_and_soils_typed_again():
    """ISO 12241's emissivities and the handbooks' ranges; soils from 0.5 to 2 W/(m K) (from memory)."""
    agrees(
        "surfaces",
        "surface",
        "emissivity",
        """
        polished copper | 0.03
        dull copper | 0.44
        oxidised copper | 0.8
        bright aluminium | 0.05
        weathered aluminium | 0.13
        stainless steel | 0.15
        painted metal | 0.9
        plastic | 0.9
        canvas | 0.9
        """,
        may_grow=True,
    )
    agrees("soils", "soil", "conductivity", "dry | 0.5\nmoist | 1.2\nwet | 2")


def test_a_material_and_its_surface_shine_alike():
    """The bare pipe's own emissivity is that of a row of the surfaces: dull copper, stainless steel, plastic."""
    own = cells("pipe_materials", ("material",), ("emissivity",))
    of_surface = cells("surfaces", ("surface",), ("emissivity",))
    for material, surface in (("copper", "dull copper"), ("stainless steel", "stainless steel"), ("PEX", "plastic")):
        assert own[material,] == of_surface[surface,], material
