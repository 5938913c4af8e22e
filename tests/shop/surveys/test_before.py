"""Before you leave: what a later step asks for, and what to mind; none of it blocks."""

import json
from itertools import pairwise

import pytest
from django.urls import reverse

from shared.files.actions import attach, keep
from shop.surveys.actions import repeat_survey
from shop.surveys.models import Survey
from shop.surveys.reports.before import needed
from shop.surveys.reports.photos import photos_of
from tests.cast import AS_HTMX
from tests.factories.clients import make_site
from tests.factories.surveys import (
    AT,
    make_beam,
    make_covering,
    make_member,
    make_opening,
    make_room,
    make_spot,
    make_survey,
    make_surveyor,
    make_zone,
    mm,
    wall_of,
)
from tests.pages import grows, soup, text

WHOLE = {"year_built": 1990, "tenure": "owner", "narrowest_door_ticks": mm(800)}


def asked(survey, *, photo=True):
    whole = Survey.objects.with_room().with_parts().get(pk=survey.pk)
    return list(needed(whole, has_photo=photo))


@pytest.fixture
def survey(db):
    """A survey of which nothing is asked later."""
    return make_survey(room=make_room(site=make_site(**WHOLE), use="music"))


def test_a_whole_survey_asks_for_nothing_more(survey):
    assert asked(survey) == []


@pytest.mark.parametrize(
    ("field", "nothing", "words"),
    [
        ("year_built", None, "When the house was built"),
        ("tenure", "", "own or rent"),
        ("narrowest_door_ticks", None, "narrowest door"),
    ],
)
def test_what_nobody_asked_of_the_site_is_told(survey, field, nothing, words):
    site = survey.room.site
    setattr(site, field, nothing)
    site.save()
    (said,) = asked(survey)
    assert words in said


def test_a_room_without_a_use_is_told(survey):
    survey.room.use = ""
    survey.room.save()
    (said,) = asked(survey)
    assert "used for" in said


def test_a_room_without_a_photo_is_told(survey):
    (said,) = asked(survey, photo=False)
    assert "A photo" in said


@pytest.mark.parametrize("of", ["room", "wall", "opening", "elsewhere"])
def test_a_photo_counts_wherever_it_hangs_in_the_room(survey, of):
    opening = make_opening(wall=wall_of(survey))
    on = {"room": survey.room, "wall": wall_of(survey), "opening": opening}
    file = keep(b"picture", name="a.jpg", content_type="image/jpeg")
    subject = on.get(of) or make_room()
    attach(subject, file.pk, by=make_surveyor(), at=AT)
    fresh = Survey(room=survey.room, measured_on=AT.date(), measured_by=make_surveyor())
    later = repeat_survey(fresh, follows=survey, by=make_surveyor(), at=AT)
    for one in (survey, later):
        whole = Survey.objects.with_parts().get(pk=one.pk)
        assert bool(photos_of(whole)) is (of in on)


@pytest.mark.parametrize("made_of", ["board_wood", "board_metal", "lath"])
def test_studs_are_asked_for_behind_what_carries_little(survey, made_of):
    survey.walls.filter(name__in="AC").update(construction=made_of)
    (said,) = asked(survey)
    assert "studs of wall A, C are" in said
    make_member(survey=survey, wall=wall_of(survey, "A"))
    (said,) = asked(survey)
    assert "studs of wall C are" in said


def test_brick_needs_no_studs(survey):
    survey.walls.update(construction="brick")
    assert asked(survey) == []


def test_joists_are_asked_for_above_a_board_ceiling(survey):
    Survey.objects.update(construction="board_wood")
    (said,) = asked(survey)
    assert "joists" in said
    make_member(survey=survey)
    assert asked(survey) == []


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({"panel_depth_ticks": mm(40), "glass": "single", "faces": "n"}, []),
        ({"panel_depth_ticks": mm(40), "glass": "single"}, ["What glass"]),
        ({"panel_depth_ticks": mm(40), "faces": "s"}, ["What glass"]),
        ({"glass": "single", "faces": "n"}, ["How deep"]),
        ({"panel_depth_ticks": mm(40), "kind": "recess"}, []),
    ],
)
def test_an_opening_that_gets_a_panel_asks_for_more(survey, facts, words):
    make_opening(wall=wall_of(survey), gets_panel=True, **facts)
    assert [
        said.split(" in ")[0][: len(word)]
        for said, word in zip(asked(survey), words, strict=True)
    ] == words


def test_an_opening_without_a_panel_does_not(survey):
    make_opening(wall=wall_of(survey))
    assert asked(survey) == []


class TestPage:
    def test_it_is_listed_after_what_is_missing(self, client_as, fitter):
        survey = make_survey()
        told = soup(client_as(fitter).get(survey.get_absolute_url()))
        part = text(told.select_one("section[aria-labelledby=missing]"))
        missing, later = part.split("What a later step asks for")
        assert "What the ceiling is made of" in missing
        assert "narrowest door" in later

    def test_what_to_mind_is_said_on_the_survey_too(self, client_as, fitter, survey):
        survey.walls.update(construction="isolated")
        browser = client_as(fitter)
        page = soup(browser.get(survey.get_absolute_url()))
        assert "no rigid screw" in text(page.select_one("#told"))

    def test_a_maker_reads_no_list_of_errands(self, client_as, maker):
        page = soup(client_as(maker).get(make_survey().get_absolute_url()))
        assert not page.select("section[aria-labelledby=missing]")


def rules_of(page):
    """What a walk carries for the device."""
    told = soup(page).find(attrs={"data-plan-told": True})
    return json.loads(told["data-plan-told"])


class TestWalk:
    @pytest.mark.parametrize("name", ["survey-walk", "survey-before"])
    def test_the_walk_lists_it_too(self, client_as, fitter, survey, name):
        survey.walls.update(construction="isolated")
        url = reverse(f"shop:{name}", args=[survey.pk])
        leave = soup(client_as(fitter).get(url, headers=AS_HTMX)).find(id="leave")
        assert "A photo" in text(leave)
        assert "no rigid screw" in text(leave)

    @pytest.mark.parametrize("page", ["survey-walk", "survey-begin"])
    def test_the_shops_rates_go_along_for_those_alone_who_see_prices(
        self, client_as, fitter, office, survey, shop, page
    ):
        shop.ballpark_per_m2_from, shop.ballpark_per_m2_to = 35, 60
        shop.save()
        args = [survey.pk] if page == "survey-walk" else []
        carried = [
            rules_of(client_as(person).get(reverse(f"shop:{page}", args=args)))
            for person in (office, fitter)
        ]
        assert carried[0]["rates"] == ["35.0000", "60.0000"]
        assert not {"rates", "currency"} & carried[1].keys()

    def test_queries_do_not_grow(self, client_as, fitter, survey):
        def make():
            make_opening(wall=wall_of(survey), gets_panel=True)
            make_member(survey=survey, wall=wall_of(survey, "B"))

        url = reverse("shop:survey-walk", args=[survey.pk])
        assert grows(client_as(fitter), url, make) == 0


def skipped(page):
    """Return headings that lie more than a level below the one before; those of parts, too."""
    levels = [int(one.name[1]) for one in page.select("h1, h2, h3, h4, h5, h6")]
    return [pair for pair in pairwise(levels) if pair[1] > pair[0] + 1]


@pytest.mark.parametrize("name", ["survey-walk", "survey-before"])
def test_headings_leave_no_level_out(client_as, fitter, survey, name):
    wall = wall_of(survey)
    for part in (make_beam, make_spot, make_covering, make_zone):
        part(survey=survey)
    make_zone(survey=survey, wall=wall)
    make_covering(survey=survey, surface="opening", opening=make_opening(wall=wall))
    url = reverse(f"shop:{name}", args=[survey.pk])
    page = soup(client_as(fitter).get(url))
    assert page.h1
    assert skipped(page) == []
