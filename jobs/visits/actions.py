"""Plan a site day, change it, cancel and restore it, close it; tick the van list."""

from __future__ import annotations

import datetime as dt
import uuid
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db import transaction

from jobs.board.actions import Moved, move_panels, undo_moves
from jobs.board.models import Job, Panel, Stage
from jobs.visits.models import (
    HowEnded,
    LooseEnd,
    SiteDay,
    SiteDayPanel,
    SiteDayState,
    VanTick,
)
from shared.audit.actions import record
from shop.clients.models import Site
from shop.people.models import Person


class DayHasMovedOnError(Exception):
    """The day is no longer in the state that the person saw."""


@dataclass(frozen=True, slots=True)
class DayPlan:
    """What a person wrote down for a day, read and checked."""

    on: dt.date
    arrive_at: dt.time | None
    kind: str
    site: Site
    crew: tuple[Person, ...]
    panels: tuple[Panel, ...]
    notes: str = ""


@transaction.atomic
def plan_day(
    job: Job, plan: DayPlan, *, zone: str, by: Person, at: dt.datetime
) -> SiteDay:
    """Plan a day for a job, in the local time of a zone."""
    if Job.objects.select_for_update().get(pk=job.pk).is_taken_back:
        raise DayHasMovedOnError
    day = SiteDay(job=job, zone=zone)
    _fill(day, plan)
    record(job, verb="planned", text=f"{_words(day)} planned.", by=by, at=at)
    record(day, verb="planned", text="Planned.", by=by, at=at)
    return day


@transaction.atomic
def change_day(day: SiteDay, plan: DayPlan, *, by: Person, at: dt.datetime) -> SiteDay:
    """Change a planned day; its zone stays as it was written down."""
    locked = _locked(day, SiteDayState.PLANNED)
    before = _words(locked)
    _fill(locked, plan)
    text = f"Changed: {_words(locked)}." if _words(locked) != before else "Changed."
    record(locked, verb="changed", text=text, by=by, at=at)
    return locked


def _locked(day: SiteDay, state: SiteDayState) -> SiteDay:
    """Hold the row until the end, in the state that the person saw it in."""
    locked: SiteDay = SiteDay.objects.select_for_update(of=("self",)).get(pk=day.pk)
    if locked.state != state:
        raise DayHasMovedOnError
    return locked


def _fill(day: SiteDay, plan: DayPlan) -> None:
    day.on, day.arrive_at, day.kind = plan.on, plan.arrive_at, plan.kind
    day.site, day.notes = plan.site, plan.notes
    day.full_clean()
    day.save()
    day.crew.set(plan.crew)
    _set_panels(day, plan.panels)


def _set_panels(day: SiteDay, panels: Iterable[Panel]) -> None:
    wanted = {panel.pk: panel for panel in panels}
    kept = set()
    for row in day.site_day_panels.all():
        if row.panel_id in wanted:
            kept.add(row.panel_id)
        else:
            row.delete()
    SiteDayPanel.objects.bulk_create(
        SiteDayPanel(site_day=day, panel=panel)
        for pk, panel in wanted.items()
        if pk not in kept
    )


def _words(day: SiteDay) -> str:
    time = f", {day.arrive_at:%H:%M}" if day.arrive_at else ""
    return f"{day.get_kind_display().capitalize()} day {day.on:%Y-%m-%d}{time}"


@transaction.atomic
def cancel_day(day: SiteDay, *, by: Person, at: dt.datetime) -> None:
    """Call a planned day off."""
    locked = _locked(day, SiteDayState.PLANNED)
    _set_state(locked, SiteDayState.CANCELLED)
    record(locked, verb="cancelled", text="Called off.", by=by, at=at)


@transaction.atomic
def restore_day(day: SiteDay, *, by: Person, at: dt.datetime) -> None:
    """Put a cancelled day back."""
    locked = _locked(day, SiteDayState.CANCELLED)
    if Job.objects.select_for_update().get(pk=locked.job_id).is_taken_back:
        raise DayHasMovedOnError
    _set_state(locked, SiteDayState.PLANNED)
    record(locked, verb="restored", text="Put back.", by=by, at=at)


def _set_state(day: SiteDay, state: SiteDayState) -> None:
    day.state = state
    day.full_clean()
    day.save(update_fields=("state", "done_at", "done_by"))


@transaction.atomic
def close_day(
    day: SiteDay,
    seen: Sequence[tuple[uuid.UUID, str]],
    *,
    ends: Sequence[LooseEnd] = (),
    by: Person,
    at: dt.datetime,
) -> Moved | None:
    """Close a day by somebody; panels named as seen are moved on to installed.

    `ends` are what was left open, kept with the day. Gives what moved, or nothing when no panel was named.

    Raises
    ------
    DayHasMovedOnError
        When the day is not planned any more, or a panel does not go that day.
    """
    locked = _locked(day, SiteDayState.PLANNED)
    if not {pk for pk, _ in seen} <= set(locked.panels.values_list("pk", flat=True)):
        raise DayHasMovedOnError
    locked.done_at, locked.done_by = at, by
    _set_state(locked, SiteDayState.DONE)
    moved = move_panels(seen, to=Stage.INSTALLED, by=by, at=at) if seen else None
    for end in ends:
        end.site_day = locked
    LooseEnd.objects.bulk_create(ends)
    text = _closed_words(len(moved.moved) if moved else 0, ends)
    record(locked, verb="done", text=text, by=by, at=at)
    return moved


def _closed_words(hung: int, ends: Iterable[LooseEnd]) -> str:
    counts = Counter(end.how for end in ends)
    told = (
        (hung, "installed"),
        *((counts[how], how.label) for how in HowEnded),
    )
    said = [f"{count} {what}" for count, what in told if count]
    return f"Done; {'; '.join(said)}." if said else "Done."


@transaction.atomic
def open_day_again(
    day: SiteDay, batch: uuid.UUID | None, *, by: Person, at: dt.datetime
) -> None:
    """Take back the closing of a day, with its moves and what was said of loose ends.

    Raises
    ------
    DayHasMovedOnError
        When the day is not closed.
    CannotUndoError
        When a panel has been moved again since.
    """
    locked = _locked(day, SiteDayState.DONE)
    if batch is not None:
        undo_moves(batch, by=by, at=at)
    locked.loose_ends.all().delete()
    locked.done_at, locked.done_by = None, None
    _set_state(locked, SiteDayState.PLANNED)
    record(locked, verb="opened", text="Opened again.", by=by, at=at)


@transaction.atomic
def tick(day: SiteDay, key: str, *, on: bool, by: Person, at: dt.datetime) -> None:
    """Append a tick of a line, or a tick taken back; saying it again writes nothing."""
    standing = VanTick.objects.standing(day)
    if (key in standing) != on:
        VanTick.objects.create(site_day=day, key=key, ticked=on, by=by, at=at)
