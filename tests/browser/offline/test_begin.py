"""The page on which surveys begin, and the walk, on a device with no network."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from shared.offline.models import Write
from shop.surveys.models import Opening, Survey
from tests.browser.offline.conftest import PAGE_IS_KEPT, length_of, until

LENGTHS = '[data-offline-lane^="wall:"][data-offline-field="length"]'
WALK = re.compile(r"/surveys/[0-9a-f-]{36}/walk/$")


@pytest.fixture
def away(tablet, survey):
    """The tablet where surveys begin, out of reach of the shop."""
    tablet.path = reverse("shop:survey-begin")
    tablet.walk_offline_able()
    tablet.cut()
    return tablet


def test_a_survey_begun_and_measured_with_no_network_arrives_whole(away, survey):
    away.page.get_by_role("button", name="New client").first.click()
    lengths = away.page.locator(LENGTHS)
    expect(lengths).to_have_count(4)
    for place, text in enumerate(("5100", "4100", "5100", "4100")):
        lengths.nth(place).fill(text)
    away.page.get_by_role("button", name="Window in wall A").click()
    away.page.keyboard.type("800")
    away.page.keyboard.press("Tab")
    away.has_kept(7)
    away.kill()
    away.page.goto(reverse("shared:device"))
    away.page.get_by_role("link", name="New client").first.click()
    expect(lengths_of(away).nth(1)).to_have_value("4100")
    away.join()
    away.page.wait_for_url(WALK)
    away.all_sent()
    made = Survey.objects.exclude(pk=survey.pk).get()
    assert [length_of(made, name) for name in "ABCD"] == ["5100", "4100"] * 2
    assert Opening.objects.get().wall.survey == made
    assert not Write.objects.exclude(status="stored").exists()


def lengths_of(tablet):
    """Return the lengths of the walls."""
    return tablet.page.locator(LENGTHS)


def test_any_page_that_leads_there_keeps_it(tablet):
    tablet.page.goto(reverse("shop:rooms"))
    until(
        tablet.page,
        "async () => (await caches.keys()).some((name) => name.startsWith('pages-'))",
    )
    tablet.page.reload()
    until(tablet.page, PAGE_IS_KEPT)
    tablet.cut()
    tablet.page.get_by_role("link", name="New survey").first.click()
    expect(tablet.page.get_by_role("button", name="New client").first).to_be_visible()
