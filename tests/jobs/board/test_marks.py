"""Marks stand beside the stage, are on record, and come off again."""

import datetime as dt

import pytest

from jobs.board.actions import (
    CannotUndoError,
    Typed,
    mark_panels,
    measure_panel,
    undo_marks,
    undo_moves,
)
from jobs.board.models import Mark, MarkChange, Panel, Stage
from shared.models import Entry
from tests.factories.jobs import AT, make_job

pytestmark = pytest.mark.django_db
LATER = AT + dt.timedelta(hours=1)


@pytest.fixture
def panel(owner):
    return make_job(by=owner).panels.first()


def fresh(panel):
    return Panel.objects.get(pk=panel.pk)


def test_waiting_for_says_what_for(panel, office):
    mark_panels([panel.pk], mark=Mark.WAITING, now="fabric", by=office, at=AT)
    assert fresh(panel).waiting_for == "fabric"


def test_cut_is_a_time(panel, maker):
    mark_panels([panel.pk], mark=Mark.CUT, now="yes", by=maker, at=AT)
    assert fresh(panel).cut_at == AT


def test_an_empty_word_takes_the_mark_off_and_both_are_on_record(panel, maker):
    mark_panels([panel.pk], mark=Mark.REWORK, now="torn corner", by=maker, at=AT)
    mark_panels([panel.pk], mark=Mark.REWORK, now="", by=maker, at=LATER)
    assert fresh(panel).rework == ""
    changes = MarkChange.objects.order_by("at")
    assert [(c.was, c.now) for c in changes] == [
        ("", "torn corner"),
        ("torn corner", ""),
    ]


def test_marking_twice_the_same_writes_once(panel, maker):
    for _ in range(2):
        mark_panels([panel.pk], mark=Mark.CUT, now="yes", by=maker, at=AT)
    assert MarkChange.objects.count() == 1


def test_an_undo_brings_the_mark_before_back(panel, maker):
    mark_panels([panel.pk], mark=Mark.CUT, now="yes", by=maker, at=AT)
    off = mark_panels([panel.pk], mark=Mark.CUT, now="", by=maker, at=LATER)
    undo_marks(off, by=maker, at=LATER + dt.timedelta(minutes=1))
    assert fresh(panel).cut_at == AT


def test_an_undo_is_refused_after_a_later_change(panel, maker):
    first = mark_panels([panel.pk], mark=Mark.WAITING, now="fabric", by=maker, at=AT)
    mark_panels([panel.pk], mark=Mark.WAITING, now="deposit", by=maker, at=LATER)
    with pytest.raises(CannotUndoError):
        undo_marks(first, by=maker, at=LATER)


def test_measuring_keeps_what_was_typed_and_moves_a_planned_panel_on(panel, fitter):
    measure_panel(
        panel,
        width=Typed(191_000, "597"),
        height=Typed(384_000, "1.2 m"),
        by=fitter,
        at=AT,
    )
    measured = fresh(panel)
    assert measured.stage == Stage.MEASURED
    assert (measured.build_width_ticks, measured.measured_height_text) == (
        191_000,
        "1.2 m",
    )
    assert measured.width_ticks == 192_000
    assert Entry.objects.about("panel", panel.pk).get().by == fitter


def test_measuring_gives_the_move_to_take_back_only_where_there_was_one(panel, fitter):
    def measure():
        size = {"width": Typed(191_000, "597"), "height": Typed(384_000, "1200")}
        return measure_panel(panel, **size, by=fitter, at=AT)

    batch = measure()
    assert measure() is None
    undo_moves(batch, by=fitter, at=LATER)
    assert fresh(panel).stage == Stage.PLANNED
    assert fresh(panel).measured_width_text == "597"
