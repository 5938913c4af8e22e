"""What upper apps do when a quote is accepted."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

from quotes.offers.models import QuoteRevision
from shared.slots import Slot
from shop.people.models import Person

ON_ACCEPT: Slot[Callable[[QuoteRevision, Person | None, dt.datetime], object]] = Slot(
    "quote accepted"
)
"""Called inside the accepting transaction: the revision, who wrote it down, and when."""
