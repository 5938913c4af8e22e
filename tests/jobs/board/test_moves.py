"""Panels move through the stages, and every move can be taken back."""

import datetime as dt
import uuid

import pytest
from django.db import IntegrityError, transaction

from jobs.board.actions import CannotUndoError, move_panels, undo_moves
from jobs.board.models import JobState, Panel, Stage, StageMove
from shared.models import LedgerIsAppendOnlyError
from tests.factories.jobs import AT, make_job

pytestmark = pytest.mark.django_db
LATER = AT + dt.timedelta(hours=1)


@pytest.fixture
def panels(owner):
    return list(make_job(by=owner).panels.all())


def seen(*panels):
    return tuple((panel.pk, panel.stage) for panel in panels)


def fresh(panel):
    return Panel.objects.get(pk=panel.pk)


def test_a_move_ahead_fills_the_stages_between(panels, maker):
    move_panels(seen(panels[0]), to=Stage.UPHOLSTERED, by=maker, at=LATER)
    panel = fresh(panels[0])
    assert panel.stage == Stage.UPHOLSTERED
    assert panel.measured_at == panel.built_at == panel.upholstered_at == LATER
    assert panel.installed_at is None


def test_a_move_ahead_keeps_the_times_that_are_there(panels, maker):
    move_panels(seen(panels[0]), to=Stage.MEASURED, by=maker, at=AT)
    move_panels(seen(fresh(panels[0])), to=Stage.BUILT, by=maker, at=LATER)
    assert fresh(panels[0]).measured_at == AT


def test_a_move_back_clears_what_comes_after(panels, maker):
    move_panels(seen(panels[0]), to=Stage.INSTALLED, by=maker, at=AT)
    move_panels(seen(fresh(panels[0])), to=Stage.BUILT, by=maker, at=LATER)
    panel = fresh(panels[0])
    assert (panel.built_at, panel.upholstered_at, panel.installed_at) == (
        AT,
        None,
        None,
    )


def test_many_move_at_once_and_one_undo_takes_all_back(panels, maker):
    moved = move_panels(seen(*panels), to=Stage.BUILT, by=maker, at=AT)
    assert len(moved.moved) == 2
    undo_moves(moved.batch, by=maker, at=LATER)
    assert {fresh(p).stage for p in panels} == {Stage.PLANNED}
    assert all(fresh(p).measured_at is None for p in panels)


def test_an_undo_gives_the_old_times_back(panels, maker):
    move_panels(seen(panels[0]), to=Stage.BUILT, by=maker, at=AT)
    back = move_panels(seen(fresh(panels[0])), to=Stage.PLANNED, by=maker, at=LATER)
    undo_moves(back.batch, by=maker, at=LATER + dt.timedelta(minutes=1))
    assert fresh(panels[0]).built_at == AT


def test_a_move_that_expects_another_stage_loses_politely(panels, maker):
    stale = seen(panels[0])
    move_panels(stale, to=Stage.BUILT, by=maker, at=AT)
    lost = move_panels(stale, to=Stage.MEASURED, by=maker, at=LATER)
    assert (lost.moved, [p.pk for p in lost.elsewhere]) == ((), [panels[0].pk])
    assert fresh(panels[0]).stage == Stage.BUILT


def test_each_move_is_on_record_with_who_and_when(panels, maker):
    move_panels(seen(panels[0]), to=Stage.BUILT, by=maker, at=LATER)
    move = StageMove.objects.get()
    assert (move.from_stage, move.to_stage, move.by, move.at) == (
        Stage.PLANNED,
        Stage.BUILT,
        maker,
        LATER,
    )


def test_an_undo_is_refused_after_a_later_move(panels, maker):
    first = move_panels(seen(panels[0]), to=Stage.BUILT, by=maker, at=AT)
    move_panels(seen(fresh(panels[0])), to=Stage.UPHOLSTERED, by=maker, at=LATER)
    with pytest.raises(CannotUndoError):
        undo_moves(first.batch, by=maker, at=LATER)
    assert fresh(panels[0]).stage == Stage.UPHOLSTERED


def test_an_undo_is_done_once(panels, maker):
    moved = move_panels(seen(panels[0]), to=Stage.BUILT, by=maker, at=AT)
    undo_moves(moved.batch, by=maker, at=LATER)
    with pytest.raises(CannotUndoError):
        undo_moves(moved.batch, by=maker, at=LATER)


def test_an_unknown_batch_has_nothing_to_undo(maker, db):
    with pytest.raises(CannotUndoError):
        undo_moves(uuid.uuid4(), by=maker, at=AT)


def test_the_job_is_done_when_the_last_panel_is_installed_and_open_again_after_undo(
    panels, fitter
):
    moved = move_panels(seen(*panels), to=Stage.INSTALLED, by=fitter, at=AT)
    assert fresh(panels[0]).job.state == JobState.DONE
    undo_moves(moved.batch, by=fitter, at=LATER)
    assert fresh(panels[0]).job.state == JobState.OPEN


def test_the_ledger_knows_no_update_and_no_delete(panels, maker):
    move_panels(seen(panels[0]), to=Stage.BUILT, by=maker, at=AT)
    with pytest.raises(LedgerIsAppendOnlyError):
        StageMove.objects.all().delete()
    with pytest.raises(LedgerIsAppendOnlyError):
        StageMove.objects.update(at=LATER)


@pytest.mark.parametrize(
    "columns",
    [
        {"built_at": AT},
        {"stage": Stage.BUILT},
        {"stage": "varnished"},
        {"stage": Stage.MEASURED, "measured_at": AT, "installed_at": AT},
        {"width_ticks": 0},
        {"measured_height_ticks": -1},
    ],
)
def test_the_database_refuses_a_panel_out_of_order(panels, columns):
    with pytest.raises(IntegrityError), transaction.atomic():
        Panel.objects.of_job(panels[0].job).update(**columns)


def test_moving_200_panels_takes_no_more_queries_than_two(
    owner, maker, django_assert_max_num_queries
):
    few = list(make_job(by=owner, panels=2).panels.all())
    many = list(make_job(by=owner, panels=200).panels.all())
    with django_assert_max_num_queries(12):
        few_moved = move_panels(seen(*few), to=Stage.BUILT, by=maker, at=AT)
    with django_assert_max_num_queries(14):
        many_moved = move_panels(seen(*many), to=Stage.BUILT, by=maker, at=AT)
    with django_assert_max_num_queries(14):
        undo_moves(many_moved.batch, by=maker, at=LATER)
    assert (len(few_moved.moved), len(many_moved.moved)) == (2, 200)
