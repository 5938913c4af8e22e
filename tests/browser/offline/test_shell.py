"""The shell opens with no network, knows nobody, and follows a new version."""

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from shared.length import TICKS_PER_MM
from shared.offline import worker
from tests.browser.conftest import overflows
from tests.browser.offline.conftest import length_of, until

A = "Length of wall A"
ONLY_THE_NEXT_FILES = """async () => {
  const files = (await caches.keys()).filter((name) => name.startsWith("files-"));
  return files.join() === "files-the-next-one";
}"""


def test_a_page_that_is_not_kept_shows_what_is(tablet, survey):
    tablet.walk_offline_able()
    tablet.cut()
    tablet.type(A, "5100")
    tablet.page.goto(reverse("shop:rooms"))
    page = tablet.page
    expect(page.get_by_role("heading", level=1)).to_have_text("Kept on this device")
    expect(page.locator("[data-device-waiting]")).to_contain_text("5100")
    expect(tablet.bar()).to_contain_text("1 to send")
    page.get_by_role("link", name="Walk round Front room", exact=True).click()
    expect(tablet.box(A)).to_have_value("5100")
    tablet.join()
    tablet.all_sent()
    assert length_of(survey) == "5100"


def test_the_shell_looks_as_it_should_with_no_network(tablet):
    tablet.walk_offline_able()
    tablet.cut()
    tablet.page.goto(reverse("shop:rooms"))
    page = tablet.page
    assert page.evaluate("getComputedStyle(document.body).fontFamily").startswith(
        '"Atkinson'
    )
    assert page.evaluate(
        "() => document.fonts.load('16px \"Atkinson Hyperlegible Next\"').then((f) => f.length)"
    )
    assert not overflows(page)
    assert page.locator(".rail").count() == 0


def test_a_new_version_fetches_kept_pages_anew_and_sends_what_waits(
    tablet, survey, monkeypatch
):
    tablet.walk_offline_able()
    tablet.cut()
    tablet.type(A, "5100")
    tablet.kill()
    new = {"length_text": "4044", "length_ticks": 4044 * TICKS_PER_MM}
    survey.walls.filter(name="B").update(**new)
    monkeypatch.setattr(worker, "_version", lambda paths: "the-next-one")
    tablet.join()
    tablet.page.goto(reverse("shop:rooms"))
    tablet.all_sent()
    assert length_of(survey) == "5100"
    # The browser looks for a new worker when a page is opened.
    until(tablet.page, ONLY_THE_NEXT_FILES)
    tablet.cut()
    tablet.walk()
    expect(tablet.box(A)).to_have_value("5100")
    expect(tablet.box("Length of wall B")).to_have_value("4044")


@pytest.mark.parametrize("promised", [True, False])
def test_it_is_said_when_the_browser_does_not_promise_to_keep(tablet, promised):
    answer = "true" if promised else "false"
    tablet.page.add_init_script(
        f"StorageManager.prototype.persisted = async () => false;"
        f"StorageManager.prototype.persist = async () => {answer};"
    )
    tablet.walk()
    said = tablet.page.get_by_text("This browser does not promise to keep")
    (expect(said).to_be_hidden if promised else expect(said).to_be_visible)()
