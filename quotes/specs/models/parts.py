"""What a build is made of: its braces, the things it takes, the work it takes."""

from __future__ import annotations

from decimal import Decimal

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from quotes.specs.models.choices import (
    BraceEdge,
    BraceLies,
    BracePlace,
    BraceRun,
    Face,
)
from quotes.specs.models.spec import BuildSpec, optional_material
from shared.models import Identified, LengthField
from shop.catalogue.models import Driver, Material, Operation


class Brace(Identified):
    """A brace of a build: where, how it lies, its edge and its set-back."""

    spec = models.ForeignKey(BuildSpec, on_delete=models.CASCADE, related_name="braces")
    name = models.CharField(max_length=60)
    runs = models.CharField(
        max_length=8, choices=BraceRun.choices, default=BraceRun.ACROSS
    )
    lies = models.CharField(
        max_length=8, choices=BraceLies.choices, default=BraceLies.FLAT
    )
    edge = models.CharField(
        max_length=8, choices=BraceEdge.choices, default=BraceEdge.SQUARE
    )
    strip_ticks = LengthField("strip width")
    bevel_deg = models.DecimalField(
        "bevel, degrees", max_digits=4, decimal_places=1, default=Decimal(45)
    )
    place = models.CharField(
        max_length=12, choices=BracePlace.choices, default=BracePlace.CENTRE
    )
    fraction = models.DecimalField(
        "share of the way",
        max_digits=4,
        decimal_places=3,
        default=Decimal("0.5"),
        help_text="From the bottom or from the left: 0.5 is the middle.",
    )
    max_span_ticks = LengthField("widest bay, when spread", default=0)
    from_face = models.CharField(max_length=5, choices=Face.choices, default=Face.BACK)
    setback_ticks = LengthField("set back from that face", default=0)
    when_over_ticks = LengthField("only when longer than", default=0)
    stock = optional_material("stock", help_text="Empty: the frame's own.")
    position = models.PositiveSmallIntegerField(default=0, editable=False)

    class Meta:
        ordering = ("position", "created_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(
                    strip_ticks__gt=0,
                    setback_ticks__gte=0,
                    max_span_ticks__gte=0,
                    when_over_ticks__gte=0,
                ),
                name="%(app_label)s_%(class)s_measures_sensible",
                violation_error_message="A brace has a width, and its other measures"
                " aren't negative.",
            ),
            models.CheckConstraint(
                condition=Q(
                    runs__in=BraceRun.values,
                    lies__in=BraceLies.values,
                    edge__in=BraceEdge.values,
                    place__in=BracePlace.values,
                    from_face__in=Face.values,
                ),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Choose how the brace runs, lies and sits.",
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
    driver = models.CharField(
        "for each", max_length=20, choices=Driver.choices, default=Driver.PANEL
    )
    spare_percent = models.DecimalField(
        "spares, %",
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
    position = models.PositiveSmallIntegerField(default=0, editable=False)

    class Meta:
        ordering = ("position", "created_at")
        constraints = (
            models.CheckConstraint(
                condition=Q(quantity__gt=0, spare_percent__gte=0),
                name="%(app_label)s_%(class)s_quantity_positive",
                violation_error_message="The quantity must be more than nothing.",
            ),
            models.CheckConstraint(
                condition=Q(driver__in=Driver.values),
                name="%(app_label)s_%(class)s_driver_known",
                violation_error_message="Choose what the quantity grows with.",
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
    position = models.PositiveSmallIntegerField(default=0, editable=False)

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
