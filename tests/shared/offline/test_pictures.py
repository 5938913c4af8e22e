"""A picture from a device is added once, without what its camera wrote into it."""

import io
import json
import os

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from shared.audit.models import Entry
from shared.files import pictures
from shared.files.models import Attachment, StoredFile
from shared.offline.models import Write
from tests.devices import write
from tests.factories.surveys import make_room, make_survey

pytestmark = pytest.mark.django_db
GPS = 0x8825


def photo(width=40, height=30, kind="JPEG"):
    """A picture that says where it was taken, and that it lies on its side."""
    exif = Image.Exif()
    exif[0x0112] = 6  # turned by a quarter
    exif[0x010F] = "Some camera"
    exif.get_ifd(GPS)[1] = "N"
    written = io.BytesIO()
    Image.new("RGB", (width, height), "brown").save(written, kind, exif=exif)
    return written.getvalue()


@pytest.fixture
def room(shop):
    return make_room()


def item(room, **more):
    lane = f"room:{room.pk}"
    return write(room, "", op="room-photo", lane=lane, field="photo", **more)


@pytest.fixture
def send_picture(client_as):
    def sent(person, one, data, **headers):
        body = {"batch": json.dumps({"person": str(person.pk), "items": [one]})}
        if data is not None:
            body["file"] = SimpleUploadedFile("a.jpg", data)
        url = reverse("shared:offline-pictures")
        return client_as(person).post(url, body, headers=headers)

    return sent


def answer(response):
    assert response.status_code == 200, response.content
    (one,) = response.json()["answers"]
    return one


def test_a_picture_is_added_once(room, fitter, send_picture):
    one = item(room)
    first, second = (answer(send_picture(fitter, one, photo())) for _ in range(2))
    assert (first["status"], second["status"]) == ("stored", "repeat")
    assert first["key"] == one["key"]
    attached = Attachment.objects.get()
    assert (attached.kind, attached.record_id, attached.by) == ("room", room.pk, fitter)
    assert Entry.objects.filter(verb="photo", subject_id=room.pk).count() == 1


def test_nothing_goes_along_but_the_points(room, fitter, send_picture):
    answer(send_picture(fitter, item(room), photo(40, 30)))
    stored = StoredFile.objects.get()
    found = Image.open(io.BytesIO(stored.read()))
    assert found.format == "JPEG"
    assert found.size == (30, 40)
    assert not found.getexif()
    assert b"Some camera" not in stored.read()


def test_a_large_one_is_shrunk(room, fitter, send_picture):
    answer(send_picture(fitter, item(room), photo(4000, 1000)))
    assert Image.open(io.BytesIO(StoredFile.objects.get().read())).size == (640, 2560)


@pytest.mark.parametrize(
    "data", [b"", b"MZ no picture", b"<svg/>", photo()[:300], photo(kind="TIFF")]
)
def test_what_is_no_picture_is_refused(room, fitter, send_picture, data):
    one = answer(send_picture(fitter, item(room), data))
    if one["status"] == "refused":
        assert "no picture" in one["sentence"]
    assert one["status"] == "refused"
    assert not StoredFile.objects.exists()


def test_too_many_points_are_refused(room, fitter, send_picture, monkeypatch):
    monkeypatch.setattr(pictures, "_MOST_PIXELS", 100)
    assert (
        "too many points"
        in answer(send_picture(fitter, item(room), photo()))["sentence"]
    )


def test_too_large_a_file_is_refused_with_a_sentence(room, fitter, send_picture):
    response = send_picture(fitter, item(room), os.urandom(12_000_001))
    assert response.status_code == 400
    assert "at most 12 MB" in response.json()["sentence"]


def test_no_file_or_no_item_gets_a_sentence(room, fitter, send_picture, client_as):
    assert send_picture(fitter, item(room), None).status_code == 400
    assert send_picture(fitter, item(room, schema="x"), photo()).status_code == 400
    url = reverse("shared:offline-pictures")
    assert client_as(fitter).post(url).status_code == 400
    assert client_as(fitter).post(url, {"batch": "{"}).status_code == 400


def test_who_may_not_survey_may_not_add(room, maker, send_picture):
    assert answer(send_picture(maker, item(room), photo()))["status"] == "refused"
    assert not Attachment.objects.exists()


def test_signed_out_is_401(room, client):
    assert client.post(reverse("shared:offline-pictures")).status_code == 401


def test_text_is_no_picture_and_a_picture_no_text(room, fitter, send, send_picture):
    stored = answer(send_picture(fitter, item(room), photo()))
    smuggled = item(room) | {"value": stored["value"]}
    assert send(fitter, smuggled)[0]["status"] == "refused"
    text = item(room) | {"op": "room-text", "field": "notes"}
    assert answer(send_picture(fitter, text, photo()))["status"] == "refused"
    assert Attachment.objects.count() == 1


def test_a_fault_adds_nothing_and_asks_to_try_again(
    room, fitter, send_picture, monkeypatch
):
    def broken(**row):
        raise RuntimeError

    monkeypatch.setattr(Attachment.objects, "create", broken)
    assert answer(send_picture(fitter, item(room), photo()))["status"] == "retry"
    assert not StoredFile.objects.exists()
    assert not Write.objects.exists()


class TestOnThePage:
    """Photos are shown, taken out and put back by those who survey."""

    @pytest.fixture
    def attached(self, room, fitter, send_picture):
        make_survey(room=room)
        answer(send_picture(fitter, item(room), photo()))
        return Attachment.objects.get()

    def test_it_is_served_to_those_who_survey(self, attached, fitter, maker, client_as):
        url = reverse("shop:photo", args=[attached.pk])
        response = client_as(fitter).get(url)
        assert response["Content-Type"] == "image/jpeg"
        assert "no-store" in response["Cache-Control"]
        assert client_as(maker).get(url).status_code == 403

    def test_it_is_taken_out_and_put_back(self, attached, fitter, client_as):
        browser = client_as(fitter)
        page = browser.post(
            reverse("shop:photo-remove", args=[attached.pk]), follow=True
        )
        assert b"photos__picture" not in page.content
        page = browser.post(
            reverse("shop:photo-restore", args=[attached.pk]), follow=True
        )
        assert b"photos__picture" in page.content

    @pytest.mark.parametrize("name", ["photo-remove", "photo-restore"])
    def test_others_may_not(self, attached, maker, client_as, name):
        url = reverse(f"shop:{name}", args=[attached.pk])
        assert client_as(maker).post(url).status_code == 403
        assert client_as(maker).get(url).status_code in {403, 405}
