from decimal import Decimal
from typing import Any, cast

import pytest

from quotes.specs.engine.model import (
    BackStyle,
    Battens,
    Blocking,
    CleatRule,
    Driver,
    Edge,
    EdgeRule,
    Face,
    Feet,
    Hanging,
    Item,
    Joint,
    Lies,
    NominalSize,
    OperationUse,
    PointRule,
    Position,
    Runs,
    Severity,
    TakeoffError,
    Through,
)
from tests.factories.takeoff import (
    board,
    brace,
    build,
    cleat_brace,
    fabric,
    hardware,
    mm,
    rack,
    sheet,
    taken,
    wall_build,
    wool,
)

REFUSED = [
    (lambda: build(depth_ticks=0), "depth_ticks"),
    (lambda: build(kind="door"), "kind"),
    (lambda: build(joint="butt"), "joint"),
    (lambda: brace(runs="upright"), "runs"),
    (lambda: Item("screw", Decimal(1), driver=cast("Any", "hour")), "driver"),
    (lambda: OperationUse("rip", Driver.RIP_METRE, cast("Any", "later")), "stage"),
    (lambda: build(fill_layers=0), "fill_layers"),
    (lambda: build(wrap_ticks=-1), "wrap_ticks"),
    (lambda: build(stile_bevel_deg=61.0), "stile_bevel_deg"),
    (lambda: build(stile_bevel_deg=45.0, through=Through.WIDTH), "through"),
    (lambda: build(stile_bevel_deg=45.0, joint=Joint.MITRE), "through"),
    (lambda: build(one_person_kg=0.0), "one_person_kg"),
    (lambda: build(back_fabric="cloth"), "back_style"),
    (lambda: build(back_style=BackStyle.INSIDE_FRAME), "back_style"),
    (lambda: build(points=None), "points"),
    (lambda: build(hanging=Hanging.CLEAT), "cleat"),
    (lambda: build(hanging=Hanging.EDGE), "edge"),
    (lambda: build(hanging=Hanging.BATTENS), "battens"),
    (lambda: build(hanging=Hanging.FEET), "feet"),
    (lambda: build(edge=EdgeRule()), "edge"),
    (lambda: build(braces=(cleat_brace(),)), "braces"),
    (lambda: wall_build(braces=(brace(),)), "braces"),
    (lambda: brace(strip_ticks=0), "strip_ticks"),
    (lambda: brace(setback_ticks=-1), "setback_ticks"),
    (lambda: brace(fraction=Decimal(1)), "fraction"),
    (lambda: brace(position=Position.SPREAD), "max_span_ticks"),
    (lambda: brace(runs=Runs.UPRIGHT, position=Position.TIGHT_TOP), "position"),
    (lambda: brace(edge=Edge.BEVELLED), "bevel_deg"),
    (lambda: cleat_brace(lies=Lies.ON_EDGE), "edge"),
    (lambda: cleat_brace(from_face=Face.FRONT), "from_face"),
    (lambda: cleat_brace(when_over_ticks=1), "position"),
    (lambda: CleatRule(wall_share=Decimal("1.1")), "wall_share"),
    (lambda: CleatRule(step_ticks=0), "step_ticks"),
    (lambda: CleatRule(margin_ticks=-1), "margin_ticks"),
    (lambda: PointRule(across=1, down=1), "across"),
    (lambda: PointRule(inset_ticks=0), "inset_ticks"),
    (lambda: PointRule(max_spacing_ticks=-1), "max_spacing_ticks"),
    (lambda: Blocking(length_ticks=0, width_ticks=1), "length_ticks"),
    (lambda: EdgeRule(clearance_ticks=-1), "clearance_ticks"),
    (lambda: Battens(strip_ticks=0), "strip_ticks"),
    (lambda: Battens(strip_ticks=1, end_gap_ticks=-1), "end_gap_ticks"),
    (lambda: Feet(length_ticks=0, strip_ticks=1), "length_ticks"),
    (lambda: Feet(length_ticks=1, strip_ticks=1, count=1), "count"),
    (lambda: Feet(length_ticks=1, strip_ticks=1, inset_ticks=-1), "inset_ticks"),
    (lambda: Item("screw", Decimal(0), Driver.PANEL), "quantity"),
    (
        lambda: Item("screw", Decimal(1), Driver.PANEL, spare_share=Decimal(-1)),
        "spare_share",
    ),
    (lambda: NominalSize(0, 1), "width_ticks"),
    (lambda: NominalSize(1, mm(20_001)), "height_ticks"),
    (lambda: sheet(thickness_ticks=0), "thickness_ticks"),
    (lambda: wool(thickness_ticks=0), "thickness_ticks"),
    (lambda: sheet(density_kg_m3=-1.0), "density_kg_m3"),
    (lambda: fabric(selvedge_ticks=mm(900)), "width_ticks"),
]


@pytest.mark.parametrize(("make", "field"), REFUSED)
def test_contradictions_are_refused_by_field(make, field):
    with pytest.raises(TakeoffError) as refused:
        make()
    assert refused.value.field == field
    assert refused.value.message[-1] == "."
    assert refused.value.problems[0].severity is Severity.REFUSE


MISSING = [
    (build(frame_stock="oak"), rack(), "frame_stock"),
    (build(frame_stock="cloth"), rack(), "frame_stock"),
    (build(), rack(sheet(density_kg_m3=0.0)), "frame_stock"),
    (build(front_fabric="wool"), rack(), "front_fabric"),
    (build(front_fabric="cloth"), rack(fabric(mass_g_m2=0.0)), "front_fabric"),
    (build(front_lining="ply"), rack(), "front_lining"),
    (build(fill="cloth"), rack(), "fill"),
    (build(fill="wool"), rack(wool(density_kg_m3=0.0)), "fill"),
    (build(braces=(brace(stock="none"),)), rack(), "braces[0].stock"),
    (build(items=(Item("none", Decimal(1), Driver.PANEL),)), rack(), "items"),
]


@pytest.mark.parametrize(("made", "stock", "field"), MISSING)
def test_a_material_that_will_not_do_is_named_by_its_field(made, stock, field):
    with pytest.raises(TakeoffError) as refused:
        taken(made, stock=stock)
    assert refused.value.field == field


def test_stock_knows_wood_from_cloth():
    assert sheet().is_wood
    assert board().is_wood
    assert not fabric().is_wood
    assert not hardware().is_wood
    assert fabric(selvedge_ticks=mm(12)).usable_width_ticks == mm(1652)


def test_the_edges_gap_is_the_larger_of_clearance_and_strip():
    assert EdgeRule(clearance_ticks=mm(3)).gap_ticks == mm(3)
    assert EdgeRule(clearance_ticks=mm(3), compressed_ticks=mm(4)).gap_ticks == mm(4)
