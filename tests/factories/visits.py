"""Site days, as small as they may be."""

from __future__ import annotations

import datetime as dt

from jobs.visits.actions import DayPlan, plan_day
from jobs.visits.models import SiteDay
from jobs.visits.reports import sites_of
from tests.factories.jobs import AT, make_full_job
from tests.factories.people import make_person

ON = dt.date(2026, 3, 12)


def make_day(
    *,
    job=None,
    by=None,
    crew=(),
    panels=None,
    on=ON,
    arrive_at=dt.time(8, 30),
    kind="install",
    zone="Europe/London",
    notes="",
) -> SiteDay:
    """Return an install day for everything of a job: two on cleats, one overhead."""
    by = by or make_person(username="dayplanner", role="office")
    job = job or make_full_job(by=by)
    plan = DayPlan(
        on=on,
        arrive_at=arrive_at,
        kind=kind,
        site=sites_of(job)[0],
        crew=tuple(crew) or (by,),
        panels=tuple(job.panels.all() if panels is None else panels),
        notes=notes,
    )
    return plan_day(job, plan, zone=zone, by=by, at=AT)
