"""Cloth: from takeoffs to a plan, one dye lot for a job, measured, cut, taken back."""

from decimal import Decimal
from types import SimpleNamespace

import pytest

from jobs.board.models import Panel
from jobs.buying.reports.needs import new_stock
from jobs.cutting.actions import (
    CannotPlanError,
    PlanSettings,
    ask_plan,
    check_roll,
    drop_plan,
    finish_cloth,
    restore_plan,
    unfinish_plan,
)
from jobs.cutting.adapter import alike, cloth_parts, cloth_request_of, roll_plan
from jobs.cutting.models import CutPlan, CutState, YieldFinding
from jobs.gates.models import Gate, GateKind
from quotes.specs.engine.model import Cloth
from quotes.specs.engine.result import RollLay
from quotes.specs.engine.words import ClothRole
from shared.forms import TypedLength
from shared.length import UnitSystem
from shared.nesting.rolls import Lay
from shop.catalogue.actions import keep_piece, move_stock
from shop.catalogue.models import StockLevel, StockPiece, StockReason
from tests.factories.catalogue import mm
from tests.factories.cloth import (
    make_cloth,
    make_cloth_ask,
    make_cloth_job,
    make_cloth_plan,
)
from tests.factories.cutting import made
from tests.factories.jobs import AT

pytestmark = pytest.mark.django_db
WIDE = TypedLength(mm(1680), "1680")


@pytest.fixture
def cloth(shop):
    return make_cloth()


@pytest.fixture
def plan(cloth, maker):
    return make_cloth_plan(by=maker, cloth=cloth)


def delivered(cloth, metres, lot, by):
    move_stock(cloth, Decimal(metres), StockReason.DELIVERED, lot=lot, by=by, at=AT)


def signed(job, cloth, lot):
    """Let the client have signed for a dye lot."""
    said = {"code": "F 7", "colour": "moss", "dye_lot": lot, "since": AT}
    gate = Gate(job=job, kind=GateKind.FABRIC, material=cloth, state="passed", **said)
    gate.save()


def remnant(cloth, lot, by, length=3000):
    sizes = {"length": TypedLength(mm(length), ""), "width": TypedLength(mm(1600), "")}
    return keep_piece(cloth, lot=lot, by=by, at=AT, **sizes)


def lots(plan):
    return roll_plan(plan).lots


def test_every_cloth_of_the_takeoffs_is_a_piece_with_its_lays(cloth, maker):
    kinds = (("wall-panel", 600, 1200, 3), ("hung-panel", 1200, 900, 1))
    job = make_cloth_job(by=maker, cloth=cloth, kinds=kinds)
    groups = alike(job.panels.with_group())
    parts = cloth_parts(groups, str(cloth.pk), units=UnitSystem.METRIC)
    lays = {(p.width_ticks, p.height_ticks, p.label): p for p in parts}
    found = 0
    for group in groups:
        for each in group.takeoff().cloths:
            if each.material != str(cloth.pk):
                continue
            part = lays[each.width_ticks, each.height_ticks, each.role]
            assert [(x.across_ticks, x.along_ticks * x.drops) for x in part.lays] == [
                (x.across_ticks, x.along_ticks) for x in each.lays
            ]
            owners = [o.panel for o in part.owners]
            assert set(owners) >= {str(p.pk) for p in group.panels}
            found += 1
    assert found >= 2


def test_a_plan_holds_every_piece_and_a_remnant_for_repairs(plan):
    assert (plan.state, plan.refusal) == (CutState.PLANNED, "")
    request, found = cloth_request_of(plan), roll_plan(plan)
    placed = [(p.part, p.copy) for use in found.rolls for p in use.pieces]
    wanted = [(part.key, i) for part in request.parts for i in range(part.count)]
    assert sorted(placed) == sorted(wanted)
    assert [p.for_repairs for p in request.parts].count(True) == 1
    # 3 fronts of 940 x 1540 and 2 m² more: what is bought has 5 % for flaws
    assert found.buy_ticks * 100 >= found.cut_ticks * 105
    assert plan.price == -(-found.cost.numerator // found.cost.denominator)


def test_buying_takes_the_metres_of_the_plan(plan, cloth):
    (needed,) = new_stock(plan).items()
    assert needed[0] == cloth.pk
    assert 0 <= needed[1] * mm(1000) - roll_plan(plan).buy_ticks < mm(1)


def test_dye_lots_are_not_mixed(cloth, maker):
    delivered(cloth, "2.5", "A", maker)
    delivered(cloth, "2.5", "B", maker)
    remnant(cloth, "A", maker)
    plan = make_cloth_plan(by=maker, cloth=cloth)
    assert len(set(lots(plan))) == 1
    assert {s.lot for s in cloth_request_of(plan).sources} == {"A", "B", ""}


def test_the_lot_that_was_signed_for_is_the_only_one(cloth, maker):
    delivered(cloth, "20", "A", maker)
    delivered(cloth, "20", "B", maker)
    job = make_cloth_job(by=maker, cloth=cloth)
    signed(job, cloth, "B")
    plan = made(make_cloth_ask(job=job, cloth=cloth, by=maker))
    assert (plan.lot, set(lots(plan))) == ("B", {"B"})
    with pytest.raises(CannotPlanError, match=r"dye lot is B; this roll is of A"):
        check_roll(plan, WIDE, "A", by=maker, at=AT)


def test_a_roll_of_another_lot_than_planned_from_is_refused(cloth, maker):
    delivered(cloth, "20", "A", maker)
    plan = make_cloth_plan(by=maker, cloth=cloth)
    with pytest.raises(CannotPlanError, match=r"from lot A; this roll is of C"):
        check_roll(plan, WIDE, "C", by=maker, at=AT)
    assert check_roll(plan, WIDE, "a", by=maker, at=AT).is_checked


def test_where_a_seam_is_allowed_the_whole_piece_is_offered_too():
    lay = RollLay(mm(1000), mm(4400), drops=2)
    cloth = Cloth(ClothRole.FRONT, "c", mm(1980), mm(2200), (lay,), "", mm(2200))
    group = SimpleNamespace(
        cloths={"c": 1},
        panels=[SimpleNamespace(pk="p1")],
        snapshot={"build": {"allow_seam": True, "seam_ticks": mm(10)}, "materials": {}},
        takeoff=lambda: SimpleNamespace(cloths=(cloth,)),
    )
    (part,) = cloth_parts([group], "c", units=UnitSystem.METRIC, directional=True)
    assert part.lays == (
        Lay(mm(1000), mm(2200), drops=2),
        Lay(mm(1980), mm(2200)),
    )
    assert (part.may_seam, part.seam_ticks) == (True, mm(10))


def test_what_another_plan_takes_of_a_lot_is_not_there(cloth, maker):
    delivered(cloth, "6", "A", maker)
    first = make_cloth_plan(by=maker, cloth=cloth)
    second = make_cloth_plan(by=maker, cloth=cloth)
    cut = roll_plan(first).cut_ticks
    (stores,) = [s for s in cloth_request_of(second).sources if s.lot == "A"]
    assert lots(first) == ("A",)
    assert stores.length_ticks == mm(6000) - cut


def test_a_shut_gate_keeps_cloth_from_being_planned(cloth, maker):
    job = make_cloth_job(by=maker, cloth=cloth)
    Gate.objects.create(job=job, kind=GateKind.FABRIC, material=cloth)
    with pytest.raises(CannotPlanError, match=r"waiting for what stands on the job"):
        make_cloth_ask(job=job, cloth=cloth, by=maker)
    assert not CutPlan.objects.exists()


def test_a_roll_narrower_than_a_piece_is_refused_by_name(plan, maker):
    now = made(check_roll(plan, TypedLength(mm(700), "700"), "", by=maker, at=AT))
    assert now.state == CutState.REFUSED
    code = cloth_request_of(plan).panels[0].code
    assert "wider than every roll" in now.refusal
    assert f"It is the front of {code}" in now.refusal


def test_the_width_as_planned_confirms_and_another_plans_anew(plan, maker):
    same = check_roll(plan, WIDE, "L7", by=maker, at=AT)
    assert (same.pk, same.lot, same.is_checked) == (plan.pk, "L7", True)
    other = check_roll(same, TypedLength(mm(1500), "1500"), "", by=maker, at=AT)
    now = made(other)
    assert (now.replaces_id, now.state, now.lot) == (plan.pk, CutState.PLANNED, "L7")
    assert {u.usable_ticks for u in roll_plan(now).rolls} == {mm(1500 - 24)}


def test_finishing_books_by_lot_keeps_the_remnant_and_is_taken_back(cloth, maker):
    delivered(cloth, "20", "A", maker)
    plan = make_cloth_plan(by=maker, cloth=cloth)
    cut = Decimal(roll_plan(plan).cut_ticks) / mm(1000)
    finish_cloth(plan, keep=(), by=maker, at=AT)
    level = StockLevel.objects.get(material=cloth, lot="A")
    assert level.quantity == (20 - cut).quantize(Decimal("0.001"))
    job = cloth_request_of(plan).job
    (kept,) = StockPiece.objects.kept()
    assert (kept.lot, kept.note) == ("A", f"for repairs of {job}, of {plan.code}")
    (found,) = YieldFinding.objects.filter(plan=plan)
    assert found.build is None
    assert 0 < found.parts_m2 <= found.stock_m2
    unfinish_plan(plan, by=maker, at=AT)
    level.refresh_from_db()
    assert level.quantity == 20
    assert not StockPiece.objects.kept().exists()
    assert not YieldFinding.objects.exists()


def test_a_remnant_is_used_up_and_its_end_is_kept(cloth, maker):
    piece = remnant(cloth, "A", maker, length=9000)
    plan = make_cloth_plan(by=maker, cloth=cloth)
    assert [row.piece_id for row in plan.pieces.all()] == [piece.pk]
    drop_plan(plan, by=maker, at=AT)
    plan = restore_plan(plan, by=maker, at=AT)
    (use,) = roll_plan(plan).rolls
    finish_cloth(plan, keep=("1-end",), by=maker, at=AT)
    assert not StockLevel.objects.filter(material=cloth).exists()
    lengths = {p.length_ticks for p in StockPiece.objects.kept()}
    assert lengths == {use.left_ticks, mm(300)}


def test_cloth_of_two_jobs_is_not_planned_together(cloth, maker):
    for _ in range(2):
        make_cloth_job(by=maker, cloth=cloth)
    ids = tuple(Panel.objects.values_list("pk", flat=True))
    with pytest.raises(CannotPlanError, match=r"one job at a time"):
        ask_plan(ids, cloth, PlanSettings(0), by=maker, at=AT)


def test_a_cloth_with_a_direction_is_never_turned(maker, shop):
    cloth = make_cloth(directional=True, repeat_ticks=mm(640))
    plan = make_cloth_plan(by=maker, cloth=cloth)
    pieces = [p for use in roll_plan(plan).rolls for p in use.pieces]
    assert not any(p.turned for p in pieces)
    assert {p.y_ticks % mm(640) for p in pieces} == {0}
