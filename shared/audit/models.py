"""Who did what, when: appended, never changed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Self

from django.conf import settings
from django.db import models

from shared.records import AppendOnlyQuerySet, Identified

if TYPE_CHECKING:
    import datetime as dt
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

    def changed_since(
        self, subject_ids: set[uuid.UUID], at: dt.datetime
    ) -> set[uuid.UUID]:
        """Return which of these records somebody wrote something about after then."""
        found = self.filter(subject_id__in=subject_ids, at__gt=at)
        return set(found.values_list("subject_id", flat=True))


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
