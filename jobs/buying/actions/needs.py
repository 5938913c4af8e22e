"""Write down what jobs need, whenever it changes."""

from __future__ import annotations

import datetime as dt
import uuid

from django.db import transaction

from jobs.board.models import Job
from jobs.buying.adapter import Needed
from jobs.buying.models import JobNeed
from jobs.buying.reports.needs import work_out
from jobs.cutting.models import CutPlan
from quotes.offers.models import QuoteRevision
from shared.audit.actions import record


@transaction.atomic
def note_needs(job: Job, *, at: dt.datetime) -> bool:
    """Work out what a job needs, and store what changed; tell whether anything did.

    A job that is done or taken back keeps what stands there.
    """
    locked = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
    if not locked.is_open:
        return False
    needs, lost = work_out(locked)
    before = {need.material_id: need for need in JobNeed.objects.of_job(locked)}
    changed = [
        _row(locked, before.get(pk), pk, need, at=at)
        for pk, need in needs.items()
        if pk not in before or not _same(before[pk], need)
    ]
    gone = [need for pk, need in before.items() if pk not in needs]
    for row in changed:
        row.full_clean(validate_unique=False)
        row.save()
    JobNeed.objects.filter(pk__in=[need.pk for need in gone]).delete()
    if lost and (changed or gone):
        names = ", ".join(lost)
        text = (
            f"Not in the stores, or not to be read, so not counted as needed: {names}."
        )
        record(locked, verb="needs", text=text, by=None, at=at)
    return bool(changed or gone)


def _same(row: JobNeed, need: Needed) -> bool:
    return (row.quantity, row.source, row.how) == (
        need.quantity,
        need.source,
        need.how,
    )


def _row(
    job: Job,
    row: JobNeed | None,
    material: uuid.UUID,
    need: Needed,
    *,
    at: dt.datetime,
) -> JobNeed:
    row = row or JobNeed(job=job, material_id=material)
    row.quantity, row.how = need.quantity, need.how[:300]
    row.source, row.at = need.source, at
    return row


def note_needs_of_revision(revision: QuoteRevision, *, at: dt.datetime) -> None:
    """Write down what the job of a yes needs, if it stands."""
    job = Job.objects.of_revision(revision).standing().first()
    if job is not None:
        note_needs(job, at=at)


def note_needs_of_plan(plan: CutPlan, *, at: dt.datetime) -> None:
    """Work the needs of every job in a plan out anew."""
    jobs = Job.objects.filter(panels__in=plan.plan_panels.values("panel")).distinct()
    for job in jobs.order_by("pk"):
        note_needs(job, at=at)


def refresh_needs(*, at: dt.datetime) -> int:
    """Work out every open job's needs, each in a transaction of its own; count changes."""
    jobs = list(Job.objects.open())
    return sum(note_needs(job, at=at) for job in jobs)
