"""A yes stands once material was taken out of the stores for its job."""

from __future__ import annotations

import datetime as dt

from jobs.board.models import Job
from jobs.buying.models import JobUse
from quotes.offers.actions import CannotAnswerError
from quotes.offers.models import QuoteRevision
from shop.people.models import Person


def uses_keep_yes(revision: QuoteRevision) -> str:
    """Name material that was taken out, for which the yes has to stand."""
    jobs = Job.objects.of_revision(revision)
    use = JobUse.objects.standing().filter(job__in=jobs).select_related("job").first()
    return f"{use.move.material} was taken out for {use.job.code}." if use else ""


def refuse_with_uses(revision: QuoteRevision, by: Person, at: dt.datetime) -> None:
    """Stop a taking back for which material is used.

    Called inside the transaction that takes the yes back, once its job is closed.
    """
    if reason := uses_keep_yes(revision):
        raise CannotAnswerError(f"The yes stands: {reason}")
