"""Open a job, move its panels, mark them, measure them, and undo."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from jobs.board.models import (
    STAGES,
    Job,
    JobState,
    Mark,
    MarkChange,
    Panel,
    Stage,
    StageMove,
)
from jobs.board.slots import ON_MEASURED
from jobs.board.snapshot import PanelPart, panel_parts
from quotes.offers.models import QuoteRevision
from shared.audit.actions import record
from shared.dates import show_day
from shared.numbering import next_number
from shop.people.models import Person

TIME_FIELDS = tuple(f"{stage.value}_at" for stage in STAGES)
STATE_FIELDS = ("stage", *TIME_FIELDS)


@dataclass(frozen=True, slots=True)
class Moved:
    """What a move did: the batch that one undo takes back, and who lost politely."""

    batch: uuid.UUID
    moved: tuple[Panel, ...]
    elsewhere: tuple[Panel, ...]
    """Panels that were no longer at the stage the person saw."""
    filled: tuple[Stage, ...] = ()
    """Stages between that some panel of the move had not been at."""


class CannotUndoError(Exception):
    """A later move or mark stands on the one to undo, or it was undone before."""


def open_job(revision: QuoteRevision, by: Person | None, at: dt.datetime) -> Job:
    """Open the job of an accepted revision, from its snapshot alone.

    Called inside the accepting transaction.
    """
    number = next_number("job", year=0)
    job: Job = Job.objects.create(
        code=f"J{number}",
        revision=revision,
        client_id=revision.snapshot["client"]["id"],
        opened_at=at,
        # a day to plan by, which the enquiry asked for: nothing that was offered
        wanted_by=revision.quote.client.enquiries.day_wanted(),
    )
    Panel.objects.bulk_create(
        _panel(job, part, at=at) for part in panel_parts(revision.snapshot)
    )
    record(
        job,
        verb="opened",
        text=f"Job {job.code} opened from {revision.reference}.",
        by=by,
        at=at,
    )
    return job


@transaction.atomic
def want_job_by(job: Job, day: dt.date | None, *, by: Person, at: dt.datetime) -> None:
    """Set the day by which the client wants everything to hang, or none."""
    job.wanted_by = day
    job.save(update_fields=("wanted_by",))
    text = f"Wanted by {show_day(day)}." if day else "No day wanted any more."
    record(job, verb="planned", text=text, by=by, at=at)


def _panel(job: Job, part: PanelPart, *, at: dt.datetime) -> Panel:
    return Panel(
        job=job,
        planned_panel=part.planned_panel,
        number=part.number,
        code=f"{job.code}-{part.number:02d}",
        spec_name=part.spec_name,
        kind=part.kind,
        room_name=part.room_name,
        fabric_name=part.fabric_name,
        snapshot=part.snapshot,
        width_ticks=part.width_ticks,
        height_ticks=part.height_ticks,
        planned_at=at,
    )


@transaction.atomic
def move_panels(
    seen: Sequence[tuple[uuid.UUID, str]], *, to: Stage, by: Person, at: dt.datetime
) -> Moved:
    """Move panels to a stage, each from the stage that the person saw it at.

    Moving ahead fills the stages between; moving back clears what comes after. A panel
    that is no longer where it was seen stays where it is and is reported.
    """
    expected = dict(seen)
    _lock(expected)
    panels = list(Panel.objects.standing().with_job().by_ids(expected))
    here = [p for p in panels if p.stage == expected[p.pk]]
    elsewhere = tuple(p for p in panels if p.stage != expected[p.pk])
    movers = tuple(p for p in here if p.stage != to)
    batch = uuid.uuid4()
    moves = [_move(panel, to=to, by=by, at=at, batch=batch) for panel in movers]
    Panel.objects.bulk_update(movers, STATE_FIELDS)
    StageMove.objects.bulk_create(moves)
    _settle_jobs({panel.job for panel in movers}, at=at, by=by)
    return Moved(batch, moved=movers, elsewhere=elsewhere, filled=_between(moves))


def _between(moves: Iterable[StageMove]) -> tuple[Stage, ...]:
    """Give the stages that moves ahead jumped over, in the order of the work."""
    order = STAGES.index
    ways = {(order(Stage(m.from_stage)), order(Stage(m.to_stage))) for m in moves}
    jumped = {stage for start, end in ways for stage in STAGES[start + 1 : end]}
    return tuple(stage for stage in STAGES if stage in jumped)


def _lock(ids: Iterable[uuid.UUID]) -> None:
    """Hold panels until the transaction ends, always in the same order."""
    list(Panel.objects.select_for_update().by_ids(ids).order_by("pk").values_list("pk"))


def _move(
    panel: Panel, *, to: Stage, by: Person, at: dt.datetime, batch: uuid.UUID
) -> StageMove:
    """Set the panel's stage and times; give the ledger's row."""
    move = StageMove(
        panel=panel,
        batch=batch,
        from_stage=panel.stage,
        to_stage=to,
        at=at,
        by=by,
        times_before=_times(panel),
    )
    reached = STAGES.index(to)
    for index, field in enumerate(TIME_FIELDS):
        if index > reached:
            setattr(panel, field, None)
        elif getattr(panel, field) is None:
            setattr(panel, field, at)
    panel.stage = to
    return move


def _times(panel: Panel) -> dict[str, str]:
    times = ((field, getattr(panel, field)) for field in TIME_FIELDS)
    return {field: time.isoformat() for field, time in times if time is not None}


@transaction.atomic
def undo_moves(batch: uuid.UUID, *, by: Person, at: dt.datetime) -> Moved:
    """Take back the moves of one batch, as new moves; the panels' times come back too.

    Raises
    ------
    CannotUndoError
        When a panel has been moved again since, or the batch was undone before.
    """
    moved = StageMove.objects.in_batch(batch).values_list("panel_id", flat=True)
    # the panels first, as every move does: nobody moves them on while this is decided
    _lock(tuple(moved))
    moves = list(
        StageMove.objects.select_related("panel__job__client__details").in_batch(batch)
    )
    newest = StageMove.objects.newest_of_each(move.panel_id for move in moves)
    if not moves or any(m.pk not in newest or m.undoes_id for m in moves):
        raise CannotUndoError
    undo = uuid.uuid4()
    StageMove.objects.bulk_create(
        _undoing(move, batch=undo, by=by, at=at) for move in moves
    )
    panels = tuple(move.panel for move in moves)
    Panel.objects.bulk_update(panels, STATE_FIELDS)
    _settle_jobs({panel.job for panel in panels}, at=at, by=by)
    return Moved(batch=undo, moved=panels, elsewhere=())


def _undoing(
    move: StageMove, *, batch: uuid.UUID, by: Person, at: dt.datetime
) -> StageMove:
    panel = move.panel
    times_now = _times(panel)
    for field in TIME_FIELDS:
        before = move.times_before.get(field)
        setattr(panel, field, dt.datetime.fromisoformat(before) if before else None)
    panel.stage = move.from_stage
    return StageMove(
        panel=panel,
        batch=batch,
        from_stage=move.to_stage,
        to_stage=move.from_stage,
        at=at,
        by=by,
        times_before=times_now,
        undoes=move,
    )


def _settle_jobs(jobs: Iterable[Job], *, at: dt.datetime, by: Person) -> None:
    """Close a job whose every panel is installed; open it again if one is taken back."""
    ids = [job.pk for job in jobs]
    # locked, so that of two people who hang the last two panels one sees both
    for job in Job.objects.select_for_update().standing().by_ids(ids):
        left = Panel.objects.of_job(job).not_installed().exists()
        state = JobState.OPEN if left else JobState.DONE
        if state != job.state:
            job.state = state
            job.save(update_fields=("state",))
            verb = "reopened" if left else "finished"
            record(job, verb=verb, text=f"Job {job.code} {verb}.", by=by, at=at)


MARK_FIELDS: dict[Mark, str] = {
    Mark.CUT: "cut_at",
    Mark.CHECKED: "checked_at",
    Mark.WAITING: "waiting_for",
    Mark.REWORK: "rework",
}


@transaction.atomic
def mark_panels(
    ids: Sequence[uuid.UUID], *, mark: Mark, now: str, by: Person, at: dt.datetime
) -> uuid.UUID:
    """Set a mark on panels, or take it off with an empty `now`; give the undo's batch.

    `now` is what is waited for or to be done again; for “cut” and “checked” any word.
    """
    batch = uuid.uuid4()
    panels = list(Panel.objects.select_for_update(of=("self",)).standing().by_ids(ids))
    changes = [
        change
        for panel in panels
        if (change := _mark(panel, mark=mark, now=now, by=by, at=at, batch=batch))
    ]
    Panel.objects.bulk_update(panels, (MARK_FIELDS[mark],))
    MarkChange.objects.bulk_create(changes)
    return batch


def _mark(
    panel: Panel,
    *,
    mark: Mark,
    now: str,
    by: Person,
    at: dt.datetime,
    batch: uuid.UUID,
) -> MarkChange | None:
    field = MARK_FIELDS[mark]
    was: Any = getattr(panel, field)
    value: Any = now
    if mark in (Mark.CUT, Mark.CHECKED):
        was, value = (was.isoformat() if was else ""), (at if now else None)
    if bool(was) == bool(now) and (mark in (Mark.CUT, Mark.CHECKED) or was == now):
        return None
    setattr(panel, field, value)
    return MarkChange(
        panel=panel, batch=batch, mark=mark, was=was, now=now, at=at, by=by
    )


@transaction.atomic
def undo_marks(batch: uuid.UUID, *, by: Person, at: dt.datetime) -> None:
    """Put marks back as they were before a batch.

    Raises
    ------
    CannotUndoError
        When a mark has been changed again since.
    """
    marked = MarkChange.objects.in_batch(batch).values_list("panel_id", flat=True)
    _lock(tuple(marked))
    changes = list(MarkChange.objects.select_related("panel").in_batch(batch))
    newest = MarkChange.objects.newest_of_each(c.panel_id for c in changes)
    if not changes or any(change.pk not in newest for change in changes):
        raise CannotUndoError
    undo = uuid.uuid4()
    for change in changes:
        field = MARK_FIELDS[Mark(change.mark)]
        value: Any = change.was
        if change.mark in (Mark.CUT, Mark.CHECKED):
            value = dt.datetime.fromisoformat(change.was) if change.was else None
        setattr(change.panel, field, value)
        change.panel.save(update_fields=(field,))
        MarkChange.objects.create(
            panel=change.panel,
            batch=undo,
            mark=change.mark,
            was=change.now,
            now=change.was,
            at=at,
            by=by,
        )


@dataclass(frozen=True, slots=True)
class Typed:
    """A length as it was typed, and as it was understood."""

    ticks: int
    text: str


@transaction.atomic
def measure_panel(
    panel: Panel, *, width: Typed, height: Typed, by: Person, at: dt.datetime
) -> uuid.UUID | None:
    """Write down a panel's own size, and move it on to measured if it was planned.

    Gives the batch of that move, or nothing if the panel stayed where it was.
    """
    locked = Panel.objects.select_for_update().get(pk=panel.pk)
    locked.measured_width_ticks, locked.measured_width_text = width.ticks, width.text
    locked.measured_height_ticks, locked.measured_height_text = (
        height.ticks,
        height.text,
    )
    locked.full_clean(validate_unique=False)
    locked.save(
        update_fields=(
            "measured_width_ticks",
            "measured_width_text",
            "measured_height_ticks",
            "measured_height_text",
        )
    )
    batch = None
    if locked.stage == Stage.PLANNED:
        seen = ((locked.pk, Stage.PLANNED.value),)
        batch = move_panels(seen, to=Stage.MEASURED, by=by, at=at).batch
    record(
        locked,
        verb="measured",
        text=f"Panel {locked.code} measured: {width.text} × {height.text}.",
        by=by,
        at=at,
    )
    for follow in ON_MEASURED:
        follow(locked, by, at)
    return batch
