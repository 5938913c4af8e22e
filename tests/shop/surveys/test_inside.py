"""Finishes, furniture and places of a survey: written, taken out, told, printed."""

import io

import pytest
from django.db import IntegrityError, transaction
from django.urls import reverse
from pypdf import PdfReader

from shop.catalogue.models import Finish
from shop.clients.models import Use
from shop.surveys.actions import inside as actions
from shop.surveys.documents import blank_sheet_pdf, survey_sheet_pdf
from shop.surveys.engine.presets import PRESETS
from shop.surveys.models import Covering, Furniture, Spot, Survey
from shop.surveys.reports.inside import inside
from tests.cast import AS_HTMX
from tests.factories.catalogue import make_finish
from tests.factories.surveys import (
    AT,
    make_covering,
    make_opening,
    make_spot,
    make_survey,
    make_surveyor,
    mm,
    wall_of,
)
from tests.pages import BAD_TEXTS, grows, refused, soup, text


def pdf_text(content):
    """All words of a paper, with single spaces."""
    pages = PdfReader(io.BytesIO(content)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def url(name, row):
    return reverse(f"shop:{name}", args=[row.pk])


def fresh(survey):
    return Survey.objects.with_inside().get(pk=survey.pk)


@pytest.fixture
def survey(db):
    return make_survey()


@pytest.fixture
def browser(client_as, fitter):
    return client_as(fitter)


class TestCoverings:
    @pytest.fixture
    def typed(self, db):
        return {
            "where": "floor",
            "finish": str(make_finish(name="Cork").pk),
            "width_ticks": "2 m",
            "height_ticks": "150 cm",
            "note": "rug",
        }

    def test_a_part_is_stored_as_typed(self, browser, survey, typed):
        browser.post(url("covering-new", survey), typed)
        row = Covering.objects.get()
        assert (row.surface, row.finish.name, row.note) == ("floor", "Cork", "rug")
        assert (row.width_ticks, row.height_text) == (mm(2000), "150 cm")

    @pytest.mark.parametrize("kind", ["wall", "opening"])
    def test_it_lies_on_the_wall_or_opening_chosen(self, browser, survey, typed, kind):
        wall = wall_of(survey)
        target = {"wall": wall, "opening": make_opening(wall=wall)}[kind]
        typed["where"] = f"{kind}:{target.pk}"
        browser.post(url("covering-new", survey), typed)
        row = Covering.objects.get()
        assert (row.surface, getattr(row, kind)) == (kind, target)

    def test_a_change_moves_it_and_shows_where_it_was(self, browser, survey, typed):
        row = make_covering(survey=survey, surface="wall", wall=wall_of(survey))
        page = soup(browser.get(url("covering-change", row)))
        assert text(page.select_one("#id_where option[selected]")) == "wall A"
        browser.post(url("covering-change", row), typed)
        row.refresh_from_db()
        assert (row.surface, row.wall) == ("floor", None)

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("where", ""),
            ("where", "roof"),
            ("where", "wall:00000000-0000-4000-8000-000000000000"),
            ("finish", ""),
            ("finish", "gold"),
            ("width_ticks", "0"),
            ("width_ticks", "1 km"),
            ("height_ticks", "high"),
            *(("note", bad) for bad in BAD_TEXTS),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(
        self, browser, survey, typed, field, value
    ):
        refused(browser, url("covering-new", survey), typed | {field: value}, field)
        assert not Covering.objects.exists()

    def test_a_finish_put_aside_is_offered_no_more_but_stays_chosen(
        self, browser, survey
    ):
        row = make_covering(survey=survey, finish=make_finish(archived_at=AT))
        new, change = (
            soup(browser.get(address))
            for address in (url("covering-new", survey), url("covering-change", row))
        )
        assert not new.select(f'option[value="{row.finish_id}"]')
        assert change.select(f'option[value="{row.finish_id}"][selected]')

    def test_it_is_taken_out_and_put_back(self, browser, survey):
        row = make_covering(survey=survey)
        browser.post(url("covering-remove", row))
        assert not Covering.objects.standing().exists()
        browser.post(url("covering-restore", row))
        assert Covering.objects.standing().exists()

    def test_htmx_gets_the_section_and_the_page_its_event(self, browser, survey, typed):
        shown = browser.get(url("covering-new", survey), headers=AS_HTMX)
        assert soup(shown).select_one("#coverings form.form")
        stored = browser.post(url("covering-new", survey), typed, headers=AS_HTMX)
        assert "surveyChanged" in stored["HX-Trigger"]
        assert "Cork" in text(soup(stored).select_one("#coverings"))

    def test_the_database_wants_the_wall_that_a_finish_lies_on(self, survey):
        with pytest.raises(IntegrityError), transaction.atomic():
            make_covering(survey=survey, surface="wall")


class TestPreset:
    def test_one_choice_finishes_the_whole_room(self, browser, survey):
        window = make_opening(wall=wall_of(survey), glass="single")
        door = make_opening(wall=wall_of(survey, "B"), kind="door")
        browser.post(url("survey-preset", survey), {"preset": "office"})
        rows = {(c.surface, c.opening): c.finish.key for c in Covering.objects.all()}
        assert rows == {
            ("walls", None): "plasterboard-double-steel-wool",
            ("ceiling", None): "tile-fissured",
            ("floor", None): "carpet-thin-concrete",
            ("opening", window): "glass-single",
            ("opening", door): "door-solid",
        }
        assert inside(fresh(survey)).surfaces.bare == ()

    def test_another_choice_changes_it_and_keeps_what_is_a_walls_own(
        self, browser, survey
    ):
        own = make_covering(survey=survey, surface="wall", wall=wall_of(survey))
        rug = make_covering(survey=survey, surface="floor", width_ticks=mm(100))
        for preset in ("office", "cafe"):
            browser.post(url("survey-preset", survey), {"preset": preset})
        standing = Covering.objects.standing()
        assert standing.count() == 5
        assert {own, rug} <= set(standing)
        assert standing.get(surface="walls").finish.key == "plaster-on-brick"

    def test_it_begins_with_what_the_room_is_used_for(self, browser, survey):
        survey.room.use = "music"
        survey.room.save()
        page = soup(browser.get(url("survey-preset", survey)))
        assert page.select_one("option[selected]")["value"] == "music"

    def test_an_unknown_kind_is_refused(self, browser, survey):
        refused(browser, url("survey-preset", survey), {"preset": "barn"}, "preset")
        assert not Covering.objects.exists()

    def test_history_is_not_finished_anew(self, browser, survey):
        make_later = Survey(
            room=survey.room,
            revision=2,
            measured_on=AT.date(),
            measured_by=make_surveyor(),
        )
        make_later.save()
        answer = browser.post(url("survey-preset", survey), {"preset": "office"})
        assert answer.status_code == 422
        assert "is history" in text(soup(answer))
        assert not Finish.objects.exists()


class TestFurniture:
    def test_counts_are_stored_and_shown(self, browser, survey):
        browser.post(url("furniture", survey), {"person": "4", "sofa": "1"})
        assert dict(
            Furniture.objects.filter(count__gt=0).values_list("kind", "count")
        ) == {
            "person": 4,
            "sofa": 1,
        }
        page = text(soup(browser.get(url("survey", survey))).select_one("#furniture"))
        assert "People, usually 4" in page
        assert "Sofas 1 no table says" in page

    @pytest.mark.parametrize("value", ["-1", "5001", "2.5", "many", "NaN"])
    def test_what_is_no_count_is_refused(self, browser, survey, value):
        refused(browser, url("furniture", survey), {"person": value}, "person")
        assert not Furniture.objects.exists()

    def test_a_kind_that_is_not_named_stays(self, survey):
        by = make_surveyor()
        actions.count_furniture(survey, {"person": 4, "sofa": 1}, by=by, at=AT)
        actions.count_furniture(survey, {"sofa": 2}, by=by, at=AT)
        assert dict(Furniture.objects.values_list("kind", "count")) == {
            "person": 4,
            "sofa": 2,
        }


class TestSpots:
    TYPED = {
        "kind": "loudspeaker",
        "name": "left one",
        "left_ticks": "1.2 m",
        "bottom_ticks": "800",
        "height_ticks": "",
        "width_ticks": "",
    }

    def test_a_place_is_stored_as_typed_and_drawn(self, browser, survey):
        browser.post(url("spot-new", survey), self.TYPED)
        row = Spot.objects.get()
        assert (row.kind, row.left_ticks, row.left_text) == (
            "loudspeaker",
            mm(1200),
            "1.2 m",
        )
        page = soup(browser.get(url("survey", survey)))
        assert "left one" in text(page.select_one("#told"))

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("kind", "ghost"),
            ("name", "n" * 41),
            *(("name", bad) for bad in BAD_TEXTS),
            ("left_ticks", "-1"),
            ("bottom_ticks", "far"),
            ("height_ticks", "60 m"),
            ("width_ticks", "0"),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(self, browser, survey, field, value):
        refused(browser, url("spot-new", survey), self.TYPED | {field: value}, field)
        assert not Spot.objects.exists()

    def test_it_is_changed_taken_out_and_put_back(self, browser, survey):
        row = make_spot(survey=survey)
        browser.post(url("spot-change", row), self.TYPED)
        browser.post(url("spot-remove", row))
        row.refresh_from_db()
        assert (row.name, row.removed_at is None) == ("left one", False)
        browser.post(url("spot-restore", row))
        assert Spot.objects.standing().count() == 1


class TestTold:
    def test_parts_that_exceed_their_wall_are_told_with_both_areas(self, survey, shop):
        make_covering(
            survey=survey,
            surface="wall",
            wall=wall_of(survey),
            width_ticks=mm(6000),
            height_ticks=mm(2500),
        )
        assert inside(fresh(survey)).told == (
            "The finishes on wall A take up 15 m², but it has 12.5 m².",
        )

    def test_a_place_outside_the_walls_is_told(self, survey, shop):
        make_spot(survey=survey, left_ticks=mm(9000))
        assert inside(fresh(survey)).told == (
            "Listening place lies outside the walls. Read its distances again.",
        )

    def test_what_a_later_step_asks_for_is_named_once(self, browser, survey, shop):
        make_covering(survey=survey)
        page = text(soup(browser.get(url("survey", survey))).select_one("#told"))
        assert "what the ceiling, the floor are covered with" in page
        assert "where somebody listens, speaks or plays" in page
        make_spot(survey=survey)
        page = text(soup(browser.get(url("survey", survey))).select_one("#told"))
        assert "where somebody listens" not in page


class TestAccess:
    @pytest.mark.parametrize(
        "name", ["survey-preset", "covering-new", "furniture", "spot-new"]
    )
    def test_a_maker_writes_nothing(self, client_as, maker, survey, name):
        assert client_as(maker).get(url(name, survey)).status_code == 403

    def test_a_maker_reads_it_without_buttons(self, client_as, maker, survey):
        make_covering(survey=survey)
        make_spot(survey=survey)
        page = soup(client_as(maker).get(url("survey", survey)))
        assert page.select("#coverings tbody tr")
        for section in ("#coverings", "#spots", "#furniture"):
            assert not page.select(f"{section} form, {section} .sheet__head a")

    def test_queries_do_not_grow(self, browser, survey):
        def more():
            make_covering(survey=survey)
            make_spot(survey=survey)

        assert grows(browser, url("survey", survey), more) == 0


class TestPapers:
    def test_the_sheet_lists_what_is_inside(self, survey, shop):
        make_covering(survey=survey, finish=make_finish(name="Cork"))
        make_spot(survey=survey, name="sofa, left")
        Furniture.objects.create(survey=survey, kind="bed", count=1)
        words = pdf_text(survey_sheet_pdf(fresh(survey), profile=shop))
        for noted in ("Cork", "Sofa, left, listening place", "Beds"):
            assert noted in words

    def test_the_blank_sheet_asks_for_it(self, survey, shop):
        words = pdf_text(blank_sheet_pdf(survey.room, profile=shop))
        for asked in ("Finishes", "People and furniture", "Narrowest door"):
            assert asked in words


def test_every_preset_of_a_use_bears_its_key():
    uses = set(Use.values) - {"", "other"}
    assert uses <= set(PRESETS)
