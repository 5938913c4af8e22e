"""Bench sheets of a job's panels, from what was frozen, at the size that was measured."""

import io

import pytest
from django.urls import reverse
from pypdf import PdfReader

from jobs.board.adapter import at_size
from jobs.board.models import Panel
from quotes.specs.engine.model import TakeoffError
from tests.factories.jobs import make_full_job
from tests.pages import queries, refused, soup, text

pytestmark = pytest.mark.django_db
KINDS = (("wall-panel", 600, 1200, 3), ("reveal-panel", 873, 1411, 1))


@pytest.fixture
def job(owner, shop):
    return make_full_job(by=owner, kinds=KINDS)


@pytest.fixture
def page(client_as, maker):
    return client_as(maker)


def words(response):
    assert response["Content-Type"] == "application/pdf"
    pages = PdfReader(io.BytesIO(response.content)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def url(panel):
    return reverse("jobs:panel-sheet", args=(panel.pk,))


def measure(panel, width, height):
    Panel.objects.filter(pk=panel.pk).update(
        measured_width_ticks=width * 320,
        measured_width_text=str(width),
        measured_height_ticks=height * 320,
        measured_height_text=str(height),
    )


def test_one_panel_has_its_own_sheet(job, page):
    panel = job.panels.first()
    response = page.get(url(panel))
    named = f'inline; filename="bench-{panel.code}.pdf"'
    assert response["Content-Disposition"] == named
    assert response["Cache-Control"] == "private, no-store"
    found = words(response)
    assert "1 × Wall panel on bevelled cleats" in found
    assert panel.code in found
    assert "Order of work" in found


def test_like_panels_share_one(job, page):
    first, second, third, reveal = job.panels.all()
    found = words(page.get(url(second), {"all": 1}))
    assert "3 × Wall panel on bevelled cleats" in found
    assert all(panel.code in found for panel in (first, second, third))
    assert reveal.code not in found


def test_a_measured_panel_is_cut_to_its_own_size(job, page):
    reveal = job.panels.last()
    quoted = words(page.get(url(reveal)))
    measure(reveal, 860, 1400)
    found = words(page.get(url(reveal)))
    assert "Made to the size measured on site: 860 × 1400." in found
    assert "860 × 1400 mm" in found
    assert "873 × 1411 mm" in quoted
    assert "873 × 1411 mm" not in found


def test_panels_measured_apart_no_longer_share_a_sheet(job, page):
    first, second, *_ = job.panels.all()
    measure(first, 590, 1200)
    found = words(page.get(url(second), {"all": 1}))
    assert "2 × Wall panel" in found
    assert first.code not in found
    shown = soup(page.get(job.get_absolute_url()))
    section = shown.find(id="job-sheets").find_parent("section")
    assert len(section.select(".slip")) == 3


def test_taking_off_anew_at_the_quoted_size_changes_nothing(job):
    kept = job.panels.first().snapshot
    same = at_size(kept, width_ticks=600 * 320, height_ticks=1200 * 320)
    assert same is kept


def test_taking_off_anew_and_back_gives_what_was_frozen(job):
    kept = job.panels.last().snapshot
    other = at_size(kept, width_ticks=800 * 320, height_ticks=1200 * 320)
    assert other["takeoff"] != kept["takeoff"]
    back = at_size(other, width_ticks=873 * 320, height_ticks=1411 * 320)
    assert back["takeoff"] == kept["takeoff"]


def test_a_measured_size_that_cannot_be_built_is_refused_beside_its_side(job, page):
    panel = job.panels.first()
    with pytest.raises(TakeoffError):
        at_size(panel.snapshot, width_ticks=60 * 320, height_ticks=1200 * 320)
    typed = {"width": "60", "height": "1200"}
    refused(page, panel.get_absolute_url(), typed, "width")
    assert Panel.objects.get(pk=panel.pk).measured_width_ticks is None


def test_if_it_was_stored_all_the_same_the_page_and_the_sheet_say_so(job, page):
    panel = job.panels.first()
    measure(panel, 60, 1200)
    shown = soup(page.get(panel.get_absolute_url()))
    assert "it can’t be built at the measured size" in shown.text
    response = page.get(url(panel), follow=True)
    assert "No sheet at the measured size" in response.content.decode()


def test_the_panel_page_shows_its_drawing_with_words(job, page):
    shown = soup(page.get(job.panels.first().get_absolute_url()))
    assert shown.select_one("figure.drawing svg > title")
    assert text(shown.select_one("figcaption")) == "As quoted"


def test_a_stranger_signs_in_first(job, client):
    assert client.get(url(job.panels.first())).status_code == 302


def test_queries_of_a_job_do_not_grow_with_its_panels(owner, shop, page):
    counts = []
    for panels in (2, 20):
        job = make_full_job(by=owner, kinds=(("wall-panel", 600, 1200, panels),))
        page.get(job.get_absolute_url())
        counts.append(queries(page, job.get_absolute_url()))
    assert counts[0] == counts[1]
