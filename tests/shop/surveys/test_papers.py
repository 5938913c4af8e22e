"""Survey sheets on paper: filled in, and blank for a pencil."""

import io

import pytest
from django.urls import reverse
from pypdf import PdfReader

from tests.factories.surveys import (
    make_beam,
    make_opening,
    make_room,
    make_survey,
    make_zone,
    wall_of,
)
from tests.pages import soup, text

pytestmark = pytest.mark.django_db


def printed(answer, *, name="survey-sheet"):
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"] == f'inline; filename="{name}.pdf"'
    assert answer["Cache-Control"] == "private, no-store"
    pages = PdfReader(io.BytesIO(answer.content)).pages
    return " ".join(" ".join(page.extract_text().split()) for page in pages)


def test_the_sheet_has_every_reading_and_a_drawing_of_each_wall(client_as, fitter):
    survey = make_survey(notes="damp by the door")
    make_opening(wall=wall_of(survey), name="bay", from_left_mm=1234)
    make_zone(survey=survey, wall=wall_of(survey, "C"), left_ticks=320 * 777)
    make_beam(survey=survey)
    words = printed(
        client_as(fitter).get(reverse("shop:survey-sheet", args=[survey.pk]))
    )
    for said in ("5000", "1234", "777", "Bay", "Switch", "Beam", "damp by the door"):
        assert said in words
    for name in "ABCD":
        assert f"Wall {name} from inside" in words
    assert "What the ceiling is made of." in words


def test_the_sheet_says_whose_room_it_is_how_one_gets_in_and_each_reading(
    client_as, fitter
):
    survey = make_survey()
    site = survey.room.site
    site.parking, site.year_built = "behind the mill", 1931
    site.save()
    make_opening(
        wall=wall_of(survey),
        gets_panel=True,
        widths_mm=(901, 902, 903),
        heights_mm=(1201, 1202, 1203),
        diagonals_mm=(1501, 1504),
    )
    words = printed(
        client_as(fitter).get(reverse("shop:survey-sheet", args=[survey.pk]))
    )
    assert str(site.client) in words
    for said in ("behind the mill", "Built: 1931", "901 mm, 902 mm, 903 mm"):
        assert said in words
    for said in ("1201 mm, 1202 mm, 1203 mm", "1501 mm, 1504 mm"):
        assert said in words


def test_a_survey_without_heights_prints_too(client_as, fitter):
    survey = make_survey(height_mm=None)
    words = printed(
        client_as(fitter).get(reverse("shop:survey-sheet", args=[survey.pk]))
    )
    assert "from inside" not in words
    assert "not read" in words


def test_the_blank_sheet_names_the_room_and_asks_for_the_rest(client_as, fitter):
    room = make_room(name="Snug")
    response = client_as(fitter).get(reverse("shop:survey-blank", args=[room.pk]))
    words = printed(response, name="blank-survey")
    assert "Snug" in words
    for said in ("Corner at its end", "Widths ×3", "Keep clear", "Measured by"):
        assert said in words


def test_both_are_linked_from_their_pages(client_as, fitter):
    survey, fresh = make_survey(), make_room(name="Snug")
    page = soup(client_as(fitter).get(survey.get_absolute_url()))
    assert page.find("a", href=reverse("shop:survey-sheet", args=[survey.pk]))
    page = soup(client_as(fitter).get(reverse("shop:survey-new", args=[fresh.pk])))
    assert page.find("a", href=reverse("shop:survey-blank", args=[fresh.pk]))


@pytest.mark.parametrize("name", ["survey-sheet", "survey-blank"])
def test_strangers_and_stale_addresses(client, client_as, fitter, name):
    url = reverse(f"shop:{name}", args=["00000000-0000-4000-8000-000000000000"])
    assert client.get(url).status_code == 302
    assert client_as(fitter).get(url).status_code == 404
    assert client_as(fitter).post(url).status_code == 405


def test_the_page_shows_each_wall_from_inside(client_as, fitter):
    page = soup(client_as(fitter).get(make_survey().get_absolute_url()))
    figures = page.select("#told details svg[role=img]")
    assert len(figures) == 4
    assert "Each wall from inside" in text(page.select_one("#told"))
