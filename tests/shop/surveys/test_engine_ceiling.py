"""Ceilings that are not flat: triangles, prisms, single slopes, beams."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.surveys.engine import (
    Beam,
    Corner,
    SurveyError,
    area_ticks2,
    slope_heights,
    triangles,
    volume_under,
)
from tests.factories.surveys import mm

L_ROOM = tuple(
    Corner(mm(x), mm(y))
    for x, y in (
        (0, 0),
        (4000, 0),
        (4000, -3000),
        (1000, -3000),
        (1000, -2000),
        (0, -2000),
    )
)
SIDES = st.integers(min_value=mm(500), max_value=mm(20_000))


def box(length, width):
    return (Corner(0, 0), Corner(length, 0), Corner(length, -width), Corner(0, -width))


def test_the_triangles_of_an_l_fill_it_and_no_more():
    cut = triangles(L_ROOM)
    assert len(cut) == 4
    pieces = sum(area_ticks2([L_ROOM[n] for n in ring]) for ring in cut)
    assert pieces == area_ticks2(L_ROOM)


@given(SIDES, SIDES, SIDES)
def test_under_a_flat_ceiling_it_is_area_by_height(length, width, height):
    area = area_ticks2(box(length, width)) * 3.125e-6**2
    assert volume_under(box(length, width), [height] * 4) == pytest.approx(
        area * height * 3.125e-6
    )


@given(SIDES, SIDES, SIDES, st.integers(1, mm(1500)))
def test_a_single_slope_has_the_mean_of_its_two_heights(length, width, low, rise):
    corners = box(length, width)
    heights = slope_heights(corners, [low, low + rise, None, low])
    assert heights == pytest.approx([low, low + rise, low + rise, low])
    area = length * width * 3.125e-6**2
    assert volume_under(corners, heights) == pytest.approx(
        area * (low + rise / 2) * 3.125e-6
    )


@pytest.mark.parametrize(
    "read", [[2400, 2500, None, None], [2400, None, None, None], [None] * 4]
)
def test_a_slope_needs_three_heights(read):
    assert slope_heights(box(mm(4000), mm(3000)), read) is None


def test_three_heights_on_one_line_are_no_slope():
    line = (Corner(0, 0), Corner(1000, 0), Corner(2000, 0), Corner(0, -900))
    assert slope_heights(line, [1, 2, 3, None]) is None


def test_walls_that_cross_have_no_triangles():
    tangle = [(0, 0), (10, 0), (2, 8), (5, -4), (8, 8)]
    with pytest.raises(SurveyError):
        triangles([Corner(*spot) for spot in tangle])


def test_a_beam_takes_its_box_from_the_room():
    assert Beam("beam", mm(4000), mm(200), mm(300)).volume_m3 == pytest.approx(0.24)
