"""The van list on a tablet: ticked by whom, with and without scripts."""

import pytest
from django.urls import reverse

from jobs.visits.actions import tick as tick_line
from jobs.visits.models import SiteDayPanel, VanTick
from jobs.visits.reports import van_page
from tests.cast import AS_HTMX
from tests.factories.jobs import AT, make_full_job
from tests.factories.visits import make_day
from tests.pages import BAD_TEXTS, queries, soup, text

pytestmark = pytest.mark.django_db


@pytest.fixture
def day(owner, shop):
    return make_day(by=owner)


@pytest.fixture
def page(client_as, fitter):
    return client_as(fitter)


@pytest.fixture
def url(day):
    return reverse("jobs:van-list", args=(day.pk,))


@pytest.fixture
def tick(day):
    return reverse("jobs:van-tick", args=(day.pk,))


def row(shown, key):
    return shown.select_one(f'input[name="key"][value="{key}"]').find_parent("li")


def test_lists_panels_hardware_tools_and_bits(page, url):
    heads = [text(head) for head in soup(page.get(url)).select("h2")]
    assert heads == [
        "Panels",
        "For the building",
        "Hardware",
        "Tools",
        "Bits and plugs",
    ]


def test_comes_as_a_fragment(page, url):
    response = page.get(url, headers=AS_HTMX)
    assert b"<html" not in response.content
    assert soup(response).find(id="van-list")


def test_a_tick_says_who_and_when_and_moves_the_gauge(page, url, tick):
    before = soup(page.get(url)).select_one("progress")["value"]
    response = page.post(tick, {"key": "tool:tape", "on": "yes"}, headers=AS_HTMX)
    shown = soup(response)
    ticked = row(shown, "tool:tape")
    assert ticked.button["aria-checked"] == "true"
    assert "Finn" in text(ticked.select_one(".ticks__who"))
    assert (before, shown.select_one("progress")["value"]) == ("0", "1")


def test_a_second_tap_takes_it_back(page, url, tick):
    page.post(tick, {"key": "tool:tape", "on": "yes"})
    shown = soup(page.get(url))
    again = row(shown, "tool:tape").select_one('input[name="on"]')["value"]
    assert again == "no"
    page.post(tick, {"key": "tool:tape", "on": again})
    assert row(soup(page.get(url)), "tool:tape").button["aria-checked"] == "false"
    assert VanTick.objects.count() == 2


def test_without_scripts_it_leads_back_to_the_same_list(page, url, tick):
    response = page.post(tick, {"key": "tool:tape", "on": "yes", "left": "1"})
    assert (response.status_code, response["Location"]) == (302, f"{url}?left=1")


def test_what_is_left_can_be_seen_alone(page, url, tick):
    page.post(tick, {"key": "tool:tape", "on": "yes"})
    keys = {i["value"] for i in soup(page.get(url, {"left": 1})).select("[name=key]")}
    assert "tool:tape" not in keys
    assert "tool:laser" in keys


def test_what_was_just_ticked_stays_in_sight_among_what_is_left(page, tick):
    typed = {"key": "tool:tape", "on": "yes", "left": "1"}
    shown = soup(page.post(tick, typed, headers=AS_HTMX))
    assert row(shown, "tool:tape").button["aria-checked"] == "true"


def test_everything_loaded_leads_to_the_install_sheet(page, url, tick):
    for key in [i["value"] for i in soup(page.get(url)).select("[name=key]")]:
        page.post(tick, {"key": key, "on": "yes"})
    shown = soup(page.get(url))
    assert "Everything is loaded" in shown.text
    assert shown.find("a", href=url.replace("/list/", "/install.pdf"))


def test_a_day_without_panels_says_what_to_do(page, owner, day):
    empty = make_day(by=owner, job=day.job, panels=(), kind="survey")
    shown = soup(page.get(reverse("jobs:van-list", args=(empty.pk,))))
    assert "Nothing to load" in shown.text


@pytest.mark.parametrize("key", ["", "tool:anvil", "x" * 5000, "🔨", *BAD_TEXTS])
def test_a_line_that_is_not_on_the_list_is_refused(page, tick, key):
    response = page.post(tick, {"key": key, "on": "yes"})
    assert response.status_code == 422
    assert soup(response).select_one("#van-list .errors")
    assert not VanTick.objects.exists()


@pytest.mark.parametrize("on", ["", "1", "perhaps", "\0", "x" * 5000])
def test_neither_loaded_nor_not_is_refused(page, tick, on):
    response = page.post(tick, {"key": "tool:tape", "on": on}, headers=AS_HTMX)
    assert response.status_code == 422
    assert b"<html" not in response.content
    assert not VanTick.objects.exists()


def test_only_who_loads_may_tick_and_only_by_post(client_as, office, tick, client):
    assert client.post(tick).status_code == 302
    assert client_as(office).get(tick).status_code == 405
    assert client_as(office).post(tick, {"key": "tool:tape", "on": "yes"}).status_code


def test_queries_do_not_grow_with_panels_nor_with_ticks(page, owner, shop, url, tick):
    counts = []
    for panels in (2, 20):
        kinds = (("wall-panel", 600, 1200, panels), ("hung-panel", 1200, 900, panels))
        made = make_day(by=owner, job=make_full_job(by=owner, kinds=kinds))
        address = reverse("jobs:van-list", args=(made.pk,))
        for each in made.panels.all():
            page.post(f"{address}tick/", {"key": f"panel:{each.code}", "on": "yes"})
        counts.append(queries(page, address))
    assert counts[0] == counts[1]


def test_a_tick_stands_no_longer_once_more_is_to_be_loaded(page, owner, fitter, shop):
    job = make_full_job(by=owner, kinds=(("wall-panel", 600, 1200, 2),))
    first, second = job.panels.all()
    made = make_day(by=owner, job=job, panels=(first,))
    few = van_page(made).keys
    for key in few:
        tick_line(made, key, on=True, by=fitter, at=AT)
    assert van_page(made).left == 0
    SiteDayPanel.objects.create(site_day=made, panel=second)
    open_again = van_page(made).keys - set(VanTick.objects.standing(made))
    assert {key.split(":")[0] for key in open_again} == {"panel", "part", "item", "bit"}
    shown = soup(page.get(reverse("jobs:van-list", args=(made.pk,))))
    (screws,) = [key for key in open_again if key.startswith("item:wall-screw:")]
    assert row(shown, screws).button["aria-checked"] == "false"


def test_rooms_of_one_name_at_two_sites_are_two_rooms(owner, shop):
    job = make_full_job(by=owner, kinds=(("wall-panel", 600, 1200, 1),) * 2)
    other = job.panels.last()
    wood = [{"name": "A", "construction": "board_wood", "heated": False}]
    other.snapshot["room"] |= {"id": "room-2", "walls": wood}
    other.save()
    keys = van_page(make_day(by=owner, job=job)).keys
    assert {"bit:masonry", "bit:wood"} <= keys
