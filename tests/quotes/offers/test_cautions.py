"""What a client is told before saying yes: only what the room and the panels call for."""

import pytest

from quotes.offers.draft import work_out_draft
from shop.surveys.models import Opening
from tests.factories.clients import make_client, make_site
from tests.factories.offers import make_quote, make_room, make_survey, snapshot_of_draft
from tests.factories.specs import make_planned, make_spec

pytestmark = pytest.mark.django_db

CALM = {"tenure": "owner", "setting": "private", "year_built": 2015}


def told(by, *, rooms=1, kind="wall", site=CALM, construction="", **room):
    """Return the keys of the cautions of a draft with a panel in each room."""
    place = make_site(client=make_client(email="mara@example.org"), **site)
    made = [make_room(site=place, name=f"Room {n}", **room) for n in range(rooms)]
    spec = make_spec(
        kind=kind, hanging={"hung": "chain", "reveal": "edge"}.get(kind, "cleat")
    )
    for each in made:
        survey = make_survey(room=each, by=by, construction=construction)
        Opening.objects.create(wall=survey.walls.all()[1], gets_panel=kind == "reveal")
        make_planned(room=each, spec=spec)
    quote = make_quote(by=by, client=place.client, rooms=made)
    return [caution.key for caution in work_out_draft(quote).cautions]


def test_a_calm_room_calls_for_none(owner):
    assert told(owner) == []


def test_panels_overhead_are_spoken_of(owner):
    assert told(owner, kind="hung") == ["overhead"]


def test_a_bedrooms_window_is_spoken_of_when_a_panel_goes_into_it(owner):
    assert "egress" in told(owner, kind="reveal", sleeping_or_basement=True)


@pytest.mark.parametrize(
    "room", [{"kind": "wall", "sleeping_or_basement": True}, {"kind": "reveal"}]
)
def test_it_is_not_when_no_panel_does_or_nobody_sleeps_there(owner, room):
    assert "egress" not in told(owner, **room)


@pytest.mark.parametrize(
    ("site", "key"),
    [
        ({"tenure": "tenant"}, "landlord"),
        ({"tenure": "tenant"}, "fire_papers"),
        ({"setting": "public"}, "fire_papers"),
        ({"setting": "work"}, "fire_papers"),
        ({"year_built": 1931}, "old"),
        ({"year_built": None}, "old"),
    ],
)
def test_the_place_calls_for_its_own(owner, site, key):
    assert key in told(owner, site=CALM | site)


@pytest.mark.parametrize("construction", ["grid", "isolated"])
def test_a_ceiling_calls_for_its_own(owner, construction):
    assert construction in told(owner, construction=construction)


def test_dust_is_for_whoever_drills(owner):
    assert "silica" not in told(owner)  # although its first wall is of brick


def test_each_is_said_once_however_many_rooms(owner):
    keys = told(owner, rooms=3, site=CALM | {"year_built": 1931})
    assert keys == ["old"]


def test_the_snapshot_keeps_them_as_said(owner):
    site = make_site(
        client=make_client(email="mara@example.org"), **CALM | {"year_built": 1931}
    )
    room = make_room(site=site)
    make_survey(room=room, by=owner)
    make_planned(room=room, spec=make_spec())
    quote = make_quote(by=owner, client=site.client, rooms=[room])
    (said,) = work_out_draft(quote).cautions
    assert snapshot_of_draft(quote)["cautions"] == [
        {"key": "old", "title": said.title, "text": said.text}
    ]
