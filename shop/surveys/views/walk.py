"""The walk round a room with a tape: fields that save themselves, network or not."""

from __future__ import annotations

import uuid

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from shared.access import Right, may, needs
from shared.files.actions import set_removed
from shared.files.models import Attachment
from shared.files.views import file_response
from shared.htmx import page_or_fragment
from shared.notices import say
from shared.offline.pages import kept_on_device
from shop.people.me import me
from shop.people.models import ShopProfile
from shop.people.reports import profile
from shop.surveys.models import Survey
from shop.surveys.reports.photos import ROWS, place_of, room_of
from shop.surveys.reports.walk import blanks, leave_brief, leave_page, walk_page


@needs(Right.SURVEY)
@require_GET
@kept_on_device
def survey_walk(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show what is typed on the walk; each field writes through the device's queue."""
    survey = get_object_or_404(Survey.objects.with_room().with_inside(), pk=pk)
    context = {
        "survey": survey,
        "page": walk_page(survey, _shown_shop(request)),
        "blank": blanks(),
        "leave": leave_brief(survey),
    }
    return render(request, "shop/surveys/walk.html", context)


@needs(Right.SURVEY)
@require_GET
def survey_before(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show what to do before leaving, with a sketch; whoever sees money, a ballpark."""
    survey = get_object_or_404(Survey.objects.with_room().with_inside(), pk=pk)
    return page_or_fragment(
        request,
        page="shop/surveys/before.html",
        fragment="shop/surveys/walk/_before.html",
        context={"survey": survey, "leave": leave_page(survey, _shown_shop(request))},
    )


def _shown_shop(request: HttpRequest) -> ShopProfile | None:
    """Return the shop for those who may see its rates."""
    return profile() if may(request.user, Right.SEE_MONEY) else None


def _photo(pk: uuid.UUID) -> Attachment:
    rows = Attachment.objects.of_kinds(ROWS).select_related("file")
    return get_object_or_404(rows, pk=pk)


@needs(Right.SURVEY)
@require_GET
def photo(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show one photo of a room, a wall or an opening."""
    return file_response(_photo(pk).file)


@needs(Right.SURVEY)
@require_POST
def photo_remove(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a photo out; it can be put back."""
    return _set_removed(request, pk, removed=True)


@needs(Right.SURVEY)
@require_POST
def photo_restore(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a photo back."""
    return _set_removed(request, pk, removed=False)


def _set_removed(request: HttpRequest, pk: uuid.UUID, *, removed: bool) -> HttpResponse:
    found = _photo(pk)
    place = place_of(found)
    if place is None:
        raise Http404
    set_removed(found, place, removed=removed, by=me(request), at=timezone.now())
    undo = reverse("shop:photo-restore", args=(pk,)) if removed else ""
    say(request, "The photo is taken out." if removed else "It is back.", undo=undo)
    room = room_of(place)
    latest = room.surveys.newest_first().first()
    return redirect(f"{(latest or room).get_absolute_url()}#photos")
