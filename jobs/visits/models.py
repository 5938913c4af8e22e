"""Site days: who goes where, with what."""

from __future__ import annotations

import datetime as dt
import uuid
import zoneinfo
from collections.abc import Collection
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from jobs.board.models import Job, Panel
from shared.dates import show_day
from shared.models import AppendOnlyQuerySet, Identified
from shop.clients.models import Site


class SiteDayKind(models.TextChoices):
    """Why somebody goes there."""

    SURVEY = "survey", "survey"
    INSTALL = "install", "install"
    RETURN = "return", "return"


class SiteDayState(models.TextChoices):
    """Whether it has happened."""

    PLANNED = "planned", "planned"
    DONE = "done", "done"
    CANCELLED = "cancelled", "cancelled"


class SiteDayQuerySet(models.QuerySet["SiteDay"]):
    """Site days by date."""

    def planned(self) -> Self:
        """Site days that are still to come or to be closed, the next one first."""
        # in so many words: an ordering of the model's own is dropped where rows are counted
        days = self.filter(state=SiteDayState.PLANNED)
        return days.order_by("on", "arrive_at", "created_at")

    def from_day(self, day: dt.date) -> Self:
        """Site days on or after a local day."""
        return self.filter(on__gte=day)

    def before_day(self, day: dt.date) -> Self:
        """Site days before a local day."""
        return self.filter(on__lt=day)

    def past(self) -> Self:
        """Site days that were closed or cancelled, the latest first."""
        return self.exclude(state=SiteDayState.PLANNED).order_by("-on", "-arrive_at")

    def not_cancelled(self) -> Self:
        """Site days that are planned or done."""
        return self.exclude(state=SiteDayState.CANCELLED)

    def of_jobs(self, jobs: models.QuerySet[Job]) -> Self:
        """Site days of several jobs, with the job."""
        return self.filter(job__in=jobs).select_related("job")

    def first_installs(self, jobs: Collection[uuid.UUID]) -> dict[uuid.UUID, dt.date]:
        """Return the first install day that is not called off, of each job. One query."""
        days = self.not_cancelled().filter(kind=SiteDayKind.INSTALL, job__in=jobs)
        rows = days.order_by().values_list("job").annotate(models.Min("on"))
        return dict(rows)

    def of_job(self, job: Job) -> Self:
        """Site days of one job, in order."""
        return self.filter(job=job).order_by("on", "arrive_at", "created_at")

    def with_counts(self) -> Self:
        """With the number of panels that go, and of those that are upholstered."""
        ready = Q(panels__upholstered_at__isnull=False)
        return self.annotate(
            panel_count=models.Count("panels", distinct=True),
            ready_count=models.Count("panels", filter=ready, distinct=True),
        )

    def with_crew(self) -> Self:
        """With who goes."""
        return self.prefetch_related("crew")

    def with_left_behind(self) -> Self:
        """With what stayed behind on each, as `left_behind`."""
        rows = LooseEnd.objects.left_behind()
        return self.prefetch_related(
            models.Prefetch("loose_ends", queryset=rows, to_attr="left_behind")
        )

    def with_page(self) -> Self:
        """With job, client, site, crew and who closed it, which pages show."""
        related = ("job__client__details", "site", "done_by")
        return self.select_related(*related).with_crew()


class SiteDay(Identified):
    """One day at a client's place, stored as local time with its zone."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="site_days")
    site = models.ForeignKey(Site, on_delete=models.PROTECT, related_name="+")
    kind = models.CharField(
        max_length=8, choices=SiteDayKind.choices, default=SiteDayKind.INSTALL
    )
    state = models.CharField(
        max_length=10, choices=SiteDayState.choices, default=SiteDayState.PLANNED
    )
    on = models.DateField("day")
    arrive_at = models.TimeField("arrive at", null=True, blank=True)
    zone = models.CharField(max_length=50)
    crew = models.ManyToManyField(settings.AUTH_USER_MODEL, related_name="+")
    panels = models.ManyToManyField(
        Panel, through="SiteDayPanel", related_name="site_days"
    )
    notes = models.TextField(max_length=2000, blank=True)
    done_at = models.DateTimeField(null=True, blank=True, editable=False)
    done_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        editable=False,
        related_name="+",
    )

    objects = SiteDayQuerySet.as_manager()

    class Meta:
        ordering = ("on", "arrive_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(kind__in=SiteDayKind.values, state__in=SiteDayState.values),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Choose what the day is for.",
            ),
            models.CheckConstraint(
                condition=Q(
                    state=SiteDayState.DONE,
                    done_at__isnull=False,
                    done_by__isnull=False,
                )
                | (
                    ~Q(state=SiteDayState.DONE)
                    & Q(done_at__isnull=True, done_by__isnull=True)
                ),
                name="%(app_label)s_%(class)s_done_by_somebody",
                violation_error_message="A day that is done was closed by somebody.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.get_kind_display()} on {show_day(self.on)}"

    def get_absolute_url(self) -> str:
        """Return the site day's page."""
        return reverse("jobs:site-day", args=(self.pk,))

    @property
    def is_planned(self) -> bool:
        """Whether it is still to come, or to be closed."""
        return self.state == SiteDayState.PLANNED

    def arrives(self) -> dt.datetime | None:
        """Return the moment of arrival, in the zone that was written down."""
        if self.arrive_at is None:
            return None
        return dt.datetime.combine(
            self.on, self.arrive_at, tzinfo=zoneinfo.ZoneInfo(self.zone)
        )


class SiteDayPanel(Identified):
    """A panel that goes on a site day."""

    site_day = models.ForeignKey(
        SiteDay, on_delete=models.CASCADE, related_name="site_day_panels"
    )
    panel = models.ForeignKey(Panel, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ("panel__number",)
        constraints = (
            models.UniqueConstraint(
                fields=("site_day", "panel"),
                name="%(app_label)s_%(class)s_once",
                violation_error_message="The panel is already on this day's list.",
            ),
        )

    def __str__(self) -> str:
        return str(self.panel)


class VanTickQuerySet(AppendOnlyQuerySet):
    """Ticks of a van list."""

    def standing(self, site_day: SiteDay) -> dict[str, VanTick]:
        """Return the last tick of each line of a day, those taken back left out."""
        rows = self.filter(site_day=site_day).select_related("by")
        last = {row.key: row for row in rows.order_by("at", "created_at")}
        return {key: row for key, row in last.items() if row.ticked}


class VanTick(Identified):
    """A line of the van list ticked, or a tick taken back: the last one counts."""

    site_day = models.ForeignKey(
        SiteDay, on_delete=models.PROTECT, related_name="ticks"
    )
    key = models.CharField(
        max_length=80, help_text="Which line: panel:…, item:…, tool:…"
    )
    ticked = models.BooleanField()
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = VanTickQuerySet.as_manager()

    class Meta:
        ordering = ("at", "created_at")
        indexes = (
            # the van list reads the last tick of each line
            models.Index(fields=("site_day", "key"), name="vantick_line"),
        )

    def __str__(self) -> str:
        return f"{self.key}: {self.ticked}"


class HowEnded(models.TextChoices):
    """What became of a line that was not ticked, or of a panel that was not cleared."""

    LEFT = "left", "left behind"
    TAKEN = "taken", "taken along, only not ticked"
    UNCLEARED = "uncleared", "hung, though not cleared"


class LooseEndQuerySet(models.QuerySet["LooseEnd"]):
    """Loose ends of closed days."""

    def of_day(self, day: SiteDay) -> Self:
        """Return those of one day, in the order of its van list."""
        return self.filter(site_day=day).order_by("number")

    def left_behind(self) -> Self:
        """Return what stayed behind."""
        return self.filter(how=HowEnded.LEFT).order_by("number")


class LooseEnd(Identified):
    """What was open when a day was closed, as whoever closed it said; an undo drops it."""

    site_day = models.ForeignKey(
        SiteDay, on_delete=models.CASCADE, related_name="loose_ends"
    )
    number = models.PositiveSmallIntegerField()
    how = models.CharField(max_length=10, choices=HowEnded.choices)
    key = models.CharField(max_length=80)
    name = models.CharField(max_length=300)
    note = models.TextField(
        max_length=2000,
        blank=True,
        help_text="What was not cleared, and who said what.",
    )

    objects = LooseEndQuerySet.as_manager()

    class Meta:
        ordering = ("site_day", "number")
        constraints = (
            models.UniqueConstraint(
                fields=("site_day", "key"), name="%(app_label)s_%(class)s_once"
            ),
            models.CheckConstraint(
                condition=Q(how__in=HowEnded.values),
                name="%(app_label)s_%(class)s_how_known",
                violation_error_message="Say how it ended.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.name}: {self.get_how_display()}"
