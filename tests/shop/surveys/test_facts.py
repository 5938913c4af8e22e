"""A room's facts for quotes: the latest survey as plain values."""

import json

import pytest

from shop.surveys import actions
from shop.surveys.models import Room, Survey
from shop.surveys.reports import room_cautions, room_facts, rooms_facts
from tests.factories.clients import make_site
from tests.factories.surveys import (
    AT,
    make_opening,
    make_room,
    make_survey,
    make_surveyor,
    make_zone,
    mm,
    wall_of,
)

pytestmark = pytest.mark.django_db


def keys(cautions):
    return {caution.key for caution in cautions}


def test_a_room_nobody_measured_has_facts_too():
    facts = room_facts(make_room(name="Booth"))
    assert facts.survey is None
    kept = facts.as_json()
    assert (kept["name"], kept["walls"]) == ("Booth", [])
    assert kept["ceiling"] == {"construction": "", "heated": False}


def test_the_snapshot_is_plain_json_of_the_agreed_shape():
    survey = make_survey(walls_made_of="brick", construction="grid", heated=True)
    kept = room_facts(survey.room).as_json()
    assert json.loads(json.dumps(kept)) == kept
    assert set(kept) == {
        "id",
        "name",
        "use",
        "storey",
        "sleeping_or_basement",
        "site",
        "walls",
        "ceiling",
    }
    assert kept["walls"][3] == {"name": "D", "construction": "brick"}
    assert kept["ceiling"] == {"construction": "grid", "heated": True}
    assert set(kept["site"]) == {
        "id",
        "address",
        "access_notes",
        "year_built",
        "tenure",
        "setting",
    }


def test_papers_say_all_that_is_known_of_getting_in():
    room = make_survey().room
    room.site.access_notes, room.site.stairs = "Ring twice.", "14, steep"
    assert room_facts(room).as_json()["site"]["access_notes"] == (
        "Ring twice.\nStairs: 14, steep"
    )


def test_figures_come_from_the_walls():
    facts = room_facts(make_survey(length_mm=5000, width_mm=4000).room).survey
    assert facts.area_m2 == pytest.approx(20)
    assert facts.volume_m3 == pytest.approx(50)
    assert facts.outline.perimeter_ticks == mm(18_000)


def test_there_is_no_volume_without_a_height():
    facts = room_facts(make_survey(height_mm=None).room).survey
    assert facts.volume_m3 is None
    assert facts.volume_words == ""


def test_an_opening_counts_by_its_smallest_reading_as_it_was_typed():
    survey = make_survey()
    make_opening(wall=wall_of(survey, "C"), widths_mm=(902, 900.5, 903))
    (opening,) = room_facts(survey.room).survey.openings
    assert (opening.width_ticks, opening.width_text) == (mm(900.5), "900.5")
    assert opening.wall_id == wall_of(survey, "C").pk
    assert opening.fit.width_ticks == mm(894.5)


def test_an_opening_taken_out_is_no_fact():
    survey = make_survey()
    opening = make_opening(wall=wall_of(survey))
    actions.take_out(opening, by=make_surveyor(), at=AT)
    assert room_facts(survey.room).survey.openings == ()


def test_an_opening_nobody_read_is_no_fact():
    survey = make_survey()
    make_opening(wall=wall_of(survey), heights_mm=())
    assert room_facts(survey.room).survey.openings == ()


def test_the_latest_survey_counts():
    survey = make_survey()
    by = make_surveyor()
    fresh = Survey(room=survey.room, measured_on=AT.date(), measured_by=by)
    after = actions.repeat_survey(fresh, follows=survey, by=by, at=AT)
    after.walls.update(construction="lath")
    facts = room_facts(survey.room).survey
    assert (facts.revision, facts.walls[0].made.words) == (2, "plaster on lath")


def test_many_rooms_take_no_more_queries_than_few(count_queries):
    def rooms(number):
        while Room.objects.count() < number:
            survey = make_survey()
            make_opening(wall=wall_of(survey))
            make_zone(survey=survey)
        return list(Room.objects.with_site())

    few = rooms(2)
    asked = count_queries(lambda: rooms_facts(few))
    many = rooms(20)
    assert count_queries(lambda: rooms_facts(many)) == asked == 7


@pytest.mark.parametrize(
    ("site", "expected"),
    [
        ({}, {"old"}),
        ({"year_built": 1985}, {"old"}),
        ({"year_built": 2010}, set()),
        ({"year_built": 2010, "tenure": "tenant"}, {"landlord", "fire_papers"}),
        ({"year_built": 2010, "setting": "public"}, {"fire_papers"}),
        ({"year_built": 2010, "tenure": "owner", "setting": "private"}, set()),
    ],
)
def test_the_site_brings_its_cautions(site, expected):
    assert keys(room_cautions(make_room(site=make_site(**site)))) == expected


def test_a_basement_nobody_measured_may_have_an_escape_window():
    room = make_room(site=make_site(year_built=2010), sleeping_or_basement=True)
    assert keys(room_cautions(room)) == {"egress"}
    survey = make_survey(room=room)
    assert keys(room_cautions(room)) == set()
    make_opening(wall=wall_of(survey))
    assert keys(room_cautions(room)) == {"egress"}


def test_surfaces_zones_and_panels_in_windows_bring_theirs():
    room = make_room(site=make_site(year_built=2010))
    survey = make_survey(room=room, construction="grid", walls_made_of="concrete")
    wall = wall_of(survey)
    make_opening(wall=wall, gets_panel=True)
    make_zone(survey=survey, kind="detector")
    wall.heated = True
    wall.save()
    assert keys(room_facts(room).cautions) == {
        "grid",
        "silica",
        "glass",
        "detector",
        "heated",
    }
