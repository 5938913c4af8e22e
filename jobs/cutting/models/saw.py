"""At the saw: rows done, pieces lost, offcuts taken and kept."""

from __future__ import annotations

import uuid
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.cutting.models.plans import CutPlan, CutState
from shared.models import AppendOnlyQuerySet, Identified
from shop.catalogue.models import StockPiece

HOLDING = (CutState.ASKED, CutState.PLANNING, CutState.PLANNED)
"""States in which a plan counts on the pieces that it was offered or uses."""


class CutTickQuerySet(AppendOnlyQuerySet):
    """Ticks at the saw."""

    def standing(self, plan: CutPlan) -> dict[str, CutTick]:
        """Return the last tick of each row of a plan, those taken back left out."""
        rows = self.filter(plan=plan).select_related("by")
        last = {row.key: row for row in rows.order_by("at", "created_at")}
        return {key: row for key, row in last.items() if row.ticked}


class CutTick(Identified):
    """A row of a cut plan done at the saw, or a tick taken back: the last one counts."""

    plan = models.ForeignKey(CutPlan, on_delete=models.PROTECT, related_name="ticks")
    key = models.CharField(max_length=80, help_text="Which row.")
    ticked = models.BooleanField()
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = CutTickQuerySet.as_manager()

    class Meta:
        ordering = ("at", "created_at")
        indexes = (
            # the saw's page reads the last tick of each row
            models.Index(fields=("plan", "key"), name="cuttick_row"),
        )

    def __str__(self) -> str:
        return f"{self.key}: {self.ticked}"


class LostPart(Identified):
    """Pieces that were spoiled at the saw, and have to be cut again."""

    plan = models.ForeignKey(CutPlan, on_delete=models.PROTECT, related_name="lost")
    part = models.CharField(max_length=80, help_text="The part's key in the plan.")
    count = models.PositiveSmallIntegerField()
    note = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet.as_manager()

    class Meta:
        ordering = ("at", "created_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(count__gt=0),
                name="%(app_label)s_%(class)s_some",
                violation_error_message="Say how many were lost.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.count} × {self.part}"


class PlanPieceQuerySet(models.QuerySet["PlanPiece"]):
    """Stock pieces by the plans that have them."""

    def held(self) -> set[uuid.UUID]:
        """Return the ids of pieces that a plan not cut yet counts on. One query."""
        rows = self.filter(taken=True, plan__state__in=HOLDING)
        return set(rows.values_list("piece_id", flat=True))

    def taken_by(self, plan: CutPlan) -> Self:
        """Pieces that a plan cuts up."""
        return self.filter(plan=plan, taken=True).select_related("piece__material")

    def kept_of(self, plan: CutPlan) -> Self:
        """Pieces that were kept of a plan."""
        return self.filter(plan=plan, taken=False).select_related("piece__material")


class PlanPiece(Identified):
    """A stock piece that a plan cuts up, or one that was kept of it."""

    plan = models.ForeignKey(CutPlan, on_delete=models.PROTECT, related_name="pieces")
    piece = models.ForeignKey(StockPiece, on_delete=models.PROTECT, related_name="+")
    taken = models.BooleanField(help_text="Cut up; otherwise kept of it.")

    objects = PlanPieceQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("plan", "piece"), name="%(app_label)s_%(class)s_once"
            ),
        )

    def __str__(self) -> str:
        return f"{self.piece} of {self.plan}"
