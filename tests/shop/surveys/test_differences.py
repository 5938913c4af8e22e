"""What differs between two surveys, followed by lineage."""

import pytest

from shop.surveys import actions
from shop.surveys.models import Furniture, Opening, Survey
from shop.surveys.reports.differences import differences
from tests.factories.catalogue import make_finish
from tests.factories.surveys import (
    AT,
    make_beam,
    make_covering,
    make_member,
    make_opening,
    make_spot,
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
    rows = Survey.objects.with_inside()
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


class TestWhatIsInside:
    @pytest.fixture
    def furnished(self, first):
        make_member(survey=first, wall=wall_of(first, "B"))
        make_covering(survey=first, finish=make_finish(name="Plaster"))
        make_covering(survey=first, surface="wall", wall=wall_of(first, "C"))
        bay = wall_of(first, "A").openings.get()
        make_covering(survey=first, surface="opening", opening=bay)
        make_spot(survey=first, name="sofa")
        Furniture.objects.create(survey=first, kind="person", count=2)
        return first

    def test_a_copy_takes_all_over_and_does_not_differ(self, furnished):
        after = follow(furnished)
        assert compared(furnished, after) == []
        opening = after.coverings.get(surface="opening").opening
        assert opening.wall.survey == after
        assert after.coverings.get(surface="wall").wall.survey == after
        assert (after.furniture.get().count, after.spots.count()) == (2, 1)

    def test_what_was_taken_out_is_not_taken_over(self, furnished):
        for part in (furnished.spots.get(), furnished.coverings.get(surface="walls")):
            actions.take_out(part, by=make_surveyor(), at=AT)
        after = follow(furnished)
        assert not after.spots.exists()
        assert not after.coverings.filter(surface="walls").exists()

    def test_changes_are_told_one_by_one(self, furnished):
        after = follow(furnished)
        after.members.update(at_ticks=mm(777))
        after.coverings.filter(surface="walls").update(finish=make_finish(name="Cork"))
        after.spots.update(left_ticks=mm(2600))
        after.furniture.update(count=3)
        Opening.objects.filter(wall__survey=after).update(glass="double", faces="s")
        after.zones.update(margin_ticks=mm(50))
        found = {
            (of, what): (was, now) for of, what, was, now in compared(furnished, after)
        }
        assert found[("Stud in wall B", "its centre")][1] == "777 mm"
        assert found[("Finish of all walls", "finish")] == ("Plaster", "Cork")
        assert found[("Sofa", "from the last wall")] == ("2500 mm", "2600 mm")
        assert found[("Furniture", "people, usually")] == ("2", "3")
        assert found[("Bay", "glass")] == ("not looked at yet", "double")
        assert found[("Bay", "faces")][1] == "south"
        assert found[("Switch on B", "kept clear round it")][1] == "50 mm"
        assert len(found) == 7


NOT_COMPARED = {
    "id", "created_at", "lineage", "removed_at", "position", "room", "survey",
    "revision", "measured_on", "measured_by", "version", "wall", "turn_millidegrees",
}  # fmt: skip
"""What no walk reads, or what is compared as something else."""

MAKE = {
    "survey": lambda survey: survey,
    "wall": wall_of,
    "opening": lambda survey: make_opening(wall=wall_of(survey)),
    "zone": lambda survey: make_zone(survey=survey, wall=wall_of(survey)),
    "member": lambda survey: make_member(survey=survey, wall=wall_of(survey)),
    "beam": lambda survey: make_beam(survey=survey),
    "spot": lambda survey: make_spot(survey=survey),
}


def _other(row, field):
    """A value that the field does not have now."""
    now = getattr(row, field.name)
    if field.choices:
        kept = {"angle", "diagonal"}  # these two hang on figures of their own
        return next(v for v, _ in field.choices if v != now and v not in kept)
    if field.get_internal_type() == "BooleanField":
        return not now
    return mm(777) if field.name.endswith("_ticks") else "another"


@pytest.mark.parametrize("kind", MAKE)
def test_every_field_that_a_walk_reads_is_compared(kind):
    survey = make_survey()
    made = MAKE[kind](survey)
    after = follow(survey)
    rows = type(made).objects.exclude(pk=made.pk)
    fresh = after if kind == "survey" else rows.get(lineage=made.lineage)
    for field in type(made)._meta.concrete_fields:
        if field.name in NOT_COMPARED or field.name.endswith("_text"):
            continue
        now, other = getattr(fresh, field.name), _other(fresh, field)
        type(made).objects.filter(pk=fresh.pk).update(**{field.name: other})
        assert compared(survey, after), f"{kind}: {field.name} is not compared"
        type(made).objects.filter(pk=fresh.pk).update(**{field.name: now})
