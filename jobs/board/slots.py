"""Parts that later features add to pages and to the bench, and what follows a measuring."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Callable, Collection, Iterable, Mapping
from typing import TYPE_CHECKING

from django.http import HttpRequest

from jobs.board.models import Job, Panel
from shared.slots import Section, Slot
from shop.people.models import Person

if TYPE_CHECKING:
    from jobs.board.reports import Badge

JOB_SECTIONS: Slot[Callable[[HttpRequest, Job], Section | None]] = Slot("job page")
"""Functions that give a section of a job's page, or nothing for this person."""

PANEL_SECTIONS: Slot[Callable[[HttpRequest, Panel], Section | None]] = Slot(
    "panel page"
)
"""Functions that give a section of a panel's page, or nothing for this person."""

BOARD_NOTES: Slot[Callable[[Collection[uuid.UUID]], Mapping[uuid.UUID, Badge]]] = Slot(
    "board's head"
)
"""Functions that give jobs a mark beside their name on the bench, by id; one query each."""

ON_MEASURED: Slot[Callable[[Panel, Person, dt.datetime], object]] = Slot(
    "panel measured"
)
"""Called inside the transaction that wrote a panel's own size down."""


def notes_of(jobs: Iterable[Job]) -> dict[uuid.UUID, tuple[Badge, ...]]:
    """Gather the marks of jobs on the bench."""
    ids = [job.pk for job in jobs]
    found: dict[uuid.UUID, tuple[Badge, ...]] = {}
    for notes in (function(ids) for function in BOARD_NOTES):
        for job, badge in notes.items():
            found[job] = (*found.get(job, ()), badge)
    return found
