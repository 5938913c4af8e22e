"""What site days add to a job's page."""

from __future__ import annotations

from django.http import HttpRequest

from jobs.board.models import Job
from jobs.visits.models import SiteDay
from shared.access import Right, may
from shared.slots import Section


def job_days(request: HttpRequest, job: Job) -> Section:
    """Show a job's site days, and the way to plan one. Two queries."""
    context = {
        "job": job,
        "days": SiteDay.objects.of_job(job).with_crew().with_counts(),
        "may_plan": may(request.user, Right.PLAN_SITE_DAYS),
    }
    return Section("jobs/visits/_job_section.html", context)
