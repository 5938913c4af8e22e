"""Who did what, as pages show it."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import TYPE_CHECKING

from shared.audit.models import Entry

if TYPE_CHECKING:
    from django.db.models import Model

SHOWN = 50


@dataclass(frozen=True, slots=True)
class LogLine:
    """One thing that somebody did."""

    text: str
    who: str
    when: dt.datetime
    note: str = ""


def log_of(subject: Model, *, most: int = SHOWN) -> tuple[LogLine, ...]:
    """Return the latest entries about a record, newest first. One query."""
    kind = subject._meta.model_name or ""
    return tuple(
        LogLine(entry.text, str(entry.by) if entry.by else "", entry.at)
        for entry in Entry.objects.about(kind, subject.pk)[:most]
    )
