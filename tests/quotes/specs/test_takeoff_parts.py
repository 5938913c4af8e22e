from decimal import Decimal

import pytest

from quotes.specs.engine.model import (
    BackStyle,
    Battens,
    Blocking,
    ClothRole,
    EndCut,
    Face,
    Feet,
    Hanging,
    Joint,
    Lies,
    PanelKind,
    PartRole,
    PointRule,
    Position,
    Runs,
    TakeoffError,
    Through,
)
from tests.factories.takeoff import (
    brace,
    build,
    cleat_brace,
    fabric,
    mm,
    rack,
    sheet,
    taken,
    wall_build,
    wool,
)

WIDE, TALL = mm(600), mm(1200)


def extents(part):
    return [
        (box.x_ticks, box.y_ticks, box.width_ticks, box.height_ticks)
        for box in part.places
    ]


def test_rails_run_through_and_stiles_stand_between():
    rail, stile = taken(build(through=Through.WIDTH)).parts
    assert extents(rail) == [
        (0, 0, mm(600), mm(15)),
        (0, mm(1185), mm(600), mm(15)),
    ]
    assert extents(stile) == [
        (0, mm(15), mm(15), mm(1170)),
        (mm(585), mm(15), mm(15), mm(1170)),
    ]
    assert stile.how == "1200 mm − 2 × 15 mm = 1170 mm"


def test_sizes_say_how_they_follow():
    assert taken().size_how == (
        "frame 600 × 1200 mm + 3.2 mm of fabric each way = finished 603.2 × 1203.2 mm"
    )


def test_stiles_run_through_and_rails_lie_between():
    rail, stile = taken(build(through=Through.HEIGHT)).parts
    assert rail.cut_length_ticks == mm(570)
    assert extents(rail)[0] == (mm(15), 0, mm(570), mm(15))
    assert stile.cut_length_ticks == mm(1200)


@pytest.mark.parametrize(
    ("joint", "end", "inside"),
    [(Joint.MITRE, EndCut.MITRE, 570), (Joint.HALF_LAP, EndCut.HALF_LAP, 600)],
)
def test_mitred_and_lapped_members_are_full_length(joint, end, inside):
    rail, stile = taken(build(joint=joint)).parts
    assert (rail.cut_length_ticks, stile.cut_length_ticks) == (mm(600), mm(1200))
    assert rail.inside_length_ticks == mm(inside)
    assert rail.end is end


def test_bevelled_stile_is_shorter_outside():
    corner = build(
        kind=PanelKind.CORNER,
        hanging=Hanging.BATTENS,
        points=None,
        battens=Battens(strip_ticks=mm(45), stock="board", end_gap_ticks=mm(50)),
        through=Through.HEIGHT,
        stile_bevel_deg=45.0,
    )
    panel = taken(corner)
    (stile,) = panel.parts_of(PartRole.STILE)
    (batten,) = panel.parts_of(PartRole.BATTEN)
    assert (stile.long_face_ticks, stile.short_face_ticks) == (mm(100), mm(85))
    assert (batten.count, batten.cut_length_ticks) == (2, mm(1100))
    assert not batten.on_panel


def test_wall_cleat_comes_out_of_its_mates_blank():
    panel = taken(wall_build())
    labels = [blank.label for blank in panel.blanks]
    assert labels == ["rail", "stile", "cleat brace and wall cleat"]
    assert panel.blanks[2].bevel_deg == 45
    (wall,) = panel.parts_of(PartRole.WALL_CLEAT)
    (mate,) = panel.parts_of(PartRole.PANEL_CLEAT)
    assert wall.long_face_ticks == mate.long_face_ticks
    assert not wall.on_panel


def test_blank_of_stock_with_no_width_tells_no_strips():
    endless = sheet(width_ticks=0, length_ticks=0)
    panel = taken(build(), mm(9000), stock=rack(endless))
    assert panel.blanks[0].per_sheet == 0


def test_feet_stand_under_the_frame_square_to_it():
    made = build(
        kind=PanelKind.SCREEN,
        hanging=Hanging.FEET,
        points=None,
        feet=Feet(length_ticks=mm(400), strip_ticks=mm(45), stock="board", count=3),
    )
    (foot,) = taken(made).parts_of(PartRole.FOOT)
    assert [box.x_ticks for box in foot.places] == [mm(40), mm(290), mm(540)]
    assert {box.y_ticks for box in foot.places} == {-mm(45)}
    assert {box.z_ticks for box in foot.places} == {-mm(150)}


def blocks(points, **fields):
    usual = {"length_ticks": mm(120), "width_ticks": mm(80)}
    made = build(points=points, blocking=Blocking(**(usual | fields)))
    return taken(made).parts_of(PartRole.BLOCK)[0]


def test_blocks_lie_against_the_stiles_flush_with_the_back():
    part = blocks(PointRule(inset_ticks=mm(50)), layers=2)
    assert part.count == 8
    low_left, low_right = part.places[:2]
    assert (low_left.x_ticks, low_left.y_ticks) == (mm(15), mm(15))
    assert low_right.x_ticks == mm(600 - 15 - 80)
    assert (low_left.z_ticks, low_left.depth_ticks) == (mm(70), mm(30))


def test_blocks_between_the_corners_lie_against_the_rail():
    part = blocks(PointRule(across=3, inset_ticks=mm(50)))
    middle = [box for box in part.places if box.width_ticks == mm(120)]
    assert [(box.x_ticks, box.y_ticks) for box in middle] == [
        (mm(240), mm(15)),
        (mm(240), mm(1200 - 15 - 80)),
    ]


def fills(made, width=WIDE, height=TALL, **stock):
    pieces = taken(made, width, height, rack(wool(**stock))).fills
    return sorted((p.width_ticks, p.height_ticks, p.count) for p in pieces)


def test_one_piece_fills_a_plain_frame():
    assert fills(build(fill="wool")) == [(mm(570), mm(1170), 1)]


def test_a_wide_frame_takes_whole_boards_first():
    panel = taken(build(fill="wool"), mm(1230), mm(1230))
    assert [(p.width_ticks, p.height_ticks, p.count) for p in panel.fills] == [
        (mm(600), mm(1200), 2)
    ]
    assert panel.fills[0].whole_board


def test_boards_are_laid_the_way_that_takes_fewer_pieces():
    assert fills(build(fill="wool"), mm(1230), mm(630)) == [(mm(1200), mm(600), 1)]


def test_fill_off_a_roll_is_one_piece_however_long():
    long = fills(build(fill="wool"), height=mm(2400), length_ticks=0)
    assert long == [(mm(570), mm(2370), 1)]


def test_rests_are_cut_from_boards():
    pieces = fills(build(fill="wool"), mm(1330), mm(1330))
    assert pieces == [
        (mm(100), mm(100), 1),
        (mm(100), mm(1200), 1),
        (mm(600), mm(100), 2),
        (mm(600), mm(1200), 2),
    ]


def test_braces_on_edge_divide_the_fill():
    across = brace(lies=Lies.ON_EDGE)
    upright = brace(
        name="post", runs=Runs.UPRIGHT, lies=Lies.ON_EDGE, strip_ticks=mm(20)
    )
    assert fills(build(fill="wool", braces=(across,))) == [(mm(570), mm("577.5"), 2)]
    assert fills(build(fill="wool", braces=(upright,))) == [(mm(570), mm(1170), 1)]


def test_two_layers_and_oversize():
    made = build(
        fill="wool", fill_layers=2, fill_oversize_ticks=mm(5), depth_ticks=mm(150)
    )
    assert fills(made) == [(mm(575), mm(1175), 2)]
    assert taken(made).fills[0].how == "1 × 2 layers = 2"


def test_no_fill_leaves_the_whole_depth():
    depths = taken(build()).depths
    assert (depths.fill_ticks, depths.air_behind_ticks) == (0, mm(100))


def test_depths_add_up():
    depths = taken(build(fill="wool", fill_setback_front_ticks=mm(3))).depths
    shares = depths.air_front_ticks + depths.fill_ticks + depths.air_behind_ticks
    assert shares == mm(100)
    assert depths.how == (
        "100 mm − 3 mm in front − 75 mm of fill − 0 mm behind it = 22 mm left"
    )


def test_fill_thicker_than_its_depth_says_what_would_work():
    front = brace(from_face=Face.FRONT, setback_ticks=mm(15))
    with pytest.raises(TakeoffError) as refused:
        taken(build(fill="wool", braces=(front,)))
    assert refused.value.field == "fill"
    assert "70 mm is free" in refused.value.message
    assert "Use fill up to 70 mm or a frame at least 105 mm deep" in str(refused.value)


def test_no_depth_for_any_fill():
    made = build(fill="wool", depth_ticks=mm(20), fill_setback_front_ticks=mm(25))
    with pytest.raises(TakeoffError, match="Use a frame at least 100 mm deep"):
        taken(made)


def cloth(role, made, **fields):
    panel = taken(made, stock=rack(fabric(**fields)))
    return next(c for c in panel.cloths if c.role is role)


def test_lining_covers_the_face_and_turns_over_its_sides():
    made = build(front_lining="cloth", turn_ticks=mm(15))
    lining = cloth(ClothRole.LINING, made)
    assert (lining.width_ticks, lining.height_ticks) == (mm(630), mm(1230))


def test_back_over_the_edge_is_the_frame_and_its_turns():
    made = build(
        back_fabric="cloth", back_style=BackStyle.OVER_BACK_EDGE, turn_ticks=mm(10)
    )
    back = cloth(ClothRole.BACK, made)
    assert (back.width_ticks, back.height_ticks) == (mm(620), mm(1220))


def test_cloth_with_a_nap_is_not_turned():
    made = build(front_fabric="cloth", wrap_ticks=mm(50))
    (lay,) = cloth(ClothRole.FRONT, made, directional=True).lays
    assert not lay.turned


def test_cloth_wider_than_the_roll_says_what_would_work():
    made = build(front_fabric="cloth", wrap_ticks=mm(50))
    with pytest.raises(TakeoffError) as refused:
        cloth(ClothRole.FRONT, made, width_ticks=mm(800), directional=True)
    assert refused.value.field == "front_fabric"
    assert "its nap must run up the panel" in refused.value.message
    assert "keep the width to 500 mm" in refused.value.message


def test_cloth_that_no_size_would_save():
    made = build(front_fabric="cloth", wrap_ticks=mm(50))
    with pytest.raises(TakeoffError) as refused:
        cloth(ClothRole.FRONT, made, width_ticks=mm(300))
    assert "keep" not in refused.value.message


def test_roll_shorter_than_the_piece():
    made = build(front_fabric="cloth", wrap_ticks=mm(50))
    front = cloth(ClothRole.FRONT, made, length_ticks=mm(1000))
    assert [lay.turned for lay in front.lays] == [True]
    assert not front.needs_seam


def test_roll_just_long_enough():
    made = build(front_fabric="cloth", wrap_ticks=mm(50))
    front = cloth(ClothRole.FRONT, made, length_ticks=mm(900))
    assert [lay.along_ticks for lay in front.lays] == [mm(900)]


def seamed(**fields):
    made = build(
        front_fabric="cloth", wrap_ticks=mm(50), allow_seam=True, seam_ticks=mm(10)
    )
    return cloth(ClothRole.FRONT, made, **({"width_ticks": mm(800)} | fields))


def test_seam_joins_drops_of_the_roll():
    # 900 × 1500 from 800: two drops of 460 up, or two of 760 turned, which is shorter
    front = seamed()
    best, other = front.lays
    assert (best.turned, best.drops, best.along_ticks) == (True, 2, 2 * mm(900))
    assert best.across_ticks == mm(760)
    assert (other.drops, other.along_ticks) == (2, 2 * mm(1500))
    assert front.seam_ticks == mm(900)
    assert front.needs_seam


def test_seam_of_a_cloth_with_a_nap_runs_up():
    front = seamed(directional=True)
    assert [lay.turned for lay in front.lays] == [False]
    assert front.seam_ticks == mm(1500)


def test_roll_no_wider_than_its_seams():
    with pytest.raises(TakeoffError):
        seamed(width_ticks=mm(20))


def test_cleat_brace_lower_down_takes_nothing_from_the_back_cloth():
    made = wall_build(
        braces=(cleat_brace(position=Position.FRACTION, fraction=Decimal("0.8")),),
        back_fabric="cloth",
        back_style=BackStyle.INSIDE_FRAME,
        turn_ticks=0,
    )
    assert cloth(ClothRole.BACK, made).height_ticks == mm(1170)
