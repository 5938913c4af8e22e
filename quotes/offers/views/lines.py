"""Lines of a quote that no panel makes."""

from __future__ import annotations

import uuid
from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from quotes.offers.actions import CannotAnswerError, drop_line, put_line, restore_line
from quotes.offers.forms import LineForm
from quotes.offers.models import FreeLine
from quotes.offers.views.editing import edit_draft, typed, workable_quote
from shared.access import Right, needs
from shared.htmx import done
from shared.notices import say
from shop.people.me import me


@require_http_methods(["GET", "POST"])
@needs(Right.QUOTE)
def new_line(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Add a line."""
    line = FreeLine(quote=workable_quote(request, pk))
    return _edit(request, line, title="Add a line")


@require_http_methods(["GET", "POST"])
@needs(Right.QUOTE)
def change_line(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change a line."""
    line = get_object_or_404(FreeLine.objects.live(), pk=pk)
    line.quote = workable_quote(request, line.quote_id)
    return _edit(request, line, title="Change a line")


def _edit(request: HttpRequest, line: FreeLine, *, title: str) -> HttpResponse:
    form = LineForm(typed(request), instance=line)
    return edit_draft(
        request,
        line.quote,
        form,
        lambda: put_line(form.instance, by=me(request), at=timezone.now()),
        words=(title, "Line stored."),
        line=None if line._state.adding else line,
    )


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
        act(line, by=me(request), at=timezone.now())
    except CannotAnswerError as error:
        say(request, str(error))
    else:
        say(request, f"{said}: {line.text}.", undo=undo)
    return done(request, line.quote.get_absolute_url())
