"""What is late, due, waiting and to be done, for the person who asks."""

import datetime as dt

import pytest
from django.utils import timezone

from jobs.board.actions import mark_panels, move_panels
from jobs.board.models import Job, Mark, Stage
from jobs.board.models.jobs import JobQuerySet
from jobs.nextup.reports import MOST, next_up
from quotes.offers.models import Quote, QuoteState
from shared.conventions import today
from shared.outbox.models import Message
from shop.surveys.models import Room
from tests.factories.clients import make_client, make_site
from tests.factories.jobs import AT, make_full_job, make_job, make_revision
from tests.factories.visits import make_day
from tests.pages import queries, soup, text

pytestmark = pytest.mark.django_db
TODAY = dt.date(2026, 3, 10)
WORKING = ("maker", "fitter")


def titles(slips):
    return [slip.title for slip in slips]


def ask(person):
    return next_up(person, today=TODAY)


@pytest.fixture
def job(owner, shop):
    return make_job(by=owner)


def seen(job):
    return [(panel.pk, panel.stage) for panel in job.panels.all()]


class TestSiteDays:
    @pytest.mark.parametrize(
        ("days", "where", "pill"),
        [
            (-1, "late", "was Monday 9 March"),
            (0, "due", "today"),
            (1, "due", "tomorrow"),
            (2, "waiting", "Thursday 12 March"),
        ],
    )
    def test_by_how_near_they_are(self, owner, shop, days, where, pill):
        make_day(by=owner, on=TODAY + dt.timedelta(days))
        (slip,) = [s for s in getattr(ask(owner), where) if s.icon == "van"]
        assert slip.pill == pill
        assert "0 of 3 panels upholstered" in slip.line

    def test_with_every_panel_ready_it_waits_for_nothing(self, owner, maker, shop):
        day = make_day(by=owner, on=TODAY + dt.timedelta(3))
        move_panels(seen(day.job), to=Stage.UPHOLSTERED, by=owner, at=AT)
        found = ask(maker)
        assert f"Install of {day.job.code}" in titles(found.rest)
        assert not found.waiting

    def test_far_ones_are_left_for_later(self, owner, shop):
        make_day(by=owner, on=TODAY + dt.timedelta(20))
        found = ask(owner)
        assert not [s for s in (*found.due, *found.waiting) if s.icon == "van"]

    def test_come_in_the_order_of_days(self, owner, shop):
        for days in (9, 3, 6):
            make_day(by=owner, on=TODAY + dt.timedelta(days))
        found = [s.pill for s in ask(owner).waiting if s.icon == "van"]
        assert found == ["Friday 13 March", "Monday 16 March", "Thursday 19 March"]


class TestBench:
    def test_says_what_is_left_to_do(self, job, maker):
        move_panels(seen(job)[:1], to=Stage.BUILT, by=maker, at=AT)
        (slip,) = [s for s in ask(maker).rest if s.icon == "bench"]
        assert slip.line == "1 to measure, 1 to upholster."

    def test_says_what_waits_and_for_what(self, job, maker):
        ids = [panel.pk for panel in job.panels.all()]
        mark_panels(ids, mark=Mark.WAITING, now="fabric", by=maker, at=AT)
        (slip,) = ask(maker).waiting
        assert slip.title == f"{job.code} waits for fabric"
        assert slip.line.startswith("2 panels of ")

    def test_rework_is_due(self, job, maker):
        panel = job.panels.first()
        mark_panels([panel.pk], mark=Mark.REWORK, now="torn", by=maker, at=AT)
        assert titles(ask(maker).due) == [f"{job.code} has rework"]

    def test_a_job_past_its_wanted_day_is_late(self, job, maker):
        Job.objects.update(wanted_by=TODAY - dt.timedelta(1))
        (slip,) = ask(maker).late
        assert slip.pill == "wanted by 9 March"

    def test_a_job_finished_while_the_page_is_read_is_left_out(
        self, job, maker, monkeypatch
    ):
        assert not ask(maker).is_empty
        monkeypatch.setattr(JobQuerySet, "with_client", lambda self: self.none())
        assert ask(maker).is_empty


class TestQuotes:
    def test_the_most_urgent_are_shown_and_the_rest_counted(self, owner, shop):
        urgent = make_revision(by=owner).quote
        Quote.objects.update(valid_until=TODAY - dt.timedelta(1))
        drafts = [
            Quote(number=f"D-{i}", client=urgent.client, made_by=owner)
            for i in range(MOST * 2 + 4)
        ]
        Quote.objects.bulk_create(drafts)
        found = ask(owner)
        assert f"Ask after quote {urgent.number}" in titles(found.late)
        (more,) = [s for s in found.rest if s.title.startswith("and ")]
        assert (more.title, more.url) == ("and 5 more", "/quotes/")

    def test_none_are_counted_where_all_are_shown(self, owner, shop):
        make_revision(by=owner)
        found = ask(owner)
        every = (*found.late, *found.due, *found.waiting, *found.rest)
        assert not [s for s in every if s.title.startswith("and ")]

    def test_come_by_their_end_and_drafts_last(self, owner, shop):
        client = make_client()
        ends = {"A": 30, "B": 9, "C": 2}
        for number, days in ends.items():
            Quote.objects.create(
                number=number,
                client=client,
                made_by=owner,
                state=QuoteState.SENT,
                valid_until=TODAY + dt.timedelta(days),
            )
        Quote.objects.create(number="D", client=client, made_by=owner)
        in_order = Quote.objects.open().by_urgency()
        assert [quote.number for quote in in_order] == ["C", "B", "A", "D"]

    @pytest.mark.parametrize(
        ("days", "where"), [(-1, "late"), (0, "due"), (7, "due"), (8, "waiting")]
    )
    def test_by_when_they_end(self, owner, shop, days, where):
        revision = make_revision(by=owner)
        end = TODAY + dt.timedelta(days)
        Quote.objects.filter(pk=revision.quote_id).update(valid_until=end)
        slips = getattr(ask(owner), where)
        assert any(revision.quote.number in title for title in titles(slips))

    @pytest.mark.parametrize("who", WORKING)
    def test_are_not_shown_to_whoever_does_not_quote(self, request, owner, shop, who):
        make_revision(by=owner)
        found = ask(request.getfixturevalue(who))
        assert found.is_empty

    def test_mail_that_did_not_go_out_is_late(self, owner, shop):
        Message.objects.create(
            to="a@example.org",
            subject="Quote 7",
            body="",
            state="failed",
            next_try_at=AT,
        )
        assert "Not sent: Quote 7" in titles(ask(owner).late)


class TestCut:
    def test_what_is_left_out_of_each_list_is_counted(self, owner, shop):
        client = make_client()
        for i in range(MOST + 2):
            make_client()
            make_job(by=owner, client=client)
            Message.objects.create(
                message_id=f"<{i}@example.org>",
                to="a@example.org",
                subject="Quote 7",
                body="",
                state="failed",
                next_try_at=AT,
            )
        found = ask(owner)
        more = {
            s.icon: (s.title, s.url)
            for s in (*found.late, *found.rest)
            if s.title.startswith("and ")
        }
        assert more["mail"] == ("and 2 more", "/quotes/")
        assert more["measure"] == ("and 3 more", "/clients/")
        assert more["calendar"] == ("and 2 more", "/jobs/")

    def test_site_days_too(self, owner, shop):
        job = make_full_job(by=owner)
        for _ in range(MOST * 2 + 1):
            make_day(by=owner, job=job, on=TODAY)
        (more,) = [s for s in ask(owner).rest if s.icon == "van"]
        assert (more.title, more.url) == ("and 1 more", "/van/")


class TestClients:
    def test_whose_room_is_not_measured_are_to_be_surveyed(self, owner, shop):
        client = make_client(name="Ida Fenn")
        assert f"Survey for {client}" in titles(ask(owner).rest)

    def test_with_two_sites_are_one_client(self, owner, shop):
        client = make_client(name="Ida Fenn")
        make_site(client=client)
        make_site(client=client)
        assert titles(ask(owner).rest) == [f"Survey for {client}"]

    def test_with_one_room_of_two_sites_measured_are_not_asked_again(self, owner, shop):
        client = make_client(name="Ida Fenn")
        make_site(client=client)
        Room.objects.create(site=make_site(client=client), name="Front room")
        assert ask(owner).is_empty

    @pytest.mark.parametrize("who", WORKING)
    def test_are_not_shown_to_who_does_not_keep_them(self, request, shop, who):
        make_client(name="Ida Fenn")
        assert ask(request.getfixturevalue(who)).is_empty


class TestPlanning:
    def test_a_job_without_a_day_is_to_be_planned(self, job, owner):
        assert f"Plan the install day of {job.code}" in titles(ask(owner).rest)

    @pytest.mark.parametrize("who", WORKING)
    def test_is_asked_of_the_office_alone(self, request, job, who):
        found = ask(request.getfixturevalue(who))
        assert not [title for title in titles(found.rest) if "Plan" in title]


class TestPage:
    def test_is_where_everybody_lands(self, client_as, maker, job):
        shown = soup(client_as(maker).get("/"))
        assert text(shown.h1) == "Next up"
        link = shown.select_one("main .slip__link")
        assert link["href"] == f"/bench/?job={job.code}"

    def test_empty_it_says_what_to_do_first(self, client_as, owner, maker, shop):
        assert "Write down an enquiry" in soup(client_as(owner).get("/")).text
        assert "as soon as there are any" in soup(client_as(maker).get("/")).text

    def test_a_stranger_signs_in_first(self, client, shop):
        assert client.get("/").status_code == 302

    def test_takes_a_get_alone(self, client_as, owner, shop):
        assert client_as(owner).post("/").status_code == 405

    @pytest.mark.parametrize("who", ["owner", "office", *WORKING])
    def test_queries_do_not_grow_with_rows(self, request, client_as, owner, shop, who):
        def more(count):
            for _ in range(count):
                make_day(
                    by=owner, job=make_full_job(by=owner), on=today(timezone.now())
                )
                make_client()
                make_revision(by=owner)

        page = client_as(request.getfixturevalue(who))
        more(2)
        page.get("/")
        few = queries(page, "/")
        more(18)
        assert queries(page, "/") == few
