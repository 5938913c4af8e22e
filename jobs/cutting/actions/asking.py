"""Ask for cut plans: what is to be cut is worked out first, then stored and given to the worker."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import partial
from typing import Any

from django.db import transaction

from jobs.board.codes import runs_of
from jobs.board.models import Panel
from jobs.cutting.adapter import (
    Alike,
    CannotBeBuiltError,
    alike,
    cloth_request_of,
    kind_of,
    parts_of,
    request_of,
    request_to_json,
    sources_of,
    wanted_panels,
    with_saw,
)
from jobs.cutting.engine import Request
from jobs.cutting.engine.cloth import ClothRequest
from jobs.cutting.models import (
    CutKind,
    CutPlan,
    CutPlanPanel,
    CutState,
    Halving,
    PlanPiece,
    SawRules,
)
from jobs.gates.engine import cutting_of
from jobs.gates.reports import held_up
from quotes.specs.engine.cutlist import CutPart
from shared.audit.actions import record
from shared.conventions import current
from shared.nesting import Halving as Halved
from shared.numbering import next_number
from shop.catalogue.models import Material, MaterialKind, StockPiece
from shop.people.models import Person

SERIES = "cut plan"


class CannotPlanError(Exception):
    """There is nothing to plan, or somebody planned it already; the message says it."""


@dataclass(frozen=True, slots=True)
class PlanSettings:
    """What the saw takes, what is worth keeping, and how free a plan is."""

    kerf_ticks: int
    trim_ticks: int = 0
    halving: str = Halving.WHOLE
    may_trim_strips: bool = True
    keep_length_ticks: int = 96_000
    keep_width_ticks: int = 25_600
    may_turn: bool = False
    use_offcuts: bool = True
    alternatives: tuple[uuid.UUID, ...] = ()
    flaw_percent: Decimal = Decimal(0)
    repair_ticks: int = 0

    @classmethod
    def of(cls, rules: SawRules, **others: Any) -> PlanSettings:
        """Return what the shop's rules say."""
        names = (
            "kerf_ticks",
            "trim_ticks",
            "halving",
            "may_trim_strips",
            "keep_length_ticks",
            "keep_width_ticks",
            "flaw_percent",
            "repair_ticks",
        )
        return cls(**{name: getattr(rules, name) for name in names} | others)


@dataclass(frozen=True, slots=True)
class Ask:
    """Panels whose parts of one material are to be planned."""

    panels: tuple[uuid.UUID, ...]
    material: Material
    settings: PlanSettings


Store = Callable[[Person, dt.datetime], CutPlan]
"""Stores one plan that was worked out, inside the transaction of all that are asked for."""


@dataclass(frozen=True, slots=True)
class _Worked:
    """What is to be cut for one ask."""

    ask: Ask
    kind: CutKind
    groups: tuple[Alike, ...]
    parts: tuple[CutPart, ...]
    left_out: tuple[Panel, ...]

    @property
    def panels(self) -> list[Panel]:
        return [panel for group in self.groups for panel in group.panels]


def ask_plan(
    panels: Sequence[uuid.UUID],
    material: Material,
    settings: PlanSettings,
    *,
    by: Person,
    at: dt.datetime,
) -> CutPlan:
    """Ask for the plan of one material; see `ask_plans`."""
    (plan,) = ask_plans((Ask(tuple(panels), material, settings),), by=by, at=at)
    return plan


def ask_plans(
    asks: Iterable[Ask], *, by: Person, at: dt.datetime
) -> tuple[CutPlan, ...]:
    """Store a plan to be made for each ask, all or none, and give them to the worker.

    Panels that a shut gate holds up are left out. Raises `CannotPlanError`.
    """
    # here, not above: cloth and fill are asked for with what this module has
    from jobs.cutting.actions.cloth import ready_cloth
    from jobs.cutting.actions.fill import ready_fill

    ways = {MaterialKind.FABRIC: ready_cloth, MaterialKind.FILL: ready_fill}
    stored = [ways.get(MaterialKind(a.material.kind), _ready)(a) for a in asks]
    if not stored:
        raise CannotPlanError("Choose what is to be cut.")
    with transaction.atomic():
        return tuple(store(by, at) for store in stored)


def _ready(ask: Ask) -> Store:
    worked = _work_out(ask)
    return lambda by, at: _store(worked, by=by, at=at)


def _work_out(ask: Ask) -> _Worked:
    """Take the panels off; before the transaction, since it takes a while."""
    panels = Panel.objects.live().by_ids(ask.panels).with_group().select_related("job")
    groups = alike(panels)
    key = str(ask.material.pk)
    using = [group for group in groups if key in group.stocks]
    held = held_up({panel.job_id for group in using for panel in group.panels})
    ready, waiting = [], []
    act = cutting_of(CutKind.SHEETS)
    for group in using:
        free = tuple(
            panel
            for panel in group.panels
            if not held.shut(panel.job_id, act, material=ask.material.pk, panel=panel)
        )
        waiting += [panel for panel in group.panels if panel not in free]
        if free:
            ready.append(Alike(free, group.snapshot))
    if not ready:
        raise CannotPlanError(nothing_to_plan(ask.material, waiting))
    # where quotes disagree on the thickness, what lies in the stores decides
    agreed = len({group.thickness_of(key) for group in ready}) == 1
    real = None if agreed else ask.material.thickness_ticks
    try:
        parts = parts_of(ready, key, units=current().unit_system, real_ticks=real)
    except CannotBeBuiltError as refused:
        raise CannotPlanError(str(refused)) from refused
    return _Worked(
        ask, kind_of(ask.material, parts), tuple(ready), parts, tuple(waiting)
    )


def nothing_to_plan(material: Material, waiting: Sequence[Panel]) -> str:
    """Say why nothing of a material can be planned."""
    if not waiting:
        return f"None of these panels has parts of {material}."
    codes = runs_of(sorted(panel.code for panel in waiting))
    return f"{codes}: waiting for what stands on the job's page, so not cut yet."


def _store(worked: _Worked, *, by: Person, at: dt.datetime) -> CutPlan:
    ask, settings = worked.ask, worked.ask.settings
    panels = [panel.pk for panel in worked.panels]
    refuse_taken(ask.material, panels)
    plan = CutPlan(
        number=next_number(SERIES, year=0),
        kind=worked.kind,
        material=ask.material,
        kerf_ticks=settings.kerf_ticks,
        trim_ticks=settings.trim_ticks,
        halving=settings.halving if worked.kind == CutKind.SHEETS else Halving.WHOLE,
        may_trim_strips=settings.may_trim_strips,
        keep_length_ticks=settings.keep_length_ticks,
        keep_width_ticks=settings.keep_width_ticks,
        asked_by=by,
        asked_at=at,
    )
    materials = [ask.material, *_alternatives(ask)]
    pieces = _pieces(plan, materials) if settings.use_offcuts else []
    sources, priced_by = sources_of(materials, pieces, currency=current().currency)
    request = Request(
        sources=sources,
        parts=worked.parts,
        panels=wanted_panels(worked.groups, str(ask.material.pk)),
        thickness_ticks=worked.parts[0].thickness_ticks,
        priced_by=priced_by,
        units=current().unit_system,
        may_turn=settings.may_turn,
    )
    return _keep(plan, with_saw(request, plan), panels, by=by, at=at)


def refuse_taken(material: Material, panels: Iterable[uuid.UUID]) -> None:
    """Hold the panels, and refuse those whose parts of this material are planned already."""
    ids = tuple(panels)
    list(Panel.objects.select_for_update().by_ids(ids).order_by("pk").values_list("pk"))
    taken = CutPlanPanel.objects.standing_of(material, ids)
    if taken:
        codes = runs_of(sorted(row.panel.code for row in taken))
        plan = taken[0].plan
        raise CannotPlanError(f"{codes}: planned already, in {plan}.")


def _alternatives(ask: Ask) -> list[Material]:
    """Return what may be cut instead: of the same kind and thickness, whatever is ticked."""
    found = Material.objects.live().like(ask.material)
    return [each for each in found if each.pk in ask.settings.alternatives]


def _pieces(plan: CutPlan, materials: Sequence[Material]) -> list[StockPiece]:
    """Return kept pieces that no other plan has in view."""
    found = StockPiece.objects.kept().of_materials(m.pk for m in materials)
    held = PlanPiece.objects.held()
    least = min(each.width_ticks or 0 for each in materials)
    bars = plan.kind == CutKind.BARS
    return [
        piece
        for piece in found.select_for_update()
        if piece.pk not in held and (not bars or piece.width_ticks >= least)
    ]


def _keep(
    plan: CutPlan,
    request: Request | ClothRequest,
    panels: Iterable[uuid.UUID],
    *,
    by: Person,
    at: dt.datetime,
) -> CutPlan:
    plan.request = request_to_json(request)
    pieces = [uuid.UUID(s.piece) for s in request.sources if s.is_piece]
    return keep_plan(plan, panels, pieces, by=by, at=at)


def keep_plan(
    plan: CutPlan,
    panels: Iterable[uuid.UUID],
    pieces: Iterable[uuid.UUID],
    *,
    by: Person,
    at: dt.datetime,
) -> CutPlan:
    """Store a plan that is asked for, hold its pieces, and wake the worker."""
    # here, not above: the task calls what stores the plan, in this package
    from jobs.cutting.tasks import make_plan

    plan.full_clean(validate_unique=False, exclude=("material", "asked_by", "replaces"))
    plan.save()
    CutPlanPanel.objects.bulk_create(
        CutPlanPanel(plan=plan, panel_id=pk) for pk in panels
    )
    PlanPiece.objects.bulk_create(
        PlanPiece(plan=plan, piece_id=pk, taken=True) for pk in pieces
    )
    record(
        plan, verb="asked", text=f"{plan} of {plan.material} asked for.", by=by, at=at
    )
    transaction.on_commit(partial(make_plan.enqueue, str(plan.pk)))
    return plan


_SAME = (
    "kind",
    "material",
    "kerf_ticks",
    "trim_ticks",
    "halving",
    "may_trim_strips",
    "keep_length_ticks",
    "keep_width_ticks",
    "real_thickness_ticks",
    "real_thickness_text",
    "real_length_ticks",
    "real_length_text",
    "real_width_ticks",
    "real_width_text",
    "checked_at",
    "checked_by",
    "flaw_percent",
    "repair_ticks",
    "lot",
)
"""What a plan made anew has of the one that it takes the place of."""


@transaction.atomic
def plan_anew(
    plan: CutPlan,
    request: Request | ClothRequest,
    *,
    by: Person,
    at: dt.datetime,
    start: dict[str, Any] | None = None,
    **changes: Any,
) -> CutPlan:
    """Put a plan in the place of another: the same panels, another request.

    `start` is what the solver may begin with (a kept plan's JSON). Raises
    `CannotPlanError` if the other one does not stand any more.
    """
    old = CutPlan.objects.select_for_update().get(pk=plan.pk)
    if old.state not in (CutState.PLANNED, CutState.REFUSED, CutState.STOPPED):
        raise CannotPlanError(f"{old} is {old.get_state_display()}: look again.")
    new = CutPlan(
        number=next_number(SERIES, year=0),
        replaces=old,
        asked_by=by,
        asked_at=at,
        result={"plan": start} if start else None,
        **{name: getattr(plan, name) for name in _SAME} | changes,
    )
    panels = list(old.plan_panels.values_list("panel_id", flat=True))
    old.state = CutState.REPLACED
    old.save(update_fields=("state",))
    refuse_taken(old.material, panels)
    PlanPiece.objects.taken_by(old).delete()
    record(old, verb="replaced", text=f"{old} planned anew.", by=by, at=at)
    return _keep(new, _still_there(request), panels, by=by, at=at)


def ask_anew(plan: CutPlan, halving: str, *, by: Person, at: dt.datetime) -> CutPlan:
    """Ask for a plan again from what it was made from: where it stopped, or halved so.

    Raises `CannotPlanError`.
    """
    if plan.is_roll:
        return plan_anew(plan, cloth_request_of(plan), by=by, at=at)
    request = request_of(plan)
    if halving and plan.kind == CutKind.SHEETS and halving in Halving.values:
        request = replace(request, halving=Halved(halving))
        return plan_anew(plan, request, by=by, at=at, halving=halving)
    start = plan.result["plan"] if plan.result else None
    return plan_anew(plan, request, by=by, at=at, start=start)


def _still_there(request: Request | ClothRequest) -> Request | ClothRequest:
    """Return a request without kept pieces that are used up, or in another plan's view."""
    kept = StockPiece.objects.kept().select_for_update()
    free = {str(pk) for pk in kept.values_list("pk", flat=True)}
    free -= {str(pk) for pk in PlanPiece.objects.held()}
    if isinstance(request, ClothRequest):
        rolls = tuple(s for s in request.sources if not s.is_piece or s.piece in free)
        return replace(request, sources=rolls)
    sources = tuple(s for s in request.sources if not s.is_piece or s.piece in free)
    return replace(request, sources=sources)
