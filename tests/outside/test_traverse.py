"""Plans of rooms against textbook figures of plane surveying and geometry.

Marks: M from memory of the source named, its columns add up; D derived from the law named.
"""

from math import hypot

import pytest

from shared.length import TICKS_PER_FOOT
from shop.surveys.engine import (
    Corner,
    area_ticks2,
    compass_rule,
    turn_by_diagonal,
    volume_under,
)
from tests.factories.surveys import mm

# M: Wolf and Ghilani, Elementary Surveying, chapter 10, the traverse ABCDEA: length,
# departure and latitude after the angles were closed, then both balanced by the compass
# rule, in feet.
COURSES = (
    (647.25, 517.451, -388.815, 517.444, -388.835),
    (203.03, 5.966, -202.942, 5.964, -202.948),
    (720.35, 192.889, 694.045, 192.881, 694.022),
    (610.24, -590.565, 153.708, -590.571, 153.689),
    (285.13, -125.715, -255.919, -125.718, -255.928),
)


def _ends():
    """Where each course ends, in ticks."""
    x = y = 0.0
    for _, departure, latitude, *_ in COURSES:
        x, y = x + departure, y + latitude
        yield Corner(x * TICKS_PER_FOOT, y * TICKS_PER_FOOT)


def test_the_textbook_traverse_fails_to_close_by_eight_hundredths_of_a_foot():
    *_, end = _ends()
    closing = hypot(end.x_ticks, end.y_ticks) / TICKS_PER_FOOT
    assert closing == pytest.approx(0.08, abs=0.005)
    perimeter = sum(length for length, *_ in COURSES)
    assert perimeter == pytest.approx(2466.00)
    assert perimeter / closing == pytest.approx(30_000, rel=0.02)


def test_the_compass_rule_balances_the_textbook_traverse():
    lengths = [round(length * TICKS_PER_FOOT) for length, *_ in COURSES]
    corners = compass_rule(list(_ends()), lengths)
    for (start, end), course in zip(
        zip(corners, (*corners[1:], corners[0]), strict=True), COURSES, strict=True
    ):
        # Printed to 0.001 ft, and each column's roundings forced to add up.
        assert (end.x_ticks - start.x_ticks) / TICKS_PER_FOOT == pytest.approx(
            course[3], abs=0.0011
        )
        assert (end.y_ticks - start.y_ticks) / TICKS_PER_FOOT == pytest.approx(
            course[4], abs=0.0011
        )


def test_the_shoelace_of_the_usual_example():
    # M: the pentagon of Wikipedia's "Shoelace formula" (as read in 2023): area 16.5.
    ring = [(1, 6), (3, 1), (7, 2), (4, 4), (8, 5)]
    assert area_ticks2([Corner(*spot) for spot in ring]) == 16.5


@pytest.mark.parametrize(
    ("one", "two", "diagonal", "inside"),
    [
        (3, 4, 5, 90.0),  # D: Pythagoras
        (1, 1, 1, 60.0),  # D: equilateral
        (3, 5, 7, 120.0),  # D: 9 + 25 + 15 = 49
        (7, 8, 13, 120.0),  # D: 49 + 64 + 56 = 169
        (5, 8, 7, 60.0),  # D: 25 + 64 - 40 = 49
    ],
)
def test_corners_of_whole_number_triangles(one, two, diagonal, inside):
    turn = turn_by_diagonal(mm(one * 1000), mm(two * 1000), mm(diagonal * 1000))
    assert 180 - turn / 1000 == inside


def test_a_room_under_a_hip_is_a_truncated_prism():
    # D: a triangular prism cut slantwise holds its base by the mean of its three edges.
    base = [Corner(0, 0), Corner(0, -mm(3000)), Corner(mm(4000), 0)]
    volume = volume_under(base, [mm(2000), mm(3000), mm(4000)])
    assert volume == pytest.approx(6.0 * 3.0)
