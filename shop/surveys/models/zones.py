"""Places that must stay clear."""

from __future__ import annotations

import uuid
from typing import Self

from django.db import models
from django.db.models import OuterRef, Q, Subquery

from shared.models import Identified, LengthField
from shop.surveys.models.surveys import Survey, unread_first
from shop.surveys.models.walls import Wall


class ZoneKind(models.TextChoices):
    """What must stay clear."""

    SWITCH = "switch", "switch"
    OUTLET = "outlet", "outlet"
    THERMOSTAT = "thermostat", "thermostat"
    SUPPLY = "supply", "air supply"
    RETURN = "return", "air return"
    SPRINKLER = "sprinkler", "sprinkler"
    DETECTOR = "detector", "smoke or heat detector"
    DOWNLIGHT = "downlight", "recessed light"
    RADIATOR = "radiator", "radiator"
    FIREPLACE = "fireplace", "fireplace"
    SCREEN = "screen", "screen"
    DOOR_SWING = "door_swing", "door swing"
    OTHER = "other", "something else"


class ZoneQuerySet(models.QuerySet["Zone"]):
    """Zones by whether they count."""

    def standing(self) -> Self:
        """Leave out what was taken out again, by itself or with its wall."""
        found = self.filter(removed_at__isnull=True, wall__removed_at__isnull=True)
        places = unread_first("wall__position"), unread_first("left_ticks")
        return found.order_by(*places, "created_at")

    def with_survey(self) -> Self:
        """With survey and room, which an action on them asks for."""
        return self.select_related("survey__room")

    def with_usual(self) -> Self:
        """With `usual_margin_ticks` and the sizes that the shop takes as usual, if it does."""
        rule = ZoneRule.objects.filter(kind=OuterRef("kind"))
        sides = ("margin_ticks", "width_ticks", "height_ticks")
        return self.annotate(
            **{f"usual_{side}": Subquery(rule.values(side)) for side in sides}
        )


class Zone(Identified):
    """A place on a wall, or on the ceiling, that must stay clear."""

    survey = models.ForeignKey(Survey, on_delete=models.CASCADE, related_name="zones")
    wall = models.ForeignKey(
        Wall,
        on_delete=models.CASCADE,
        null=True,
        blank=True,
        related_name="zones",
        help_text="Empty: on the ceiling.",
    )
    lineage = models.UUIDField(
        default=uuid.uuid4, editable=False, help_text="The same in every later survey."
    )
    kind = models.CharField(
        "what it is", max_length=12, choices=ZoneKind.choices, default=ZoneKind.SWITCH
    )
    left_ticks = LengthField(
        "from the left",
        null=True,
        blank=True,
        help_text="On a wall from its left corner; on the ceiling from the last wall.",
    )
    left_text = models.CharField(max_length=40, blank=True)
    bottom_ticks = LengthField(
        "from below",
        null=True,
        blank=True,
        help_text="On a wall above the floor; on the ceiling from the first wall.",
    )
    bottom_text = models.CharField(max_length=40, blank=True)
    width_ticks = LengthField(
        "width", null=True, blank=True, help_text="Empty: as usual for its kind."
    )
    width_text = models.CharField(max_length=40, blank=True)
    height_ticks = LengthField(
        "height", null=True, blank=True, help_text="Empty: as usual for its kind."
    )
    height_text = models.CharField(max_length=40, blank=True)
    margin_ticks = LengthField(
        "kept clear round it",
        null=True,
        blank=True,
        help_text="Empty: as usual for its kind.",
    )
    margin_text = models.CharField(max_length=40, blank=True)
    note = models.CharField(max_length=120, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = ZoneQuerySet.as_manager()

    class Meta:
        ordering = ("wall__position", "left_ticks", "created_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(kind__in=ZoneKind.values),
                name="%(app_label)s_%(class)s_kind_known",
                violation_error_message="Choose what must stay clear.",
            ),
            models.CheckConstraint(
                condition=(Q(width_ticks__isnull=True) | Q(width_ticks__gt=0))
                & (Q(height_ticks__isnull=True) | Q(height_ticks__gt=0)),
                name="%(app_label)s_%(class)s_size_positive",
                violation_error_message="A zone has a width and a height.",
            ),
            models.CheckConstraint(
                condition=(Q(left_ticks__isnull=True) | Q(left_ticks__gte=0))
                & (Q(bottom_ticks__isnull=True) | Q(bottom_ticks__gte=0))
                & (Q(margin_ticks__isnull=True) | Q(margin_ticks__gte=0)),
                name="%(app_label)s_%(class)s_place_in_room",
                violation_error_message="A zone starts inside the room.",
            ),
            models.UniqueConstraint(
                fields=("survey", "lineage"),
                name="%(app_label)s_%(class)s_lineage_once",
                violation_error_message="A zone is in a survey once.",
            ),
        )

    def __str__(self) -> str:
        return self.get_kind_display()


class ZoneRule(models.Model):
    """What the shop takes as usual for one kind; no row: what comes with the program."""

    kind = models.CharField(primary_key=True, max_length=12, choices=ZoneKind.choices)
    margin_ticks = LengthField("kept clear round it")
    width_ticks = LengthField("usual width", null=True, blank=True)
    height_ticks = LengthField("usual height", null=True, blank=True)

    class Meta:
        ordering = ("kind",)
        constraints = (
            models.CheckConstraint(
                condition=Q(kind__in=ZoneKind.values),
                name="%(app_label)s_%(class)s_kind_known",
                violation_error_message="Choose what must stay clear.",
            ),
            models.CheckConstraint(
                condition=Q(margin_ticks__gte=0)
                & (Q(width_ticks__isnull=True) | Q(width_ticks__gt=0))
                & (Q(height_ticks__isnull=True) | Q(height_ticks__gt=0)),
                name="%(app_label)s_%(class)s_sizes_possible",
                violation_error_message="A margin can't be negative, a size not nothing.",
            ),
        )

    def __str__(self) -> str:
        return self.get_kind_display()
