"""Kinds of work: how long each takes and what an hour of it costs."""

from __future__ import annotations

from decimal import Decimal
from typing import Self

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Case, Q, When
from django.db.models.functions import Lower
from django.urls import reverse

from shared.models import Archivable, ArchivableQuerySet, Identified, MoneyField


class Driver(models.TextChoices):
    """What an operation's minutes, or an item's count, grow with."""

    PANEL = "panel", "panel"
    JOINT = "joint", "joint"
    PART = "part", "wood part"
    FRAME_METRE = "frame_metre", "metre of wood"
    CUT = "cut", "crosscut"
    RIP_METRE = "rip_metre", "metre of rip"
    BEVEL_METRE = "bevel_metre", "metre of bevelled rip"
    BRACE = "brace", "brace"
    BLOCK = "block", "block under a hanging point"
    FABRIC_M2 = "fabric_m2", "m² of fabric"
    FABRIC_EDGE_METRE = "fabric_edge_metre", "metre of wrapped edge"
    SEAM_METRE = "seam_metre", "metre of seam"
    FILL_M2 = "fill_m2", "m² of fill"
    FILL_PIECE = "fill_piece", "piece of fill"
    EDGE_STRIP_METRE = "edge_strip_metre", "metre of edge strip"
    HANGING_POINT = "hanging_point", "hanging point"
    SCREW_HOLE = "screw_hole", "screw hole"
    FACE_M2 = "face_m2", "m² of face"
    JOB = "job", "job"


class WorkStage(models.TextChoices):
    """Which part of the job an operation belongs to."""

    MEASURE = "measure", "measure"
    BUILD = "build", "build"
    UPHOLSTER = "upholster", "upholster"
    PACK = "pack", "check and wrap"
    INSTALL = "install", "install"


class OperationQuerySet(ArchivableQuerySet):
    """Operations in the order of the work."""

    def matching(self, words: str) -> Self:
        """Operations in whose name or code every word is found."""
        found = self
        for word in words.split():
            found = found.filter(Q(name__icontains=word) | Q(code__icontains=word))
        return found

    def in_order(self) -> Self:
        """Measure first, install last."""
        rank = {stage: place for place, stage in enumerate(WorkStage.values)}
        whens = [When(stage=stage, then=place) for stage, place in rank.items()]
        return self.order_by(Case(*whens), "name")


class Operation(Identified, Archivable):
    """One kind of work: how long it takes and what an hour of it costs."""

    code = models.SlugField(max_length=40)
    name = models.CharField(max_length=120)
    stage = models.CharField(max_length=12, choices=WorkStage.choices)
    driver = models.CharField(max_length=20, choices=Driver.choices)
    minutes = models.DecimalField(
        "minutes each",
        max_digits=7,
        decimal_places=2,
        validators=(MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(10000))),
    )
    hourly_rate = MoneyField(validators=(MinValueValidator(Decimal(0)),))
    notes = models.CharField(max_length=200, blank=True)

    objects = OperationQuerySet.as_manager()

    class Meta:
        ordering = ("stage", "name")
        constraints = (
            models.UniqueConstraint(
                Lower("code"),
                name="%(app_label)s_%(class)s_code_once",
                violation_error_message="Another operation already has this code.",
            ),
            models.CheckConstraint(
                condition=Q(minutes__gte=0, hourly_rate__gte=0),
                name="%(app_label)s_%(class)s_not_negative",
                violation_error_message="Minutes and rates can't be negative.",
            ),
            models.CheckConstraint(
                condition=Q(driver__in=Driver.values, stage__in=WorkStage.values),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Choose a stage and what the minutes grow with.",
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Return the operation's page."""
        return reverse("shop:operation-change", args=(self.pk,))
