"""Append to what became of what was sent."""

from __future__ import annotations

import datetime as dt

from quotes.offers.models import Answer, AnswerKind, QuoteRevision
from shop.people.models import Person


def write_down(
    revision: QuoteRevision,
    *,
    kind: AnswerKind,
    by: Person | None,
    at: dt.datetime,
    note: str = "",
) -> Answer:
    """Append what became of a revision; its quote has to be locked."""
    number = revision.answers.count() + 1
    answer: Answer = Answer.objects.create(
        revision=revision, number=number, kind=kind, at=at, by=by, note=note
    )
    return answer
