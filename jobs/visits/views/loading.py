"""The van list, the papers of a site day, and what holds its panels."""

from __future__ import annotations

import uuid
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from jobs.visits import actions, reports
from jobs.visits.documents import install_sheet_pdf, van_list_pdf
from jobs.visits.forms import StateForm, TakeBackForm, TickForm
from jobs.visits.models import SiteDay
from jobs.visits.reports.loads import day_paths, names_of
from jobs.visits.views.days import GET_POST, get_day
from quotes.safety.actions import state_load
from shared.access import Right, may, needs
from shared.files.views import pdf_response
from shared.htmx import page_or_fragment, wants_fragment
from shared.notices import say
from shared.offline.pages import kept_on_device
from shop.people.me import me
from shop.people.reports import profile


@require_GET
@kept_on_device
def van_list(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show what to load; with ?left=1 only what is still to be loaded."""
    day = get_day(pk)
    van = reports.van_page(day, left_only=bool(request.GET.get("left")))
    return _van(request, day, {"van": van})


def _van(
    request: HttpRequest, day: SiteDay, context: dict[str, Any], status: int = 200
) -> HttpResponse:
    shown = {"day": day, "may_tick": may(request.user, Right.LOAD_VAN)}
    return page_or_fragment(
        request,
        page="jobs/visits/van_list.html",
        fragment="jobs/visits/_van_list.html",
        context=shown | context,
        status=status,
    )


@require_POST
@needs(Right.LOAD_VAN)
def van_tick(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Tick a line of the list, or take the tick back."""
    day, left_only = get_day(pk), bool(request.POST.get("left"))
    groups = reports.day_likes(day)
    van = reports.van_page(day, left_only=left_only, groups=groups)
    form = TickForm(request.POST, keys=van.keys)
    if not form.is_valid():
        return _van(request, day, {"van": van, "form": form}, status=422)
    key, on = form.cleaned_data["key"], form.cleaned_data["on"] == "yes"
    actions.tick(day, key, on=on, by=me(request), at=timezone.now())
    if wants_fragment(request):
        van = reports.van_page(day, left_only=left_only, also=key, groups=groups)
        return _van(request, day, {"van": van})
    query = "?left=1" if left_only else ""
    return redirect(reverse("jobs:van-list", args=(day.pk,)) + query)


@require_GET
def van_list_paper(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print the van list."""
    day = get_day(pk)
    pdf = van_list_pdf(day, profile=profile())
    return _paper(pdf, f"van-list-{day.job.code}-{day.on:%Y-%m-%d}")


@require_GET
def install_sheet(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print the install sheet; whoever may not see clients gets it without address."""
    day = get_day(pk)
    sees = may(request.user, Right.SEE_CLIENTS)
    pdf = install_sheet_pdf(day, profile=profile(), with_client=sees)
    return _paper(pdf, f"install-{day.job.code}-{day.on:%Y-%m-%d}")


def _paper(pdf: bytes, name: str) -> HttpResponse:
    return pdf_response(pdf, name=f"{name}.pdf")


@require_http_methods(GET_POST)
def holds(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show what carries each panel; take a working load that somebody stands for."""
    day = get_day(pk)
    if request.method == "POST":
        return _state(request, day)
    return _holds(request, day)


@needs(Right.PLAN_SITE_DAYS)
def _state(request: HttpRequest, day: SiteDay) -> HttpResponse:
    names = names_of(day_paths(day))
    form = StateForm(request.POST, names=names)
    if not form.is_valid():
        return _holds(request, day, form)
    found = form.cleaned_data
    name = names[found["subject"]]
    state_load(
        found["subject"],
        name=name,
        load_n=float(found["load_n"]),
        source=found["source"],
        by=me(request),
        at=timezone.now(),
    )
    say(request, f"The working load of the {name} is on record.")
    return redirect("jobs:site-day-holds", pk=day.pk)


@require_POST
@needs(Right.PLAN_SITE_DAYS)
def take_back(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take back what was stated of one thing."""
    day = get_day(pk)
    names = names_of(day_paths(day))
    form = TakeBackForm(request.POST, names=names)
    if not form.is_valid():
        return _holds(request, day, form)
    subject = form.cleaned_data["subject"]
    state_load(
        subject,
        name=names[subject],
        load_n=None,
        source="",
        by=me(request),
        at=timezone.now(),
    )
    say(request, f"The working load of the {names[subject]} is taken back.")
    return redirect("jobs:site-day-holds", pk=day.pk)


def _holds(
    request: HttpRequest, day: SiteDay, form: StateForm | TakeBackForm | None = None
) -> HttpResponse:
    paths = day_paths(day)
    names = names_of(paths)
    context = {
        "day": day,
        "paths": paths,
        "form": form if isinstance(form, StateForm) else StateForm(names=names),
        "refused": form if isinstance(form, TakeBackForm) else None,
        "can_state": bool(names) and may(request.user, Right.PLAN_SITE_DAYS),
    }
    status = form.status if form else 200
    return render(request, "jobs/visits/holds.html", context, status=status)
