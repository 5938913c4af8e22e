"""What a job needs, worked out anew from its panels and its cut plans."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterable, Mapping, Sequence
from decimal import ROUND_UP, Decimal
from typing import Any

from django.db.models import Q

from jobs.board.models import Job, Panel
from jobs.buying.adapter import Covered, Needed, Terms, needs_of
from jobs.buying.engine import share_amount
from jobs.buying.models import JobUse
from jobs.cutting.adapter import (
    Alike,
    alike,
    counts_of,
    metres_of,
    plan_of,
    request_of,
)
from jobs.cutting.models import (
    CutKind,
    CutPlan,
    CutPlanPanel,
    CutState,
    SawRules,
)
from quotes.pricing.models import PriceRules
from quotes.specs.models import BuildSpec
from shared.conventions import current
from shared.money import show_number
from shop.catalogue.models import Material

MADE = (CutState.PLANNED, CutState.CUT)
"""States of plans that say how much they take."""


def work_out(job: Job) -> tuple[dict[uuid.UUID, Needed], tuple[str, ...]]:
    """Return what a job takes of each material, and names of what was not counted.

    Takes panels off anew where they were measured: not for a list of jobs. About nine
    queries.
    """
    likes = alike(Panel.objects.of_job(job).with_group())
    return needs_of(likes, _terms(likes), _covered(job))


def _terms(likes: Sequence[Alike]) -> Terms:
    frozen: dict[str, Any] = {}
    builds: set[str] = set()
    for like in likes:
        frozen |= like.snapshot["materials"]
        builds.add(str(like.snapshot["takeoff"].get("build_key", "")))
    codes = [str(facts.get("code", "")) for facts in frozen.values()]
    found = Material.objects.filter(Q(pk__in=_ids(frozen)) | Q(code__in=codes))
    materials = {material.code: material for material in found}
    materials |= {str(material.pk): material for material in found}
    specs = BuildSpec.objects.filter(pk__in=_ids(builds))
    yields = specs.values_list("pk", "wood_yield_percent")
    saw = SawRules.objects.first() or SawRules()
    return Terms(
        rules=PriceRules.objects.first() or PriceRules(),
        kerf_ticks=saw.kerf_ticks,
        yields={str(pk): share for pk, share in yields},
        materials=materials,
    )


def _ids(keys: Iterable[str]) -> list[uuid.UUID]:
    """Return those keys that are ids."""
    found = []
    for key in keys:
        try:
            found.append(uuid.UUID(key))
        except ValueError:
            continue
    return found


def _covered(job: Job) -> dict[uuid.UUID, Covered]:
    """Return what cut plans take for a job, by material.

    A plan of several jobs is shared out by the face area of their panels in it. What was
    cut by a plan before the rest was planned anew is needed, too: it is used already.
    """
    plans = CutPlan.objects.of_job(job).filter(state__in=MADE, kind__in=TAKES)
    rows = CutPlanPanel.objects.filter(plan__in=plans).select_related("panel")
    panels: dict[uuid.UUID, list[Panel]] = {}
    for row in rows.defer("panel__snapshot", "plan__request", "plan__result"):
        panels.setdefault(row.plan_id, []).append(row.panel)
    found: dict[uuid.UUID, Covered] = {}
    for plan in plans.select_related("material").order_by("number"):
        own = frozenset(p.pk for p in panels[plan.pk] if p.job_id == job.pk)
        for material, count in (
            {plan.material_id: Decimal(0)} | new_stock(plan)
        ).items():
            covers = own if material == plan.material_id else frozenset()
            part = _part(plan, count, panels[plan.pk], job)
            found[material] = _joined(found.get(material), covers, *part)
    for use in JobUse.objects.of_job(job).standing().of_replaced_plans():
        material = use.move.material_id
        how = f"{_count(use.quantity)} cut by {use.plan} before it was planned anew"
        before = found.get(material)
        found[material] = _joined(before, frozenset(), use.quantity, how)
    return found


def new_stock(plan: CutPlan) -> dict[uuid.UUID, Decimal]:
    """Say what a plan takes of the stores by material, kept pieces left out."""
    return TAKES[CutKind(plan.kind)](plan)


def _whole_ones(plan: CutPlan) -> dict[uuid.UUID, Decimal]:
    """Count the whole sheets or boards of a plan of wood."""
    made = plan_of(plan)
    if made is None:
        return {}
    request, found = request_of(plan), dict[uuid.UUID, Decimal]()
    for key, count in counts_of(made).items():
        source = request.source(key)
        if not source.is_piece:
            material = uuid.UUID(source.material)
            found[material] = found.get(material, Decimal(0)) + count
    return found


def _metres(plan: CutPlan) -> dict[uuid.UUID, Decimal]:
    """Add up the metres of a plan of cloth, what is to be bought with its share for flaws."""
    metres = sum(metres_of(plan).values(), Decimal(0))
    return {plan.material_id: metres.quantize(Decimal("0.001"), ROUND_UP)}


TAKES: dict[CutKind, Callable[[CutPlan], dict[uuid.UUID, Decimal]]] = {
    CutKind.SHEETS: _whole_ones,
    CutKind.BARS: _whole_ones,
    CutKind.FILL: _whole_ones,
    CutKind.ROLL: _metres,
}
"""How a kind of plan says what it takes."""


def job_shares(amount: Decimal, panels: Iterable[Panel]) -> Mapping[uuid.UUID, Decimal]:
    """Share an amount out to the jobs of some panels, by the area of their faces."""
    areas: dict[uuid.UUID, int] = {}
    for panel in sorted(panels, key=lambda p: (str(p.job_id), p.number)):
        area = panel.build_width_ticks * panel.build_height_ticks
        areas[panel.job_id] = areas.get(panel.job_id, 0) + area
    shares = share_amount(amount, list(areas.values()))
    return dict(zip(areas, shares, strict=True))


def _part(
    plan: CutPlan, count: Decimal, panels: list[Panel], job: Job
) -> tuple[Decimal, str]:
    """Return this job's part of what a plan takes, and how it came about."""
    share = job_shares(count, panels)[job.pk]
    if share == count:
        return count, f"{_count(count)} by cut plan {plan.code}"
    whole = f"of {_count(count)} by cut plan {plan.code}, shared by area"
    return share, f"{_count(share)} {whole}"


def _count(value: Decimal) -> str:
    return show_number(value, locale=current().locale, decimals=3)


def _joined(
    before: Covered | None, panels: frozenset[uuid.UUID], quantity: Decimal, how: str
) -> Covered:
    if before is None:
        return Covered(panels, quantity, how)
    words = "; ".join(text for text in (before.how, how) if text)
    return Covered(before.panels | panels, before.quantity + quantity, words[:200])
