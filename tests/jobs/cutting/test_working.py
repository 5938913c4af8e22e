"""The worker makes plans: once, again after a death, not when stopped, never half."""

import dataclasses

import pytest
from django.utils import timezone

from jobs.cutting import solving
from jobs.cutting.actions import begin, stop_plan, store_found
from jobs.cutting.adapter import plan_of, request_of, request_to_json
from jobs.cutting.engine.results import halvings_of, rows_of
from jobs.cutting.models import CutPlan, CutState, PlanPiece
from jobs.cutting.slots import ON_PLANNED
from jobs.cutting.solving import SEARCHES, Watch, solve
from jobs.cutting.tasks import make_plan
from shared.length import TICKS_PER_MM
from tests.factories.catalogue import mm
from tests.factories.cutting import made, make_ask, make_ply, make_wood_job
from tests.factories.jobs import AT

pytestmark = pytest.mark.django_db


@pytest.fixture
def asked(shop, maker):
    ply = make_ply()
    return make_ask(job=make_wood_job(by=maker, ply=ply), ply=ply, by=maker)


def reread(plan):
    return CutPlan.objects.get(pk=plan.pk)


def rewrite(plan, **changes):
    """Ask for something else than the panels' own parts."""
    request = dataclasses.replace(request_of(plan), **changes)
    CutPlan.objects.filter(pk=plan.pk).update(request=request_to_json(request))
    return reread(plan)


def test_an_ask_wakes_the_worker_once_it_is_stored(
    shop, maker, django_capture_on_commit_callbacks
):
    ply = make_ply()
    with django_capture_on_commit_callbacks() as woken:
        make_ask(job=make_wood_job(by=maker, ply=ply), ply=ply, by=maker)
    assert len(woken) == 1


def test_the_plan_is_kept_with_its_rows_and_what_halving_costs(asked):
    make_plan.func(str(asked.pk))
    plan = reread(asked)
    assert (plan.state, plan.pieces_used) == (CutState.PLANNED, 1)
    assert plan.price == plan.lower_bound == 4800
    assert plan.engine_version == plan_of(plan).verdict.version
    assert [str(way.halving) for way in halvings_of(plan.result)] == [
        "whole",
        "lengthwise",
        "across",
    ]
    wanted = {part.key: part.count for part in request_of(plan).parts}
    rows = rows_of(plan.result)
    crosscut = [piece for r in rows if r.step == "crosscut" for piece in r.pieces]
    assert {piece.part: piece.count for piece in crosscut} == wanted


def test_twice_is_once(asked):
    plan = made(asked)
    again = made(asked)
    assert (again.planned_at, again.result) == (plan.planned_at, plan.result)


def test_of_two_workers_the_first_stores(asked):
    plan = begin(asked.pk)
    found = SEARCHES[plan.kind](plan, Watch(plan.pk))
    assert store_found(plan.pk, found, at=AT)
    assert store_found(plan.pk, found, at=timezone.now()) is None
    assert reread(asked).planned_at == AT


def test_what_a_dead_worker_had_begun_is_taken_up_again(asked):
    assert begin(asked.pk).state == CutState.PLANNING
    assert made(asked).state == CutState.PLANNED


def test_later_features_hear_of_it_inside_the_transaction(asked, monkeypatch):
    heard = []
    monkeypatch.setattr(ON_PLANNED, "_functions", [heard.append])
    assert heard == [made(asked)]

    def fail(plan):
        raise RuntimeError

    other = CutPlan.objects.get(pk=asked.pk)
    CutPlan.objects.filter(pk=other.pk).update(state=CutState.PLANNING, result=None)
    monkeypatch.setattr(ON_PLANNED, "_functions", [fail])
    with pytest.raises(RuntimeError):
        solve(asked.pk, now=timezone.now)
    assert reread(asked).state == CutState.PLANNING


def test_what_nobody_has_begun_stops_at_once(asked, maker):
    assert stop_plan(asked, by=maker, at=AT).state == CutState.STOPPED
    assert made(asked).state == CutState.STOPPED
    assert not PlanPiece.objects.filter(plan=asked).exists()


def test_a_search_that_is_stopped_keeps_the_best_so_far(asked, maker, monkeypatch):
    plan = begin(asked.pk)
    monkeypatch.setattr(solving, "OFTEN_S", 0.0)
    stop_plan(plan, by=maker, at=AT)
    found = SEARCHES[plan.kind](plan, Watch(plan.pk))
    assert found.result["halvings"] == [], "no work is begun after it"
    assert store_found(plan.pk, found, at=AT).state == CutState.PLANNED


def test_a_stop_that_no_worker_hears_is_seen_by_the_next(asked, maker):
    plan = begin(asked.pk)
    stop_plan(plan, by=maker, at=AT)
    assert made(plan).state == CutState.STOPPED


def test_a_search_that_hears_nothing_is_left_by_stopping_twice(asked, maker):
    plan = begin(asked.pk)
    found = SEARCHES[plan.kind](plan, Watch(plan.pk))
    assert stop_plan(plan, by=maker, at=AT).is_in_work
    assert stop_plan(plan, by=maker, at=AT).state == CutState.STOPPED
    assert store_found(plan.pk, found, at=AT) is None


def test_a_part_longer_than_any_sheet_is_refused_by_name_and_owner(asked):
    part = request_of(asked).parts[0]
    long = dataclasses.replace(part, key="2500 × 100 mm", length_ticks=mm(2500))
    plan = made(rewrite(asked, parts=(long,)))
    assert plan.state == CutState.REFUSED
    assert "2500 × 100 mm" in plan.refusal
    assert "stile of J" in plan.refusal
    assert (plan.result, plan.planned_at, plan.pieces_used) == (None, None, None)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"kerf_ticks": 90 * TICKS_PER_MM}, "saw's cut is wider than part"),
        ({"sources": ()}, "no sheet to cut from"),
        ({"parts": ()}, "nothing to cut"),
        ({"trim_ticks": 600 * TICKS_PER_MM}, "fits no sheet"),
    ],
)
def test_what_no_plan_can_be_made_from_is_a_sentence(asked, changes, words):
    refused = made(rewrite(asked, **changes))
    assert (refused.state, refused.result) == (CutState.REFUSED, None)
    assert words in refused.refusal


def test_ten_thousand_different_parts_are_refused_in_time(asked):
    part = request_of(asked).parts[0]
    many = tuple(
        dataclasses.replace(part, key=f"part {n}", length_ticks=mm(200) + n, shares=())
        for n in range(10_000)
    )
    plan = made(rewrite(asked, parts=many))
    assert plan.state == CutState.REFUSED
    assert "10000 different parts" in plan.refusal
