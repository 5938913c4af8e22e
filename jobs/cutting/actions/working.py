"""What the worker writes down while it makes a plan; each a short transaction or statement."""

from __future__ import annotations

import datetime as dt
import uuid
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db import transaction

from jobs.cutting.models import CutPlan, CutState, PlanPiece
from jobs.cutting.slots import ON_PLANNED
from shared.audit.actions import record
from shared.nesting import Progress, Verdict

LONGEST = 300
"""What a refusal has room for."""


@dataclass(frozen=True, slots=True)
class Found:
    """What a solver found, whatever is cut: how it is kept, and what lists show of it.

    ``count`` is of sheets, bars or rolls; ``pieces`` are ids of kept pieces that it uses.
    """

    result: dict[str, Any]
    verdict: Verdict
    yield_share: float
    count: int
    pieces: frozenset[uuid.UUID]


def begin(pk: uuid.UUID) -> CutPlan | None:
    """Take up a plan; nothing where it is made already, or not wanted any more.

    One that is being made is taken up again: its worker may have died. Two that make
    the same plan find the same, and the first stores it.
    """
    plans = CutPlan.objects.in_work(pk)
    if not plans.update(state=CutState.PLANNING):
        return None
    return plans.first()


def tell(pk: uuid.UUID, progress: Progress) -> None:
    """Write down how far the search is."""
    CutPlan.objects.in_work(pk).update(
        work_done=progress.work,
        price=progress.price,
        lower_bound=progress.lower_bound,
    )


def keep_so_far(pk: uuid.UUID, result: dict[str, Any]) -> None:
    """Keep the best plan so far, so that another worker can go on from it."""
    CutPlan.objects.in_work(pk).update(result=result)


def is_stop_wanted(pk: uuid.UUID) -> bool:
    """Tell whether somebody wants the search to end, or it was ended already."""
    return not CutPlan.objects.in_work(pk).filter(stop_wanted=False).exists()


@transaction.atomic
def store_found(pk: uuid.UUID, found: Found, *, at: dt.datetime) -> CutPlan | None:
    """Store what was found, once; nothing where another worker was quicker."""
    plan = CutPlan.objects.in_work(pk).select_for_update().first()
    if plan is None:
        return None
    verdict = found.verdict
    plan.state = CutState.PLANNED
    plan.result = found.result
    plan.engine_version = verdict.version
    plan.pieces_used = found.count
    plan.price, plan.lower_bound = verdict.price, verdict.lower_bound
    plan.yield_percent = Decimal(f"{100 * found.yield_share:.2f}")
    plan.work_done, plan.planned_at = verdict.work, at
    plan.save()
    PlanPiece.objects.taken_by(plan).exclude(piece__in=found.pieces).delete()
    text = f"{plan}: {plan.pieces_used} to cut."
    record(plan, verb="planned", text=text, by=None, at=at)
    for follow in ON_PLANNED:
        follow(plan)
    return plan


@transaction.atomic
def refuse(pk: uuid.UUID, sentence: str, *, at: dt.datetime) -> None:
    """Write down why there can be no plan."""
    plan = CutPlan.objects.in_work(pk).select_for_update().first()
    if plan is None:
        return
    plan.state, plan.refusal = CutState.REFUSED, sentence[:LONGEST]
    plan.result = None
    plan.save(update_fields=("state", "refusal", "result"))
    PlanPiece.objects.taken_by(plan).delete()
    record(plan, verb="refused", text=plan.refusal, by=None, at=at)


@transaction.atomic
def end_without(pk: uuid.UUID, *, at: dt.datetime) -> None:
    """End a search that was stopped before it found anything."""
    plan = CutPlan.objects.in_work(pk).select_for_update().first()
    if plan is None:
        return
    plan.state = CutState.STOPPED
    plan.save(update_fields=("state",))
    PlanPiece.objects.taken_by(plan).delete()
    record(plan, verb="stopped", text=f"{plan} stopped.", by=None, at=at)
