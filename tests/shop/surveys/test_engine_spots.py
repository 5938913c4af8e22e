"""Places in a room: within its walls or not, and on its plan."""

from itertools import combinations
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.drawing import Drawing
from shared.length import UnitSystem
from shop.surveys.engine import Paper, draw_plan
from shop.surveys.engine.spots import SpotIn, holds
from shop.surveys.models import SpotKind
from tests.factories.surveys import mm
from tests.shop.surveys.rooms import l_room, room

PAPER = Paper("p", "Front room", UnitSystem.METRIC)


def spot(left, bottom, kind="seat", name="", **more):
    return SpotIn(kind, name or kind, mm(left), mm(bottom), **more)


def texts(plan):
    return [n.text for n in ET.fromstring(plan.svg).iter() if n.tag.endswith("text")]


@given(st.integers(0, 5000), st.integers(0, 4000))
def test_what_lies_within_a_rectangle_is_held_to_its_very_walls(left, bottom):
    assert holds(room(), spot(left, bottom))


@given(st.integers(5001, 9000), st.integers(0, 9000))
def test_what_lies_beyond_a_rectangle_is_not(left, bottom):
    assert not holds(room(), spot(left, bottom))
    assert not holds(room(), spot(bottom, left))


def test_the_corner_that_an_l_lacks_holds_nothing():
    # By the shoelace way the L of the tests has its missing corner at the lower left.
    measured = l_room()
    ring = measured.corners
    inner = ring[-2]
    assert holds(measured, SpotIn("seat", "", mm(200), mm(200)))
    missing = SpotIn(
        "seat", "", round(inner.x_ticks) - mm(1200), round(-inner.y_ticks) + mm(200)
    )
    assert not holds(measured, missing)


@pytest.mark.parametrize("kind", SpotKind.values)
def test_each_kind_has_a_symbol_and_its_name(kind):
    bare, plan = (draw_plan(room(), PAPER, s) for s in ((), (spot(2500, 2000, kind),)))
    assert kind in texts(plan)
    assert len(plan.svg) > len(bare.svg)
    assert plan.words[-1] == (
        f"{kind.capitalize()}: 2500 mm from the last wall, 2000 mm from the first."
    )


def test_a_screen_is_as_wide_as_it_was_read():
    narrow, wide = (
        draw_plan(room(), PAPER, [spot(2500, 200, "screen", width_ticks=mm(width))])
        for width in (1000, 2000)
    )
    assert narrow.svg != wide.svg


def test_what_lies_outside_is_said_and_not_drawn():
    plan = draw_plan(room(), PAPER, [spot(9000, 9000)])
    assert "seat" not in texts(plan)
    assert "9000 mm from the last wall" in plan.words[-1]


@settings(max_examples=25, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.integers(0, 5000), st.integers(0, 4000), st.sampled_from(SpotKind.values)
        ),
        max_size=8,
    )
)
def test_no_words_collide_however_many_places_there_are(places):
    kept, svg = [], Drawing.svg
    spots = [spot(x, y, kind, f"{kind} {n}") for n, (x, y, kind) in enumerate(places)]

    def keep(drawing):
        kept[:] = drawing.label_boxes()
        return svg(drawing)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Drawing, "svg", keep)
        plan = draw_plan(room(), PAPER, spots)
    assert {s.name for s in spots} <= set(texts(plan))
    assert not any(one.overlaps(other) for one, other in combinations(kept, 2))
