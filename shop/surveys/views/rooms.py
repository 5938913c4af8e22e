"""Rooms: find, open, write down, change, put aside."""

from __future__ import annotations

import uuid

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import (
    require_GET,
    require_http_methods,
    require_POST,
)

from shared import lists
from shared.access import Right, may, needs
from shared.htmx import done, page_or_fragment
from shared.notices import say
from shared.slots import sections
from shop.clients.models import Client
from shop.people.me import me
from shop.surveys import actions
from shop.surveys.forms import NewRoomForm, RoomForm
from shop.surveys.models import Room
from shop.surveys.reports.pages import room_page
from shop.surveys.slots import ROOM_SECTIONS
from shop.surveys.views.common import GET_POST, sent


def _room(pk: uuid.UUID) -> Room:
    found: Room = get_object_or_404(Room.objects.with_site(), pk=pk)
    return found


@require_GET
def rooms(request: HttpRequest) -> HttpResponse:
    """List rooms, or those in which every word is found, put aside or not."""
    words = lists.words(request)
    aside = bool(request.GET.get("aside"))
    rows = Room.objects.with_site().with_latest_survey()
    kept = rows.archived() if aside else rows.live()
    context = {
        "listed": lists.cut(
            request, rows.matching(words) if words else kept, "q", "aside"
        ),
        "words": words,
        "aside": aside,
        "may_survey": may(request.user, Right.SURVEY),
        "may_keep": may(request.user, Right.KEEP_STORES),
    }
    return page_or_fragment(
        request,
        page="shop/surveys/rooms.html",
        fragment="shop/surveys/_rooms.html",
        context=context,
    )


@require_GET
def room(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show a room with its latest survey, what to be careful about, and what comes next."""
    shown = _room(pk)
    context = {
        "page": room_page(shown),
        "room": shown,
        "sections": sections(ROOM_SECTIONS, request, shown),
        "may_survey": may(request.user, Right.SURVEY),
        "sees_clients": may(request.user, Right.SEE_CLIENTS),
    }
    return render(request, "shop/surveys/room.html", context)


def _asked_client(request: HttpRequest) -> Client | None:
    """Return the client whose room it will be; nothing when none is named yet."""
    asked = request.GET.get("client")
    if not asked:
        return None
    try:
        pk = uuid.UUID(asked)
    except ValueError:
        raise Http404 from None
    found: Client = get_object_or_404(Client.objects.with_details(), pk=pk)
    return found


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def room_new(request: HttpRequest) -> HttpResponse:
    """Write down a room of the client named in ?client=; ask whose it is before that."""
    client = _asked_client(request)
    if client is None:
        return _ask_whose(request)
    form = NewRoomForm(sent(request), client=client)
    if request.method == "POST" and form.is_valid():
        new = actions.add_room(
            form.room.save(commit=False),
            new_site=form.new_site,
            by=me(request),
            at=timezone.now(),
        )
        say(request, f"{new} is written down.")
        return redirect(new)
    context = {"form": form, "client": client}
    return render(request, "shop/surveys/room_new.html", context, status=form.status)


def _ask_whose(request: HttpRequest) -> HttpResponse:
    words = lists.words(request)
    rows = Client.objects.with_details().live().matching(words)
    context = {
        "listed": lists.cut(request, rows, "q"),
        "words": words,
        "may_keep": may(request.user, Right.KEEP_CLIENTS),
    }
    return page_or_fragment(
        request,
        page="shop/surveys/whose_room.html",
        fragment="shop/surveys/_whose.html",
        context=context,
    )


@needs(Right.SURVEY)
@require_http_methods(GET_POST)
def room_change(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change what is known of a room."""
    stored = _room(pk)
    form = RoomForm(sent(request), instance=_room(pk), client=stored.site.client)
    if request.method == "POST" and form.is_valid():
        actions.change_room(form.save(commit=False), by=me(request), at=timezone.now())
        say(request, "Stored.")
        return redirect(stored)
    keeps = may(request.user, Right.KEEP_CLIENTS)
    context = {"form": form, "room": stored, "keeps_clients": keeps}
    return render(request, "shop/surveys/room_form.html", context, status=form.status)


@needs(Right.SURVEY)
@require_POST
def room_archive(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a room aside, with a way back."""
    aside = _room(pk)
    actions.archive_room(aside, by=me(request), at=timezone.now())
    say(
        request, f"{aside} is put aside.", undo=reverse("shop:room-restore", args=(pk,))
    )
    return done(request, reverse("shop:rooms"))


@needs(Right.SURVEY)
@require_POST
def room_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a room up again."""
    back = _room(pk)
    actions.restore_room(back, by=me(request), at=timezone.now())
    say(request, f"{back} is back among the rooms.")
    return done(request, back.get_absolute_url())
