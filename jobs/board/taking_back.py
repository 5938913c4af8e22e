"""Close the job of a yes that was taken back, while nothing has come of it."""

from __future__ import annotations

import datetime as dt

from jobs.board.models import Job, JobState, Panel, Stage
from quotes.offers.actions import CannotAnswerError
from quotes.offers.models import QuoteRevision
from shared.audit.actions import record
from shop.people.models import Person


def work_keeps_yes(revision: QuoteRevision) -> str:
    """Name a panel that is begun or marked, for which the yes has to stand."""
    panels = Panel.objects.of_jobs(Job.objects.of_revision(revision).standing())
    panel = panels.begun().for_plates().first()
    if panel is None:
        return ""
    if panel.stage == Stage.PLANNED:
        return f"{panel.code} is marked on the bench."
    return f"{panel.code} is {panel.get_stage_display()}."


def close_taken_back(revision: QuoteRevision, by: Person, at: dt.datetime) -> None:
    """Close the job: its panels and all that is on record stay.

    Called inside the transaction that takes the yes back; refuses what has begun.
    """
    job = Job.objects.of_revision(revision).standing().first()
    if job is None:
        return
    # panels first, then the job, as every move does
    list(Panel.objects.select_for_update().of_job(job).order_by("pk").values_list("pk"))
    job = Job.objects.select_for_update().get(pk=job.pk)
    if reason := work_keeps_yes(revision):
        raise CannotAnswerError(f"The yes stands: {reason}")
    job.state = JobState.TAKEN_BACK
    job.save(update_fields=("state",))
    text = f"Job {job.code} closed: the yes to {revision.reference} was taken back."
    record(job, verb="taken back", text=text, by=by, at=at)
