"""Walls put into the walk and taken out, their corners, and how the plan is closed."""

import pytest
from django.urls import reverse

from shop.surveys import actions
from shop.surveys.models import Beam, Survey, Wall
from shop.surveys.reports.facts import survey_facts
from tests.cast import AS_HTMX
from tests.factories.surveys import (
    AT,
    make_beam,
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


def wall(**fields):
    return {
        "name": "E",
        "length_ticks": "1 m",
        "height_ticks": "",
        "corner": "right",
        "inside_angle": "",
        "diagonal_ticks": "",
        "construction": "",
        "board_thickness_ticks": "",
        "framing_spacing_ticks": "",
    } | fields


def beam(**fields):
    return {
        "kind": "soffit",
        "length_ticks": "4 m",
        "width_ticks": "200",
        "drop_ticks": "300",
        "note": "over the bar",
    } | fields


def walk(survey):
    return [w.name for w in survey.walls.standing()]


@pytest.fixture
def survey(db):
    return make_survey()


class TestTheWalk:
    def test_a_wall_goes_in_after_another(self, client_as, fitter, survey):
        page = client_as(fitter)
        assert (
            shown(soup(page.get(_url("wall-new", wall_of(survey, "B")))), "name") == "E"
        )
        answer = page.post(_url("wall-new", wall_of(survey, "B")), wall())
        assert answer.status_code == 302
        assert walk(survey) == ["A", "B", "E", "C", "D"]

    def test_after_the_last_one_too(self, client_as, fitter, survey):
        client_as(fitter).post(_url("wall-new", wall_of(survey, "D")), wall())
        assert walk(survey) == ["A", "B", "C", "D", "E"]

    def test_a_wall_is_taken_out_with_what_is_on_it_and_put_back(
        self, client_as, fitter, survey
    ):
        page, b = client_as(fitter), wall_of(survey, "B")
        make_opening(wall=b, name="bay")
        make_zone(survey=survey, wall=b)
        answer = page.post(_url("wall-remove", b), follow=True)
        assert walk(survey) == ["A", "C", "D"]
        listed = text(soup(answer).select_one("#openings"))
        assert "bay" not in listed.lower()
        assert _url("wall-restore", b) in answer.text
        answer = page.post(_url("wall-restore", b), follow=True)
        assert walk(survey) == ["A", "B", "C", "D"]
        assert "Bay" in text(soup(answer).select_one("#openings tbody"))

    def test_it_comes_back_to_a_walk_that_was_changed_meanwhile(
        self, client_as, fitter, survey
    ):
        page, b = client_as(fitter), wall_of(survey, "B")
        page.post(_url("wall-remove", b))
        page.post(_url("wall-new", wall_of(survey, "A")), wall())
        page.post(_url("wall-restore", b))
        assert walk(survey) == ["A", "B", "E", "C", "D"]

    def test_three_walls_stay(self, client_as, fitter, survey):
        page = client_as(fitter)
        page.post(_url("wall-remove", wall_of(survey, "D")))
        answer = page.post(_url("wall-remove", wall_of(survey, "C")))
        assert answer.status_code == 422
        assert "three walls or more" in answer.text
        assert walk(survey) == ["A", "B", "C"]

    def test_the_next_survey_leaves_out_what_was_taken_out(self, survey):
        by = make_surveyor()
        actions.take_out(wall_of(survey, "D"), by=by, at=AT)
        make_beam(survey=survey)
        fresh = Survey(room=survey.room, measured_on=AT.date(), measured_by=by)
        actions.repeat_survey(fresh, follows=survey, by=by, at=AT)
        assert [w.name for w in fresh.walls.all()] == ["A", "B", "C"]
        assert fresh.beams.count() == 1

    @pytest.mark.parametrize("name", ["wall-remove", "wall-restore"])
    def test_only_by_post_and_only_by_those_who_measure(
        self, client_as, fitter, maker, survey, name
    ):
        url = _url(name, wall_of(survey))
        assert client_as(fitter).get(url).status_code == 405
        assert client_as(maker).post(url).status_code == 403

    @pytest.mark.parametrize(
        "name", ["wall-new", "wall-change", "beam-new", "beam-change"]
    )
    def test_nobody_else_gets_the_forms(
        self, client, client_as, maker, fitter, name, db
    ):
        url = reverse(f"shop:{name}", args=[NOBODY])
        assert client.get(url).status_code == 302
        assert client_as(maker).get(url).status_code == 403
        assert client_as(fitter).get(url).status_code == 404

    def test_a_wall_that_was_taken_out_is_not_changed(self, client_as, fitter, survey):
        gone = wall_of(survey, "D")
        actions.take_out(gone, by=make_surveyor(), at=AT)
        assert client_as(fitter).get(_url("wall-change", gone)).status_code == 404
        assert client_as(fitter).get(_url("wall-new", gone)).status_code == 404


class TestCorners:
    def test_by_its_angle(self, client_as, fitter, survey):
        a = wall_of(survey)
        typed = wall(name="A", corner="angle", inside_angle="134.5")
        client_as(fitter).post(_url("wall-change", a), typed)
        a.refresh_from_db()
        assert (a.corner, a.turn_millidegrees) == ("angle", 45_500)
        form = soup(client_as(fitter).get(_url("wall-change", a)))
        assert shown(form, "inside_angle") == "134.5"

    def test_by_a_diagonal_it_follows_the_walls(self, client_as, fitter, survey):
        a = wall_of(survey)
        typed = wall(
            name="A", length_ticks="3000", corner="diagonal", diagonal_ticks="5 m"
        )
        page = soup(client_as(fitter).post(_url("wall-change", a), typed, follow=True))
        a.refresh_from_db()
        assert (a.turn_millidegrees, a.diagonal_text) == (90_000, "5 m")
        assert "90° inside, by its diagonal" in text(page.select_one("#walls tbody"))
        Wall.objects.filter(pk=wall_of(survey, "B").pk).update(length_ticks=mm(9000))
        page = soup(client_as(fitter).get(survey.get_absolute_url()))
        assert "no triangle has such sides" in text(page.select_one("#told"))

    def test_to_the_left(self, client_as, fitter, survey):
        client_as(fitter).post(
            _url("wall-change", wall_of(survey)), wall(corner="left")
        )
        assert wall_of(survey, "E").turn_millidegrees == -90_000

    @pytest.mark.parametrize(
        ("field", "value", "also"),
        [
            ("corner", "", {}),
            ("corner", "round", {}),
            ("inside_angle", "", {"corner": "angle"}),
            ("inside_angle", "wide", {"corner": "angle"}),
            ("inside_angle", "0", {"corner": "angle"}),
            ("inside_angle", "-90", {"corner": "angle"}),
            ("inside_angle", "360", {"corner": "angle"}),
            ("inside_angle", "9" * 40, {"corner": "angle"}),
            ("inside_angle", "1e2", {"corner": "angle"}),
            ("diagonal_ticks", "", {"corner": "diagonal"}),
            ("diagonal_ticks", "0", {"corner": "diagonal"}),
            ("diagonal_ticks", "99 m", {"corner": "diagonal"}),
            ("diagonal_ticks", "far", {"corner": "diagonal"}),
            *(("name", bad, {}) for bad in BAD_TEXTS),
            *(("inside_angle", bad, {"corner": "angle"}) for bad in BAD_TEXTS),
        ],
    )
    def test_bad_input_is_refused_beside_its_field(
        self, client_as, fitter, survey, field, value, also
    ):
        url = _url("wall-new", wall_of(survey))
        refused(client_as(fitter), url, wall(**also | {field: value}), field)
        assert walk(survey) == ["A", "B", "C", "D"]


class TestClosing:
    def page(self, browser, survey):
        return soup(browser.get(survey.get_absolute_url()))

    def test_what_is_adjusted_stands_beside_the_readings(
        self, client_as, fitter, survey
    ):
        Wall.objects.filter(survey=survey, name="A").update(length_ticks=mm(5020))
        page = self.page(client_as(fitter), survey)
        rows = [text(row) for row in page.select("#walls tbody tr")]
        for row, said in ((0, ("5020", "5010", "−10")), (2, ("5000", "5010", "+10"))):
            assert all(words in rows[row] for words in said)
        assert "right angles held" in text(page.select_one("#walls"))
        told = text(page.select_one("#told"))
        assert "ends 20 mm from where it began, 0.11% of the round" in told
        assert "Read walls A and C again first" in told

    def test_a_room_that_closes_says_nothing_of_it(self, client_as, fitter, survey):
        page = self.page(client_as(fitter), survey)
        assert "Drawn as" not in text(page.select_one("#walls"))
        assert "Shared out" not in text(page.select_one("#walls"))

    def test_what_print_cannot_show_is_no_change(self, client_as, fitter, survey):
        read = mm(5000) + 16  # a twentieth of a millimetre
        Wall.objects.filter(survey=survey, name="A").update(length_ticks=read)
        walls = text(self.page(client_as(fitter), survey).select_one("#walls"))
        assert "Drawn as" in walls
        assert not any(by in walls for by in ("+0 mm", "−0 mm"))

    def test_a_slip_is_not_shared_out(self, client_as, fitter, survey):
        Wall.objects.filter(survey=survey, name="A").update(length_ticks=mm(9000))
        page = self.page(client_as(fitter), survey)
        assert "drawn as read" in text(page.select_one("#walls"))

    def test_a_corner_the_wrong_way_is_told(self, client_as, fitter, survey):
        Wall.objects.filter(survey=survey, name="B").update(corner="left")
        told = text(self.page(client_as(fitter), survey).select_one("#told"))
        assert "turn by 180° in all" in told


class TestCeiling:
    def volume(self, survey):
        return survey_facts(Survey.objects.with_parts().get(pk=survey.pk)).volume_m3

    def test_a_beam_takes_its_box_from_the_volume(self, client_as, fitter, survey):
        assert self.volume(survey) == pytest.approx(50)
        client_as(fitter).post(_url("beam-new", survey), beam())
        assert self.volume(survey) == pytest.approx(50 - 0.24)
        only = Beam.objects.get()
        client_as(fitter).post(_url("beam-change", only), beam(drop_ticks="600"))
        assert self.volume(survey) == pytest.approx(50 - 0.48)
        client_as(fitter).post(_url("beam-remove", only))
        assert self.volume(survey) == pytest.approx(50)
        client_as(fitter).post(_url("beam-restore", only))
        assert self.volume(survey) == pytest.approx(50 - 0.48)

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("kind", "cloud"),
            *(
                (name, bad)
                for name in ("length_ticks", "width_ticks", "drop_ticks")
                for bad in ("", "0", "-1", "long", "9999 m")
            ),
            ("note", "n" * 121),
        ],
    )
    def test_bad_beams_are_refused(self, client_as, fitter, survey, field, value):
        url = _url("beam-new", survey)
        refused(client_as(fitter), url, beam(**{field: value}), field)
        assert not Beam.objects.exists()

    def test_a_slope_by_three_corners(self, client_as, fitter, survey):
        Survey.objects.filter(pk=survey.pk).update(ceiling_shape="slope")
        assert self.volume(survey) is None
        page = soup(client_as(fitter).get(survey.get_absolute_url()))
        assert "at three corners or more" in text(page.select_one("#missing").parent)
        for name, height in (("A", 2000), ("B", 2000), ("C", 3000)):
            Wall.objects.filter(survey=survey, name=name).update(
                height_ticks=mm(height)
            )
        assert self.volume(survey) == pytest.approx(5 * 4 * 2.5)

    def test_every_corner(self, survey):
        Survey.objects.filter(pk=survey.pk).update(ceiling_shape="corners")
        survey.walls.update(height_ticks=mm(2400))
        assert self.volume(survey) == pytest.approx(5 * 4 * 2.4)


def test_in_place_a_wall_comes_back_in_its_list(client_as, fitter, survey):
    answer = client_as(fitter).post(
        _url("wall-new", wall_of(survey)), wall(), headers=AS_HTMX
    )
    page = soup(answer)
    assert answer.status_code == 200
    assert page.html is None
    assert page.find(id="walls")
    assert answer["HX-Trigger"]
