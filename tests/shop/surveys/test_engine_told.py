"""What is said beside the boxes: held to the vectors that the device is held to, too."""

import json

import pytest

from shared.length import UnitSystem, show
from shop.surveys.engine import Readings, WallRead, opening_told, plan_told
from tests.vectors import make_opening, make_plan

PLANS = json.loads(make_plan.FILE.read_text())
OPENINGS = json.loads(make_opening.FILE.read_text())


def in_mm(ticks):
    return show(ticks, units=UnitSystem.METRIC)


def test_the_vectors_are_those_that_their_makers_write():
    assert list(map(json.dumps, PLANS)) == list(map(json.dumps, make_plan.plans()))
    made = make_opening.openings()
    assert list(map(json.dumps, OPENINGS)) == list(map(json.dumps, made))


def test_the_vectors_hold_all_kinds_of_rooms():
    corners = {wall[2] for _, walls, *_ in PLANS for wall in walls}
    assert corners == {"right", "left", "angle", "diagonal"}
    assert len(PLANS) > 200
    keys = " ".join(said[0] for *_, said in PLANS if said)
    for words in ("close to", "don’t close", "don’t make one", "turn by", "Not read"):
        assert words in keys


@pytest.mark.parametrize("case", PLANS, ids=lambda case: case[0])
def test_tells_whether_walls_close(case):
    _, walls, closing, again, said = case
    told = plan_told([WallRead(*wall) for wall in walls], in_mm)
    assert (told.closing_ticks, list(told.again)) == (closing, again)
    assert list(told.sentences) == said
    if closing is not None:
        assert told.perimeter_ticks == sum(wall[1] for wall in walls)


@pytest.mark.parametrize("case", OPENINGS, ids=lambda case: case[0])
def test_tells_what_follows_from_an_opening(case):
    _, read, smallest, spreads, lean, fit, said = case
    widths, heights, right, left, clearance, panel = read
    told = opening_told(
        Readings(tuple(widths), tuple(heights), right, left),
        in_mm,
        name="bay",
        clearance_ticks=clearance,
        gets_panel=panel,
    )
    shape = told.shape
    assert [shape.width_ticks, shape.height_ticks] == smallest
    assert [shape.width_spread_ticks, shape.height_spread_ticks] == spreads
    assert (round(shape.lean.lean_ticks) if shape.lean else None) == lean
    found = told.fit
    assert (found and [found.width_ticks, found.height_ticks, found.goes_in]) == fit
    assert list(told.sentences) == said


def test_a_room_of_two_walls_is_told_nothing():
    assert plan_told([WallRead("A", 320), WallRead("B", 320)], in_mm).sentences == ()
