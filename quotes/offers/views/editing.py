"""What the forms on a draft have in common."""

from __future__ import annotations

import uuid
from collections.abc import Callable

from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, render

from quotes.offers.actions import CannotAnswerError
from quotes.offers.models import FreeLine, Quote
from shared.forms import KeepTyped
from shared.htmx import done
from shared.notices import say


def typed(request: HttpRequest) -> QueryDict | None:
    """Return what was typed, if anything was sent."""
    return request.POST if request.method == "POST" else None


def workable_quote(request: HttpRequest, pk: uuid.UUID) -> Quote:
    """Return a quote to work on; the form of a settled one is not found.

    What is sent to it all the same is refused by the action, with what was typed kept.
    """
    quote = get_object_or_404(Quote.objects.with_client(), pk=pk)
    if request.method != "POST" and not quote.is_changeable:
        raise Http404(f"{quote.number} is settled")
    return quote


def edit_draft(
    request: HttpRequest,
    quote: Quote,
    form: KeepTyped,
    store: Callable[[], object],
    *,
    words: tuple[str, str],
    line: FreeLine | None = None,
) -> HttpResponse:
    """Store what was typed, or answer with the form; `words` are its title and thanks."""
    title, thanks = words
    if request.method == "POST" and form.is_valid():
        try:
            store()
        except CannotAnswerError as error:
            form.add_error(None, str(error))
        else:
            say(request, thanks)
            return done(request, quote.get_absolute_url())
    context = {"quote": quote, "form": form, "title": title, "line": line}
    return render(request, "quotes/offers/quote_form.html", context, status=form.status)
