"""Fittings, joints, clips, speeds and lengths as sold: each number of the tables is said a second time.

Typed again from the source that the row names, where it can be in another unit, beside what the rows owe to each other.
"""

import pytest
from second_entry import agrees, cells

from lessons_lib.storage import tables

INCH, FOOT, PSI = 25.4, 0.3048, 6.894757  # mm, m, kPa
PRINTED = (0.350, 0.475, 0.671, 0.862)  # bores [in] of PEX tube of 3/8, 1/2, 3/4 and 1 in
CRIMPED = {  # ft of tube, 3/8 to 1 in: trade table for brass crimp fittings (ASTM F1807), typed again
    "elbow": (9.2, 9.4, 9.4, 10.0),
    "tee through": (2.9, 2.2, 1.9, 2.3),
    "tee branch": (9.4, 10.4, 8.9, 11.0),
    "coupling": (2.9, 2.0, 0.6, 1.3),
}


def test_losses_in_bores_typed_again():
    """Technical Paper 410, edition of 1957 to 1965: bores; after it what was measured of push fittings, as the rows say.
    Last column: stop, in outside diameters."""
    found = {key: row for key, row in cells("fittings", ("fitting",), ("bores", "stop")).items() if row[0] is not None}
    expected = {
        "elbow 90": (30, 0.61),
        "elbow 45": (16, 0.39),
        "tee through": (20, 0.58),
        "tee branch": (60, 0.58),
        "coupling": (0, 0.05),
        "ball valve": (3, 0.5),
        "gate valve": (13, 0.5),
        "globe stop valve": (340, 1),
        "angle stop valve": (145, 1),
        "check valve": (135, 1),
        "push elbow": (50, 0.61),
        "push coupling": (0.3, 0.05),
    }
    assert expected.items() <= {key[0]: row for key, row in found.items()}.items()


@pytest.mark.parametrize("material", ["PEX", "multilayer"])
@pytest.mark.parametrize("kind", CRIMPED)
def test_crimped_fittings_typed_again(material, kind):
    """Multilayer pipe has the rows of PEX, for an insert narrows its bore too; they stop where solder fittings do."""
    found = [row for row in tables.rows("fittings") if row["fitting"] == f"{material} crimp {kind}"]
    assert [(row.number("bore"), row.number("feet")) for row in found] == list(zip(PRINTED, CRIMPED[kind], strict=True))
    like = {"elbow": 0.61, "coupling": 0.05}.get(kind, 0.58)
    assert [row.number("stop") for row in found] == [like] * len(PRINTED)


def test_the_bores_of_crimped_fittings_are_those_of_the_pipe():
    """PEX tube, outside less two walls."""
    of_pipe = cells("pipes", ("family", "size"), ("outside_diameter", "wall"))
    for size, bore in zip(("3/8 in", "1/2 in", "3/4 in", "1 in"), PRINTED, strict=True):
        outside, wall = of_pipe["PEX CTS", size]
        assert bore == pytest.approx(outside - 2 * wall, abs=1e-9)


def test_an_open_end_and_taps_typed_again():
    """All of one velocity head is lost at an exit. EN 200 at 3 bar: 0.2 L/s of a sink tap, a third of a L/s of a bath's;
    United States: 2.2 gal/min at 60 psi of faucets, 2.5 at 80 psi of shower heads (all from memory)."""
    found = cells("fittings", ("fitting",), ("heads", "flow", "pressure", "stop"))
    assert found["open end",] == (1, None, None, 0)
    assert found["tap",] == (None, pytest.approx(0.2 * 60), pytest.approx(3 * 100), 0)
    assert found["bath tap",] == (None, pytest.approx(60 / 3), pytest.approx(3 * 100), 0)
    for outlet, gallons, psi in (("US faucet", 2.2, 60), ("US shower head", 2.5, 80)):
        expected = (None, pytest.approx(gallons * 3.785412, rel=1e-3), pytest.approx(psi * PSI, rel=1e-3), 0)
        assert found[outlet,] == expected


DEPTHS = {  # joint → pairs of outside diameter and depth, in inches where the trade's are, else in mm; 3 %: rounded there
    "push": ((1 / 2, 15 / 16), (5 / 8, 1), (7 / 8, 9 / 8), (9 / 8, 3 / 2), (11 / 8, 15 / 8)),
    "solder": ((1 / 2, 3 / 8), (5 / 8, 1 / 2), (7 / 8, 3 / 4), (9 / 8, 15 / 16), (11 / 8, 1)),
    "cement": ((5 / 8, 0.500), (7 / 8, 0.700), (9 / 8, 0.900), (11 / 8, 1.100)),
    "crimp": ((1 / 2, 5 / 8), (5 / 8, 5 / 8), (7 / 8, 5 / 8), (9 / 8, 3 / 4), (11 / 8, 3 / 4)),
}


@pytest.mark.parametrize("joint", DEPTHS)
def test_depths_in_inches(joint):
    """Solder: a plumbing textbook (2010); cement: ASTM D2846, least depths are 0.8 of the outside (from memory); others:
    common practice, no source."""
    found = cells("insertion_depths", ("joint", "outside_diameter"), ("depth",))
    for outside, depth in DEPTHS[joint]:
        (row,) = found[joint, f"{outside * INCH:.6g}"]
        assert row == pytest.approx(depth * INCH, rel=0.03), outside


def test_depths_typed_again():
    """mm. Solder to EN 1254-1 from memory, press fittings and all others common practice, no source."""
    agrees(
        "insertion_depths",
        "joint outside_diameter",
        "depth",
        """
        push; 12.7 | 24
        push; 15 | 25
        push; 15.875 | 25
        push; 20 | 28
        push; 22 | 29
        push; 22.225 | 29
        push; 28 | 38
        push; 28.575 | 38
        push; 34.925 | 48
        solder; 10 | 7.8
        solder; 12 | 8.6
        solder; 12.7 | 9.5
        solder; 15 | 10.6
        solder; 15.875 | 12.7
        solder; 18 | 12.6
        solder; 22 | 15.4
        solder; 22.225 | 19.1
        solder; 28 | 18.4
        solder; 28.575 | 23.8
        solder; 34.925 | 25.4
        solder; 35 | 23
        solder; 42 | 27
        cement; 15.875 | 12.7
        cement; 22.225 | 17.8
        cement; 28.575 | 22.9
        cement; 34.925 | 27.9
        crimp; 12.7 | 16
        crimp; 15.875 | 16
        crimp; 16 | 20
        crimp; 20 | 20
        crimp; 22.225 | 16
        crimp; 26 | 24
        crimp; 28.575 | 19
        crimp; 32 | 24
        crimp; 34.925 | 19
        compression; 12.7 | 15
        compression; 15 | 17
        compression; 22.225 | 21
        compression; 28.575 | 24
        press; 12.7 | 19
        press; 15 | 20
        press; 22.225 | 23
        press; 28.575 | 24
        press; 34.925 | 26
        expansion; 12.7 | 13
        expansion; 15.875 | 16
        expansion; 22.225 | 22
        expansion; 28.575 | 28
        """,
    )


def test_distances_of_clips_typed_again():
    """ft in the United States, m elsewhere: the International Residential Code's Table P2605.1 (32 inches of PEX are
    2.67 ft), guide values of Germany, UK practice. An outside diameter is that of the largest size that a row names."""
    agrees(
        "support_spacing",
        "material region outside_diameter",
        "horizontal vertical",
        """
        copper; United States; 34.925 | 6 10
        copper; United States; 60 | 10 10
        PEX; United States; 28.575 | 2.67 10
        PEX; United States; 60 | 4 10
        CPVC; United States; 28.575 | 3 10
        CPVC; United States; 60 | 4 10
        copper; Europe; 15 | 1.25 1.25
        copper; Europe; 18 | 1.5 1.5
        copper; Europe; 22 | 2 2
        copper; Europe; 28 | 2.25 2.25
        copper; Europe; 35 | 2.75 2.75
        copper; Europe; 42 | 3 3
        PEX; Europe; 16 | 0.8 0.8
        PEX; Europe; 20 | 0.9 0.9
        PEX; Europe; 32 | 1 1
        multilayer; Europe; 16 | 1.2 1.2
        multilayer; Europe; 20 | 1.3 1.3
        multilayer; Europe; 26 | 1.5 1.5
        multilayer; Europe; 32 | 1.5 1.5
        copper; United Kingdom; 15 | 1.2 1.8
        copper; United Kingdom; 22 | 1.8 2.4
        copper; United Kingdom; 28 | 1.8 2.4
        copper; United Kingdom; 35 | 2.4 3
        copper; United Kingdom; 42 | 2.4 3
        PEX; United Kingdom; 15 | 0.3 0.5
        PEX; United Kingdom; 22 | 0.5 0.8
        PEX; United Kingdom; 28 | 0.8 1
        """,
        may_grow=True,
    )


@pytest.mark.parametrize("material", ["any other", "PB"])
def test_what_has_no_clips_of_its_own_has_those_of_the_softest(material):
    """'Any other' material as PEX in each region; PB as PEX, in the one region where it is usual."""
    rows = cells("support_spacing", ("material", "region", "outside_diameter"), ("horizontal", "vertical"))
    softest = {key[1:]: row for key, row in rows.items() if key[0] == "PEX"}
    found = {key[1:]: row for key, row in rows.items() if key[0] == material}
    usual = {region for region, _ in found} if material == "PB" else {"United States", "United Kingdom", "Europe"}
    assert found and found == {key: row for key, row in softest.items() if key[0] in usual}


def test_speeds_typed_again():
    """ft/s in the United States, m/s elsewhere: Copper Tube Handbook (cold, to 140 degF, above), EN 806-3, BS 6700."""
    agrees(
        "speed_limits",
        "material region above",
        "to low high",
        """
        copper; United States; -1 | 25 8 8
        copper; United States; 25 | 60 5 5
        copper; United States; 60 | 100 2 3
        copper; Europe; -1 | 100 2 2
        copper; United Kingdom; -1 | 50 2 3
        copper; United Kingdom; 50 | 70 2 2.5
        copper; United Kingdom; 70 | 100 2 2
        PEX; United States; -1 | 100 8 10
        PEX; Europe; -1 | 100 2 2
        PEX; United Kingdom; -1 | 100 2 2
        PB; United Kingdom; -1 | 100 2 2
        multilayer; Europe; -1 | 100 2 2
        CPVC; United States; -1 | 100 8 10
        any other; United States; -1 | 100 5 5
        any other; Europe; -1 | 100 2 2
        any other; United Kingdom; -1 | 100 2 2
        """,
        may_grow=True,
    )


def test_speeds_leave_no_temperature_out():
    """Each row of a material goes on where the one before it ended."""
    rows = tables.rows("speed_limits")
    for row, after in zip(rows, rows[1:], strict=False):
        if (row["material"], row["region"]) == (after["material"], after["region"]):
            assert after["above"] == row["to"]


def test_lengths_as_sold_typed_again():
    """ft or m: common practice, no source; polybutylene by a British plumbing textbook. Second: up to which outside."""
    found = [
        (row["family"], row["unit"], row.number("length"), float(row["outside_diameter"] or 0))
        for row in tables.rows("stock_lengths")
    ]
    bars = {"copper K": (10, 20), "copper L": (10, 20), "copper M": (10, 20), "PEX CTS": (10, 20, 100)}
    bars["CPVC CTS"] = (10,)
    expected = {(family, "ft", length, 0) for family, lengths in bars.items() for length in lengths}
    expected |= {("copper EN 1057", "m", 3, 0), ("multilayer ISO 21003", "m", 5, 0), ("any other", "m", 3, 0)}
    expected |= {("PEX ISO 15875", "m", 5, 0), ("PEX ISO 15875", "m", 25, 25), ("PEX ISO 15875", "m", 50, 0)}
    for family in ("PEX BS 7291", "PB BS 7291"):
        expected |= {(family, "m", 3, 0), (family, "m", 25, 0), (family, "m", 50, 22)}
    assert expected <= set(found)
    assert len([one for one in found if one[0] in {each[0] for each in expected}]) == len(expected)


LIMITS = {  # psi at degF: standards as the rows name them (from memory); bar at degC for Europe
    "push": (((73, 160), (180, 100)), ((20, 12), (83, 6))),
    "solder": (((100, 1090), (150, 625), (200, 505), (250, 270)), ((30, 25), (65, 25), (110, 16))),
    "cement": (((73, 400), (180, 100)), ((70, 6),)),
    "crimp": (((73, 160), (180, 100), (200, 80)), ((70, 6),)),
    "expansion": (((73, 160), (180, 100), (200, 80)), ((70, 6),)),
    "compression": ((), ((30, 16), (65, 10), (110, 6))),
    "press": (((250, 200),), ((110, 16),)),
}


def limits(text: str) -> list[tuple[float, float]]:
    return [tuple(float(number) for number in point.split(":")) for point in text.split("|") if point]


@pytest.mark.parametrize("joint", LIMITS)
def test_limits_of_joints_in_the_units_of_their_standards(joint):
    (row,) = [row for row in tables.rows("joints") if row["joint"] == joint]
    american = [((degrees - 32) / 1.8, psi * PSI) for degrees, psi in LIMITS[joint][0]]
    european = [(degrees, bar * 100) for degrees, bar in LIMITS[joint][1]]
    for found, expected in ((limits(row["us_limits"]), american), (limits(row["en_limits"]), european)):
        assert len(found) == len(expected)
        for point, said in zip(found, expected, strict=True):
            assert point == pytest.approx(said, rel=1e-3)


def test_what_may_stand_between_two_metals():
    """mm: a nipple of 6 in, a union of 2 1/2 in, a foot of plastic (common practice, no source, but the nipple)."""
    agrees(
        "metal_joints",
        "joint",
        "length",
        "screwed straight together | 0\nbrass between | 6\ndielectric union | 2.5\nplastic between | 12",
        in_units=INCH,
    )
