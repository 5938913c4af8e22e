"""List quotes, make them, and work on the draft."""

from __future__ import annotations

import uuid

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from quotes.offers.actions import change_terms, set_rooms, start_quote
from quotes.offers.forms import AnswerForm, ClientChoice, RoomsForm, TermsForm
from quotes.offers.models import Quote, QuoteState
from quotes.offers.views.editing import edit_draft, typed, workable_quote
from quotes.offers.views.page import quote_response
from shared.access import Right, needs
from shared.htmx import done, page_or_fragment
from shared.lists import cut, words
from shared.notices import say
from shop.clients.models import Client
from shop.people.me import me
from shop.surveys.models import Room


@require_GET
@needs(Right.QUOTE)
def list_quotes(request: HttpRequest) -> HttpResponse:
    """List quotes, the newest first, by state and words."""
    state = request.GET.get("state", "")
    quotes = Quote.objects.matching(words(request)).with_client().with_last_total()
    if state in QuoteState.values:
        quotes = quotes.in_state(state)
    return page_or_fragment(
        request,
        page="quotes/offers/quotes.html",
        fragment="quotes/offers/_quotes.html",
        context={
            "listed": cut(request, quotes, "q", "state"),
            "words": words(request),
            "state": state,
            "states": QuoteState.choices,
        },
    )


@require_http_methods(["GET", "POST"])
@needs(Right.QUOTE)
def new_quote(request: HttpRequest) -> HttpResponse:
    """Choose a client, then the rooms, and begin a draft."""
    choice = ClientChoice({"client": request.GET.get("client", "")})
    if not request.GET.get("client"):
        return _choose_client(request, ClientChoice(), status=200)
    if not choice.is_valid():
        return _choose_client(request, choice, status=choice.status)
    client: Client = choice.cleaned_data["client"]
    rooms = Room.objects.live().of_client(client).with_site()
    every = {"rooms": [room.pk for room in rooms]}
    form = RoomsForm(typed(request), rooms=rooms, initial=every)
    if request.method == "POST" and form.is_valid():
        quote = start_quote(
            client,
            rooms=form.cleaned_data["rooms"],
            by=me(request),
            at=timezone.now(),
        )
        say(request, f"Quote {quote.number} begun.")
        return done(request, quote.get_absolute_url())
    context = {"client": client, "form": form, "any_rooms": bool(every["rooms"])}
    return render(request, "quotes/offers/quote_new.html", context, status=form.status)


def _choose_client(
    request: HttpRequest, form: ClientChoice, *, status: int
) -> HttpResponse:
    context = {"form": form, "any_clients": Client.objects.live().exists()}
    return render(request, "quotes/offers/choose_client.html", context, status=status)


@require_GET
@needs(Right.QUOTE)
def show_quote(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Show a quote: draft, price with every figure open, what was sent, what became."""
    quote = get_object_or_404(Quote.objects.with_client(), pk=pk)
    return quote_response(request, quote, AnswerForm())


@require_http_methods(["GET", "POST"])
@needs(Right.QUOTE)
def change_quote(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Change scope, discount and validity."""
    quote = workable_quote(request, pk)
    form = TermsForm.of(quote, typed(request))
    return edit_draft(
        request,
        quote,
        form,
        lambda: change_terms(quote, form.terms(), by=me(request), at=timezone.now()),
        words=("Scope, discount, validity", "Stored."),
    )


@require_http_methods(["GET", "POST"])
@needs(Right.QUOTE)
def change_rooms(request: HttpRequest, pk: uuid.UUID) -> HttpResponse:
    """Say which rooms the quote is about."""
    quote = workable_quote(request, pk)
    rooms = Room.objects.live().of_client(quote.client).with_site()
    chosen = {"rooms": [room.pk for room in quote.rooms_in_order()]}
    form = RoomsForm(typed(request), rooms=rooms, initial=chosen)
    return edit_draft(
        request,
        quote,
        form,
        lambda: set_rooms(
            quote, form.cleaned_data["rooms"], by=me(request), at=timezone.now()
        ),
        words=("Rooms of this quote", "Rooms stored."),
    )
