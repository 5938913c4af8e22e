"""What is in a room: what its surfaces are covered with, furniture, where one listens."""

from __future__ import annotations

import uuid
from typing import Self

from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import Q

from shared.models import Identified, LengthField
from shop.catalogue.models import Finish
from shop.surveys.models.surveys import Survey
from shop.surveys.models.walls import Opening, Wall


class Surface(models.TextChoices):
    """What a finish lies on."""

    WALLS = "walls", "all walls"
    WALL = "wall", "one wall"
    CEILING = "ceiling", "ceiling"
    FLOOR = "floor", "floor"
    OPENING = "opening", "window, door or recess"


class CoveringQuerySet(models.QuerySet["Covering"]):
    """Finishes on surfaces by whether they count."""

    def standing(self) -> Self:
        """Leave out what was taken out again, by itself or with what it lies on."""
        return self.filter(
            removed_at__isnull=True,
            wall__removed_at__isnull=True,
            opening__removed_at__isnull=True,
            opening__wall__removed_at__isnull=True,
        ).select_related("finish")

    def with_survey(self) -> Self:
        """With survey and room, which an action on them asks for."""
        return self.select_related("survey__room", "finish")


class Covering(Identified):
    """A finish on a surface, or on a part of it; openings subtract themselves."""

    survey = models.ForeignKey(
        Survey, on_delete=models.CASCADE, related_name="coverings"
    )
    lineage = models.UUIDField(
        default=uuid.uuid4, editable=False, help_text="The same in every later survey."
    )
    surface = models.CharField(max_length=8, choices=Surface.choices)
    wall = models.ForeignKey(
        Wall,
        on_delete=models.CASCADE,
        null=True,
        blank=True,
        related_name="coverings",
    )
    opening = models.ForeignKey(
        Opening,
        on_delete=models.CASCADE,
        null=True,
        blank=True,
        related_name="coverings",
    )
    finish = models.ForeignKey(
        Finish, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    width_ticks = LengthField(
        "width of the part", null=True, blank=True, help_text="Empty: all that is left."
    )
    width_text = models.CharField(max_length=40, blank=True)
    height_ticks = LengthField("height of the part", null=True, blank=True)
    height_text = models.CharField(max_length=40, blank=True)
    note = models.CharField(max_length=120, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = CoveringQuerySet.as_manager()

    class Meta:
        ordering = ("created_at",)
        constraints = (
            models.CheckConstraint(
                condition=Q(surface__in=Surface.values),
                name="%(app_label)s_%(class)s_surface_known",
                violation_error_message="Choose what it lies on.",
            ),
            models.CheckConstraint(
                condition=(Q(surface=Surface.WALL) & Q(wall__isnull=False))
                | (~Q(surface=Surface.WALL) & Q(wall__isnull=True)),
                name="%(app_label)s_%(class)s_wall_named",
                violation_error_message="Say which wall it lies on.",
            ),
            models.CheckConstraint(
                condition=(Q(surface=Surface.OPENING) & Q(opening__isnull=False))
                | (~Q(surface=Surface.OPENING) & Q(opening__isnull=True)),
                name="%(app_label)s_%(class)s_opening_named",
                violation_error_message="Say which opening it lies on.",
            ),
            models.CheckConstraint(
                condition=(Q(width_ticks__isnull=True) | Q(width_ticks__gt=0))
                & (Q(height_ticks__isnull=True) | Q(height_ticks__gt=0)),
                name="%(app_label)s_%(class)s_size_positive",
                violation_error_message="A part has a width and a height.",
            ),
            models.UniqueConstraint(
                fields=("survey", "lineage"),
                name="%(app_label)s_%(class)s_lineage_once",
                violation_error_message="A finish is in a survey once.",
            ),
        )

    def __str__(self) -> str:
        return self.get_surface_display()


class FurnitureKind(models.TextChoices):
    """What stands or sits in a room and absorbs sound."""

    PERSON = "person", "people, usually"
    SOFT_SEAT = "soft_seat", "upholstered seats"
    LEATHER_SEAT = "leather_seat", "leather seats"
    HARD_SEAT = "hard_seat", "hard chairs"
    TABLE = "table", "tables and desks"
    SHELVES = "shelves", "filled bookshelves"
    BED = "bed", "beds"
    SOFA = "sofa", "sofas"


class Furniture(Identified):
    """How many of one kind are in the room."""

    survey = models.ForeignKey(
        Survey, on_delete=models.CASCADE, related_name="furniture"
    )
    kind = models.CharField(max_length=12, choices=FurnitureKind.choices)
    count = models.PositiveSmallIntegerField(
        default=0, validators=(MaxValueValidator(5000),)
    )

    class Meta:
        ordering = ("kind",)
        verbose_name_plural = "furniture"
        constraints = (
            models.CheckConstraint(
                condition=Q(kind__in=FurnitureKind.values),
                name="%(app_label)s_%(class)s_kind_known",
                violation_error_message="Choose what is in the room.",
            ),
            models.UniqueConstraint(
                fields=("survey", "kind"),
                name="%(app_label)s_%(class)s_kind_once",
                violation_error_message="That is counted once.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.count}"


class SpotKind(models.TextChoices):
    """What is at a place in the room."""

    SEAT = "seat", "listening place"
    LOUDSPEAKER = "loudspeaker", "loudspeaker"
    SOURCE = "source", "somebody who speaks or plays"
    DESK = "desk", "desk"
    SCREEN = "screen", "screen"


class SpotQuerySet(models.QuerySet["Spot"]):
    """Places in the room by whether they count."""

    def standing(self) -> Self:
        """Leave out what was taken out again."""
        return self.filter(removed_at__isnull=True)

    def with_survey(self) -> Self:
        """With survey and room, which an action on them asks for."""
        return self.select_related("survey__room")


class Spot(Identified):
    """Where somebody listens, speaks or plays, by its distances from two walls."""

    survey = models.ForeignKey(Survey, on_delete=models.CASCADE, related_name="spots")
    lineage = models.UUIDField(
        default=uuid.uuid4, editable=False, help_text="The same in every later survey."
    )
    kind = models.CharField(
        max_length=12, choices=SpotKind.choices, default=SpotKind.SEAT
    )
    name = models.CharField(max_length=40, blank=True)
    left_ticks = LengthField("from the last wall", null=True, blank=True)
    left_text = models.CharField(max_length=40, blank=True)
    bottom_ticks = LengthField("from the first wall", null=True, blank=True)
    bottom_text = models.CharField(max_length=40, blank=True)
    height_ticks = LengthField("above the floor", null=True, blank=True)
    height_text = models.CharField(max_length=40, blank=True)
    width_ticks = LengthField("width, of a desk or screen", null=True, blank=True)
    width_text = models.CharField(max_length=40, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = SpotQuerySet.as_manager()

    class Meta:
        ordering = ("created_at",)
        constraints = (
            models.CheckConstraint(
                condition=Q(kind__in=SpotKind.values),
                name="%(app_label)s_%(class)s_kind_known",
                violation_error_message="Choose what is there.",
            ),
            models.CheckConstraint(
                condition=(Q(left_ticks__isnull=True) | Q(left_ticks__gte=0))
                & (Q(bottom_ticks__isnull=True) | Q(bottom_ticks__gte=0))
                & (Q(height_ticks__isnull=True) | Q(height_ticks__gte=0))
                & (Q(width_ticks__isnull=True) | Q(width_ticks__gt=0)),
                name="%(app_label)s_%(class)s_place_in_room",
                violation_error_message="A place is inside the room.",
            ),
            models.UniqueConstraint(
                fields=("survey", "lineage"),
                name="%(app_label)s_%(class)s_lineage_once",
                violation_error_message="A place is in a survey once.",
            ),
        )

    def __str__(self) -> str:
        return self.name or self.get_kind_display()
