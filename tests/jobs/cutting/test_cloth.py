"""Cloth: from takeoffs to a plan, one dye lot for a job, measured, cut, taken back."""

import pytest

from jobs.cutting.adapter import alike, cloth_parts
from jobs.cutting.models import CutState
from shared.length import UnitSystem
from tests.factories.cloth import make_cloth, make_cloth_job, make_cloth_plan

pytestmark = pytest.mark.django_db


@pytest.fixture
def cloth(shop):
    return make_cloth()


def test_every_cloth_of_the_takeoffs_is_a_piece_with_its_lays(cloth, maker):
    kinds = (("wall-panel", 600, 1200, 3), ("hung-panel", 1200, 900, 1))
    job = make_cloth_job(by=maker, cloth=cloth, kinds=kinds)
    groups = alike(job.panels.with_group())
    parts = cloth_parts(groups, str(cloth.pk), units=UnitSystem.METRIC)
    lays = {(p.width_ticks, p.height_ticks, p.label): p for p in parts}
    for group in groups:
        for each in group.takeoff().cloths:
            if each.material != str(cloth.pk):
                continue
            part = lays[each.width_ticks, each.height_ticks, each.role]
            assert [(x.across_ticks, x.along_ticks * x.drops) for x in part.lays] == [
                (x.across_ticks, x.along_ticks) for x in each.lays
            ]
            owners = [o.panel for o in part.owners]
            assert set(owners) >= {str(p.pk) for p in group.panels}


def test_a_plan_is_made(cloth, maker):
    plan = make_cloth_plan(by=maker, cloth=cloth)
    assert (plan.state, plan.refusal) == (CutState.PLANNED, "")
