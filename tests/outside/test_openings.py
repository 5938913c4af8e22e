"""Openings and plans against published and derived figures.

Marks: S the source's text was read, CP common practice, D derived from the law that is named.
"""

from math import radians, sin

import pytest

from shared.length import TICKS_PER_INCH, UnitSystem, from_inches, from_mm, to_inches
from shop.surveys.engine import (
    CLEARANCE_TICKS,
    OpeningIn,
    Readings,
    RoomIn,
    WallIn,
    WallLine,
    contradictions,
    fit_in,
    ideal_diagonal_ticks,
    outline,
    rectangle,
    shape_of,
)


def readings(widths, heights, rising_right=None, rising_left=None):
    """Readings in inches."""
    diagonals = (
        None if d is None else from_inches(d) for d in (rising_right, rising_left)
    )
    return Readings(
        tuple(from_inches(w) for w in widths),
        tuple(from_inches(h) for h in heights),
        *diagonals,
    )


def findings(opening):
    """What is told of an opening in a wide, high room."""
    lines = rectangle(from_inches(400), from_inches(300))
    first = WallIn("A", lines[0], openings=(opening,))
    others = (WallIn(n, line) for n, line in zip("BCD", lines[1:], strict=True))
    return {found.key for found in contradictions(RoomIn((first, *others)))}


def window(read):
    return OpeningIn("window", "window", read, 0, 0)


def test_the_smallest_reading_counts():
    # Window measuring guides [S; a custom, no standard]: exact min().
    shape = shape_of(readings((36, 35.875, 36.0625), (48, 48.125, 47.9375)))
    assert shape.width_ticks == from_inches(35.875)
    assert shape.height_ticks == from_inches(47.9375)


@pytest.mark.parametrize(("off", "told"), [(0.125, False), (0.140625, True)])
def test_three_readings_agree_within_an_eighth_of_an_inch(off, told):
    # Window measuring guides [S; a custom]: exact.
    read = readings((36, 36 + off, 36), (48, 48, 48))
    assert ("widths" in findings(window(read))) is told


@pytest.mark.parametrize(("off", "told"), [(0.25, False), (0.265625, True)])
def test_diagonals_agree_within_a_quarter_of_an_inch(off, told):
    # Window measuring guides [S; a custom]: exact.
    read = readings((36,), (48,), 60, 60 + off)
    assert ("square" in findings(window(read))) is told


def test_clearance_is_an_eighth_of_an_inch_or_three_millimetres_a_side():
    # Removable plug [CP; a setting]: exact.
    shape = shape_of(readings((36,), (48,)))
    inches = fit_in(shape, clearance_ticks=CLEARANCE_TICKS[UnitSystem.IMPERIAL])
    assert to_inches(inches.width_ticks) == 35.75
    assert to_inches(inches.height_ticks) == 47.75
    metric = fit_in(shape, clearance_ticks=CLEARANCE_TICKS[UnitSystem.METRIC])
    assert metric.width_ticks == from_inches(36) - from_mm(6)


@pytest.mark.parametrize(
    ("width", "height", "diagonal", "ticks_each"),
    [
        (from_inches(36), from_inches(48), 60.0, TICKS_PER_INCH),
        (from_mm(914), from_mm(1219), 1523.600, from_mm(1)),
    ],
)
def test_the_ideal_diagonal_is_by_pythagoras(width, height, diagonal, ticks_each):
    # sqrt(W² + H²) [D], tolerance 1e-3.
    found = ideal_diagonal_ticks(width, height) / ticks_each
    assert found == pytest.approx(diagonal, abs=1e-3)


def test_diagonals_tell_the_lean():
    # Parallelogram law, 36 x 48 with 60.25 and 59.75 [D], tolerance 1e-4.
    lean = shape_of(readings((36,), (48,), 60.25, 59.75)).lean
    assert lean.degrees == pytest.approx(0.49737, abs=1e-4)
    assert to_inches(lean.lean_ticks) == pytest.approx(0.41667, abs=1e-4)
    assert to_inches(lean.upright_width_ticks) == pytest.approx(35.58333, abs=1e-4)


def test_a_rectangle_wider_than_what_stands_upright_does_not_go_in():
    # 36 less 1/8 a side is 35.75, more than the upright 35.58333 [D].
    shape = shape_of(readings((36,), (48,), 60.25, 59.75))
    assert fit_in(shape, clearance_ticks=TICKS_PER_INCH // 8).goes_in is False
    assert fit_in(shape, clearance_ticks=TICKS_PER_INCH // 4).goes_in is True


def test_an_area_by_the_shoelace():
    # (0, 0), (4, 0), (4, -3): half of 4 x 3 by the rule of the right triangle [D].
    turn = 180_000 - 36_869.898  # atan(3/4) = 36.869898 degrees
    triangle = outline(
        [
            WallLine(from_mm(4000), 90_000),
            WallLine(from_mm(3000), round(180_000 - 53_130.102)),
            WallLine(from_mm(5000), round(turn)),
        ]
    )
    assert triangle.area_m2 == pytest.approx(6.0, rel=1e-9)
    assert triangle.closing_ticks / from_mm(1) == pytest.approx(0, abs=0.05)


def test_a_regular_hexagon():
    # Area 3/2 sqrt(3) s² = 2.598076 m² for sides of 1 m [D], tolerance 1e-6.
    found = outline([WallLine(from_mm(1000), 60_000)] * 6)
    assert found.area_m2 == pytest.approx(6 * sin(radians(60)) / 2, abs=1e-6)
    assert found.area_m2 == pytest.approx(2.598076, abs=1e-6)
    assert found.turned_millidegrees == 360_000
