"""Photos of a room, its walls and openings: taken, shown beside them, taken out."""

import io
import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from shared.files.actions import attach, keep
from shared.files.models import Attachment
from shop.surveys import actions
from shop.surveys.models import Survey
from shop.surveys.offline.photos import MOST_PHOTOS
from tests.devices import write
from tests.factories.surveys import (
    AT,
    make_opening,
    make_room,
    make_survey,
    make_surveyor,
    wall_of,
)
from tests.pages import grows, soup, text

pytestmark = pytest.mark.django_db
KINDS = ("room", "wall", "opening")


@pytest.fixture
def survey(shop):
    return make_survey()


@pytest.fixture
def places(survey):
    wall = wall_of(survey)
    opening = make_opening(wall=wall, name="bay")
    return {"room": survey.room, "wall": wall, "opening": opening}


@pytest.fixture
def take(client_as):
    """Return a function that sends a picture of a record and gives the answer."""

    def sent(person, kind, place, data=None):
        picture = io.BytesIO()
        Image.new("RGB", (8, 6), "brown").save(picture, "JPEG")
        item = write(
            place, "", op=f"{kind}-photo", lane=f"{kind}:{place.pk}", field="photo"
        )
        body = {
            "batch": json.dumps({"person": str(person.pk), "items": [item]}),
            "file": SimpleUploadedFile("a.jpg", data or picture.getvalue()),
        }
        response = client_as(person).post(reverse("shared:offline-pictures"), body)
        return response.json()["answers"][0]

    return sent


def hang(place, count=1):
    """Hang photos on a record, without a device."""
    for n in range(count):
        file = keep(b"%d" % n, name="a.jpg", content_type="image/jpeg")
        attach(place, file.pk, by=make_surveyor(), at=AT)


@pytest.mark.parametrize("kind", KINDS)
def test_a_photo_is_tied_to_its_place(places, fitter, take, kind):
    assert take(fitter, kind, places[kind])["status"] == "stored"
    photo = Attachment.objects.get()
    assert (photo.kind, photo.record_id) == (kind, places[kind].pk)


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_no_picture_is_refused_with_a_sentence(places, fitter, take, kind):
    answer = take(fitter, kind, places[kind], b"MZ no picture")
    assert answer["status"] == "refused"
    assert answer["sentence"]
    assert not Attachment.objects.exists()


def test_more_than_anybody_looks_through_are_refused(places, fitter, take):
    hang(places["wall"], MOST_PHOTOS)
    answer = take(fitter, "wall", places["wall"])
    assert answer["status"] == "refused"
    assert "40 photos of this wall already" in answer["sentence"]
    assert take(fitter, "opening", places["opening"])["status"] == "stored"


def test_one_taken_out_makes_room_for_another(places, fitter, take):
    hang(places["wall"], MOST_PHOTOS)
    Attachment.objects.filter(pk=Attachment.objects.first().pk).update(removed_at=AT)
    assert take(fitter, "wall", places["wall"])["status"] == "stored"


class TestOnTheSurveysPage:
    @pytest.fixture
    def page(self, client_as, fitter):
        def shown(survey):
            return soup(client_as(fitter).get(survey.get_absolute_url()))

        return shown

    def test_each_is_shown_under_its_place(self, survey, places, page):
        for place in places.values():
            hang(place)
        section = page(survey).select_one("#photos")
        assert [text(head) for head in section.select("h3")] == [
            "The room",
            "Wall A",
            "Bay",
        ]
        assert len(section.select("img")) == 3
        assert section.select('img[alt^="Photo 1 of bay"]')

    @pytest.mark.parametrize("kind", KINDS)
    def test_it_is_served_and_taken_out_and_put_back(
        self, survey, places, client_as, fitter, kind
    ):
        hang(places[kind])
        browser, photo = client_as(fitter), Attachment.objects.get()
        url = {
            name: reverse(f"shop:{name}", args=[photo.pk])
            for name in ("photo", "photo-remove", "photo-restore")
        }
        assert browser.get(url["photo"]).status_code == 200
        page = browser.post(url["photo-remove"], follow=True)
        assert page.request["PATH_INFO"] == survey.get_absolute_url()
        assert "The photo is taken out" in text(soup(page))
        assert not soup(page).select("#photos img")
        page = browser.post(url["photo-restore"], follow=True)
        assert soup(page).select("#photos img")

    def test_a_wall_keeps_its_photos_in_the_next_survey(self, survey, places, page):
        for place in places.values():
            hang(place)
        by = make_surveyor()
        after = Survey(room=survey.room, measured_on=AT.date(), measured_by=by)
        actions.repeat_survey(after, follows=survey, by=by, at=AT)
        hang(wall_of(after))
        section = page(after).select_one("#photos")
        assert len(section.select("img")) == 4
        assert section.select('img[alt^="Photo 2 of wall A"]')

    def test_another_rooms_photos_are_not_shown(self, survey, page):
        hang(make_room())
        assert not page(survey).select("#photos")

    def test_who_does_not_survey_sees_none(self, survey, places, client_as, maker):
        hang(places["wall"])
        page = soup(client_as(maker).get(survey.get_absolute_url()))
        assert not page.select("#photos")

    def test_a_file_of_something_else_is_no_photo(self, client_as, fitter):
        hang(fitter)
        url = reverse("shop:photo", args=[Attachment.objects.get().pk])
        assert client_as(fitter).get(url).status_code == 404

    def test_queries_do_not_grow(self, survey, places, client_as, fitter):
        url = survey.get_absolute_url()
        assert grows(client_as(fitter), url, lambda: hang(places["wall"])) == 0


class TestOnTheWalk:
    @pytest.fixture
    def walk(self, client_as, fitter, survey):
        url = reverse("shop:survey-walk", args=[survey.pk])
        return lambda: soup(client_as(fitter).get(url))

    @pytest.mark.parametrize("kind", KINDS)
    def test_each_place_takes_several_and_shows_its_own(self, places, walk, kind):
        hang(places[kind])
        lane = f"{kind}:{places[kind].pk}"
        (box,) = walk().select(f'[data-offline-photo][data-offline-lane="{lane}"]')
        assert box["data-offline-op"] == f"{kind}-photo"
        assert box.has_attr("multiple")
        assert box["accept"] == "image/*"
        assert box.find_parent(["section", "article"]).select("img")

    def test_one_is_taken_out_and_put_back_from_the_device(
        self, places, fitter, send, walk
    ):
        hang(places["wall"])
        photo = Attachment.objects.get()
        usual = {"op": "photo", "lane": f"photo:{photo.pk}", "field": "removed"}
        out = write(photo, "yes", was="", **usual)
        assert send(fitter, out)[0]["status"] == "stored"
        assert not walk().select("img.photos__picture")
        back = write(photo, "", after=out["key"], was="yes", **usual)
        assert send(fitter, back)[0]["status"] == "stored"
        assert walk().select("img.photos__picture")

    def test_a_file_of_something_else_is_not_taken_out(self, fitter, send):
        hang(fitter)
        other = Attachment.objects.get()
        usual = {"op": "photo", "lane": f"photo:{other.pk}", "field": "removed"}
        (answer,) = send(fitter, write(other, "yes", was="", **usual))
        assert answer["status"] == "refused"
