"""Site days of the demo: one that is over, one that comes, one to put something right."""

from __future__ import annotations

import datetime as dt

from jobs.board.models import Job, Panel
from jobs.demo.people import Cast
from jobs.visits.actions import DayPlan, close_day, plan_day, tick
from jobs.visits.models import SiteDay, SiteDayKind
from jobs.visits.reports import day_page, loose_ends, van_page
from shared.conventions import current, today
from shop.people.models import Person
from shop.surveys.models import Room

DAY = dt.timedelta(days=1)
LEVEL = "tool:level"
"""What they left behind."""


def plan_visit(job: Job, plan: DayPlan, *, by: Person, at: dt.datetime) -> SiteDay:
    """Plan a day in the shop's own zone."""
    return plan_day(job, plan, zone=current().time_zone, by=by, at=at)


def cafe_day(job: Job, room: Room, cast: Cast, at: dt.datetime) -> None:
    """Plan the day on which the café's panels go up, in six days; a few are loaded."""
    plan = DayPlan(
        on=today(at + 6 * DAY),
        arrive_at=dt.time(7, 30),
        kind=SiteDayKind.INSTALL,
        site=room.site,
        crew=(cast.fitter, cast.maker),
        panels=tuple(Panel.objects.of_job(job)),
        notes="They open at eleven: the ceiling first.",
    )
    day = plan_visit(job, plan, by=cast.office, at=at - 20 * DAY)
    for group in van_page(day).groups[:1]:
        for row in group.rows[:3]:
            tick(day, row.line.key, on=True, by=cast.maker, at=at)


def music_room_days(job: Job, room: Room, cast: Cast, at: dt.datetime) -> None:
    """Hang four of six panels, the level left behind; the return is overdue."""
    panels = tuple(Panel.objects.of_job(job))
    then = at - 6 * DAY
    plan = DayPlan(
        on=today(then),
        arrive_at=dt.time(9, 0),
        kind=SiteDayKind.INSTALL,
        site=room.site,
        crew=(cast.fitter,),
        panels=panels,
    )
    day = plan_visit(job, plan, by=cast.office, at=at - 14 * DAY)
    for key in sorted(van_page(day).keys - {LEVEL}):
        tick(day, key, on=True, by=cast.fitter, at=then)
    page = day_page(day, today=today(then))
    ends = loose_ends(page, hung=[panel.pk for panel in panels[:4]], left={LEVEL})
    seen = [(panel.pk, panel.stage) for panel in panels[:4]]
    close_day(day, seen, ends=ends, by=cast.fitter, at=then)
    again = DayPlan(
        on=today(at - DAY),
        arrive_at=dt.time(16, 30),
        kind=SiteDayKind.RETURN,
        site=room.site,
        crew=(cast.fitter,),
        panels=panels[4:],
        notes="Bring the long level.",
    )
    plan_visit(job, again, by=cast.office, at=at - 5 * DAY)
