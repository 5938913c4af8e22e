import pytest

from shared.drawing import Scale, View
from shared.drawing.plan import (
    Heading,
    door,
    opening_gap,
    room_walls,
    wall_strip,
    window,
)

MM = 320
WIDTH, DEPTH, THICK = 5000 * MM, 3000 * MM, 100 * MM


def walls():
    return room_walls(WIDTH, DEPTH, THICK)


def test_each_wall_begins_where_the_one_before_ends():
    found = walls()
    ends = [wall.spot(wall.length_ticks) for wall in found]
    assert ends == [*(wall.start for wall in found[1:]), found[0].start]


@pytest.mark.parametrize("wall", walls(), ids=lambda w: w.heading.name)
def test_outwards_leaves_the_room(wall):
    x, y = wall.spot(wall.length_ticks // 2, 10)
    assert not (0 <= x <= WIDTH and 0 <= y <= DEPTH)


def test_the_strips_reach_round_the_corners():
    view = View(Scale(50))
    for wall in walls():
        wall_strip(view, wall)
    assert (view.body.width, view.body.height) == pytest.approx((104, 64))


def test_an_opening_is_cut_to_scale():
    view = View(Scale(50))
    opening_gap(view, walls()[0], 1000 * MM, 900 * MM)
    assert view.body.width == pytest.approx(18)
    assert view.body.height == pytest.approx(2)


@pytest.mark.parametrize("wall", walls(), ids=lambda w: w.heading.name)
@pytest.mark.parametrize("hinged_at_end", [False, True])
def test_a_door_swings_into_the_room(wall, hinged_at_end):
    view = View(Scale(50))
    door(view, wall, 500 * MM, 800 * MM, hinged_at_end=hinged_at_end)
    body, room = view.body, View(Scale(50))
    room.rect((0, 0), (WIDTH, DEPTH))
    across, along = (body.height, body.width)
    if wall.heading in (Heading.NORTH, Heading.SOUTH):
        across, along = along, across
    assert along == pytest.approx(16)
    assert across == pytest.approx(16 + 2)
    assert room.body.grown(2).contains(body)


def test_a_window_shows_its_glass():
    view, bare = View(Scale(50)), View(Scale(50))
    window(view, walls()[2], 500 * MM, 800 * MM)
    opening_gap(bare, walls()[2], 500 * MM, 800 * MM)
    assert view.markup().count("<path") == bare.markup().count("<path") + 3
