"""One measuring of a room, and what a surface is made of."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Self

from django.conf import settings
from django.db import models
from django.db.models import Exists, F, OrderBy, OuterRef, Prefetch, Q, Subquery
from django.urls import reverse

from shared.models import Identified, LengthField
from shop.people.models import ShopProfile
from shop.surveys.models.rooms import Room


def unread_first(column: str) -> OrderBy:
    """Order by what was read, what was not coming first: the same on every database.

    Openings are numbered in this order, and devices number them alike.
    """
    return F(column).asc(nulls_first=True)


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


class FramingRun(models.TextChoices):
    """Which way studs or joists run."""

    UNKNOWN = "", "not looked at yet"
    ALONG = "along", "along the first wall"
    ACROSS = "across", "away from the first wall"
    UPRIGHT = "upright", "upright"
    LEVEL = "level", "level"


class Made(models.Model):
    """What a surface is made of."""

    construction = models.CharField(
        "made of", max_length=12, choices=Construction.choices, blank=True
    )
    board_thickness_ticks = LengthField("board thickness", null=True, blank=True)
    board_thickness_text = models.CharField(max_length=40, blank=True)
    framing_spacing_ticks = LengthField("framing spacing", null=True, blank=True)
    framing_spacing_text = models.CharField(max_length=40, blank=True)
    framing_run = models.CharField(
        "framing runs", max_length=8, choices=FramingRun.choices, blank=True
    )
    heated = models.BooleanField("heated", default=False)

    class Meta:
        abstract = True
        constraints = (
            models.CheckConstraint(
                condition=Q(construction__in=Construction.values),
                name="%(app_label)s_%(class)s_construction_known",
                violation_error_message="Choose what it is made of.",
            ),
            models.CheckConstraint(
                condition=Q(framing_run__in=FramingRun.values),
                name="%(app_label)s_%(class)s_framing_run_known",
                violation_error_message="Choose which way the framing runs.",
            ),
        )


class CeilingShape(models.TextChoices):
    """What a ceiling looks like from the side."""

    FLAT = "flat", "flat"
    SLOPE = "slope", "one slope, by the heights read at three corners or more"
    CORNERS = "corners", "uneven, by the height at every corner"


class SurveyQuerySet(models.QuerySet["Survey"]):
    """Surveys of rooms."""

    def newest_first(self) -> Self:
        """Return the latest revision first."""
        return self.order_by("-revision")

    def latest_of(self, rooms: Iterable[Room]) -> Self:
        """Return the latest survey of each of these rooms."""
        later = Survey.objects.filter(
            room=OuterRef("room"), revision__gt=OuterRef("revision")
        )
        return self.filter(~Exists(later), room__in=[room.pk for room in rooms])

    def before(self, survey: Survey) -> Self:
        """Earlier surveys of the same room, the latest of them first."""
        return self.filter(
            room=survey.room_id, revision__lt=survey.revision
        ).newest_first()

    def with_parts(self) -> Self:
        """With walls, openings, readings and zones, for drawing and checking.

        And with `panel_clearance_ticks`, which the shop leaves round a panel in an opening.
        """
        from shop.surveys.models.beams import Beam  # they point at surveys
        from shop.surveys.models.members import Member
        from shop.surveys.models.walls import Opening, Wall
        from shop.surveys.models.zones import Zone

        clearance = ShopProfile.objects.values("panel_clearance_ticks")[:1]
        return self.annotate(
            panel_clearance_ticks=Subquery(clearance)
        ).prefetch_related(
            Prefetch("walls", Wall.objects.standing()),
            Prefetch("walls__openings", Opening.objects.standing()),
            "walls__openings__readings",
            Prefetch("zones", Zone.objects.standing().with_usual()),
            Prefetch("beams", Beam.objects.standing()),
            Prefetch("members", Member.objects.standing()),
        )

    def with_inside(self) -> Self:
        """With finishes, furniture and places as well. Three queries more."""
        from shop.surveys.models.inside import Covering, Spot  # they point at surveys

        return self.with_parts().prefetch_related(
            Prefetch("coverings", Covering.objects.standing()),
            "furniture",
            Prefetch("spots", Spot.objects.standing()),
        )

    def with_room(self) -> Self:
        """With room, site, client and who measured, which every heading shows."""
        return self.select_related("room__site__client__details", "measured_by")


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
    ceiling_shape = models.CharField(
        "shape of the ceiling",
        max_length=8,
        choices=CeilingShape.choices,
        default=CeilingShape.FLAT,
    )
    notes = models.TextField(max_length=4000, blank=True)
    version = models.PositiveIntegerField(
        default=0, editable=False, help_text="Rises with each change."
    )

    objects = SurveyQuerySet.as_manager()

    class Meta:
        ordering = ("-revision",)
        constraints = (
            *Made.Meta.constraints,
            models.CheckConstraint(
                condition=Q(ceiling_shape__in=CeilingShape.values),
                name="%(app_label)s_%(class)s_ceiling_shape_known",
                violation_error_message="Choose the shape of the ceiling.",
            ),
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

    def get_absolute_url(self) -> str:
        """Return the survey's page."""
        return reverse("shop:survey", args=(self.pk,))
