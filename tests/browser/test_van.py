"""The van list on a tablet: ticked by tap and by keys, and without any script."""

import pytest
from django.urls import reverse

from jobs.visits.models import VanTick
from tests.browser.conftest import PHONE, TABLET_UPRIGHT
from tests.factories.people import make_person, make_profile
from tests.factories.visits import make_day

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def fitter():
    make_profile()
    return make_person(username="finn", first_name="Finn", role="fitter")


@pytest.fixture
def url(fitter):
    day = make_day(by=fitter)
    return reverse("jobs:van-list", args=(day.pk,))


def box(page, name):
    return page.get_by_role("checkbox", name=name)


def test_a_tap_ticks_in_place_and_the_next_one_takes_it_back(open_browser, fitter, url):
    page = open_browser(fitter, viewport=TABLET_UPRIGHT)
    page.goto(url)
    here = page.url
    box(page, "Line laser").tap()
    page.get_by_text("Finn, ").wait_for()
    assert box(page, "Line laser").is_checked()
    assert page.locator("#van-list progress").get_attribute("value") == "1"
    box(page, "Line laser").tap()
    page.get_by_text("Finn, ").wait_for(state="detached")
    assert not box(page, "Line laser").is_checked()
    assert page.url == here
    assert VanTick.objects.count() == 2


def test_keys_tick_and_stay_on_the_line(open_browser, fitter, url):
    page = open_browser(fitter)
    page.goto(url)
    box(page, "Masking tape").focus()
    page.keyboard.press("Space")
    page.get_by_text("Finn, ").wait_for()
    focused = page.evaluate("document.activeElement.id")
    assert focused == box(page, "Masking tape").get_attribute("id")


def test_what_is_left_is_an_address_of_its_own(open_browser, fitter, url):
    page = open_browser(fitter, viewport=PHONE)
    page.goto(url)
    box(page, "Line laser").tap()
    page.get_by_text("Finn, ").wait_for()
    page.get_by_role("link", name="Left to load").tap()
    page.wait_for_url("**?left=1")
    box(page, "Line laser").wait_for(state="detached")
    page.reload()
    assert box(page, "Masking tape").is_visible()
    assert not box(page, "Line laser").count()


def test_it_works_without_any_script(open_browser, fitter, url):
    page = open_browser(fitter, java_script_enabled=False)
    page.goto(url)
    box(page, "Line laser").click()
    page.get_by_text("Finn, ").wait_for()
    assert box(page, "Line laser").is_checked()
    assert VanTick.objects.get().key == "tool:laser"


def test_on_a_phone_who_ticked_it_leaves_the_name_its_room(open_browser, fitter, url):
    page = open_browser(fitter, viewport=PHONE)
    page.goto(url)
    row = page.locator("li", has=box(page, "Line laser"))
    before = row.locator(".ticks__name").bounding_box()
    box(page, "Line laser").tap()
    who = row.get_by_text("Finn, ")
    who.wait_for()
    name = row.locator(".ticks__name").bounding_box()
    assert name["width"] == before["width"]
    assert who.bounding_box()["y"] >= name["y"] + name["height"]


def test_on_a_phone_a_fitter_finds_the_van_in_the_bar(open_browser, fitter, url):
    page = open_browser(fitter, viewport=PHONE)
    page.goto(reverse("jobs:next-up"))
    page.get_by_role("navigation").get_by_role("link", name="Van").tap()
    page.wait_for_url("**" + reverse("jobs:site-days"))
