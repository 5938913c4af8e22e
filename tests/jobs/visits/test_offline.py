"""Ticks of the van list from a device that was away."""

import pytest

from jobs.visits.models import VanTick
from jobs.visits.reports import van_page
from tests.devices import write
from tests.factories.visits import make_day

pytestmark = pytest.mark.django_db


@pytest.fixture
def day(shop):
    return make_day()


def ticked(day, key, value="yes", **more):
    usual = {"op": "van-tick", "lane": f"site-day:{day.pk}", "field": key}
    return write(day, value, was="" if value else "yes", **usual | more)


def first_key(day):
    return sorted(van_page(day).keys)[0]


def test_a_tick_is_stored_once_and_taken_back(day, fitter, send):
    key = first_key(day)
    item = ticked(day, key)
    statuses = [send(fitter, item)[0]["status"] for _ in range(2)]
    assert statuses == ["stored", "repeat"]
    assert VanTick.objects.get().by == fitter
    send(fitter, ticked(day, key, ""))
    assert VanTick.objects.standing(day) == {}
    assert VanTick.objects.count() == 2


def test_two_who_tick_the_same_line_agree(day, fitter, maker, send):
    key = first_key(day)
    for person in (fitter, maker):
        assert send(person, ticked(day, key))[0]["status"] == "stored"
    assert VanTick.objects.get().by == fitter


@pytest.mark.parametrize("odd", [{"field": "panel:none"}, {"value": "perhaps"}])
def test_what_is_not_on_the_list_is_refused(day, fitter, send, odd):
    (answer,) = send(fitter, ticked(day, first_key(day), **odd))
    assert (answer["status"], answer["sentence"]) == (
        "refused",
        "This is no longer on the van list of that day.",
    )
    assert not VanTick.objects.exists()


def test_a_day_that_is_gone_is_told(day, fitter, send):
    lane = "site-day:00000000-0000-4000-8000-000000000000"
    (answer,) = send(fitter, ticked(day, first_key(day), lane=lane))
    assert answer["status"] == "refused"


@pytest.mark.parametrize("start", ["item:wall-screw:", "part:wall-", "bit:plugs:"])
def test_a_counted_line_is_stored_and_refused_once_its_count_is_another(
    day, fitter, send, start
):
    key = next(k for k in sorted(van_page(day).keys) if k.startswith(start))
    (answer,) = send(fitter, ticked(day, key))
    assert answer["status"] == "stored"
    day.site_day_panels.filter(panel=day.panels.first()).delete()
    assert any(k.startswith(start) for k in van_page(day).keys)
    (answer,) = send(fitter, ticked(day, key, ""))
    assert answer["status"] == "refused"


def test_a_line_in_metres_is_stored(day, fitter, send):
    key = next(k for k in van_page(day).keys if k.startswith("item:chain:"))
    assert key.endswith("-m")
    assert send(fitter, ticked(day, key))[0]["status"] == "stored"
