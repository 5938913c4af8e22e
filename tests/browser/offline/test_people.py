"""Two people on one device: neither sees what is the other's, and nothing is lost."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from shared.offline.models import Write
from tests.browser.conftest import session_cookie
from tests.browser.offline.conftest import NOTES, length_of, until

A = "Length of wall A"
PAGES = """async () => {
  const names = (await caches.keys()).filter((name) => name.startsWith("pages-"));
  return names.map((name) => name.slice(6));
}"""


@pytest.fixture
def hand_over(tablet, live_server):
    """Return a function that signs somebody else in on the tablet."""

    def handed(person):
        tablet.page.context.clear_cookies(name="sessionid")
        if person is not None:
            cookie = session_cookie(person, live_server.url)
            tablet.page.context.add_cookies([cookie])

    return handed


def test_the_others_queue_is_kept_but_hidden(tablet, survey, fitter, owner, hand_over):
    tablet.walk()
    tablet.page.context.clear_cookies(name="sessionid")
    tablet.type(A, "5100")
    expect(tablet.bar()).to_contain_text("Sign in to send it.")
    hand_over(owner)
    tablet.walk()
    expect(tablet.box(A)).to_have_value("5000")
    expect(tablet.bar()).to_be_hidden()
    tablet.page.goto(reverse("shared:device"))
    expect(tablet.page.locator("[data-device-nothing]")).to_be_visible()
    assert tablet.page.get_by_role("button", name="Save to a file").is_disabled()
    tablet.walk()
    tablet.type(A, "5050")
    expect(tablet.state(A)).to_have_text("Stored")
    assert tablet.kept() == 1
    hand_over(fitter)
    tablet.walk()
    expect(tablet.state(A)).to_contain_text("changed elsewhere meanwhile")
    assert length_of(survey) == "5050"


def test_what_was_not_left_yet_is_nobody_elses_either(
    tablet, survey, fitter, owner, hand_over
):
    tablet.walk()
    tablet.box(NOTES).press_sequentially("half a sen")
    hand_over(owner)
    tablet.page.goto("about:blank")
    tablet.walk()
    expect(tablet.box(NOTES)).to_have_value("")
    tablet.type("Length of wall B", "4100")
    expect(tablet.state("Length of wall B")).to_have_text("Stored")
    assert Write.objects.get().person == owner
    hand_over(fitter)
    tablet.page.goto(reverse("shared:device"))
    until(tablet.page, "async () => localStorage.length <= 1")
    tablet.all_sent()
    assert [write.person for write in Write.objects.order_by("at")] == [owner, fitter]


def test_a_page_left_open_does_not_send_in_the_others_name(
    tablet, survey, fitter, owner, hand_over
):
    tablet.walk()
    hand_over(owner)
    tablet.type(A, "5100")
    expect(tablet.bar()).to_contain_text("Somebody else is signed in now")
    assert not Write.objects.exists()
    hand_over(fitter)
    tablet.send()
    tablet.all_sent()
    assert Write.objects.get().person == fitter


def test_pages_of_the_one_go_when_the_other_signs_in(tablet, fitter, owner, hand_over):
    tablet.walk_offline_able()
    assert tablet.page.evaluate(PAGES) == [str(fitter.pk)]
    hand_over(owner)
    tablet.page.goto(reverse("shop:rooms"))
    until(tablet.page, f"async () => !(await ({PAGES})()).includes('{fitter.pk}')")
    tablet.cut()
    tablet.walk()
    expect(tablet.page.get_by_role("heading", level=1)).to_have_text(
        "Kept on this device"
    )


def test_pages_go_at_sign_out(tablet, hand_over):
    tablet.walk_offline_able()
    tablet.page.get_by_role("button", name="More").click()
    tablet.page.get_by_role("button", name="Sign out").click()
    expect(tablet.page.get_by_role("heading", name="Sign in")).to_be_visible()
    tablet.page.wait_for_load_state("networkidle")
    assert tablet.page.evaluate(PAGES) == []
    tablet.cut()
    tablet.walk()
    expect(tablet.page.get_by_role("heading", level=1)).to_have_text(
        "Kept on this device"
    )
    assert tablet.page.locator(".rail").count() == 0
