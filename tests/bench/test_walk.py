"""The walk round a room: what a saved field costs, what the first load weighs and takes."""

import http.client
import json
import sys

import pytest
from django.conf import settings
from django.contrib.auth import get_user_model
from django.urls import reverse
from django.utils import timezone

from jobs.demo.loading import load
from shop.surveys.models import Survey
from tests.bench.test_pages import Visitor, medians, tell
from tests.browser.conftest import TABLET_UPRIGHT, chromium, session_cookie
from tests.devices import write

__all__ = ["chromium"]

pytestmark = pytest.mark.bench

ROUNDS = 40
MOST_KIB = 200
USABLE_S = 2.0
SLOW_4G = {
    "offline": False,
    "latency": 150,
    "downloadThroughput": 1.6e6 / 8,
    "uploadThroughput": 750e3 / 8,
}
"""Chromium's own figures for a slow 4G line: ms, and bytes a second."""


@pytest.fixture
def ada(transactional_db, settings):
    settings.ROOT_URLCONF = "tests.bench.urls"
    load(timezone.now())
    return get_user_model().objects.get(username="ada")


@pytest.fixture
def largest(ada):
    """Return the demo's survey with the most walls."""
    surveys = Survey.objects.prefetch_related("walls")
    return max(surveys, key=lambda survey: len(survey.walls.all()))


class Writer(Visitor):
    """A signed-in browser that sends forms and writes."""

    def __init__(self, live_server, person):
        super().__init__(live_server, person)
        token = "a" * 32
        self.headers["Cookie"] += f"; {settings.CSRF_COOKIE_NAME}={token}"
        self.headers["X-CSRFToken"] = token

    def send(self, path: str, body: str) -> bytes:
        line = http.client.HTTPConnection(self.address.hostname, self.address.port)
        kind = {"Content-Type": "application/json"}
        line.request("POST", path, body=body, headers=self.headers | kind)
        answer = line.getresponse()
        found = answer.read()
        line.close()
        assert answer.status == 200, (path, answer.status, found[:300])
        return found


def test_a_saved_field_against_a_bare_page_that_stores(
    ada, largest, live_server, capsys
):
    writer = Writer(live_server, ada)
    wall = largest.walls.first()
    lane = {"op": "wall-length", "lane": f"wall:{wall.pk}", "field": "length"}
    lengths, versions = iter(range(3000, 9000)), [0]

    def save():
        item = write(wall, str(next(lengths)), **lane, was=None, base=versions[-1])
        body = json.dumps({"person": str(ada.pk), "items": [item]})
        answer = json.loads(writer.send(reverse("shared:offline-writes"), body))
        assert answer["answers"][0]["status"] == "stored", answer
        versions.append(answer["answers"][0]["version"])

    tasks = {"bare page that stores": lambda: writer.send("/bare/store/", "")}
    found = medians(tasks | {"a saved field": save}, ROUNDS)
    tell(capsys, "A saved field, one server", found, "bare page that stores")
    assert found["a saved field"] <= 3 * found["bare page that stores"]


@pytest.fixture
def walk(chromium, ada, largest, live_server):
    """Return a function that opens the walk in a new browser, and gives page and weights."""
    contexts = []

    def opened(*, slow):
        context = chromium.new_context(
            base_url=live_server.url, viewport=TABLET_UPRIGHT, has_touch=True
        )
        contexts.append(context)
        context.add_cookies([session_cookie(ada, live_server.url)])
        page = context.new_page()
        session = context.new_cdp_session(page)
        session.send("Network.enable")
        if slow:
            session.send("Emulation.setCPUThrottlingRate", {"rate": 4})
            session.send("Network.emulateNetworkConditions", SLOW_4G)
        weights = []
        session.on(
            "Network.loadingFinished", lambda e: weights.append(e["encodedDataLength"])
        )
        page.goto(reverse("shop:survey-walk", args=(largest.pk,)))
        page.wait_for_load_state("networkidle")
        return page, weights

    yield opened
    for context in contexts:
        context.close()


def test_the_first_load_of_the_walk(walk, capsys):
    _, weights = walk(slow=False)
    page, _ = walk(slow=True)
    # Usable: laid out, with every script run, so that what is typed is kept.
    usable = page.evaluate(
        "() => performance.getEntriesByType('navigation')[0].domContentLoadedEventEnd"
    )
    kib, seconds = sum(weights) / 1024, usable / 1000
    with capsys.disabled():
        sys.stdout.write(
            f"\n\nThe walk's first load: {kib:.0f} KiB in {len(weights)} files, at most"
            f" {MOST_KIB}; usable after {seconds:.2f} s on a 4 × slowed processor and"
            f" slow 4G, at most {USABLE_S:.0f} s\n"
        )
    assert kib <= MOST_KIB
    assert seconds <= USABLE_S
