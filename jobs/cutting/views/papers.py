"""Papers of a cut plan: the cut list with its drawings, and labels for parts."""

from __future__ import annotations

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET

from jobs.cutting.documents import cut_list_pdf, labels_pdf
from jobs.cutting.views.plans import get_plan
from shared.access import Right, needs
from shared.files.views import pdf_response
from shared.notices import say
from shop.people.reports import profile

UNMEASURED = "Measure what is to be cut first: then the cut list prints."


@require_GET
@needs(Right.CUT)
def cut_list(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print the cut list; before sizes are confirmed only as a draft, with ?draft=1."""
    plan = get_plan(pk)
    draft = bool(request.GET.get("draft"))
    if not plan.is_made or not (plan.is_checked or draft):
        say(request, UNMEASURED if plan.is_made else f"{plan} is not planned yet.")
        return redirect(plan)
    pdf = cut_list_pdf(plan, profile=profile())
    return pdf_response(pdf, name=f"cut-list-{plan.code}.pdf")


@require_GET
@needs(Right.CUT)
def labels(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print a label for each part."""
    plan = get_plan(pk)
    if not plan.is_checked:
        say(request, UNMEASURED)
        return redirect(plan)
    pdf = labels_pdf(plan, profile=profile())
    return pdf_response(pdf, name=f"labels-{plan.code}.pdf")
