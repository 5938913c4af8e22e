"""Bring the finishes that come with the program."""

from __future__ import annotations

import datetime as dt
from itertools import count

from django.db import transaction
from django.utils.text import slugify

from shop.catalogue.engine import FINISHES
from shop.catalogue.models import BANDS, Finish


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
