"""All cut: marks, stock, offcuts and yields; all or nothing, and all of it back."""

from decimal import Decimal
from fractions import Fraction

import pytest

from jobs.board.models import Panel
from jobs.cutting.actions import (
    CannotPlanError,
    drop_plan,
    finish_plan,
    restore_plan,
    unfinish_plan,
)
from jobs.cutting.adapter import plan_of, request_of
from jobs.cutting.engine.offcuts import left_over
from jobs.cutting.models import CutPlan, CutState, YieldFinding
from jobs.cutting.slots import ON_CUT, ON_CUT_UNDONE
from shared.forms import TypedLength
from shop.catalogue.actions import StockError, keep_piece, throw_piece
from shop.catalogue.models import StockLevel, StockPiece
from tests.factories.catalogue import mm
from tests.factories.cutting import (
    CORNER,
    WALL,
    made,
    make_ask,
    make_batten,
    make_plan,
    make_ply,
    make_wood_job,
)
from tests.factories.jobs import AT

pytestmark = pytest.mark.django_db


@pytest.fixture
def plan(shop, maker):
    return make_plan(by=maker)


def proposed(plan):
    sizes = plan.keep_length_ticks, plan.keep_width_ticks
    return left_over(plan_of(plan), *sizes, request_of(plan))


def finish(plan, by, keep=()):
    return finish_plan(plan, keep=keep, by=by, at=AT)


def on_hand(material):
    found = StockLevel.objects.filter(material=material).first()
    return found.quantity if found else Decimal(0)


def cut_count(plan):
    ids = plan.plan_panels.values_list("panel_id", flat=True)
    return Panel.objects.by_ids(ids).exclude(cut_at=None).count()


def test_panels_are_marked_and_sheets_leave_the_stores(plan, maker):
    finish(plan, maker)
    plan.refresh_from_db()
    assert (plan.state, plan.cut_at) == (CutState.CUT, AT)
    assert on_hand(plan.material) == -1
    assert cut_count(plan) == 2


def test_only_offcuts_that_are_ticked_are_kept(plan, maker):
    first, *others = proposed(plan)
    assert others
    finish(plan, maker, keep=[first.key])
    piece = StockPiece.objects.get()
    assert (piece.length_ticks, piece.width_ticks) == (
        first.length_ticks,
        first.width_ticks,
    )
    assert plan.pieces.get().piece == piece
    assert not plan.pieces.get().taken


def test_a_panel_of_two_materials_is_cut_when_both_are(shop, maker):
    ply, batten = make_ply(), make_batten()
    job = make_wood_job(by=maker, ply=ply, batten=batten, kinds=CORNER)
    sheets, bars = (
        made(make_ask(job=job, ply=material, by=maker)) for material in (ply, batten)
    )
    finish(sheets, maker)
    assert cut_count(sheets) == 0
    finish(bars, maker)
    assert cut_count(sheets) == 2
    assert on_hand(batten) == -bars.pieces_used


def test_yields_share_out_what_was_cut_up_less_what_is_kept(shop, maker):
    plan = make_plan(by=maker, kinds=(*WALL, ("screen", 600, 1200, 1)))
    kept = proposed(plan)[:1]
    finish(plan, maker, keep=[kept[0].key])
    rows = YieldFinding.objects.filter(plan=plan)
    assert {row.build_name for row in rows} == {
        "Wall panel on bevelled cleats",
        "Free-standing screen",
    }
    sheet = Fraction(244 * 122, 10_000) * plan.pieces_used
    used = sheet - kept[0].area_m2
    assert sum(row.stock_m2 for row in rows) == pytest.approx(
        Decimal(float(used)), abs=Decimal("0.0002")
    )
    shares = {row.parts_m2 / row.stock_m2 for row in rows}
    assert max(shares) - min(shares) < Decimal("0.001"), "both yield alike"


def test_later_features_hear_what_was_used(plan, maker, monkeypatch):
    heard = []

    def follow(plan, uses, by, at):
        heard.extend((plan, use.material, use.quantity, by, at) for use in uses)

    monkeypatch.setattr(ON_CUT, "_functions", [follow])
    finish(plan, maker)
    assert heard == [(plan, plan.material, 1, maker, AT)]


def test_of_two_people_who_finish_one_does_and_the_other_is_told(plan, maker, office):
    finish(plan, maker)
    with pytest.raises(CannotPlanError, match="all cut: look again"):
        finish(plan, office)
    assert on_hand(plan.material) == -1


def test_a_piece_that_is_gone_stores_nothing(shop, maker):
    ply = make_ply()
    sides = {"length": TypedLength(mm(2400), ""), "width": TypedLength(mm(600), "")}
    piece = keep_piece(ply, **sides, by=maker, at=AT)
    plan = make_plan(by=maker, ply=ply)
    assert plan.pieces.get().piece == piece
    throw_piece(piece, by=maker, at=AT)
    with pytest.raises(StockError):
        finish(plan, maker)
    plan.refresh_from_db()
    assert (plan.state, on_hand(ply), cut_count(plan)) == (CutState.PLANNED, 0, 0)


def test_all_of_it_is_taken_back_and_can_be_done_again(plan, maker, monkeypatch):
    heard = []
    monkeypatch.setattr(ON_CUT_UNDONE, "_functions", [lambda *all_: heard.append(all_)])
    keys = [left.key for left in proposed(plan)]
    finish(plan, maker, keep=keys)
    unfinish_plan(plan, by=maker, at=AT)
    plan.refresh_from_db()
    assert (plan.state, plan.cut_at) == (CutState.PLANNED, None)
    assert (on_hand(plan.material), cut_count(plan)) == (0, 0)
    assert not StockPiece.objects.kept().exists()
    assert not YieldFinding.objects.exists()
    assert heard == [(plan, maker, AT)]
    finish(plan, maker, keep=keys)
    assert StockPiece.objects.kept().count() == len(keys)


def test_what_was_decided_on_keeps_the_finishing(plan, maker, owner):
    finish(plan, maker)
    YieldFinding.objects.update(decided_at=AT, decided_by=owner)
    with pytest.raises(CannotPlanError, match="decided"):
        unfinish_plan(plan, by=maker, at=AT)
    assert CutPlan.objects.get().state == CutState.CUT


def test_a_dropped_plan_frees_its_panels_and_comes_back_if_they_are_free(plan, maker):
    drop_plan(plan, by=maker, at=AT)
    restore_plan(plan, by=maker, at=AT)
    drop_plan(plan, by=maker, at=AT)
    panels = plan.plan_panels.all()
    job = panels[0].panel.job
    make_ask(job=job, ply=plan.material, by=maker)
    with pytest.raises(CannotPlanError, match="planned already"):
        restore_plan(plan, by=maker, at=AT)
