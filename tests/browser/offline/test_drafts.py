"""What is in a box outlives its page before the database has it, and counts once."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from shared.offline.models import Write
from tests.browser.offline.conftest import NOTES, SLOW, WRITES, Line, length_of, until

A, B = "Length of wall A", "Length of wall B"
DRAFTS = "Object.keys(localStorage).filter((name) => name.startsWith('draft')).length"
NO_LENGTH = "This does not read as a length. Write it like 3750, 375 cm or 3.75 m."


@pytest.fixture
def slow(tablet):
    """A tablet whose database answers late."""
    tablet.page.context.add_init_script(SLOW)
    return tablet


def ends(tablet, how):
    """Leave a page at once, by a link or for good."""
    if how == "killed":
        tablet.kill()
    tablet.page.goto(reverse("shared:device"))


@pytest.mark.parametrize("how", ["left", "killed"])
def test_what_was_left_is_kept_when_the_page_goes_at_once(slow, survey, how):
    slow.page.context.route(WRITES, Line(["cut"] * 99))
    slow.walk()
    for name, text in ((A, "5100"), (B, "4100"), (NOTES, "half a sen")):
        slow.box(name).fill(text)
    ends(slow, how)
    waiting = slow.page.locator("[data-device-waiting]")
    expect(waiting.get_by_role("listitem")).to_have_count(3, timeout=15_000)
    for text in ("5100", "4100", "half a sen"):
        expect(waiting).to_contain_text(text)
    slow.page.context.unroute(WRITES)
    slow.send()
    slow.all_sent()
    assert (length_of(survey, "A"), length_of(survey, "B")) == ("5100", "4100")
    assert Write.objects.filter(status="stored").count() == 3
    assert slow.page.evaluate(DRAFTS) == 0


def test_what_was_both_kept_and_put_down_counts_once(tablet, survey):
    tablet.page.context.route(WRITES, Line(["cut"] * 99))
    tablet.walk()
    # The page goes in the moment between: the item is there, and its draft as well.
    tablet.page.evaluate("() => (Storage.prototype.removeItem = () => {})")
    tablet.type(A, "5100")
    tablet.has_kept(1)
    assert tablet.page.evaluate(DRAFTS) == 1
    ends(tablet, "killed")
    until(tablet.page, f"async () => {DRAFTS} === 0")
    assert tablet.kept() == 1
    tablet.page.context.unroute(WRITES)
    tablet.send()
    tablet.all_sent()
    assert Write.objects.count() == 1
    assert length_of(survey) == "5100"


def test_what_is_typed_on_a_page_that_lives_stays_with_it(tablet, survey):
    tablet.walk()
    tablet.box(NOTES).press_sequentially("half a sen")
    other = tablet.page.context.new_page()
    other.goto(reverse("shared:device"))
    expect(other.locator("[data-device-nothing]")).to_be_visible()
    other.wait_for_load_state("networkidle")
    assert not Write.objects.exists()
    tablet.box(NOTES).press_sequentially("tence")
    other.close()
    tablet.box(NOTES).blur()
    expect(tablet.state(NOTES)).to_have_text("Stored")
    assert [write.answer["value"] for write in Write.objects.all()] == [
        "half a sentence"
    ]


@pytest.mark.parametrize("before", ["", "5100"], ids=["none waits", "one waits"])
def test_what_is_typed_while_the_database_opens_is_not_written_over(
    slow, survey, before
):
    slow.page.context.route(WRITES, Line(["cut"] * 99))
    slow.walk()
    if before:
        slow.type(A, before)
        slow.has_kept(1)
    slow.walk()
    slow.box(A).fill("")
    slow.box(A).press_sequentially("5200")
    if before:
        expect(slow.bar()).to_contain_text("1 to send", timeout=15_000)
    else:
        for _ in range(2):  # asked later than the page asked, and answered later
            slow.has_kept(0)
    expect(slow.box(A)).to_have_value("5200")
    slow.box(A).blur()
    slow.has_kept(2 if before else 1)
    slow.page.context.unroute(WRITES)
    slow.send()
    slow.all_sent()
    values = [w.answer["value"] for w in Write.objects.order_by("answer__version")]
    assert values == [before, "5200"][not before :]
    expect(slow.box(A)).to_have_value("5200")


class TestNoLength:
    """What reads as no length is for the person, and not for the shop's server."""

    def test_it_is_told_at_once_and_not_sent(self, tablet, survey):
        tablet.walk()
        tablet.type(A, "bananas")
        expect(tablet.echo(A)).to_contain_text(NO_LENGTH)
        expect(tablet.state(A)).to_contain_text("until it reads as a length")
        tablet.type(B, "4100")
        expect(tablet.state(B)).to_have_text("Stored")
        assert tablet.kept() == 0
        assert Write.objects.count() == 1

    def test_it_is_still_there_when_the_page_is_opened_again(self, tablet, survey):
        tablet.walk()
        tablet.type(A, "bananas")
        tablet.kill()
        tablet.page.goto(reverse("shared:device"))
        expect(tablet.page.locator("[data-device-nothing]")).to_be_visible()
        for _ in range(2):
            tablet.walk()
            expect(tablet.box(A)).to_have_value("bananas")
            expect(tablet.echo(A)).to_contain_text(NO_LENGTH)
        tablet.type(A, "5100")
        expect(tablet.state(A)).to_have_text(re.compile("^Stored$"))
        assert tablet.page.evaluate(DRAFTS) == 0
        assert length_of(survey) == "5100"
        tablet.walk()
        expect(tablet.box(A)).to_have_value("5100")
