"""Who asks, and for which quote: the first lines of every view."""

from __future__ import annotations

import uuid

from django.http import Http404, HttpRequest
from django.shortcuts import get_object_or_404

from quotes.offers.models import Quote
from shop.people.models import Person


def person_of(request: HttpRequest) -> Person:
    """Return who has signed in."""
    person = request.user
    if not isinstance(person, Person):
        raise Http404
    return person


def changeable_quote(pk: uuid.UUID) -> Quote:
    """Return a quote that may still be worked on; none that is settled."""
    quote = get_object_or_404(Quote.objects.with_client(), pk=pk)
    if not quote.is_changeable:
        raise Http404(f"{quote.number} is settled")
    return quote
