"""A wall from inside: to scale, dimensioned, what is on it, nothing colliding."""

from itertools import combinations
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.drawing import Drawing
from shared.length import UnitSystem
from shop.surveys.engine import Ceiling, Paper, draw_elevation
from tests.shop.surveys.rooms import opening, room, zone

PAPER = Paper("p", "Front room", UnitSystem.METRIC)


def texts(drawn):
    return [
        node.text
        for node in ET.fromstring(drawn.svg).iter()
        if node.tag.endswith("text")
    ]


def test_an_opening_is_dimensioned_across_and_up():
    drawn = draw_elevation(room(opening(at=1000, sill=800)), 0, PAPER)
    assert {"5000", "1000", "900", "3100", "2500", "800", "1200", "500"} <= set(
        texts(drawn)
    )
    assert "Its sill is 800 mm above the floor." in drawn.words


def test_a_place_to_keep_clear_is_named_with_where_it_is():
    drawn = draw_elevation(room(zones=[zone()]), 0, PAPER)
    assert "switch: 300 across, 1100 up" in texts(drawn)
    assert any("80 mm × 80 mm, 300 mm from the left" in line for line in drawn.words)


def test_other_walls_show_what_is_on_them_alone():
    assert "5000" not in texts(draw_elevation(room(opening()), 1, PAPER))


def test_a_slope_has_both_its_heights():
    measured = room(height=None, heights=(2000, 3000, 3000, 2000))
    sloped = type(measured)(measured.walls, ceiling=Ceiling.CORNERS)
    drawn = draw_elevation(sloped, 0, PAPER)
    assert {"2000", "3000"} <= set(texts(drawn))


def test_without_a_height_there_is_none():
    assert draw_elevation(room(height=None), 0, PAPER) is None


def test_what_a_person_typed_is_escaped():
    named = opening(name="<script>alert(1)</script>")
    assert "<script" not in draw_elevation(room(named), 0, PAPER).svg


OPENINGS = st.lists(
    st.builds(
        lambda at, width, sill, high: opening(
            at=at, widths=(width,), sill=sill, heights=(high,)
        ),
        st.integers(0, 4000),
        st.integers(50, 3000),
        st.integers(0, 1500),
        st.integers(50, 1500),
    ),
    max_size=3,
)
ZONES = st.lists(
    st.builds(
        lambda left, bottom: zone(left=left, bottom=bottom),
        st.integers(0, 5500),
        st.integers(0, 2600),
    ),
    max_size=9,
)


@settings(max_examples=60, deadline=None)
@given(OPENINGS, ZONES, st.sampled_from(list(UnitSystem)))
def test_no_words_collide(openings, zones, units):
    kept = []
    svg = Drawing.svg
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            Drawing, "svg", lambda d: kept.append((d.label_boxes(), d.fits())) or svg(d)
        )
        draw_elevation(room(*openings, zones=zones), 0, Paper("p", "Front room", units))
    (boxes, fits), *_ = kept
    assert fits
    assert not any(one.overlaps(two) for one, two in combinations(boxes, 2))
