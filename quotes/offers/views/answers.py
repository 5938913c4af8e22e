"""Write down what the client said."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_POST

from quotes.offers.actions import (
    CannotAnswerError,
    accept_quote,
    decline_quote,
    take_yes_back,
    void_quote,
)
from quotes.offers.forms import AnswerForm
from quotes.offers.models import Quote
from quotes.offers.views.page import quote_response
from shared.access import Right, needs
from shared.htmx import done
from shared.notices import say
from shop.people.me import me


@require_POST
@needs(Right.QUOTE)
def accept(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Write down the client's yes: the job opens."""
    return _answer(request, pk, accept_quote, "Accepted: its panels are on the bench.")


@require_POST
@needs(Right.QUOTE)
def take_back(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Undo a yes while nothing has come of it."""
    return _answer(
        request, pk, take_yes_back, "The yes is taken back: the quote is out again."
    )


@require_POST
@needs(Right.QUOTE)
def decline(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Write down the client's no."""
    return _answer(
        request, pk, decline_quote, "Declined. A change makes a new revision."
    )


@require_POST
@needs(Right.QUOTE)
def void(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Put the quote aside for good."""
    return _answer(request, pk, _void, "Voided. Its number stays used.")


def _void(quote: Quote, *, seen: uuid.UUID | None = None, **said: Any) -> Quote:
    """Void a quote, whichever of its revisions was looked at."""
    return void_quote(quote, **said)


def _answer(
    request: HttpRequest, pk: uuid.UUID, act: Callable[..., Any], said: str
) -> HttpResponse:
    quote = get_object_or_404(Quote.objects.with_client(), pk=pk)
    form = AnswerForm(request.POST)
    if form.is_valid():
        try:
            act(
                quote,
                note=form.cleaned_data["note"],
                by=me(request),
                at=timezone.now(),
                **form.seen(),
            )
        except CannotAnswerError as error:
            form.add_error(None, str(error))
        else:
            say(request, said)
            return done(request, quote.get_absolute_url())
    return quote_response(request, quote, form, status=422)
