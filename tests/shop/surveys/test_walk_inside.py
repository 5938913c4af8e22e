"""Finishes, furniture, places and the way in, written from a device, and on the walk."""

import json
import uuid
from types import SimpleNamespace

import pytest
from django.urls import reverse

from shared.models import Entry
from shop.surveys.models import Covering, Furniture, Spot
from tests.devices import write
from tests.factories.catalogue import make_finish
from tests.factories.surveys import (
    make_covering,
    make_opening,
    make_spot,
    make_survey,
    mm,
    wall_of,
)
from tests.pages import grows, soup, text

pytestmark = pytest.mark.django_db


@pytest.fixture
def survey(shop):
    return make_survey()


@pytest.fixture
def walk(client_as, fitter, survey):
    return lambda: soup(
        client_as(fitter).get(reverse("shop:survey-walk", args=[survey.pk]))
    )


def new(kind, pk, of, /, **said):
    """The write by which a device makes a part."""
    return write(
        SimpleNamespace(pk=pk),
        json.dumps({"of": of} | said),
        op=f"{kind}-new",
        lane=f"{kind}:{pk}",
        field="new",
    )


def change(kind, pk, field, value, /, **more):
    """The write of one field."""
    usual = {"op": kind, "lane": f"{kind}:{pk}", "field": field, "was": ""}
    return write(SimpleNamespace(pk=pk), value, **usual | more)


class TestFinishes:
    @pytest.mark.parametrize("surface", ["walls", "ceiling", "floor"])
    def test_one_is_made_on_a_surface_and_then_chosen(
        self, survey, fitter, send, surface
    ):
        pk, cork = uuid.uuid4(), make_finish(name="Cork")
        answers = send(
            fitter,
            new("covering", pk, f"survey:{survey.pk}", surface=surface),
            change("covering", pk, "finish", str(cork.pk)),
            change("covering", pk, "width", "2 m"),
        )
        assert [one["status"] for one in answers] == ["stored"] * 3
        row = Covering.objects.get(pk=pk)
        assert (row.surface, row.finish) == (surface, cork)
        assert (row.width_ticks, row.width_text) == (mm(2000), "2 m")

    @pytest.mark.parametrize("kind", ["wall", "opening"])
    def test_one_is_made_on_a_wall_or_an_opening(self, survey, fitter, send, kind):
        wall = wall_of(survey)
        place = {"wall": wall, "opening": make_opening(wall=wall)}[kind]
        pk = uuid.uuid4()
        (answer,) = send(fitter, new("covering", pk, f"{kind}:{place.pk}"))
        assert answer["status"] == "stored"
        row = Covering.objects.get(pk=pk)
        assert (row.surface, getattr(row, kind), row.survey) == (kind, place, survey)

    @pytest.mark.parametrize("value", ["gold", str(uuid.UUID(int=0))])
    def test_a_finish_that_is_none_is_refused(self, survey, fitter, send, value):
        row = make_covering(survey=survey)
        (answer,) = send(fitter, change("covering", row.pk, "finish", value))
        assert answer["status"] == "refused"
        assert answer["sentence"]

    def test_a_wall_that_is_not_named_is_refused(self, survey, fitter, send):
        of = f"survey:{survey.pk}"
        (answer,) = send(fitter, new("covering", uuid.uuid4(), of, surface="wall"))
        assert answer["status"] == "refused"
        assert "which wall" in answer["sentence"]

    def test_it_is_taken_out_and_put_back(self, survey, fitter, send):
        row = make_covering(survey=survey)
        first = change("covering", row.pk, "removed", "yes")
        send(fitter, first)
        assert not Covering.objects.standing().exists()
        send(fitter, change("covering", row.pk, "removed", "", after=first["key"]))
        assert Covering.objects.standing().exists()

    def test_one_choice_finishes_the_room_and_is_read_back(
        self, survey, fitter, send, walk
    ):
        item = change("survey", survey.pk, "preset", "office")
        (answer,) = send(fitter, item)
        assert (answer["status"], answer["value"]) == ("stored", "office")
        assert Covering.objects.count() == 3
        chosen = walk().select_one(f"#survey-{survey.pk}-preset option[selected]")
        assert chosen["value"] == "office"

    def test_a_kind_of_room_that_nobody_knows_is_refused(self, survey, fitter, send):
        (answer,) = send(fitter, change("survey", survey.pk, "preset", "barn"))
        assert answer["status"] == "refused"


class TestFurniture:
    def test_a_count_is_stored_and_shown(self, survey, fitter, send, walk):
        (answer,) = send(fitter, change("survey", survey.pk, "count_person", "12"))
        assert (answer["status"], answer["value"]) == ("stored", "12")
        assert Furniture.objects.get().count == 12
        box = walk().select_one(f"#survey-{survey.pk}-count_person")
        assert box["value"] == "12"

    def test_another_kind_meanwhile_is_no_conflict(self, survey, fitter, owner, send):
        send(fitter, change("survey", survey.pk, "count_person", "12"))
        (answer,) = send(owner, change("survey", survey.pk, "count_sofa", "1"))
        assert answer["status"] == "stored"
        (other,) = send(owner, change("survey", survey.pk, "count_person", "9"))
        assert (other["status"], other["value"]) == ("conflict", "12")

    @pytest.mark.parametrize("value", ["many", "-1", "5001", "1.5"])
    def test_what_is_no_count_is_refused(self, survey, fitter, send, value):
        (answer,) = send(fitter, change("survey", survey.pk, "count_bed", value))
        assert answer["status"] == "refused"


class TestSpots:
    def test_one_is_made_and_read(self, survey, fitter, send):
        pk = uuid.uuid4()
        answers = send(
            fitter,
            new("spot", pk, f"survey:{survey.pk}", kind="loudspeaker"),
            change("spot", pk, "left", "1.2 m"),
            change("spot", pk, "bottom", "0"),
            change("spot", pk, "name", "left one"),
        )
        assert [one["status"] for one in answers] == ["stored"] * 4
        spot = Spot.objects.get(pk=pk)
        assert (spot.kind, spot.left_ticks, spot.bottom_ticks, spot.name) == (
            "loudspeaker",
            mm(1200),
            0,
            "left one",
        )

    def test_the_same_write_again_makes_no_second(self, survey, fitter, send):
        item = new("spot", uuid.uuid4(), f"survey:{survey.pk}")
        assert [send(fitter, item)[0]["status"] for _ in range(2)] == [
            "stored",
            "repeat",
        ]
        assert Spot.objects.count() == 1


class TestSite:
    @pytest.mark.parametrize(
        ("field", "typed", "column", "kept"),
        [
            ("parking", "behind", "parking", "behind"),
            ("narrowest_door", "72 cm", "narrowest_door_ticks", mm(720)),
            ("year_built", "1931", "year_built", 1931),
            ("tenure", "tenant", "tenure", "tenant"),
            ("purchase_order", "PO-4471", "purchase_order", "PO-4471"),
            ("access_notes", "Ring twice.", "access_notes", "Ring twice."),
        ],
    )
    def test_a_field_is_stored_and_shown(
        self, survey, fitter, send, walk, field, typed, column, kept
    ):
        site = survey.room.site
        was = str(getattr(site, column) or "")
        (answer,) = send(fitter, change("site", site.pk, field, typed, was=was))
        assert (answer["status"], answer["value"]) == ("stored", typed)
        site.refresh_from_db()
        assert getattr(site, column) == kept
        assert walk().select_one(f"#site-{site.pk}-{field}")
        assert Entry.objects.filter(by=fitter).exists()

    @pytest.mark.parametrize(
        ("field", "typed"),
        [
            ("narrowest_door", "narrow"),
            ("narrowest_door", "6 m"),
            ("year_built", "3000"),
            ("tenure", "squatter"),
            ("parking", "p" * 201),
        ],
    )
    def test_what_its_form_refuses_is_refused(self, survey, fitter, send, field, typed):
        site = survey.room.site
        (answer,) = send(fitter, change("site", site.pk, field, typed))
        assert answer["status"] == "refused"


class TestPage:
    def test_it_has_a_list_and_a_button_for_each_place(self, survey, walk):
        opening = make_opening(wall=wall_of(survey))
        page = walk()
        for lane in (
            f"survey:{survey.pk}",
            f"wall:{wall_of(survey).pk}",
            f"opening:{opening.pk}",
        ):
            for name in ("parts", "add"):
                found = page.select(
                    f'[data-offline-{name}="covering"][data-offline-of="{lane}"]'
                )
                assert found, (lane, name)
        for kind in ("covering", "spot"):
            assert page.select(f'template[data-offline-template="{kind}"]')

    def test_what_is_noted_is_shown_where_it_is(self, survey, walk):
        make_covering(survey=survey, surface="wall", wall=wall_of(survey, "B"))
        make_spot(survey=survey, name="sofa")
        page = walk()
        (wall,) = page.select(f"#wall-{wall_of(survey, 'B').pk}")
        assert "Finish of wall B" in text(wall)
        assert "Sofa" in text(page.select_one("#places"))

    def test_finishes_put_aside_are_not_offered(self, survey, walk):
        make_finish(name="Old felt", archived_at="2026-03-02T10:00:00Z")
        make_finish(name="Cork")
        words = text(walk().select_one('template[data-offline-template="covering"]'))
        assert "Cork" in words
        assert "Old felt" not in words

    def test_queries_do_not_grow(self, survey, client_as, fitter):
        def more():
            make_covering(survey=survey)
            make_spot(survey=survey)

        url = reverse("shop:survey-walk", args=[survey.pk])
        assert grows(client_as(fitter), url, more) == 0
