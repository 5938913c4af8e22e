"""The plan: to scale, dimensioned, words for what it shows, nothing colliding."""

import re
from itertools import combinations
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.drawing import Drawing
from shared.length import UnitSystem
from shop.surveys.engine import Paper, RoomIn, WallIn, WallLine, draw_plan
from tests.factories.surveys import mm
from tests.shop.surveys.rooms import l_room, opening, room, zone

PAPER = Paper("p", "Front room", UnitSystem.METRIC)


def drawn(measured, paper=PAPER):
    return draw_plan(measured, paper)


def texts(plan):
    return [
        node.text
        for node in ET.fromstring(plan.svg).iter()
        if node.tag.endswith("text")
    ]


@pytest.fixture
def labels(monkeypatch):
    """The boxes of all words of the drawing made last."""
    kept = []
    svg = Drawing.svg

    def keep(drawing):
        kept[:] = drawing.label_boxes()
        return svg(drawing)

    monkeypatch.setattr(Drawing, "svg", keep)
    return kept


def test_the_plan_is_dimensioned_in_the_shops_units():
    measured = room(opening(at=1000))
    assert {"5000", "4000", "1000", "900", "3100"} <= set(texts(drawn(measured)))
    inches = Paper("p", "Front room", UnitSystem.IMPERIAL)
    assert "16' 4 7/8\"" in texts(drawn(measured, inches))


def test_the_plan_is_to_scale():
    plan = drawn(room(length=6000, width=3000))
    assert plan.scale == "1:40"
    faces = {
        round(abs(x1 - x0), 2)
        for x0, x1 in (
            (float(a), float(b))
            for a, b in re.findall(
                r'd="M([0-9.-]+) [0-9.-]+ L([0-9.-]+) [0-9.-]+"', plan.svg
            )
        )
    }
    # 150 mm on paper between the inner faces, and twice the drawn thickness of 2.4 mm.
    assert {150.0, 154.8} <= faces


def test_the_figure_has_a_title_and_a_description():
    root = ET.fromstring(drawn(room()).svg)
    names = [child.tag.split("}")[-1] for child in root]
    assert names[:2] == ["title", "desc"]
    assert root[0].text == "Front room"


def test_what_a_person_typed_is_escaped():
    named = opening(name="<script>alert(1)</script>")
    assert "<script" not in drawn(room(named)).svg


def test_an_opening_without_a_place_is_in_words_alone():
    words = drawn(room(opening(name="bay", at=None))).words
    assert any("Bay" in line and "not on the drawing" in line for line in words)


def test_corners_that_are_not_square_are_in_words():
    words = " ".join(drawn(l_room(cut=800)).words)
    assert "After wall E the corner juts into the room." in words
    assert "The corner after wall A is 135.0° inside." in words


def test_a_slanting_wall_carries_its_length():
    assert "B: 1131.4" in texts(drawn(l_room(cut=800)))


def test_a_walk_that_stays_open_is_drawn_with_its_gap():
    shut = drawn(room()).svg
    walls = list(room().walls)
    walls[2] = WallIn("C", WallLine(mm(3500)))
    assert "stroke-dasharray" in drawn(RoomIn(tuple(walls))).svg
    assert "stroke-dasharray" not in shut


def test_zones_are_shown_on_wall_and_ceiling():
    def marks(plan):
        return plan.svg.count("<rect"), plan.svg.count("<path")

    bare, both = (
        marks(drawn(one))
        for one in (room(), room(zones=[zone()], ceiling=[zone(name="light")]))
    )
    # On the ceiling a dashed box, on the wall a bar along its face.
    assert both == (bare[0] + 1, bare[1] + 1)


def test_a_zone_outside_does_not_stretch_the_drawing():
    far = room(ceiling=[zone(left=900_000)])
    assert (
        re.search(r'viewBox="[^"]+"', drawn(far).svg)[0]
        == (re.search(r'viewBox="[^"]+"', drawn(room()).svg)[0])
    )


PLACES = st.tuples(
    st.integers(min_value=1, max_value=4000), st.integers(min_value=0, max_value=4000)
)


@settings(max_examples=40)
@given(st.lists(PLACES, max_size=4))
def test_any_openings_can_be_drawn(places):
    openings = (opening(widths=(width,), at=at) for width, at in places)
    assert drawn(room(*openings)).svg.startswith("<svg")


@pytest.mark.parametrize(
    "sizes", [(5000, 4000), (1200, 900), (12_000, 2500), (199_000, 3000), (1, 1)]
)
def test_no_words_collide(labels, sizes):
    drawn(room(opening(at=100, widths=(300,)), length=sizes[0], width=sizes[1]))
    assert labels
    assert not any(one.overlaps(two) for one, two in combinations(labels, 2))


@settings(max_examples=60, deadline=None)
@given(
    legs=st.tuples(*[st.integers(300, 9000)] * 4),
    cut=st.integers(0, 290),
    places=st.lists(PLACES, max_size=2),
)
def test_no_words_collide_in_any_l(legs, cut, places):
    kept = []
    svg = Drawing.svg
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            Drawing, "svg", lambda d: kept.append((d.label_boxes(), d.fits())) or svg(d)
        )
        openings = [opening(widths=(width,), at=at) for width, at in places]
        drawn(l_room(*openings, legs=legs, cut=cut))
    (boxes, fits), *_ = kept
    assert fits
    assert not any(one.overlaps(two) for one, two in combinations(boxes, 2))
