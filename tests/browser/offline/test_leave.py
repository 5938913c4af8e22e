"""What to read before leaving is told on the device, with no network; then by the server."""

import io
import re

import pytest
from django.urls import reverse
from PIL import Image
from playwright.sync_api import expect

from shop.people.models import ShopProfile
from tests.browser.offline.conftest import PAGE_IS_KEPT, Tablet, until

LOW = "Door in A is only 1400 mm high. Is that a door one walks through?"


@pytest.fixture
def away(open_browser, owner, survey):
    """The owner's tablet where surveys begin, out of reach of the shop."""
    ShopProfile.objects.update(ballpark_per_m2_from=35, ballpark_per_m2_to=60)
    tablet = Tablet(open_browser(owner), survey, lambda page: page)
    tablet.path = reverse("shop:survey-begin")
    tablet.walk_offline_able()
    tablet.cut()
    return tablet


def type_here(page, *texts):
    for text in texts:
        page.keyboard.type(text)
        page.keyboard.press("Enter")


def picture():
    written = io.BytesIO()
    Image.new("RGB", (60, 40)).save(written, "PNG")
    return {"name": "a.png", "mimeType": "image/png", "buffer": written.getvalue()}


def sentences(page):
    """Return all that stands in the lists."""
    return page.locator(
        "#leave li:not(.drawing li), #leave .caution p"
    ).all_inner_texts()


def test_the_device_says_before_leaving_what_the_server_will_say(away):
    page, leave = away.page, away.page.locator("#leave")
    page.get_by_role("button", name="New client").first.click()
    expect(leave).to_contain_text("Wall B: length not read yet.")
    expect(leave.locator("svg:not(.icon)")).to_have_count(0)
    page.get_by_label("Ceiling height", exact=True).fill("2500")
    page.get_by_label("Length of wall A").fill("5000")
    page.get_by_label("Length of wall B").fill("4 m")
    expect(leave.locator("text")).to_have_text(["A", "B", "C", "D"])
    expect(leave).to_contain_text("Roughly EUR 700 to 1,200")
    page.get_by_role("button", name="Door in wall A").click()
    type_here(page, "800", "850", "1400")
    expect(leave).to_contain_text(LOW)
    expect(leave).not_to_contain_text("The width and the height of door in A.")
    page.get_by_label("Height of the new opening").fill("2040")
    expect(leave).not_to_contain_text(LOW)
    page.get_by_label("Height of the new opening").fill("1400")
    expect(leave).to_contain_text("A photo: nobody remembers")
    page.locator("#photos input").set_input_files(picture())
    expect(leave).not_to_contain_text("A photo: nobody remembers")
    page.get_by_role("heading", name="Before you leave").click()
    said = sentences(page)
    assert LOW in said
    away.join()
    expect(page).to_have_url(re.compile("/walk/$"))
    away.all_sent()
    page.locator("#before").scroll_into_view_if_needed()
    expect(leave.locator(".drawing__words")).to_have_count(1)  # the server's own
    expect(leave).to_contain_text("Roughly EUR 700 to 1,200")
    assert sentences(page) == said


def test_the_servers_word_stands_again_once_all_is_sent(tablet, survey):
    tablet.walk()
    until(tablet.page, PAGE_IS_KEPT.replace("navigator.serviceWorker.controller", "1"))
    leave = tablet.page.locator("#leave")
    tablet.cut()
    tablet.type("Length of wall A", "5050")
    expect(leave).to_have_attribute("data-live", "")
    expect(leave).to_contain_text("The walls don’t close: the walk ends 50 mm")
    tablet.page.locator("#before").scroll_into_view_if_needed()
    tablet.join()
    tablet.send()
    expect(leave).not_to_have_attribute("data-live", "")
    expect(leave).to_contain_text("The walls don’t close: the walk ends 50 mm")
