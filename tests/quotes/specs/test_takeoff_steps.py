from quotes.specs.engine.model import (
    BackStyle,
    Blocking,
    Face,
    Fastening,
    Joint,
    PointRule,
    Runs,
    Through,
)
from tests.factories.takeoff import (
    brace,
    build,
    fabric,
    mm,
    rack,
    taken,
    wall_build,
)


def steps(made, **panel):
    return {step.key: step for step in taken(made, **panel).steps}


def test_order_of_a_wall_panel():
    made = wall_build(
        fill="wool",
        front_fabric="cloth",
        back_fabric="cloth",
        back_style=BackStyle.INSIDE_FRAME,
    )
    assert list(steps(made)) == [
        "mark", "rip", "crosscut", "bevel", "frame", "square", "braces", "cleat",
        "back", "fill", "front", "check",
    ]  # fmt: skip


def test_fill_goes_in_after_the_front_where_the_back_is_covered_last():
    made = build(
        fill="wool",
        front_lining="cloth",
        front_fabric="cloth",
        back_fabric="cloth",
        back_style=BackStyle.OVER_BACK_EDGE,
    )
    keys = list(steps(made))
    assert keys[-5:] == ["lining", "front", "fill", "back", "check"]


def test_cautions_come_only_with_their_trigger():
    def cautions(made):
        return {key for step in taken(made).steps for key in step.cautions}

    plain = build(fastening=Fastening.SCREWS)
    assert cautions(plain) == {"saw", "wooddust", "lift"}
    assert "nailer" in cautions(build())
    assert "fibre" in cautions(build(fill="wool"))
    assert "bevel" in cautions(wall_build())
    assert "lift" not in cautions(wall_build())
    assert "lift" in cautions(wall_build(one_person_kg=1.0))


def test_frame_is_put_together_as_the_build_says():
    def title(**fields):
        return steps(build(**fields))["frame"].title

    assert title() == "Glue and nail the frame"
    assert title(glued=False) == "Nail the frame"
    assert title(fastening=Fastening.SCREWS) == "Glue and screw the frame"
    assert title(glued=False, fastening=Fastening.NONE) == "Join the frame"


def test_square_is_checked_by_the_diagonals_before_the_glue_sets():
    detail = steps(build())["square"].detail
    assert detail == "Both diagonals 1341.6 mm before the glue sets."
    assert "glue" not in steps(build(glued=False))["square"].detail


def test_joints_other_than_butt_have_their_own_cuts():
    assert "joint" not in steps(build())
    assert "45°" in steps(build(joint=Joint.MITRE))["joint"].detail
    lapped = steps(build(joint=Joint.HALF_LAP))
    assert lapped["joint"].detail == (
        "Each end: 15 mm along, half the width (50 mm) deep."
    )
    assert lapped["frame"].detail == "Outside 600 × 1200 mm."


def test_frame_says_which_pair_runs_through():
    assert "the rails run" in steps(build(through=Through.WIDTH))["frame"].detail
    assert "the stiles run" in steps(build(through=Through.HEIGHT))["frame"].detail


def test_braces_are_set_out_from_the_bottom_and_the_left():
    upright = brace(name="post", runs=Runs.UPRIGHT, from_face=Face.FRONT)
    detail = steps(build(braces=(brace(), upright)))["braces"].detail
    assert "brace: 562.5 mm from the bottom, 85 mm behind the front" in detail
    assert "post: 262.5 mm from the left, 0 mm behind the front" in detail


def test_blocking_gives_the_holes_for_the_eyes():
    made = build(
        points=PointRule(inset_ticks=mm(50)), blocking=Blocking(mm(120), mm(80))
    )
    detail = steps(made)["blocks"].detail
    assert "550 mm from the left, 1150 mm from the bottom" in detail


def test_nothing_to_rip_from_boards_of_the_right_width():
    made = build(frame_stock="board", depth_ticks=mm(45))
    assert "rip" not in steps(made)


def test_nap_is_kept_one_way():
    stock = rack(fabric(directional=True))
    front = steps(build(front_fabric="cloth"), stock=stock)["front"]
    assert "Nap up the panel" in front.detail


def test_layers_of_fill_are_named():
    made = build(fill="wool", fill_layers=2, depth_ticks=mm(160))
    assert steps(made)["fill"].detail.startswith("2 layers of Wool")
