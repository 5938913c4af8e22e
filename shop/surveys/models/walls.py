"""Walls in order, and the openings in them with their readings."""

from __future__ import annotations

import uuid
from typing import Self

from django.db import models
from django.db.models import Q

from shared.models import Identified, LengthField
from shop.surveys.models.surveys import Made, Survey, unread_first


class CornerKind(models.TextChoices):
    """How the corner at a wall's end is known."""

    RIGHT = "right", "square, to the right"
    LEFT = "left", "square, to the left: it juts into the room"
    ANGLE = "angle", "by its angle"
    DIAGONAL = "diagonal", "by a diagonal"


class WallQuerySet(models.QuerySet["Wall"]):
    """Walls by whether they count."""

    def standing(self) -> Self:
        """Leave out what was taken out again."""
        return self.filter(removed_at__isnull=True)

    def of_room(self, room_id: uuid.UUID) -> Self:
        """Return walls of a room in any of its surveys."""
        return self.filter(survey__room=room_id)

    def with_survey(self) -> Self:
        """With survey and room, which an action on them asks for."""
        return self.select_related("survey__room")


class Wall(Identified, Made):
    """One wall, in the order in which a person walks the room, clockwise."""

    survey = models.ForeignKey(Survey, on_delete=models.CASCADE, related_name="walls")
    lineage = models.UUIDField(
        default=uuid.uuid4, editable=False, help_text="The same in every later survey."
    )
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=40)
    length_ticks = LengthField(
        "length", null=True, blank=True, help_text="Empty: not read yet."
    )
    length_text = models.CharField(max_length=40, blank=True)
    corner = models.CharField(
        "corner at its end",
        max_length=8,
        choices=CornerKind.choices,
        default=CornerKind.RIGHT,
    )
    turn_millidegrees = models.IntegerField(
        default=90_000,
        help_text="Turn to the right at the wall's end; by a diagonal, as it was stored.",
    )
    diagonal_ticks = LengthField(
        "diagonal over the corner",
        null=True,
        blank=True,
        help_text="From this wall's left corner to the right one of the next wall.",
    )
    diagonal_text = models.CharField(max_length=40, blank=True)
    height_ticks = LengthField(
        "ceiling height at its left corner",
        null=True,
        blank=True,
        help_text="Only where it was read there.",
    )
    height_text = models.CharField(max_length=40, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = WallQuerySet.as_manager()

    class Meta:
        ordering = ("position",)
        constraints = (
            *Made.Meta.constraints,
            # The walk goes by position; a wall taken out keeps its own for its return.
            models.UniqueConstraint(
                fields=("survey", "position"),
                condition=Q(removed_at__isnull=True),
                name="%(app_label)s_%(class)s_position_once",
                violation_error_message="Two walls can't stand at the same place.",
            ),
            models.UniqueConstraint(
                fields=("survey", "lineage"),
                name="%(app_label)s_%(class)s_lineage_once",
                violation_error_message="A wall is in a survey once.",
            ),
            models.CheckConstraint(
                condition=Q(length_ticks__isnull=True) | Q(length_ticks__gt=0),
                name="%(app_label)s_%(class)s_length_positive",
                violation_error_message="A wall is longer than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(height_ticks__isnull=True) | Q(height_ticks__gt=0),
                name="%(app_label)s_%(class)s_height_positive",
                violation_error_message="The ceiling height must be more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(corner__in=CornerKind.values),
                name="%(app_label)s_%(class)s_corner_known",
                violation_error_message="Choose how the corner turns.",
            ),
            models.CheckConstraint(
                condition=Q(diagonal_ticks__isnull=True) | Q(diagonal_ticks__gt=0),
                name="%(app_label)s_%(class)s_diagonal_positive",
                violation_error_message="A diagonal is longer than nothing.",
            ),
        )

    def __str__(self) -> str:
        return self.name


class OpeningKind(models.TextChoices):
    """What the hole in the wall is."""

    WINDOW = "window", "window"
    DOOR = "door", "door"
    RECESS = "recess", "recess"


class Glass(models.TextChoices):
    """What a window is glazed with."""

    UNKNOWN = "", "not looked at yet"
    SINGLE = "single", "single"
    DOUBLE = "double", "double"
    SEALED = "sealed", "a sealed unit"


class Facing(models.TextChoices):
    """Which way a window faces: the sun on glass behind a panel."""

    UNKNOWN = "", "not looked at yet"
    NORTH = "n", "north"
    NORTH_EAST = "ne", "north-east"
    EAST = "e", "east"
    SOUTH_EAST = "se", "south-east"
    SOUTH = "s", "south"
    SOUTH_WEST = "sw", "south-west"
    WEST = "w", "west"
    NORTH_WEST = "nw", "north-west"


class OpeningQuerySet(models.QuerySet["Opening"]):
    """Openings by whether they count."""

    def standing(self) -> Self:
        """Leave out what was taken out again."""
        found = self.filter(removed_at__isnull=True, wall__removed_at__isnull=True)
        return found.order_by(
            "wall__position", unread_first("from_left_ticks"), "created_at"
        )

    def of_room(self, room_id: uuid.UUID) -> Self:
        """Return openings of a room in any of its surveys."""
        return self.filter(wall__survey__room=room_id)

    def with_survey(self) -> Self:
        """With wall, survey and room, which an action on them asks for."""
        return self.select_related("wall__survey__room")


class Opening(Identified):
    """A window, door or recess in a wall."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="openings")
    lineage = models.UUIDField(
        default=uuid.uuid4, editable=False, help_text="The same in every later survey."
    )
    kind = models.CharField(
        max_length=8, choices=OpeningKind.choices, default=OpeningKind.WINDOW
    )
    name = models.CharField(max_length=40, blank=True)
    from_left_ticks = LengthField("from the left corner", null=True, blank=True)
    from_left_text = models.CharField(max_length=40, blank=True)
    sill_ticks = LengthField("sill above the floor", null=True, blank=True)
    sill_text = models.CharField(max_length=40, blank=True)
    reveal_depth_ticks = LengthField("depth of the reveal", null=True, blank=True)
    reveal_depth_text = models.CharField(max_length=40, blank=True)
    panel_depth_ticks = LengthField(
        "how deep in the reveal the panel will sit", null=True, blank=True
    )
    panel_depth_text = models.CharField(max_length=40, blank=True)
    obstructions = models.CharField(
        "in the way",
        max_length=200,
        blank=True,
        help_text="As in: handle, blind, sill.",
    )
    glass = models.CharField(max_length=8, choices=Glass.choices, blank=True)
    faces = models.CharField(max_length=2, choices=Facing.choices, blank=True)
    gets_panel = models.BooleanField("gets a panel", default=False)
    must_open = models.BooleanField("must open", default=False)
    removed_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = OpeningQuerySet.as_manager()

    class Meta:
        ordering = ("wall__position", "from_left_ticks", "created_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(kind__in=OpeningKind.values),
                name="%(app_label)s_%(class)s_kind_known",
                violation_error_message="Choose window, door or recess.",
            ),
            models.CheckConstraint(
                condition=(Q(from_left_ticks__isnull=True) | Q(from_left_ticks__gte=0))
                & (Q(sill_ticks__isnull=True) | Q(sill_ticks__gte=0))
                & (Q(reveal_depth_ticks__isnull=True) | Q(reveal_depth_ticks__gte=0))
                & (Q(panel_depth_ticks__isnull=True) | Q(panel_depth_ticks__gte=0)),
                name="%(app_label)s_%(class)s_place_in_room",
                violation_error_message="An opening starts inside its wall.",
            ),
            models.CheckConstraint(
                condition=Q(glass__in=Glass.values, faces__in=Facing.values),
                name="%(app_label)s_%(class)s_glass_known",
                violation_error_message="Choose one of what is offered.",
            ),
            models.UniqueConstraint(
                fields=("wall", "lineage"),
                name="%(app_label)s_%(class)s_lineage_once",
                violation_error_message="An opening is in a wall once.",
            ),
        )

    def __str__(self) -> str:
        return self.name or self.get_kind_display()


class Axis(models.TextChoices):
    """Which way a reading of an opening was taken."""

    WIDTH = "width", "width"
    HEIGHT = "height", "height"
    DIAGONAL = "diagonal", "diagonal"


class Reading(Identified):
    """One reading of an opening, kept as read."""

    opening = models.ForeignKey(
        Opening, on_delete=models.CASCADE, related_name="readings"
    )
    axis = models.CharField(max_length=8, choices=Axis.choices)
    place = models.PositiveSmallIntegerField(
        help_text="1 top or left, 2 middle, 3 bottom or right; a diagonal is named by"
        " its upper end: 1 left, 2 right."
    )
    ticks = LengthField("reading")
    text = models.CharField(max_length=40)

    class Meta:
        ordering = ("axis", "place")
        constraints = (
            models.UniqueConstraint(
                fields=("opening", "axis", "place"),
                name="%(app_label)s_%(class)s_place_once",
                violation_error_message="There is already a reading at this place.",
            ),
            models.CheckConstraint(
                condition=Q(axis__in=Axis.values, place__gte=1, place__lte=3),
                name="%(app_label)s_%(class)s_place_known",
                violation_error_message="A reading is a width, height or diagonal.",
            ),
            models.CheckConstraint(
                condition=Q(ticks__gt=0),
                name="%(app_label)s_%(class)s_positive",
                violation_error_message="A reading is more than nothing.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.axis} {self.place}: {self.text}"
