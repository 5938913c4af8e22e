"""A room's planned panels: add, change, take out and put back, bench sheet."""

from __future__ import annotations

import uuid
from typing import Any

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from quotes.specs import actions, documents
from quotes.specs.forms import GroupForm, PlanOptions
from quotes.specs.models import PlannedPanel
from quotes.specs.reports import group_of, groups_in_room
from quotes.specs.views.builds import GET_POST, pdf_answer
from shared.access import Right, may, needs
from shared.htmx import done, page_or_fragment
from shared.notices import say
from shop.people.me import me
from shop.people.reports import profile
from shop.surveys.models import Room

PLANNERS = (Right.QUOTE, Right.KEEP_BUILDS)


def _room(pk: uuid.UUID) -> Room:
    found: Room = get_object_or_404(Room.objects.with_site(), pk=pk)
    return found


def _panel(pk: uuid.UUID) -> PlannedPanel:
    rows = PlannedPanel.objects.with_fabric().with_room()
    return get_object_or_404(rows, pk=pk)


def _free_panel(pk: uuid.UUID) -> PlannedPanel:
    """Find a panel that may still be changed: not taken out, not accepted."""
    rows = PlannedPanel.objects.uncommitted().with_fabric().with_room()
    return get_object_or_404(rows, pk=pk)


def _context(request: HttpRequest, room: Room, form: GroupForm) -> dict[str, Any]:
    return {
        "room": room,
        "form": form,
        "groups": groups_in_room(room, size=form.options.room_size),
        "may_plan": any(may(request.user, right) for right in PLANNERS),
        "may_quote": may(request.user, Right.QUOTE),
        "may_see_client": may(request.user, Right.SEE_CLIENTS),
    }


@require_GET
def plan(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show what is planned for a room; the fragment is what the typed size would make."""
    room = _room(pk)
    typed = request.GET if "spec" in request.GET else None
    form = GroupForm(typed, options=PlanOptions.for_room(room), to_store=False)
    form.is_valid()
    return page_or_fragment(
        request,
        page="quotes/specs/plan.html",
        fragment="quotes/specs/_preview.html",
        # in the fragment alone: what is said beside the fields goes there, too
        context=_context(request, room, form) | {"live": True},
    )


@require_POST
@needs(*PLANNERS)
def plan_add(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Plan so many panels of a build, a size and a fabric."""
    room = _room(pk)
    options = PlanOptions.for_room(room)
    form = GroupForm(request.POST, options=options)
    if form.is_valid():
        choice = form.choice
        actions.plan_panels(room, choice, by=me(request), at=timezone.now())
        say(request, f"{choice.quantity} × {choice.spec} planned.")
        return done(request, reverse("quotes:plan", args=(room.pk,)))
    return page_or_fragment(
        request,
        page="quotes/specs/plan.html",
        fragment="quotes/specs/_plan_form.html",
        context=_context(request, room, form),
        status=form.status,
    )


@require_http_methods(GET_POST)
@needs(*PLANNERS)
def plan_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change panels that are alike, all at once."""
    panel = _free_panel(pk)
    group = group_of(panel)
    form = GroupForm(
        request.POST if request.method == "POST" else None,
        initial=GroupForm.initial_of(group),
        options=PlanOptions.for_room(panel.room, panel),
    )
    if request.method == "POST" and form.is_valid() and _stored(request, panel, form):
        say(request, f"{form.choice.quantity} × {form.choice.spec} stored.")
        return done(request, reverse("quotes:plan", args=(panel.room_id,)))
    return page_or_fragment(
        request,
        page="quotes/specs/plan_change.html",
        fragment="quotes/specs/_plan_change_form.html",
        context={"panel": panel, "room": panel.room, "group": group, "form": form},
        status=form.status,
    )


def _stored(request: HttpRequest, panel: PlannedPanel, form: GroupForm) -> bool:
    """Change the panels, or say why that is no longer possible."""
    try:
        actions.change_group(panel, form.choice, by=me(request), at=timezone.now())
    except ValidationError as refused:
        form.add_error(None, refused)
        return False
    return True


@require_POST
@needs(*PLANNERS)
def plan_drop(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take panels that are alike out of the plan."""
    panel = _panel(pk)
    count = actions.drop_group(panel, by=me(request), at=timezone.now())
    undo = reverse("quotes:plan-restore", args=(panel.pk,)) if count else ""
    say(request, f"{count} × {panel.spec} taken out.", undo=undo)
    return redirect("quotes:plan", panel.room_id)


@require_POST
@needs(*PLANNERS)
def plan_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put back what was taken out together with a panel."""
    panel = _panel(pk)
    count = actions.restore_group(panel, by=me(request), at=timezone.now())
    say(request, f"{count} × {panel.spec} put back.")
    return redirect("quotes:plan", panel.room_id)


@require_GET
def plan_sheet(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Print the bench sheet of panels that are alike; a refused size says why."""
    group = group_of(_panel(pk))
    if group.worked.takeoff is None:
        say(request, " ".join(p.message for p in group.worked.refused))
        return redirect("quotes:plan", group.first.room_id)
    sheet = documents.sheet_of(
        group.worked,
        room=group.first.room.name,
        count=group.count,
        notes=group.notes,
    )
    letterhead = documents.letterhead_of(profile())
    return pdf_answer(documents.bench_sheet_pdf(sheet, letterhead=letterhead))
