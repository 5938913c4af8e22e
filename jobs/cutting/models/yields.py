"""What finished plans say of the average yield."""

from __future__ import annotations

import uuid
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.cutting.models.plans import CutPlan
from shared.models import Identified


class YieldFindingQuerySet(models.QuerySet["YieldFinding"]):
    """What finished plans found."""

    def about(self, build: uuid.UUID | None) -> Self:
        """Return findings of one build, or of cloth."""
        return self.filter(build=build) if build else self.filter(build__isnull=True)

    def with_plan(self) -> Self:
        """With the plan and its material; without what is large."""
        large = ("plan__request", "plan__result")
        return self.select_related("plan__material").defer(*large)

    def in_order(self) -> Self:
        """Return them build by build, the last first."""
        return self.order_by("build", "-at")

    def undecided(self) -> Self:
        """Return findings that nobody has accepted or left yet."""
        return self.filter(decided_at__isnull=True)


class YieldFinding(Identified):
    """What a finished plan made of its material for one build, or for all cloth."""

    plan = models.ForeignKey(CutPlan, on_delete=models.PROTECT, related_name="findings")
    build = models.UUIDField(
        null=True, blank=True, help_text="The build by its id; none for cloth."
    )
    build_name = models.CharField(max_length=80, blank=True)
    parts_m2 = models.DecimalField(max_digits=12, decimal_places=4)
    stock_m2 = models.DecimalField(
        max_digits=12, decimal_places=4, help_text="Used up, kept offcuts taken off."
    )
    at = models.DateTimeField()
    decided_at = models.DateTimeField(null=True, blank=True)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
    )
    accepted = models.BooleanField(default=False)

    objects = YieldFindingQuerySet.as_manager()

    class Meta:
        ordering = ("-at",)
        constraints = (
            models.UniqueConstraint(
                fields=("plan", "build"),
                name="%(app_label)s_%(class)s_build_once",
            ),
            # two rows without a build differ to the database
            models.UniqueConstraint(
                fields=("plan",),
                condition=Q(build__isnull=True),
                name="%(app_label)s_%(class)s_cloth_once",
            ),
            models.CheckConstraint(
                condition=Q(parts_m2__gt=0, stock_m2__gt=0),
                name="%(app_label)s_%(class)s_areas_positive",
                violation_error_message="Both areas are more than nothing.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.build_name or 'cloth'}: {self.parts_m2} of {self.stock_m2} m²"
