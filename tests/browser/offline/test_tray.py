"""What the server does not take comes before a person, and a file carries the rest."""

import json

import pytest
from django.urls import reverse
from playwright.sync_api import expect

from shared.offline.models import Write
from tests.browser.offline.conftest import SLOW, WRITES, Line, length_of, until
from tests.devices import write

A, B = "Length of wall A", "Length of wall B"
NONE_WAITS = "async () => document.querySelector('[data-device-waiting]').childElementCount === 0"


@pytest.fixture
def device(tablet):
    """Return a function that opens the page of this device."""

    def opened():
        tablet.page.goto(reverse("shared:device"))
        return tablet.page

    return opened


def load(page, file):
    """Choose a file, once the page is ready for one."""
    box = page.get_by_label("Load such a file")
    expect(box).to_be_enabled()
    box.set_input_files(file)


def elsewhere(survey, owner, send, text):
    """Somebody writes the length of wall A from another device."""
    wall = survey.walls.get(name="A")
    lane = f"wall:{wall.pk}"
    item = write(wall, text, op="wall-length", lane=lane, field="length")
    assert send(owner, item)[0]["status"] == "stored"


def test_what_is_refused_blocks_nothing_and_is_kept_as_typed(tablet, survey, device):
    tablet.walk()
    tablet.type(A, "250 m")
    expect(tablet.state(A)).to_contain_text(
        "Not taken. This reads as 250000 mm. Use at most"
    )
    tablet.type(B, "4100")
    expect(tablet.state(B)).to_have_text("Stored")
    assert length_of(survey, "B") == "4100"
    expect(tablet.bar()).to_contain_text("1 not taken")
    tray = device().locator("[data-device-tray]")
    expect(tray).to_contain_text("250 m")
    expect(tray).to_contain_text(A)
    tray.get_by_role("button", name="Throw it away").click()
    expect(tray).to_be_hidden()
    assert tablet.kept() == 0


def test_a_better_text_for_the_field_clears_what_was_refused(tablet, survey):
    tablet.walk()
    tablet.type(A, "250 m")
    expect(tablet.state(A)).to_contain_text("Not taken")
    tablet.type(A, "5100")
    expect(tablet.state(A)).to_have_text("Stored")
    tablet.all_sent()
    assert length_of(survey) == "5100"


@pytest.mark.parametrize(
    ("choice", "counts"), [("Mine counts", "5300"), ("The stored one counts", "5050")]
)
def test_of_two_values_a_person_chooses_one(
    tablet, survey, device, owner, client_as, send, choice, counts
):
    tablet.walk()
    tablet.cut()
    for text in ("5100", "5200", "5300"):
        tablet.type(A, text)
    elsewhere(survey, owner, send, "5050")
    tablet.join()
    expect(tablet.state(A)).to_contain_text("changed elsewhere meanwhile")
    assert length_of(survey) == "5050"
    tray = device().locator("[data-device-tray]")
    expect(tray).to_contain_text("Yours: “5300”, ")
    expect(tray).to_contain_text(f"Stored meanwhile: “5050”, {owner}")
    assert tray.get_by_role("listitem").count() == 1
    tray.get_by_role("button", name=choice).click()
    tablet.all_sent()
    assert length_of(survey) == counts
    tablet.walk()
    expect(tablet.box(A)).to_have_value(counts)


def test_edits_of_two_devices_to_two_fields_merge(
    tablet, survey, owner, client_as, send
):
    tablet.walk()
    tablet.cut()
    tablet.type(B, "4100")
    elsewhere(survey, owner, send, "5050")
    tablet.join()
    tablet.all_sent()
    assert (length_of(survey, "A"), length_of(survey, "B")) == ("5050", "4100")


def test_a_batch_that_is_not_read_at_all_is_taken_apart(tablet, survey):
    tablet.page.route(
        WRITES,
        lambda route: (
            route.fulfill(
                status=400,
                content_type="application/json",
                body='{"error": "junk", "sentence": "Not read."}',
            )
            if "5200" in route.request.post_data
            else route.continue_()
        ),
    )
    tablet.walk()
    tablet.cut()
    for text in ("5100", "5200"):
        tablet.type(A, text)
    tablet.type(B, "4100")
    tablet.join()
    expect(tablet.state(B)).to_have_text("Stored")
    expect(tablet.state(A)).to_have_text("Not taken. Not read.")
    assert (length_of(survey, "A"), length_of(survey, "B")) == ("5100", "4100")


@pytest.mark.parametrize("slow", [False, True])
def test_the_queue_goes_to_a_file_and_comes_back_from_it(
    tablet, survey, device, tmp_path, open_browser, fitter, slow
):
    tablet.page.add_init_script(SLOW if slow else "")
    tablet.page.route(WRITES, Line(["cut"] * 99))
    tablet.walk()
    tablet.type(A, "5100")
    tablet.type(A, "5200")
    page = device()
    expect(page.locator("[data-device-waiting] li")).to_have_count(2)
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save to a file").click()
    file = tmp_path / "kept.json"
    saved.value.save_as(file)
    other = open_browser(fitter)
    other.goto(reverse("shared:device"))
    load(other, file)
    expect(other.locator("[data-device-loaded]")).to_have_text("2 taken over.")
    until(other, NONE_WAITS)
    assert length_of(survey) == "5200"
    # The first device gets a network after all: what arrived already counts once.
    page.unroute(WRITES)
    page.get_by_role("button", name="Send now").click()
    tablet.all_sent()
    assert [w.status for w in Write.objects.all()] == ["stored", "stored"]


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        ("not json", "no file of what was kept"),
        ('{"kind": "shopping"}', "no file of what was kept"),
        (
            json.dumps({"kind": "cleatbook-device-queue", "person": "x", "items": []}),
            "somebody else’s",
        ),
    ],
)
def test_a_file_that_is_not_theirs_is_refused(
    device, tablet, tmp_path, content, sentence
):
    file = tmp_path / "kept.json"
    file.write_text(content)
    page = device()
    load(page, file)
    expect(page.locator("[data-device-loaded]")).to_contain_text(sentence)
    assert tablet.kept() == 0
