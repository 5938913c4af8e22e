from decimal import Decimal

import pytest

from quotes.specs.engine.model import (
    BackStyle,
    Blocking,
    Driver,
    EdgeRule,
    Hanging,
    Item,
    ItemRole,
    Joint,
    OperationUse,
    PanelKind,
    PointRule,
    Stage,
    StockKind,
)
from quotes.specs.engine.notation import Notation
from shared.length import UnitSystem
from tests.factories.takeoff import (
    board,
    brace,
    build,
    hardware,
    inch,
    mm,
    rack,
    taken,
    wall_build,
)


def count(driver, made=None, **panel):
    return taken(made, **panel).count_of(driver)


def test_every_driver_is_counted_once():
    drivers = [line.driver for line in taken().counts]
    assert sorted(drivers) == sorted(Driver)


def test_drivers_of_a_plain_frame():
    panel = taken()
    assert panel.count_of(Driver.PANEL) == 1
    assert panel.count_of(Driver.JOB) == 1
    assert panel.count_of(Driver.JOINT) == 4
    assert panel.count_of(Driver.PART) == 4
    assert panel.count_of(Driver.FRAME_METRE) == Decimal("3.54")
    assert panel.count_of(Driver.RIP_METRE) == Decimal("3.54")
    assert panel.count_of(Driver.FACE_M2) == Decimal("0.72")


@pytest.mark.parametrize(
    ("joint", "cuts"), [(Joint.BUTT, 4), (Joint.MITRE, 8), (Joint.HALF_LAP, 12)]
)
def test_saw_cuts_by_joint(joint, cuts):
    assert count(Driver.CUT, build(joint=joint)) == cuts


def test_cleat_pair_is_ripped_once_and_bevelled_once():
    panel = taken(wall_build())
    assert panel.count_of(Driver.BEVEL_METRE) == Decimal("0.57")
    assert panel.count_of(Driver.FRAME_METRE) == Decimal("3.54") + Decimal("0.57")
    assert panel.count_of(Driver.PART) == 6
    assert panel.count_of(Driver.BRACE) == 1


def test_board_at_its_full_width_is_not_ripped():
    made = build(frame_stock="board", depth_ticks=mm(45), braces=())
    assert count(Driver.RIP_METRE, made) == 0
    wider = rack(board(width_ticks=mm(46)))
    assert count(Driver.RIP_METRE, made, stock=wider) > 0


def test_blocks_count_every_layer():
    made = build(
        points=PointRule(inset_ticks=mm(50)), blocking=Blocking(mm(120), mm(80), 2)
    )
    assert count(Driver.BLOCK, made) == 8
    assert count(Driver.HANGING_POINT, made) == count(Driver.SCREW_HOLE, made) == 4


def test_fabric_counts_every_cloth_and_its_stapled_edges():
    made = build(
        front_fabric="cloth",
        wrap_ticks=mm(50),
        back_fabric="cloth",
        back_style=BackStyle.INSIDE_FRAME,
        turn_ticks=mm(15),
    )
    panel = taken(made)
    assert panel.count_of(Driver.FABRIC_M2) == Decimal("1.35") + Decimal("0.72")
    edges = 2 * (Decimal("1.8") + Decimal("1.74"))
    assert panel.count_of(Driver.FABRIC_EDGE_METRE) == edges


def test_seam_metres():
    made = build(front_fabric="cloth", wrap_ticks=mm(50), allow_seam=True)
    assert count(Driver.SEAM_METRE, made, width=mm(1600), height=mm(1600)) == Decimal(
        "1.9"
    )


def test_fill_by_area_and_by_piece():
    panel = taken(build(fill="wool"), mm(1230), mm(1230))
    assert panel.count_of(Driver.FILL_PIECE) == 2
    assert panel.count_of(Driver.FILL_M2) == Decimal("1.44")


def test_edge_strip_goes_round_the_finished_panel():
    made = build(
        kind=PanelKind.REVEAL,
        hanging=Hanging.EDGE,
        points=None,
        edge=EdgeRule(clearance_ticks=mm(3)),
    )
    panel = taken(made)
    assert panel.count_of(Driver.EDGE_STRIP_METRE) == 2 * Decimal("1.788")
    assert panel.count_of(Driver.HANGING_POINT) == 0


def items(*wanted, made=None):
    stock = rack(hardware("nail", 2.0), hardware("chain", 250.0, unit="m"))
    return taken(build(items=wanted) if made is None else made, stock=stock)


def test_items_are_counted_by_their_driver_with_spares_apart():
    nail = Item("nail", Decimal("3.5"), Driver.JOINT, spare_share=Decimal("0.1"))
    (line,) = items(nail).items
    assert (line.quantity, line.spare) == (14, Decimal("1.4"))
    assert line.how == "3.5 per joint × 4 = 14"
    assert line.role is ItemRole.HARDWARE


def test_items_a_panel_has_none_of_are_left_out():
    assert items(Item("nail", Decimal(6), Driver.BRACE)).items == ()


def test_spares_and_items_of_the_job_weigh_nothing():
    bare = items().mass.total_kg
    spare = Item("nail", Decimal(1), Driver.PANEL, spare_share=Decimal(1))
    job = Item("chain", Decimal(1), Driver.JOB)
    assert items(spare, job).mass.total_kg == pytest.approx(bare + 0.002)


def test_what_stays_on_the_building_is_not_lifted():
    chain = Item("chain", Decimal("0.5"), Driver.HANGING_POINT, for_site=True)
    mass = items(chain).mass
    assert mass.total_kg - mass.panel_kg == pytest.approx(0.5)


def test_operations_carry_driver_stage_and_count():
    corners = OperationUse("corners", Driver.JOINT, Stage.BUILD)
    braces = OperationUse("braces", Driver.BRACE, Stage.BUILD)
    (line,) = taken(build(operations=(corners, braces))).operations
    assert (line.key, line.amount, line.stage) == ("corners", 4, Stage.BUILD)
    assert line.how == "4 corners of the frame"


def test_derivations_in_millimetres():
    how = {line.driver: line.how for line in taken(build(braces=(brace(),))).counts}
    assert how[Driver.FRAME_METRE] == (
        "2 × 600 mm + 2 × 1170 mm + 1 × 570 mm = 4.110 m"
    )
    assert how[Driver.PART] == "2 rail + 2 stile + 1 brace = 5"
    assert how[Driver.SEAM_METRE] == "none"


def test_derivations_in_inches_leave_the_figures_alone():
    def panel(units):
        return taken(width=inch(24), height=inch(48), units=units)

    metric, imperial = panel(UnitSystem.METRIC), panel(UnitSystem.IMPERIAL)
    assert [c.amount for c in metric.counts] == [c.amount for c in imperial.counts]
    how = {line.driver: line.how for line in imperial.counts}
    assert how[Driver.FACE_M2] == "24 × 48 in = 0.743 m²"
    assert how[Driver.FRAME_METRE].endswith("ft")


def test_masses_print_to_a_tenth_of_a_kilogram_or_half_a_pound():
    assert Notation().mass(7.26) == "7.3 kg"
    assert Notation(UnitSystem.IMPERIAL).mass(7.576) == "16.5 lb"


def test_wood_is_weighed_by_the_sheet_when_the_sheet_was_weighed():
    heavy = board(density_kg_m3=0.0, mass_g_m2=10_000.0)
    made = build(frame_stock="board", depth_ticks=mm(45))
    mass = taken(made, stock=rack(heavy)).mass
    metres = 2 * 0.6 + 2 * 1.16
    assert mass.panel_kg == pytest.approx(metres * 0.045 * 10)
    assert mass.lines[0].how.endswith("at 10000 g/m²")
    assert heavy.kind is StockKind.BOARD
