"""What quotes add to the pages of the app below."""

from __future__ import annotations

from django.http import HttpRequest

from quotes.offers.models import Quote
from shared.access import Right, may
from shared.slots import Section
from shop.clients.models import Client


def client_quotes(request: HttpRequest, client: Client) -> Section | None:
    """Give a client's quotes, for those who may see them."""
    if not may(request.user, Right.QUOTE):
        return None
    quotes = Quote.objects.of_client(client).with_client().with_last_total()
    return Section(
        template="quotes/offers/_client_quotes.html",
        context={"client": client, "quotes": quotes},
    )
