"""Closing a walk: laws that hold for any room, and what is refused."""

from itertools import pairwise
from math import cos, hypot, radians, sin

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from shop.surveys.engine import (
    Corner,
    Method,
    SurveyError,
    WallLine,
    adjust,
    area_ticks2,
    crossing,
    outline,
    suspects,
    turn_by_diagonal,
)
from tests.factories.surveys import mm

L_TURNS = (90, 90, 90, -90, 90, 90)
SLIPS = st.lists(st.integers(-mm(15), mm(15)), min_size=6, max_size=6)
SIDES = st.integers(min_value=mm(1000), max_value=mm(20_000))


def l_room(legs, slips=(0,) * 6, times=1):
    """An L by its four legs, each reading off by a slip."""
    a, b, c, d = legs
    lengths = (a + c, b + d, a, b, c, d)
    return [
        WallLine((length + slip) * times, turn * 1000)
        for length, slip, turn in zip(lengths, slips, L_TURNS, strict=True)
    ]


LEGS = st.tuples(SIDES, SIDES, SIDES, SIDES)


@st.composite
def measured_walks(draw):
    """A convex room whose corners were measured, lengths and angles read with slips."""
    count = draw(st.integers(4, 8))
    radius = draw(st.integers(mm(1500), mm(9000)))
    shares = [draw(st.floats(0.5, 1)) for _ in range(count)]
    at = [360 * sum(shares[:n]) / sum(shares) for n in range(count)]
    spots = [(radius * cos(radians(a)), -radius * sin(radians(a))) for a in at]
    ring = [*spots, spots[0], spots[1]]
    walls = []
    for (ax, ay), (bx, by), (cx, cy) in zip(ring, ring[1:], ring[2:], strict=False):
        length = hypot(bx - ax, by - ay)
        turn = turn_by_diagonal(
            round(length),
            round(hypot(cx - bx, cy - by)),
            round(hypot(cx - ax, cy - ay)),
        )
        slip = draw(st.integers(-mm(5), mm(5)))
        off = draw(st.integers(-500, 500))
        walls.append(WallLine(round(length) + slip, turn + off, angle_read=True))
    return walls


@given(LEGS, SLIPS)
def test_a_room_of_right_angles_closes_to_the_tick_with_its_angles_held(legs, slips):
    walls = l_room(legs, slips)
    closed = adjust(walls)
    assert closed.method is Method.AXES
    again = [
        WallLine(length, wall.turn_millidegrees)
        for length, wall in zip(closed.lengths_ticks, walls, strict=True)
    ]
    assert outline(again).closing_ticks == 0
    assert outline(again).corners == closed.corners


@given(LEGS, SLIPS)
def test_each_axis_gives_in_proportion_to_length(legs, slips):
    walls = l_room(legs, slips)
    closed = adjust(walls)
    for axis in (0, 1):
        along = list(zip(walls, closed.changes_ticks, strict=True))[axis::2]
        shares = [abs(change) / wall.length_ticks for wall, change in along]
        # All but the rounding of each to a whole tick.
        assert max(shares) - min(shares) <= 2 / min(w.length_ticks for w, _ in along)


@given(measured_walks())
def test_a_measured_walk_closes_its_angles_and_then_its_lengths(walls):
    assume(adjust(walls) is not None)
    closed = adjust(walls)
    assert closed.method is Method.COMPASS
    turned = sum(wall.turn_millidegrees for wall in walls) + sum(closed.turn_changes)
    assert turned == 360_000
    assert max(closed.turn_changes) - min(closed.turn_changes) <= 1
    ring = [*closed.corners, closed.corners[0]]
    for (a, b), length in zip(pairwise(ring), closed.lengths_ticks, strict=True):
        assert hypot(b.x_ticks - a.x_ticks, b.y_ticks - a.y_ticks) == pytest.approx(
            length, abs=0.5
        )


@given(LEGS, SLIPS, st.integers(2, 5))
def test_the_adjustment_scales_with_the_room(legs, slips, times):
    one, more = adjust(l_room(legs, slips)), adjust(l_room(legs, slips, times))
    for small, large in zip(one.changes_ticks, more.changes_ticks, strict=True):
        assert large == pytest.approx(small * times, abs=times + 1)


@given(measured_walks(), st.integers(1, 359))
def test_area_is_the_same_however_the_room_lies(walls, degrees):
    closed = adjust(walls)
    assume(closed is not None)
    c, s = cos(radians(degrees)), sin(radians(degrees))
    turned = [
        Corner(p.x_ticks * c - p.y_ticks * s, p.x_ticks * s + p.y_ticks * c)
        for p in closed.corners
    ]
    assert area_ticks2(turned) == pytest.approx(area_ticks2(closed.corners), rel=1e-9)


@given(LEGS, SLIPS, st.integers(0, 5))
def test_area_does_not_depend_on_where_the_walk_begins(legs, slips, start):
    walls = l_room(legs, slips)
    there = adjust(walls[start:] + walls[:start])
    # Another start rounds shares elsewhere: by a tick on each wall at most.
    assert there.area_m2 == pytest.approx(adjust(walls).area_m2, rel=1e-5)


def test_what_closes_is_left_alone():
    walls = l_room((mm(2000), mm(1500), mm(2500), mm(1000)))
    closed = adjust(walls)
    assert not closed.is_changed
    assert closed.corners == outline(walls).corners
    assert suspects(walls) == ()


def test_a_slip_is_not_shared_out():
    legs = (mm(2000), mm(1500), mm(2500), mm(1000))
    assert adjust(l_room(legs, (mm(1500), 0, 0, 0, 0, 0))) is None
    wrong_way = [WallLine(mm(4000), 90_000)] * 3 + [WallLine(mm(4000), -90_000)]
    assert adjust(wrong_way) is None


def test_the_worse_axis_is_named():
    legs = (mm(2000), mm(1500), mm(2500), mm(1000))
    assert suspects(l_room(legs, (0, mm(40), 0, 0, mm(10), 0))) == (1, 3, 5)
    assert suspects(l_room(legs, (0, mm(10), 0, 0, mm(40), 0))) == (0, 2, 4)


def test_among_slanted_walls_the_ones_along_the_error_are_named():
    turn = [60_000] * 6
    walls = [WallLine(mm(3000), t, angle_read=True) for t in turn]
    walls[1] = WallLine(mm(3030), 60_000, angle_read=True)
    assert suspects(walls) == (1, 4)


@given(SIDES, SIDES, st.integers(5_000, 175_000))
def test_a_diagonal_gives_the_angle_it_was_made_from(one, two, inside):
    angle = radians(inside / 1000)
    diagonal = round((one**2 + two**2 - 2 * one * two * cos(angle)) ** 0.5)
    # A tick on the shortest wall is a five-hundredth of a degree where it matters most.
    assert turn_by_diagonal(one, two, diagonal) == pytest.approx(
        180_000 - inside, abs=20
    )


@pytest.mark.parametrize("diagonal", [0, 1000, 7000, 9000])
def test_a_diagonal_that_spans_no_triangle_is_refused(diagonal):
    with pytest.raises(SurveyError) as refused:
        turn_by_diagonal(mm(4000), mm(3000), mm(diagonal))
    assert refused.value.field == "diagonal"


def test_walls_that_cross_are_found():
    bow = [Corner(0, 0), Corner(10, -10), Corner(10, 0), Corner(0, -10)]
    assert crossing(bow) == (0, 2)
    assert (
        crossing([Corner(0, 0), Corner(10, 0), Corner(10, -5), Corner(0, -5)]) is None
    )
