"""An opening by its readings: laws and refusals."""

from math import cos, radians, sin, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.surveys.engine import Readings, SurveyError, fit_in, shape_of
from tests.factories.surveys import mm

READ = st.integers(min_value=mm(100), max_value=mm(5000))
THREE = st.lists(READ, min_size=1, max_size=3).map(tuple)


@given(THREE, THREE)
def test_nothing_is_smaller_than_the_smallest(widths, heights):
    shape = shape_of(Readings(widths, heights))
    assert all(shape.width_ticks <= width for width in widths)
    assert all(shape.height_ticks <= height for height in heights)
    assert shape.width_spread_ticks == max(widths) - min(widths)


@given(THREE, THREE, st.randoms())
def test_the_order_of_readings_does_not_matter(widths, heights, random):
    mixed = random.sample(widths, len(widths)), random.sample(heights, len(heights))
    again = Readings(tuple(mixed[0]), tuple(mixed[1]))
    assert shape_of(again) == shape_of(Readings(widths, heights))


@given(READ, READ, st.floats(min_value=-20, max_value=20))
def test_a_parallelogram_gives_back_its_lean(width, height, lean_degrees):
    shift, rise = (
        height * sin(radians(lean_degrees)),
        height * cos(radians(lean_degrees)),
    )
    right = round(sqrt((width + shift) ** 2 + rise**2))
    left = round(sqrt((width - shift) ** 2 + rise**2))
    lean = shape_of(Readings((width,), (height,), right, left)).lean
    # Diagonals rounded to a tick: half a tick each, and a lean of 4 W to the difference.
    assert lean.lean_ticks == pytest.approx(shift, abs=(right + left) / (2 * width) + 1)


@given(READ, READ, READ, READ)
def test_diagonals_told_apart_turn_the_lean_round(width, height, one, two):
    to = shape_of(Readings((width,), (height,), one, two)).lean
    fro = shape_of(Readings((width,), (height,), two, one)).lean
    assert (to is None) == (fro is None)
    if to and fro:
        assert to.lean_ticks == -fro.lean_ticks
        assert to.upright_width_ticks == fro.upright_width_ticks


@given(THREE, THREE, st.integers(min_value=0, max_value=mm(40)))
def test_what_fits_leaves_the_clearance_all_round(widths, heights, clearance):
    shape = shape_of(Readings(widths, heights))
    fit = fit_in(shape, clearance_ticks=clearance)
    assert fit.width_ticks == min(widths) - 2 * clearance
    assert fit.height_ticks == min(heights) - 2 * clearance


def test_one_diagonal_tells_no_lean():
    assert shape_of(Readings((mm(900),), (mm(1200),), mm(1500))).lean is None


def test_nothing_fits_where_clearance_takes_all():
    shape = shape_of(Readings((mm(10),), (mm(1200),)))
    assert fit_in(shape, clearance_ticks=mm(5)) is None


def test_clearance_is_never_negative():
    with pytest.raises(SurveyError):
        fit_in(shape_of(Readings((1,), (1,))), clearance_ticks=-1)


@pytest.mark.parametrize(
    ("widths", "heights", "field"),
    [
        ((), (1,), "width"),
        ((1,), (), "height"),
        ((1,) * 4, (1,), "width"),
        ((0,), (1,), "reading"),
        ((1,), (-1,), "reading"),
    ],
)
def test_readings_that_nothing_can_be_made_of(widths, heights, field):
    with pytest.raises(SurveyError) as refused:
        Readings(widths, heights)
    assert refused.value.field == field
