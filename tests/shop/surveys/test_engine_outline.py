"""The plan of a room: laws of rectangles, closing errors, refusals."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.surveys.engine import SurveyError, WallLine, outline, rectangle, volume_m3
from tests.factories.surveys import mm

SIDES = st.integers(min_value=1, max_value=mm(200_000))
M2_PER_TICK2 = 3.125e-6**2


@given(SIDES, SIDES)
def test_a_rectangle_closes_exactly(length, width):
    plan = outline(rectangle(length, width))
    assert plan.closing_ticks == 0
    assert plan.turned_millidegrees == 360_000
    assert plan.perimeter_ticks == 2 * (length + width)


@given(SIDES, SIDES)
def test_a_rectangles_area_is_length_by_width(length, width):
    plan = outline(rectangle(length, width))
    assert plan.area_m2 == pytest.approx(length * width * M2_PER_TICK2, rel=1e-12)
    assert plan.area_m2 == outline(rectangle(width, length)).area_m2


@given(SIDES, SIDES, st.integers(min_value=2, max_value=5))
def test_area_grows_with_the_square(length, width, times):
    one = outline(rectangle(length, width))
    more = outline(rectangle(length * times, width * times))
    assert more.area_m2 == pytest.approx(one.area_m2 * times**2, rel=1e-12)


@given(st.lists(SIDES, min_size=4, max_size=4), st.integers(min_value=0, max_value=3))
def test_where_the_walk_begins_does_not_change_the_closing_error(lengths, start):
    walls = [WallLine(length) for length in lengths]
    there = outline(walls[start:] + walls[:start])
    assert there.closing_ticks == pytest.approx(outline(walls).closing_ticks, abs=1e-6)


@given(SIDES, SIDES, st.integers(min_value=1, max_value=mm(500)))
def test_one_wall_too_long_fails_to_close_by_just_that(length, width, slip):
    first, *rest = rectangle(length, width)
    plan = outline([WallLine(first.length_ticks + slip), *rest])
    assert plan.closing_ticks == pytest.approx(slip)
    assert plan.closing_share == pytest.approx(slip / plan.perimeter_ticks)


def test_an_l_shaped_room():
    # 4 x 3 m with a corner of 1 x 1 m cut out; the fourth corner turns left.
    turns = (90, 90, 90, -90, 90, 90)
    lengths = (4000, 3000, 3000, 1000, 1000, 2000)
    walls = [
        WallLine(mm(length), turn * 1000)
        for length, turn in zip(lengths, turns, strict=True)
    ]
    plan = outline(walls)
    assert plan.closing_ticks == 0
    assert plan.area_m2 == pytest.approx(4 * 3 - 1 * 1)


def test_the_corners_go_clockwise_with_the_room_below():
    corners = outline(rectangle(mm(4000), mm(3000))).corners
    assert [(c.x_ticks, c.y_ticks) for c in corners] == [
        (0, 0),
        (mm(4000), 0),
        (mm(4000), -mm(3000)),
        (0, -mm(3000)),
    ]


@given(SIDES, SIDES, SIDES)
def test_a_box_has_the_volume_of_its_three_sides(length, width, height):
    area = outline(rectangle(length, width)).area_m2
    metres = [side * 3.125e-6 for side in (length, width, height)]
    expected = metres[0] * metres[1] * metres[2]
    assert volume_m3(area, height) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("length", "turn", "field"),
    [(0, 90_000, "length"), (-1, 90_000, "length"), (1, 180_000, "turn")],
)
def test_no_wall_is_nothing_or_turns_back(length, turn, field):
    with pytest.raises(SurveyError) as refused:
        WallLine(length, turn)
    assert refused.value.field == field


def test_two_walls_are_no_room():
    with pytest.raises(SurveyError):
        outline([WallLine(1), WallLine(1)])
