from decimal import Decimal

import pytest

from quotes.specs.engine.geometry import evenly
from quotes.specs.engine.model import (
    Battens,
    Blocking,
    CleatRule,
    EdgeRule,
    Face,
    Feet,
    Hanging,
    PanelKind,
    PointRule,
    Position,
    Severity,
    TakeoffError,
    Through,
)
from tests.factories.takeoff import (
    board,
    brace,
    build,
    cleat_brace,
    hardware,
    mm,
    rack,
    sheet,
    taken,
    wall_build,
)

WIDE, TALL = mm(600), mm(1200)


def refusal(made, width=WIDE, height=TALL, stock=None):
    with pytest.raises(TakeoffError) as refused:
        taken(made, width, height, stock)
    return refused.value


def test_points_along_the_edges_only():
    made = build(points=PointRule(across=3, down=3, inset_ticks=mm(50)))
    points = taken(made).hang.points
    assert len(points) == 8
    assert (mm(300), mm(600)) not in [(p.x_ticks, p.y_ticks) for p in points]


def test_one_row_of_points_near_the_top():
    made = build(points=PointRule(down=1, inset_ticks=mm(50)))
    points = taken(made).hang.points
    assert [(p.x_ticks, p.y_ticks) for p in points] == [
        (mm(50), mm(1150)),
        (mm(550), mm(1150)),
    ]


def test_spacing_adds_points():
    made = build(points=PointRule(inset_ticks=mm(50), max_spacing_ticks=mm(600)))
    points = taken(made).hang.points
    assert sorted({p.y_ticks for p in points}) == [mm(50), mm(600), mm(1150)]
    assert len(points) == 6


def test_points_of_one_column_lie_on_the_middle_line():
    made = build(points=PointRule(across=1, down=2, inset_ticks=mm(50)))
    assert {p.x_ticks for p in taken(made).hang.points} == {mm(300)}


def test_points_that_would_meet():
    error = refusal(build(points=PointRule(inset_ticks=mm(50))), width=mm(100))
    assert error.field == "width_ticks"
    assert "go over 100 mm" in error.message


def test_one_column_of_points_needs_no_room_between_its_insets():
    made = build(points=PointRule(across=1, down=2, inset_ticks=mm(50)))
    assert {p.x_ticks for p in taken(made, mm(80)).hang.points} == {mm(40)}


def test_places_are_mirrored_exactly():
    for count in range(2, 9):
        places = evenly(7, 1000, count)
        assert [1007 - p for p in reversed(places)] == pytest.approx(places, abs=1)
        assert (places[0], places[-1]) == (7, 1000)


def test_fixed_wall_cleat():
    made = wall_build(cleat=CleatRule(wall_fixed_ticks=mm(400)))
    (wall,) = taken(made).hang.wall_cleats
    assert wall.length_ticks == mm(400)
    assert wall.left_ticks == mm(100)


def test_wall_cleat_is_rounded_to_its_step_and_no_shorter_than_its_least():
    def length(**rule):
        (wall,) = taken(wall_build(cleat=CleatRule(**rule))).hang.wall_cleats
        return wall.length_ticks

    assert length(wall_share=Decimal("0.333"), step_ticks=mm(50)) == mm(200)
    assert length(wall_share=Decimal("0.1"), wall_min_ticks=mm(150)) == mm(150)


def test_holes_of_a_wall_cleat_keep_their_spacing():
    rule = CleatRule(
        wall_fixed_ticks=mm(500), hole_inset_ticks=mm(25), hole_spacing_ticks=mm(200)
    )
    (wall,) = taken(wall_build(cleat=rule)).hang.wall_cleats
    assert wall.holes == (mm(25), mm(175), mm(325), mm(475))


def test_one_hole_lies_in_the_middle():
    rule = CleatRule(holes=1, wall_fixed_ticks=mm(40), hole_inset_ticks=mm(25))
    (wall,) = taken(wall_build(cleat=rule)).hang.wall_cleats
    assert wall.holes == (mm(20),)


def test_one_hole_stays_one_on_a_cleat_shorter_than_its_insets():
    rule = CleatRule(
        holes=1, wall_fixed_ticks=mm(40), hole_inset_ticks=mm(25), hole_spacing_ticks=1
    )
    (wall,) = taken(wall_build(cleat=rule)).hang.wall_cleats
    assert wall.holes == (mm(20),)


def test_holes_that_would_meet():
    rule = CleatRule(wall_fixed_ticks=mm(50), hole_inset_ticks=mm(25))
    assert refusal(wall_build(cleat=rule)).field == "cleat"


def test_wall_cleat_longer_than_the_opening():
    error = refusal(wall_build(cleat=CleatRule(wall_fixed_ticks=mm(571))))
    assert error.field == "width_ticks"
    assert "does not fit inside the frame" in error.message


def two(**rule):
    usual = {"two_over_ticks": mm(500), "two_travel_ticks": mm(30)}
    return wall_build(cleat=CleatRule(**(usual | rule)))


def test_two_wall_cleats_leave_their_travel():
    hang = taken(two()).hang
    first, second = hang.wall_cleats
    assert (first.left_ticks, second.left_ticks) == (mm(45), mm(405))
    assert hang.travel_ticks == mm(30)


def test_two_wall_cleats_longer_than_their_mate():
    error = refusal(two(wall_fixed_ticks=mm(284), two_travel_ticks=0))
    assert error.field == "cleat"
    assert "570 mm" in error.message


def test_two_wall_cleats_longer_than_the_opening():
    error = refusal(two(wall_fixed_ticks=mm(300), two_travel_ticks=0))
    assert error.field == "width_ticks"


def test_cleat_with_no_travel_is_flagged():
    rule = CleatRule(wall_fixed_ticks=mm(570))
    (flag,) = taken(wall_build(cleat=rule)).flags
    assert (flag.field, flag.severity) == ("cleat", Severity.FLAG)


def test_two_bevelled_braces_hang_on_two_rows():
    low = cleat_brace(
        name="low cleat", position=Position.FRACTION, fraction=Decimal("0.3")
    )
    hang = taken(wall_build(braces=(cleat_brace(), low))).hang
    assert len({wall.below_top_ticks for wall in hang.wall_cleats}) == 2


def corner(**rule):
    usual = {"strip_ticks": mm(45), "stock": "board"}
    return build(
        kind=PanelKind.CORNER,
        hanging=Hanging.BATTENS,
        points=None,
        through=Through.HEIGHT,
        stile_bevel_deg=45.0,
        battens=Battens(**(usual | rule)),
    )


def test_corner_panel_touches_its_battens_at_its_width_over_root_two():
    # battens 20 mm thick put their corner 20 mm off each wall, 20 √2 along the middle
    hang = taken(corner()).hang
    assert hang.batten_ticks == pytest.approx(mm("444.264"), abs=1)
    assert hang.projection_ticks == pytest.approx(mm("413.284"), abs=1)


def test_no_batten_left():
    error = refusal(corner(end_gap_ticks=mm(600)))
    assert (error.field, "over 1200 mm" in error.message) == ("height_ticks", True)


def test_batten_wider_than_its_board():
    assert refusal(corner(strip_ticks=mm(46))).field == "battens"


def screen(**rule):
    usual = {"length_ticks": mm(400), "strip_ticks": mm(45), "stock": "board"}
    return build(
        kind=PanelKind.SCREEN,
        hanging=Hanging.FEET,
        points=None,
        feet=Feet(**(usual | rule)),
    )


def test_screen_tips_where_its_mass_passes_the_foots_end():
    hang = taken(screen()).hang
    assert hang.stand_ticks == mm(45)
    # half a foot of 200 mm under a mass about 595 mm up, its feet counted
    assert 17 < hang.tip_deg < 20


def test_longer_feet_tip_later():
    longer = taken(screen(length_ticks=mm(600))).hang.tip_deg
    assert longer > taken(screen()).hang.tip_deg


def test_feet_that_would_meet():
    error = refusal(screen(inset_ticks=mm(290)))
    assert error.field == "width_ticks"
    assert "620 mm or more" in error.message


def test_feet_that_just_fit():
    assert taken(screen(inset_ticks=mm(280))).parts


def test_foot_longer_than_its_board():
    error = refusal(screen(length_ticks=mm(2500)))
    assert error.field == "feet"
    assert "2400 mm" in error.message


def reveal(strip_mm):
    made = build(
        kind=PanelKind.REVEAL,
        hanging=Hanging.EDGE,
        points=None,
        edge=EdgeRule(clearance_ticks=mm(3), strip="foam", compressed_ticks=mm(4)),
    )
    return taken(made, stock=rack(hardware("foam", thickness_ticks=mm(strip_mm))))


def test_edge_strip_that_would_not_hold_is_flagged():
    assert [p.field for p in reveal(4).flags] == ["edge"]
    assert reveal(8).flags == ()


def test_opening_too_small_says_what_would_work():
    made = build(
        kind=PanelKind.REVEAL,
        hanging=Hanging.EDGE,
        points=None,
        finished_growth_ticks=mm(3),
        edge=EdgeRule(clearance_ticks=mm(3)),
    )
    assert "go over 39 mm" in refusal(made, width=mm(39)).message
    assert taken(made, mm(40)).parts


def test_edge_strip_widens_the_gap():
    assert reveal(8).finished.width_ticks == mm(592)


def hung(block=(120, 80), inset=50, **fields):
    length, width = block
    rule = Blocking(length_ticks=mm(length), width_ticks=mm(width))
    return build(points=PointRule(inset_ticks=mm(inset)), blocking=rule, **fields)


def test_points_without_blocking_are_flagged():
    (flag,) = taken(build()).flags
    assert flag.field == "blocking"
    assert "no rating" in flag.message
    assert taken(hung()).flags == ()


def test_point_that_misses_its_block_says_where_it_should_be():
    error = refusal(hung(inset=100))
    assert error.field == "points"
    assert "55 mm from the edges" in error.message


@pytest.mark.parametrize("block", [(1200, 80), (120, 580)])
def test_block_longer_than_the_frame(block):
    assert refusal(hung(block=block)).field == "blocking"


def test_block_deeper_than_the_frame():
    thick = board("thick", thickness_ticks=mm(101), width_ticks=mm(200))
    made = build(
        points=PointRule(inset_ticks=mm(50)),
        blocking=Blocking(mm(120), mm(80), stock="thick"),
    )
    assert refusal(made, stock=rack(thick)).field == "blocking"


def test_blocks_that_run_into_each_other():
    error = refusal(hung(block=(600, 80)), height=mm(1200))
    assert "run into each other" in error.message


def test_block_in_a_braces_way():
    made = hung(braces=(brace(position=Position.TIGHT_TOP),))
    assert "runs into a brace" in refusal(made).message


def test_block_behind_a_brace_at_the_front_is_fine():
    made = hung(braces=(brace(position=Position.TIGHT_TOP, from_face=Face.FRONT),))
    assert taken(made).parts


@pytest.mark.parametrize(
    ("width", "height", "field", "most"),
    [(2500, 600, "width_ticks", "2440"), (600, 2500, "height_ticks", "2470")],
)
def test_part_longer_than_its_sheet_says_what_would_work(width, height, field, most):
    error = refusal(build(), mm(width), mm(height))
    assert error.field == field
    assert f"to {most} mm" in error.message
    again = {"width_ticks": width, "height_ticks": height} | {field: int(most)}
    assert taken(build(), mm(again["width_ticks"]), mm(again["height_ticks"]))


def test_frame_deeper_than_its_sheet_is_wide():
    error = refusal(build(), stock=rack(sheet(width_ticks=mm(90))))
    assert error.field == "depth_ticks"
    assert "100 mm wide" in error.message


def test_brace_wider_than_its_board():
    error = refusal(build(braces=(brace(stock="board"),)))
    assert error.field == "braces"


@pytest.mark.parametrize(
    ("width", "height", "field"),
    [(1200, 2400, "height_ticks"), (2400, 1200, "width_ticks")],
)
def test_more_than_one_person_lifts_is_flagged_beside_the_longer_side(
    width, height, field
):
    made = build(fill="wool", one_person_kg=10.0)
    flags = taken(made, mm(width), mm(height)).flags
    assert flags[0].field == field
    assert "over 10.0 kg for one person" in flags[0].message
