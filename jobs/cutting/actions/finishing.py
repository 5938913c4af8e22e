"""All cut: panels are marked, stock is booked, offcuts are kept; and all that taken back."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Collection, Iterable
from decimal import Decimal
from typing import Any

from django.db import transaction

from jobs.board.actions import CannotUndoError, mark_panels, undo_marks
from jobs.board.models import Mark, Panel
from jobs.cutting.actions.asking import CannotPlanError
from jobs.cutting.adapter import alike, counts_of, plan_of, request_of
from jobs.cutting.engine import Request
from jobs.cutting.engine.offcuts import Left, left_over
from jobs.cutting.engine.yields import Share, shares
from jobs.cutting.models import (
    CutPlan,
    CutPlanPanel,
    CutState,
    PlanPiece,
    YieldFinding,
)
from jobs.cutting.slots import ON_CUT, ON_CUT_UNDONE, StockUse
from shared.audit.actions import record
from shared.audit.models import Entry
from shared.forms import TypedLength
from shared.nesting import BarPlan, SheetPlan
from shop.catalogue.actions import (
    StockError,
    find_piece,
    keep_piece,
    move_stock,
    throw_piece,
    undo_move,
    use_piece,
)
from shop.catalogue.models import Material, StockMove, StockReason
from shop.people.models import Person

CUT = "cut"
NOT_NOW = "{plan} is {state}: look again."


@transaction.atomic
def finish_plan(
    plan: CutPlan, *, keep: Collection[str], by: Person, at: dt.datetime
) -> CutPlan:
    """Write down that everything of a plan is cut, and which offcuts are kept.

    `keep` are keys of what `left_over` proposes. Raises `CannotPlanError` where somebody
    was quicker, `StockError` where a kept piece is gone: nothing is stored then.
    """
    held = (
        CutPlan.objects.select_for_update().select_related("material").get(pk=plan.pk)
    )
    found = plan_of(held)
    if held.state != CutState.PLANNED or found is None:
        raise CannotPlanError(_not_now(held))
    request = request_of(held)
    held.state, held.cut_at = CutState.CUT, at
    held.save(update_fields=("state", "cut_at"))
    proposed = left_over(found, held.keep_length_ticks, held.keep_width_ticks, request)
    chosen = [left for left in proposed if left.key in keep]
    uses = _book(held, request, found, by=by, at=at)
    _use_pieces(held, by=by, at=at)
    _keep_pieces(held, request, chosen, by=by, at=at)
    batch = None
    # what fill came to is no build's yield of wood, and its panels wait for wood still
    if held.is_wood:
        _note_yields(held, shares(request, found, chosen), at=at)
        batch = _mark_cut(held, by=by, at=at)
    for follow in ON_CUT:
        follow(held, uses, by, at)
    detail = {"moves": [str(use.move.pk) for use in uses], "batch": str(batch or "")}
    text = f"{held}: all cut."
    record(held, verb=CUT, text=text, by=by, at=at, detail=detail)
    return held


def _not_now(plan: CutPlan) -> str:
    return NOT_NOW.format(plan=plan, state=plan.get_state_display())


def _book(
    plan: CutPlan,
    request: Request,
    found: SheetPlan | BarPlan,
    *,
    by: Person,
    at: dt.datetime,
) -> tuple[StockUse, ...]:
    """Take whole ones out of the stores."""
    counts = {
        source.material: count
        for key, count in counts_of(found).items()
        for source in (request.source(key),)
        if not source.is_piece
    }
    materials = _materials(counts)
    uses = []
    for key, count in sorted(counts.items()):
        material, quantity = materials[key], Decimal(count)
        move = move_stock(
            material, -quantity, StockReason.USED, note=plan.code, by=by, at=at
        )
        uses.append(StockUse(material, quantity, move))
    return tuple(uses)


def _materials(ids: Iterable[str]) -> dict[str, Material]:
    found = Material.objects.in_bulk({uuid.UUID(pk) for pk in ids})
    return {str(pk): material for pk, material in found.items()}


def _use_pieces(plan: CutPlan, *, by: Person, at: dt.datetime) -> None:
    for row in PlanPiece.objects.taken_by(plan):
        use_piece(row.piece, note=plan.code, by=by, at=at)


def _keep_pieces(
    plan: CutPlan,
    request: Request,
    chosen: Iterable[Left],
    *,
    by: Person,
    at: dt.datetime,
) -> None:
    sources = {source.key: source.material for source in request.sources}
    materials = _materials(sources.values())
    PlanPiece.objects.bulk_create(
        PlanPiece(
            plan=plan,
            taken=False,
            piece=keep_piece(
                materials[sources[left.source]],
                length=TypedLength(left.length_ticks, ""),
                width=TypedLength(left.width_ticks, ""),
                note=f"of {plan.code}",
                by=by,
                at=at,
            ),
        )
        for left in chosen
    )


def _note_yields(plan: CutPlan, found: Iterable[Share], *, at: dt.datetime) -> None:
    """Write down what each build's parts took; the builds of the demo and of jobs have ids."""
    YieldFinding.objects.bulk_create(
        YieldFinding(
            plan=plan,
            build=uuid.UUID(share.build),
            build_name=share.build_name[:80],
            parts_m2=share.parts_m2,
            stock_m2=share.stock_m2,
            at=at,
        )
        for share in found
        if _is_id(share.build)
    )


def _is_id(text: str) -> bool:
    try:
        uuid.UUID(text)
    except ValueError:
        return False
    return True


def _mark_cut(plan: CutPlan, *, by: Person, at: dt.datetime) -> uuid.UUID | None:
    """Mark those panels cut whose every stock of wood is cut by now."""
    ids = tuple(plan.plan_panels.values_list("panel_id", flat=True))
    list(Panel.objects.select_for_update().by_ids(ids).order_by("pk").values_list("pk"))
    cut = CutPlanPanel.objects.all_cut(ids)
    done = [
        panel.pk
        for group in alike(Panel.objects.by_ids(ids).with_group())
        for panel in group.panels
        if all((panel.pk, uuid.UUID(key)) in cut for key in group.stocks if _is_id(key))
    ]
    return mark_panels(done, mark=Mark.CUT, now="yes", by=by, at=at) if done else None


@transaction.atomic
def unfinish_plan(plan: CutPlan, *, by: Person, at: dt.datetime) -> CutPlan:
    """Take the finishing of a plan back: stock, pieces, marks and what it found.

    Raises `CannotPlanError` with a sentence where something was built on it since.
    """
    held = CutPlan.objects.select_for_update().get(pk=plan.pk)
    if held.state != CutState.CUT:
        raise CannotPlanError(_not_now(held))
    if held.findings.filter(decided_at__isnull=False).exists():
        raise CannotPlanError("What it found of the yield was decided on already.")
    done = Entry.objects.about("cutplan", held.pk).filter(verb=CUT).first()
    detail = done.detail if done else {}
    try:
        _give_back(held, detail, by=by, at=at)
    except StockError as refused:
        raise CannotPlanError(str(refused)) from refused
    except CannotUndoError as refused:
        raise CannotPlanError("The panels' marks were changed since.") from refused
    held.findings.all().delete()
    held.state, held.cut_at = CutState.PLANNED, None
    held.save(update_fields=("state", "cut_at"))
    for follow in ON_CUT_UNDONE:
        follow(held, by, at)
    record(held, verb="uncut", text=f"{held}: not all cut.", by=by, at=at)
    return held


def _give_back(
    plan: CutPlan, detail: dict[str, Any], *, by: Person, at: dt.datetime
) -> None:
    for row in PlanPiece.objects.kept_of(plan):
        throw_piece(row.piece, note=f"{plan.code} taken back", by=by, at=at)
    PlanPiece.objects.kept_of(plan).delete()
    for row in PlanPiece.objects.taken_by(plan):
        find_piece(row.piece, note=f"{plan.code} taken back", by=by, at=at)
    for move in StockMove.objects.filter(pk__in=detail.get("moves", ())):
        undo_move(move, by=by, at=at)
    if detail.get("batch"):
        undo_marks(uuid.UUID(str(detail["batch"])), by=by, at=at)
