"""What a plan is asked for: parts, stock, and what is left out."""

import uuid
from decimal import Decimal

import pytest

from jobs.board.actions import Typed, measure_panel
from jobs.board.models import Panel
from jobs.cutting.actions import (
    Ask,
    CannotPlanError,
    PlanSettings,
    ask_plans,
    stop_plan,
)
from jobs.cutting.adapter import request_of
from jobs.cutting.engine import PricedBy
from jobs.cutting.models import CutKind, CutPlan, CutState, PlanPiece
from jobs.cutting.reports import saw_rules
from jobs.gates.models import Gate, GateKind
from shared.forms import TypedLength
from shop.catalogue.actions import keep_piece
from tests.factories.catalogue import mm
from tests.factories.cutting import (
    CORNER,
    made,
    make_ask,
    make_batten,
    make_ply,
    make_wood_job,
    panels_of,
)
from tests.factories.jobs import AT

pytestmark = pytest.mark.django_db


@pytest.fixture
def ply(shop):
    return make_ply()


def kept(ply, by, length=1250, width=330):
    size = {"length": mm(length), "width": mm(width)}
    sides = {name: TypedLength(ticks, "") for name, ticks in size.items()}
    return keep_piece(ply, **sides, by=by, at=AT)


def test_a_plan_has_all_parts_of_its_material_and_whose_they_are(ply, maker):
    job = make_wood_job(by=maker, ply=ply)
    plan = make_ask(job=job, ply=ply, by=maker)
    request = request_of(plan)
    assert (plan.state, plan.kind) == (CutState.ASKED, CutKind.SHEETS)
    assert {p.key: p.count for p in request.parts} == {
        "1170 × 100 mm": 4,
        "600 × 100 mm": 4,
        "570 × 100 mm 45° pair, 15 mm": 2,
        "570 × 75 mm": 2,
    }
    codes = set(Panel.objects.of_job(job).values_list("code", flat=True))
    assert {panel.code for panel in request.panels} == codes
    assert plan.plan_panels.count() == 2


def test_one_plan_is_made_of_each_material_of_several_jobs(ply, maker):
    batten = make_batten()
    jobs = [
        make_wood_job(by=maker, ply=ply, batten=batten, kinds=CORNER) for _ in range(2)
    ]
    usual = PlanSettings.of(saw_rules())
    asks = [Ask(panels_of(*jobs), material, usual) for material in (ply, batten)]
    sheets, bars = ask_plans(asks, by=maker, at=AT)
    assert (sheets.kind, bars.kind) == (CutKind.SHEETS, CutKind.BARS)
    assert [part.count for part in request_of(bars).parts] == [8]
    assert bars.plan_panels.count() == 4


def test_a_board_that_is_ripped_is_planned_as_a_sheet(ply, maker):
    wide = make_batten(width_ticks=mm(94))
    job = make_wood_job(by=maker, ply=ply, batten=wide, kinds=CORNER)
    plan = make_ask(job=job, ply=wide, by=maker)
    assert plan.kind == CutKind.SHEETS
    assert made(plan).pieces_used == 1


def test_what_is_planned_already_is_refused_and_nothing_is_stored(ply, maker, office):
    job = make_wood_job(by=maker, ply=ply)
    first = make_ask(job=job, ply=ply, by=maker)
    with pytest.raises(CannotPlanError, match=f"planned already, in {first}"):
        make_ask(job=job, ply=ply, by=office)
    assert CutPlan.objects.count() == 1
    batten = make_batten()
    other = make_wood_job(by=maker, ply=ply, batten=batten, kinds=CORNER)
    usual = PlanSettings.of(saw_rules())
    both = panels_of(job, other)
    asks = (Ask(both, batten, usual), Ask(both, ply, usual))
    with pytest.raises(CannotPlanError):
        ask_plans(asks, by=office, at=AT)
    assert CutPlan.objects.count() == 1, "all or none"


def test_a_job_that_waits_is_left_out_until_somebody_goes_past(ply, maker):
    waiting, ready = make_wood_job(by=maker, ply=ply), make_wood_job(by=maker, ply=ply)
    gate = Gate.objects.create(job=waiting, kind=GateKind.DEPOSIT)
    with pytest.raises(CannotPlanError, match="waiting"):
        make_ask(job=waiting, ply=ply, by=maker)
    usual = PlanSettings.of(saw_rules())
    (plan,) = ask_plans([Ask(panels_of(waiting, ready), ply, usual)], by=maker, at=AT)
    assert {row.panel.job for row in plan.plan_panels.all()} == {ready}
    Gate.objects.filter(pk=gate.pk).update(state="over", since=AT)
    assert make_ask(job=waiting, ply=ply, by=maker).plan_panels.count() == 2


def test_a_measured_size_is_cut_and_one_that_makes_no_panel_is_refused(ply, maker):
    job = make_wood_job(by=maker, ply=ply)
    first, second = Panel.objects.of_job(job).order_by("number")
    wide = Typed(mm(620), "620")
    measure_panel(first, width=wide, height=Typed(mm(1200), "1200"), by=maker, at=AT)
    plan = make_ask(job=job, ply=ply, by=maker)
    keys = {part.key for part in request_of(plan).parts}
    assert {"620 × 100 mm", "600 × 100 mm"} <= keys
    stop_plan(plan, by=maker, at=AT)
    tiny = Typed(mm(60), "60")
    measure_panel(second, width=tiny, height=tiny, by=maker, at=AT)
    with pytest.raises(CannotPlanError, match=f"{second.code} can't be built"):
        make_ask(job=job, ply=ply, by=maker)


def test_where_quotes_disagree_on_the_thickness_the_stores_decide(ply, maker):
    jobs = [make_wood_job(by=maker, ply=ply) for _ in range(2)]
    for panel in Panel.objects.of_job(jobs[0]):
        panel.snapshot["materials"][str(ply.pk)]["thickness_ticks"] = mm(18)
        panel.save()
    usual = PlanSettings.of(saw_rules())
    (plan,) = ask_plans([Ask(panels_of(*jobs), ply, usual)], by=maker, at=AT)
    request = request_of(plan)
    assert {part.thickness_ticks for part in request.parts} == {mm(15)}
    (stile,) = (part for part in request.parts if part.label == "stile")
    assert (stile.key, stile.count) == ("1170 × 100 mm", 8)


def test_kept_offcuts_come_first_and_are_held_from_other_plans(ply, maker):
    piece = kept(ply, maker)
    plan = make_ask(job=make_wood_job(by=maker, ply=ply), ply=ply, by=maker)
    first = request_of(plan).sources[0]
    assert (first.piece, first.price, first.available) == (str(piece.pk), 0, 1)
    other = make_ask(job=make_wood_job(by=maker, ply=ply), ply=ply, by=maker)
    assert not any(source.is_piece for source in request_of(other).sources)
    assert made(plan).pieces.get().piece == piece
    without = make_ask(
        job=make_wood_job(by=maker, ply=ply), ply=ply, by=maker, use_offcuts=False
    )
    assert not any(source.is_piece for source in request_of(without).sources)


def test_a_piece_that_was_not_used_is_free_again(ply, maker):
    useless = kept(ply, maker, length=100, width=70)
    plan = made(make_ask(job=make_wood_job(by=maker, ply=ply), ply=ply, by=maker))
    assert plan.state == CutState.PLANNED
    assert useless.pk not in PlanPiece.objects.held()


def test_of_two_sizes_the_cheaper_way_is_taken(ply, maker):
    half = make_ply(length_ticks=mm(1220), pack_price=Decimal("20.00"))
    thick = make_ply(thickness_ticks=mm(18))
    ids = tuple(uuid.UUID(str(m.pk)) for m in (half, thick))
    job = make_wood_job(by=maker, ply=ply)
    plan = made(make_ask(job=job, ply=ply, by=maker, alternatives=ids))
    request = request_of(plan)
    assert [source.name for source in request.sources] == [ply.name, half.name]
    assert request.priced_by is PricedBy.MONEY
    assert plan.price == 2000, "one half sheet holds it all"


@pytest.mark.parametrize("price", [None, Decimal(0)])
def test_without_a_price_the_fewest_are_taken(shop, maker, price):
    ply = make_ply(pack_price=price)
    plan = made(make_ask(job=make_wood_job(by=maker, ply=ply), ply=ply, by=maker))
    assert request_of(plan).priced_by is PricedBy.COUNT
    assert (plan.state, plan.price, plan.pieces_used) == (CutState.PLANNED, 1, 1)


def test_with_one_price_missing_area_decides(ply, maker):
    other = make_ply(length_ticks=mm(1220), pack_price=None)
    job = make_wood_job(by=maker, ply=ply)
    plan = made(make_ask(job=job, ply=ply, by=maker, alternatives=(other.pk,)))
    assert request_of(plan).priced_by is PricedBy.AREA
    assert plan.price == 122 * 122


def test_nothing_to_cut_of_a_material_is_said(ply, maker):
    with pytest.raises(CannotPlanError, match="None of these panels"):
        make_ask(job=make_wood_job(by=maker, ply=ply), ply=make_batten(), by=maker)
