"""Parts of a room that are made on a device, written field by field, taken out again."""

import datetime as dt
import json
import uuid
from types import SimpleNamespace

import pytest
from django.core.exceptions import ValidationError
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shared.audit.models import Entry
from shop.surveys.actions.fields import change_part
from shop.surveys.models import Beam, Member, Opening, Reading, Wall, Zone
from tests.devices import write
from tests.factories.surveys import (
    MM,
    make_opening,
    make_survey,
    make_zone,
    mm,
    wall_of,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def survey(shop):
    return make_survey()


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


@pytest.mark.parametrize(
    ("model", "kind", "said"),
    [
        (Opening, "opening", {"kind": "door"}),
        (Zone, "zone", {"kind": "outlet"}),
        (Member, "member", {}),
    ],
)
def test_a_part_on_a_wall_is_made_with_its_id(survey, fitter, send, model, kind, said):
    wall, pk = wall_of(survey), uuid.uuid4()
    (answer,) = send(fitter, new(kind, pk, f"wall:{wall.pk}", **said))
    assert answer["status"] == "stored"
    made = model.objects.get(pk=pk)
    assert made.wall == wall
    assert [getattr(made, name) for name in said] == list(said.values())
    assert Entry.objects.filter(by=fitter, verb="measure").exists()


@pytest.mark.parametrize(
    ("model", "kind"), [(Zone, "zone"), (Member, "member"), (Beam, "beam")]
)
def test_a_part_of_the_ceiling_is_made(survey, fitter, send, model, kind):
    pk = uuid.uuid4()
    (answer,) = send(fitter, new(kind, pk, f"survey:{survey.pk}"))
    assert answer["status"] == "stored"
    assert model.objects.get(pk=pk).survey == survey


def test_a_wall_is_put_into_the_walk_after_another(survey, fitter, send):
    pk = uuid.uuid4()
    (answer,) = send(fitter, new("wall", pk, f"wall:{wall_of(survey, 'B').pk}"))
    assert answer["status"] == "stored"
    assert "".join(wall.name for wall in survey.walls.standing()) == "ABECD"


def test_a_part_made_again_is_the_same(survey, fitter, send):
    wall, pk = wall_of(survey), uuid.uuid4()
    for _ in range(2):
        (answer,) = send(fitter, new("opening", pk, f"wall:{wall.pk}"))
        assert answer["status"] == "stored"
    assert Opening.objects.count() == 1


@pytest.mark.parametrize(
    "of", ["wall:{other}", "zone:{wall}", "beam:{wall}", "", "wall:nonsense"]
)
def test_what_it_belongs_to_has_to_be_there(survey, fitter, send, of):
    of = of.format(other=uuid.uuid4(), wall=wall_of(survey).pk)
    (answer,) = send(fitter, new("opening", uuid.uuid4(), of))
    assert answer["status"] == "refused"
    assert answer["sentence"].endswith(".")
    assert not Opening.objects.exists()


def test_a_wall_that_was_taken_out_takes_nothing(survey, fitter, send):
    Wall.objects.filter(survey=survey, name="A").update(removed_at="2026-03-02T10:00Z")
    wall = wall_of(survey)
    (answer,) = send(fitter, new("opening", uuid.uuid4(), f"wall:{wall.pk}"))
    assert (answer["status"], answer["sentence"]) == (
        "refused",
        "What this belongs to is no longer there.",
    )


@pytest.mark.parametrize("value", ["", "[]", "{", "null", '{"of": 5}', '{"kind": {}}'])
def test_nonsense_makes_nothing(survey, fitter, send, value):
    pk = uuid.uuid4()
    item = new("opening", pk, "") | {"value": value}
    (answer,) = send(fitter, item)
    assert answer["status"] == "refused"


def test_a_kind_that_there_is_not_is_refused(survey, fitter, send):
    item = new("zone", uuid.uuid4(), f"survey:{survey.pk}", kind="dragon")
    (answer,) = send(fitter, item)
    assert answer["status"] == "refused"
    assert not Zone.objects.exists()


def test_who_may_not_survey_makes_nothing(survey, maker, send):
    (answer,) = send(maker, new("beam", uuid.uuid4(), f"survey:{survey.pk}"))
    assert answer["status"] == "refused"
    assert not Beam.objects.exists()


class TestReadings:
    """Each reading of an opening is a field of its own."""

    def test_a_reading_is_kept_as_typed_beside_the_others(self, survey, fitter, send):
        opening = make_opening(wall=wall_of(survey))
        (answer,) = send(fitter, change("opening", opening.pk, "width_2", "0.91 m"))
        assert (answer["status"], answer["value"]) == ("stored", "0.91 m")
        widths = opening.readings.filter(axis="width").values_list("place", "ticks")
        assert list(widths) == [(1, 900 * MM), (2, 910 * MM)]

    def test_a_reading_is_taken_back(self, survey, fitter, send):
        opening = make_opening(wall=wall_of(survey))
        item = change("opening", opening.pk, "width_1", "", was="900")
        (answer,) = send(fitter, item)
        assert (answer["status"], answer["value"]) == ("stored", "")
        assert not opening.readings.filter(axis="width").exists()

    @pytest.mark.parametrize("typed", ["two arms", "0", "-1", "9999 m"])
    def test_what_is_no_length_is_refused(self, survey, fitter, send, typed):
        opening = make_opening(wall=wall_of(survey))
        (answer,) = send(fitter, change("opening", opening.pk, "height_3", typed))
        assert answer["status"] == "refused"
        assert Reading.objects.count() == 2


@pytest.mark.parametrize(
    ("kind", "field", "value", "column", "stored"),
    [
        ("wall", "corner", "left", "corner", "left"),
        ("wall", "angle", "135", "turn_millidegrees", 45_000),
        ("wall", "diagonal", "6400", "diagonal_ticks", mm(6400)),
        ("wall", "construction", "brick", "construction", "brick"),
        ("wall", "board", "12.5", "board_thickness_ticks", mm(12.5)),
        ("wall", "spacing", "600", "framing_spacing_ticks", mm(600)),
        ("wall", "run", "upright", "framing_run", "upright"),
        ("wall", "heated", "yes", "heated", True),
        ("survey", "height", "2.5 m", "height_ticks", mm(2500)),
        ("survey", "shape", "slope", "ceiling_shape", "slope"),
        ("room", "name", "Booth", "name", "Booth"),
        ("room", "use", "voice", "use", "voice"),
        ("site", "address", "2 Mill Lane", "address", "2 Mill Lane"),
        ("opening", "glass", "double", "glass", "double"),
        ("opening", "faces", "sw", "faces", "sw"),
        ("opening", "gets_panel", "yes", "gets_panel", True),
        ("opening", "panel_depth", "40", "panel_depth_ticks", mm(40)),
        ("zone", "margin", "50", "margin_ticks", mm(50)),
    ],
)
def test_a_field_is_stored(survey, fitter, send, kind, field, value, column, stored):
    row = row_of(survey, kind)
    was = {
        "survey": "2500",
        "room": "Front room",
        "site": row_of(survey, "site").address,
    }
    item = change(
        kind, row.pk, field, value, was=WAS.get((kind, field), was.get(kind, ""))
    )
    (answer,) = send(fitter, item)
    assert (answer["status"], answer["value"]) == ("stored", value)
    row.refresh_from_db()
    assert getattr(row, column) == stored


WAS = {
    ("wall", "corner"): "right",
    ("survey", "shape"): "flat",
    ("room", "use"): "",
}


def row_of(survey, kind):
    """A row of a kind."""
    wall = wall_of(survey)
    return {
        "wall": lambda: wall,
        "survey": lambda: survey,
        "room": lambda: survey.room,
        "site": lambda: survey.room.site,
        "opening": lambda: make_opening(wall=wall),
        "zone": lambda: make_zone(survey=survey, wall=wall),
    }[kind]()


def test_a_clients_name_and_phone_are_stored(survey, fitter, send):
    client = survey.room.site.client
    answers = send(
        fitter,
        change("client", client.pk, "name", "Mara Quill", was=client.details.name),
        change("client", client.pk, "phone", "0117 4960", was=client.details.phone),
    )
    assert [a["status"] for a in answers] == ["stored", "stored"]
    client.details.refresh_from_db()
    assert (client.details.name, client.details.phone_digits) == (
        "Mara Quill",
        "01174960",
    )


@pytest.mark.parametrize(
    ("kind", "field", "value", "was"),
    [
        ("wall", "corner", "round", "right"),
        ("wall", "angle", "90", ""),
        ("wall", "angle", "400", ""),
        ("wall", "heated", "perhaps", ""),
        ("room", "name", "", "Front room"),
        ("opening", "glass", "gold", ""),
    ],
)
def test_what_can_not_be_is_refused(survey, fitter, send, kind, field, value, was):
    row = row_of(survey, kind)
    (answer,) = send(fitter, change(kind, row.pk, field, value, was=was))
    assert answer["status"] == "refused"
    assert answer["sentence"].endswith(".")


class TestOneColumn:
    """A field is written alone: nothing else of its row is checked or stored again."""

    def test_the_rest_of_the_row_stays(self, survey, fitter, send):
        stale = wall_of(survey)
        send(fitter, change("wall", stale.pk, "construction", "brick"))
        stale.length_ticks, stale.length_text = mm(5100), "5100"
        at = dt.datetime(2026, 3, 2, tzinfo=dt.UTC)
        change_part(stale, ("length_ticks", "length_text"), by=fitter, at=at)
        wall = wall_of(survey)
        assert (wall.length_text, wall.construction) == ("5100", "brick")

    def test_a_rule_that_it_is_part_of_is_checked(self, survey, fitter):
        wall = wall_of(survey)
        wall.diagonal_ticks = 0
        at = dt.datetime(2026, 3, 2, tzinfo=dt.UTC)
        with pytest.raises(ValidationError, match="longer than nothing"):
            change_part(wall, ("diagonal_ticks",), by=fitter, at=at)

    @pytest.mark.parametrize(
        ("kind", "field", "was"),
        [("wall", "length", "5000"), ("survey", "height", "2500")],
    )
    def test_only_its_own_rules_are_asked(self, survey, fitter, send, kind, field, was):
        row = row_of(survey, kind)
        with CaptureQueriesContext(connection) as asked:
            send(fitter, change(kind, row.pk, field, "2600", was=was))
        assert len([one for one in asked if "_check" in one["sql"]]) == 1


class TestTakingOut:
    """A tick takes a part out, unticking puts it back."""

    def test_out_and_back(self, survey, fitter, send):
        zone = make_zone(survey=survey, wall=wall_of(survey))
        out = change("zone", zone.pk, "removed", "yes")
        back = change("zone", zone.pk, "removed", "", was="yes", after=out["key"])
        (answer,) = send(fitter, out)
        assert (answer["status"], answer["value"]) == ("stored", "yes")
        assert not Zone.objects.standing().exists()
        (answer,) = send(fitter, back)
        assert (answer["status"], answer["value"]) == ("stored", "")
        assert Zone.objects.standing().exists()

    def test_three_walls_stay(self, survey, fitter, send):
        walls = [wall_of(survey, name) for name in "ABCD"]
        answers = send(
            fitter, *(change("wall", wall.pk, "removed", "yes") for wall in walls)
        )
        assert [a["status"] for a in answers] == ["stored", *["refused"] * 3]
