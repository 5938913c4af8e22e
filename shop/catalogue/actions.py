"""Keep the stores: materials, suppliers, operations and finishes."""

from __future__ import annotations

import datetime as dt
from itertools import count
from typing import TypeVar

from django.db import transaction
from django.utils.text import slugify

from shared.audit.actions import record
from shop.catalogue.engine import FINISHES
from shop.catalogue.models import BANDS, Finish, Material, Operation, Supplier
from shop.people.models import Person

Kept = TypeVar("Kept", Material, Supplier, Operation, Finish)


@transaction.atomic
def add(row: Kept, *, by: Person, at: dt.datetime) -> Kept:
    """Store something new."""
    row.full_clean()
    row.save()
    record(row, verb="add", text=f"{row} added", by=by, at=at)
    return row


@transaction.atomic
def change(row: Kept, *, by: Person, at: dt.datetime) -> None:
    """Store changes; quotes that were sent keep what they froze."""
    row.full_clean()
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


def free_key(name: str) -> str:
    """Return a key that no finish has, made from its name."""
    stem = slugify(name)[:50] or "finish"
    keys = (stem if n == 1 else f"{stem}-{n}" for n in count(1))
    return next(key for key in keys if not Finish.objects.filter(key=key).exists())


@transaction.atomic
def install_finishes(*, at: dt.datetime) -> int:
    """Add what is missing of the finishes that come with the program; nothing twice.

    One that the shop has under the same key stays as it is, put aside or changed.
    """
    there = set(Finish.objects.values_list("key", flat=True))
    missing = [known for known in FINISHES if known.key not in there]
    for known in missing:
        shares = zip(BANDS, known.coefficients, strict=True)
        row = Finish(
            key=known.key,
            name=known.name,
            source=known.source,
            created_at=at,
            **{f"at_{band}": share for band, share in shares},
        )
        row.full_clean()
        row.save()
    return len(missing)
