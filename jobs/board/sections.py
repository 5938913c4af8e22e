"""What the bench adds to the pages of the apps below."""

from __future__ import annotations

from django.http import HttpRequest

from jobs.board.models import Job
from quotes.offers.models import Quote
from shared.slots import Section


def job_of_quote(request: HttpRequest, quote: Quote) -> Section | None:
    """Give the way from an accepted quote to its job."""
    job = Job.objects.of_quote(quote).with_counts().first()
    if job is None:
        return None
    return Section(template="jobs/board/_job_of_quote.html", context={"job": job})
