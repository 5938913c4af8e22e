"""Papers of a cut plan; slow, so never in a transaction. Never any money."""

from __future__ import annotations

from typing import Any

from jobs.cutting.adapter import cloth_request_of, request_of
from jobs.cutting.models import CutPlan
from jobs.cutting.reports import plan_page
from jobs.cutting.reports.cloth import cloth_labels, cloth_page
from jobs.cutting.reports.parts import PartLabel, part_labels
from jobs.cutting.reports.words import notation
from quotes.specs.cautions import cautions_for
from quotes.specs.documents import letterhead_of
from shared.pdf import render_pdf
from shop.people.models import ShopProfile


def cut_list_context(plan: CutPlan, *, profile: ShopProfile) -> dict[str, Any]:
    """Return what the cut list shows; cautions as the parts call for them."""
    page = plan_page(plan, sees_money=False)
    tilted = any(part.bevel_deg for part in page.request.parts)
    sawn = ("saw", "wooddust", *(("bevel",) if tilted else ()))
    return {
        "plan": plan,
        "page": page,
        "letterhead": letterhead_of(profile),
        "cautions": cautions_for(("fibre",) if plan.is_fill else sawn),
    }


def cloth_list_context(plan: CutPlan, *, profile: ShopProfile) -> dict[str, Any]:
    """Return what the cutting list of cloth shows."""
    return {
        "plan": plan,
        "page": cloth_page(plan, sees_money=False),
        "letterhead": letterhead_of(profile),
    }


def cut_list_pdf(plan: CutPlan, *, profile: ShopProfile) -> bytes:
    """Print settings in the order to cut, then each sheet or roll, the parts, and cautions."""
    if plan.is_roll:
        context = cloth_list_context(plan, profile=profile)
        template = "jobs/cutting/pdf/cloth_list.html"
        return render_pdf(template, context, spare_a_page=True)
    context = cut_list_context(plan, profile=profile)
    return render_pdf("jobs/cutting/pdf/cut_list.html", context, spare_a_page=True)


def labels_of(plan: CutPlan) -> tuple[PartLabel, ...]:
    """Return a label for every part or piece of cloth."""
    if plan.is_roll:
        return cloth_labels(cloth_request_of(plan))
    return part_labels(request_of(plan), notation())


def labels_pdf(plan: CutPlan, *, profile: ShopProfile) -> bytes:
    """Print a label for each part."""
    context = {
        "plan": plan,
        "labels": labels_of(plan),
        "letterhead": letterhead_of(profile),
    }
    return render_pdf("jobs/cutting/pdf/labels.html", context)
