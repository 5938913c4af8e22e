"""One cut plan: its page while it is made and after, and what is done about it."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from jobs.cutting import actions, reports
from jobs.cutting.forms import CheckForm, FinishForm, RollCheckForm
from jobs.cutting.models import CutPlan
from jobs.cutting.reports.cloth import ClothPage, cloth_kept, cloth_page
from jobs.cutting.reports.page import PlanPage, kept_lines
from jobs.cutting.reports.short import short_of
from shared.access import Right, may, needs
from shared.audit.reports import log_of
from shared.htmx import page_or_fragment
from shared.notices import say
from shop.catalogue.actions import StockError
from shop.people.me import me


def get_plan(pk: uuid.UUID) -> CutPlan:
    """Return a plan with its material, or 404."""
    found: CutPlan = get_object_or_404(CutPlan.objects.for_page(), pk=pk)
    return found


@require_GET
@needs(Right.CUT)
def show_plan(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show how far a plan is, or what it says."""
    return _show(request, get_plan(pk))


def page_of(plan: CutPlan, *, sees_money: bool) -> PlanPage | ClothPage:
    """Return what the page of a plan shows, whatever it is of."""
    if plan.is_roll:
        return cloth_page(plan, sees_money=sees_money)
    return reports.plan_page(plan, sees_money=sees_money)


def _show(
    request: HttpRequest, plan: CutPlan, status: int = 200, **forms: Any
) -> HttpResponse:
    page = page_of(plan, sees_money=may(request.user, Right.SEE_MONEY))
    kept = page.answer.kept if page.answer else ()
    name = "cloth" if plan.is_roll else "plan"
    # narrow strips of cloth are seldom kept, offcuts of wood are
    ticked = () if plan.is_roll else [k.key for k in kept]
    context = {
        "plan": plan,
        "page": page,
        "check": RollCheckForm(plan=plan) if plan.is_roll else CheckForm(plan=plan),
        "short": short_of(plan),
        "finish": FinishForm(kept=kept, initial={"keep": ticked}),
        "log": log_of(plan),
    }
    return page_or_fragment(
        request,
        page=f"jobs/cutting/{name}.html",
        fragment=f"jobs/cutting/_{name}.html",
        context=context | forms,
        status=status,
    )


@require_POST
@needs(Right.CUT)
def stop(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """End the search: the best plan so far is kept."""
    plan = get_plan(pk)
    actions.stop_plan(plan, by=me(request), at=timezone.now())
    return redirect(plan)


@require_POST
@needs(Right.CUT)
def check(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take real sizes; what differs from them is planned anew."""
    plan = get_plan(pk)
    if plan.is_roll:
        return check_cloth(request, plan)
    form = CheckForm(request.POST, plan=plan)
    if not form.is_valid():
        return _show(request, plan, form.status, check=form)
    try:
        now = actions.check_stock(plan, form.real(), by=me(request), at=timezone.now())
    except actions.CannotPlanError as refused:
        form.add_error(next(iter(form.fields)), str(refused))
        return _show(request, plan, form.status, check=form)
    return _measured(request, plan, now)


def _measured(request: HttpRequest, plan: CutPlan, now: CutPlan) -> HttpResponse:
    if now.pk == plan.pk:
        say(request, "The sizes are as planned: the cut list can be printed.")
    else:
        say(request, f"{plan} is planned anew with the real sizes, as {now}.")
    return redirect(now)


def check_cloth(request: HttpRequest, plan: CutPlan) -> HttpResponse:
    """Take a roll's real width and dye lot; what differs is planned anew."""
    form = RollCheckForm(request.POST, plan=plan)
    if not form.is_valid():
        return _show(request, plan, form.status, check=form)
    width, lot, by = form.real_width(), form.cleaned_data["lot"], me(request)
    try:
        now = actions.check_roll(plan, width, lot, by=by, at=timezone.now())
    except actions.CannotPlanError as refused:
        form.add_error("lot", str(refused))
        return _show(request, plan, form.status, check=form)
    return _measured(request, plan, now)


@require_POST
@needs(Right.CUT)
def finish(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Write down that all is cut."""
    plan = get_plan(pk)
    kept = cloth_kept(plan) if plan.is_roll else kept_lines(plan)
    form = FinishForm(request.POST, kept=kept)
    if not form.is_valid():
        return _show(request, plan, form.status, finish=form)
    keep = form.cleaned_data["keep"]
    undo = reverse("jobs:cut-plan-unfinish", args=(plan.pk,))
    try:
        ended = actions.finish_cloth if plan.is_roll else actions.finish_plan
        ended(plan, keep=keep, by=me(request), at=timezone.now())
    except (actions.CannotPlanError, StockError) as refused:
        say(request, str(refused))
    else:
        say(request, f"{plan} is all cut. Stock and marks are written down.", undo=undo)
    return redirect(plan)


def _turned(
    request: HttpRequest,
    pk: uuid.UUID,
    turn: Callable[..., CutPlan],
    words: str,
    undo: str = "",
) -> HttpResponse:
    """Turn a plan's state and say so, or why not."""
    plan = get_plan(pk)
    try:
        turn(plan, by=me(request), at=timezone.now())
    except actions.CannotPlanError as refused:
        say(request, str(refused))
    else:
        back = reverse(undo, args=(plan.pk,)) if undo else ""
        say(request, words.format(plan=plan), undo=back)
    return redirect(plan)


@require_POST
@needs(Right.CUT)
def unfinish(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take the finishing back."""
    words = "{plan} is not all cut: stock and marks are as before."
    return _turned(request, pk, actions.unfinish_plan, words)


@require_POST
@needs(Right.CUT)
def drop(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a plan aside."""
    words = "{plan} is dropped: its panels can be planned again."
    return _turned(request, pk, actions.drop_plan, words, "jobs:cut-plan-restore")


@require_POST
@needs(Right.CUT)
def restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a dropped plan back."""
    return _turned(request, pk, actions.restore_plan, "{plan} is back.")


@require_POST
@needs(Right.CUT)
def anew(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Plan again what could not be planned, was stopped, or is to begin another way."""
    plan = get_plan(pk)
    halving = request.POST.get("halving", "")
    try:
        now = actions.ask_anew(plan, halving, by=me(request), at=timezone.now())
    except actions.CannotPlanError as refused:
        say(request, str(refused))
        return redirect(plan)
    return redirect(now)
