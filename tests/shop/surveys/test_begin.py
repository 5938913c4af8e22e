"""A survey is begun on a device: the page for it, and the one write that makes it all."""

import json
import uuid
from types import SimpleNamespace

import pytest
from django.urls import reverse

from shared.audit.models import Entry
from shop.clients.models import Client, Site
from shop.surveys.models import Room, Survey, Wall
from tests.devices import write
from tests.factories.clients import make_client
from tests.factories.surveys import make_room, make_survey
from tests.pages import queries, soup

pytestmark = pytest.mark.django_db


def begin(survey, walls=4, /, **said):
    """The write by which a device begins a survey."""
    value = {"walls": [str(uuid.uuid4()) for _ in range(walls)], "shape": "rectangle"}
    return write(
        SimpleNamespace(pk=survey),
        json.dumps(value | said),
        op="survey-begin",
        lane=f"survey:{survey}",
        field="new",
    )


def ids(*kinds):
    return {kind: str(uuid.uuid4()) for kind in kinds}


class TestWrite:
    """One write makes client, site, room, survey and walls, or nothing at all."""

    def test_of_a_new_client(self, shop, fitter, send):
        survey, new = uuid.uuid4(), ids("client", "site", "room")
        item = begin(survey, **new)
        (answer,) = send(fitter, item)
        assert answer["status"] == "stored"
        made = Survey.objects.get(pk=survey)
        assert str(made.room_id) == new["room"]
        assert str(made.room.site_id) == new["site"]
        assert str(made.room.site.client_id) == new["client"]
        assert str(made.room.site.client).startswith("New client, ")
        assert made.room.site.address == "Address not asked yet"
        walls = [str(wall.pk) for wall in made.walls.all()]
        assert walls == json.loads(item["value"])["walls"]
        assert {w.length_ticks for w in made.walls.all()} == {None}
        assert Entry.objects.filter(by=fitter).count() == 4

    def test_of_a_known_client(self, shop, fitter, send):
        client, survey = make_client(), uuid.uuid4()
        item = begin(survey, client=str(client.pk), **ids("site", "room"))
        assert send(fitter, item)[0]["status"] == "stored"
        assert Survey.objects.get().room.site.client == client
        assert Client.objects.count() == 1

    def test_of_a_known_room(self, shop, fitter, send):
        room, survey = make_room(), uuid.uuid4()
        assert send(fitter, begin(survey, room=str(room.pk)))[0]["status"] == "stored"
        assert Survey.objects.get(pk=survey).room == room

    def test_of_a_room_that_somebody_measured_meanwhile(self, shop, fitter, send):
        before, survey = make_survey(), uuid.uuid4()
        item = begin(survey, room=str(before.room_id))
        assert send(fitter, item)[0]["status"] == "stored"
        made = Survey.objects.get(pk=survey)
        assert made.revision == 2
        same = [w.lineage for w in before.walls.all()]
        assert [w.lineage for w in made.walls.all()] == same

    def test_twice_is_once(self, shop, fitter, send):
        survey = uuid.uuid4()
        item = begin(survey, **ids("client", "site", "room"))
        again = item | {"key": str(uuid.uuid4())}
        answers = send(fitter, item, item, again)
        assert [a["status"] for a in answers] == ["stored", "repeat", "stored"]
        assert (Client.objects.count(), Survey.objects.count()) == (1, 1)
        assert Wall.objects.count() == 4

    @pytest.mark.parametrize(
        ("shape", "count", "corners"),
        [
            ("l", 6, ["right", "right", "right", "left", "right", "right"]),
            ("cut", 5, ["angle", "angle", "right", "right", "right"]),
            ("l", 4, ["right"] * 4),
            ("unheard of", 3, ["right"] * 3),
        ],
    )
    def test_a_shape_gives_its_corners(self, shop, fitter, send, shape, count, corners):
        survey = uuid.uuid4()
        item = begin(survey, count, shape=shape, **ids("client", "site", "room"))
        assert send(fitter, item)[0]["status"] == "stored"
        made = Wall.objects.filter(survey=survey)
        assert [wall.corner for wall in made] == corners

    @pytest.mark.parametrize(
        "said",
        [
            {"room": ""},
            {"room": "nonsense"},
            {"room": str(uuid.uuid4())},
            {"room": str(uuid.uuid4()), "site": str(uuid.uuid4())},
            {"room": str(uuid.uuid4()), "walls": "four"},
            {"room": str(uuid.uuid4()), "walls": []},
        ],
    )
    def test_what_can_not_be_makes_nothing(self, shop, fitter, send, said):
        (answer,) = send(fitter, begin(uuid.uuid4(), **said))
        assert answer["status"] == "refused"
        assert answer["sentence"].endswith(".")
        for model in (Client, Site, Room, Survey):
            assert not model.objects.exists()

    def test_who_may_not_survey_begins_nothing(self, shop, maker, send):
        item = begin(uuid.uuid4(), **ids("client", "site", "room"))
        assert send(maker, item)[0]["status"] == "refused"
        assert not Client.objects.exists()


class TestPage:
    """Where it is begun, network or not."""

    url = "/surveys/begin/"

    def test_nobody_known_yet(self, shop, fitter, client_as):
        response = client_as(fitter).get(self.url)
        page = soup(response)
        button = page.select_one("[data-offline-begin]")
        assert button.text == "New client"
        assert response["X-Offline-Page"] == str(fitter.pk)
        assert "None yet" in page.text

    def test_a_room_not_measured_is_begun_one_measured_is_walked(
        self, shop, fitter, client_as
    ):
        room, survey = make_room(name="Booth"), make_survey()
        page = soup(client_as(fitter).get(self.url))
        values = [b.get("data-offline-value") for b in page.select("button.button")]
        assert f'{{"room":"{room.pk}"}}' in values
        assert page.select_one(f'a[href="/surveys/{survey.pk}/walk/"]')

    def test_of_one_client(self, shop, fitter, client_as):
        room, other = make_room(), make_room(name="Elsewhere")
        owner = room.site.client
        page = soup(client_as(fitter).get(self.url, {"client": str(owner.pk)}))
        button = page.select_one("[data-offline-begin]")
        assert json.loads(button["data-offline-value"]) == {"client": str(owner.pk)}
        assert str(other.pk) not in page.text + str(page.select("button"))

    @pytest.mark.parametrize("asked", ["nonsense", str(uuid.UUID(int=0))])
    def test_a_client_that_is_not_there(self, shop, fitter, client_as, asked):
        assert client_as(fitter).get(self.url, {"client": asked}).status_code == 404

    def test_the_walk_of_a_survey_begun_here_has_all_walls(
        self, shop, fitter, client_as
    ):
        page = soup(client_as(fitter).get(self.url))
        template = page.select_one('[data-offline-template="survey"]')
        lanes = {b["data-offline-lane"] for b in template.select("[data-offline-lane]")}
        assert {f"wall:__wall{number}__" for number in range(1, 9)} <= lanes
        assert {"client:__client__", "room:__room__", "survey:__survey__"} <= lanes

    def test_it_is_for_those_who_survey(self, shop, maker, client_as):
        assert client_as(maker).get(self.url).status_code == 403

    def test_its_queries_do_not_grow(self, shop, fitter, client_as):
        browser = client_as(fitter)
        make_room()
        browser.get(self.url)
        few = queries(browser, self.url)
        for number in range(5):
            make_room(name=f"Room {number}")
        assert queries(browser, self.url) == few

    @pytest.mark.parametrize("name", ["jobs:next-up", "shop:rooms"])
    def test_the_way_to_it(self, shop, fitter, maker, client_as, name):
        url = reverse(name)
        link = 'a[href="/surveys/begin/"][data-offline-also]'
        assert soup(client_as(fitter).get(url)).select_one(link)
        assert not soup(client_as(maker).get(url)).select_one(link)

    def test_the_way_from_a_client(self, shop, fitter, client_as):
        owner = make_client()
        page = soup(client_as(fitter).get(owner.get_absolute_url()))
        assert page.select_one(f'a[href="/surveys/begin/?client={owner.pk}"]')
