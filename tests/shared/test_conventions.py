"""The shop's conventions: in force for a request, and its local days."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest
from django.http import HttpResponse
from django.utils import timezone

from shared import conventions
from shared.conventions import Conventions, current, end_of_local_day, today, using
from shared.length import UnitSystem

BERLIN = Conventions(time_zone="Europe/Berlin")
NEW_YORK = Conventions(unit_system=UnitSystem.IMPERIAL, time_zone="America/New_York")


@pytest.fixture
def provide(monkeypatch):
    """Return a function that names a provider for this test only."""
    monkeypatch.setattr(conventions, "_providers", [])
    return conventions.register_provider


def test_metric_and_utc_until_a_shop_says_otherwise(provide):
    assert conventions.from_provider() == Conventions()
    assert current().is_metric


def test_are_in_force_for_a_block_and_no_longer():
    before = timezone.get_current_timezone_name()
    with using(NEW_YORK):
        assert current() is NEW_YORK
        assert timezone.get_current_timezone_name() == "America/New_York"
    assert current() == Conventions()
    assert timezone.get_current_timezone_name() == before


def test_are_given_back_when_a_block_fails():
    with pytest.raises(KeyError), using(NEW_YORK):
        raise KeyError
    assert current() == Conventions()


def test_blocks_nest():
    with using(NEW_YORK):
        with using(BERLIN):
            assert current() is BERLIN
        assert current() is NEW_YORK


def test_each_request_is_answered_under_the_shops_own(provide, rf):
    provide(lambda: NEW_YORK)
    answer = conventions.ConventionsMiddleware(
        lambda _: HttpResponse(current().time_zone)
    )
    assert answer(rf.get("/")).content == b"America/New_York"
    assert current() == Conventions()


def test_the_last_provider_counts(provide):
    provide(lambda: NEW_YORK)
    provide(lambda: BERLIN)
    assert conventions.from_provider() is BERLIN


@pytest.mark.parametrize(
    ("at", "day"),
    [
        (datetime(2026, 12, 31, 22, 59, tzinfo=UTC), date(2026, 12, 31)),
        (datetime(2026, 12, 31, 23, 0, tzinfo=UTC), date(2027, 1, 1)),
    ],
)
def test_a_number_of_new_years_night_is_of_the_local_year(at, day):
    assert today(at, BERLIN) == day


@pytest.mark.parametrize(
    ("zone", "day", "end"),
    [
        # An ordinary day, the shortest and the longest of the year.
        ("Europe/Berlin", date(2026, 1, 15), datetime(2026, 1, 15, 23, tzinfo=UTC)),
        ("Europe/Berlin", date(2026, 3, 29), datetime(2026, 3, 29, 22, tzinfo=UTC)),
        ("Europe/Berlin", date(2026, 10, 25), datetime(2026, 10, 25, 23, tzinfo=UTC)),
        # No midnight here: the clock goes from 23:59 to 01:00.
        ("Africa/Cairo", date(2026, 4, 23), datetime(2026, 4, 23, 22, tzinfo=UTC)),
        ("Pacific/Kiritimati", date(2026, 1, 1), datetime(2026, 1, 1, 10, tzinfo=UTC)),
    ],
)
def test_a_local_day_ends_where_the_next_begins(zone, day, end):
    assert end_of_local_day(day, Conventions(time_zone=zone)) == end
    just_before = end.timestamp() - 1
    last = datetime.fromtimestamp(just_before, tz=ZoneInfo(zone))
    assert last.date() == day


def test_days_follow_the_conventions_in_force():
    at = datetime(2026, 7, 1, 2, tzinfo=UTC)
    with using(NEW_YORK):
        assert today(at) == date(2026, 6, 30)
        assert end_of_local_day(today(at)) == datetime(2026, 7, 1, 4, tzinfo=UTC)
