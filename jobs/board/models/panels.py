"""Physical panels, and how far each is."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Any, Self

from django.db import models
from django.db.models import Q
from django.db.models.fields.json import KeyTextTransform, KeyTransform
from django.urls import reverse

from jobs.board.models.jobs import Job, JobState
from jobs.board.models.stages import Stage
from shared.models import Identified, LengthField

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable


class PanelQuerySet(models.QuerySet["Panel"]):
    """Physical panels by stage, job and fabric."""

    def live(self) -> Self:
        """Panels of open jobs."""
        return self.filter(job__state=JobState.OPEN)

    def at_stage(self, stage: str) -> Self:
        """Panels that are exactly at a stage."""
        return self.filter(stage=stage)

    def of_job(self, job: Job) -> Self:
        """Panels of one job."""
        return self.filter(job=job)

    def in_fabric(self, fabric: str) -> Self:
        """Panels in one fabric, by its frozen name."""
        return self.filter(fabric_name=fabric)

    def by_ids(self, ids: Iterable[uuid.UUID]) -> Self:
        """Panels of these ids; ids of nothing are passed over."""
        return self.filter(pk__in=tuple(ids))

    def standing(self) -> Self:
        """Panels of jobs whose yes stands."""
        return self.exclude(job__state=JobState.TAKEN_BACK)

    def uncut(self) -> Self:
        """Panels whose wood is still to be cut."""
        return self.filter(cut_at=None, stage__in=(Stage.PLANNED, Stage.MEASURED))

    def uncovered(self) -> Self:
        """Panels that are still to be filled and covered."""
        return self.filter(stage__in=(Stage.PLANNED, Stage.MEASURED, Stage.BUILT))

    def begun(self) -> Self:
        """Panels that something was done to, or that somebody marked."""
        untouched = Q(stage=Stage.PLANNED, waiting_for="", rework="")
        return self.exclude(untouched, cut_at=None, checked_at=None)

    def not_installed(self) -> Self:
        """Panels that are still to be hung."""
        return self.exclude(stage=Stage.INSTALLED)

    def by_code(self, code: str) -> Panel | None:
        """Return the panel of a code, if there is one."""
        return self.with_job().filter(code=code.replace("\0", "")).first()

    def of_jobs(self, jobs: Iterable[Job]) -> Self:
        """Panels of several jobs."""
        return self.filter(job__in=tuple(job.pk for job in jobs))

    def with_job(self) -> Self:
        """With job and client; without the frozen documents, which are large."""
        return self.select_related("job__client__details").defer("snapshot")

    def for_plates(self) -> Self:
        """Only what a plate on the bench shows, in the order of codes."""
        return self.defer("snapshot").order_by("number")

    def on_site_day(self, day: uuid.UUID) -> Self:
        """Panels that go on a site day."""
        return self.filter(site_days=day)

    def with_group(self) -> Self:
        """With `group`, which panels that are alike share within a job."""
        inner = KeyTransform("panel", "snapshot")
        return self.for_plates().annotate(group=KeyTextTransform("group", inner))

    def with_cloth(self) -> Self:
        """With `cloth`, the id of the fabric that each shows, as it was agreed."""
        return self.defer("snapshot").annotate(
            cloth=KeyTextTransform("fabric", "snapshot")
        )

    def with_room(self) -> Self:
        """With `room`, the id of the room that each is for, as it was agreed."""
        inner = KeyTransform("room", "snapshot")
        return self.annotate(room=KeyTextTransform("id", inner))

    def like(self, panel: Panel) -> Self:
        """Panels of the same job that are made alike, at the size they are built to.

        With their frozen parts, which a bench sheet needs.
        """
        key = panel.snapshot["panel"]["group"]
        size = {
            name: getattr(panel, name)
            for name in ("measured_width_ticks", "measured_height_ticks")
        }
        return self.filter(
            job=panel.job_id, snapshot__panel__group=key, **size
        ).order_by("number")

    def snapshots_of(self, ids: Iterable[uuid.UUID]) -> dict[uuid.UUID, dict[str, Any]]:
        """Return the frozen parts of a few panels by id. One query."""
        rows = self.by_ids(ids).order_by()
        return dict(rows.values_list("pk", "snapshot"))

    def tallied(self) -> models.QuerySet[Panel, tuple[uuid.UUID, str, str, int]]:
        """Count by job, stage and fabric."""
        return (
            self.order_by()
            .values_list("job_id", "stage", "fabric_name")
            .annotate(count=models.Count("pk"))
        )

    def tallied_by_marks(
        self,
    ) -> models.QuerySet[Panel, tuple[uuid.UUID, str, str, str, int]]:
        """Count by job, stage, and what is waited for or to be done again."""
        return (
            self.order_by("job__opened_at")
            .values_list("job_id", "stage", "waiting_for", "rework")
            .annotate(count=models.Count("pk"))
        )


def _implies(later: str, earlier: str) -> Q:
    return Q(**{f"{later}__isnull": True}) | Q(**{f"{earlier}__isnull": False})


class Panel(Identified):
    """One physical panel, with its frozen spec and its own as-measured size."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="panels")
    planned_panel = models.UUIDField(help_text="The planned panel it came from.")
    number = models.PositiveSmallIntegerField()
    code = models.CharField(max_length=14, unique=True)
    spec_name = models.CharField(max_length=80)
    kind = models.CharField(max_length=8)
    room_name = models.CharField(max_length=80)
    fabric_name = models.CharField(max_length=120, blank=True)
    snapshot = models.JSONField(help_text="This panel's part of the accepted revision.")
    width_ticks = LengthField("width as quoted")
    height_ticks = LengthField("height as quoted")
    measured_width_ticks = LengthField("width as measured", null=True, blank=True)
    measured_width_text = models.CharField(max_length=40, blank=True)
    measured_height_ticks = LengthField("height as measured", null=True, blank=True)
    measured_height_text = models.CharField(max_length=40, blank=True)
    # the current state, kept beside the ledger in the same transaction
    stage = models.CharField(
        max_length=12, choices=Stage.choices, default=Stage.PLANNED
    )
    planned_at = models.DateTimeField()
    measured_at = models.DateTimeField(null=True, blank=True)
    built_at = models.DateTimeField(null=True, blank=True)
    upholstered_at = models.DateTimeField(null=True, blank=True)
    installed_at = models.DateTimeField(null=True, blank=True)
    # marks beside the stage
    cut_at = models.DateTimeField(null=True, blank=True)
    checked_at = models.DateTimeField(null=True, blank=True)
    waiting_for = models.CharField(max_length=80, blank=True)
    rework = models.CharField(max_length=120, blank=True)

    objects = PanelQuerySet.as_manager()

    class Meta:
        ordering = ("job", "number")
        constraints = (
            models.UniqueConstraint(
                fields=("job", "number"), name="%(app_label)s_%(class)s_number_once"
            ),
            models.UniqueConstraint(
                fields=("job", "planned_panel"),
                name="%(app_label)s_%(class)s_planned_once",
            ),
            models.CheckConstraint(
                condition=_implies("installed_at", "upholstered_at")
                & _implies("upholstered_at", "built_at")
                & _implies("built_at", "measured_at"),
                name="%(app_label)s_%(class)s_stages_in_order",
                violation_error_message="A later stage implies the earlier ones.",
            ),
            models.CheckConstraint(
                condition=Q(stage=Stage.INSTALLED, installed_at__isnull=False)
                | Q(
                    stage=Stage.UPHOLSTERED,
                    installed_at__isnull=True,
                    upholstered_at__isnull=False,
                )
                | Q(
                    stage=Stage.BUILT,
                    upholstered_at__isnull=True,
                    built_at__isnull=False,
                )
                | Q(
                    stage=Stage.MEASURED,
                    built_at__isnull=True,
                    measured_at__isnull=False,
                )
                | Q(stage=Stage.PLANNED, measured_at__isnull=True),
                name="%(app_label)s_%(class)s_stage_is_latest",
                violation_error_message="The stage is the latest that has a time.",
            ),
            models.CheckConstraint(
                condition=Q(width_ticks__gt=0, height_ticks__gt=0)
                & (Q(measured_width_ticks__isnull=True) | Q(measured_width_ticks__gt=0))
                & (
                    Q(measured_height_ticks__isnull=True)
                    | Q(measured_height_ticks__gt=0)
                ),
                name="%(app_label)s_%(class)s_size_positive",
                violation_error_message="A panel has a width and a height.",
            ),
        )
        indexes = (
            # the bench: live panels by stage within a job
            models.Index(fields=("job", "stage"), name="panel_job_stage"),
        )

    def __str__(self) -> str:
        return self.code

    def get_absolute_url(self) -> str:
        """Return the panel's page."""
        return reverse("jobs:panel", args=(self.pk,))

    @property
    def is_wood_cut(self) -> bool:
        """Whether its wood is cut, by mark or because it was built since."""
        begun = self.stage not in (Stage.PLANNED, Stage.MEASURED)
        return begun or self.cut_at is not None

    @property
    def build_width_ticks(self) -> int:
        """The width to build by: as measured, or as quoted."""
        return int(self.measured_width_ticks or self.width_ticks)

    @property
    def build_height_ticks(self) -> int:
        """The height to build by: as measured, or as quoted."""
        return int(self.measured_height_ticks or self.height_ticks)

    def stage_time(self, stage: Stage) -> dt.datetime | None:
        """When the panel reached a stage."""
        time: dt.datetime | None = getattr(self, f"{stage.value}_at")
        return time
