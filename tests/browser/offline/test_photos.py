"""Ten photos taken with no network arrive once each, between other edits."""

import io

import pytest
from django.urls import reverse
from PIL import Image
from playwright.sync_api import expect

from shared.files.models import Attachment
from shared.offline.models import Write
from tests.browser.offline.conftest import Line, length_of

PICTURES = "**/offline/pictures/"


@pytest.fixture
def camera():
    """Return a function that takes a photo of some colour."""

    def take(number):
        written = io.BytesIO()
        colour = (20 * number, 80, 80)
        Image.new("RGB", (3000, 1500), colour).save(written, "JPEG")
        return {
            "name": f"{number}.jpg",
            "mimeType": "image/jpeg",
            "buffer": written.getvalue(),
        }

    return take


def choose(tablet, *photos):
    of_room = f'[data-offline-photo][data-offline-lane="room:{tablet.survey.room_id}"]'
    tablet.page.locator(of_room).set_input_files(list(photos))


def test_ten_photos_wait_and_arrive_once(tablet, survey, camera, tmp_path):
    tablet.walk_offline_able()
    tablet.cut()
    choose(tablet, *(camera(number) for number in range(10)))
    tablet.has_kept(10)
    tablet.type("Length of wall A", "5100")
    tablet.kill()
    tablet.walk()
    expect(tablet.page.get_by_text("10 photos on this device")).to_be_visible()
    line = Line(["through", "answer lost", "fault", "cut"])
    tablet.page.route(PICTURES, line)
    tablet.join()
    tablet.all_sent()
    assert length_of(survey) == "5100"
    attached = Attachment.objects.of("room", survey.room_id)
    assert len({one.file.sha256 for one in attached}) == len(attached) == 10
    assert Write.objects.filter(status="stored").count() == 11
    stored = Image.open(io.BytesIO(attached[0].file.read()))
    assert stored.size == (2048, 1024)
    expect(tablet.page.locator(".photos__picture")).to_have_count(10)


def test_what_is_no_picture_is_told_at_once(tablet, survey, camera):
    tablet.walk()
    text = {"name": "notes.txt", "mimeType": "text/plain", "buffer": b"no picture"}
    choose(tablet, text)
    told = tablet.page.get_by_text("No picture that can be read: notes.txt.")
    expect(told).to_be_visible()
    assert tablet.kept() == 0


def test_what_is_no_picture_stays_told_when_others_beside_it_arrive(
    tablet, survey, camera
):
    tablet.walk()
    text = {"name": "notes.txt", "mimeType": "text/plain", "buffer": b"no picture"}
    choose(tablet, camera(1), text, camera(2))
    told = tablet.page.get_by_text("No picture that can be read: notes.txt.")
    expect(told).to_be_visible()
    tablet.all_sent()
    tablet.type("Length of wall A", "5100")
    tablet.all_sent()
    expect(told).to_be_visible()
    assert Attachment.objects.of("room", survey.room_id).count() == 2


def test_photos_go_to_a_file_and_come_back(
    tablet, survey, camera, tmp_path, open_browser, fitter
):
    tablet.page.route(PICTURES, Line(["cut"] * 99))
    tablet.walk()
    choose(tablet, camera(3))
    tablet.has_kept(1)
    tablet.page.goto(reverse("shared:device"))
    with tablet.page.expect_download() as saved:
        tablet.page.get_by_role("button", name="Save to a file").click()
    file = tmp_path / "kept.json"
    saved.value.save_as(file)
    other = open_browser(fitter)
    other.goto(reverse("shared:device"))
    box = other.get_by_label("Load such a file")
    expect(box).to_be_enabled()
    box.set_input_files(file)
    expect(other.locator("[data-device-loaded]")).to_have_text("1 taken over.")
    expect(other.locator("[data-offline-words]")).to_have_text("")
    tablet.page.unroute(PICTURES)
    tablet.send()
    tablet.all_sent()
    assert Attachment.objects.count() == 1
