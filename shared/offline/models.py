"""Each write with its answer, and the version of each field that is written so."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q

from shared.records import AppendOnlyQuerySet


class Status(models.TextChoices):
    """How a write ended; what ended otherwise is not kept and may be tried again."""

    STORED = "stored", "stored"
    CONFLICT = "conflict", "changed elsewhere meanwhile"
    REFUSED = "refused", "refused"


class Write(models.Model):
    """One write by its key, made on the device, with the answer that it got."""

    key = models.UUIDField(primary_key=True, editable=False)
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    at = models.DateTimeField()
    made_at = models.DateTimeField(
        null=True, blank=True, help_text="By the device's clock, which may be wrong."
    )
    op = models.CharField(max_length=40)
    kind = models.CharField(max_length=40)
    record_id = models.UUIDField()
    field = models.CharField(max_length=80)
    base = models.PositiveIntegerField(help_text="The version that was seen.")
    digest = models.CharField(
        max_length=64, help_text="Of what was asked for: a key stands for one thing."
    )
    status = models.CharField(max_length=8, choices=Status.choices)
    answer = models.JSONField()

    objects = AppendOnlyQuerySet.as_manager()

    class Meta:
        ordering = ("-at",)
        constraints = (
            models.CheckConstraint(
                condition=Q(status__in=Status.values),
                name="%(app_label)s_%(class)s_status_known",
                violation_error_message="A write was stored, refused or in conflict.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.op} {self.field}: {self.status}"


class FieldVersionQuerySet(models.QuerySet["FieldVersion"]):
    """Versions by what they belong to."""

    def of(self, kinds: Iterable[str], record_ids: Iterable[uuid.UUID]) -> Self:
        """Versions of all fields of some records; their kinds lead the index."""
        return self.filter(kind__in=list(kinds), record_id__in=list(record_ids))


class FieldVersion(models.Model):
    """How often a field was written, and what was stored the last time."""

    kind = models.CharField(max_length=40)
    record_id = models.UUIDField()
    field = models.CharField(max_length=80)
    version = models.PositiveIntegerField(default=0)
    value = models.TextField(blank=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        help_text="Empty when a form changed the record.",
    )
    at = models.DateTimeField(null=True, blank=True)

    objects = FieldVersionQuerySet.as_manager()

    class Meta:
        constraints = (
            models.UniqueConstraint(
                fields=("kind", "record_id", "field"),
                name="%(app_label)s_%(class)s_once",
                violation_error_message="A field has one version.",
            ),
            models.CheckConstraint(
                condition=Q(version=0) | Q(at__isnull=False),
                name="%(app_label)s_%(class)s_has_time",
                violation_error_message="A version after the first was written at some time.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.kind} {self.field}, version {self.version}"
