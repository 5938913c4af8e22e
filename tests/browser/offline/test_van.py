"""The van list goes on with no network, and is ticked once when there is one again."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from jobs.visits.models import VanTick
from tests.browser.offline.conftest import PAGE_IS_KEPT, until
from tests.factories.visits import make_day

BOTH_ARE_KEPT = """async () => {
  const [name] = (await caches.keys()).filter((one) => one.startsWith("pages-"));
  return name && (await (await caches.open(name)).keys()).length === 2;
}"""


@pytest.fixture
def day(shop):
    return make_day()


@pytest.fixture
def van(open_browser, fitter, day):
    page = open_browser(fitter)
    page.goto(reverse("jobs:van-list", args=[day.pk]))
    until(page, PAGE_IS_KEPT)
    return page


def boxes(page):
    return page.get_by_role("checkbox")


def test_ticks_without_a_network_wait_and_count_once(van, day, fitter):
    van.context.set_offline(True)
    for line in (0, 1, 2, 2):
        boxes(van).nth(line).click()
    expect(boxes(van).nth(1)).to_be_checked()
    expect(boxes(van).nth(2)).not_to_be_checked()
    expect(van.locator("[data-offline-words]")).to_contain_text("4 to send")
    van.reload()
    expect(boxes(van).nth(1)).to_be_checked()
    assert not VanTick.objects.exists()
    van.context.set_offline(False)
    expect(van.locator(".ticks__who")).to_have_count(2)
    assert len(VanTick.objects.standing(day)) == 2
    assert {tick.by for tick in VanTick.objects.all()} == {fitter}
    expect(van.get_by_text("Left to load")).to_be_visible()


def test_what_is_left_can_be_looked_at_and_counted_with_no_network(van, day):
    until(van, BOTH_ARE_KEPT)
    total = boxes(van).count()
    gauge = van.locator(".gauge__words")
    van.context.set_offline(True)
    boxes(van).nth(0).click()
    expect(gauge).to_have_text(f"1 of {total}")
    left = van.get_by_role("link", name="Left to load")
    expect(left).to_have_text(f"Left to load: {total - 1}")
    left.click()
    van.wait_for_url("**/?left=1")
    expect(gauge).to_have_text(f"1 of {total}")
    boxes(van).nth(1).click()
    boxes(van).nth(0).click()
    expect(gauge).to_have_text(f"1 of {total}")
    expect(van.locator("#messages")).not_to_contain_text("No answer")
    van.context.set_offline(False)
    expect(boxes(van)).to_have_count(total - 1)
    assert len(VanTick.objects.standing(day)) == 1


def test_a_server_that_does_not_answer_is_no_network_either(van, day):
    van.route("**/tick/", lambda route: route.abort())
    boxes(van).first.click()
    expect(van.locator(".ticks__who")).to_have_count(1)
    assert len(VanTick.objects.standing(day)) == 1
    expect(van.locator("#messages")).not_to_contain_text("No answer")


def test_with_a_network_the_server_answers_as_ever(van, day):
    boxes(van).first.click()
    expect(van.locator(".ticks__who")).to_have_count(1)
    assert len(VanTick.objects.standing(day)) == 1


def test_the_list_opens_with_no_network_once_its_day_was_seen(
    open_browser, fitter, day
):
    page = open_browser(fitter)
    page.goto(day.get_absolute_url())
    until(page, BOTH_ARE_KEPT)
    page.context.set_offline(True)
    page.get_by_role("link", name="Van list").first.click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Van list")
