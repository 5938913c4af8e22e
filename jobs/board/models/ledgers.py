"""What happened to panels: moves and marks, appended."""

from __future__ import annotations

import uuid
from typing import TYPE_CHECKING, Self

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from jobs.board.models.panels import Panel
from jobs.board.models.stages import Stage
from shared.models import AppendOnlyQuerySet, Identified

if TYPE_CHECKING:
    from collections.abc import Iterable


class StageMoveQuerySet(AppendOnlyQuerySet):
    """Moves by what they belong to."""

    def in_batch(self, batch: uuid.UUID) -> Self:
        """Return moves that were made together."""
        return self.filter(batch=batch)

    def newest_of_each(self, panels: Iterable[uuid.UUID]) -> set[uuid.UUID]:
        """Return the id of each panel's last move. One query."""
        rows = self.filter(panel__in=tuple(panels)).order_by("at", "created_at")
        return set(dict(rows.values_list("panel_id", "pk")).values())


class StageMove(Identified):
    """One move of one panel, by whom; an undo is a move that names the one it undoes."""

    panel = models.ForeignKey(Panel, on_delete=models.PROTECT, related_name="moves")
    batch = models.UUIDField(
        default=uuid.uuid4, help_text="Panels moved together; undone together."
    )
    from_stage = models.CharField(max_length=12, choices=Stage.choices)
    to_stage = models.CharField(max_length=12, choices=Stage.choices)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    times_before = models.JSONField(
        default=dict, help_text="The stage times before, so that an undo restores them."
    )
    undoes = models.OneToOneField(
        "self",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="undone_by",
    )

    objects = StageMoveQuerySet.as_manager()

    class Meta:
        ordering = ("-at", "-created_at")
        constraints = (
            models.CheckConstraint(
                condition=~Q(from_stage=F("to_stage")),
                name="%(app_label)s_%(class)s_goes_somewhere",
                violation_error_message="A move goes from one stage to another.",
            ),
        )
        indexes = (
            # undo looks up the batch; the panel's page lists its moves
            models.Index(fields=("batch",), name="stagemove_batch"),
            models.Index(fields=("panel", "-at"), name="stagemove_panel"),
        )

    def __str__(self) -> str:
        return f"{self.from_stage} → {self.to_stage}"


class Mark(models.TextChoices):
    """What can stand beside a panel's stage."""

    CUT = "cut", "cut"
    CHECKED = "checked", "checked and wrapped"
    WAITING = "waiting", "waiting for"
    REWORK = "rework", "rework"


class MarkChangeQuerySet(AppendOnlyQuerySet):
    """Changes of marks by what they belong to."""

    def in_batch(self, batch: uuid.UUID) -> Self:
        """Return changes that were made together."""
        return self.filter(batch=batch)

    def newest_of_each(self, panels: Iterable[uuid.UUID]) -> set[uuid.UUID]:
        """Return the id of the last change of each mark of each panel. One query."""
        rows = self.filter(panel__in=tuple(panels)).order_by("at", "created_at")
        newest = {
            (panel, mark): pk
            for panel, mark, pk in rows.values_list("panel_id", "mark", "pk")
        }
        return set(newest.values())


class MarkChange(Identified):
    """A mark set or taken off, by whom."""

    panel = models.ForeignKey(Panel, on_delete=models.PROTECT, related_name="marks")
    batch = models.UUIDField(default=uuid.uuid4)
    mark = models.CharField(max_length=8, choices=Mark.choices)
    was = models.CharField(max_length=120, blank=True)
    now = models.CharField(max_length=120, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )

    objects = MarkChangeQuerySet.as_manager()

    class Meta:
        ordering = ("-at", "-created_at")

    def __str__(self) -> str:
        return f"{self.mark}: {self.now or 'off'}"
