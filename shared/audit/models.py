"""Who did what, when: appended, never changed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Self

from django.conf import settings
from django.db import models

from shared.records import AppendOnlyQuerySet, Identified

if TYPE_CHECKING:
    import uuid


class EntryQuerySet(AppendOnlyQuerySet):
    """Entries by what they are about."""

    def about(self, kind: str, subject_id: uuid.UUID) -> Self:
        """Entries on one record, newest first, with who wrote them."""
        return (
            self.filter(kind=kind, subject_id=subject_id)
            .select_related("by")
            .order_by("-at", "-created_at")
        )


class Entry(Identified):
    """One thing that somebody did."""

    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        help_text="Empty when the worker or a client did it.",
    )
    kind = models.CharField(
        max_length=40, help_text="The kind of record, as in 'quote'."
    )
    subject_id = models.UUIDField()
    verb = models.CharField(max_length=40)
    text = models.CharField(
        max_length=300, help_text="One sentence without personal data."
    )
    detail = models.JSONField(default=dict, blank=True)

    objects = EntryQuerySet.as_manager()

    class Meta:
        ordering = ("-at",)
        verbose_name_plural = "entries"
        indexes = (
            # the "who did what" list on each record's page
            models.Index(fields=("kind", "subject_id", "-at"), name="entry_subject"),
        )

    def __str__(self) -> str:
        return f"{self.verb} {self.kind}"
