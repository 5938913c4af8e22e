"""How one kind of panel is built, as a row."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from decimal import Decimal
from typing import Any, Self

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower
from django.urls import reverse

from quotes.specs.models.choices import (
    BackStyle,
    Fastening,
    Hanging,
    Joint,
    PanelKind,
    Through,
)
from shared.models import Archivable, ArchivableQuerySet, Identified, LengthField
from shop.catalogue.models import Material


def material_field(name: str = "", **kwargs: Any) -> models.ForeignKey[Any, Any]:
    """Return a material of a build; kept as long as a build uses it."""
    options: dict[str, Any] = {"on_delete": models.PROTECT, "related_name": "+"}
    options |= kwargs
    if name:
        options["verbose_name"] = name
    return models.ForeignKey(Material, **options)


def optional_material(name: str = "", **kwargs: Any) -> models.ForeignKey[Any, Any]:
    """Return a material that a build may do without."""
    return material_field(name, **({"null": True, "blank": True} | kwargs))


def few(default: int, most: int) -> Any:
    """Return a small count: one at least."""
    limits = (MinValueValidator(1), MaxValueValidator(most))
    return models.PositiveSmallIntegerField(default=default, validators=limits)


class BuildSpecQuerySet(ArchivableQuerySet):
    """Build specs with what a takeoff reads."""

    def with_parts(self) -> Self:
        """With materials, braces, items and operations: seven queries for any number."""
        return self.select_related(
            "frame_stock",
            "fill",
            "front_fabric",
            "front_lining",
            "back_fabric",
            "blocking_stock",
            "edge_strip",
            "battens_stock",
            "feet_stock",
        ).prefetch_related("braces__stock", "items__material", "operations__operation")

    def by_ids(self, ids: Iterable[uuid.UUID]) -> Self:
        """Keep builds of these ids."""
        return self.filter(pk__in=list(ids))

    def matching(self, words: str) -> Self:
        """Keep builds in whose name, kind or notes every word is found."""
        found = self
        for word in words.split():
            kinds = [k.value for k in PanelKind if word.lower() in k.label.lower()]
            found = found.filter(
                Q(name__icontains=word) | Q(notes__icontains=word) | Q(kind__in=kinds)
            )
        return found


class BuildSpec(Identified, Archivable):
    """How one kind of panel is built. The shop copies one and changes what it likes.

    Columns are the takeoff's `Build`; those of a nested rule have the rule's name in
    front (`cleat_holes`). A length of 0 means "none" or "always", as the engine says.
    """

    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=8, choices=PanelKind.choices)
    notes = models.TextField(max_length=2000, blank=True)
    preset = models.SlugField(
        max_length=40,
        blank=True,
        editable=False,
        help_text="Which of the builds that come with the program it is.",
    )
    # the frame
    depth_ticks = LengthField("frame depth")
    frame_stock = material_field("frame stock")
    joint = models.CharField(max_length=8, choices=Joint.choices, default=Joint.BUTT)
    glued = models.BooleanField("corners glued", default=True)
    fastening = models.CharField(
        max_length=8, choices=Fastening.choices, default=Fastening.NAILS
    )
    through = models.CharField(
        "what runs through",
        max_length=6,
        choices=Through.choices,
        default=Through.WIDTH,
    )
    kerf_ticks = LengthField("saw kerf", default=1016)
    stile_bevel_deg = models.DecimalField(
        "bevel of the sides, degrees",
        max_digits=4,
        decimal_places=1,
        default=Decimal(0),
    )
    wood_yield_percent = models.DecimalField(
        "wood that ends up in panels, %",
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        validators=(MinValueValidator(Decimal(10)), MaxValueValidator(Decimal(100))),
        help_text="Of this build, on average. Empty: the shop's average.",
    )
    # fill and cloth
    fill = optional_material("fill")
    fill_layers = few(1, 6)
    fill_setback_front_ticks = LengthField("space before the fill", default=0)
    fill_oversize_ticks = LengthField("fill cut larger by", default=0)
    front_fabric = optional_material("front fabric")
    front_lining = optional_material("lining under it")
    back_fabric = optional_material("back fabric")
    back_style = models.CharField(
        "where the back fabric lies",
        max_length=16,
        choices=BackStyle.choices,
        default=BackStyle.NONE,
    )
    wrap_ticks = LengthField("wrap beyond the back edge", default=16256)
    turn_ticks = LengthField("turned in at the back cloth's edges", default=4800)
    allow_seam = models.BooleanField("seam cloth wider than the roll", default=False)
    seam_ticks = LengthField("cloth taken by a seam, each side", default=4064)
    finished_growth_ticks = LengthField("fabric adds, each direction", default=1016)
    one_person_kg = models.DecimalField(
        "heaviest for one person, kg",
        max_digits=4,
        decimal_places=1,
        default=Decimal(23),
        validators=(MinValueValidator(Decimal(1)), MaxValueValidator(Decimal(60))),
        help_text="23 kg is the ideal-lift limit of NIOSH 94-110; overhead is less.",
    )
    # how it is held
    hanging = models.CharField("held by", max_length=8, choices=Hanging.choices)
    cleat_wall_share = models.DecimalField(
        "wall cleat, share of the width",
        max_digits=4,
        decimal_places=3,
        default=Decimal("0.5"),
        validators=(MinValueValidator(Decimal("0.05")), MaxValueValidator(Decimal(1))),
    )
    cleat_wall_fixed_ticks = LengthField("wall cleat, one length for all", default=0)
    cleat_wall_min_ticks = LengthField("wall cleat, at least", default=48000)
    cleat_step_ticks = LengthField("wall cleat, rounded to", default=320)
    cleat_two_over_ticks = LengthField("two wall cleats when wider than", default=0)
    cleat_two_travel_ticks = LengthField("travel left by two cleats", default=8000)
    cleat_margin_ticks = LengthField("panel's centre inside the cleat by", default=8000)
    cleat_finger_ticks = LengthField("room above to hook it on", default=6400)
    cleat_holes = few(2, 24)
    cleat_hole_inset_ticks = LengthField("first hole from the end", default=8000)
    cleat_hole_spacing_ticks = LengthField("holes at most apart", default=0)
    points_across = few(2, 12)
    points_down = few(2, 12)
    points_inset_ticks = LengthField("points in from the edge", default=16256)
    points_max_spacing_ticks = LengthField("points at most apart", default=0)
    blocking_length_ticks = LengthField("block, along the frame", default=0)
    blocking_width_ticks = LengthField("block, inwards", default=0)
    blocking_layers = few(1, 4)
    blocking_stock = optional_material("block of")
    edge_clearance_ticks = LengthField("clearance, each side", default=960)
    edge_strip = optional_material("edge strip")
    edge_compressed_ticks = LengthField("strip, pushed home, each side", default=0)
    battens_strip_ticks = LengthField("batten's width", default=0)
    battens_count = few(2, 12)
    battens_end_gap_ticks = LengthField("batten shorter at each end by", default=0)
    battens_stock = optional_material("batten of")
    battens_holes = few(3, 24)
    feet_length_ticks = LengthField("foot, front to back", default=0)
    feet_strip_ticks = LengthField("foot, height", default=0)
    feet_count = few(2, 12)
    feet_inset_ticks = LengthField("feet in from the ends", default=16000)
    feet_stock = optional_material("foot of")

    objects = BuildSpecQuerySet.as_manager()

    class Meta:
        ordering = ("kind", "name")
        constraints = (
            models.UniqueConstraint(
                Lower("name"),
                condition=Q(archived_at__isnull=True),
                name="%(app_label)s_%(class)s_name_once",
                violation_error_code="name_once",
                violation_error_message="Another build already has this name.",
            ),
            # create_five_builds makes each of them once
            models.UniqueConstraint(
                fields=("preset",),
                condition=~Q(preset=""),
                name="%(app_label)s_%(class)s_preset_once",
                violation_error_message="That build is already here.",
            ),
            models.CheckConstraint(
                condition=Q(
                    kind__in=PanelKind.values,
                    hanging__in=Hanging.values,
                    joint__in=Joint.values,
                    fastening__in=Fastening.values,
                    through__in=Through.values,
                    back_style__in=BackStyle.values,
                ),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Choose what kind of panel it is and how it"
                " hangs.",
            ),
            models.CheckConstraint(
                condition=Q(
                    depth_ticks__gt=0,
                    kerf_ticks__gte=0,
                    wrap_ticks__gte=0,
                    turn_ticks__gte=0,
                    fill_setback_front_ticks__gte=0,
                    finished_growth_ticks__gte=0,
                    edge_clearance_ticks__gte=0,
                    fill_layers__gte=1,
                    one_person_kg__gt=0,
                ),
                name="%(app_label)s_%(class)s_measures_sensible",
                violation_error_message="The frame needs a depth; the other measures"
                " can't be negative.",
            ),
            models.CheckConstraint(
                condition=Q(back_style=BackStyle.NONE, back_fabric__isnull=True)
                | (~Q(back_style=BackStyle.NONE) & Q(back_fabric__isnull=False)),
                name="%(app_label)s_%(class)s_back_has_fabric",
                violation_error_code="back_has_fabric",
                violation_error_message="Choose both a back fabric and where it lies,"
                " or neither.",
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Return the build's page."""
        return reverse("quotes:build", args=(self.pk,))
