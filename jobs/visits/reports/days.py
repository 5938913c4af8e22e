"""A site day's page: who, when, what goes, what is missing, what comes next."""

from __future__ import annotations

import datetime as dt
import uuid
from dataclasses import dataclass

from django.urls import reverse

from jobs.board.models import Job
from jobs.visits.adapter import not_ready
from jobs.visits.engine import Line
from jobs.visits.models import SiteDay, SiteDayState
from jobs.visits.reports.loads import LikePath, paths_of
from jobs.visits.reports.van import day_likes, van_page
from shop.clients.models import Site
from shop.clients.reports import getting_in


@dataclass(frozen=True, slots=True)
class PanelLine:
    """One panel that goes."""

    id: uuid.UUID
    code: str
    what: str
    room: str
    fabric: str
    stage: str
    url: str
    warning: str
    value: str
    is_installed: bool


@dataclass(frozen=True, slots=True)
class NextStep:
    """What to do next, and where."""

    text: str
    url: str = ""
    label: str = ""
    icon: str = ""


@dataclass(frozen=True, slots=True)
class DayPage:
    """What a site day's page shows besides the day itself."""

    panels: tuple[PanelLine, ...]
    loaded: int
    to_load: int
    unticked: tuple[Line, ...]
    uncleared: tuple[LikePath, ...]
    next_step: NextStep
    today: dt.date
    access: str

    @property
    def not_ready(self) -> int:
        """How many panels can't go yet."""
        return sum(1 for panel in self.panels if panel.warning)

    @property
    def to_install(self) -> tuple[PanelLine, ...]:
        """Panels that still hang nowhere."""
        return tuple(panel for panel in self.panels if not panel.is_installed)


def day_page(day: SiteDay, *, today: dt.date) -> DayPage:
    """Lay out a day. Four queries."""
    groups = day_likes(day)
    van = van_page(day, groups=groups)
    panels = tuple(
        PanelLine(
            id=panel.pk,
            code=panel.code,
            what=panel.spec_name,
            room=panel.room_name,
            fabric=panel.fabric_name,
            stage=panel.get_stage_display(),
            url=panel.get_absolute_url(),
            warning=not_ready(panel),
            value=f"{panel.pk}:{panel.stage}",
            is_installed=panel.installed_at is not None,
        )
        for group in groups
        for panel in group.panels
    )
    waiting = sum(1 for panel in panels if panel.warning)
    return DayPage(
        panels=tuple(sorted(panels, key=lambda line: line.code)),
        loaded=van.done,
        to_load=van.total,
        unticked=van.unticked,
        uncleared=tuple(each for each in paths_of(groups) if each.is_stopped),
        next_step=_next_step(day, today=today, waiting=waiting, left=van.left),
        today=today,
        access=getting_in(day.site),
    )


def _next_step(day: SiteDay, *, today: dt.date, waiting: int, left: int) -> NextStep:
    if day.state == SiteDayState.CANCELLED:
        return NextStep("Called off. Put it back, or plan another day for the job.")
    if day.state == SiteDayState.DONE:
        return NextStep("Done. See what is left of the job.", *_job(day.job))
    if waiting:
        are = "1 panel isn’t" if waiting == 1 else f"{waiting} panels aren’t"
        url = f"{reverse('jobs:bench')}?job={day.job.code}"
        return NextStep(f"{are} ready to go yet.", url, "To the bench", "bench")
    return _loading(day, left=left) if left else _leaving(day, today=today)


def _loading(day: SiteDay, *, left: int) -> NextStep:
    url = reverse("jobs:van-list", args=(day.pk,))
    noun = "1 line" if left == 1 else f"{left} lines"
    return NextStep(f"{noun} of the van list to load.", url, "Load the van", "van")


def _leaving(day: SiteDay, *, today: dt.date) -> NextStep:
    if day.on <= today:
        return NextStep("Close the day below when it is done.")
    url = reverse("jobs:install-sheet", args=(day.pk,))
    text = "Everything is loaded. Take the install sheet along."
    return NextStep(text, url, "Install sheet", "paper")


def _job(job: Job) -> tuple[str, str, str]:
    return job.get_absolute_url(), "To the job", "jobs"


def sites_of(job: Job) -> tuple[Site, ...]:
    """Give the sites of a job's rooms, from what was agreed; else the client's. One query.

    A site that the agreed rooms name is offered even if the client has others since;
    one put aside only where no other is known.
    """
    sites = Site.objects.filter(client=job.client_id)
    agreed = {
        room.get("site", {}).get("id") for room in job.revision.snapshot["rooms"]
    } - {None}
    named = tuple(site for site in sites if str(site.pk) in agreed)
    in_use = tuple(site for site in sites if not site.is_archived)
    return named or in_use or tuple(sites)
