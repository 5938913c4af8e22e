"""Parts that later features add to a job's page, and what follows a measuring."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

from django.http import HttpRequest

from jobs.board.models import Job, Panel
from shared.slots import Section, Slot
from shop.people.models import Person

JOB_SECTIONS: Slot[Callable[[HttpRequest, Job], Section | None]] = Slot("job page")
"""Functions that give a section of a job's page, or nothing for this person."""

ON_MEASURED: Slot[Callable[[Panel, Person, dt.datetime], object]] = Slot(
    "panel measured"
)
"""Called inside the transaction that wrote a panel's own size down."""
