"""What the bench adds to the pages of the apps below."""

from __future__ import annotations

from django.http import HttpRequest

from jobs.board.models import Job
from quotes.offers.models import Quote
from shared.slots import Section
from shop.clients.models import Client


def job_of_quote(request: HttpRequest, quote: Quote) -> Section | None:
    """Give the way from an accepted quote to its job."""
    job = Job.objects.of_quote(quote).standing().with_counts().first()
    if job is None:
        return None
    return Section(template="jobs/board/_job_of_quote.html", context={"job": job})


def client_jobs(request: HttpRequest, client: Client) -> Section | None:
    """List a client's jobs on the client's page. One query."""
    jobs = tuple(Job.objects.of_client(client).with_counts().open_first())
    if not jobs:
        return None
    return Section(template="jobs/board/_client_jobs.html", context={"jobs": jobs})
