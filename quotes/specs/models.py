"""Build specs, which are data, and the panels planned from them."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, Self

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower
from django.urls import reverse

from shared.models import Archivable, ArchivableQuerySet, Identified, LengthField
from shop.catalogue.models import Driver, Material, Operation
from shop.surveys.models import Opening, Room


class PanelKind(models.TextChoices):
    """Where a panel goes; it decides how it is held."""

    WALL = "wall", "wall panel"
    HUNG = "hung", "hung panel"
    REVEAL = "reveal", "reveal panel"
    CORNER = "corner", "corner panel"
    SCREEN = "screen", "free-standing screen"


class Joint(models.TextChoices):
    """How the frame's corners meet."""

    BUTT = "butt", "butt joint"
    MITRE = "mitre", "mitre"
    HALF_LAP = "half_lap", "half-lap"


class Through(models.TextChoices):
    """Which pair of a butt-jointed frame runs through."""

    WIDTH = "width", "the pair along the width"
    HEIGHT = "height", "the pair along the height"


class BackStyle(models.TextChoices):
    """Where the back fabric lies."""

    NONE = "none", "no back fabric"
    INSIDE = "inside_frame", "inside the frame, cleat bare"
    OVER = "over_back_edge", "over the back edge"


class Hanging(models.TextChoices):
    """What holds the panel."""

    CLEAT = "cleat", "bevelled cleat"
    CHAIN = "chain", "links and chain"
    EDGE = "edge", "compressible edge"
    BATTENS = "battens", "battens"
    FEET = "feet", "feet"


class BuildSpecQuerySet(ArchivableQuerySet):
    """Build specs with what a takeoff reads."""

    def with_parts(self) -> Self:
        """With materials, braces, items and operations: five queries for any number."""
        return self.select_related(
            "frame_stock",
            "cleat_stock",
            "fill",
            "front_fabric",
            "front_lining",
            "back_fabric",
        ).prefetch_related("braces__stock", "items__material", "operations__operation")


def length_field(name: str, **kwargs: Any) -> LengthField:
    """Return A length of a build, empty where the build has no such thing."""
    return LengthField(name, **({"null": True, "blank": True} | kwargs))


class BuildSpec(Identified, Archivable):
    """How one kind of panel is built. The shop copies one and changes what it likes."""

    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=8, choices=PanelKind.choices)
    notes = models.TextField(max_length=2000, blank=True)
    depth_ticks = LengthField("frame depth")
    frame_stock = models.ForeignKey(
        Material, on_delete=models.PROTECT, related_name="+"
    )
    joint = models.CharField(max_length=8, choices=Joint.choices, default=Joint.BUTT)
    glued = models.BooleanField("corners glued", default=True)
    through = models.CharField(
        max_length=6, choices=Through.choices, default=Through.WIDTH
    )
    kerf_ticks = LengthField("saw kerf", default=1016)
    fill = models.ForeignKey(
        Material, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    fill_layers = models.PositiveSmallIntegerField(
        default=1, validators=(MinValueValidator(1), MaxValueValidator(6))
    )
    fill_setback_front_ticks = LengthField("space before the fill", default=0)
    front_fabric = models.ForeignKey(
        Material, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    front_lining = models.ForeignKey(
        Material, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    back_fabric = models.ForeignKey(
        Material, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    back_style = models.CharField(
        max_length=16, choices=BackStyle.choices, default=BackStyle.NONE
    )
    wrap_ticks = LengthField("wrap beyond the back edge", default=16000)
    finished_growth_ticks = LengthField("fabric adds, each direction", default=1016)
    hanging = models.CharField(max_length=8, choices=Hanging.choices)
    clearance_ticks = LengthField("clearance, each side", default=0)
    edge_ticks = LengthField("edge strip, compressed, each side", default=0)
    cleat_stock = models.ForeignKey(
        Material, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    cleat_bevel_degrees = models.FloatField(
        "cleat bevel",
        default=45.0,
        validators=(MinValueValidator(15.0), MaxValueValidator(60.0)),
    )
    cleat_strip_ticks = length_field("strip a cleat pair is ripped from")
    wall_cleat_ticks = length_field("wall cleat length")
    points_across = models.PositiveSmallIntegerField(
        default=0, validators=(MaxValueValidator(12),)
    )
    points_down = models.PositiveSmallIntegerField(
        default=0, validators=(MaxValueValidator(12),)
    )
    point_inset_ticks = length_field("hanging point from the edge")
    batten_count = models.PositiveSmallIntegerField(
        default=0, validators=(MaxValueValidator(12),)
    )

    objects = BuildSpecQuerySet.as_manager()

    class Meta:
        ordering = ("kind", "name")
        constraints = (
            models.UniqueConstraint(
                Lower("name"),
                condition=Q(archived_at__isnull=True),
                name="%(app_label)s_%(class)s_name_once",
                violation_error_message="Another build already has this name.",
            ),
            models.CheckConstraint(
                condition=Q(kind__in=PanelKind.values, hanging__in=Hanging.values),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Choose what kind of panel it is and how it"
                " hangs.",
            ),
            models.CheckConstraint(
                condition=Q(
                    depth_ticks__gt=0,
                    kerf_ticks__gte=0,
                    wrap_ticks__gte=0,
                    fill_setback_front_ticks__gte=0,
                    finished_growth_ticks__gte=0,
                    clearance_ticks__gte=0,
                    edge_ticks__gte=0,
                    fill_layers__gte=1,
                ),
                name="%(app_label)s_%(class)s_measures_sensible",
                violation_error_message="The frame needs a depth; the other measures"
                " can't be negative.",
            ),
            models.CheckConstraint(
                condition=Q(back_style=BackStyle.NONE) | Q(back_fabric__isnull=False),
                name="%(app_label)s_%(class)s_back_has_fabric",
                violation_error_message="Choose the back fabric, or “no back fabric”.",
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Return the build's page."""
        return reverse("quotes:build", args=(self.pk,))


class BraceRun(models.TextChoices):
    """Which way a brace runs."""

    ACROSS = "across", "across the width"
    UPRIGHT = "upright", "up the height"


class BraceLies(models.TextChoices):
    """How a brace lies in the frame."""

    FLAT = "flat", "flat"
    ON_EDGE = "on_edge", "on edge"


class BraceEdge(models.TextChoices):
    """The edge of a brace."""

    SQUARE = "square", "square"
    BEVELLED = "bevelled", "bevelled"


class BracePlace(models.TextChoices):
    """Where a brace goes."""

    TOP = "tight_top", "tight under the top rail"
    BOTTOM = "tight_bottom", "tight above the bottom rail"
    SPREAD = "spread", "spread evenly"


class Face(models.TextChoices):
    """Which face a set-back counts from."""

    FRONT = "front", "front"
    BACK = "back", "back"


class Brace(Identified):
    """A brace of a build: where, how it lies, its edge and its set-back."""

    spec = models.ForeignKey(BuildSpec, on_delete=models.CASCADE, related_name="braces")
    name = models.CharField(max_length=60)
    runs = models.CharField(max_length=8, choices=BraceRun.choices)
    lies = models.CharField(max_length=8, choices=BraceLies.choices)
    edge = models.CharField(
        max_length=8, choices=BraceEdge.choices, default=BraceEdge.SQUARE
    )
    strip_ticks = LengthField("strip width")
    place = models.CharField(max_length=12, choices=BracePlace.choices)
    from_face = models.CharField(max_length=5, choices=Face.choices, default=Face.BACK)
    setback_ticks = LengthField("set-back from that face", default=0)
    when_over_ticks = length_field("only when the panel is longer than")
    max_span_ticks = length_field("most clear span, when spread")
    stock = models.ForeignKey(
        Material, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "created_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(strip_ticks__gt=0, setback_ticks__gte=0),
                name="%(app_label)s_%(class)s_measures_sensible",
                violation_error_message="A brace has a width, and its set-back isn't"
                " negative.",
            ),
        )

    def __str__(self) -> str:
        return self.name


class SpecItem(Identified):
    """Hardware or a consumable that a build takes, by what it grows with."""

    spec = models.ForeignKey(BuildSpec, on_delete=models.CASCADE, related_name="items")
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="+")
    quantity = models.DecimalField(
        max_digits=9,
        decimal_places=3,
        validators=(MinValueValidator(Decimal("0.001")),),
    )
    driver = models.CharField(max_length=20, choices=Driver.choices)
    spare_percent = models.DecimalField(
        "spares for the van, %",
        max_digits=5,
        decimal_places=1,
        default=Decimal(0),
        validators=(MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(100))),
    )
    for_site = models.BooleanField("goes in the van", default=False)
    in_load_path = models.BooleanField(
        "carries the panel",
        default=False,
        help_text="Then it needs the maker's rating.",
    )
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "created_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(quantity__gt=0),
                name="%(app_label)s_%(class)s_quantity_positive",
                violation_error_message="The quantity must be more than nothing.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.quantity} × {self.material} per {self.get_driver_display()}"


class SpecOperation(Identified):
    """Work that a build takes, in the order it is done."""

    spec = models.ForeignKey(
        BuildSpec, on_delete=models.CASCADE, related_name="operations"
    )
    operation = models.ForeignKey(Operation, on_delete=models.PROTECT, related_name="+")
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ("position", "created_at")
        constraints = (
            models.UniqueConstraint(
                fields=("spec", "operation"),
                name="%(app_label)s_%(class)s_once",
                violation_error_message="The build already has this operation.",
            ),
        )

    def __str__(self) -> str:
        return str(self.operation)


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


class PlannedPanel(Identified):
    """One panel from the first idea to the wall: what quotes count and layouts place."""

    room = models.ForeignKey(Room, on_delete=models.PROTECT, related_name="+")
    spec = models.ForeignKey(BuildSpec, on_delete=models.PROTECT, related_name="panels")
    width_ticks = LengthField("width")
    width_text = models.CharField(max_length=40)
    height_ticks = LengthField("height")
    height_text = models.CharField(max_length=40)
    fabric = models.ForeignKey(
        Material,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        help_text="Empty: the build's own.",
    )
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
