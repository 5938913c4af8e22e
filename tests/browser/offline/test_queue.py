"""What is typed on a tablet arrives once, in order, whatever happens on the way."""

import json

import pytest
from playwright.sync_api import expect

from shared.offline.models import FieldVersion, Write
from tests.browser.conftest import session_cookie
from tests.browser.offline.conftest import NOTES, WRITES, Line, length_of

A, B = "Length of wall A", "Length of wall B"


def test_a_field_saves_itself(tablet, survey):
    tablet.walk()
    tablet.type(A, "5100")
    expect(tablet.state(A)).to_have_text("Stored")
    assert length_of(survey) == "5100"
    expect(tablet.bar()).to_be_hidden()


def test_edits_without_a_network_wait_and_are_sent_in_order(tablet, survey):
    tablet.walk_offline_able()
    tablet.cut()
    for text in ("5100", "5200", "5300"):
        tablet.type(A, text)
    tablet.type(NOTES, "damp in the corner")
    expect(tablet.state(A)).to_have_text("On this device, not sent yet")
    expect(tablet.bar()).to_contain_text("On this device, 4 to send.")
    tablet.join()
    tablet.all_sent()
    expect(tablet.bar()).to_have_text("All is sent.")
    assert length_of(survey) == "5300"
    values = [w.answer["value"] for w in Write.objects.order_by("answer__version")]
    assert values == ["5100", "damp in the corner", "5200", "5300"]
    survey.refresh_from_db()
    assert survey.notes == "damp in the corner"


def test_a_killed_page_opens_again_without_a_network_with_all_that_was_typed(
    tablet, survey
):
    tablet.walk_offline_able()
    tablet.cut()
    tablet.type(A, "5100")
    tablet.type(NOTES, "damp")
    tablet.kill()
    tablet.walk()
    expect(tablet.box(A)).to_have_value("5100")
    expect(tablet.box(NOTES)).to_have_value("damp")
    expect(tablet.bar()).to_contain_text("2 to send")
    tablet.join()
    tablet.all_sent()
    assert length_of(survey) == "5100"


def test_what_was_being_typed_when_the_page_was_killed_is_not_lost(tablet, survey):
    # A page that is killed is not told before, as one is that is closed.
    tablet.page.add_init_script(
        "for (const told of ['visibilitychange', 'focusout', 'change'])"
        " window.addEventListener(told, (event) => event.stopImmediatePropagation(), true)"
    )
    tablet.walk()
    tablet.box(NOTES).press_sequentially("half a sen")
    tablet.kill()
    tablet.walk()
    expect(tablet.box(NOTES)).to_have_value("half a sen")
    expect(tablet.state(NOTES)).to_have_text("Stored")
    survey.refresh_from_db()
    assert survey.notes == "half a sen"


def test_an_answer_that_was_lost_doubles_nothing(tablet, survey):
    line = Line(["answer lost"])
    tablet.page.route(WRITES, line)
    tablet.walk()
    tablet.type(A, "5100")
    expect(tablet.bar()).to_contain_text("1 to send")
    expect(tablet.bar()).to_contain_text("No way through")
    assert length_of(survey) == "5100"
    tablet.send()
    tablet.all_sent()
    assert Write.objects.count() == 1
    assert FieldVersion.objects.get().version == 1
    first, second = (json.loads(body)["items"] for body in line.bodies)
    assert first == second


def test_the_next_edit_after_a_lost_answer_is_no_conflict(tablet, survey):
    line = Line(["answer lost"])
    tablet.page.route(WRITES, line)
    tablet.walk()
    tablet.type(A, "5100")
    expect(tablet.bar()).to_contain_text("No way through")
    tablet.type(A, "5200")
    tablet.send()
    tablet.all_sent()
    assert length_of(survey) == "5200"
    assert not Write.objects.exclude(status="stored").exists()


def test_a_fault_of_the_server_is_tried_again_and_other_lanes_go_on(tablet, survey):
    tablet.walk_offline_able()
    tablet.cut()
    tablet.type(A, "5100")
    tablet.type(B, "4100")
    tablet.page.route(WRITES, Line(["fault"]))
    tablet.join()
    expect(tablet.bar()).to_contain_text("1 to send. The shop’s server had trouble")
    assert (length_of(survey, "A"), length_of(survey, "B")) == ("5000", "4100")
    # By itself, after a pause.
    tablet.all_sent()
    assert length_of(survey, "A") == "5100"


def test_a_page_that_looks_like_success_is_none(tablet, survey):
    tablet.page.route(WRITES, Line(["portal"]))
    tablet.walk()
    tablet.type(A, "5100")
    expect(tablet.bar()).to_contain_text("1 to send")
    assert length_of(survey) == "5000"
    tablet.send()
    tablet.all_sent()
    assert length_of(survey) == "5100"


def test_an_answer_without_the_key_is_no_answer(tablet, survey):
    other = '{"answers": [{"key": "somebody-else", "status": "stored"}]}'
    tablet.page.route(
        WRITES, lambda route: route.fulfill(body=other, content_type="application/json")
    )
    tablet.walk()
    tablet.type(A, "5100")
    expect(tablet.bar()).to_contain_text("1 to send")
    assert tablet.kept() == 1


def test_a_token_that_ran_out_is_fetched_anew(tablet, survey):
    tablet.walk()
    tablet.page.evaluate(
        "document.body.setAttribute('hx-headers', '{\"X-CSRFToken\": \"old\"}')"
    )
    tablet.type(A, "5100")
    expect(tablet.state(A)).to_have_text("Stored")
    assert length_of(survey) == "5100"


def test_signed_out_keeps_and_signed_in_goes_on(tablet, survey, fitter, live_server):
    tablet.walk()
    tablet.page.context.clear_cookies(name="sessionid")
    tablet.type(A, "5100")
    expect(tablet.bar()).to_contain_text("Sign in to send it.")
    assert tablet.kept() == 1
    assert length_of(survey) == "5000"
    tablet.page.get_by_role("link", name="Sign in").click()
    expect(tablet.page.get_by_role("heading", name="Sign in")).to_be_visible()
    assert tablet.kept() == 1
    tablet.page.context.add_cookies([session_cookie(fitter, live_server.url)])
    tablet.walk()
    tablet.all_sent()
    assert length_of(survey) == "5100"


@pytest.mark.parametrize("days", [-1, 1])
def test_a_clock_that_is_wrong_by_a_day_changes_no_order(tablet, survey, days):
    tablet.page.clock.install(time="2026-03-02T09:00:00")
    tablet.walk()
    tablet.cut()
    tablet.type(A, "5100")
    tablet.page.clock.set_system_time(f"2026-03-0{2 + days}T10:00:00")
    tablet.type(A, "5200")
    tablet.join()
    tablet.page.clock.run_for(60_000)
    tablet.all_sent()
    assert length_of(survey) == "5200"
    assert Write.objects.filter(status="stored").count() == 2
