"""Fields of a room that save themselves from a device."""

import pytest
from django.urls import reverse

from shared.audit.models import Entry
from tests.devices import write
from tests.factories.surveys import MM, make_opening, make_survey, make_zone, wall_of
from tests.pages import queries, soup

pytestmark = pytest.mark.django_db


@pytest.fixture
def survey(shop):
    return make_survey()


def length(wall, value, **more):
    usual = {"op": "wall-length", "lane": f"wall:{wall.pk}", "field": "length"}
    return write(wall, value, **usual | {"was": wall.length_text} | more)


def test_a_length_is_read_and_kept_as_typed(survey, fitter, send):
    wall = wall_of(survey)
    (answer,) = send(fitter, length(wall, " 5.1 m"))
    assert (answer["status"], answer["value"]) == ("stored", "5.1 m")
    wall.refresh_from_db()
    assert (wall.length_ticks, wall.length_text) == (5100 * MM, "5.1 m")
    assert Entry.objects.filter(by=fitter, verb="measure").exists()


@pytest.mark.parametrize("typed", ["about two arms", "0", "-3", "9999 m"])
def test_what_is_no_length_is_refused_with_a_sentence(survey, fitter, send, typed):
    wall = wall_of(survey)
    (answer,) = send(fitter, length(wall, typed))
    assert answer["status"] == "refused"
    assert answer["sentence"].endswith(".")
    wall.refresh_from_db()
    assert wall.length_text == "5000"


def test_a_reading_may_be_taken_back(survey, fitter, send):
    wall = wall_of(survey)
    (answer,) = send(fitter, length(wall, ""))
    assert (answer["status"], answer["value"]) == ("stored", "")
    wall.refresh_from_db()
    assert (wall.length_ticks, wall.length_text) == (None, "")


def test_notes_of_survey_and_room_are_stored(survey, fitter, send):
    room = survey.room
    answers = send(
        fitter,
        write(survey, "damp", op="survey-text", lane=f"survey:{survey.pk}"),
        write(room, "key at the desk", op="room-text", lane=f"room:{room.pk}"),
    )
    assert [a["status"] for a in answers] == ["stored", "stored"]
    survey.refresh_from_db()
    room.refresh_from_db()
    assert (survey.notes, room.notes) == ("damp", "key at the desk")


def test_history_is_not_written(survey, fitter, send):
    make_later(survey)
    (answer,) = send(fitter, length(wall_of(survey), "5100"))
    assert answer["status"] == "refused"
    assert "history" in answer["sentence"]


def make_later(survey):
    from shop.surveys import actions
    from shop.surveys.models import Survey
    from tests.factories.surveys import AT

    new = Survey(
        room=survey.room, measured_on=AT.date(), measured_by=survey.measured_by
    )
    actions.repeat_survey(new, follows=survey, by=survey.measured_by, at=AT)


def test_what_is_gone_is_told(survey, fitter, send):
    wall = wall_of(survey)
    item = length(wall, "5100")
    wall.delete()
    (answer,) = send(fitter, item)
    assert (answer["status"], answer["sentence"]) == (
        "refused",
        "This is no longer there.",
    )


def walk_of(survey):
    return reverse("shop:survey-walk", args=[survey.pk])


class TestWalk:
    """The page whose fields save themselves."""

    def test_it_shows_each_field_with_its_version(
        self,
        survey,
        fitter,
        client_as,
        send,
    ):
        wall = wall_of(survey)
        send(fitter, length(wall, "5100"))
        response = client_as(fitter).get(reverse("shop:survey-walk", args=[survey.pk]))
        page = soup(response)
        box = page.select_one(f'[data-offline-lane="wall:{wall.pk}"]')
        assert (box["value"], box["data-offline-version"]) == ("5100", "1")
        lanes = {
            lane
            for box in page.select("[data-offline-field]")
            if "__new__" not in (lane := box["data-offline-lane"])
        }
        kinds = sorted({lane.partition(":")[0] for lane in lanes})
        assert kinds == ["client", "room", "site", "survey", "wall"]
        assert response["X-Offline-Page"] == str(fitter.pk)

    def test_each_kind_of_part_has_a_template(self, survey, fitter, client_as):
        page = soup(client_as(fitter).get(walk_of(survey)))
        for kind in ("wall", "opening", "zone", "member", "beam"):
            template = page.select_one(f'[data-offline-template="{kind}"]')
            box = template.select_one("input, select")
            assert box["data-offline-lane"] == f"{kind}:__new__"
            assert template.select_one('[data-offline-field="removed"]')
            assert page.select_one(f'[data-offline-parts="{kind}"]')
            assert page.select_one(f'[data-offline-add="{kind}"]')

    def test_it_shows_what_there_is(self, survey, fitter, client_as):
        wall = wall_of(survey)
        opening = make_opening(wall=wall, widths_mm=(900, 905))
        zone = make_zone(survey=survey, kind="detector", width_ticks=None)
        page = soup(client_as(fitter).get(walk_of(survey)))
        box = page.select_one(f"#opening-{opening.pk}-width_2")
        assert box["value"] == "905"
        on_wall = page.select_one(f'[data-offline-of="wall:{wall.pk}"]')
        assert on_wall.select_one(f"#opening-{opening.pk}")
        assert page.select_one(f"#zone-{zone.pk}-width")["placeholder"] == "120 mm"

    def test_it_is_for_those_who_survey(self, survey, maker, client_as):
        url = reverse("shop:survey-walk", args=[survey.pk])
        response = client_as(maker).get(url)
        assert response.status_code == 403
        assert "X-Offline-Page" not in response

    def test_a_survey_that_is_not_there(self, shop, fitter, client_as):
        url = reverse(
            "shop:survey-walk", args=["0" * 8 + "-0000-4000-8000-" + "0" * 12]
        )
        assert client_as(fitter).get(url).status_code == 404

    def test_its_queries_do_not_grow(self, survey, fitter, client_as):
        url = reverse("shop:survey-walk", args=[survey.pk])
        browser = client_as(fitter)
        browser.get(url)
        few = queries(browser, url)
        more_walls(survey, 18)
        assert queries(browser, url) == few

    def test_it_is_only_read(self, survey, fitter, client_as):
        url = reverse("shop:survey-walk", args=[survey.pk])
        assert client_as(fitter).post(url).status_code == 405


def more_walls(survey, count):
    from shop.surveys.models import Wall

    for place in range(count):
        Wall.objects.create(
            survey=survey,
            position=100 + place,
            name=f"X{place}",
            length_ticks=MM,
            length_text="1",
        )


class TestBeforeLeaving:
    """What is missing, a sketch, a rough figure for those who see money."""

    def ask(self, browser, survey):
        url = reverse("shop:survey-before", args=[survey.pk])
        return browser.get(url, headers={"HX-Request": "true"})

    def test_unread_walls_are_named_and_no_plan_is_drawn(
        self, survey, fitter, client_as
    ):
        survey.walls.filter(name__in="AC").update(length_ticks=None, length_text="")
        page = soup(self.ask(client_as(fitter), survey))
        assert "Wall C: length not read yet." in page.text
        assert not page.select(".drawing")

    def test_a_room_that_is_read_is_drawn(self, survey, fitter, client_as):
        page = soup(self.ask(client_as(fitter), survey))
        assert page.select_one("#leave .drawing svg")

    @pytest.mark.parametrize(("role", "shown"), [("owner", True), ("fitter", False)])
    def test_the_ballpark_is_for_those_who_see_money(
        self, survey, shop, request, client_as, role, shown
    ):
        shop.ballpark_per_m2_from, shop.ballpark_per_m2_to = 60, 110
        shop.save()
        person = request.getfixturevalue(role)
        page = soup(self.ask(client_as(person), survey))
        assert ("EUR 1,200 to 2,200" in page.text) is shown

    def test_without_htmx_it_is_a_page(self, survey, fitter, client_as):
        url = reverse("shop:survey-before", args=[survey.pk])
        page = soup(client_as(fitter).get(url))
        assert page.h1.text == "Before you leave"
        assert page.select_one("main #leave")

    def test_it_is_for_those_who_survey(self, survey, maker, client_as):
        assert self.ask(client_as(maker), survey).status_code == 403
