"""Ticks at the saw from a device that is away: a row is a field of its plan."""

from __future__ import annotations

import datetime as dt
import uuid
from typing import Any

from jobs.cutting import actions
from jobs.cutting.engine.results import rows_of
from jobs.cutting.models import CutPlan, CutTick
from shared.access import Right
from shared.offline import Op, Refused, register

TICKED, OPEN = "yes", ""


def _plan(pk: uuid.UUID) -> CutPlan:
    plan: CutPlan | None = CutPlan.objects.by_ids([pk]).first()
    if plan is None:
        raise Refused("This cut plan is no longer there.")
    return plan


def _tick(by: Any, pk: uuid.UUID, key: str, value: str, at: dt.datetime) -> None:
    plan = _plan(pk)
    keys = {row.key for row in rows_of(plan.result)} if plan.result else set()
    if key not in keys or value not in {TICKED, OPEN}:
        raise Refused("This row is no longer in the cut plan.")
    try:
        actions.tick_row(plan, key, on=value == TICKED, by=by, at=at)
    except actions.CannotPlanError as refused:
        raise Refused(str(refused)) from refused


def _read(pk: uuid.UUID, key: str) -> str:
    return TICKED if key in CutTick.objects.standing(_plan(pk)) else OPEN


def register_ops() -> None:
    """Name the writes that a cut plan takes."""
    register(Op("cut-tick", "cut-plan", None, Right.CUT, write=_tick, read=_read))
