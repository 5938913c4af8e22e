"""What buying adds to the pages of the features and apps below."""

from __future__ import annotations

from django.http import HttpRequest
from django.utils import timezone

from jobs.board.models import Job
from jobs.buying.reports.jobs import job_material
from shared.access import Right, may
from shared.conventions import today
from shared.slots import Section


def job_needs(request: HttpRequest, job: Job) -> Section | None:
    """Say what material a job takes, used and is short of; costs for those who see them."""
    material = job_material(job, today=today(timezone.now()))
    if not material.rows:
        return None
    context = {
        "job": job,
        "material": material,
        "sees_money": may(request.user, Right.SEE_MONEY),
        "may_buy": may(request.user, Right.KEEP_STORES),
        "may_take": job.is_open
        and (may(request.user, Right.CUT) or may(request.user, Right.KEEP_STORES)),
    }
    return Section("jobs/buying/_job_section.html", context)
