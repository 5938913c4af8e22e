"""Real sizes before a cut list prints: what differs from them is planned anew."""

import pytest

from jobs.cutting.actions import CannotPlanError, Real, check_stock
from jobs.cutting.adapter import request_of
from jobs.cutting.models import CutState
from shared.forms import TypedLength
from tests.factories.catalogue import mm
from tests.factories.cutting import made, make_plan
from tests.factories.jobs import AT

pytestmark = pytest.mark.django_db


@pytest.fixture
def plan(shop, maker):
    return make_plan(by=maker)


def real(thickness="15", length="2440", width="1220"):
    sides = {"thickness": thickness, "length": length, "width": width}
    return Real(**{n: TypedLength(mm(float(t)), t) for n, t in sides.items()})


def check(plan, by, **sides):
    return check_stock(plan, real(**sides), by=by, at=AT)


def test_what_is_as_planned_is_confirmed_by_whom(plan, maker):
    now = check(plan, maker)
    assert now == plan
    assert (now.checked_by, now.checked_at) == (maker, AT)
    assert (now.real_length_text, now.real_width_ticks) == ("2440", mm(1220))


def test_a_shorter_sheet_is_planned_anew_with_what_is_there(plan, maker):
    now = check(plan, maker, length="2438.5")
    plan.refresh_from_db()
    assert (plan.state, plan.successor) == (CutState.REPLACED, now)
    assert {row.panel for row in now.plan_panels.all()} == {
        row.panel for row in plan.plan_panels.all()
    }
    again = made(now)
    assert (again.state, again.is_checked) == (CutState.PLANNED, True)
    sizes = {source.length_ticks for source in request_of(again).sources}
    assert sizes == {mm(2438.5)}
    assert request_of(again).parts == request_of(plan).parts


def test_another_thickness_takes_the_panels_off_anew(plan, maker):
    """A rail between two stiles grows by what both lack: 600 − 2 × 14.6 = 570.8."""
    now = check(plan, maker, thickness="14.6")
    request = request_of(now)
    assert request.thickness_ticks == mm(14.6)
    keys = {part.key for part in request.parts}
    assert {"570.8 × 75 mm", "1170.8 × 100 mm", "600 × 100 mm"} <= keys
    (pair,) = (part for part in request.parts if part.is_pair)
    assert pair.thickness_ticks == mm(14.6)
    assert made(now).state == CutState.PLANNED


def test_a_thickness_that_makes_no_panel_is_refused_and_nothing_changes(plan, maker):
    with pytest.raises(CannotPlanError, match="can't be built"):
        check(plan, maker, thickness="299")
    plan.refresh_from_db()
    assert (plan.state, plan.checked_at) == (CutState.PLANNED, None)


def test_of_two_people_who_measure_the_second_is_told(plan, maker, office):
    check(plan, maker, length="2438")
    with pytest.raises(CannotPlanError, match="look again"):
        check(plan, office, length="2439")
