"""One page of each kind, at three sizes and in both lights: anybody can use it."""

import pytest
from django.contrib.auth import get_user_model
from django.urls import resolve, reverse
from django.utils import timezone

from jobs.demo.loading import load
from tests.browser.barriers import barriers, faint
from tests.browser.conftest import PHONE, TABLET, TABLET_UPRIGHT, overflows
from tests.crawl import Visitor, unprinted

DESKTOP = {"width": 1440, "height": 900}
SIZES = {"tablet": TABLET_UPRIGHT, "phone": PHONE, "desktop": DESKTOP}


def one_of_each_kind(browser) -> list[str]:
    """Return the path of one page for each address pattern that links lead to."""
    pages: dict[str, str] = {}
    with unprinted():
        answers = Visitor(browser).follow_links(most=2)
    for answer in answers:
        if answer.kind == "text/html" and answer.status == 200:
            path = answer.path.split("?")[0]
            pages.setdefault(resolve(path).route, path)
    return list(pages.values())


@pytest.fixture
def ada(transactional_db):
    load(timezone.now())
    return get_user_model().objects.get(username="ada")


def wrong_with(page) -> list[str]:
    found = ["scrolls sideways"] if overflows(page) else []
    found += ["has not one heading"] if page.locator("h1").count() != 1 else []
    found += barriers(page)
    page.emulate_media(color_scheme="dark")
    found += [f"in the dark: {what}" for what in faint(page)]
    page.emulate_media(color_scheme="light")
    return found


def wrong_at_any_size(page) -> dict[str, list[str]]:
    found = {}
    for name, size in SIZES.items():
        page.set_viewport_size(size)
        found[name] = wrong_with(page)
    return {name: what for name, what in found.items() if what}


# In two halves, so that two processes share the work.
@pytest.mark.long
@pytest.mark.parametrize("half", [0, 1])
def test_every_kind_of_page_can_be_used_by_anybody(open_browser, ada, client_as, half):
    paths = one_of_each_kind(client_as(ada, raise_request_exception=False))
    assert len(paths) > 30
    page = open_browser(ada, viewport=TABLET_UPRIGHT, color_scheme="light")
    wrong = {}
    for path in paths[half::2]:
        page.goto(path)
        if found := wrong_at_any_size(page):
            wrong[path] = found
    assert wrong == {}


LYING = ("jobs:bench", "quotes:quote", "jobs:van-list", "shop:survey", "jobs:next-up")
"""Pages that are worked on with the tablet laid across."""


def test_pages_of_the_work_can_be_used_on_a_tablet_lying(open_browser, ada, client_as):
    paths = one_of_each_kind(client_as(ada, raise_request_exception=False))
    by_name = {resolve(path).view_name: path for path in paths}
    page = open_browser(ada, viewport=TABLET, color_scheme="light")
    wrong = {}
    for name in LYING:
        page.goto(by_name[name])
        if found := wrong_with(page):
            wrong[name] = found
    assert wrong == {}


@pytest.mark.parametrize("name", ["shop:client-new", "shop:person-new", "shop:sign-in"])
def test_a_refused_form_can_be_used_by_anybody(open_browser, owner, shop, name):
    page = open_browser(None if name == "shop:sign-in" else owner, color_scheme="light")
    page.goto(reverse(name))
    page.locator("#main form").first.evaluate("form => form.noValidate = true")
    with page.expect_response(lambda answer: answer.request.method == "POST"):
        page.locator("#main form button").first.tap()
    page.locator("#main [aria-invalid]").first.wait_for()
    assert wrong_at_any_size(page) == {}


def test_what_keeps_people_out_is_noticed(open_browser, owner, shop):
    page = open_browser(owner, viewport=PHONE, color_scheme="light")
    page.goto(reverse("shared:patterns"))
    page.evaluate(
        """document.querySelector('#main').insertAdjacentHTML('beforeend',
        '<img src="/static/shared/icons/mark.svg"><h1>Two</h1><pre>' + 'w'.repeat(900))"""
    )
    found = wrong_with(page)
    assert "scrolls sideways" in found
    assert "has not one heading" in found
    assert any(what.startswith("image-alt") for what in found)
