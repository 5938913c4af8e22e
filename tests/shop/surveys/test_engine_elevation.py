"""A wall from inside: to scale, dimensioned, what is on it, nothing colliding."""

from dataclasses import replace
from itertools import combinations
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.drawing import Drawing
from shared.length import UnitSystem
from shop.surveys.engine import Ceiling, Framing, Paper, draw_elevation
from tests.factories.surveys import mm
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


def drawn_dashes(drawn, tag):
    """The shapes of a kind that are dashed, in millimetres on paper."""
    return [
        node
        for node in ET.fromstring(drawn.svg).iter()
        if node.tag.endswith(tag) and "stroke-dasharray" in node.attrib
    ]


def with_studs(measured, *found_mm):
    made = Framing(tuple(map(mm, found_mm)), mm(400))
    walls = (replace(measured.walls[0], framing=made), *measured.walls[1:])
    return replace(measured, walls=walls)


def test_what_stays_clear_is_drawn_round_a_place_to_scale():
    kept = replace(zone(), margin_ticks=mm(100))
    drawn = draw_elevation(room(zones=[kept]), 0, PAPER)
    (halo,) = drawn_dashes(drawn, "rect")
    scale = int(drawn.scale.removeprefix("1 : ").removeprefix("1:"))
    assert float(halo.get("width")) == pytest.approx(280 / scale, abs=0.001)
    assert float(halo.get("height")) == pytest.approx(280 / scale, abs=0.001)
    assert any("100 mm round it" in line for line in drawn.words)
    assert any("short dashes: kept clear" in line for line in texts(drawn))


def test_what_stays_clear_ends_with_the_wall():
    kept = replace(zone(left=0, bottom=0), margin_ticks=mm(9000))
    drawn = draw_elevation(room(zones=[kept]), 0, PAPER)
    (halo,) = drawn_dashes(drawn, "rect")
    scale = int(drawn.scale.removeprefix("1 : ").removeprefix("1:"))
    sides = float(halo.get("width")), float(halo.get("height"))
    assert sides == pytest.approx((5000 / scale, 2500 / scale), abs=0.001)


def test_without_a_margin_nothing_is_drawn_round():
    drawn = draw_elevation(room(zones=[zone()]), 0, PAPER)
    assert not drawn_dashes(drawn, "rect")
    assert not any("dashes" in line for line in texts(drawn))


def test_studs_stand_from_floor_to_ceiling_with_what_lies_between():
    drawn = draw_elevation(with_studs(room(), 400, 810, 1210, 5001), 0, PAPER)
    assert len(drawn_dashes(drawn, "path")) == 3  # the one beyond the wall is told
    assert {"400", "410"} <= set(texts(drawn))
    assert "Studs found, from the left corner: 400 mm, 810 mm" in " ".join(drawn.words)
    assert any("long dashes: studs found" in line for line in texts(drawn))


def test_a_spacing_that_is_kept_is_written_once():
    drawn = draw_elevation(with_studs(room(), 400, 800, 1200, 1650, 2050), 0, PAPER)
    assert texts(drawn).count("3 × 400") == 1
    assert texts(drawn).count("400") == 1
    assert "450" in texts(drawn)


def test_under_a_slope_studs_and_clear_space_end_at_the_ceiling():
    measured = with_studs(room(height=None, heights=(2000, 3000, 3000, 2000)), 2500)
    kept = replace(zone(left=100, bottom=1000), margin_ticks=mm(2000))
    walls = (replace(measured.walls[0], zones=(kept,)), *measured.walls[1:])
    drawn = draw_elevation(type(measured)(walls, ceiling=Ceiling.CORNERS), 0, PAPER)
    scale = int(drawn.scale.removeprefix("1 : ").removeprefix("1:"))
    (halo,) = drawn_dashes(drawn, "rect")
    assert float(halo.get("height")) == pytest.approx(2000 / scale, abs=0.001)
    (stud,) = drawn_dashes(drawn, "path")
    ends = [float(pair.split()[1]) for pair in stud.get("d")[1:].split(" L")]
    assert abs(ends[0] - ends[1]) == pytest.approx(2500 / scale, abs=0.001)


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
        lambda left, bottom, margin: replace(
            zone(left=left, bottom=bottom), margin_ticks=mm(margin)
        ),
        st.integers(0, 5500),
        st.integers(0, 2600),
        st.integers(0, 1000),
    ),
    max_size=9,
)
STUDS = st.lists(st.integers(0, 5200), max_size=14)


@settings(max_examples=60, deadline=None)
@given(OPENINGS, ZONES, STUDS, st.sampled_from(list(UnitSystem)))
def test_no_words_collide(openings, zones, studs, units):
    kept = []
    svg = Drawing.svg
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            Drawing, "svg", lambda d: kept.append((d.label_boxes(), d.fits())) or svg(d)
        )
        measured = with_studs(room(*openings, zones=zones), *studs)
        draw_elevation(measured, 0, Paper("p", "Front room", units))
    (boxes, fits), *_ = kept
    assert fits
    assert not any(one.overlaps(two) for one, two in combinations(boxes, 2))
