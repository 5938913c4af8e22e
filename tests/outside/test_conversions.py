"""Conversions against NIST SP 811, and how lengths agree with published tables.

Marks: [S] the source's text was read, [M] from memory, [CP] common practice, [D] computed.
"""

import math
from fractions import Fraction

import pytest

from shared import length, units
from shared.length import UnitSystem, from_inches, from_mm, parse, show

IMPERIAL, METRIC = UnitSystem.IMPERIAL, UnitSystem.METRIC


def test_an_inch_is_254_tenths_of_a_millimetre():
    """NIST SP 811 [M]; exact."""
    assert length.TICKS_PER_INCH * 10 == length.TICKS_PER_MM * 254
    assert length.TICKS_PER_INCH == 64 * 127
    assert units.MM_PER_INCH == 25.4


@pytest.mark.parametrize(
    ("value", "published", "tolerance"),
    [
        (units.KG_PER_LB, 0.45359237, 0),
        (units.STANDARD_GRAVITY_M_S2, 9.80665, 0),
        (units.N_PER_LBF, 4.4482216, 1e-7),
        (units.KG_M3_PER_LB_FT3, 16.018463, 1e-6),
        (units.KG_M2_PER_LB_FT2, 4.882428, 1e-6),
        (units.G_M2_PER_OZ_YD2, 33.905747, 1e-6),
    ],
)
def test_factors(value, published, tolerance):
    """NIST SP 811 [M]; relative tolerance, exact where it is zero."""
    assert math.isclose(value, published, rel_tol=tolerance, abs_tol=0)


@pytest.mark.parametrize(
    ("density_lb_ft3", "kg_m3"),
    [(2.5, 40.046), (4, 64.074), (6, 96.111), (8, 128.148)],
)
def test_wool_densities(density_lb_ft3, kg_m3):
    """Usual shop fills [CP], figures [D]; 1e-4 relative."""
    assert density_lb_ft3 * units.KG_M3_PER_LB_FT3 == pytest.approx(kg_m3, rel=1e-4)


@pytest.mark.parametrize(
    ("oz_yd2", "g_m2"), [(8, 271.246), (10, 339.057), (12, 406.869), (4.42403, 150)]
)
def test_fabric_masses(oz_yd2, g_m2):
    """Ounces a square yard, ASTM D3776 [S scope], figures [D]; 1e-5 relative."""
    assert oz_yd2 * units.G_M2_PER_OZ_YD2 == pytest.approx(g_m2, rel=1e-5)


@pytest.mark.parametrize(
    ("width", "height", "m2"),
    [
        ("4 ft", "8 ft", 2.97290),
        ("1220 mm", "2440 mm", 2.97680),
        ("1219.2 mm", "2438.4 mm", 2.97290),
    ],
)
def test_sheet_areas(width, height, m2):
    """Sheet sizes [CP], areas [D]; 1e-5 relative."""
    sides = [parse(text, units=METRIC) for text in (width, height)]
    assert units.area_m2(*sides) == pytest.approx(m2, rel=1e-5)


def test_a_four_by_eight_sheet_is_not_a_metric_one():
    """1219.2 × 2438.4 mm against 1220 × 2440 mm: 0.8 and 1.6 mm [CP, D]; exact."""
    assert from_mm(1220) - parse("4'", units=IMPERIAL) == from_mm(Fraction(4, 5))
    assert from_mm(2440) - parse("8'", units=IMPERIAL) == from_mm(Fraction(8, 5))
    assert parse("4 ft", units=METRIC) == parse("1219.2", units=METRIC)


@pytest.mark.parametrize(
    ("label", "inches", "mm"),
    [
        ("1x2", "1-1/2", None),
        ("1x3", "2-1/2", None),
        ("1x4", "3-1/2", None),
        ("1x6", "5-1/2", None),
        ("1x8", "7-1/4", 184.15),
        ("1x10", "9-1/4", None),
        ("1x12", "11-1/4", None),
        ("thickness", "3/4", 19.05),
    ],
)
def test_board_sizes_are_whole_ticks(label, inches, mm):
    """PS 20 dressed sizes [S, secondary copies]; exact. 7-1/2 for 1x8 is out of date."""
    ticks = parse(inches, units=IMPERIAL)
    whole, _, part = inches.rpartition("-")
    assert ticks == (Fraction(whole or 0) + Fraction(part)) * length.TICKS_PER_INCH
    assert mm is None or length.to_mm(ticks) == mm


@pytest.mark.parametrize(
    ("printed_in", "printed_mm"),
    [
        ("1/32", 0.8), ("0.219", 5.56), ("0.281", 7.14), ("0.344", 8.73), ("0.406", 10.32),
        ("0.438", 11.11), ("0.500", 12.70), ("0.469", 11.91), ("0.531", 13.49),
        ("0.563", 14.29), ("0.625", 15.88), ("0.594", 15.08), ("0.656", 16.67),
        ("0.688", 17.46), ("0.750", 19.05), ("0.719", 18.26), ("0.781", 19.84),
    ],
)  # fmt: skip
def test_plywood_limits_read_off_a_calliper(printed_in, printed_mm):
    """PS 1 performance categories [S]: pairs as printed, which round to the 1/1000 in."""
    ticks = parse(printed_in, units=IMPERIAL)
    assert length.to_mm(ticks) == pytest.approx(printed_mm, abs=0.0254 / 2 + 0.005)


def test_a_frame_drawn_at_the_label_is_off_by_twice_the_error():
    """0.750 label, 0.703 stock: the inner brace moves by 0.094 in, 2.4 mm [D]; 1e-3 in."""
    label, real = (parse(text, units=IMPERIAL) for text in ("0.750", "0.703"))
    moved = 2 * (label - real)
    assert length.to_inches(moved) == pytest.approx(0.094, abs=1e-3)
    assert show(moved, units=METRIC) == "2.4 mm"


@pytest.mark.parametrize(
    ("text", "mm"),
    [("1/8 in", 3.175), ("3/32 in", 2.38125), ("1/16 in", 1.5875), ("16 in", 406.4),
     ("24 in", 609.6), ("54 in", 1371.6), ("60 in", 1524), ("66 in", 1676.4)],
)  # fmt: skip
def test_kerfs_centres_and_bolts_are_exact_in_both_systems(text, mm):
    """Kerfs [S], stud centres IRC R602.3 [S restated], bolt widths [S, CP]; exact."""
    assert parse(text, units=METRIC) == from_mm(Fraction(str(mm)))


def test_ticks_are_fine_enough_for_a_bevel():
    """No printed cleat face is off by more than half a tick, 6.2e-5 in [D]; exact."""
    for inches in (7.823223, 3.911612, 3.161612, 6.026223, 2.310112):
        assert abs(length.to_inches(from_inches(inches)) - inches) <= 6.2e-5
