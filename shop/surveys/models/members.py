"""Studs and joists that were found, where panels will go."""

from __future__ import annotations

import uuid
from typing import Self

from django.db import models
from django.db.models import Q

from shared.models import Identified, LengthField
from shop.surveys.models.surveys import Survey, unread_first
from shop.surveys.models.walls import Wall


class MemberQuerySet(models.QuerySet["Member"]):
    """Studs and joists by whether they count."""

    def standing(self) -> Self:
        """Leave out what was taken out again, by itself or with its wall."""
        found = self.filter(removed_at__isnull=True, wall__removed_at__isnull=True)
        places = unread_first("wall__position"), unread_first("at_ticks")
        return found.order_by(*places, "created_at")

    def with_survey(self) -> Self:
        """With survey and room, which an action on them asks for."""
        return self.select_related("survey__room")


class Member(Identified):
    """One stud of a wall, or one joist of the ceiling, by its centre."""

    survey = models.ForeignKey(Survey, on_delete=models.CASCADE, related_name="members")
    wall = models.ForeignKey(
        Wall,
        on_delete=models.CASCADE,
        null=True,
        blank=True,
        related_name="members",
        help_text="Empty: in the ceiling.",
    )
    lineage = models.UUIDField(
        default=uuid.uuid4, editable=False, help_text="The same in every later survey."
    )
    at_ticks = LengthField(
        "its centre",
        null=True,
        blank=True,
        help_text="On a wall from its left corner; in the ceiling from the wall that it"
        " runs along.",
    )
    at_text = models.CharField(max_length=40, blank=True)
    note = models.CharField(max_length=120, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = MemberQuerySet.as_manager()

    class Meta:
        ordering = ("wall__position", "at_ticks", "created_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(at_ticks__isnull=True) | Q(at_ticks__gte=0),
                name="%(app_label)s_%(class)s_place_in_room",
                violation_error_message="A stud or joist is inside the room.",
            ),
            models.UniqueConstraint(
                fields=("survey", "lineage"),
                name="%(app_label)s_%(class)s_lineage_once",
                violation_error_message="A stud or joist is in a survey once.",
            ),
        )

    def __str__(self) -> str:
        return "stud" if self.wall_id else "joist"
