"""Site days as pages: list, page, plan, change, call off, close."""

import datetime as dt

import pytest
from django.urls import reverse

from jobs.board.models import Panel, Stage
from jobs.visits.actions import cancel_day, close_day, tick
from jobs.visits.models import SiteDay, SiteDayState
from jobs.visits.reports import van_page
from tests.cast import AS_HTMX
from tests.factories.jobs import AT, make_full_job, make_job
from tests.factories.visits import make_day
from tests.pages import queries, soup, text

pytestmark = pytest.mark.django_db
LIST = "/van/"


@pytest.fixture
def day(owner, shop):
    return make_day(by=owner, notes="Ring the back door.")


@pytest.fixture
def page(client_as, office):
    return client_as(office)


def url(name, day):
    return reverse(f"jobs:{name}", args=(day.pk,))


def fresh(day):
    return SiteDay.objects.get(pk=day.pk)


def close(day, by):
    close_day(day, [], by=by, at=AT)


def ready(day):
    """Upholster everything that goes."""
    times = dict.fromkeys(("measured_at", "built_at", "upholstered_at"), AT)
    day.panels.update(stage=Stage.UPHOLSTERED, **times)


class TestList:
    def test_shows_what_is_to_come_in_order(self, page, owner, day):
        make_day(by=owner, job=day.job, on=dt.date(2026, 3, 1))
        rows = soup(page.get(LIST)).select("tbody th")
        assert [text(row) for row in rows] == [
            "Sun 1 Mar 2026, 8:30",
            "Thu 12 Mar 2026, 8:30",
        ]

    def test_shows_what_is_over_apart(self, page, owner, day):
        close(day, owner)
        assert not soup(page.get(LIST)).select("tbody tr")
        assert "done" in text(soup(page.get(LIST, {"past": 1})).select_one("tbody tr"))

    def test_comes_as_a_fragment(self, page, day):
        response = page.get(LIST, headers=AS_HTMX)
        assert b"<html" not in response.content
        assert soup(response).find(id="site-days")

    def test_says_what_to_do_first(self, page, shop, client_as, fitter):
        assert soup(page.get(LIST)).select_one("#site-days a")["href"] == "/van/new/"
        own = soup(client_as(fitter).get(LIST))
        assert "The office plans them" in own.text
        assert not own.select_one("#site-days a")

    def test_whoever_may_not_see_clients_sees_no_address(
        self, client_as, maker, fitter, day
    ):
        assert "Weir Lane" not in client_as(maker).get(LIST).content.decode()
        assert "Weir Lane" in client_as(fitter).get(LIST).content.decode()

    def test_is_cut_into_pages_of_fifty(self, page, owner, shop):
        job = make_full_job(by=owner)
        for number in range(51):
            make_day(by=owner, job=job, on=dt.date(2026, 4, 1) + dt.timedelta(number))
        assert len(soup(page.get(LIST)).select("tbody tr")) == 50
        assert len(soup(page.get(LIST, {"page": 2})).select("tbody tr")) == 1

    def test_takes_no_more_queries_for_twenty_than_for_two(self, page, owner, shop):
        def make(count):
            for _ in range(count):
                make_day(by=owner, job=make_full_job(by=owner))

        make(2)
        page.get(LIST)
        few = queries(page, LIST)
        make(18)
        assert queries(page, LIST) == few


class TestPage:
    def test_says_who_when_and_where(self, page, owner, day):
        shown = text(soup(page.get(day.get_absolute_url())).main)
        for words in (
            "Thursday 12 March 2026, arrive 8:30 (Europe/London)",
            "Ring the back door.",
            "4 Weir Lane",
            str(owner),
        ):
            assert words in shown

    def test_flags_what_is_not_upholstered(self, page, owner, day):
        shown = soup(page.get(day.get_absolute_url()))
        assert text(shown.select_one("#day-panels + span")) == "3, 3 not ready"
        assert "3 panels aren’t ready" in shown.text

    def test_leads_to_the_van_list_when_panels_are_ready(self, page, owner, day):
        ready(day)
        shown = soup(page.get(day.get_absolute_url()))
        assert "lines of the van list to load" in shown.text

    @pytest.mark.parametrize(
        ("on", "words"),
        [
            (dt.date(2099, 1, 1), "Take the install sheet along."),
            (dt.date(2026, 3, 12), "Close the day below when it is done."),
        ],
    )
    def test_a_loaded_van_leads_on(self, page, owner, day, on, words):
        ready(day)
        SiteDay.objects.update(on=on)
        for key in van_page(day).keys:
            tick(day, key, on=True, by=owner, at=AT)
        assert words in soup(page.get(day.get_absolute_url())).text

    def test_says_what_is_not_cleared(self, page, day):
        shown = soup(page.get(day.get_absolute_url()))
        lines = text(shown.find(id="not-cleared").find_parent("section"))
        assert "no rating for the welded chain" in lines

    def test_address_access_and_phone_are_for_those_who_see_clients(
        self, client_as, maker, fitter, day
    ):
        details = day.job.client.details
        details.phone = "01632 960 144"
        details.index()
        details.save()
        for person, sees in ((maker, False), (fitter, True)):
            body = client_as(person).get(day.get_absolute_url()).content.decode()
            assert ("960 144" in body) == sees
            assert ("4 Weir Lane" in body) == sees

    def test_takes_no_more_queries_for_twenty_panels_than_for_two(
        self, page, owner, shop
    ):
        counts = []
        for panels in (2, 20):
            job = make_full_job(by=owner, kinds=(("wall-panel", 600, 1200, panels),))
            address = make_day(by=owner, job=job).get_absolute_url()
            page.get(address)
            counts.append(queries(page, address))
        assert counts[0] == counts[1]


class TestClosing:
    def test_moves_what_was_ticked_and_one_tap_takes_it_back(self, page, day):
        first, *_ = day.panels.all()
        page.post(url("site-day-done", day), {"panel": [f"{first.pk}:planned"]})
        assert fresh(day).state == SiteDayState.DONE
        assert Panel.objects.get(pk=first.pk).stage == Stage.INSTALLED
        shown = soup(page.get(day.get_absolute_url()))
        assert "1 panel installed" in shown.select_one("#messages").text
        page.post(shown.select_one("#messages form")["action"])
        assert fresh(day).state == SiteDayState.PLANNED
        assert Panel.objects.get(pk=first.pk).stage == Stage.PLANNED

    @pytest.mark.parametrize(
        ("first_too", "words"),
        [
            (
                True,
                "The day is done: 1 panel installed; measured, built and upholstered filled in.",
            ),
            (False, "The day is done."),
        ],
    )
    def test_says_which_panels_were_not_where_they_were_seen(
        self, page, day, first_too, words
    ):
        first, *rest = day.panels.all()
        chosen = [f"{panel.pk}:built" for panel in rest]
        chosen += [f"{first.pk}:planned"] if first_too else []
        page.post(url("site-day-done", day), {"panel": chosen})
        said = text(soup(page.get(day.get_absolute_url())).select_one("#messages"))
        codes = ", ".join(panel.code for panel in rest)
        assert f"{words} {codes} had been moved meanwhile: look again." in said
        assert {Panel.objects.get(pk=p.pk).stage for p in rest} == {Stage.PLANNED}

    def test_takes_no_panel_of_another_day(self, page, owner, day):
        other = make_day(by=owner).panels.first()
        page.post(url("site-day-done", day), {"panel": [f"{other.pk}:planned"]})
        said = text(soup(page.get(day.get_absolute_url())).select_one("#messages"))
        assert "somebody changed the day meanwhile" in said
        assert fresh(day).state == SiteDayState.PLANNED
        assert Panel.objects.get(pk=other.pk).stage == Stage.PLANNED

    @pytest.mark.parametrize("junk", ["", "x", "\0", "7:planned", "💥:built"])
    def test_a_panel_that_cannot_be_read_closes_nothing(self, page, day, junk):
        response = page.post(url("site-day-done", day), {"panel": [junk]})
        assert response.status_code == 422
        assert "out of date" in response.content.decode()
        assert fresh(day).state == SiteDayState.PLANNED

    def test_closing_twice_says_that_somebody_was_first(self, page, day):
        for _ in range(2):
            response = page.post(url("site-day-done", day), {}, follow=True)
        assert "changed the day meanwhile" in response.content.decode()


class TestCallingOff:
    def test_can_be_undone(self, page, day):
        page.post(url("site-day-cancel", day))
        assert fresh(day).state == SiteDayState.CANCELLED
        shown = soup(page.get(day.get_absolute_url()))
        page.post(shown.select_one("#messages form")["action"])
        assert fresh(day).state == SiteDayState.PLANNED

    def test_a_cancelled_day_is_not_changed(self, page, owner, day):
        cancel_day(day, by=owner, at=AT)
        response = page.get(url("site-day-change", day), follow=True)
        assert "can’t be changed" in response.content.decode()

    def test_opening_what_is_not_closed_says_that_it_was_changed(self, page, day):
        response = page.post(url("site-day-reopen", day), follow=True)
        assert "it was changed since" in response.content.decode()

    def test_what_is_done_is_not_called_off(self, page, owner, day):
        close(day, owner)
        page.post(url("site-day-cancel", day))
        page.post(url("site-day-restore", day))
        assert fresh(day).state == SiteDayState.DONE


class TestWhoMay:
    PLANNING = ("site-day-change", "site-day-cancel", "site-day-restore")

    @pytest.mark.parametrize("name", PLANNING)
    @pytest.mark.parametrize("who", ["maker", "fitter"])
    def test_plan_only_those_with_the_right(self, request, client_as, day, name, who):
        person = request.getfixturevalue(who)
        assert client_as(person).post(url(name, day)).status_code == 403
        assert client_as(person).get("/van/new/").status_code == 403

    @pytest.mark.parametrize("who", ["maker", "fitter"])
    def test_close_whoever_loads_the_van(self, request, client_as, day, who):
        person = request.getfixturevalue(who)
        client_as(person).post(url("site-day-done", day))
        assert fresh(day).done_by == person

    @pytest.mark.parametrize(
        "name",
        ["site-day", "van-list", "install-sheet", "site-day-holds", "site-day-change"],
    )
    def test_a_stranger_signs_in_first(self, client, day, name):
        response = client.get(url(name, day))
        assert response.status_code == 302
        assert "/accounts/login/" in response["Location"]

    @pytest.mark.parametrize(
        "name",
        ["site-day-cancel", "site-day-restore", "site-day-done", "site-day-reopen"],
    )
    def test_changes_come_by_post_alone(self, page, day, name):
        assert page.get(url(name, day)).status_code == 405

    def test_a_day_that_is_not_there_is_not_found(self, page, day):
        for name in ("site-day", "van-list", "install-sheet", "site-day-holds"):
            address = reverse(f"jobs:{name}", args=(day.job_id,))
            assert page.get(address).status_code == 404


class TestJobPage:
    def test_has_its_days_and_the_way_to_plan_one(self, page, day):
        shown = soup(page.get(day.job.get_absolute_url()))
        section = shown.find(id="job-days").find_parent("section")
        assert section.find("a", href=day.get_absolute_url())
        assert section.find("a", href=f"/van/new/?job={day.job_id}")

    def test_a_job_without_days_says_so(self, page, owner, shop):
        job = make_job(by=owner)
        shown = soup(page.get(job.get_absolute_url()))
        assert "No day is planned yet." in shown.text
