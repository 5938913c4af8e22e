from dataclasses import replace
from decimal import Decimal

import pytest

from quotes.specs.engine.model import (
    Face,
    Lies,
    PartRole,
    Position,
    Runs,
    TakeoffError,
)
from tests.factories.takeoff import (
    board,
    brace,
    build,
    cleat_brace,
    mm,
    rack,
    sheet,
    taken,
    wall_build,
)

WIDE, TALL, DEEP = mm(600), mm(1200), mm(100)


def places(*braces, width=WIDE, height=TALL):
    panel = taken(build(braces=braces), width, height)
    return [box for part in panel.parts_of(PartRole.BRACE) for box in part.places]


def refusal(*braces, width=WIDE, height=TALL, depth=DEEP):
    with pytest.raises(TakeoffError) as refused:
        taken(build(braces=braces, depth_ticks=depth), width, height)
    return refused.value


def test_centre_brace_lies_in_the_middle_flush_with_the_back():
    (box,) = places(brace())
    assert (box.x_ticks, box.width_ticks) == (mm(15), mm(570))
    assert (box.y_ticks, box.height_ticks) == (mm("562.5"), mm(75))
    assert (box.z_ticks, box.depth_ticks) == (mm(85), mm(15))


def test_tight_braces_touch_their_rails():
    top, bottom = places(
        brace(position=Position.TIGHT_TOP), brace(position=Position.TIGHT_BOTTOM)
    )
    assert top.y_ticks + top.height_ticks == mm(1200 - 15)
    assert bottom.y_ticks == mm(15)


def test_brace_at_a_share_of_the_clear_height():
    (box,) = places(brace(position=Position.FRACTION, fraction=Decimal("0.25")))
    assert box.y_ticks + box.height_ticks / 2 == mm(15) + mm(1170) / 4


def test_brace_on_edge_takes_its_width_out_of_the_depth():
    (box,) = places(brace(lies=Lies.ON_EDGE, from_face=Face.FRONT, setback_ticks=mm(5)))
    assert (box.height_ticks, box.depth_ticks, box.z_ticks) == (mm(15), mm(75), mm(5))


def test_upright_brace_runs_from_rail_to_rail():
    (box,) = places(brace(runs=Runs.UPRIGHT))
    assert (box.y_ticks, box.height_ticks) == (mm(15), mm(1170))
    assert (box.x_ticks, box.width_ticks) == (mm("262.5"), mm(75))


@pytest.mark.parametrize(
    ("height", "count"), [(630, 0), (631, 1), (1305, 1), (1306, 2)]
)
def test_spread_braces_keep_every_bay_within_the_span(height, count):
    spread = brace(position=Position.SPREAD, max_span_ticks=mm(600))
    boxes = places(spread, height=mm(height))
    assert len(boxes) == count
    edges = [mm(15)]
    for box in boxes:
        edges += [box.y_ticks, box.y_ticks + box.height_ticks]
    edges.append(mm(height - 15))
    bays = [high - low for low, high in zip(edges[::2], edges[1::2], strict=True)]
    assert max(bays) <= mm(600) + 1
    assert max(bays) - min(bays) <= 2


def test_spread_braces_are_one_line_of_parts():
    spread = brace(position=Position.SPREAD, max_span_ticks=mm(300))
    (part,) = taken(build(braces=(spread,))).parts_of(PartRole.BRACE)
    assert part.count == len(part.places) == 3


@pytest.mark.parametrize(("height", "count"), [(900, 0), (901, 1)])
def test_brace_only_over_a_height(height, count):
    assert len(places(brace(when_over_ticks=mm(900)), height=mm(height))) == count


@pytest.mark.parametrize(("width", "count"), [(900, 0), (901, 1)])
def test_upright_brace_only_over_a_width(width, count):
    upright = brace(runs=Runs.UPRIGHT, when_over_ticks=mm(900))
    assert len(places(upright, width=mm(width))) == count


def test_upright_stops_at_tight_braces_of_its_depth():
    upright = brace(name="post", runs=Runs.UPRIGHT)
    boxes = places(
        brace(position=Position.TIGHT_TOP),
        brace(position=Position.TIGHT_BOTTOM, strip_ticks=mm(50)),
        upright,
    )
    post = boxes[-1]
    assert post.y_ticks == mm(15 + 50)
    assert post.y_ticks + post.height_ticks == mm(1200 - 15 - 75)


def test_upright_passes_a_tight_brace_at_another_depth():
    front = brace(position=Position.TIGHT_TOP, from_face=Face.FRONT)
    boxes = places(front, brace(name="post", runs=Runs.UPRIGHT))
    assert boxes[-1].height_ticks == mm(1170)


def test_shortened_upright_says_by_how_much():
    panel = taken(
        build(
            braces=(
                brace(position=Position.TIGHT_TOP),
                brace(name="post", runs=Runs.UPRIGHT),
            )
        )
    )
    post = panel.parts_of(PartRole.BRACE)[1]
    assert "less 75 mm for the braces it stops at = 1095 mm" in post.how


def test_brace_of_its_own_stock():
    made = build(braces=(brace(stock="board", strip_ticks=mm(45)),))
    (part,) = taken(made).parts_of(PartRole.BRACE)
    assert (part.stock, part.thickness_ticks) == ("board", mm(20))


def test_too_small_for_a_tight_brace_says_what_would_work():
    error = refusal(brace(position=Position.TIGHT_TOP), height=mm(100))
    assert error.field == "height_ticks"
    assert "make it 105 mm or more" in error.message
    assert places(brace(position=Position.TIGHT_TOP), height=mm(105))


def test_too_small_for_a_brace_on_the_bottom_rail():
    error = refusal(brace(position=Position.TIGHT_BOTTOM), height=mm(100))
    assert "make it 105 mm or more" in error.message


def test_too_small_for_two_braces_says_what_would_work():
    pair = (brace(name="top", position=Position.TIGHT_TOP), brace(name="middle"))
    error = refusal(*pair, height=mm(250))
    assert error.field == "height_ticks"
    # half the clear height must take the top brace and half the middle one
    assert "make it 255 mm or more" in error.message
    assert len(places(*pair, height=mm(255))) == 2


def test_uprights_may_touch():
    left = brace(name="left", runs=Runs.UPRIGHT)
    pair = (
        replace(left, position=Position.FRACTION, fraction=Decimal("0.25")),
        replace(left, position=Position.FRACTION, fraction=Decimal("0.75")),
    )
    assert len(places(*pair, width=mm(180))) == 2
    error = refusal(*pair, width=mm("179.9"))
    assert "make it 180 mm or more" in error.message


def test_too_narrow_for_an_upright():
    error = refusal(brace(runs=Runs.UPRIGHT), width=mm(100))
    assert error.field == "width_ticks"
    assert "105 mm" in error.message


def test_brace_near_the_bottom_that_would_leave_the_opening():
    low = brace(position=Position.FRACTION, fraction=Decimal("0.1"))
    error = refusal(low, height=mm(300))
    assert "make it 405 mm or more" in error.message
    assert places(low, height=mm(405))


def test_brace_near_the_top_that_would_leave_the_opening():
    high = brace(position=Position.FRACTION, fraction=Decimal("0.9"))
    error = refusal(high, height=mm(300))
    assert "make it 405 mm or more" in error.message


def test_braces_in_the_same_place_are_told_to_move():
    error = refusal(brace(name="one"), brace(name="two"))
    assert error.field == "braces[1].setback_ticks"
    assert "run into each other" in error.message


def test_crossing_braces_are_told_to_set_one_back():
    error = refusal(brace(), brace(name="post", runs=Runs.UPRIGHT))
    assert "set one back" in error.message


def test_crossing_braces_at_two_depths_are_fine():
    front = brace(name="post", runs=Runs.UPRIGHT, from_face=Face.FRONT)
    assert len(places(brace(), front)) == 2


@pytest.mark.parametrize("face", Face)
def test_brace_deeper_than_the_frame(face):
    deep = brace(lies=Lies.ON_EDGE, from_face=face, setback_ticks=mm(26))
    error = refusal(deep)
    assert error.field == "braces[0].setback_ticks"
    assert "does not fit in the frame's depth" in error.message


def test_no_room_for_an_upright_between_tight_braces():
    error = refusal(
        brace(position=Position.TIGHT_TOP),
        brace(position=Position.TIGHT_BOTTOM),
        brace(name="post", runs=Runs.UPRIGHT),
        height=mm(180),
    )
    assert "make it more than 180 mm" in error.message


def test_every_refusal_is_told_at_once():
    error = refusal(
        brace(position=Position.TIGHT_TOP),
        brace(runs=Runs.UPRIGHT, from_face=Face.FRONT),
        width=mm(100),
        height=mm(100),
    )
    assert {p.field for p in error.problems} == {"width_ticks", "height_ticks"}


def test_strip_too_narrow_for_a_cleat_pair():
    with pytest.raises(TakeoffError) as refused:
        taken(wall_build(braces=(cleat_brace(strip_ticks=mm(18)),)))
    assert refused.value.field == "braces[0].strip_ticks"
    assert "wider than 19.5 mm" in refused.value.message  # 15 + 3.175 √2


def test_cleat_pair_of_its_own_stock():
    stock = rack(board("thick", thickness_ticks=mm(18), width_ticks=mm(150)))
    made = wall_build(
        braces=(cleat_brace(stock="thick", strip_ticks=mm(150)),), kerf_ticks=mm("3.2")
    )
    (cleat,) = taken(made, stock=stock).parts_of(PartRole.PANEL_CLEAT)
    assert cleat.long_face_ticks == pytest.approx(mm("81.737"), abs=2)
    assert cleat.thickness_ticks == mm(18)


def test_frame_smaller_than_its_own_strips():
    with pytest.raises(TakeoffError) as refused:
        taken(build(), width=mm(30), stock=rack(sheet()))
    assert refused.value.field == "width_ticks"
    assert "30 mm" in refused.value.message
