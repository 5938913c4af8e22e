"""Parts that later features add to a job's page."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest

from jobs.board.models import Job
from shared.slots import Section, Slot

JOB_SECTIONS: Slot[Callable[[HttpRequest, Job], Section | None]] = Slot("job page")
"""Functions that give a section of a job's page, or nothing for this person."""
