"""A yes stands while a site day is planned for it, or was."""

from __future__ import annotations

import datetime as dt

from jobs.board.models import Job
from jobs.visits.models import SiteDay
from quotes.offers.actions import CannotAnswerError
from quotes.offers.models import QuoteRevision
from shop.people.models import Person


def days_keep_yes(revision: QuoteRevision) -> str:
    """Name a site day that is planned or done, for which the yes has to stand."""
    jobs = Job.objects.of_revision(revision)
    day = SiteDay.objects.not_cancelled().of_jobs(jobs).first()
    return f"{day.job.code} has a site day, {day}." if day else ""


def refuse_with_days(revision: QuoteRevision, by: Person, at: dt.datetime) -> None:
    """Stop a taking back for which somebody goes, or went, somewhere.

    Called inside the transaction that takes the yes back, once its job is locked.
    """
    if reason := days_keep_yes(revision):
        raise CannotAnswerError(f"The yes stands: {reason}")
