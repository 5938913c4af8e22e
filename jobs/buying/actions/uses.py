"""Take material out of the stores for a job, by hand or because a plan was cut."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.db import transaction

from jobs.board.models import Job
from jobs.buying.actions.errors import CannotOrderError
from jobs.buying.models import JobUse
from jobs.buying.reports.needs import job_shares
from jobs.cutting.models import CutPlan
from jobs.cutting.slots import StockUse
from shared.audit.actions import record
from shop.catalogue.actions.errors import StockError
from shop.catalogue.actions.stock import move_stock, undo_move
from shop.catalogue.models import Material, StockReason
from shop.catalogue.reports.stock import below_nothing
from shop.people.models import Person


@dataclass(frozen=True, slots=True)
class Out:
    """So much of a material, of one dye lot, goes out for a job."""

    material: Material
    quantity: Decimal
    lot: str = ""


@transaction.atomic
def take_out(
    job: Job, outs: Sequence[Out], *, by: Person, at: dt.datetime
) -> tuple[str, ...]:
    """Book what a job took, all of it or nothing; return what has to be told of it."""
    locked: Job = Job.objects.select_for_update().get(pk=job.pk)
    if locked.is_taken_back:
        raise CannotOrderError(f"{job.code} was taken back: nothing is used for it.")
    told = [_take(locked, out, by=by, at=at) for out in outs]
    names = ", ".join(out.material.name for out in outs)
    record(locked, verb="used", text=f"Taken out: {names}.", by=by, at=at)
    return tuple(filter(None, told))


def _take(job: Job, out: Out, *, by: Person, at: dt.datetime) -> str:
    try:
        move = move_stock(
            out.material,
            -out.quantity,
            StockReason.USED,
            lot=out.lot,
            note=f"for {job.code}",
            by=by,
            at=at,
        )
    except StockError as refused:
        raise CannotOrderError(str(refused)) from refused
    JobUse.objects.create(move=move, job=job, quantity=out.quantity)
    return below_nothing(out.material)


@transaction.atomic
def put_back(job: Job, booked_at: dt.datetime, *, by: Person, at: dt.datetime) -> None:
    """Put back into the stores what was taken out for a job at one moment."""
    locked: Job = Job.objects.select_for_update().get(pk=job.pk)
    uses = list(JobUse.objects.of_job(locked).standing().booked_at(booked_at).by_hand())
    if not uses:
        raise CannotOrderError("That was put back already.")
    for use in uses:
        try:
            undo_move(use.move, by=by, at=at)
        except StockError as refused:
            raise CannotOrderError(str(refused)) from refused
    record(locked, verb="used", text="Put back.", by=by, at=at)


def book_cut(plan: CutPlan, uses: Sequence[StockUse]) -> None:
    """Share out what a finished plan took to the jobs in it, by the area of their panels.

    Called inside the transaction that finishes the plan; the moves are made already, and
    taking the finishing back undoes them, which takes these uses out of the count.
    """
    rows = plan.plan_panels.select_related("panel").defer("panel__snapshot")
    panels = [row.panel for row in rows]
    for use in uses:
        JobUse.objects.bulk_create(
            JobUse(move=use.move, job_id=job, quantity=share, plan=plan)
            for job, share in job_shares(abs(use.quantity), panels).items()
            if share
        )
