"""Studs and joists against their wall, their spacing, and what stands beside them."""

from dataclasses import replace

import pytest

from shop.surveys.engine import Framing, contradictions
from shop.surveys.engine.framing import odd_gap
from tests.factories.surveys import mm
from tests.shop.surveys.rooms import opening, room


def framing(*found_mm, every=400, run=""):
    return Framing(tuple(map(mm, found_mm)), every and mm(every), run)


def behind(made, *openings):
    measured = room(*openings)
    walls = (replace(measured.walls[0], framing=made), *measured.walls[1:])
    return replace(measured, walls=walls)


def told(measured):
    return [found.key for found in contradictions(measured)]


@pytest.mark.parametrize(
    "found_mm",
    [
        (),
        (400,),
        (400, 800, 1200),
        (1200, 400, 800),  # as they were found
        (400, 1600, 2000),  # two that nobody looked for
        (400, 819, 1200),  # found at its edge
    ],
)
def test_studs_that_keep_their_spacing_are_not_told(found_mm):
    assert told(behind(framing(*found_mm))) == []


@pytest.mark.parametrize(
    ("found_mm", "worst_mm"), [((400, 840), 440), ((400, 1000), 600), ((400, 560), 160)]
)
def test_studs_that_do_not_are_told_by_the_worst_distance(found_mm, worst_mm):
    (found,) = contradictions(behind(framing(*found_mm)))
    assert found.key == "studs_apart"
    assert found.amounts_ticks == (mm(worst_mm), mm(400))


def test_without_a_noted_spacing_nothing_is_expected():
    assert odd_gap(framing(400, 560, 1333, every=None), ()) is None


def test_studs_beside_an_opening_keep_no_spacing():
    window = opening(at=1000, widths=(900,))
    studs = framing(400, 800, 950, 1950, 2400, 2800)
    assert told(behind(studs, window)) == []
    assert told(behind(studs)) == ["studs_apart"]


def test_a_stud_beyond_its_wall_is_told():
    assert told(behind(framing(5000))) == []
    (found,) = contradictions(behind(framing(5001)))
    assert (found.key, found.wall) == ("stud_beyond", "A")
    assert found.amounts_ticks == (mm(5001), mm(5000))


@pytest.mark.parametrize(
    ("run", "at_mm", "keys"),
    [
        ("along", 4000, []),
        ("along", 4001, ["joist_beyond"]),
        ("across", 5000, []),
        ("across", 5001, ["joist_beyond"]),
        ("", 5000, []),
        ("", 5001, ["joist_beyond"]),
    ],
)
def test_a_joist_beyond_the_room_is_told_by_the_way_it_runs(run, at_mm, keys):
    measured = replace(room(), joists=framing(at_mm, run=run))
    assert told(measured) == keys


def test_joists_out_of_their_spacing_are_told():
    measured = replace(room(), joists=framing(400, 1010, every=600))
    assert told(measured) == []
    measured = replace(room(), joists=framing(400, 1030, every=600))
    assert told(measured) == ["joists_apart"]
