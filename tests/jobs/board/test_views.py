"""The bench, jobs and panels as pages."""

import datetime as dt
import uuid

import pytest
from bs4 import BeautifulSoup
from django.urls import reverse

from jobs.board.models import Panel, Stage
from tests.cast import AS_HTMX
from tests.factories.clients import make_client, make_enquiry
from tests.factories.jobs import make_full_job, make_job

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner, shop):
    return make_full_job(by=owner, kinds=(("wall-panel", 600, 1200, 3),))


@pytest.fixture
def page(client_as, maker):
    return client_as(maker)


def soup(response):
    return BeautifulSoup(response.content, "html.parser")


def value(panel):
    return f"{panel.pk}:{panel.stage}"


def test_the_bench_shows_each_panel_with_the_stage_it_was_seen_at(job, page):
    boxes = soup(page.get(reverse("jobs:bench"))).select("input[name=panel]")
    assert {box["value"] for box in boxes} == {value(p) for p in job.panels.all()}


def test_the_bench_comes_as_a_fragment_when_htmx_asks(job, page):
    response = page.get(reverse("jobs:bench"), headers=AS_HTMX)
    assert b"<html" not in response.content
    assert soup(response).find(id="bench")


def test_an_empty_bench_says_what_fills_it(page, shop):
    assert "quote is accepted" in soup(page.get(reverse("jobs:bench"))).text


def test_a_filter_that_matches_nothing_leads_back_to_everything(job, page):
    response = page.get(reverse("jobs:bench"), {"stage": "installed"})
    assert "Show everything" in soup(response).text


@pytest.mark.parametrize("junk", ["\0", "x" * 5000, "💥", "’ OR 1=1"])
def test_a_filter_of_junk_is_no_error(job, page, junk):
    query = {"job": junk, "fabric": junk, "stage": junk}
    assert page.get(reverse("jobs:bench"), query).status_code == 200


def test_a_stranger_is_asked_to_sign_in(client, job):
    for name in ("jobs:bench", "jobs:job-list"):
        response = client.get(reverse(name))
        assert response.status_code == 302
        assert "/accounts/login/" in response["Location"]


def test_moving_by_htmx_answers_with_the_bench_and_a_way_back(job, page):
    panel = job.panels.first()
    response = page.post(
        reverse("jobs:move"), {"panel": [value(panel)], "to": "built"}, headers=AS_HTMX
    )
    assert response.status_code == 200
    assert (
        soup(response).select_one("#messages form")["action"].startswith("/bench/undo/")
    )
    assert Panel.objects.get(pk=panel.pk).stage == Stage.BUILT


@pytest.mark.parametrize(
    ("to", "words"),
    [
        ("measured", "→ measured."),
        ("built", "→ built; measured filled in."),
        ("upholstered", "→ upholstered; measured and built filled in."),
        ("installed", "→ installed; measured, built and upholstered filled in."),
    ],
)
def test_a_move_ahead_says_which_stages_it_filled_in(job, page, to, words):
    data = {"panel": [value(job.panels.first())], "to": to}
    answer = page.post(reverse("jobs:move"), data, headers=AS_HTMX)
    assert words in soup(answer).select_one("#messages").text


def test_a_move_back_fills_nothing_in(job, page):
    panel = job.panels.first()
    url = reverse("jobs:move")
    page.post(url, {"panel": [value(panel)], "to": "upholstered"}, headers=AS_HTMX)
    data = {"panel": [f"{panel.pk}:upholstered"], "to": "measured"}
    answer = page.post(url, data, headers=AS_HTMX)
    assert f"{panel.code} → measured." in soup(answer).select_one("#messages").text


def test_moving_without_scripts_leads_back_to_the_same_filter(job, page):
    panel = job.panels.first()
    data = {"panel": [value(panel)], "to": "built", "job": job.code}
    response = page.post(reverse("jobs:move"), data)
    assert response["Location"] == f"{reverse('jobs:bench')}?job={job.code}"


def test_a_move_is_undone_in_one_tap(job, page):
    panel = job.panels.first()
    answer = page.post(
        reverse("jobs:move"), {"panel": [value(panel)], "to": "built"}, headers=AS_HTMX
    )
    page.post(soup(answer).select_one("#messages form")["action"])
    assert Panel.objects.get(pk=panel.pk).stage == Stage.PLANNED


def test_a_stale_move_says_so_and_moves_nothing(job, page):
    panel = job.panels.first()
    data = {"panel": [f"{panel.pk}:built"], "to": "installed"}
    response = page.post(reverse("jobs:move"), data, headers=AS_HTMX)
    assert "moved meanwhile" in soup(response).text
    assert Panel.objects.get(pk=panel.pk).stage == Stage.PLANNED


@pytest.mark.parametrize(
    "data",
    [
        {},
        {"to": "built"},
        {"panel": ["x"], "to": "built"},
        {"panel": [f"{uuid.uuid4()}:varnished"], "to": "built"},
        {"panel": [f"{uuid.uuid4()}:planned"], "to": "varnished"},
        {"panel": [f"{uuid.uuid4()}:planned"], "to": ""},
        {"panel": [f"{uuid.uuid4()}:planned"] * 501, "to": "built"},
        {"panel": ["\0:planned"], "to": "built"},
    ],
)
def test_a_move_that_cannot_be_read_is_refused_with_a_sentence(job, page, data):
    response = page.post(reverse("jobs:move"), data, headers=AS_HTMX)
    assert response.status_code == 422
    assert soup(response).select_one(
        "[role=alert], .form__errors, .errors, .field__error"
    )
    assert not Panel.objects.exclude(stage=Stage.PLANNED).exists()


def test_an_id_of_nothing_moves_nothing(job, page):
    data = {"panel": [f"{uuid.uuid4()}:planned"], "to": "built"}
    assert page.post(reverse("jobs:move"), data, headers=AS_HTMX).status_code == 200
    assert not Panel.objects.exclude(stage=Stage.PLANNED).exists()


def test_a_refused_mark_keeps_what_was_chosen(job, page):
    panel = job.panels.first()
    data = {"panel": [value(panel)], "mark": "waiting", "word": ""}
    response = page.post(reverse("jobs:mark"), data, headers=AS_HTMX)
    assert response.status_code == 422
    ticked = soup(response).select("input[name=panel][checked]")
    assert [box["value"] for box in ticked] == [value(panel)]


def test_a_mark_stands_on_the_plate_and_is_undone(job, page):
    panel = job.panels.first()
    data = {"panel": [value(panel)], "mark": "waiting", "word": "fabric"}
    answer = page.post(reverse("jobs:mark"), data, headers=AS_HTMX)
    assert "waiting for fabric" in soup(answer).text
    page.post(soup(answer).select_one("#messages form")["action"])
    assert Panel.objects.get(pk=panel.pk).waiting_for == ""


@pytest.mark.parametrize("name", ["jobs:move", "jobs:mark"])
def test_moves_are_posts(page, shop, name):
    assert page.get(reverse(name)).status_code == 405


def test_an_undo_of_nothing_says_so(page, shop):
    response = page.post(
        reverse("jobs:undo", args=(uuid.uuid4(),)), headers=AS_HTMX, follow=True
    )
    assert "can't be taken back" in soup(response).text


def test_the_panel_page_takes_the_measured_size(job, page):
    panel = job.panels.first()
    page.post(panel.get_absolute_url(), {"width": "598", "height": "119.8 cm"})
    panel.refresh_from_db()
    assert (panel.measured_width_ticks, panel.measured_height_text) == (
        191_360,
        "119.8 cm",
    )
    assert panel.stage == Stage.MEASURED


def measured(page, panel):
    """Measure it on its page, and give what is said there."""
    page.post(panel.get_absolute_url(), {"width": "598", "height": "1198"})
    return soup(page.get(panel.get_absolute_url())).select_one("#messages")


def test_the_move_that_measuring_makes_is_taken_back_by_one_tap(job, page):
    panel = job.panels.first()
    first, again = (measured(page, panel) for _ in range(2))
    assert f"{panel.code} measured and moved on." in first.text
    assert f"{panel.code} measured." in again.text
    assert again.form is None
    page.post(first.form["action"])
    panel.refresh_from_db()
    assert (panel.stage, panel.measured_width_text) == (Stage.PLANNED, "598")


@pytest.mark.parametrize(
    "junk", ["", "wide", "-5", "0", "99999999", "6\0", "١٢٣", "1" * 99]
)
def test_a_size_that_cannot_be_is_refused_and_kept(job, page, junk):
    panel = job.panels.first()
    response = page.post(panel.get_absolute_url(), {"width": junk, "height": "1200"})
    assert response.status_code == 422
    panel.refresh_from_db()
    assert panel.measured_width_ticks is None
    kept = soup(response).select_one("input[name=height]")["value"]
    assert kept == "1200"


def test_a_panel_or_job_of_nothing_is_not_found(page, shop):
    for name in ("jobs:panel", "jobs:job"):
        assert page.get(reverse(name, args=(uuid.uuid4(),))).status_code == 404


def test_the_job_page_lists_its_panels(job, page):
    text = soup(page.get(job.get_absolute_url())).text
    assert all(panel.code in text for panel in job.panels.all())


def test_jobs_are_found_by_part_of_the_client(job, page):
    found = soup(page.get(reverse("jobs:job-list"), {"q": "quill"})).text
    lost = soup(page.get(reverse("jobs:job-list"), {"q": "nobody"})).text
    assert (job.code in found, job.code in lost) == (True, False)


@pytest.mark.parametrize("name", ["jobs:bench", "jobs:job-list"])
def test_queries_do_not_grow_with_rows(page, owner, shop, name, count_queries):
    make_job(by=owner, panels=2)
    few = count_queries(lambda: page.get(reverse(name)))
    for _ in range(9):
        make_job(by=owner, panels=20)
    assert count_queries(lambda: page.get(reverse(name))) == few


def test_a_clients_page_lists_their_jobs(job, client_as, owner):
    shown = soup(client_as(owner).get(job.client.get_absolute_url()))
    section = shown.find(id="client-jobs-title").find_parent("section")
    assert section.find("a", href=job.get_absolute_url())
    assert "0 of 3 panels installed." in section.text


def test_a_board_says_which_letter_is_which_fabric(job, page):
    shown = soup(page.get(reverse("jobs:bench")))
    key = shown.select_one('ul[aria-label="Fabrics"]')
    assert key.select_one(".swatch__letter").text == "A"
    assert key.text.strip().endswith("Panel fabric")


def test_the_day_wanted_comes_from_the_enquiry_and_can_be_changed(
    client_as, office, owner, shop
):
    client = make_client()
    make_enquiry(client=client, wanted_by=dt.date(2026, 4, 1))
    job = make_job(by=owner, client=client)
    assert job.wanted_by == dt.date(2026, 4, 1)
    client_as(office).post(job.get_absolute_url(), {"wanted_by": "2026-05-02"})
    job.refresh_from_db()
    assert job.wanted_by == dt.date(2026, 5, 2)


@pytest.mark.parametrize("junk", ["soon", "2026-13-01", "1026-01-01", "\0", "0", "-1"])
def test_a_day_wanted_that_is_no_day_is_refused_and_kept(job, client_as, office, junk):
    response = client_as(office).post(job.get_absolute_url(), {"wanted_by": junk})
    assert response.status_code == 422
    job.refresh_from_db()
    assert job.wanted_by is None


def test_makers_do_not_change_the_day_wanted(job, page):
    data = {"wanted_by": "2026-05-02"}
    assert page.post(job.get_absolute_url(), data).status_code == 403
