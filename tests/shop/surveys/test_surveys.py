"""Surveys as pages: the first by three numbers, the next from the last, ceiling, history."""

import pytest
from django.urls import reverse

from shop.surveys.models import Survey
from tests.cast import AS_HTMX
from tests.factories.surveys import (
    make_opening,
    make_room,
    make_survey,
    make_zone,
    mm,
    wall_of,
)
from tests.pages import BAD_TEXTS, grows, refused, soup, text

NOBODY = "00000000-0000-4000-8000-000000000000"


def _begin(room):
    return reverse("shop:survey-new", args=[room.pk])


def _change(survey):
    return reverse("shop:survey-change", args=[survey.pk])


def _typed(person, **fields):
    return {
        "follows": "0",
        "length": "9.2 m",
        "width": "6100",
        "height_ticks": "305 cm",
        "use": "cafe",
        "walls_made_of": "brick",
        "construction": "grid",
        "measured_on": "2026-03-02",
        "measured_by": str(person.pk),
        "notes": "Two tables stay.",
    } | fields


def _next(person, **fields):
    return {
        "follows": "1",
        "measured_on": "2026-04-01",
        "measured_by": str(person.pk),
        "notes": "",
    } | fields


class TestFirst:
    def test_three_numbers_make_a_room(self, client_as, fitter):
        room = make_room()
        browser = client_as(fitter)
        page = soup(browser.post(_begin(room), _typed(fitter), follow=True))
        survey = Survey.objects.get()
        walls = [(w.name, w.length_text, w.construction) for w in survey.walls.all()]
        assert walls == [
            ("A", "9.2 m", "brick"),
            ("B", "6100", "brick"),
            ("C", "9.2 m", "brick"),
            ("D", "6100", "brick"),
        ]
        assert (survey.height_ticks, survey.height_text) == (mm(3050), "305 cm")
        assert (survey.construction, survey.measured_by) == ("grid", fitter)
        room.refresh_from_db()
        assert room.use == "cafe"
        assert "Survey 1 of Front room is begun" in text(page.find(id="messages"))

    def test_feet_and_inches(self, client_as, fitter, shop):
        shop.unit_system = "imperial"
        shop.save()
        typed = _typed(fitter, length="12' 3 5/8\"", width="8'", height_ticks="96")
        client_as(fitter).post(_begin(make_room()), typed)
        wall = wall_of(Survey.objects.get())
        assert (wall.length_ticks, wall.length_text) == (1_199_896, "12' 3 5/8\"")
        assert wall.length_ticks == 9448 * 127

    @pytest.mark.parametrize("field", ["length", "width", "height_ticks"])
    @pytest.mark.parametrize("value", ["abc", "-5", "0", "201 m", "9" * 30, "1" * 50])
    def test_bad_lengths_are_refused(self, client_as, fitter, field, value):
        typed = _typed(fitter, **{field: value})
        refused(client_as(fitter), _begin(make_room()), typed, field)
        assert not Survey.objects.exists()

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("length", ""),
            ("width", ""),
            ("length", "１٢\u202e"),
            ("use", "castle"),
            ("walls_made_of", "cheese"),
            ("construction", "cheese"),
            ("measured_on", ""),
            ("measured_on", "yesterday"),
            ("measured_on", "1026-01-01"),
            ("measured_by", ""),
            ("measured_by", NOBODY),
            ("measured_by", "nonsense"),
            *(("notes", bad) for bad in BAD_TEXTS),
            ("notes", "n" * 4001),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(
        self, client_as, fitter, field, value
    ):
        typed = _typed(fitter, **{field: value})
        refused(client_as(fitter), _begin(make_room()), typed, field)
        assert not Survey.objects.exists()

    def test_a_maker_cannot_have_measured(self, client_as, fitter, maker):
        typed = _typed(fitter, measured_by=str(maker.pk))
        refused(client_as(fitter), _begin(make_room()), typed, "measured_by")

    @pytest.mark.parametrize("follows", ["", "x", "-1", "7", "9" * 5000])
    def test_a_page_of_another_time_is_refused(self, client_as, fitter, follows):
        typed = _typed(fitter, follows=follows)
        answer = client_as(fitter).post(_begin(make_room()), typed)
        assert answer.status_code == 422
        assert soup(answer).select("#form-errors li")
        assert not Survey.objects.exists()

    def test_sent_twice_it_is_one_survey(self, client_as, fitter):
        room = make_room()
        browser = client_as(fitter)
        browser.post(_begin(room), _typed(fitter))
        assert browser.post(_begin(room), _typed(fitter)).status_code == 422
        assert Survey.objects.count() == 1


class TestNext:
    def test_it_begins_with_all_of_the_last(self, client_as, fitter):
        survey = make_survey()
        make_opening(wall=wall_of(survey))
        answer = client_as(fitter).post(
            _begin(survey.room), _next(fitter, notes="New window"), follow=True
        )
        page = soup(answer)
        assert text(page.h1) == "Survey 2 of Front room"
        assert "900 × 1200 mm" in text(page.find(id="openings"))
        after = Survey.objects.get(revision=2)
        assert after.notes == "New window"

    def test_sent_twice_it_is_one_survey(self, client_as, fitter):
        survey = make_survey()
        browser = client_as(fitter)
        browser.post(_begin(survey.room), _next(fitter))
        assert browser.post(_begin(survey.room), _next(fitter)).status_code == 422
        assert Survey.objects.count() == 2

    def test_the_last_one_is_history(self, client_as, fitter):
        survey = make_survey()
        browser = client_as(fitter)
        browser.post(_begin(survey.room), _next(fitter))
        page = soup(browser.get(survey.get_absolute_url()))
        assert "History" in text(page.select_one(".head__line"))
        assert not page.select("main form")
        assert browser.get(_change(survey)).status_code == 200
        answer = browser.post(_change(survey), _ceiling(fitter))
        assert answer.status_code == 422
        assert "is history" in text(soup(answer).find(id="form-errors"))

    def test_differences_are_shown(self, client_as, fitter):
        survey = make_survey()
        browser = client_as(fitter)
        browser.post(_begin(survey.room), _next(fitter))
        after = Survey.objects.get(revision=2)
        after.walls.filter(name="A").update(length_ticks=mm(5010))
        page = soup(browser.get(after.get_absolute_url()))
        rows = page.find(attrs={"aria-labelledby": "differences"}).select("tbody tr")
        assert [text(row) for row in rows] == ["Wall A length 5000 mm 5010 mm"]

    @pytest.mark.parametrize("against", ["2", "x", "999999999", "٣", "-1", ""])
    def test_any_revision_may_be_asked_for(self, client_as, fitter, against):
        survey = make_survey()
        browser = client_as(fitter)
        browser.post(_begin(survey.room), _next(fitter))
        url = survey.get_absolute_url()
        assert browser.get(url, {"against": against}).status_code == 200


def _ceiling(person, **fields):
    return {
        "height_ticks": "2600",
        "construction": "board_metal",
        "board_thickness_ticks": "12.5 mm",
        "framing_spacing_ticks": "625",
        "heated": "on",
        "use": "office",
        "measured_on": "2026-03-02",
        "measured_by": str(person.pk),
        "notes": "",
    } | fields


class TestChange:
    def test_the_ceiling_is_stored(self, client_as, fitter):
        survey = make_survey()
        client_as(fitter).post(_change(survey), _ceiling(fitter))
        survey.refresh_from_db()
        assert (survey.height_text, survey.heated) == ("2600", True)
        assert survey.board_thickness_text == "12.5 mm"
        assert survey.room.use == "office"

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("height_ticks", "0"),
            ("height_ticks", "51 m"),
            ("board_thickness_ticks", "-1"),
            ("board_thickness_ticks", "3 m"),
            ("framing_spacing_ticks", "sixteen"),
            ("construction", "cheese"),
            ("measured_on", "2026-13-01"),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(
        self, client_as, fitter, field, value
    ):
        survey = make_survey()
        typed = _ceiling(fitter, **{field: value})
        refused(client_as(fitter), _change(survey), typed, field)
        survey.refresh_from_db()
        assert survey.height_ticks == mm(2500)

    def test_an_empty_post_is_refused(self, client_as, fitter):
        assert client_as(fitter).post(_change(make_survey())).status_code == 422

    def test_whoever_measured_stays_choosable_after_leaving(self, client_as, fitter):
        survey = make_survey()
        gone = survey.measured_by
        gone.is_active = False
        gone.save()
        client_as(fitter).post(_change(survey), _ceiling(gone))
        survey.refresh_from_db()
        assert survey.height_text == "2600"


class TestPage:
    def test_contradictions_and_gaps_are_told(self, client_as, fitter):
        survey = make_survey(height_mm=None)
        make_opening(wall=wall_of(survey), kind="door", heights_mm=(1400,), sill_mm=0)
        page = soup(client_as(fitter).get(survey.get_absolute_url()))
        assert "only 1400 mm high" in text(
            page.find(attrs={"aria-labelledby": "doubts"})
        )
        missing = text(page.find(attrs={"aria-labelledby": "missing"}))
        assert "The height of the ceiling" in missing
        assert "What wall A, B, C, D is made of" in missing

    def test_htmx_gets_what_follows_alone(self, client_as, fitter):
        survey = make_survey()
        answer = client_as(fitter).get(survey.get_absolute_url(), headers=AS_HTMX)
        assert b"<html" not in answer.content
        assert soup(answer).find(recursive=False)["id"] == "told"

    def test_a_maker_reads_only(self, client_as, maker):
        survey = make_survey()
        make_opening(wall=wall_of(survey))
        page = soup(client_as(maker).get(survey.get_absolute_url()))
        assert not page.select("main form")
        assert not page.select("#walls a, #openings a, #zones a")

    def test_queries_do_not_grow_with_openings_and_zones(self, client_as, fitter):
        survey = make_survey()
        wall = wall_of(survey)

        def make():
            make_opening(wall=wall, widths_mm=(900, 901))
            make_zone(survey=survey, wall=wall)

        assert grows(client_as(fitter), survey.get_absolute_url(), make) == 0

    def test_walls_that_do_not_close_say_by_how_much(self, client_as, fitter):
        survey = make_survey()
        survey.walls.filter(name="C").update(length_ticks=mm(5020))
        page = soup(client_as(fitter).get(survey.get_absolute_url()))
        figures = text(page.find(attrs={"aria-labelledby": "figures"}))
        assert "20 mm (0.11 % of the round)" in figures
