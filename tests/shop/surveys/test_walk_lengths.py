"""What was typed stays as typed, as long as it still reads as the same length."""

import pytest

from shared.conventions import Conventions, using
from shared.length import UnitSystem
from shop.surveys.models import Axis, Reading, Survey
from shop.surveys.reports.walk import walk_page
from tests.factories.surveys import make_opening, make_survey, mm, wall_of

pytestmark = pytest.mark.django_db


def shown(survey, units):
    found = Survey.objects.with_room().with_parts().get(pk=survey.pk)
    with using(Conventions(unit_system=units)):
        wall = walk_page(found, None).walls[0]
    opening = wall.parts["openings"][0]
    return wall.fields["length"].value, opening.fields["width_1"].value


@pytest.mark.parametrize(
    ("units", "expected"),
    [
        (UnitSystem.METRIC, ("4870", "1 m")),
        # 4870 bare would be inches there.
        (UnitSystem.IMPERIAL, ('191.7323"', "1 m")),
    ],
)
def test_a_bare_number_follows_a_change_of_the_shops_units(shop, units, expected):
    survey = make_survey()
    wall = wall_of(survey, "A")
    wall.length_ticks, wall.length_text = mm(4870), "4870"
    wall.save()
    opening = make_opening(wall=wall)
    opening.readings.all().delete()
    Reading.objects.create(
        opening=opening, axis=Axis.WIDTH, place=1, ticks=mm(1000), text="1 m"
    )
    assert shown(survey, units) == expected
