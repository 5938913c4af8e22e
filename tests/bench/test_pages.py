"""Pages against a bare one from the same server; a quote's PDF against WeasyPrint alone."""

import http.client
import statistics
import sys
import time
from typing import Any
from urllib.parse import urlsplit

import pytest
from django.contrib.auth import get_user_model
from django.urls import reverse
from django.utils import timezone

from jobs.board.models import Panel
from jobs.demo.loading import load
from quotes.offers.documents import quote_html
from quotes.offers.draft import work_out_draft
from quotes.offers.models import Quote, QuoteState
from quotes.offers.snapshot import snapshot_of
from shared.conventions import today, using
from shared.pdf import html_to_pdf
from shop.people.reports import conventions
from tests.browser.conftest import session_cookie
from tests.factories.jobs import make_job

pytestmark = pytest.mark.bench

ROUNDS = 15
PAPER_ROUNDS = 5
LIVE_PANELS = 2000
JOBS = 20
LARGE = 500


@pytest.fixture
def ada(transactional_db, settings):
    settings.ROOT_URLCONF = "tests.bench.urls"
    load(timezone.now())
    return get_user_model().objects.get(username="ada")


@pytest.fixture
def large_job(ada):
    """Fill the bench up beside the demo's jobs: a large job, and many of usual size."""
    large = make_job(by=ada, panels=LARGE)
    missing = LIVE_PANELS - Panel.objects.live().count()
    for _ in range(JOBS):
        make_job(by=ada, panels=-(-missing // JOBS))
    assert Panel.objects.live().count() >= LIVE_PANELS
    return large


class Visitor:
    """One signed-in browser that keeps its connection."""

    def __init__(self, live_server, person):
        cookie = session_cookie(person, live_server.url)
        self.headers = {"Cookie": f"{cookie['name']}={cookie['value']}"}
        self.address = urlsplit(live_server.url)

    def fetch(self, path: str) -> bytes:
        line = http.client.HTTPConnection(self.address.hostname, self.address.port)
        line.request("GET", path, headers=self.headers)
        answer = line.getresponse()
        body = answer.read()
        line.close()
        assert answer.status == 200, (path, answer.status)
        return body


def medians(tasks: dict[str, Any], rounds: int) -> dict[str, float]:
    """Return the median of each task in ms, taken in turns so that all meet one weather."""
    taken: dict[str, list[float]] = {name: [] for name in tasks}
    for task in tasks.values():
        task()
    for _ in range(rounds):
        for name, task in tasks.items():
            begun = time.perf_counter()
            task()
            taken[name].append((time.perf_counter() - begun) * 1000)
    return {name: statistics.median(times) for name, times in taken.items()}


def tell(capsys, title, found, base):
    with capsys.disabled():
        sys.stdout.write(f"\n\n{title}\n")
        for name, ms in found.items():
            sys.stdout.write(f"  {name:<42}{ms:>9.1f} ms{ms / found[base]:>8.1f} ×\n")


def test_pages_against_a_bare_one(large_job, ada, live_server, capsys):
    visitor = Visitor(live_server, ada)
    quote = Quote.objects.get(state=QuoteState.DRAFT)
    paths = {
        "bare page": "/bare/",
        "quote, draft of 36 panels": reverse("quotes:quote", args=(quote.pk,)),
        f"bench, {LIVE_PANELS} live panels": reverse("jobs:bench"),
        f"bench, one job of {LARGE}": f"{reverse('jobs:bench')}?job={large_job.code}",
        "next up": reverse("jobs:next-up"),
    }
    tasks = {name: lambda p=path: visitor.fetch(p) for name, path in paths.items()}
    tell(capsys, "Pages, one server", medians(tasks, ROUNDS), "bare page")


def test_a_quotes_paper_against_weasyprint_alone(ada, live_server, capsys):
    visitor = Visitor(live_server, ada)
    quote = Quote.objects.get(state=QuoteState.DRAFT)
    day = today(timezone.now())
    with using(conventions()):
        draft = work_out_draft(quote)
        snapshot = snapshot_of(
            draft, draft.priced, letter="A", sent_on=day, valid_until=day
        )
    html = quote_html(snapshot)
    preview = reverse("quotes:quote-preview", args=(quote.pk,))
    tasks = {
        "WeasyPrint, the same HTML": lambda: html_to_pdf(html),
        "the quote's PDF": lambda: visitor.fetch(preview),
    }
    title, base = "A quote's paper", "WeasyPrint, the same HTML"
    tell(capsys, title, medians(tasks, PAPER_ROUNDS), base)
