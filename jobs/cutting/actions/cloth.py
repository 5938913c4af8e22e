"""Cloth: asked for by job, measured, all cut; one dye lot for a job."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db import transaction

from jobs.board.models import Panel
from jobs.cutting.actions.asking import (
    SERIES,
    Ask,
    CannotPlanError,
    Store,
    keep_plan,
    nothing_to_plan,
    plan_anew,
    refuse_taken,
)
from jobs.cutting.adapter import (
    Alike,
    CannotBeBuiltError,
    alike,
    cloth_parts,
    cloth_request_of,
    cloth_sources,
    request_to_json,
    wanted_of,
    with_real_roll,
)
from jobs.cutting.adapter.cloth import (
    levels_of,
    metres_cut,
    roll_plan,
)
from jobs.cutting.adapter.facts import facts_of
from jobs.cutting.engine.cloth import ClothPart, ClothRequest
from jobs.cutting.engine.cloth_left import (
    Rest,
    area_in_parts_m2,
    area_used_m2,
    rests_of,
)
from jobs.cutting.models import CutKind, CutPlan, CutState, PlanPiece, YieldFinding
from jobs.cutting.slots import ON_CUT, StockUse
from jobs.gates.engine import cutting_of
from jobs.gates.reports import held_up, lots_of
from shared.audit.actions import record
from shared.conventions import current
from shared.forms import TypedLength
from shared.numbering import next_number
from shop.catalogue.actions import keep_piece, move_stock, use_piece
from shop.catalogue.models import Material, StockPiece, StockReason
from shop.people.models import Person

CUT = "cut"


@dataclass(frozen=True, slots=True)
class _Worked:
    """What is to be cut of one cloth for panels of one job."""

    ask: Ask
    groups: tuple[Alike, ...]
    parts: tuple[ClothPart, ...]
    lot: str

    @property
    def panels(self) -> list[Panel]:
        return [panel for group in self.groups for panel in group.panels]


def ready_cloth(ask: Ask) -> Store:
    """Work out what is to be cut of a cloth; return what stores the plan.

    Panels that a shut gate holds up are left out. Raises `CannotPlanError`.
    """
    panels = Panel.objects.live().by_ids(ask.panels).with_group().select_related("job")
    key = str(ask.material.pk)
    using = [group for group in alike(panels) if key in group.cloths]
    ready, waiting = free_to_cut(using, ask.material)
    if not ready:
        raise CannotPlanError(nothing_to_plan(ask.material, waiting))
    jobs = {panel.job_id for group in ready for panel in group.panels}
    if len(jobs) > 1:
        message = (
            "Cloth is planned for one job at a time: each has a dye lot of its own."
        )
        raise CannotPlanError(message)
    try:
        parts = cloth_parts(
            ready,
            key,
            units=current().unit_system,
            may_turn=ask.settings.may_turn,
            directional=ask.material.directional,
            repair_ticks=min(ask.settings.repair_ticks, _usable(ask.material)),
        )
    except CannotBeBuiltError as refused:
        raise CannotPlanError(str(refused)) from refused
    (job,) = jobs
    lot = lots_of([job]).get((job, ask.material.pk), "")
    worked = _Worked(ask, tuple(ready), parts, lot)
    return lambda by, at: _store(worked, by=by, at=at)


def _usable(material: Material) -> int:
    return (material.width_ticks or 0) - 2 * (material.selvedge_ticks or 0)


def free_to_cut(
    groups: Iterable[Alike], material: Material
) -> tuple[list[Alike], list[Panel]]:
    """Part panels that can be cut for now from those that wait for something."""
    every = list(groups)
    held = held_up({panel.job_id for group in every for panel in group.panels})
    act, ready, waiting = cutting_of(CutKind.ROLL), list[Alike](), list[Panel]()
    for group in every:
        free = tuple(
            panel
            for panel in group.panels
            if not held.shut(panel.job_id, act, material=material.pk, panel=panel)
        )
        waiting += [panel for panel in group.panels if panel not in free]
        if free:
            ready.append(Alike(free, group.snapshot))
    return ready, waiting


def _store(worked: _Worked, *, by: Person, at: dt.datetime) -> CutPlan:
    ask, settings = worked.ask, worked.ask.settings
    material, panels = ask.material, worked.panels
    ids = [panel.pk for panel in panels]
    refuse_taken(material, ids)
    pieces = remnants_of(material) if settings.use_offcuts else []
    sources, has_price = cloth_sources(
        material,
        pieces,
        levels_of(material),
        lot=worked.lot,
        currency=current().currency,
    )
    request = ClothRequest(
        sources=sources,
        parts=worked.parts,
        panels=wanted_of(worked.groups),
        job=panels[0].job.code,
        has_price=has_price,
        units=current().unit_system,
        repeat_ticks=material.repeat_ticks or None,
        directional=material.directional,
        spare_percent=Decimal(settings.flaw_percent),
        lot=worked.lot,
        facts=facts_of(material, worked.groups),
    )
    plan = CutPlan(
        number=next_number(SERIES, year=0),
        kind=CutKind.ROLL,
        material=material,
        keep_length_ticks=settings.keep_length_ticks,
        keep_width_ticks=settings.keep_width_ticks,
        flaw_percent=settings.flaw_percent,
        repair_ticks=settings.repair_ticks,
        lot=worked.lot,
        asked_by=by,
        asked_at=at,
        request=request_to_json(request),
    )
    offered = [uuid.UUID(s.piece) for s in sources if s.is_piece]
    return keep_plan(plan, ids, offered, by=by, at=at)


def remnants_of(material: Material) -> list[StockPiece]:
    """Return kept remnants that no other plan has in view."""
    held = PlanPiece.objects.held()
    kept = StockPiece.objects.kept().of_material(material).select_for_update()
    return [piece for piece in kept if piece.pk not in held]


def check_roll(
    plan: CutPlan, width: TypedLength, lot: str, *, by: Person, at: dt.datetime
) -> CutPlan:
    """Write down the real width and dye lot; return the plan to cut by, new if it differs.

    Raises `CannotPlanError` where the roll is of another lot than the client signed for.
    """
    if plan.state != CutState.PLANNED:
        raise CannotPlanError(f"{plan} is {plan.get_state_display()}: look again.")
    _refuse_lot(plan, lot)
    request = cloth_request_of(plan)
    wanted = with_real_roll(request, width.ticks)
    found: dict[str, Any] = {
        "real_width_ticks": width.ticks,
        "real_width_text": width.text,
        "checked_at": at,
        "checked_by": by,
        "lot": plan.lot or lot,
    }
    if wanted != request:
        return plan_anew(plan, wanted, by=by, at=at, **found)
    return _confirm(plan, found, by=by, at=at)


def _refuse_lot(plan: CutPlan, lot: str) -> None:
    """Refuse a roll of another dye lot than was signed for, or is planned from."""
    found = roll_plan(plan)
    planned = {each.casefold(): each for each in (found.lots if found else ()) if each}
    if not lot:
        return
    if plan.lot and lot.casefold() != plan.lot.casefold():
        raise CannotPlanError(
            f"The job's dye lot is {plan.lot}; this roll is of {lot}. Ask the client"
            " again before it is cut."
        )
    if planned and lot.casefold() not in planned:
        lots = ", ".join(planned.values())
        raise CannotPlanError(f"It is planned from lot {lots}; this roll is of {lot}.")


@transaction.atomic
def _confirm(
    plan: CutPlan, found: dict[str, Any], *, by: Person, at: dt.datetime
) -> CutPlan:
    held = CutPlan.objects.select_for_update().get(pk=plan.pk)
    if held.state != CutState.PLANNED:
        raise CannotPlanError(f"{held} is {held.get_state_display()}: look again.")
    for name, value in found.items():
        setattr(held, name, value)
    held.save(update_fields=tuple(found))
    text = f"{held.material} measured: {found['real_width_text']} wide."
    record(held, verb="measured", text=text, by=by, at=at)
    return held


@transaction.atomic
def finish_cloth(
    plan: CutPlan, *, keep: Collection[str], by: Person, at: dt.datetime
) -> CutPlan:
    """Write down that all cloth of a plan is cut, and which remnants are kept.

    The remnant for repairs is kept by itself. Raises `CannotPlanError` where somebody was
    quicker, `StockError` where a remnant is gone: nothing is stored then.
    """
    held = (
        CutPlan.objects.select_for_update().select_related("material").get(pk=plan.pk)
    )
    found = roll_plan(held)
    if held.state != CutState.PLANNED or found is None:
        raise CannotPlanError(f"{held} is {held.get_state_display()}: look again.")
    request = cloth_request_of(held)
    held.state, held.cut_at = CutState.CUT, at
    held.save(update_fields=("state", "cut_at"))
    rests = rests_of(request, found, held.keep_length_ticks, held.keep_width_ticks)
    chosen = [rest for rest in rests if rest.for_repairs or rest.key in keep]
    uses = _book(held, by=by, at=at)
    for row in PlanPiece.objects.taken_by(held):
        use_piece(row.piece, note=held.code, by=by, at=at)
    _keep(held, request, chosen, by=by, at=at)
    _note_yield(held, request, chosen, at=at)
    for follow in ON_CUT:
        follow(held, uses, by, at)
    detail = {"moves": [str(use.move.pk) for use in uses], "batch": ""}
    record(held, verb=CUT, text=f"{held}: all cut.", by=by, at=at, detail=detail)
    return held


def _book(plan: CutPlan, *, by: Person, at: dt.datetime) -> tuple[StockUse, ...]:
    """Take what was cut off the stores, by dye lot."""
    uses = []
    for lot, metres in sorted(metres_cut(plan).items()):
        move = move_stock(
            plan.material,
            -metres,
            StockReason.USED,
            lot=lot,
            note=plan.code,
            by=by,
            at=at,
        )
        uses.append(StockUse(plan.material, metres, move))
    return tuple(uses)


def _keep(
    plan: CutPlan,
    request: ClothRequest,
    chosen: Sequence[Rest],
    *,
    by: Person,
    at: dt.datetime,
) -> None:
    PlanPiece.objects.bulk_create(
        PlanPiece(
            plan=plan,
            taken=False,
            piece=keep_piece(
                plan.material,
                length=TypedLength(rest.length_ticks, ""),
                width=TypedLength(rest.width_ticks, ""),
                lot=rest.lot or plan.lot,
                note=_label(plan, request, rest),
                by=by,
                at=at,
            ),
        )
        for rest in chosen
    )


def _label(plan: CutPlan, request: ClothRequest, rest: Rest) -> str:
    if rest.for_repairs:
        return f"for repairs of {request.job}, of {plan.code}"
    return f"of {plan.code}"


def _note_yield(
    plan: CutPlan, request: ClothRequest, kept: Sequence[Rest], *, at: dt.datetime
) -> None:
    """Write down what all cloth made of its rolls: no build has a share of its own."""
    found = roll_plan(plan)
    if found is None:
        return
    used = area_used_m2(found, kept)
    parts = area_in_parts_m2(request)
    if parts > 0 and used > 0:
        YieldFinding.objects.create(
            plan=plan, build=None, parts_m2=parts, stock_m2=max(used, parts), at=at
        )
