"""What jobs need of each material, and what they used."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable
from typing import Self

from django.db import models
from django.db.models import Q

from jobs.board.models import Job, JobState
from jobs.cutting.models import CutPlan, CutState
from shared.models import Identified
from shop.catalogue.models import Material, StockMove


class NeedSource(models.TextChoices):
    """Where a need comes from."""

    TAKEOFF = "takeoff", "the panels' parts, with the average yield"
    PLAN = "plan", "a cut plan"


class JobNeedQuerySet(models.QuerySet["JobNeed"]):
    """Needs by job and material."""

    def of_open_jobs(self) -> Self:
        """Needs of jobs that are being worked on."""
        return self.filter(job__state=JobState.OPEN)

    def of_job(self, job: Job) -> Self:
        """Needs of one job."""
        return self.filter(job=job)

    def of_materials(self, ids: Iterable[uuid.UUID]) -> Self:
        """Needs of several materials."""
        return self.filter(material__in=tuple(ids))

    def with_rows(self) -> Self:
        """With job, client, material and supplier, which pages show."""
        return self.select_related("job__client__details", "material__supplier")


class JobNeed(Identified):
    """How much of a material a job takes in all, whether used already or not."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="needs")
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="+")
    quantity = models.DecimalField(max_digits=12, decimal_places=3)
    source = models.CharField(
        max_length=7, choices=NeedSource.choices, default=NeedSource.TAKEOFF
    )
    how = models.CharField(max_length=300, blank=True)
    at = models.DateTimeField()

    objects = JobNeedQuerySet.as_manager()

    class Meta:
        ordering = ("job", "material")
        constraints = (
            models.UniqueConstraint(
                fields=("job", "material"), name="%(app_label)s_%(class)s_once"
            ),
            models.CheckConstraint(
                condition=Q(quantity__gt=0, source__in=NeedSource.values),
                name="%(app_label)s_%(class)s_some",
                violation_error_message="A need is more than nothing.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.job}: {self.quantity} {self.material}"


class JobUseQuerySet(models.QuerySet["JobUse"]):
    """Uses by job."""

    def of_job(self, job: Job) -> Self:
        """Return what one job used."""
        return self.filter(job=job)

    def of_open_jobs(self) -> Self:
        """Return what jobs used that are being worked on."""
        return self.filter(job__state=JobState.OPEN)

    def of_plan(self, plan: CutPlan) -> Self:
        """Return what was used when a plan was cut."""
        return self.filter(plan=plan)

    def of_materials(self, ids: Iterable[uuid.UUID]) -> Self:
        """Return uses of several materials."""
        return self.filter(move__material__in=tuple(ids))

    def standing(self) -> Self:
        """Return uses that were not taken back, the last first, with their moves."""
        rows = self.filter(move__undone_by__isnull=True).select_related(
            "move__material", "move__by"
        )
        return rows.order_by("-move__at", "-move__created_at")

    def of_replaced_plans(self) -> Self:
        """Return what plans took that were planned anew afterwards, with the plans."""
        rows = self.filter(plan__state=CutState.REPLACED).select_related("plan")
        return rows.defer("plan__request", "plan__result")

    def by_hand(self) -> Self:
        """Return uses that no cut plan booked."""
        return self.filter(plan__isnull=True)

    def booked_at(self, at: dt.datetime) -> Self:
        """Return uses that were booked together at one moment."""
        return self.filter(move__at=at)


class JobUse(Identified):
    """The job, and the plan, that a move of stock or a share of it was for."""

    move = models.ForeignKey(StockMove, on_delete=models.PROTECT, related_name="+")
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="uses")
    quantity = models.DecimalField(
        max_digits=12, decimal_places=3, help_text="This job's share of the move."
    )
    plan = models.ForeignKey(
        CutPlan, on_delete=models.PROTECT, null=True, blank=True, related_name="uses"
    )

    objects = JobUseQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("move", "job"), name="%(app_label)s_%(class)s_job_once"
            ),
            models.CheckConstraint(
                condition=Q(quantity__gt=0),
                name="%(app_label)s_%(class)s_some",
                violation_error_message="Say how much was used.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.job}: {self.move}"
