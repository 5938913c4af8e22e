"""What differs between two surveys, followed by lineage."""

import pytest

from shop.surveys import actions
from shop.surveys.models import Survey
from shop.surveys.reports.differences import differences
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

pytestmark = pytest.mark.django_db


@pytest.fixture
def first():
    survey = make_survey()
    make_opening(wall=wall_of(survey, "A"), name="bay")
    make_zone(survey=survey, wall=wall_of(survey, "B"))
    return survey


def follow(survey):
    by = make_surveyor()
    fresh = Survey(room=survey.room, measured_on=AT.date(), measured_by=by)
    return actions.repeat_survey(fresh, follows=survey, by=by, at=AT)


def compared(before, now):
    rows = Survey.objects.with_parts()
    found = differences(rows.get(pk=before.pk), rows.get(pk=now.pk))
    return [(row.of, row.what, row.before, row.now) for row in found]


def test_a_copy_does_not_differ(first):
    assert compared(first, follow(first)) == []


def test_a_wall_read_anew(first):
    after = follow(first)
    after.walls.filter(name="A").update(length_ticks=mm(5010), construction="brick")
    assert compared(first, after) == [
        ("Wall A", "length", "5000 mm", "5010 mm"),
        ("Wall A", "made of", "not looked at yet", "brick"),
    ]


def test_a_renamed_wall_is_the_same_wall(first):
    after = follow(first)
    after.walls.filter(name="C").update(name="window side")
    assert compared(first, after) == [("Wall window side", "name", "C", "window side")]


def test_what_came_and_what_went(first):
    after = follow(first)
    actions.take_out(after.zones.get(), by=make_surveyor(), at=AT)
    make_opening(wall=wall_of(after, "D"), kind="door")
    assert set(compared(first, after)) == {
        ("Switch on B", "", "there", "gone"),
        ("Door in D", "", "not there", "new"),
    }


def test_readings_are_compared_one_by_one(first):
    after = follow(first)
    opening = wall_of(after, "A").openings.get()
    opening.readings.filter(axis="width").update(ticks=mm(899))
    assert compared(first, after) == [("Bay", "width 1", "900 mm", "899 mm")]


def test_the_ceiling_is_compared(first):
    after = follow(first)
    Survey.objects.filter(pk=after.pk).update(height_ticks=mm(2490), heated=True)
    assert compared(first, after) == [
        ("Room", "ceiling height", "2500 mm", "2490 mm"),
        ("Room", "ceiling, heated", "no", "yes"),
    ]


def test_corners_the_ceilings_shape_and_beams_are_compared(first):
    after = follow(first)
    after.walls.filter(name="A").update(corner="angle", turn_millidegrees=45_000)
    Survey.objects.filter(pk=after.pk).update(ceiling_shape="slope")
    make_beam(survey=after)
    found = compared(first, after)
    assert (
        "Wall A",
        "corner at its end",
        "square, to the right",
        "135° inside",
    ) in found
    assert ("Beam", "", "not there", "new") in found
    assert found[0][:3] == ("Room", "shape of the ceiling", "flat")
