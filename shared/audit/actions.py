"""Write down who did what."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from shared.audit.models import Entry

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable

    from django.db.models import Model


def record(
    subject: Model,
    *,
    verb: str,
    text: str,
    by: Any,
    at: dt.datetime,
    detail: dict[str, Any] | None = None,
) -> Entry:
    """Append one entry about a record. Call it inside the action's transaction."""
    entry: Entry = Entry.objects.create(
        at=at,
        by=by,
        kind=subject._meta.model_name or "",
        subject_id=subject.pk,
        verb=verb,
        text=text[:300],
        detail=detail or {},
    )
    return entry


def record_each(
    subjects: Iterable[Model], *, verb: str, says: str, by: Any, at: dt.datetime
) -> None:
    """Append an entry for each of many records; ``{}`` in ``says`` is its name."""
    Entry.objects.bulk_create(
        Entry(
            at=at,
            by=by,
            kind=subject._meta.model_name or "",
            subject_id=subject.pk,
            verb=verb,
            text=says.format(subject)[:300],
        )
        for subject in subjects
    )
