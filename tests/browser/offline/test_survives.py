"""What is kept outlives the browser, and what can't be kept is told."""

import shutil

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from shared.offline.models import Write
from tests.browser.conftest import CHROMIUM, session_cookie
from tests.browser.offline.conftest import NOTES, length_of, until

A, B = "Length of wall A", "Length of wall B"
CUT = ["--host-resolver-rules=MAP * ~NOTFOUND"]
NO_ROOM = """
IDBObjectStore.prototype.add = () => {
  throw new DOMException("There is no room left.", "QuotaExceededError");
};
"""
SHOWN_AS_IT_WAS = """
() => window.dispatchEvent(new PageTransitionEvent("pageshow", { persisted: true }))
"""
WATCH_CHANGES = """
self.changes = [];
const { transaction } = IDBDatabase.prototype;
IDBDatabase.prototype.transaction = function (stores, mode, options) {
  if (mode === "readwrite") self.changes.push(options?.durability);
  return transaction.call(this, stores, mode, options);
};
"""


@pytest.fixture
def switch_on(chromium, live_server, fitter, tmp_path, tablet):
    """Return a function that starts the tablet's browser; what it kept is still there."""
    contexts = []
    path = next(filter(None, map(shutil.which, CHROMIUM)))

    def on(*, network):
        if contexts:
            contexts.pop().close()
        context = chromium.browser_type.launch_persistent_context(
            str(tmp_path / "device"),
            executable_path=path,
            args=["--no-sandbox", "--disable-dev-shm-usage", *([] if network else CUT)],
            base_url=live_server.url,
        )
        contexts.append(context)
        context.add_cookies([session_cookie(fitter, live_server.url)])
        tablet.page = tablet.open_page(context.pages[0])

    yield on
    contexts.pop().close()


def test_a_device_that_is_switched_off_and_on_again(tablet, survey, switch_on):
    switch_on(network=True)
    tablet.walk_offline_able()
    tablet.cut()
    tablet.type(A, "5100")
    tablet.has_kept(1)
    tablet.box(NOTES).press_sequentially("half a sen")
    switch_on(network=False)
    tablet.walk()
    expect(tablet.box(A)).to_have_value("5100")
    expect(tablet.box(NOTES)).to_have_value("half a sen")
    tablet.has_kept(2)
    tablet.page.goto(reverse("shop:rooms"))
    expect(tablet.page.locator("[data-device-waiting]")).to_contain_text("5100")
    switch_on(network=True)
    tablet.walk()
    tablet.all_sent()
    assert length_of(survey) == "5100"
    assert Write.objects.filter(status="stored").count() == 2


def test_each_change_is_written_through_to_the_disk(tablet):
    tablet.page.add_init_script(WATCH_CHANGES)
    tablet.walk()
    tablet.type(A, "5100")
    expect(tablet.state(A)).to_have_text("Stored")
    assert set(tablet.page.evaluate("self.changes")) == {"strict"}


def test_what_the_device_has_no_room_for_is_told_and_tried_again(tablet, survey):
    tablet.page.add_init_script(f"if (!self.name) {{ {NO_ROOM} }}")
    tablet.walk()
    tablet.type(A, "5100")
    expect(tablet.state(A)).to_contain_text("This device can’t keep it. Write it down")
    expect(tablet.page.locator("#messages")).to_contain_text(A)
    assert not Write.objects.exists()
    expect(tablet.box(A)).to_have_value("5100")
    # There is room again when the page is opened the next time.
    tablet.page.evaluate("() => (self.name = 'room')")
    tablet.walk()
    expect(tablet.state(A)).to_have_text("Stored")
    assert length_of(survey) == "5100"
    assert Write.objects.count() == 1


def test_a_page_gone_back_to_knows_what_was_taken_up(tablet, survey):
    tablet.walk()
    tablet.box(A).fill("5100")
    tablet.page.goto(reverse("shared:device"))
    until(tablet.page, "async () => localStorage.length <= 1")
    tablet.all_sent()
    tablet.page.go_back()
    expect(tablet.box(A)).to_have_value("5100")
    tablet.type(B, "4100")
    expect(tablet.state(B)).to_have_text("Stored")
    assert [w.answer["value"] for w in Write.objects.order_by("at")] == ["5100", "4100"]
    # A browser may show a page as it was left; then it is fetched anew.
    with tablet.page.expect_navigation():
        tablet.page.evaluate(SHOWN_AS_IT_WAS)
