from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.drawing import Callout, Scale, Side, View, callouts, chain, dimension, title
from shared.length import from_mm

MM = 320


def panel(width_mm=600, height_mm=1200, scale=10):
    view = View(Scale(scale))
    view.rect((0, 0), (width_mm * MM, height_mm * MM))
    return view


def touching(view):
    return [
        (a.text, b.text)
        for a, b in combinations(view.labels(), 2)
        if a.box.overlaps(b.box)
    ]


@pytest.mark.parametrize(
    ("side", "outside"),
    [
        (Side.ABOVE, lambda label, body: label.box.bottom < body.top),
        (Side.BELOW, lambda label, body: label.box.top > body.bottom),
        (Side.LEFT, lambda label, body: label.box.right < body.left),
        (Side.RIGHT, lambda label, body: label.box.left > body.right),
    ],
)
def test_a_dimension_stands_outside_the_body_on_its_side(side, outside):
    view = panel()
    label = dimension(view, side, 0, 600 * MM, "600")
    assert outside(label, view.body)
    assert label.turned is side.upright


def test_words_that_fit_sit_in_the_middle_of_the_line():
    label = dimension(panel(), Side.BELOW, 0, 600 * MM, "600")
    assert label.centre.x == pytest.approx(30)


def test_words_that_do_not_fit_sit_past_the_end():
    label = dimension(panel(), Side.BELOW, 0, 20 * MM, "20")
    assert label.box.left > 2


def test_a_second_dimension_takes_the_next_lane_out():
    view = panel()
    inner = dimension(view, Side.BELOW, 0, 600 * MM, "600")
    outer = dimension(view, Side.BELOW, 0, 600 * MM, "600")
    assert outer.box.top > inner.box.bottom


def test_two_short_dimensions_share_a_lane():
    view = panel()
    first = dimension(view, Side.BELOW, 0, 250 * MM, "250")
    second = dimension(view, Side.BELOW, 350 * MM, 600 * MM, "250")
    assert first.centre.y == second.centre.y


def test_a_dimension_measures_between_its_arrow_tips():
    view = panel()
    dimension(view, Side.BELOW, from_mm(100), from_mm(500), "400")
    solid = [m for m in view.markup().split("<path") if 'fill="#1f2328"' in m]
    tips = sorted(float(m.split('d="M')[1].split()[0]) for m in solid)
    assert tips == pytest.approx([10, 50])


@pytest.mark.parametrize(
    ("stops", "texts"), [([0, 10], ["a", "b"]), ([10, 0], ["a"]), ([0], ["a"])]
)
def test_a_chain_that_makes_no_sense_is_refused(stops, texts):
    with pytest.raises(ValueError, match="rising stops"):
        chain(panel(), Side.BELOW, stops, texts)


def test_a_gap_without_words_is_drawn_without_them():
    view = panel()
    chain(view, Side.BELOW, [0, 300 * MM, 600 * MM], ["300", ""])
    assert [label.text for label in view.labels()] == ["300"]


def test_callouts_stand_only_left_or_right():
    with pytest.raises(ValueError, match="left or right"):
        callouts(panel(), Side.BELOW, [Callout((0, 0), "Rail")])


def test_callouts_keep_the_order_of_their_targets():
    view = panel()
    found = [Callout((0, y * MM), str(y)) for y in (100, 900, 400, 401, 402)]
    callouts(view, Side.LEFT, found)
    rows = sorted(view.labels(), key=lambda label: label.centre.y)
    assert [label.text for label in rows] == ["900", "402", "401", "400", "100"]


sides = st.sampled_from(list(Side))
spans = st.tuples(sides, st.integers(0, 600), st.integers(0, 600))
stops = st.tuples(sides, st.lists(st.integers(0, 600), min_size=2, max_size=9))
marks = st.lists(st.tuples(st.integers(0, 600), st.integers(0, 1200)), max_size=9)


@given(
    st.lists(spans, max_size=6), st.lists(stops, max_size=4), marks, st.integers(1, 50)
)
def test_words_never_touch_whatever_is_dimensioned(spans, chains, marks, scale):
    view = panel(scale=scale)
    for side, places in chains:
        rising = sorted(p * MM for p in places)
        chain(view, side, rising, [f"{b - a}" for a, b in pairwise(rising)])
    for side, a, b in spans:
        dimension(view, side, a * MM, b * MM, f"{abs(b - a)} mm")
    for side in (Side.LEFT, Side.RIGHT):
        callouts(view, side, [Callout((x * MM, y * MM), f"at {x}") for x, y in marks])
    title(view, "Front", "1:10")
    assert touching(view) == []
    assert all(view.extent.contains(label.box) for label in view.labels())
