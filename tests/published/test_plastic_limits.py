"""Topic 25: what plastic may carry, and the order of metals.

Ratings come back as printed, to half a psi, at the printed temperatures; the derating factors of a second maker's table are rounded to two digits,
so what lies between printed rows is held to 4 % of the cold rating. Times and temperatures of the application classes come back as printed.
The order of the metals is held against two further lists, which differ from the one taken by up to 0.18 V.
"""

import pytest

from lessons_lib import Q_
from lessons_lib.plant.closed_system import relief_settings
from lessons_lib.plant.metals import fact, material
from lessons_lib.plant.plastic_limits import METAL_FIRST, application_class, plastic_limit, plastic_pipe

QUOTED = "as quoted in secondary literature"
PEX, CPVC = "PEX (ASTM F876)", "CPVC (ASTM D2846)"
BULLETIN = f"pipe makers' association, bulletin 2-80 for SDR 11 CPVC 4120, {QUOTED}"
ANOTHER = f"a valve maker's CPVC derating factors, {QUOTED}"


def psi(name, fahrenheit):
    return plastic_limit(name, Q_(float(fahrenheit), "degF"), Q_(1, "psi")).allowed.to("psi").magnitude


@pytest.mark.parametrize("fahrenheit, published", [(73, 160), (180, 100), (200, 80)])
def test_pex(agree, fahrenheit, published):
    agree(psi(PEX, fahrenheit), published, f"ASTM F876, {QUOTED}; 80 psi from memory", absolute=0.5)


@pytest.mark.parametrize(
    "fahrenheit, published",
    [(73, 400), (80, 400), (90, 360), (100, 325), (120, 260), (140, 200), (160, 160), (180, 100)],
)
def test_cpvc(agree, fahrenheit, published):
    agree(psi(CPVC, fahrenheit), published, BULLETIN, absolute=0.5)


@pytest.mark.parametrize("fahrenheit, factor", [(110, 0.77), (130, 0.62), (150, 0.47), (170, 0.32)])
def test_cpvc_between_the_rows(agree, fahrenheit, factor):
    agree(psi(CPVC, fahrenheit) / 400, factor, ANOTHER, absolute=0.06)


@pytest.mark.parametrize(
    "fahrenheit, stress", [(73, 2000), (100, 1600), (120, 1250), (140, 1000), (160, 800), (180, 500)]
)
def test_cpvc_from_its_design_stress(agree, fahrenheit, stress):
    """2 S/(SDR - 1) with SDR 11; 5 %: a class of design stress stands for strengths up to 4 % above it, as 1250 psi for 1300."""
    agree(
        psi(CPVC, fahrenheit),
        2 * stress / 10,
        f"2 S/(DR - 1), design stresses of bulletin 2-80, {QUOTED}",
        relative=0.05,
    )


@pytest.mark.parametrize(
    "name, steady, years, for_a_year, as_a_fault",
    [("2", 70, 49, 80, 95), ("5", 80, 10, 90, 100)],
)
def test_application_classes(agree, name, steady, years, for_a_year, as_a_fault):
    found = application_class(name)
    source = f"ISO 10508 classes in certifiers' guidelines, {QUOTED}"
    for value, published in (
        (found.steady, steady),
        (found.steady_years, years),
        (found.for_a_year, for_a_year),
        (found.as_a_fault, as_a_fault),
        (found.hours, 100),
    ):
        agree(value, published, source, absolute=1e-9)


def test_a_relief_valve_opens_beyond_every_american_rating():
    """210 degF and 150 psi, from memory; neither pipe is rated at that temperature."""
    (valve,) = [one for one in relief_settings("United States") if one.pressure is not None]
    for name in (PEX, CPVC):
        assert plastic_pipe(name).allowed(valve.highest.to("degC").magnitude) == 0


def test_metal_at_the_heater(agree):
    agree(METAL_FIRST.to("inch").magnitude, 18, f"Uniform Plumbing Code 604 (2009), {QUOTED}", absolute=1e-9)


SECOND_LIST = [("galvanised steel", -1.14), ("aluminium", -0.82), ("steel", -0.79), ("brass", -0.45)]


@pytest.mark.parametrize("name, published", SECOND_LIST)
def test_metals_against_a_boat_yards_list(agree, name, published):
    source = f"galvanic series against silver chloride, {QUOTED}"
    agree(material(name).potential, published, source, absolute=0.19)


def test_metals_in_the_order_of_a_military_standard():
    """Active first: zinc, aluminium 3003, steel 1010, yellow brass, copper 110 and, last, passive stainless steel 304."""
    order = ["galvanised steel", "aluminium", "steel", "brass", "copper", "stainless steel"]
    found = [material(name).potential for name in order]
    assert found == sorted(found), f"MIL-STD-889, {QUOTED}; its passive stainless steel from memory"


def test_lead_free(agree):
    source = f"Safe Drinking Water Act, section 1417, {QUOTED}"
    agree(fact("lead in the US").number("value"), 0.25, source, absolute=1e-9)
