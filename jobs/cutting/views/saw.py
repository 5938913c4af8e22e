"""At the saw: what to set next, ticked row by row; what was spoiled, planned anew."""

from __future__ import annotations

import uuid
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from jobs.cutting import actions, reports
from jobs.cutting.forms import SpoiledForm, TickForm
from jobs.cutting.models import CutPlan
from jobs.cutting.views.plans import get_plan
from shared.access import Right, needs
from shared.htmx import page_or_fragment, wants_fragment
from shared.notices import say
from shared.offline.pages import kept_on_device
from shop.catalogue.actions import StockError
from shop.people.me import me


@require_GET
@needs(Right.CUT)
@kept_on_device
def at_the_saw(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show the rows to saw; with ?left=1 only what is still to be done."""
    plan = get_plan(pk)
    left_only = bool(request.GET.get("left"))
    return _saw(request, plan, saw=reports.saw_page(plan, left_only=left_only))


def _saw(
    request: HttpRequest, plan: CutPlan, status: int = 200, **context: Any
) -> HttpResponse:
    shown = {"plan": plan, "may_tick": plan.state in actions.TICKABLE}
    return page_or_fragment(
        request,
        page="jobs/cutting/saw.html",
        fragment="jobs/cutting/_saw.html",
        context=shown | _beside(plan) | context,
        status=status,
    )


def _beside(plan: CutPlan) -> dict[str, Any]:
    lacking = tuple(reports.unfinished_before(plan))
    return {"sheets": reports.sheets_of(plan), "lacking": lacking}


@require_POST
@needs(Right.CUT)
def tick(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Tick a row, or take the tick back."""
    plan, left_only = get_plan(pk), bool(request.POST.get("left"))
    saw = reports.saw_page(plan, left_only=left_only)
    form = TickForm(request.POST, keys=saw.keys)
    if form.is_valid():
        key, on = form.cleaned_data["key"], form.cleaned_data["on"] == "yes"
        try:
            actions.tick_row(plan, key, on=on, by=me(request), at=timezone.now())
        except actions.CannotPlanError as refused:
            form.add_error(None, str(refused))
    if not form.is_valid():
        return _saw(request, plan, form.status, saw=saw, form=form)
    if wants_fragment(request):
        saw = reports.saw_page(plan, left_only=left_only, also=key)
        return _saw(request, plan, saw=saw)
    query = "?left=1" if left_only else ""
    return redirect(reverse("jobs:cut-saw", args=(plan.pk,)) + query)


@require_http_methods(("GET", "POST"))
@needs(Right.CUT)
def spoiled(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Say what was spoiled; see what would follow; then have the rest planned anew."""
    plan = get_plan(pk)
    if not plan.is_planned:
        say(request, f"{plan} is {plan.get_state_display()}: nothing to plan anew.")
        return redirect(plan)
    if not plan.is_wood:
        say(request, "No wood: drop the plan, and plan the panels that are left again.")
        return redirect(plan)
    if request.method == "POST":
        return _plan_around(request, plan, SpoiledForm(request.POST, plan=plan))
    form = SpoiledForm(plan=plan, initial={"begun": actions.begun_so_far(plan)})
    return _spoiled(request, plan, form)


def _plan_around(
    request: HttpRequest, plan: CutPlan, form: SpoiledForm
) -> HttpResponse:
    """Show what would follow; with `go`, have it planned so."""
    if not form.is_valid():
        return _spoiled(request, plan, form)
    try:
        if "go" not in request.POST:
            left = actions.what_is_left(plan, form.spoiled())
            return _spoiled(request, plan, form, left)
        new = actions.plan_around(
            plan, form.spoiled(), by=me(request), at=timezone.now()
        )
    except (actions.CannotPlanError, StockError) as refused:
        form.add_error(None, str(refused))
        return _spoiled(request, plan, form)
    say(request, f"The rest of {plan} is planned anew, as {new}.")
    return redirect(new)


def _spoiled(
    request: HttpRequest,
    plan: CutPlan,
    form: SpoiledForm,
    left: actions.Afresh | None = None,
) -> HttpResponse:
    follows = left and reports.follows_of(
        plan, left.request, made=left.made, sources=left.sources, rests=left.rests
    )
    lacking = reports.unfinished_of(plan, left.request) if left else ()
    context = {"plan": plan, "form": form, "follows": follows, "lacking": lacking}
    status = form.status if form.is_bound and not left else 200
    return render(request, "jobs/cutting/spoiled.html", context, status=status)
