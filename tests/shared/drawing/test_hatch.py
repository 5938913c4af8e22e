import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.drawing import Box, Point, Scale, View
from shared.drawing.hatch import end_grain, masonry, ply_edge, wool

sizes = st.floats(0.2, 120)


def corners(box):
    return [
        Point(box.left, box.top),
        Point(box.right, box.top),
        Point(box.right, box.bottom),
        Point(box.left, box.bottom),
    ]


def inked(view):
    """Return the box of every coordinate pair written in the paths."""
    pairs = re.findall(
        r"(-?[\d.]+) (-?[\d.]+)", " ".join(re.findall(r'd="([^"]+)"', view.markup()))
    )
    xs, ys = [float(x) for x, _ in pairs], [float(y) for _, y in pairs]
    return Box(min(xs), min(ys), max(xs), max(ys)) if pairs else None


@given(sizes, sizes)
def test_a_hatch_stays_inside_what_it_fills(width, height):
    box = Box(5, -7, 5 + width, -7 + height)
    for draw in (
        lambda v: ply_edge(v, box),
        lambda v: end_grain(v, corners(box)),
        lambda v: masonry(v, box),
        lambda v: wool(v, box),
    ):
        view = View(Scale(1))
        draw(view)
        found = inked(view)
        assert found is None or box.grown(1e-3).contains(found)


@pytest.mark.parametrize(("thickness", "lines"), [(9, 6), (2, 2), (1, 0)])
def test_plies_that_would_run_together_are_left_out(thickness, lines):
    view = View(Scale(1))
    ply_edge(view, Box(0, 0, 50, thickness))
    assert view.markup().count("<path") == lines


def test_end_grain_is_cut_off_by_a_bevel():
    view = View(Scale(1))
    end_grain(view, [Point(0, 0), Point(10, 0), Point(0, 10)])
    found = inked(view)
    assert found.right + 1e-3 < 10
    assert view.markup().count("<path") > 3
