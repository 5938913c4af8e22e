"""Keep the stores: materials, suppliers, operations and finishes."""

from __future__ import annotations

import datetime as dt
from typing import TypeVar

from django.db import transaction

from shared.audit.actions import record
from shop.catalogue.actions.prices import note_price
from shop.catalogue.models import Finish, Material, Operation, Supplier
from shop.people.models import Person

Kept = TypeVar("Kept", Material, Supplier, Operation, Finish)
TYPED = "typed on its page"


@transaction.atomic
def add(row: Kept, *, by: Person, at: dt.datetime, source: str = TYPED) -> Kept:
    """Store something new; ``source`` says where a material's price is from."""
    row.full_clean()
    row.save()
    if isinstance(row, Material):
        note_price(row, None, source=source, by=by, at=at)
    record(row, verb="add", text=f"{row} added", by=by, at=at)
    return row


@transaction.atomic
def change(row: Kept, *, by: Person, at: dt.datetime, source: str = TYPED) -> None:
    """Store changes; quotes that were sent keep what they froze.

    A price that changed goes into the history of prices, with its ``source``.
    """
    row.full_clean()
    if isinstance(row, Material):
        stored = Material.objects.select_for_update().get(pk=row.pk)
        note_price(row, stored, source=source, by=by, at=at)
    row.save()
    record(row, verb="change", text=f"{row} changed", by=by, at=at)


@transaction.atomic
def archive(row: Kept, *, by: Person, at: dt.datetime) -> None:
    """Put aside: offered no more, kept where it is used."""
    row.archived_at = at
    row.save(update_fields=["archived_at"])
    record(row, verb="archive", text=f"{row} put aside", by=by, at=at)


@transaction.atomic
def restore(row: Kept, *, by: Person, at: dt.datetime) -> None:
    """Take into use again."""
    row.archived_at = None
    row.save(update_fields=["archived_at"])
    record(row, verb="restore", text=f"{row} taken up again", by=by, at=at)
