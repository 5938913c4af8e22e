"""Rooms and surveys change by actions: what they store, refuse and write down."""

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction

from shared.audit.models import Entry
from shop.clients.models import Site
from shop.surveys import actions
from shop.surveys.models import Axis, Opening, Reading, Room, Survey, Wall, Zone
from tests.factories.clients import make_client
from tests.factories.surveys import (
    AT,
    make_opening,
    make_room,
    make_survey,
    make_surveyor,
    make_zone,
    mm,
    wall_of,
)

pytestmark = pytest.mark.django_db


def begin_next(survey):
    by = make_surveyor()
    fresh = Survey(room=survey.room, measured_on=AT.date(), measured_by=by)
    return actions.repeat_survey(fresh, follows=survey, by=by, at=AT)


def who():
    return {"by": make_surveyor(), "at": AT}


def new_site():
    return Site(client=make_client(name="Ossa"), address="9 Quay")


def test_a_room_with_a_new_site_stores_both():
    room = actions.add_room(Room(name="Bar"), new_site=new_site(), **who())
    assert room.site.address == "9 Quay"
    assert Entry.objects.about("room", room.pk).get().verb == "add"


def test_a_refused_room_leaves_no_site_behind():
    with pytest.raises(ValidationError):
        actions.add_room(Room(name=""), new_site=new_site(), **who())
    assert not Site.objects.exists()


def test_a_first_survey_has_four_walls_clockwise():
    survey = make_survey(length_mm=5000, width_mm=4000)
    read = [(w.name, w.length_ticks, w.length_text) for w in survey.walls.all()]
    assert read == [
        ("A", mm(5000), "5000"),
        ("B", mm(4000), "4000"),
        ("C", mm(5000), "5000"),
        ("D", mm(4000), "4000"),
    ]
    assert survey.revision == 1


def test_a_second_first_survey_is_refused():
    survey = make_survey()
    with pytest.raises(ValidationError, match="begun meanwhile"):
        make_survey(room=survey.room)
    assert Survey.objects.count() == 1
    assert Wall.objects.count() == 4


def test_the_next_survey_copies_all_and_keeps_lineage():
    survey = make_survey(construction="grid", heated=True)
    wall = wall_of(survey, "B")
    make_opening(wall=wall, widths_mm=(900, 901, 902), diagonals_mm=(1500, 1501))
    make_zone(survey=survey, wall=wall)
    make_zone(survey=survey, kind="sprinkler")
    after = begin_next(survey)
    assert after.revision == 2
    for model, path in ((Wall, "survey"), (Zone, "survey"), (Opening, "wall__survey")):
        old = model.objects.filter(**{path: survey})
        new = model.objects.filter(**{path: after})
        assert {row.lineage for row in old} == {row.lineage for row in new}
        assert not {row.pk for row in old} & {row.pk for row in new}
    assert Reading.objects.filter(opening__wall__survey=after).count() == 6
    assert after.zones.get(kind="switch").wall == wall_of(after, "B")


def test_the_ceiling_is_copied_unless_it_was_read_anew():
    survey = make_survey(height_mm=2500, construction="grid", heated=True)
    after = begin_next(survey)
    assert (after.height_ticks, after.height_text) == (mm(2500), "2500")
    assert (after.construction, after.heated) == ("grid", True)


def test_what_was_taken_out_is_not_copied():
    survey = make_survey()
    opening = make_opening(wall=wall_of(survey))
    actions.take_out(opening, **who())
    assert not Opening.objects.filter(wall__survey=begin_next(survey)).exists()


def test_the_next_survey_follows_the_latest_alone():
    survey = make_survey()
    begin_next(survey)
    with pytest.raises(ValidationError, match="Survey 2 was begun meanwhile"):
        begin_next(survey)


@pytest.mark.parametrize("part", ["wall", "opening", "zone", "survey"])
def test_history_is_not_changed(part):
    survey = make_survey()
    opening = make_opening(wall=wall_of(survey))
    zone = make_zone(survey=survey)
    begin_next(survey)
    change = {
        "wall": lambda: actions.change_wall(wall_of(survey), **who()),
        "opening": lambda: actions.take_out(opening, **who()),
        "zone": lambda: actions.store_zone(zone, **who()),
        "survey": lambda: actions.change_survey(survey, use="", **who()),
    }[part]
    with pytest.raises(ValidationError, match="Survey 1 is history"):
        change()
    opening.refresh_from_db()
    assert opening.removed_at is None


def test_each_change_counts():
    survey = make_survey()
    zone = make_zone(survey=survey)
    actions.change_wall(wall_of(survey), **who())
    actions.take_out(zone, **who())
    actions.put_back(zone, **who())
    survey.refresh_from_db()
    assert survey.version == 3


def test_changing_the_ceiling_counts_too():
    survey = make_survey()
    survey.height_ticks, survey.height_text = mm(2600), "2600"
    actions.change_survey(survey, use="cafe", **who())
    survey.refresh_from_db()
    assert (survey.version, survey.height_ticks) == (1, mm(2600))
    assert survey.room.use == "cafe"


def test_an_opening_has_exactly_the_readings_given():
    opening = make_opening(wall=wall_of(make_survey()), widths_mm=(900, 901))
    read = [
        Reading(axis=Axis.WIDTH, place=1, ticks=mm(890), text="890"),
        Reading(axis=Axis.HEIGHT, place=1, ticks=mm(1200), text="1200"),
    ]
    actions.store_opening(opening, read, **who())
    stored = {(r.axis, r.place): r.text for r in opening.readings.all()}
    assert stored == {("width", 1): "890", ("height", 1): "1200"}


def test_a_refused_reading_leaves_the_old_ones():
    opening = make_opening(wall=wall_of(make_survey()))
    with pytest.raises(ValidationError):
        actions.store_opening(
            opening, [Reading(axis=Axis.WIDTH, place=1, ticks=0, text="0")], **who()
        )
    assert opening.readings.count() == 2


CONSTRAINTS = {
    "room without a name": lambda s: make_room(name=""),
    "room of unknown use": lambda s: make_room(use="castle"),
    "survey number twice": lambda s: Survey.objects.create(
        room=s.room, revision=1, measured_on=AT, measured_by=s.measured_by
    ),
    "height of nothing": lambda s: Survey.objects.filter(pk=s.pk).update(
        height_ticks=0
    ),
    "ceiling of cheese": lambda s: Survey.objects.filter(pk=s.pk).update(
        construction="cheese"
    ),
    "wall of nothing": lambda s: s.walls.update(length_ticks=0),
    "wall of cheese": lambda s: s.walls.update(construction="cheese"),
    "walls at one place": lambda s: s.walls.update(position=0),
    "wall height of nothing": lambda s: s.walls.update(height_ticks=0),
    "opening of no kind": lambda s: make_opening(wall=wall_of(s), kind="hatch"),
    "opening outside": lambda s: make_opening(wall=wall_of(s), from_left_mm=-1),
    "reading of nothing": lambda s: make_opening(wall=wall_of(s), widths_mm=(0,)),
    "a fourth reading": lambda s: make_opening(wall=wall_of(s), widths_mm=(1,) * 4),
    "zone of no size": lambda s: make_zone(survey=s, width_ticks=0),
    "zone outside": lambda s: make_zone(survey=s, left_ticks=-1),
    "zone of no kind": lambda s: make_zone(survey=s, kind="ghost"),
}


@pytest.mark.parametrize("violate", CONSTRAINTS.values(), ids=list(CONSTRAINTS))
def test_the_database_refuses(violate):
    survey = make_survey()
    with pytest.raises(IntegrityError), transaction.atomic():
        violate(survey)


def test_lineage_is_in_a_survey_once():
    survey = make_survey()
    one = make_zone(survey=survey)
    with pytest.raises(IntegrityError), transaction.atomic():
        make_zone(survey=survey, lineage=one.lineage)


def test_what_was_stored_is_written_down_on_the_room():
    survey = make_survey()
    actions.change_wall(wall_of(survey, "B"), **who())
    actions.store_zone(make_zone(survey=survey), **who())
    said = {entry.text for entry in Entry.objects.about("room", survey.room_id)}
    assert {"Survey 1: wall B stored", "Survey 1: switch stored"} <= said
