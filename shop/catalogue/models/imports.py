"""Files of the stores that somebody brought in: looked at first, then stored or left."""

from __future__ import annotations

import datetime as dt
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Count, Q
from django.urls import reverse

from shared.models import Identified


class ImportedList(models.TextChoices):
    """Which list of the stores a file holds."""

    MATERIALS = "materials", "materials"
    SUPPLIERS = "suppliers", "suppliers"
    OPERATIONS = "operations", "kinds of work"
    FINISHES = "finishes", "finishes"


class Effect(models.TextChoices):
    """What storing a line would do."""

    NEW = "new", "new"
    CHANGED = "changed", "changed"
    REFUSED = "refused", "refused"
    SAME = "same", "the same"


class ImportQuerySet(models.QuerySet["Import"]):
    """Imports by what became of them."""

    def left_before(self, at: dt.datetime) -> Self:
        """Files that were looked at before then and not stored."""
        return self.filter(stored_at__isnull=True, looked_at__lt=at)

    def recent(self) -> Self:
        """Return the latest first, with whoever brought them, without their text."""
        rows = self.select_related("by", "stored_by").defer("text", "undo")
        return rows.order_by("-created_at")


class Import(Identified):
    """One file: its text, and what storing it would do to the stores as they were."""

    what = models.CharField(max_length=12, choices=ImportedList.choices)
    file_name = models.CharField(max_length=200)
    text = models.TextField()
    digest = models.CharField(
        max_length=64, help_text="Of what its lines would do, as somebody saw it."
    )
    looked_at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    stored_at = models.DateTimeField(null=True, blank=True)
    stored_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
    )
    undo = models.JSONField(
        default=dict, blank=True, help_text="The values before and after, by row."
    )

    objects = ImportQuerySet.as_manager()

    class Meta:
        ordering = ("-created_at",)
        constraints = (
            models.CheckConstraint(
                condition=Q(what__in=ImportedList.values),
                name="%(app_label)s_%(class)s_list_known",
                violation_error_message="Choose which list the file holds.",
            ),
            models.CheckConstraint(
                condition=Q(stored_at__isnull=True, stored_by__isnull=True)
                | Q(stored_at__isnull=False, stored_by__isnull=False),
                name="%(app_label)s_%(class)s_stored_by_somebody",
                violation_error_message="Whoever stores it is on record.",
            ),
        )

    def __str__(self) -> str:
        return self.file_name

    def get_absolute_url(self) -> str:
        """Return the page that shows what its lines do."""
        return reverse("shop:import", args=(self.pk,))

    @property
    def is_stored(self) -> bool:
        """Whether its lines are in the stores."""
        return self.stored_at is not None


class ImportLineQuerySet(models.QuerySet["ImportLine"]):
    """Lines by what they would do."""

    def with_effect(self, effect: str) -> Self:
        """Lines of one effect; for none, all that do something or are refused."""
        if effect:
            return self.filter(effect=effect)
        return self.exclude(effect=Effect.SAME)

    def counts(self) -> dict[str, int]:
        """How many lines have each effect."""
        rows = self.order_by().values_list("effect").annotate(Count("pk"))
        return dict.fromkeys(Effect.values, 0) | dict(rows)


class ImportLine(models.Model):
    """What one line of a file would do, or did: shown, and never read back for storing."""

    of = models.ForeignKey(Import, on_delete=models.CASCADE, related_name="lines")
    number = models.PositiveIntegerField()
    effect = models.CharField(max_length=8, choices=Effect.choices)
    key = models.CharField(max_length=200)
    name = models.CharField(max_length=200, blank=True)
    changes = models.JSONField(default=list, blank=True)
    problems = models.JSONField(default=list, blank=True)

    objects = ImportLineQuerySet.as_manager()

    class Meta:
        ordering = ("number",)
        constraints = (
            models.UniqueConstraint(
                fields=("of", "number"), name="%(app_label)s_%(class)s_once"
            ),
            models.CheckConstraint(
                condition=Q(effect__in=Effect.values),
                name="%(app_label)s_%(class)s_effect_known",
                violation_error_message="A line is new, changed, refused or the same.",
            ),
        )
        indexes = (
            # the page of an import shows its lines by effect
            models.Index(fields=("of", "effect", "number"), name="importline_effect"),
        )

    def __str__(self) -> str:
        return f"{self.number}: {self.key}"
