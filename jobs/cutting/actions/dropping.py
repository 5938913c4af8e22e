"""Stop a search, drop a plan, and take that back."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from functools import partial

from django.db import transaction

from jobs.cutting.actions.asking import CannotPlanError, refuse_taken
from jobs.cutting.adapter import (
    cloth_request_of,
    cloth_used,
    pieces_used,
    plan_of,
    request_of,
    roll_plan,
)
from jobs.cutting.models import CutPlan, CutState, PlanPiece
from jobs.cutting.slots import ON_PLANNED
from shared.audit.actions import record
from shop.catalogue.models import StockPiece
from shop.people.models import Person


@transaction.atomic
def stop_plan(plan: CutPlan, *, by: Person, at: dt.datetime) -> CutPlan:
    """End the making of a plan: with the best so far, or without one.

    What nobody has begun ends at once; what is being made ends when its worker hears of
    it, or when the next one takes it up; asked a second time, it ends without one.
    """
    # here, not above: the task calls what stores the plan, in this package
    from jobs.cutting.tasks import make_plan

    held = CutPlan.objects.select_for_update().get(pk=plan.pk)
    if held.state == CutState.ASKED or (held.is_in_work and held.stop_wanted):
        held.state = CutState.STOPPED
        PlanPiece.objects.taken_by(held).delete()
    elif held.state == CutState.PLANNING:
        held.stop_wanted = True
        transaction.on_commit(partial(make_plan.enqueue, str(held.pk)))
    else:
        return held
    held.save(update_fields=("state", "stop_wanted"))
    record(held, verb="stop", text=f"{held} is to stop.", by=by, at=at)
    return held


@transaction.atomic
def drop_plan(plan: CutPlan, *, by: Person, at: dt.datetime) -> CutPlan:
    """Put aside a plan that is not cut: its panels and pieces are free again.

    Raises `CannotPlanError` where it is no longer a plan to be cut.
    """
    held = CutPlan.objects.select_for_update().get(pk=plan.pk)
    if held.state not in (CutState.PLANNED, CutState.REFUSED):
        raise CannotPlanError(f"{held} is {held.get_state_display()}: look again.")
    held.state = CutState.STOPPED
    held.save(update_fields=("state",))
    PlanPiece.objects.taken_by(held).delete()
    for follow in ON_PLANNED:
        follow(held)
    record(held, verb="dropped", text=f"{held} dropped.", by=by, at=at)
    return held


def _pieces(plan: CutPlan) -> Iterable[str]:
    """Return the ids of kept pieces that a plan that was made cuts up."""
    if plan.is_roll:
        cloth = roll_plan(plan)
        return cloth_used(cloth_request_of(plan), cloth) if cloth else ()
    found = plan_of(plan)
    return pieces_used(request_of(plan), found) if found else ()


@transaction.atomic
def restore_plan(plan: CutPlan, *, by: Person, at: dt.datetime) -> CutPlan:
    """Take a dropped plan back, if its panels and pieces are still free.

    Raises `CannotPlanError`.
    """
    held = CutPlan.objects.select_for_update().get(pk=plan.pk)
    if held.state != CutState.STOPPED or not held.result or held.planned_at is None:
        raise CannotPlanError(f"{held} is {held.get_state_display()}: look again.")
    refuse_taken(held.material, held.plan_panels.values_list("panel_id", flat=True))
    used = set(_pieces(held))
    kept = StockPiece.objects.kept().select_for_update().values_list("pk", flat=True)
    free = {str(pk) for pk in kept} - {str(pk) for pk in PlanPiece.objects.held()}
    if used - free:
        raise CannotPlanError("An offcut that it cuts up is gone, or in another plan.")
    PlanPiece.objects.bulk_create(
        PlanPiece(plan=held, piece_id=pk, taken=True) for pk in sorted(used)
    )
    held.state = CutState.PLANNED
    held.save(update_fields=("state",))
    for follow in ON_PLANNED:
        follow(held)
    record(held, verb="restored", text=f"{held} taken back.", by=by, at=at)
    return held
