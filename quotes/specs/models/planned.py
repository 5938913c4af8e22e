"""Panels as planned for a room."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Self

from django.db import models
from django.db.models import Q

from quotes.specs.models.spec import BuildSpec, optional_material
from shared.models import Identified, LengthField
from shop.surveys.models import Opening, Room


class PlannedPanelQuerySet(models.QuerySet["PlannedPanel"]):
    """Planned panels by what may still be done with them."""

    def live(self) -> Self:
        """Panels that are planned and not taken out again."""
        return self.filter(dropped_at__isnull=True)

    def uncommitted(self) -> Self:
        """Live panels that no accepted quote has yet taken."""
        return self.live().filter(committed_at__isnull=True)

    def in_room(self, room: Room) -> Self:
        """Panels of one room."""
        return self.filter(room=room)

    def by_ids(self, ids: Iterable[str]) -> Self:
        """Panels of these ids, as a snapshot names them."""
        return self.filter(pk__in=list(ids))

    def in_rooms(self, rooms: Iterable[Room]) -> Self:
        """Panels of several rooms."""
        return self.filter(room__in=[room.pk for room in rooms])

    def like(self, panel: PlannedPanel) -> Self:
        """Panels of the same room, build, size and fabric, for the same opening."""
        return self.filter(
            room=panel.room_id,
            spec=panel.spec_id,
            width_ticks=panel.width_ticks,
            height_ticks=panel.height_ticks,
            fabric=panel.fabric_id,
            opening=panel.opening_id,
        )

    def dropped_with(self, panel: PlannedPanel) -> Self:
        """Keep panels that were taken out in one go with this one."""
        return self.like(panel).filter(dropped_at=panel.dropped_at)

    def among(self, panels: Iterable[PlannedPanel]) -> Self:
        """Keep just these panels."""
        return self.filter(pk__in=[panel.pk for panel in panels])

    def with_fabric(self) -> Self:
        """With their fabric and opening, which lists show."""
        return self.select_related("fabric", "opening")

    def with_room(self) -> Self:
        """With room and build, which a panel's own pages show."""
        return self.select_related("room", "spec")


class PlannedPanel(Identified):
    """One panel from the first idea to the wall: what quotes count and layouts place."""

    room = models.ForeignKey(Room, on_delete=models.PROTECT, related_name="+")
    spec = models.ForeignKey(BuildSpec, on_delete=models.PROTECT, related_name="panels")
    width_ticks = LengthField("width")
    width_text = models.CharField(max_length=40)
    height_ticks = LengthField("height")
    height_text = models.CharField(max_length=40)
    fabric = optional_material("front fabric", help_text="Empty: the build's own.")
    opening = models.ForeignKey(
        Opening,
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="+",
        help_text="The opening that a reveal panel fills.",
    )
    note = models.CharField(max_length=120, blank=True)
    committed_at = models.DateTimeField(null=True, blank=True, editable=False)
    dropped_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = PlannedPanelQuerySet.as_manager()

    class Meta:
        ordering = ("created_at", "id")
        constraints = (
            models.CheckConstraint(
                condition=Q(width_ticks__gt=0, height_ticks__gt=0),
                name="%(app_label)s_%(class)s_size_positive",
                violation_error_message="A panel has a width and a height.",
            ),
            models.CheckConstraint(
                condition=Q(committed_at__isnull=True) | Q(dropped_at__isnull=True),
                name="%(app_label)s_%(class)s_committed_stays",
                violation_error_message="A panel that was accepted can't be taken out"
                " here: change the job.",
            ),
        )
        indexes = (
            # the room's and the draft quote's panels
            models.Index(fields=("room", "dropped_at"), name="plannedpanel_room"),
        )

    def __str__(self) -> str:
        return f"{self.spec} {self.width_text} × {self.height_text}"
