"""What site days add to a job's page."""

from __future__ import annotations

from django.http import HttpRequest
from django.utils import timezone

from jobs.board.models import Job
from jobs.visits.models import SiteDay
from jobs.visits.reports import left_of_job
from shared.access import Right, may
from shared.conventions import today
from shared.slots import Section


def job_days(request: HttpRequest, job: Job) -> Section:
    """Say what is left of a job; list its site days, and the way to plan one. Four queries."""
    days = tuple(
        SiteDay.objects.of_job(job).with_crew().with_counts().with_left_behind()
    )
    now = today(timezone.now())
    context = {
        "job": job,
        "days": days,
        "left": left_of_job(job, days, today=now),
        "today": now,
        "may_plan": may(request.user, Right.PLAN_SITE_DAYS),
    }
    return Section("jobs/visits/_job_section.html", context)
