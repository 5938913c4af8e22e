"""What upper apps do when a quote is accepted, and add to its page."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

from django.http import HttpRequest

from quotes.offers.models import Quote, QuoteRevision
from shared.slots import Section, Slot
from shop.people.models import Person

ON_ACCEPT: Slot[Callable[[QuoteRevision, Person | None, dt.datetime], object]] = Slot(
    "quote accepted"
)
"""Called inside the accepting transaction: the revision, who wrote it down, and when."""

ON_TAKE_BACK: Slot[Callable[[QuoteRevision, Person, dt.datetime], object]] = Slot(
    "yes taken back"
)
"""Called inside the transaction that takes a yes back, before the quote is out again.

A function that can no longer undo what it did raises `CannotAnswerError`, which stops all.
"""

KEEPS_YES: Slot[Callable[[QuoteRevision], str]] = Slot("what keeps a yes")
"""Functions that say why a yes can't be taken back any more; nothing while it can."""

QUOTE_SECTIONS: Slot[Callable[[HttpRequest, Quote], Section | None]] = Slot(
    "quote page"
)
"""Functions that give a section of a quote's page, or nothing for this person."""
