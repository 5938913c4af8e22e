"""Contradictions are told, and nothing else is."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.length import UnitSystem, show
from shop.surveys.engine import RoomIn, WallIn, WallLine, contradictions, sentences
from shop.surveys.engine.findings import WORDS, Finding
from tests.factories.surveys import mm
from tests.shop.surveys.rooms import opening, room, zone


def told(measured):
    return [found.key for found in contradictions(measured)]


def said(measured):
    def millimetres(ticks):
        return show(ticks, units=UnitSystem.METRIC)

    return sentences(contradictions(measured), millimetres)


def test_a_plain_room_contradicts_nothing():
    door = opening(name="door", kind="door", at=3000, sill=0, heights=(2050,))
    assert told(room(opening(), door, zones=[zone()], ceiling=[zone()])) == []


@pytest.mark.parametrize(
    ("measured", "key"),
    [
        (room(opening(widths=(5001,), at=0)), "wider"),
        (room(opening(widths=(5001,), at=None)), "wider"),
        (room(opening(widths=(900,), at=4101)), "beyond"),
        (room(opening(), opening(at=1399)), "overlap"),
        (room(opening(), opening(at=1399, sill=None)), "overlap"),
        (room(opening(heights=(1601,))), "above"),
        (room(opening(heights=(2501,), sill=None)), "above"),
        (room(opening(kind="door", heights=(1400,), sill=0)), "low_door"),
        (room(heights=[2500, 2511]), "heights"),
        (room(opening(widths=(900, 904, 900))), "widths"),
        (room(opening(heights=(1200, 1204))), "high"),
        (room(opening(right=1500, left=1507)), "square"),
        (room(opening(right=1600, left=1600)), "diagonals"),
        (room(opening(right=1600)), "diagonals"),
        (room(opening(gets_panel=True)), "read_more"),
        (room(zones=[zone(left=4950)]), "zone_beyond"),
        (room(zones=[zone(bottom=2450)]), "zone_above"),
        (room(ceiling=[zone(left=4950)]), "zone_outside"),
        (room(ceiling=[zone(bottom=3950)]), "zone_outside"),
    ],
)
def test_what_cannot_be_is_told(measured, key):
    assert told(measured) == [key]


@pytest.mark.parametrize(
    "measured",
    [
        room(opening(widths=(5000,), at=0)),
        room(opening(), opening(at=1400)),
        room(opening(sill=0, heights=(900,)), opening(sill=900)),
        room(opening(heights=(1600,))),
        room(opening(heights=(9000,)), height=None),
        room(opening(at=None), opening(at=None)),
        room(opening(kind="door", heights=(1800,), sill=0)),
        room(heights=[2500, 2510]),
        room(opening(right=1500, left=1506)),
        room(opening(widths=(900,) * 3, heights=(1200,) * 3, gets_panel=True)),
    ],
)
def test_what_just_can_be_is_not(measured):
    assert told(measured) == []


def test_walls_that_do_not_close_are_told():
    lengths = (5000, 4000, 5011, 4000)
    walls = tuple(
        WallIn(n, WallLine(mm(length)))
        for n, length in zip("ABCD", lengths, strict=True)
    )
    assert told(RoomIn(walls)) == ["closing"]


def test_a_wall_of_its_own_height_is_held_to_it():
    assert "above" in told(room(opening(), heights=[2000, None, None, 2500]))


PANEL = opening(widths=(900,) * 3, heights=(1200,) * 3, gets_panel=True)
"""A window of 900 by 1200 mm, 500 mm from the left and 900 mm up, that gets a panel."""


@pytest.mark.parametrize(
    ("place", "margin_mm", "keys"),
    [
        (zone(left=1450, bottom=1000), 50, []),
        (zone(left=1450, bottom=1000), 51, ["margin"]),
        (zone(left=370, bottom=1000), 50, []),
        (zone(left=370, bottom=1000), 51, ["margin"]),
        (zone(left=600, bottom=770), 50, []),
        (zone(left=600, bottom=770), 51, ["margin"]),
        (zone(left=600, bottom=2150), 50, []),
        (zone(left=600, bottom=2150), 51, ["margin"]),
        (zone(left=600, bottom=1000), 0, ["margin"]),
    ],
)
def test_what_stays_clear_is_told_where_it_meets_a_panel(place, margin_mm, keys):
    kept = replace(place, margin_ticks=mm(margin_mm))
    assert told(room(PANEL, zones=[kept])) == keys


def test_what_stays_clear_may_meet_an_opening_without_a_panel_or_without_a_place():
    kept = replace(zone(left=600, bottom=1000), margin_ticks=mm(50))
    assert told(room(opening(), zones=[kept])) == []
    unplaced = replace(PANEL, sill_ticks=None)
    assert told(room(unplaced, zones=[kept])) == []


@pytest.mark.parametrize(
    ("reveal_mm", "panel_mm", "keys"),
    [
        (120, 120, []),
        (120, 121, ["reveal"]),
        (None, 121, []),
        (120, None, []),
        (0, 1, ["reveal"]),
    ],
)
def test_a_panel_deeper_than_its_reveal_is_told(reveal_mm, panel_mm, keys):
    window = replace(
        PANEL,
        reveal_depth_ticks=None if reveal_mm is None else mm(reveal_mm),
        panel_depth_ticks=None if panel_mm is None else mm(panel_mm),
    )
    assert told(room(window)) == keys


def test_sentences_name_what_and_how_much():
    (sentence,) = said(room(opening(name="bay {left}", widths=(5001,), at=0)))
    assert sentence == "Bay {left} is 5001 mm wide, but wall A is 5000 mm long."


@pytest.mark.parametrize("key", WORDS)
def test_every_finding_makes_a_sentence(key):
    sentence = Finding(key, "it", (mm(1), mm(2)), "A", "that").sentence(str)
    assert sentence.endswith((".", "?"))
    assert "{" not in sentence


SIZES = st.integers(min_value=1, max_value=9000)


@given(SIZES, SIZES, SIZES, SIZES, st.booleans())
def test_nothing_is_ever_refused(width, height, at, sill, gets_panel):
    measured = room(
        opening(
            widths=(width,), heights=(height,), at=at, sill=sill, gets_panel=gets_panel
        )
    )
    keys = told(measured)
    assert ("beyond" in keys or "wider" in keys) == (at + width > 5000)
    assert ("above" in keys) == (sill + height > 2500)
