"""Walls, openings and zones: written on pages of their own, or in their place by htmx."""

import uuid

import pytest
from django.urls import reverse

from shop.surveys import actions
from shop.surveys.models import Opening, Survey, Zone
from tests.cast import AS_HTMX
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
from tests.pages import BAD_TEXTS, refused, shown, soup, text

NOBODY = "00000000-0000-4000-8000-000000000000"


def _url(name, row):
    return reverse(f"shop:{name}", args=[row.pk])


def _wall(**fields):
    return {
        "name": "window side",
        "length_ticks": "5.01 m",
        "height_ticks": "2510",
        "corner": "right",
        "inside_angle": "",
        "diagonal_ticks": "",
        "construction": "board_wood",
        "board_thickness_ticks": '1/2"',
        "framing_spacing_ticks": '16"',
    } | fields


def _opening(wall, **fields):
    return {
        "kind": "window",
        "wall": str(wall.pk),
        "name": "bay",
        "from_left_ticks": "0",
        "sill_ticks": "900",
        "reveal_depth_ticks": "120",
        "width_1": "90 cm",
        "width_2": "",
        "width_3": "",
        "height_1": "1200",
        "height_2": "",
        "height_3": "",
        "diagonal_1": "",
        "diagonal_2": "",
        "gets_panel": "on",
    } | fields


def _zone(wall=None, **fields):
    return {
        "kind": "outlet",
        "wall": str(wall.pk) if wall else "",
        "left_ticks": "0",
        "bottom_ticks": "300",
        "width_ticks": "80",
        "height_ticks": "8 cm",
        "note": "double",
    } | fields


def _member(**fields):
    return {"wall": "", "at_ticks": '16"', "note": "nail line"} | fields


@pytest.fixture
def survey(db):
    return make_survey()


class TestWall:
    def test_what_is_typed_is_stored_as_typed(self, client_as, fitter, survey):
        wall = wall_of(survey)
        client_as(fitter).post(_url("wall-change", wall), _wall())
        wall.refresh_from_db()
        assert (wall.length_ticks, wall.length_text) == (mm(5010), "5.01 m")
        assert (wall.framing_spacing_ticks, wall.framing_spacing_text) == (
            16 * 8128,
            '16"',
        )
        assert (wall.construction, wall.height_text) == ("board_wood", "2510")

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("name", ""),
            ("name", "n" * 41),
            *(("name", bad) for bad in BAD_TEXTS),
            ("framing_run", "along"),
            ("length_ticks", "0"),
            ("length_ticks", "-1"),
            ("length_ticks", "1 km"),
            ("length_ticks", "5,000"),
            ("height_ticks", "high"),
            ("construction", "cheese"),
            ("board_thickness_ticks", "9 m"),
            ("framing_spacing_ticks", "1/3"),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(
        self, client_as, fitter, survey, field, value
    ):
        wall = wall_of(survey)
        url = _url("wall-change", wall)
        page = refused(client_as(fitter), url, _wall(**{field: value}), field)
        assert text(page.h1) == "Wall A"
        wall.refresh_from_db()
        assert wall.length_ticks == mm(5000)


class TestOpening:
    def test_one_reading_of_each_is_enough(self, client_as, fitter, survey):
        wall = wall_of(survey, "C")
        url = _url("opening-new", survey)
        page = soup(client_as(fitter).post(url, _opening(wall), follow=True))
        opening = Opening.objects.get()
        assert (opening.wall, opening.from_left_ticks) == (wall, 0)
        read = {(r.axis, r.place): r.text for r in opening.readings.all()}
        assert read == {("width", 1): "90 cm", ("height", 1): "1200"}
        assert "Bay gets a panel" in text(page.select_one("#openings tbody"))

    def test_three_readings_and_both_diagonals(self, client_as, fitter, survey):
        more = {"width_2": "901", "width_3": "902", "height_2": "1201"}
        more |= {"diagonal_1": "1500", "diagonal_2": "1501"}
        url = _url("opening-new", survey)
        client_as(fitter).post(url, _opening(wall_of(survey), **more))
        assert Opening.objects.get().readings.count() == 7

    def test_the_form_opens_on_the_wall_asked_for(self, client_as, fitter, survey):
        wall = wall_of(survey, "D")
        url = f"{_url('opening-new', survey)}?wall={wall.pk}"
        assert shown(soup(client_as(fitter).get(url)), "wall") == str(wall.pk)

    def test_readings_nobody_touched_keep_their_text(self, client_as, fitter, survey):
        wall = wall_of(survey)
        client_as(fitter).post(_url("opening-new", survey), _opening(wall))
        opening = Opening.objects.get()
        url = _url("opening-change", opening)
        page = soup(client_as(fitter).get(url))
        same = {name: shown(page, name) for name in _opening(wall)}
        same = {name: value for name, value in same.items() if value is not False}
        client_as(fitter).post(url, same | {"height_1": "1190", "gets_panel": "on"})
        texts = {r.axis: r.text for r in opening.readings.all()}
        assert texts == {"width": "90 cm", "height": "1190"}

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("kind", "hatch"),
            ("kind", ""),
            ("wall", ""),
            ("wall", "nonsense"),
            ("wall", NOBODY),
            ("name", "n" * 41),
            *(("name", bad) for bad in BAD_TEXTS),
            ("from_left_ticks", "-1"),
            ("from_left_ticks", "left"),
            ("sill_ticks", "-1"),
            ("reveal_depth_ticks", "99999999999999"),
            ("width_1", ""),
            ("width_1", "0"),
            ("width_1", "201 m"),
            ("height_1", ""),
            ("height_1", "51 m"),
            ("width_3", "-2"),
            ("height_2", "abc"),
            ("diagonal_1", "0"),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(
        self, client_as, fitter, survey, field, value
    ):
        typed = _opening(wall_of(survey)) | {field: value}
        refused(client_as(fitter), _url("opening-new", survey), typed, field)
        assert not Opening.objects.exists()

    def test_a_wall_of_another_survey_is_refused(self, client_as, fitter, survey):
        other = wall_of(make_survey())
        url = _url("opening-new", survey)
        refused(client_as(fitter), url, _opening(other), "wall")
        assert not Opening.objects.exists()

    def test_refused_readings_stand_open(self, client_as, fitter, survey):
        typed = _opening(wall_of(survey), diagonal_2="abc")
        page = soup(client_as(fitter).post(_url("opening-new", survey), typed))
        assert page.select_one("details.workings").has_attr("open")

    def test_too_wide_is_stored_and_told(self, client_as, fitter, survey):
        typed = _opening(wall_of(survey), width_1="5.1 m")
        url = _url("opening-new", survey)
        page = soup(client_as(fitter).post(url, typed, follow=True))
        assert "Bay is 5100 mm wide, but wall A is 5000 mm long." in text(page.main)


class TestZone:
    def test_on_a_wall(self, client_as, fitter, survey):
        url = _url("zone-new", survey)
        client_as(fitter).post(url, _zone(wall_of(survey, "B")))
        zone = Zone.objects.get()
        assert (zone.wall.name, zone.height_text) == ("B", "8 cm")
        assert (zone.left_ticks, zone.bottom_ticks) == (0, mm(300))

    def test_on_the_ceiling(self, client_as, fitter, survey):
        url = _url("zone-new", survey)
        answer = client_as(fitter).post(url, _zone(kind="sprinkler"), follow=True)
        assert Zone.objects.get().wall is None
        assert "Ceiling" in text(soup(answer).select_one("#zones tbody"))

    def test_it_is_changed(self, client_as, fitter, survey):
        zone = make_zone(survey=survey)
        client_as(fitter).post(_url("zone-change", zone), _zone(wall_of(survey)))
        zone.refresh_from_db()
        assert (zone.kind, zone.wall.name) == ("outlet", "A")

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("kind", "ghost"),
            ("wall", NOBODY),
            ("margin_ticks", "-1"),
            ("left_ticks", "-1"),
            ("bottom_ticks", "201 m"),
            ("width_ticks", "0"),
            ("height_ticks", "tall"),
            ("note", "n" * 121),
            *(("note", bad) for bad in BAD_TEXTS),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(
        self, client_as, fitter, survey, field, value
    ):
        typed = _zone(wall_of(survey)) | {field: value}
        refused(client_as(fitter), _url("zone-new", survey), typed, field)
        assert not Zone.objects.exists()


PARTS = {
    "wall-change": ("walls", lambda s: wall_of(s), lambda s: _wall()),
    "opening-new": ("openings", lambda s: s, lambda s: _opening(wall_of(s))),
    "zone-new": ("zones", lambda s: s, lambda s: _zone()),
    "opening-change": (
        "openings",
        lambda s: make_opening(wall=wall_of(s)),
        lambda s: _opening(wall_of(s)),
    ),
    "zone-change": ("zones", lambda s: make_zone(survey=s), lambda s: _zone()),
    "member-new": ("members", lambda s: s, lambda s: _member()),
    "member-change": ("members", lambda s: make_member(survey=s), lambda s: _member()),
}


@pytest.mark.parametrize("name", PARTS)
class TestInPlace:
    def test_the_form_opens_where_the_part_stands(
        self, client_as, fitter, survey, name
    ):
        part, subject, _ = PARTS[name]
        answer = client_as(fitter).get(_url(name, subject(survey)), headers=AS_HTMX)
        page = soup(answer)
        assert b"<html" not in answer.content
        assert [node["id"] for node in page.find_all(recursive=False)] == [part]
        assert page.select_one("form.form")["hx-target"] == f"#{part}"

    def test_a_stored_part_comes_back_in_its_list(
        self, client_as, fitter, survey, name
    ):
        part, subject, typed = PARTS[name]
        url = _url(name, subject(survey))
        answer = client_as(fitter).post(url, typed(survey), headers=AS_HTMX)
        page = soup(answer)
        assert answer.status_code == 200
        assert not page.select("form.form")
        assert "stored" in text(page.find(id="messages"))
        assert "surveyChanged" in answer["HX-Trigger"]
        assert page.find(id=part).select("tbody tr")

    def test_a_refused_part_stays_open(self, client_as, fitter, survey, name):
        part, subject, _ = PARTS[name]
        answer = client_as(fitter).post(_url(name, subject(survey)), headers=AS_HTMX)
        assert answer.status_code == 422
        assert soup(answer).select(f"#{part} form #form-errors")

    def test_history_is_refused_with_everything_typed(
        self, client_as, fitter, survey, name
    ):
        _, subject, typed = PARTS[name]
        url, sent = _url(name, subject(survey)), typed(survey)
        by = make_surveyor()
        fresh = Survey(room=survey.room, measured_on=AT.date(), measured_by=by)
        actions.repeat_survey(fresh, follows=survey, by=by, at=AT)
        answer = client_as(fitter).post(url, sent)
        assert answer.status_code == 422
        assert "Survey 1 is history" in text(soup(answer).find(id="form-errors"))

    def test_a_maker_writes_nothing(self, client_as, maker, survey, name):
        url = _url(name, PARTS[name][1](survey))
        for answer in (client_as(maker).get(url), client_as(maker).post(url)):
            assert answer.status_code == 403

    def test_an_outsider_is_sent_to_sign_in(self, client, survey, name):
        answer = client.get(_url(name, PARTS[name][1](survey)))
        assert reverse("shop:sign-in") in answer.url

    def test_a_stale_address_is_not_found(self, client_as, fitter, name):
        url = reverse(f"shop:{name}", args=[uuid.uuid4()])
        assert client_as(fitter).get(url).status_code == 404


@pytest.mark.parametrize("kind", ["opening", "zone", "member"])
class TestTakingOut:
    @pytest.fixture
    def part(self, survey, kind):
        if kind == "member":
            return make_member(survey=survey)
        if kind == "zone":
            return make_zone(survey=survey)
        return make_opening(wall=wall_of(survey))

    def test_it_goes_and_comes_back(self, client_as, fitter, part, kind):
        browser = client_as(fitter)
        page = soup(browser.post(_url(f"{kind}-remove", part), follow=True))
        assert not page.select(f"#{kind}s tbody tr")
        page = soup(
            browser.post(page.select_one("#messages form")["action"], follow=True)
        )
        assert page.select(f"#{kind}s tbody tr")

    def test_htmx_gets_the_list_with_a_way_back(self, client_as, fitter, part, kind):
        url = _url(f"{kind}-remove", part)
        page = soup(client_as(fitter).post(url, headers=AS_HTMX))
        assert page.find(id=f"{kind}s")
        undo = page.select_one("#messages form")["action"]
        assert undo == _url(f"{kind}-restore", part)

    def test_what_is_out_is_not_changed_or_taken_out_again(
        self, client_as, fitter, part, kind
    ):
        browser = client_as(fitter)
        browser.post(_url(f"{kind}-remove", part))
        assert browser.post(_url(f"{kind}-remove", part)).status_code == 404
        assert browser.get(_url(f"{kind}-change", part)).status_code == 404

    def test_history_keeps_it(self, client_as, fitter, survey, part, kind):
        by = make_surveyor()
        fresh = Survey(room=survey.room, measured_on=AT.date(), measured_by=by)
        actions.repeat_survey(fresh, follows=survey, by=by, at=AT)
        browser, url = client_as(fitter), _url(f"{kind}-remove", part)
        answer = browser.post(url)
        assert answer.status_code == 422
        assert "is history" in text(soup(answer).main)
        assert browser.post(url, headers=AS_HTMX)["HX-Redirect"]
        part.refresh_from_db()
        assert part.removed_at is None

    def test_it_takes_a_post_by_one_who_may(self, client_as, fitter, maker, part, kind):
        for name in (f"{kind}-remove", f"{kind}-restore"):
            assert client_as(fitter).get(_url(name, part)).status_code == 405
            assert client_as(maker).post(_url(name, part)).status_code == 403
