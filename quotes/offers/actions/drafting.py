"""Make a working draft and change it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from django.db import transaction

from quotes.offers.actions.errors import CannotAnswerError
from quotes.offers.models import FreeLine, Quote, QuoteRoom
from shared.audit.actions import record
from shared.conventions import today
from shared.numbering import next_number
from shop.clients.models import Client
from shop.people.models import Person
from shop.people.reports import profile
from shop.surveys.models import Room


@transaction.atomic
def start_quote(
    client: Client, *, rooms: Iterable[Room], by: Person, at: dt.datetime
) -> Quote:
    """Make a working draft of some rooms, with its number."""
    year = today(at).year
    quote: Quote = Quote.objects.create(
        number=f"Q{year}-{next_number('quote', year=year):04d}",
        client=client,
        valid_days=profile().quote_valid_days,
        made_by=by,
    )
    QuoteRoom.objects.bulk_create(
        QuoteRoom(quote=quote, room=room, position=index)
        for index, room in enumerate(rooms)
    )
    record(quote, verb="made", text=f"Quote {quote.number} made.", by=by, at=at)
    return quote


@dataclass(frozen=True, slots=True)
class Terms:
    """What a person sets on a draft as a whole."""

    scope: str
    discount_percent: Decimal
    valid_days: int


@transaction.atomic
def change_terms(quote: Quote, terms: Terms, *, by: Person, at: dt.datetime) -> Quote:
    """Change scope, discount and validity of the draft."""
    locked = changeable(quote)
    locked.scope = terms.scope
    locked.discount_percent = terms.discount_percent
    locked.valid_days = terms.valid_days
    return _changed(locked, "Scope, discount or validity changed.", by=by, at=at)


@transaction.atomic
def set_rooms(
    quote: Quote, rooms: Iterable[Room], *, by: Person, at: dt.datetime
) -> Quote:
    """Say which rooms the quote is about, in order."""
    locked = changeable(quote)
    locked.quote_rooms.all().delete()
    QuoteRoom.objects.bulk_create(
        QuoteRoom(quote=locked, room=room, position=index)
        for index, room in enumerate(rooms)
    )
    return _changed(locked, "Rooms changed.", by=by, at=at)


@transaction.atomic
def put_line(line: FreeLine, *, by: Person, at: dt.datetime) -> FreeLine:
    """Add a free line, or store a changed one."""
    locked = changeable(line.quote)
    if line._state.adding:
        line.position = locked.free_lines.count()
        line.full_clean()
        line.save()
    else:
        line.full_clean()
        # not the rest: a stale form must not bring back what was taken out meanwhile
        line.save(update_fields=("text", "kind", "quantity", "unit_price"))
    _changed(locked, "A line changed.", by=by, at=at)
    return line


@transaction.atomic
def drop_line(line: FreeLine, *, by: Person, at: dt.datetime) -> FreeLine:
    """Take a free line out; it can be put back."""
    return _set_dropped(line, at, f"Line taken out: {line.text}", by=by, at=at)


@transaction.atomic
def restore_line(line: FreeLine, *, by: Person, at: dt.datetime) -> FreeLine:
    """Put a line back that was taken out."""
    return _set_dropped(line, None, f"Line put back: {line.text}", by=by, at=at)


def _set_dropped(
    line: FreeLine,
    dropped_at: dt.datetime | None,
    text: str,
    *,
    by: Person,
    at: dt.datetime,
) -> FreeLine:
    locked = changeable(line.quote)
    line.dropped_at = dropped_at
    line.save(update_fields=("dropped_at",))
    _changed(locked, text, by=by, at=at)
    return line


def changeable(quote: Quote) -> Quote:
    """Lock a quote whose draft may still be worked on, or say why it may not."""
    locked = Quote.objects.select_for_update().get(pk=quote.pk)
    if not locked.is_changeable:
        raise CannotAnswerError(
            f"Quote {locked.number} is {locked.get_state_display()} and stays as it is."
        )
    return locked


def _changed(quote: Quote, text: str, *, by: Person, at: dt.datetime) -> Quote:
    quote.version += 1
    quote.full_clean()
    quote.save()
    record(quote, verb="changed", text=text, by=by, at=at)
    return quote
