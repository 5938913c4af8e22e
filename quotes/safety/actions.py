"""State what something may carry, and take it back."""

from __future__ import annotations

import datetime as dt

from django.db import transaction

from quotes.safety.models import LoadStatement
from shop.people.models import Person


@transaction.atomic
def state_load(
    subject: str,
    *,
    name: str,
    load_n: float | None,
    source: str,
    by: Person,
    at: dt.datetime,
) -> LoadStatement:
    """Append what somebody stands for; without a load the last statement is taken back."""
    stated = LoadStatement(
        subject=subject, name=name, load_n=load_n, source=source, by=by, at=at
    )
    stated.full_clean()
    stated.save()
    return stated
