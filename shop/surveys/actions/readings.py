"""Write down one reading of an opening at a time."""

from __future__ import annotations

import datetime as dt

from django.db import transaction

from shared.forms import TypedLength
from shop.people.models import Person
from shop.surveys.actions import store_part
from shop.surveys.models import Axis, Opening, Reading


@transaction.atomic
def store_reading(
    opening: Opening,
    axis: Axis,
    place: int,
    *,
    read: TypedLength | None,
    by: Person,
    at: dt.datetime,
) -> None:
    """Store one reading of an opening, or take it back; its other readings stay."""
    store_part(opening, opening.wall.survey, by=by, at=at)
    known = opening.readings.filter(axis=axis, place=place)
    if read is None:
        known.delete()
        return
    reading = known.first() or Reading(opening=opening, axis=axis, place=place)
    reading.ticks, reading.text = read
    reading.full_clean()
    reading.save()
