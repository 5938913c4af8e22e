"""What cutting adds to a job's page."""

from __future__ import annotations

from django.http import HttpRequest

from jobs.board.models import Job
from jobs.cutting.models import CutPlan
from quotes.offers.models import Quote
from shared.access import Right, may
from shared.slots import Section


def job_cuts(request: HttpRequest, job: Job) -> Section | None:
    """List the cut plans that a job's panels are in, for those who cut. One query."""
    if not may(request.user, Right.CUT):
        return None
    plans = tuple(CutPlan.objects.of_job(job).open_or_cut().with_material())
    if not plans and not job.is_open:
        return None
    return Section("jobs/cutting/_job_section.html", {"job": job, "plans": plans})


def draft_in_sheets(request: HttpRequest, quote: Quote) -> Section | None:
    """Say beside a draft's price what it takes in whole sheets, for those who price."""
    if not quote.is_changeable or not may(request.user, Right.SEE_MONEY):
        return None
    return Section("jobs/cutting/_draft_section.html", {"quote": quote})
