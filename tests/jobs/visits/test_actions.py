"""Site days are planned, changed, called off, closed; ticks are appended."""

import datetime as dt
from dataclasses import replace

import pytest
from django.db import IntegrityError, transaction

from jobs.board.actions import CannotUndoError, move_panels
from jobs.board.models import JobState, Panel, Stage
from jobs.visits.actions import (
    DayHasMovedOnError,
    DayPlan,
    cancel_day,
    change_day,
    close_day,
    open_day_again,
    restore_day,
    tick,
)
from jobs.visits.models import SiteDay, SiteDayPanel, SiteDayState, VanTick
from jobs.visits.reports import sites_of
from shared.models import Entry, LedgerIsAppendOnlyError
from tests.factories.clients import make_site
from tests.factories.jobs import AT, make_full_job, make_job
from tests.factories.visits import ON, make_day

pytestmark = pytest.mark.django_db
LATER = AT + dt.timedelta(hours=3)


@pytest.fixture
def day(owner):
    return make_day(by=owner)


def fresh(day):
    return SiteDay.objects.get(pk=day.pk)


def seen(day):
    return [(panel.pk, panel.stage) for panel in day.panels.all()]


def plan_of(day):
    return DayPlan(
        on=day.on,
        arrive_at=day.arrive_at,
        kind=day.kind,
        site=day.site,
        crew=tuple(day.crew.all()),
        panels=tuple(day.panels.all()),
    )


def test_a_planned_day_has_everything_and_is_on_record(day, owner):
    assert day.panels.count() == 3
    assert list(day.crew.all()) == [owner]
    assert Entry.objects.about("siteday", day.pk).get().text == "Planned."
    assert Entry.objects.about("job", day.job_id)[0].text.startswith("Install day 2026")


def test_it_is_local_time_with_its_zone(owner):
    day = make_day(by=owner, on=dt.date(2026, 7, 1), zone="America/New_York")
    assert fresh(day).arrives().isoformat() == "2026-07-01T08:30:00-04:00"


def test_a_day_without_a_time_has_no_moment(owner):
    assert make_day(by=owner, arrive_at=None).arrives() is None


def test_a_change_sets_panels_and_crew_anew(day, owner, fitter):
    kept = day.panels.first()
    plan = replace(
        plan_of(day), crew=(fitter,), panels=(kept,), on=ON + dt.timedelta(1)
    )
    change_day(day, plan, by=owner, at=LATER)
    assert list(fresh(day).panels.all()) == [kept]
    assert list(fresh(day).crew.all()) == [fitter]
    assert "2026-03-13" in Entry.objects.about("siteday", day.pk)[0].text


def test_a_change_keeps_the_rows_of_panels_that_stay(day, owner):
    before = set(SiteDayPanel.objects.values_list("pk", flat=True))
    change_day(day, plan_of(day), by=owner, at=LATER)
    assert set(SiteDayPanel.objects.values_list("pk", flat=True)) == before


def test_called_off_and_put_back(day, owner):
    cancel_day(day, by=owner, at=LATER)
    assert fresh(day).state == SiteDayState.CANCELLED
    restore_day(day, by=owner, at=LATER)
    assert fresh(day).state == SiteDayState.PLANNED


def test_closing_says_by_whom_and_moves_what_was_hung(day, fitter):
    moved = close_day(day, seen(day), by=fitter, at=LATER)
    assert len(moved.moved) == 3
    closed = fresh(day)
    assert (closed.state, closed.done_by, closed.done_at) == ("done", fitter, LATER)
    assert closed.job.state == JobState.DONE
    assert {p.stage for p in Panel.objects.all()} == {Stage.INSTALLED}


def test_closing_hangs_no_panel_of_another_day(day, owner, fitter):
    other = make_day(by=owner, job=make_full_job(by=owner))
    with pytest.raises(DayHasMovedOnError):
        close_day(day, seen(day) + seen(other), by=fitter, at=LATER)
    assert fresh(day).state == SiteDayState.PLANNED
    assert {p.stage for p in Panel.objects.all()} == {Stage.PLANNED}


def test_closing_may_hang_nothing(day, fitter):
    assert close_day(day, [], by=fitter, at=LATER) is None
    assert fresh(day).job.state == JobState.OPEN


def test_opening_again_takes_the_moves_back_too(day, fitter):
    moved = close_day(day, seen(day), by=fitter, at=LATER)
    open_day_again(day, moved.batch, by=fitter, at=LATER)
    assert fresh(day).state == SiteDayState.PLANNED
    assert fresh(day).done_by is None
    assert {p.stage for p in Panel.objects.all()} == {Stage.PLANNED}


def test_opening_again_fails_as_a_whole_when_a_panel_has_moved_on(day, fitter):
    moved = close_day(day, seen(day), by=fitter, at=LATER)
    panel = day.panels.first()
    move_panels([(panel.pk, "installed")], to=Stage.BUILT, by=fitter, at=LATER)
    with pytest.raises(CannotUndoError):
        open_day_again(day, moved.batch, by=fitter, at=LATER)
    assert fresh(day).state == SiteDayState.DONE


@pytest.mark.parametrize("state", ["cancelled", "done"])
def test_what_is_over_is_neither_changed_nor_closed(day, owner, state):
    if state == "cancelled":
        cancel_day(day, by=owner, at=LATER)
    else:
        close_day(day, [], by=owner, at=LATER)
    for act in (
        lambda: change_day(day, plan_of(day), by=owner, at=LATER),
        lambda: cancel_day(day, by=owner, at=LATER),
        lambda: close_day(day, [], by=owner, at=LATER),
    ):
        with pytest.raises(DayHasMovedOnError):
            act()


def test_a_planned_day_is_neither_restored_nor_opened(day, owner):
    with pytest.raises(DayHasMovedOnError):
        restore_day(day, by=owner, at=LATER)
    with pytest.raises(DayHasMovedOnError):
        open_day_again(day, None, by=owner, at=LATER)


class TestTicks:
    def test_the_last_one_counts(self, day, owner, fitter):
        tick(day, "tool:tape", on=True, by=owner, at=AT)
        tick(day, "tool:tape", on=False, by=fitter, at=LATER)
        assert VanTick.objects.standing(day) == {}
        tick(day, "tool:tape", on=True, by=fitter, at=LATER + dt.timedelta(1))
        assert VanTick.objects.standing(day)["tool:tape"].by == fitter
        assert VanTick.objects.count() == 3

    def test_saying_it_again_writes_nothing(self, day, owner, fitter):
        for person in (owner, fitter):
            tick(day, "tool:tape", on=True, by=person, at=AT)
        assert VanTick.objects.get().by == owner

    def test_they_are_never_changed_nor_deleted(self, day, owner):
        tick(day, "tool:tape", on=True, by=owner, at=AT)
        with pytest.raises(LedgerIsAppendOnlyError):
            VanTick.objects.all().delete()
        with pytest.raises(LedgerIsAppendOnlyError):
            VanTick.objects.update(ticked=False)

    def test_each_day_has_its_own(self, day, owner):
        other = make_day(by=owner, job=day.job)
        tick(day, "tool:tape", on=True, by=owner, at=AT)
        assert VanTick.objects.standing(other) == {}


class TestConstraints:
    @pytest.mark.parametrize(
        "fields",
        [
            {"state": "done"},
            {"done_at": AT},
            {"kind": "picnic"},
            {"state": "lost"},
        ],
    )
    def test_a_day_that_makes_no_sense_is_refused(self, day, fields):
        with pytest.raises(IntegrityError), transaction.atomic():
            SiteDay.objects.filter(pk=day.pk).update(**fields)

    def test_a_panel_goes_once(self, day):
        row = SiteDayPanel.objects.first()
        with pytest.raises(IntegrityError), transaction.atomic():
            SiteDayPanel.objects.create(site_day=row.site_day, panel=row.panel)


class TestSites:
    def test_only_those_of_the_agreed_rooms_are_offered(self, owner):
        job = make_full_job(by=owner)
        make_site(client=job.client, address="Elsewhere")
        assert [site.address for site in sites_of(job)] == ["4 Weir Lane"]

    def test_a_job_that_names_none_offers_the_clients(self, owner):
        job = make_job(by=owner)
        site = make_site(client=job.client, address="9 Mill Row")
        make_site(address="A stranger’s")
        assert sites_of(job) == (site,)
