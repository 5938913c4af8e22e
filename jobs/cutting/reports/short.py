"""What a plan takes that does not lie in the stores: said before anything is cut."""

from __future__ import annotations

import uuid
from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from jobs.cutting.adapter import counts_of, plan_of, request_of
from jobs.cutting.adapter.cloth import levels_of, metres_cut
from jobs.cutting.models import CutPlan
from shop.catalogue.models import Material
from shop.catalogue.reports.stock import on_hand, quantity_text

NONE = Decimal(0)


def short_of(plan: CutPlan) -> tuple[str, ...]:
    """Return a sentence for each stock or dye lot that there is not enough of.

    Nothing once it is cut, or where no plan was made. Two queries at most.
    """
    if not plan.is_planned:
        return ()
    return tuple(_cloth(plan) if plan.is_roll else _pieces(plan))


def _cloth(plan: CutPlan) -> Iterator[str]:
    levels = levels_of(plan.material)
    for lot, metres in metres_cut(plan).items():
        there = levels.get(lot, NONE)
        if there < metres:
            what = f"{plan.material}, dye lot {lot}" if lot else str(plan.material)
            yield _sentence(what, plan.material, there, metres)


def _pieces(plan: CutPlan) -> Iterator[str]:
    found = plan_of(plan)
    if found is None:
        return
    request, counts = request_of(plan), Counter[uuid.UUID]()
    for key, count in counts_of(found).items():
        source = request.source(key)
        if not source.is_piece:
            counts[uuid.UUID(source.material)] += count
    there = on_hand(counts)
    materials = Material.objects.in_bulk(counts)
    for pk, count in counts.items():
        if there[pk] < count:
            material = materials[pk]
            yield _sentence(str(material), material, there[pk], Decimal(count))


def _sentence(what: str, material: Material, there: Decimal, needed: Decimal) -> str:
    takes, lie = (quantity_text(material, each) for each in (needed, max(NONE, there)))
    return (
        f"The plan takes {takes} of {what}; by the stores there is {lie}. Book in what"
        " came, or count what is there: else the stores go below nothing."
    )
