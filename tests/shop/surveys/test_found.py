"""What the desk writes for a walk: studs found, what a panel in an opening asks for."""

import pytest
from django.urls import reverse

from shop.surveys import actions
from shop.surveys.models import Member, Opening, Survey, Zone
from tests.factories.surveys import (
    AT,
    make_member,
    make_opening,
    make_survey,
    make_surveyor,
    make_zone,
    mm,
    wall_of,
)
from tests.pages import BAD_TEXTS, grows, refused, soup, text


def _url(name, row):
    return reverse(f"shop:{name}", args=[row.pk])


@pytest.fixture
def survey(db):
    return make_survey()


@pytest.fixture
def browser(client_as, fitter):
    return client_as(fitter)


class TestMembers:
    def test_a_stud_is_stored_as_typed(self, browser, survey):
        wall = wall_of(survey, "B")
        typed = {"wall": str(wall.pk), "at_ticks": '16"', "note": "nail line"}
        browser.post(_url("member-new", survey), typed)
        stud = Member.objects.get()
        assert (stud.wall, stud.at_ticks, stud.at_text) == (wall, 16 * 8128, '16"')
        assert str(stud) == "stud"

    def test_the_wall_of_the_address_is_chosen(self, browser, survey):
        wall = wall_of(survey, "C")
        page = soup(browser.get(f"{_url('member-new', survey)}?wall={wall.pk}"))
        chosen = page.select_one("#id_wall option[selected]")
        assert chosen["value"] == str(wall.pk)

    def test_joists_are_in_the_ceiling(self, browser, survey):
        typed = {"wall": "", "at_ticks": "410", "note": ""}
        page = soup(browser.post(_url("member-new", survey), typed, follow=True))
        assert "Joist 1" in text(page.select_one("#members tbody"))
        assert "Ceiling" in text(page.select_one("#members tbody"))

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("wall", "00000000-0000-4000-8000-000000000000"),
            ("at_ticks", ""),
            ("at_ticks", "-1"),
            ("at_ticks", "201 m"),
            ("at_ticks", "left"),
            ("note", "n" * 121),
            *(("note", bad) for bad in BAD_TEXTS),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(self, browser, survey, field, value):
        typed = {"wall": "", "at_ticks": "410", "note": ""} | {field: value}
        refused(browser, _url("member-new", survey), typed, field)
        assert not Member.objects.exists()

    def test_they_are_listed_in_order_with_what_lies_between(self, browser, survey):
        wall = wall_of(survey)
        for at in (1200, 400, 800):
            make_member(survey=survey, wall=wall, at_mm=at)
        page = soup(browser.get(survey.get_absolute_url()))
        rows = [text(row) for row in page.select("#members tbody tr")]
        assert [row.replace("\xa0", " ") for row in rows] == [
            "Stud 1 Wall A 400 mm",
            "Stud 2 Wall A 800 mm +400 mm",
            "Stud 3 Wall A 1200 mm +400 mm",
        ]

    def test_the_next_survey_keeps_them_by_lineage(self, survey):
        stud = make_member(survey=survey, wall=wall_of(survey))
        make_member(survey=survey, removed_at=AT)
        by = make_surveyor()
        fresh = Survey(room=survey.room, measured_on=AT.date(), measured_by=by)
        actions.repeat_survey(fresh, follows=survey, by=by, at=AT)
        again = fresh.members.get()
        assert (again.lineage, again.at_ticks) == (stud.lineage, stud.at_ticks)
        assert again.wall == wall_of(fresh)

    def test_queries_do_not_grow(self, browser, survey):
        def make():
            make_member(survey=survey, wall=wall_of(survey))
            make_zone(survey=survey)

        assert grows(browser, survey.get_absolute_url(), make) == 0


class TestOpeningForAPanel:
    TYPED = {
        "kind": "window",
        "name": "",
        "width_1": "900",
        "height_1": "1200",
        "reveal_depth_ticks": "120",
        "panel_depth_ticks": "60",
        "obstructions": "handle",
        "glass": "sealed",
        "faces": "sw",
        "gets_panel": "on",
    }

    def test_what_it_asks_for_is_stored(self, browser, survey):
        typed = self.TYPED | {"wall": str(wall_of(survey).pk)}
        browser.post(_url("opening-new", survey), typed)
        window = Opening.objects.get()
        assert (window.panel_depth_ticks, window.panel_depth_text) == (mm(60), "60")
        assert (window.obstructions, window.glass, window.faces) == (
            "handle",
            "sealed",
            "sw",
        )

    def test_it_is_said_on_the_list(self, browser, survey):
        typed = self.TYPED | {"wall": str(wall_of(survey).pk), "must_open": "on"}
        page = soup(browser.post(_url("opening-new", survey), typed, follow=True))
        assert (
            "Reveal 120 mm deep, panel 60 mm deep, glass: a sealed unit, faces"
            " south-west, in the way: handle, must open"
        ) in text(page.select_one("#openings tbody"))

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("panel_depth_ticks", "-1"),
            ("panel_depth_ticks", "deep"),
            ("obstructions", "n" * 201),
            *(("obstructions", bad) for bad in BAD_TEXTS),
            ("glass", "cheese"),
            ("faces", "up"),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(self, browser, survey, field, value):
        typed = self.TYPED | {"wall": str(wall_of(survey).pk), field: value}
        refused(browser, _url("opening-new", survey), typed, field)
        assert not Opening.objects.exists()

    @pytest.mark.parametrize(
        ("facts", "stands_open"), [({}, False), ({"faces": "s"}, True)]
    )
    def test_it_follows_the_box_and_stays_open_where_it_says_something(
        self, browser, survey, facts, stands_open
    ):
        opening = make_opening(wall=wall_of(survey), **facts)
        page = soup(browser.get(_url("opening-change", opening)))
        unfold = page.select_one("#id_gets_panel_field + .unfold")
        assert unfold.select("#id_panel_depth_ticks, #id_glass")
        assert ("unfold--open" in unfold["class"]) is stands_open


class TestNotReadYet:
    def test_a_zone_may_be_noted_before_it_is_measured(self, browser, survey):
        typed = {"kind": "outlet", "wall": "", "margin_ticks": "15 cm", "note": ""}
        page = soup(browser.post(_url("zone-new", survey), typed, follow=True))
        zone = Zone.objects.get()
        assert (zone.left_ticks, zone.width_ticks) == (None, None)
        assert (zone.margin_ticks, zone.margin_text) == (mm(150), "15 cm")
        assert "not read" in text(page.select_one("#zones tbody"))

    def test_a_wall_may_wait_for_its_length(self, browser, survey):
        wall = wall_of(survey)
        typed = {"name": "A", "length_ticks": "", "corner": "right", "construction": ""}
        page = soup(browser.post(_url("wall-change", wall), typed, follow=True))
        wall.refresh_from_db()
        assert (wall.length_ticks, wall.length_text) == (None, "")
        assert "not read" in text(page.select_one("#walls tbody tr"))

    def test_the_way_studs_run_is_stored(self, browser, survey):
        wall = wall_of(survey)
        typed = {
            "name": "A",
            "length_ticks": "5 m",
            "corner": "right",
            "construction": "board_wood",
            "framing_run": "upright",
        }
        page = soup(browser.post(_url("wall-change", wall), typed, follow=True))
        assert "studs upright" in text(page.select_one("#walls tbody tr"))
