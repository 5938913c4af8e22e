"""What gates add to a job's page, to a panel's, and to the bench."""

from __future__ import annotations

import uuid
from collections.abc import Collection

from django.http import HttpRequest

from jobs.board.models import Job, Panel
from jobs.board.reports import Badge
from jobs.gates.reports import job_gates, panel_gates, rights_of, waits_of
from shared.slots import Section
from shop.people.me import me


def job_waits(request: HttpRequest, job: Job) -> Section | None:
    """Show what a job waits for, and what is still to be set up. Six queries."""
    if job.is_taken_back:
        return None
    person = me(request)
    context = {
        "job": job,
        "gates": job_gates(job, person),
        "may_decide": rights_of(person).decide,
    }
    return Section("jobs/gates/_job_section.html", context)


def panel_waits(request: HttpRequest, panel: Panel) -> Section | None:
    """Show which cloth was signed for, and what holds the panel up. One query."""
    if panel.job.is_taken_back:
        return None
    found = panel_gates(panel)
    if not (found.cloth or found.shut or found.past):
        return None
    return Section("jobs/gates/_panel_section.html", {"found": found})


def board_note(jobs: Collection[uuid.UUID]) -> dict[uuid.UUID, Badge]:
    """Say on the bench what jobs wait for. One query."""
    waits = waits_of(jobs)
    return {
        job: Badge(f"waits for {words}", "waiting", "lock")
        for job, words in waits.items()
    }
