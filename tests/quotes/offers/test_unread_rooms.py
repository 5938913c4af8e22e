"""A room that is read in part: its pages, its plan of panels and its quote go on."""

import pytest
from django.urls import reverse

from shop.surveys.models import Survey, Wall, Zone
from tests.factories.offers import make_quote, make_rules
from tests.factories.specs import make_planned
from tests.factories.surveys import make_opening, make_room, make_survey, wall_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def survey(shop):
    """A survey with walls, a window to fill, a zone: nothing of which is read."""
    made = make_survey(room=make_room())
    wall = wall_of(made)
    make_opening(
        wall=wall,
        widths_mm=(),
        heights_mm=(),
        from_left_mm=None,
        sill_mm=None,
        gets_panel=True,
    )
    Zone.objects.create(survey=made, wall=wall, kind="radiator")
    Wall.objects.filter(survey=made).update(length_ticks=None, length_text="")
    Survey.objects.filter(pk=made.pk).update(height_ticks=None, height_text="")
    return made


@pytest.mark.parametrize("name", ["shop:room", "quotes:plan", "shop:survey-blank"])
def test_a_rooms_pages(survey, owner, client_as, name):
    make_planned(room=survey.room)
    url = reverse(name, args=[survey.room_id])
    assert client_as(owner).get(url).status_code == 200


@pytest.mark.parametrize("name", ["survey", "survey-walk", "survey-sheet"])
def test_a_surveys_pages(survey, owner, client_as, name):
    url = reverse(f"shop:{name}", args=[survey.pk])
    assert client_as(owner).get(url).status_code == 200


def test_its_quote(survey, owner, client_as):
    make_rules()
    make_planned(room=survey.room)
    client = survey.room.site.client
    quote = make_quote(by=owner, client=client, rooms=[survey.room])
    url = reverse("quotes:quote", args=[quote.pk])
    assert client_as(owner).get(url).status_code == 200
