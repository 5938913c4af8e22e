"""Gates: what must be in hand before a job's material is bought or cut."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.board.models import Job, JobState
from shared.models import AppendOnlyQuerySet, Identified
from shop.catalogue.models import Material


class GateKind(models.TextChoices):
    """What is waited for."""

    DEPOSIT = "deposit", "deposit"
    FABRIC = "fabric", "fabric signed for"
    MEASURE = "measure", "second measure"
    LANDLORD = "landlord", "landlord's consent"
    FIRE = "fire", "fire papers"


class GateState(models.TextChoices):
    """Whether a gate stands open."""

    SHUT = "shut", "waiting"
    PASSED = "passed", "in hand"
    OVERRIDDEN = "over", "gone past, on somebody's word"
    DROPPED = "dropped", "not needed"


OPEN_STATES = (GateState.PASSED, GateState.OVERRIDDEN, GateState.DROPPED)
"""States in which a gate holds nothing up."""


class GateQuerySet(models.QuerySet["Gate"]):
    """Gates by job and state."""

    def shut(self) -> Self:
        """Gates that hold something up."""
        return self.filter(state=GateState.SHUT)

    def of_job(self, job: Job) -> Self:
        """Gates of one job."""
        return self.filter(job=job)

    def of_jobs(self, ids: Iterable[uuid.UUID]) -> Self:
        """Gates of several jobs."""
        return self.filter(job__in=tuple(ids))

    def of_open_jobs(self) -> Self:
        """Gates of jobs that are being worked on."""
        return self.filter(job__state=JobState.OPEN)

    def with_job(self) -> Self:
        """With job and client, which lists show."""
        return self.select_related("job__client__details", "material")


class Gate(Identified):
    """One thing that a job waits for, with what was seen when it came in."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="gates")
    kind = models.CharField(max_length=8, choices=GateKind.choices)
    material = models.ForeignKey(
        Material,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        help_text="The fabric that is signed for, or whose papers are asked for.",
    )
    state = models.CharField(
        max_length=7, choices=GateState.choices, default=GateState.SHUT
    )
    # what was signed for or seen; of a fabric: its code, colour and dye lot
    code = models.CharField(max_length=60, blank=True)
    colour = models.CharField(max_length=60, blank=True)
    dye_lot = models.CharField(max_length=40, blank=True)
    reference = models.CharField(
        max_length=200, blank=True, help_text="Which paper or payment, and where it is."
    )
    since = models.DateTimeField(null=True, blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
    )

    objects = GateQuerySet.as_manager()

    class Meta:
        ordering = ("job", "kind", "id")
        constraints = (
            models.UniqueConstraint(
                fields=("job", "kind", "material"),
                name="%(app_label)s_%(class)s_material_once",
                violation_error_message="The job waits for this already.",
            ),
            # two rows without a material differ to the database
            models.UniqueConstraint(
                fields=("job", "kind"),
                condition=Q(material__isnull=True),
                name="%(app_label)s_%(class)s_once",
                violation_error_message="The job waits for this already.",
            ),
            models.CheckConstraint(
                condition=Q(kind__in=GateKind.values, state__in=GateState.values),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Say what is waited for, and whether it came.",
            ),
            models.CheckConstraint(
                condition=~Q(kind=GateKind.FABRIC, state=GateState.PASSED)
                | (~Q(code="") & ~Q(colour="")),
                name="%(app_label)s_%(class)s_fabric_named",
                violation_error_message="A fabric is signed for by its code and colour.",
            ),
            models.CheckConstraint(
                condition=Q(state=GateState.SHUT) | Q(since__isnull=False),
                name="%(app_label)s_%(class)s_open_since",
                violation_error_message="An open gate says since when.",
            ),
        )
        indexes = (
            # next up and buying look for what is shut
            models.Index(fields=("state", "job"), name="gate_state"),
        )

    def __str__(self) -> str:
        return str(self.get_kind_display())

    @property
    def is_shut(self) -> bool:
        """Whether it holds something up."""
        return self.state == GateState.SHUT


class GateEntry(Identified):
    """What was said of a gate: it came, it was gone past and why, it is waited for again."""

    gate = models.ForeignKey(Gate, on_delete=models.CASCADE, related_name="entries")
    was = models.CharField(max_length=7, choices=GateState.choices)
    now = models.CharField(max_length=7, choices=GateState.choices)
    kept = models.JSONField(
        default=dict, help_text="Code, colour, dye lot, reference before: for an undo."
    )
    note = models.CharField(max_length=300, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = AppendOnlyQuerySet.as_manager()

    class Meta:
        ordering = ("-at", "-created_at")
        constraints = (
            models.CheckConstraint(
                condition=~Q(now=GateState.OVERRIDDEN) | ~Q(note=""),
                name="%(app_label)s_%(class)s_override_has_reason",
                violation_error_message="Say why it can't wait.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.gate}: {self.now}"
