"""A yes stands while the shop holds the client's deposit for it."""

from __future__ import annotations

import datetime as dt

from jobs.board.models import Job
from jobs.gates.models import Gate
from quotes.offers.actions import CannotAnswerError
from quotes.offers.models import QuoteRevision
from shop.people.models import Person


def deposit_keeps_yes(revision: QuoteRevision) -> str:
    """Name a deposit that is in hand: money was taken on this yes.

    What was signed or seen keeps nothing: it cost nobody anything, and stays on record.
    """
    jobs = Job.objects.of_revision(revision).values_list("pk", flat=True)
    gate = Gate.objects.of_jobs(jobs).keeping_yes().with_job().first()
    if gate is None:
        return ""
    return (
        f"The deposit of {gate.job.code} is in hand. Pay it back, then say on the job"
        " that it is waited for again."
    )


def refuse_with_deposit(revision: QuoteRevision, by: Person, at: dt.datetime) -> None:
    """Stop a taking back for which the shop holds the client's money.

    Called inside the transaction that takes the yes back, once its job is locked.
    """
    if reason := deposit_keeps_yes(revision):
        raise CannotAnswerError(f"The yes stands: {reason}")
