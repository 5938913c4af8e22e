"""What is typed about a site day: kept, refused beside the field, stored when right."""

import datetime as dt

import pytest
from django.urls import reverse
from django.utils import timezone

from jobs.visits.models import SiteDay
from shared.conventions import today
from tests.factories.clients import make_site
from tests.factories.jobs import make_full_job, make_job
from tests.factories.people import make_person
from tests.factories.visits import make_day
from tests.pages import BAD_TEXTS, refused, soup, text

pytestmark = pytest.mark.django_db
NOBODY = "00000000-0000-4000-8000-000000000000"


@pytest.fixture
def job(owner, shop):
    return make_full_job(by=owner)


@pytest.fixture
def page(client_as, office):
    return client_as(office)


@pytest.fixture
def url(job):
    return f"/van/new/?job={job.pk}"


@pytest.fixture
def typed(job, fitter):
    return {
        "on": "2098-03-12",
        "arrive_at": "8:30",
        "kind": "install",
        "site": str(job.client.sites.get().pk),
        "crew": str(fitter.pk),
        "panels": str(job.panels.first().pk),
        "notes": "Key under the pot.",
    }


class TestNew:
    def test_asks_for_which_job_first(self, page, job):
        shown = soup(page.get("/van/new/"))
        assert shown.select_one(".slip__link")["href"] == f"/van/new/?job={job.pk}"

    def test_says_where_jobs_come_from(self, page, shop):
        assert "says yes to a quote" in soup(page.get("/van/new/")).text

    def test_offers_the_only_site_and_every_panel_not_yet_installed(self, page, url):
        shown = soup(page.get(url))
        assert shown.select_one("#id_site option")["selected"] is not None
        assert len(shown.select("[name=panels][checked]")) == 3
        assert not shown.select("[name=crew][checked]")

    def test_offers_only_people_who_work_here(self, page, url, fitter):
        make_person(username="gone", first_name="Gone", is_active=False)
        people = [text(label) for label in soup(page.get(url)).select("#id_crew label")]
        assert "Finn" in people
        assert "Gone" not in people

    def test_two_sites_are_asked_about(self, page, owner, shop):
        job = make_job(by=owner)
        for address in ("4 Weir Lane", "9 Mill Row"):
            make_site(client=job.client, address=address)
        options = soup(page.get(f"/van/new/?job={job.pk}")).select("#id_site option")
        assert len(options) == 2
        assert not any(option.has_attr("selected") for option in options)

    def test_stores_the_day_and_says_so_with_a_way_back(self, page, url, typed, fitter):
        response = page.post(url, typed, follow=True)
        day = SiteDay.objects.get()
        assert (day.on, day.arrive_at) == (dt.date(2098, 3, 12), dt.time(8, 30))
        assert day.zone == "Europe/London"
        assert list(day.crew.all()) == [fitter]
        assert day.panels.count() == 1
        undo = soup(response).select_one("#messages form")
        assert undo["action"] == reverse("jobs:site-day-cancel", args=(day.pk,))

    def test_a_survey_may_take_no_panel(self, page, url, typed):
        page.post(url, typed | {"kind": "survey", "panels": []})
        assert SiteDay.objects.get().panels.count() == 0

    @pytest.mark.parametrize("job", ["", "x", "7", "\0", NOBODY], indirect=False)
    def test_a_job_that_is_not_there_is_not_found(self, page, shop, job):
        assert page.get("/van/new/", {"job": job}).status_code == 404


BAD = (
    ("on", ""),
    ("on", "soon"),
    ("on", "-1"),
    ("on", "0"),
    ("on", "2026-02-30"),
    ("on", "9999-12-31"),
    ("on", "1" * 5000),
    *(("on", junk) for junk in BAD_TEXTS),
    ("arrive_at", "noonish"),
    ("arrive_at", "-8:30"),
    ("arrive_at", "25:00"),
    ("arrive_at", "8" * 5000),
    *(("arrive_at", junk) for junk in BAD_TEXTS),
    ("kind", ""),
    ("kind", "picnic"),
    ("kind", "0"),
    ("site", ""),
    ("site", "7"),
    ("site", "a\0b"),
    ("site", "x" * 5000),
    ("site", NOBODY),
    ("crew", ""),
    ("crew", "7"),
    ("crew", "a\0b"),
    ("crew", NOBODY),
    ("panels", ""),
    ("panels", "7"),
    ("panels", "a\0b"),
    ("panels", NOBODY),
    ("notes", "x" * 2001),
    *(("notes", junk) for junk in BAD_TEXTS),
)


@pytest.mark.parametrize(("field", "junk"), BAD)
def test_what_makes_no_sense_is_refused_beside_its_field(page, url, typed, field, junk):
    kept = {k: v for k, v in typed.items() if k not in ("crew", "panels")}
    browser = _Sends(page, typed | {field: junk})
    refused(browser, url, kept | ({field: junk} if field in kept else {}), field)
    assert not SiteDay.objects.exists()


class _Sends:
    """Posts everything, though only some of it is checked for being kept."""

    def __init__(self, page, typed):
        self.page, self.typed = page, typed

    def post(self, url, _):
        return self.page.post(url, self.typed)


@pytest.mark.parametrize("field", ["site", "panels"])
def test_what_belongs_to_another_job_is_refused(page, url, typed, owner, field):
    other = make_full_job(by=owner)
    foreign = {
        "site": str(other.client.sites.get().pk),
        "panels": str(other.panels.first().pk),
    }
    response = page.post(url, typed | {field: foreign[field]})
    assert response.status_code == 422
    assert "load the page again" in response.content.decode()
    assert not SiteDay.objects.exists()


def test_somebody_who_left_cannot_be_asked(page, url, typed):
    gone = make_person(username="gone", is_active=False)
    response = page.post(url, typed | {"crew": str(gone.pk)})
    assert response.status_code == 422


@pytest.mark.parametrize("notes", ["Ångström", "مقهى", "☕ at ten", "e\u0301tude"])
def test_odd_words_are_words(page, url, typed, notes):
    assert page.post(url, typed | {"notes": notes}).status_code == 302


class TestOver:
    """A day that is over is written down only when that is meant."""

    OVER = {"on": "2026-03-12"}

    def test_is_asked_about_beside_the_day_and_stores_nothing(self, page, url, typed):
        assert not soup(page.get(url)).find(id="id_over")
        response = page.post(url, typed | self.OVER)
        assert response.status_code == 422
        shown = soup(response)
        field = shown.find(id="id_on_field")
        assert "That day is over. Choose another, or tick below." in field.text
        assert field.find_next("input", type="checkbox")["id"] == "id_over"
        assert shown.find(id="id_on")["value"] == "2026-03-12"
        assert not SiteDay.objects.exists()

    def test_is_written_down_when_it_is_meant(self, page, url, typed):
        response = page.post(url, typed | self.OVER | {"over": "on"}, follow=True)
        assert SiteDay.objects.get().on == dt.date(2026, 3, 12)
        assert "is written down: close it below" in soup(response).text

    def test_the_tick_stays_while_something_else_is_refused(self, page, url, typed):
        data = typed | self.OVER | {"over": "on", "crew": ""}
        shown = soup(page.post(url, data))
        assert shown.find(id="id_over").has_attr("checked")
        assert "That day is over" not in shown.text

    def test_today_is_not_over(self, page, url, typed, shop):
        now = today(timezone.now())
        page.post(url, typed | {"on": f"{now:%Y-%m-%d}"})
        assert SiteDay.objects.get().on == now

    def test_one_that_stood_already_is_not_asked_about(self, page, owner, job, typed):
        day = make_day(by=owner, job=job)
        change = reverse("jobs:site-day-change", args=(day.pk,))
        page.post(change, typed | self.OVER | {"notes": "Key under the mat."})
        assert SiteDay.objects.get().notes == "Key under the mat."
        moved = page.post(change, typed | {"on": "2026-03-11"})
        assert moved.status_code == 422


class TestChange:
    @pytest.fixture
    def day(self, owner, fitter, job):
        return make_day(by=owner, job=job, crew=(fitter,), notes="Bring cake.")

    @pytest.fixture
    def change(self, day):
        return reverse("jobs:site-day-change", args=(day.pk,))

    def test_shows_what_was_stored(self, page, change):
        shown = soup(page.get(change))
        assert shown.select_one("#id_on")["value"] == "2026-03-12"
        assert shown.select_one("#id_arrive_at")["value"] == "08:30"
        assert len(shown.select("[name=panels][checked]")) == 3
        assert len(shown.select("[name=crew][checked]")) == 1
        assert "Bring cake." in shown.select_one("#id_notes").text

    def test_stores_the_change(self, page, change, day, typed):
        page.post(change, typed | {"on": "2098-03-20"})
        assert SiteDay.objects.get().on == dt.date(2098, 3, 20)

    def test_refused_changes_store_nothing(self, page, change, typed):
        refused(page, change, {k: typed[k] for k in ("arrive_at", "kind")}, "on")
        assert SiteDay.objects.get().notes == "Bring cake."

    def test_whoever_left_since_can_stay_on_it(self, page, change, day, fitter, typed):
        fitter.is_active = False
        fitter.save()
        assert page.post(change, typed).status_code == 302
        assert list(day.crew.all()) == [fitter]
