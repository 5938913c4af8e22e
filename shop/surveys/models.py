"""Rooms and what was measured in them: walls in order, openings, zones, lineage."""

from __future__ import annotations

import uuid
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.urls import reverse

from shared.models import Archivable, ArchivableQuerySet, Identified, LengthField
from shop.clients.models import Client, Site, Use


class RoomQuerySet(ArchivableQuerySet):
    """Rooms by client and by words."""

    def matching(self, words: str) -> Self:
        """Rooms in whose name, address or client every word is found."""
        found = self
        for word in words.split():
            found = found.filter(
                Q(name__icontains=word)
                | Q(site__address__icontains=word)
                | Q(site__client__details__name__icontains=word)
                | Q(site__client__details__company__icontains=word)
            )
        return found

    def of_client(self, client: Client) -> Self:
        """Rooms at any site of a client."""
        return self.filter(site__client=client)

    def with_site(self) -> Self:
        """With site and client, which every heading shows."""
        return self.select_related("site__client__details")


class Room(Identified, Archivable):
    """One room of a client, surveyed once or more often."""

    site = models.ForeignKey(Site, on_delete=models.PROTECT, related_name="rooms")
    name = models.CharField(max_length=80)
    use = models.CharField(max_length=12, choices=Use.choices, blank=True)
    storey = models.CharField(
        max_length=40, blank=True, help_text="As in: basement, ground floor, 2nd floor."
    )
    sleeping_or_basement = models.BooleanField(
        "a bedroom or a basement room",
        default=False,
        help_text="Its window may be an escape window that must not be blocked.",
    )
    notes = models.TextField(max_length=4000, blank=True)

    objects = RoomQuerySet.as_manager()

    class Meta:
        ordering = ("name",)
        constraints = (
            models.CheckConstraint(
                condition=~Q(name=""),
                name="%(app_label)s_%(class)s_has_name",
                violation_error_message="Give the room a name, as in “Front room”.",
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Return the room's page."""
        return reverse("shop:room", args=(self.pk,))


class Construction(models.TextChoices):
    """What a wall or ceiling is made of, as far as fixing to it goes."""

    UNKNOWN = "", "not looked at yet"
    BOARD_WOOD = "board_wood", "board on wood framing"
    BOARD_METAL = "board_metal", "board on metal framing"
    LATH = "lath", "plaster on lath"
    BRICK = "brick", "brick"
    BLOCK = "block", "block"
    CONCRETE = "concrete", "concrete"
    TIMBER = "timber", "solid timber or boarding"
    GRID = "grid", "suspended grid"
    GLASS = "glass", "glass"
    ISOLATED = "isolated", "isolated on resilient mounts"


MASONRY = (Construction.BRICK, Construction.BLOCK, Construction.CONCRETE)


class Made(models.Model):
    """What a surface is made of."""

    construction = models.CharField(
        max_length=12, choices=Construction.choices, blank=True
    )
    board_thickness_ticks = LengthField("board thickness", null=True, blank=True)
    framing_spacing_ticks = LengthField("framing spacing", null=True, blank=True)
    heated = models.BooleanField("heated", default=False)

    class Meta:
        abstract = True


class SurveyQuerySet(models.QuerySet["Survey"]):
    """Surveys of rooms."""

    def newest_first(self) -> Self:
        """Return the latest revision first."""
        return self.order_by("-revision")

    def with_parts(self) -> Self:
        """With walls, openings, readings and zones, for drawing and checking."""
        return self.prefetch_related("walls__openings__readings", "walls__zones")


class Survey(Identified, Made):
    """One measuring of a room; the next one copies walls and keeps their lineage.

    The `Made` fields are the ceiling's.
    """

    room = models.ForeignKey(Room, on_delete=models.PROTECT, related_name="surveys")
    revision = models.PositiveSmallIntegerField(default=1)
    measured_on = models.DateField()
    measured_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+"
    )
    height_ticks = LengthField("ceiling height", null=True, blank=True)
    height_text = models.CharField(max_length=40, blank=True)
    notes = models.TextField(max_length=4000, blank=True)
    version = models.PositiveIntegerField(
        default=0, editable=False, help_text="Rises with each change."
    )

    objects = SurveyQuerySet.as_manager()

    class Meta:
        ordering = ("-revision",)
        constraints = (
            models.UniqueConstraint(
                fields=("room", "revision"),
                name="%(app_label)s_%(class)s_revision_once",
                violation_error_message="This room already has a survey of that number.",
            ),
            models.CheckConstraint(
                condition=Q(height_ticks__isnull=True) | Q(height_ticks__gt=0),
                name="%(app_label)s_%(class)s_height_positive",
                violation_error_message="The ceiling height must be more than nothing.",
            ),
        )

    def __str__(self) -> str:
        return f"survey {self.revision}"


class Wall(Identified, Made):
    """One wall, in the order in which a person walks the room, clockwise."""

    survey = models.ForeignKey(Survey, on_delete=models.CASCADE, related_name="walls")
    lineage = models.UUIDField(
        default=uuid.uuid4, editable=False, help_text="The same in every later survey."
    )
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=40)
    length_ticks = LengthField("length")
    length_text = models.CharField(max_length=40)
    turn_millidegrees = models.IntegerField(
        default=90_000, help_text="Turn to the right at the wall's end."
    )

    class Meta:
        ordering = ("position",)
        constraints = (
            models.UniqueConstraint(
                fields=("survey", "position"),
                name="%(app_label)s_%(class)s_position_once",
                violation_error_message="Two walls can't stand at the same place.",
            ),
            models.UniqueConstraint(
                fields=("survey", "lineage"),
                name="%(app_label)s_%(class)s_lineage_once",
                violation_error_message="A wall is in a survey once.",
            ),
            models.CheckConstraint(
                condition=Q(length_ticks__gt=0),
                name="%(app_label)s_%(class)s_length_positive",
                violation_error_message="A wall is longer than nothing.",
            ),
        )

    def __str__(self) -> str:
        return self.name


class OpeningKind(models.TextChoices):
    """What the hole in the wall is."""

    WINDOW = "window", "window"
    DOOR = "door", "door"
    RECESS = "recess", "recess"


class Opening(Identified):
    """A window, door or recess in a wall."""

    wall = models.ForeignKey(Wall, on_delete=models.CASCADE, related_name="openings")
    lineage = models.UUIDField(default=uuid.uuid4, editable=False)
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
    gets_panel = models.BooleanField("gets a panel", default=False)
    must_open = models.BooleanField("must open", default=True)

    class Meta:
        ordering = ("wall__position", "from_left_ticks", "created_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(kind__in=OpeningKind.values),
                name="%(app_label)s_%(class)s_kind_known",
                violation_error_message="Choose window, door or recess.",
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
        help_text="1 top or left, 2 middle, 3 bottom or right."
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
                condition=Q(ticks__gt=0),
                name="%(app_label)s_%(class)s_positive",
                violation_error_message="A reading is more than nothing.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.axis} {self.place}: {self.text}"


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
    lineage = models.UUIDField(default=uuid.uuid4, editable=False)
    kind = models.CharField(max_length=12, choices=ZoneKind.choices)
    left_ticks = LengthField("from the left corner")
    bottom_ticks = LengthField("above the floor")
    width_ticks = LengthField("width")
    height_ticks = LengthField("height")

    class Meta:
        ordering = ("created_at",)
        constraints = (
            models.CheckConstraint(
                condition=Q(width_ticks__gt=0, height_ticks__gt=0),
                name="%(app_label)s_%(class)s_size_positive",
                violation_error_message="A zone has a width and a height.",
            ),
            models.UniqueConstraint(
                fields=("survey", "lineage"),
                name="%(app_label)s_%(class)s_lineage_once",
                violation_error_message="A zone is in a survey once.",
            ),
        )

    def __str__(self) -> str:
        return self.get_kind_display()
