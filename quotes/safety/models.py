"""Working loads that the shop states itself: for framing it found, for its own wood."""

from __future__ import annotations

from collections.abc import Iterable

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q

from shared.models import AppendOnlyQuerySet, Identified


class LoadStatementQuerySet(AppendOnlyQuerySet):
    """Statements by what they are about."""

    def standing(self, subjects: Iterable[str]) -> dict[str, LoadStatement]:
        """Return the last statement on each subject, taken back ones left out. One query."""
        rows = self.filter(subject__in=tuple(subjects)).select_related("by")
        last = {row.subject: row for row in rows.order_by("at", "created_at")}
        return {key: row for key, row in last.items() if row.load_n is not None}


class LoadStatement(Identified):
    """What somebody stands for: how much framing, wood or corners may carry, and why.

    Appended: the last one on a subject counts, and one without a load takes it back.
    """

    subject = models.CharField(
        max_length=120,
        help_text="What it is about: framing:…, frame:…, joint:… or item:…",
    )
    name = models.CharField(max_length=160, help_text="The same in words.")
    load_n = models.FloatField(
        "working load in N",
        null=True,
        blank=True,
        validators=(MinValueValidator(0.001),),
        help_text="For each fixing or hanging point. Empty: taken back.",
    )
    source = models.CharField("who says so", max_length=200, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = LoadStatementQuerySet.as_manager()

    class Meta:
        ordering = ("-at", "-created_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(load_n__isnull=True) | (Q(load_n__gt=0) & ~Q(source="")),
                name="%(app_label)s_%(class)s_has_source",
                violation_error_message="A working load needs its source: who says so?",
            ),
        )
        indexes = (
            # each load path asks for the last statement on its subjects
            models.Index(fields=("subject", "at"), name="loadstatement_subject"),
        )

    def __str__(self) -> str:
        return self.name
