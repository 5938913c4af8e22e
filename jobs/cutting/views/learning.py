"""Yields that finished plans found: taken over into prices, or left."""

from __future__ import annotations

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from jobs.cutting import actions, reports
from jobs.cutting.forms import YieldForm
from shared.access import Right, needs
from shared.audit.models import Entry
from shared.notices import say
from shop.people.me import me


@require_http_methods(("GET", "POST"))
@needs(Right.QUOTE)
def yields(request: HttpRequest) -> HttpResponse:
    """Show what finished plans say of the average yield; take over or leave."""
    found = reports.learnt()
    typed = request.POST if request.method == "POST" else None
    form = YieldForm(typed, keys=[each.key for each in found])
    if request.method != "POST":
        return _yields(request, found, form)
    if not form.is_valid():
        return _yields(request, found, form)
    accept = form.cleaned_data["what"] == "take"
    try:
        entry = actions.decide_yield(
            form.build_id(), accept=accept, by=me(request), at=timezone.now()
        )
    except actions.CannotLearnError as refused:
        form.add_error(None, str(refused))
        return _yields(request, found, form)
    say(request, entry.text, undo=reverse("jobs:yield-undo", args=(entry.pk,)))
    return redirect("jobs:yields")


def _yields(
    request: HttpRequest, found: tuple[reports.Learnt, ...], form: YieldForm
) -> HttpResponse:
    status = form.status if form.is_bound else 200
    context = {"found": found, "form": form}
    return render(request, "jobs/cutting/yields.html", context, status=status)


@require_POST
@needs(Right.QUOTE)
def undo(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put back the yield that stood before."""
    entry = get_object_or_404(Entry, pk=pk)
    try:
        actions.undo_decision(entry, by=me(request), at=timezone.now())
    except actions.CannotLearnError as refused:
        say(request, str(refused))
    else:
        say(request, "The yield is as it was before.")
    return redirect("jobs:yields")
