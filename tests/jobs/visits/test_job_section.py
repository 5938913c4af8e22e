"""A job's page says what is left to do, and leads to where it came from."""

import datetime as dt

import pytest

from jobs.board.models import Panel, Stage
from jobs.visits.actions import close_day
from jobs.visits.models import HowEnded, LooseEnd, SiteDayKind
from tests.factories.jobs import AT, make_full_job
from tests.factories.surveys import make_room
from tests.factories.visits import make_day
from tests.pages import queries, soup, text

pytestmark = pytest.mark.django_db


@pytest.fixture
def job(owner, shop):
    return make_full_job(by=owner)


def left(page) -> list[str]:
    section = page.find(id="job-left").find_parent("section")
    return [text(each) for each in section.select("li, p")]


def shown(client, job):
    return soup(client.get(job.get_absolute_url()))


def finish(job, owner, ends=()):
    """Hang everything on one day and close it."""
    day = make_day(by=owner, job=job)
    seen = [(panel.pk, panel.stage) for panel in job.panels.all()]
    close_day(day, seen, ends=ends, by=owner, at=AT)
    return day


def test_panels_are_counted_by_what_comes_next(job, client_as, maker):
    first = job.panels.first()
    Panel.objects.filter(pk=first.pk).update(
        stage=Stage.MEASURED, measured_at=AT, rework="crease", waiting_for="cloth"
    )
    assert left(shown(client_as(maker), job)) == [
        "Panels: 2 to measure, 1 to build.",
        "1 panel to be done again.",
        "1 panel waits for cloth.",
    ]


def test_days_that_are_planned_or_over_are_named(job, owner, client_as, fitter):
    make_day(by=owner, job=job, on=dt.date(2026, 3, 12))
    make_day(by=owner, job=job, on=dt.date(2098, 3, 12), kind="return")
    lines = left(shown(client_as(fitter), job))
    assert "Install day of 12 March 2026 is to be closed." in lines
    assert "Return day on 12 March 2098." in lines


def test_a_finished_job_has_nothing_left_and_leads_on(job, owner, client_as, office):
    day = finish(job, owner)
    page = shown(client_as(office), job)
    assert left(page) == ["Nothing: every panel hangs and every day is closed."]
    for address in (
        job.client.get_absolute_url(),
        job.revision.quote.get_absolute_url(),
        day.get_absolute_url(),
    ):
        assert page.main.find("a", href=address), address
    again = page.find("a", href=f"/van/new/?job={job.pk}")
    assert text(again) == "Plan a return"
    form = soup(client_as(office).get(again["href"]))
    assert form.select_one("#id_kind [selected]")["value"] == SiteDayKind.RETURN


def test_what_stayed_behind_on_the_last_day_is_left_to_do(job, owner, client_as, maker):
    end = LooseEnd(number=1, how=HowEnded.LEFT, key="tool:tape", name="Tape")
    finish(job, owner, [end])
    assert left(shown(client_as(maker), job)) == ["Left behind on 12 March 2026: Tape."]
    again = make_day(by=owner, job=job, on=dt.date(2026, 3, 13), kind="return")
    close_day(again, [], by=owner, at=AT)
    assert left(shown(client_as(maker), job))[0].startswith("Nothing")


def test_rooms_that_are_on_record_are_led_to(owner, shop, client_as, maker):
    room = make_room(name="Front room")
    job = make_full_job(by=owner)
    for panel in job.panels.all():
        panel.snapshot["room"]["id"] = str(room.pk)
        panel.save()
    page = shown(client_as(maker), job)
    assert page.main.find("a", href=room.get_absolute_url(), string="Front room")
    gone = shown(client_as(maker), make_full_job(by=owner))
    assert "Front room" in gone.find(id="job-facts").find_parent("section").text


@pytest.mark.parametrize(("who", "sees"), [("office", 2), ("fitter", 1), ("maker", 0)])
def test_quote_and_client_are_led_to_by_right(request, job, client_as, who, sees):
    page = shown(client_as(request.getfixturevalue(who)), job)
    facts = page.find(id="job-facts").find_parent("section")
    assert len(facts.select("a")) == sees
    assert job.revision.reference in facts.text


def test_takes_no_more_queries_for_many_days_and_panels(owner, shop, client_as, office):
    counts = []
    for days, panels in ((1, 2), (5, 20)):
        job = make_full_job(by=owner, kinds=(("wall-panel", 600, 1200, panels),))
        for number in range(days):
            on = dt.date(2026, 3, 1) + dt.timedelta(number)
            make_day(by=owner, job=job, on=on)
        browser, address = client_as(office), job.get_absolute_url()
        browser.get(address)
        counts.append(queries(browser, address))
    assert counts[0] == counts[1]
