"""The small behaviours of every page: light, messages, choosing plates, progress."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from tests.browser.conftest import PHONE, TABLET_UPRIGHT


@pytest.fixture
def patterns(open_browser, maker, shop):
    page = open_browser(maker, color_scheme="light")
    page.goto(reverse("shared:patterns"))
    return page


def ground(page):
    return page.evaluate("getComputedStyle(document.body).backgroundColor")


def test_the_light_is_chosen_and_kept_on_the_device(patterns):
    bright = ground(patterns)
    patterns.get_by_role("button", name="More").click()
    dark = patterns.get_by_role("button", name="Dark")
    dark.click()
    expect(dark).to_have_attribute("aria-pressed", "true")
    dim = ground(patterns)
    assert dim != bright
    patterns.reload()
    assert ground(patterns) == dim
    patterns.get_by_role("button", name="More").click()
    patterns.get_by_role("button", name="As the device is set").click()
    assert ground(patterns) == bright


def test_the_move_bar_stands_while_plates_are_chosen_and_counts_them(patterns):
    bar = patterns.get_by_role("group", name="Move what is chosen")
    expect(bar).to_be_hidden()
    patterns.locator(".plate").filter(has_text="KF-15").click()
    expect(bar).to_contain_text("1 panel chosen")
    patterns.get_by_role("button", name="Choose all that are upholstered").click()
    expect(bar).to_contain_text("5 panels chosen")
    patterns.get_by_role("button", name="Choose none").click()
    expect(bar).to_be_hidden()


def test_plates_are_chosen_by_key(patterns):
    box = patterns.get_by_label("KF-16")
    box.focus()
    patterns.keyboard.press("Space")
    expect(box).to_be_checked()
    bar = patterns.get_by_role("group", name="Move what is chosen")
    expect(bar).to_contain_text("1 panel chosen")


@pytest.mark.parametrize("viewport", [PHONE, TABLET_UPRIGHT], ids=["phone", "tablet"])
def test_the_move_bar_is_in_sight_and_clear_of_the_rail(
    open_browser, maker, shop, viewport
):
    page = open_browser(maker, viewport=viewport)
    page.goto(reverse("shared:patterns"))
    page.locator(".plate").first.click()
    bar = page.get_by_role("group", name="Move what is chosen").bounding_box()
    rail = page.get_by_role("navigation", name="The work").bounding_box()
    assert bar["y"] > 0
    assert bar["y"] + bar["height"] <= rail["y"]


def test_a_message_is_put_away(patterns):
    message = patterns.locator(".message", has_text="Quote 2030-014 A was sent.")
    message.get_by_role("button", name="Put this message away").click()
    expect(message).to_have_count(0)


def test_workings_open_level_by_level(patterns):
    sums = patterns.get_by_text("4 joints × 4.5 min × 48.00 an hour")
    expect(sums).to_be_hidden()
    for label in ("Wall panel 600", "Labour", "Frame joints"):
        patterns.locator("summary", has_text=label).click()
    expect(sums).to_be_visible()


def test_a_dialog_opens_and_closes_by_key(patterns):
    patterns.get_by_role("button", name="A dialog").click()
    dialog = patterns.get_by_role("dialog", name="Void this quote?")
    expect(dialog).to_be_visible()
    patterns.keyboard.press("Escape")
    expect(dialog).to_be_hidden()


def test_a_slow_page_shows_that_it_works(patterns):
    progress = patterns.locator("#progress")
    expect(progress).to_be_hidden()
    # An answer of 204 leaves the page where it is, as one that is long in coming does.
    patterns.route("**/accounts/**", lambda route: route.fulfill(status=204))
    patterns.evaluate(
        "document.querySelector('main').insertAdjacentHTML('afterbegin',"
        " '<a href=\"/accounts/login/\">slow</a>')"
    )
    patterns.get_by_role("link", name="slow").click()
    expect(progress).to_be_visible()
    expect(progress).to_contain_text("Working")


def test_a_form_is_sent_once_however_often_it_is_pressed(patterns):
    sent = []

    def answer(route):
        sent.append(route.request.method)
        route.fulfill(status=204)

    patterns.route("**/accounts/**", answer)
    patterns.evaluate(
        "document.querySelector('main').insertAdjacentHTML('afterbegin',"
        ' \'<form method="post" action="/accounts/login/"><button>Go</button></form>\')'
    )
    button = patterns.get_by_role("button", name="Go", exact=True)
    button.click()
    button.click()
    expect(patterns.locator("#progress")).to_be_visible()
    assert sent == ["POST"]


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        ({"status": 500}, "That did not go through"),
        ({"status": 403}, "That isn’t yours to do"),
        ({"status": 404}, "no longer there"),
        (None, "No answer from the shop’s server"),
    ],
)
def test_what_went_wrong_on_the_way_is_said(patterns, troubles, answer, words):
    patterns.route(
        "**/accounts/**",
        lambda route: route.fulfill(**answer) if answer else route.abort(),
    )
    patterns.evaluate(
        "document.querySelector('main').insertAdjacentHTML('afterbegin',"
        " '<button hx-get=\"/accounts/login/\">Ask</button>');"
        "htmx.process(document.querySelector('main'))"
    )
    patterns.get_by_role("button", name="Ask", exact=True).click()
    expect(patterns.locator("#messages")).to_contain_text(words)
    # The browser reports such an answer too, and htmx passes that on.
    troubles.found.clear()
