"""Where to fix what holds a panel, in words, from the frozen plan."""

import pytest

from jobs.board.adapter import carried_of
from jobs.visits.engine import where_to_fix
from shared.length import UnitSystem
from tests.factories.jobs import full_snapshot


def words(build, width, height, units=UnitSystem.METRIC):
    made = full_snapshot(client_id="c", kinds=((build, width, height, 1),), units=units)
    part = made | {
        "takeoff": made["groups"]["g0"]["takeoff"],
        "build": made["builds"][build],
        "room": made["rooms"][0],
    }
    takeoff = carried_of(part).takeoff
    return where_to_fix(takeoff.hang, takeoff.frame, units=units)


def test_a_cleat_is_placed_from_the_panels_own_edges():
    cleat, holes, slides = words("wall-panel", 600, 1200)
    assert cleat.startswith("Cleat 300 mm long: upper edge ")
    assert "left end 150 mm in from its left edge" in cleat
    assert holes == "Holes 25 mm and 275 mm from the cleat’s left end."
    assert slides.startswith("Slides 125 mm each way. Keep 35 mm free above")


def test_a_wide_panel_has_two_numbered_cleats():
    lines = words("wall-panel", 1800, 600)
    assert [line[:7] for line in lines if line.startswith("Cleat")] == [
        "Cleat 1",
        "Cleat 2",
    ]


def test_points_come_with_how_far_the_ceiling_fixings_are_apart():
    points, ceiling = words("hung-panel", 1200, 900)
    assert points.startswith("4 points: 50 mm and 1150 mm from the left")
    assert "1100 mm apart across and 800 mm along" in ceiling


@pytest.mark.parametrize(
    ("build", "start"),
    [
        ("corner-panel", "On both walls the battens reach "),
        ("reveal-panel", "Held by its edge strip, 3 mm all round."),
        ("screen", "Stands on its own feet."),
    ],
)
def test_the_other_ways_of_holding(build, start):
    assert words(build, 600, 1200)[0].startswith(start)


def test_inches_are_printed_as_a_tape_shows_them():
    lines = words("wall-panel", 610, 1219, UnitSystem.IMPERIAL)
    assert '12"' in lines[0] or "12 in" in lines[0]
    assert " mm" not in " ".join(lines)
