"""What lies on the bench as the tape and the calliper say, before anything is printed."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace
from typing import Any

from django.db import transaction

from jobs.board.models import Panel
from jobs.cutting.actions.asking import CannotPlanError, plan_anew
from jobs.cutting.adapter import (
    CannotBeBuiltError,
    alike,
    parts_of,
    request_of,
    with_real_size,
)
from jobs.cutting.engine import Request
from jobs.cutting.models import CutPlan, CutState
from shared.audit.actions import record
from shared.forms import TypedLength
from shop.people.models import Person


@dataclass(frozen=True, slots=True)
class Real:
    """Sizes as measured, with the texts that they were typed as."""

    thickness: TypedLength
    length: TypedLength
    width: TypedLength

    def columns(self) -> dict[str, Any]:
        """Return them as a plan's columns."""
        sides = ("thickness", "length", "width")
        ticks = {f"real_{side}_ticks": getattr(self, side).ticks for side in sides}
        texts = {f"real_{side}_text": getattr(self, side).text for side in sides}
        return ticks | texts


def check_stock(plan: CutPlan, real: Real, *, by: Person, at: dt.datetime) -> CutPlan:
    """Write down real sizes; return the plan to cut by, a new one where they differ.

    Another length or width: the same parts are planned again. Another thickness: the
    panels are taken off anew with it first, since rails and braces fit between others.
    Raises `CannotPlanError`.
    """
    if plan.state != CutState.PLANNED:
        raise CannotPlanError(f"{plan} is {plan.get_state_display()}: look again.")
    request = request_of(plan)
    wanted = _with_real(plan, request, real)
    if wanted == request:
        return _confirm(plan, real, by=by, at=at)
    changes = real.columns() | {"checked_at": at, "checked_by": by}
    start = plan.result["plan"] if plan.result else None
    return plan_anew(plan, wanted, by=by, at=at, start=start, **changes)


def _with_real(plan: CutPlan, request: Request, real: Real) -> Request:
    """Return what has to be planned with the real sizes; slow, so before a transaction."""
    material = str(plan.material_id)
    wanted = with_real_size(
        request,
        material,
        length_ticks=real.length.ticks,
        width_ticks=real.width.ticks,
    )
    if real.thickness.ticks == request.thickness_ticks or plan.is_fill:
        return wanted
    ids = plan.plan_panels.values_list("panel_id", flat=True)
    groups = alike(Panel.objects.by_ids(ids).with_group())
    try:
        parts = parts_of(
            groups, material, units=request.units, real_ticks=real.thickness.ticks
        )
    except CannotBeBuiltError as refused:
        raise CannotPlanError(str(refused)) from refused
    return replace(wanted, parts=parts, thickness_ticks=real.thickness.ticks)


@transaction.atomic
def _confirm(plan: CutPlan, real: Real, *, by: Person, at: dt.datetime) -> CutPlan:
    held = CutPlan.objects.select_for_update().get(pk=plan.pk)
    if held.state != CutState.PLANNED:
        raise CannotPlanError(f"{held} is {held.get_state_display()}: look again.")
    columns = real.columns() | {"checked_at": at, "checked_by": by}
    for name, value in columns.items():
        setattr(held, name, value)
    held.save(update_fields=tuple(columns))
    sizes = " × ".join(
        each.text for each in (real.length, real.width, real.thickness) if each.text
    )
    text = f"{held.material} measured: {sizes}."
    record(held, verb="measured", text=text, by=by, at=at)
    return held
