"""Bench and site practice as settings of a build, and openings by their readings.

Every row is common practice [CP] with no source, unless marked S (text read) or D
(derived): one usual way that a shop changes in its build spec.
"""

import pytest

from quotes.specs.engine.geometry import rise_ticks, side_travel
from quotes.specs.engine.model import (
    BackStyle,
    CleatRule,
    ClothRole,
    Driver,
    EdgeRule,
    Face,
    Hanging,
    NominalSize,
    PanelKind,
    PartRole,
    PointRule,
    Size,
)
from quotes.specs.engine.preset_stock import preset_stock
from quotes.specs.engine.presets import five_builds
from shared.length import UnitSystem, to_inches
from tests.factories.takeoff import (
    brace,
    build,
    cleat_brace,
    inch,
    mm,
    rack,
    sheet,
    taken,
    wall_build,
    wool,
)

IMPERIAL_RACK = rack(
    sheet(thickness_ticks=inch("0.625")), wool(thickness_ticks=inch(3))
)


def wall_panel(**fields):
    """A 24 × 48 wall panel: 4 in strips of 5/8 in stock, 1/8 in kerf."""
    usual = {
        "depth_ticks": inch(4),
        "kerf_ticks": inch("0.125"),
        "braces": (cleat_brace(strip_ticks=inch(4)),),
        "cleat": CleatRule(step_ticks=inch("0.25"), margin_ticks=inch(1)),
    }
    return taken(wall_build(**(usual | fields)), inch(24), inch(48), IMPERIAL_RACK)


def test_cleat_pair_from_a_four_inch_strip():
    # 4 in strip, 5/8 thick, 1/8 kerf, 45°: long 2.224, short 1.599 in; 1e-3
    (cleat,) = wall_panel().parts_of(PartRole.PANEL_CLEAT)
    assert to_inches(cleat.long_face_ticks) == pytest.approx(2.224, abs=1e-3)
    assert to_inches(cleat.short_face_ticks) == pytest.approx(1.599, abs=1e-3)


def test_wall_cleats_edge_lies_one_long_face_below_the_braces_top():
    panel = wall_panel()
    (wall,) = panel.hang.wall_cleats
    below_brace = wall.below_top_ticks - inch("0.625")
    assert to_inches(below_brace) == pytest.approx(2.224, abs=1e-3)


def test_panel_is_lifted_by_the_stocks_thickness_and_a_finger():
    rule = CleatRule(finger_ticks=inch("0.75"))
    hang = wall_panel(cleat=rule).hang
    assert hang.lift_ticks == inch("0.625")
    assert hang.headroom_ticks == inch("0.625") + inch("0.75")


def test_wall_cleat_of_a_24_inch_panel_is_12_inches_with_two_holes():
    (wall,) = wall_panel().hang.wall_cleats
    assert wall.length_ticks == inch(12)
    assert len(wall.holes) == 2


def test_sideways_travel_of_a_24_inch_panel():
    # min((22-3/4 − 12) / 2, 12 / 2 − 1) = min(5-3/8, 5) = 5 in; exact
    assert side_travel(inch("22.75"), inch(12), inch(1)) == inch(5)
    assert wall_panel().hang.travel_ticks == inch(5)


def test_sideways_travel_when_the_frame_is_the_limit():
    assert side_travel(inch("22.75"), inch(12), 0) == inch("5.375")


def test_a_wide_panel_gets_a_longer_cleat_or_two():
    rule = CleatRule(two_over_ticks=mm(1000), two_travel_ticks=mm(50))
    one = taken(wall_build(), mm(1200)).hang.wall_cleats
    two = taken(wall_build(cleat=rule), mm(1200)).hang.wall_cleats
    assert [cleat.length_ticks for cleat in one] == [mm(600)]
    assert [cleat.length_ticks for cleat in two] == [mm(300), mm(300)]


@pytest.mark.parametrize("preset", [0, 1, 2, 3, 4])
def test_three_to_four_nails_a_joint_make_12_to_16_a_frame(preset):
    made = five_builds()[preset]
    each = [i for i in made.items if i.material == "nail" and i.driver is Driver.JOINT]
    (nails,) = each
    assert 3 <= nails.quantity <= 4
    assert 12 <= nails.quantity * 4 <= 16
    assert made.glued


def test_hanging_points_lie_two_inches_in_from_each_edge():
    # 2 in in, 20 in apart across 24 in; exact
    made = build(depth_ticks=inch(4), points=PointRule(inset_ticks=inch(2)))
    points = taken(made, inch(24), inch(48), IMPERIAL_RACK).hang.points
    assert {p.x_ticks for p in points} == {inch(2), inch(22)}
    assert {p.y_ticks for p in points} == {inch(2), inch(46)}


def test_quarter_of_an_inch_is_left_behind_three_inches_of_fill():
    # 4 in frame, 3 in fill, 5/8 flat brace, 1/8 set-back: 1/4 in left; exact
    made = build(
        depth_ticks=inch(4),
        fill="wool",
        fill_setback_front_ticks=inch("0.125"),
        braces=(brace(),),
    )
    depths = taken(made, inch(24), inch(48), IMPERIAL_RACK).depths
    assert depths.slack_ticks == inch("0.25")
    assert depths.air_front_ticks == inch("0.125")


def test_set_back_brace_in_front_keeps_the_fill_off_the_fabric():
    # cloud brace 1/8 in behind the face, 5/8 in thick: fill starts 3/4 in behind
    front = brace(from_face=Face.FRONT, setback_ticks=inch("0.125"))
    made = build(depth_ticks=inch(4), fill="wool", braces=(front,))
    depths = taken(made, inch(24), inch(48), IMPERIAL_RACK).depths
    assert depths.air_front_ticks == inch("0.75")
    assert depths.slack_ticks == inch("0.25")


def test_back_fabric_of_a_wall_panel_lies_inside_and_leaves_the_cleat_bare():
    panel = wall_panel(
        back_fabric="cloth", back_style=BackStyle.INSIDE_FRAME, turn_ticks=0
    )
    back = next(c for c in panel.cloths if c.role is ClothRole.BACK)
    (cleat,) = panel.parts_of(PartRole.PANEL_CLEAT)
    assert back.width_ticks == panel.clear.width_ticks
    assert back.height_ticks == panel.clear.height_ticks - cleat.long_face_ticks


def test_back_fabric_of_a_hung_panel_goes_on_after_the_fill():
    made = build(fill="wool", back_fabric="cloth", back_style=BackStyle.OVER_BACK_EDGE)
    panel = taken(made)
    keys = [step.key for step in panel.steps]
    assert keys.index("fill") < keys.index("back")
    assert panel.cloths[0].width_ticks >= panel.frame.width_ticks


def test_three_sizes_differ_by_an_eighth_of_an_inch_of_fabric():
    made = build(depth_ticks=inch(4), finished_growth_ticks=inch("0.125"))
    panel = taken(made, inch(24), inch(48), IMPERIAL_RACK)
    assert panel.frame.width_ticks == inch(24)
    assert panel.finished.width_ticks == inch("24.125")
    assert panel.finished.height_ticks == inch("48.125")


def reveal(**edge):
    return build(
        kind=PanelKind.REVEAL,
        hanging=Hanging.EDGE,
        points=None,
        depth_ticks=inch(4),
        finished_growth_ticks=inch("0.125"),
        edge=EdgeRule(**edge),
    )


def test_reveal_panel_is_the_smallest_reading_less_clearance_less_fabric():
    # smallest − 1/8 in a side [CP], less 1/8 in of fabric; exact
    opening = NominalSize.smallest_of(
        (inch("36.125"), inch(36), inch("36.0625")), (inch(48), inch("48.125"))
    )
    made = reveal(clearance_ticks=inch("0.125"))
    panel = taken(made, opening.width_ticks, opening.height_ticks, IMPERIAL_RACK)
    assert (panel.nominal.width_ticks, panel.nominal.height_ticks) == (
        inch(36),
        inch(48),
    )
    assert panel.finished.width_ticks == inch("35.75")
    assert panel.frame.width_ticks == inch("35.625")
    assert panel.frame.height_ticks == inch("47.625")


def test_three_millimetres_clearance_a_side():
    made = reveal(clearance_ticks=mm(3))
    panel = taken(made, mm(914), mm(1219))
    assert panel.finished.width_ticks == mm(908)
    assert panel.hang.gap_ticks == mm(3)
    assert panel.size_how.startswith("opening 914 × 1219 mm − 2 × 3 mm of gap")


@pytest.mark.parametrize(
    ("sides", "diagonal", "tolerance"),
    [((inch(36), inch(48)), inch(60), 0), ((mm(914), mm(1219)), mm("1523.600"), 1)],
)
def test_diagonal_of_a_square_frame(sides, diagonal, tolerance):
    size = Size(*sides, 0)  # sqrt(W² + H²) [D], 1e-3 mm
    assert abs(size.diagonal_ticks - diagonal) <= tolerance


def test_hanging_point_has_rated_parts_on_both_ends_of_the_chain():
    # fixing, link, chain, link, eye on blocking: counts for four points
    stock = {s.key: s for s in preset_stock()}
    panel = taken(five_builds()[1], mm(600), mm(1200), stock)
    carrying = {i.material: i.quantity for i in panel.items if i.in_load_path}
    assert carrying == {
        "eye-bolt": 4,
        "quick-link": 8,
        "chain": 2,
        "ceiling-eye": 4,
    }
    (blocks,) = panel.parts_of(PartRole.BLOCK)
    assert len(blocks.places) == 4


def test_imperial_builds_are_round_in_inches():
    wall = five_builds(UnitSystem.IMPERIAL)[0]
    assert wall.depth_ticks == inch(4)
    assert wall.finished_growth_ticks == inch("0.125")
    assert wall.wrap_ticks == inch(2)


def test_lift_over_a_45_degree_bevel_is_the_thickness():
    assert rise_ticks(inch("0.625"), 45) == inch("0.625")  # t tan 45° = t [D]
