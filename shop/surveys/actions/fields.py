"""Write down one field of a part at a time, or one reading, as devices send them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection

from django.db import models, transaction

from shared.audit.actions import record
from shared.forms import TypedLength
from shop.people.models import Person
from shop.surveys.actions import Part, note_stored, survey_of, touch
from shop.surveys.models import Axis, Opening, Reading, Survey


@transaction.atomic
def change_part(
    part: Part, changed: Collection[str], *, by: Person, at: dt.datetime
) -> None:
    """Store some columns of a part; what they have no part in is not checked again."""
    survey = survey_of(part)
    touch(survey)
    part.full_clean(exclude=_apart_from(part, changed))
    part.save(update_fields=changed)
    note_stored(part, survey, by=by, at=at)


@transaction.atomic
def change_ceiling(
    survey: Survey, changed: Collection[str], *, by: Person, at: dt.datetime
) -> None:
    """Store some columns of a survey itself: its ceiling, its notes."""
    touch(survey)
    survey.full_clean(exclude=_apart_from(survey, changed))
    survey.save(update_fields=changed)
    text = f"Survey {survey.revision}: ceiling and notes stored"
    record(survey.room, verb="measure", text=text, by=by, at=at)


def _apart_from(part: Part | Survey, changed: Collection[str]) -> set[str]:
    """Return the columns that no rule ties to those that change."""
    tied = set(changed)
    for rule in part._meta.constraints:
        names = _named_in(rule)
        if names & set(changed):
            tied |= names
    return {column.name for column in part._meta.concrete_fields} - tied


def _named_in(rule: models.BaseConstraint) -> set[str]:
    if isinstance(rule, models.CheckConstraint):
        condition = rule.condition
        return (
            set(condition.referenced_base_fields)
            if isinstance(condition, models.Q)
            else set()
        )
    return set(rule.fields) if isinstance(rule, models.UniqueConstraint) else set()


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
    survey = survey_of(opening)
    touch(survey)
    known = opening.readings.filter(axis=axis, place=place)
    if read is None:
        known.delete()
    else:
        reading = known.first() or Reading(opening=opening, axis=axis, place=place)
        reading.ticks, reading.text = read
        reading.full_clean()
        reading.save()
    note_stored(opening, survey, by=by, at=at)
