"""Wool and fabric: masses by area and by volume, cut sizes, how a bolt takes them.

Marks: S = the source's text was read, CP = common practice, D = derived.
"""

import pytest

from quotes.specs.engine.cloth import roll_lays
from quotes.specs.engine.materials import flat_kg
from tests.factories.takeoff import (
    LB,
    LB_FT3,
    OZ_YD2,
    build,
    fabric,
    inch,
    mm,
    rack,
    sheet,
    taken,
    wool,
)

FT2 = inch(12)
WOOLS = [  # lb/ft³, kg/m³, then 2 in and 3 in: lb/ft², kg/m²; mass = ρ t [D], 1e-4
    (2.5, 40.046, 0.41667, 2.0343, 0.62500, 3.0515),
    (4, 64.074, 0.66667, 3.2550, 1.00000, 4.8824),
    (6, 96.111, 1.00000, 4.8824, 1.50000, 7.3236),
    (8, 128.148, 1.33333, 6.5099, 2.00000, 9.7649),
]


@pytest.mark.parametrize(("lb_ft3", "kg_m3", "lb2", "kg2", "lb3", "kg3"), WOOLS)
def test_mass_of_wool_by_area(lb_ft3, kg_m3, lb2, kg2, lb3, kg3):
    assert lb_ft3 * LB_FT3 == pytest.approx(kg_m3, rel=1e-4)
    for inches, lb, kg in ((2, lb2, kg2), (3, lb3, kg3)):
        stock = wool(thickness_ticks=inch(inches), density_kg_m3=lb_ft3 * LB_FT3)
        assert flat_kg(stock, FT2, FT2) / LB == pytest.approx(lb, rel=1e-4)
        assert flat_kg(stock, mm(1000), mm(1000)) == pytest.approx(kg, rel=1e-4)


@pytest.mark.parametrize(
    ("kg_m3", "lb_ft3"), [(48, 2.99654), (60, 3.74568), (96, 5.99308)]
)
def test_a_cubic_foot_of_wool_read_off_the_pack_in_kilograms(kg_m3, lb_ft3):
    stock = wool(thickness_ticks=FT2, density_kg_m3=kg_m3)  # [D], 1e-5
    assert flat_kg(stock, FT2, FT2) / LB == pytest.approx(lb_ft3, rel=1e-5)


@pytest.mark.parametrize(
    ("ounces", "grams"), [(8, 271.246), (10, 339.057), (12, 406.869)]
)
def test_a_square_yard_of_fabric(ounces, grams):
    stock = fabric(mass_g_m2=grams)  # oz/yd² to g/m² [D], 1e-5
    yard = flat_kg(stock, inch(36), inch(36))
    assert yard / LB * 16 == pytest.approx(ounces, rel=1e-5)
    assert ounces * OZ_YD2 == pytest.approx(grams, rel=1e-5)


def test_eight_ounces_a_square_yard_is_twelve_a_linear_yard_of_54_inch_bolt():
    stock = fabric(mass_g_m2=8 * OZ_YD2, width_ticks=inch(54))  # [D], exact
    linear = flat_kg(stock, stock.width_ticks, inch(36))
    assert linear / LB * 16 == pytest.approx(12.0, rel=1e-7)


def cut(width, height, depth, wrap, ply, cloth):
    made = build(depth_ticks=depth, front_fabric="cloth", wrap_ticks=wrap)
    (front,) = taken(made, width, height, rack(ply, cloth)).cloths
    return front


def test_cut_size_with_a_two_inch_wrap():
    # (W + 2 (D + a)) × (H + 2 (D + a)): 24 × 48 × 4, a 2 -> 36 × 60 [CP], exact
    ply = sheet(thickness_ticks=inch("0.625"))
    front = cut(inch(24), inch(48), inch(4), inch(2), ply, fabric())
    assert (front.width_ticks, front.height_ticks) == (inch(36), inch(60))


def test_cut_size_with_a_fifty_millimetre_wrap():
    front = cut(mm(600), mm(1200), mm(100), mm(50), sheet(), fabric())  # [CP], exact
    assert (front.width_ticks, front.height_ticks) == (mm(900), mm(1500))


def lays(bolt, selvedge="0"):
    cloth = fabric(width_ticks=inch(bolt), selvedge_ticks=inch(selvedge))
    return [
        (lay.across_ticks, lay.along_ticks)
        for lay in roll_lays(cloth, inch(36), inch(60))
    ]


def test_a_54_inch_bolt_takes_36_across_and_60_along():
    assert lays(54) == [(inch(36), inch(60))]  # 1.667 yd [CP], exact


def test_a_60_inch_bolt_less_its_selvedges_cannot_take_it_turned():
    assert lays(60, "0.5") == [(inch(36), inch(60))]  # 59 in usable [CP], exact


def test_sixty_usable_inches_take_it_turned_in_one_yard():
    # 60 across, 36 along first (1.000 yd), then 36 across [CP], exact
    assert lays(60) == [(inch(60), inch(36)), (inch(36), inch(60))]
