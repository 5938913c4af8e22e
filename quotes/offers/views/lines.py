"""Lines of a quote that no panel makes."""

from __future__ import annotations

import uuid
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from quotes.offers.actions import CannotAnswerError, drop_line, put_line, restore_line
from quotes.offers.forms import LineForm
from quotes.offers.models import FreeLine
from quotes.offers.views.who import changeable_quote, person_of
from shared.access import Right, needs
from shared.htmx import done
from shared.notices import say


@require_http_methods(["GET", "POST"])
@needs(Right.QUOTE)
def new_line(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add a line."""
    return _edit(request, FreeLine(quote=changeable_quote(pk)), title="Add a line")


@require_http_methods(["GET", "POST"])
@needs(Right.QUOTE)
def change_line(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a line."""
    line = get_object_or_404(FreeLine.objects.select_related("quote"), pk=pk)
    changeable_quote(line.quote_id)
    return _edit(request, line, title="Change a line")


def _edit(request: HttpRequest, line: FreeLine, *, title: str) -> HttpResponse:
    form = LineForm(request.POST or None, instance=line)
    if request.method == "POST" and form.is_valid():
        put_line(form.instance, by=person_of(request), at=timezone.now())
        say(request, "Line stored.")
        return done(request, line.quote.get_absolute_url())
    context = {
        "quote": line.quote,
        "form": form,
        "title": title,
        "back": line.quote.get_absolute_url(),
        "line": None if line._state.adding else line,
    }
    return render(request, "quotes/offers/quote_form.html", context, status=form.status)


@require_POST
@needs(Right.QUOTE)
def remove_line(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Take a line out; one tap puts it back."""
    undo = reverse("quotes:line-restore", args=(pk,))
    return _set(request, pk, drop_line, "Taken out", undo=undo)


@require_POST
@needs(Right.QUOTE)
def put_line_back(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put a line back that was taken out."""
    return _set(request, pk, restore_line, "Put back")


def _set(
    request: HttpRequest,
    pk: uuid.UUID,
    act: Callable[..., FreeLine],
    said: str,
    *,
    undo: str = "",
) -> HttpResponse:
    line = get_object_or_404(FreeLine.objects.select_related("quote"), pk=pk)
    try:
        act(line, by=person_of(request), at=timezone.now())
    except CannotAnswerError as error:
        say(request, str(error))
    else:
        say(request, f"{said}: {line.text}.", undo=undo)
    return done(request, line.quote.get_absolute_url())
