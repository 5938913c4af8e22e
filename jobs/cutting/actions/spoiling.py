"""At the saw: rows ticked; pieces spoiled, and the rest planned anew around what is cut."""

from __future__ import annotations

import datetime as dt
import uuid
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from django.db import transaction

from jobs.cutting.actions.asking import CannotPlanError, plan_anew
from jobs.cutting.adapter import plan_of, request_of, source_of
from jobs.cutting.engine import Request, Source
from jobs.cutting.engine.remains import (
    Begun,
    Rest,
    begun,
    begun_by_ticks,
    still_wanted,
)
from jobs.cutting.engine.results import rows_of
from jobs.cutting.models import CutPlan, CutState, CutTick, LostPart
from jobs.cutting.slots import ON_CUT, StockUse
from shared.audit.actions import record
from shared.forms import TypedLength
from shared.nesting import BarPlan, SheetPlan
from shop.catalogue.actions import keep_piece, move_stock, use_piece
from shop.catalogue.models import Material, StockPiece, StockReason
from shop.people.models import Person

TICKABLE = (CutState.PLANNED, CutState.REPLACED)
"""States in which rows are ticked: parts that are cut already are still worked on."""


@dataclass(frozen=True, slots=True)
class Spoiled:
    """What a person says of a plan that went wrong on the way."""

    begun: int
    """How many sheets or bars were begun, counted from the first."""
    lost: Mapping[str, int]
    """Pieces that can't be used, by the part's key."""
    useless: frozenset[int] = frozenset()
    """Numbers of sheets or bars whose rest can't be used."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Afresh:
    """What is to be planned anew, and from what rests."""

    request: Request
    made: Mapping[str, int]
    sources: tuple[str, ...]
    rests: tuple[Rest, ...]


@transaction.atomic
def tick_row(
    plan: CutPlan, key: str, *, on: bool, by: Person, at: dt.datetime
) -> CutTick | None:
    """Write down that a row is done, or not; nothing if it stands so already."""
    held = CutPlan.objects.select_for_update().get(pk=plan.pk)
    if held.state not in TICKABLE:
        raise CannotPlanError(f"{held} is {held.get_state_display()}: look again.")
    if on == (key in CutTick.objects.standing(held)):
        return None
    tick: CutTick = CutTick.objects.create(plan=held, key=key, ticked=on, at=at, by=by)
    return tick


def begun_so_far(plan: CutPlan) -> int:
    """Return how many sheets or bars the ticked rows have begun. One query."""
    found, request = _made_plan(plan), request_of(plan)
    rows = rows_of(plan.result or {"rows": ()})
    return begun_by_ticks(request, found, rows, set(CutTick.objects.standing(plan)))


def _made_plan(plan: CutPlan) -> SheetPlan | BarPlan:
    found = plan_of(plan)
    if found is None:
        raise CannotPlanError(f"{plan} has no plan yet.")
    return found


def what_is_left(plan: CutPlan, spoiled: Spoiled) -> Afresh:
    """Work out what is still to be cut, and the rests that it could be cut from. One query.

    Raises `CannotPlanError` with a sentence where more is lost than is cut, or nothing is
    left to cut.
    """
    request, done = request_of(plan), set(CutTick.objects.standing(plan))
    rows = rows_of(plan.result or {"rows": ()})
    found = begun(request, _made_plan(plan), rows, done, count=spoiled.begun)
    made = _good(request, found, spoiled)
    parts = still_wanted(request, made)
    if not parts:
        raise CannotPlanError("Nothing is left to cut: finish the plan instead.")
    rests = tuple(
        rest
        for rest in found.rests
        if rest.number not in spoiled.useless
        and any(rest.holds(part, may_turn=request.may_turn) for part in parts)
    )
    owners = {share.panel for part in parts for share in part.shares}
    panels = tuple(panel for panel in request.panels if panel.id in owners)
    left = replace(request, parts=parts, panels=panels)
    return Afresh(left, made, found.sources, rests)


def _good(request: Request, found: Begun, spoiled: Spoiled) -> dict[str, int]:
    good = dict(found.made)
    for key, count in spoiled.lost.items():
        if count > good.get(key, 0):
            raise CannotPlanError(
                f"Of {request.part(key).label}, {key}, {good.get(key, 0)} are ticked as"
                f" cut: {count} can't be lost. Tick what is done at the saw first."
            )
        good[key] -= count
    return good


@transaction.atomic
def plan_around(
    plan: CutPlan, spoiled: Spoiled, *, by: Person, at: dt.datetime
) -> CutPlan:
    """Plan anew what is still to be cut, around what is cut already.

    What was begun leaves the stores as used, and what is left of it comes back as pieces
    with numbers, which the new plan may cut first. Raises `CannotPlanError`; nothing
    is stored then.
    """
    held = (
        CutPlan.objects.select_for_update().select_related("material").get(pk=plan.pk)
    )
    if held.state != CutState.PLANNED:
        raise CannotPlanError(f"{held} is {held.get_state_display()}: look again.")
    afresh = what_is_left(held, spoiled)
    LostPart.objects.bulk_create(
        LostPart(plan=held, part=key, count=n, note=spoiled.note, at=at, by=by)
        for key, n in spoiled.lost.items()
        if n
    )
    uses = tuple(_take_out(held, afresh, by=by, at=at))
    for follow in ON_CUT:
        follow(held, uses, by, at)
    kept = _keep_rests(held, afresh, by=by, at=at)
    sources = (*kept, *afresh.request.sources)
    new = plan_anew(held, replace(afresh.request, sources=sources), by=by, at=at)
    record(held, verb="spoiled", text=_words(held, new, spoiled), by=by, at=at)
    return new


def _words(plan: CutPlan, new: CutPlan, spoiled: Spoiled) -> str:
    lost = sum(spoiled.lost.values())
    pieces = "1 piece" if lost == 1 else f"{lost} pieces"
    note = f" {spoiled.note}" if spoiled.note else ""
    return f"{plan}: {pieces} lost; the rest is planned anew as {new}.{note}"


def _take_out(
    plan: CutPlan, afresh: Afresh, *, by: Person, at: dt.datetime
) -> Iterator[StockUse]:
    """Take what was begun out of the stores, whole ones and kept pieces."""
    counts: Counter[str] = Counter()
    for source in map(afresh.request.source, afresh.sources):
        if source.is_piece:
            piece = StockPiece.objects.get(pk=source.piece)
            use_piece(piece, note=plan.code, by=by, at=at)
        else:
            counts[source.material] += 1
    materials = Material.objects.in_bulk(map(uuid.UUID, counts))
    for key, number in sorted(counts.items()):
        material, quantity = materials[uuid.UUID(key)], Decimal(number)
        move = move_stock(
            material, -quantity, StockReason.USED, note=plan.code, by=by, at=at
        )
        yield StockUse(material, quantity, move)


def _keep_rests(
    plan: CutPlan, afresh: Afresh, *, by: Person, at: dt.datetime
) -> tuple[Source, ...]:
    """Give each rest a number, and offer it to the new plan before anything else."""
    owners = {s.key: uuid.UUID(s.material) for s in afresh.request.sources}
    materials = Material.objects.in_bulk(_needed(afresh.rests, owners))
    return tuple(
        _kept(rest, plan, materials[owners[rest.source]], by=by, at=at)
        for rest in afresh.rests
    )


def _needed(rests: Iterable[Rest], owners: Mapping[str, uuid.UUID]) -> set[uuid.UUID]:
    return {owners[rest.source] for rest in rests}


def _kept(
    rest: Rest, plan: CutPlan, material: Material, *, by: Person, at: dt.datetime
) -> Source:
    piece = keep_piece(
        material,
        length=TypedLength(rest.length_ticks, ""),
        width=TypedLength(rest.width_ticks, ""),
        note=f"rest of {plan.noun} {rest.number} of {plan.code}",
        by=by,
        at=at,
    )
    return source_of(piece)
