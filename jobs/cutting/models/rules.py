"""What the shop's saw takes, and what is worth keeping."""

from __future__ import annotations

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from shared.models import LengthField


class Halving(models.TextChoices):
    """How a sheet is cut in two first, so that one person can handle it."""

    WHOLE = "whole", "not at all"
    LENGTHWISE = "lengthwise", "lengthwise"
    ACROSS = "across", "across"


class SawRules(models.Model):
    """What the shop's saw takes, and what is worth keeping: one row."""

    kerf_ticks = LengthField("saw's cut", default=1024, help_text="What a cut takes.")
    trim_ticks = LengthField(
        "trim", default=0, help_text="What goes off each edge of a sheet first."
    )
    halving = models.CharField(
        "halve sheets first",
        max_length=10,
        choices=Halving.choices,
        default=Halving.WHOLE,
    )
    may_trim_strips = models.BooleanField(
        "rip a piece narrower where it saves a sheet", default=True
    )
    keep_length_ticks = LengthField("offcuts are kept from this length", default=96_000)
    keep_width_ticks = LengthField("and this width", default=25_600)
    flaw_percent = models.DecimalField(
        "fabric to spare for flaws, in percent",
        max_digits=5,
        decimal_places=2,
        default=5,
        validators=(MinValueValidator(0), MaxValueValidator(100)),
    )
    repair_ticks = LengthField(
        "remnant for repairs, square of",
        default=96_000,
        help_text="Kept of each fabric with the job's name on it; nothing for none.",
    )

    class Meta:
        verbose_name_plural = "saw rules"
        constraints = (
            models.CheckConstraint(
                condition=Q(pk=1), name="%(app_label)s_%(class)s_one_row"
            ),
            models.CheckConstraint(
                condition=Q(
                    kerf_ticks__gte=0,
                    trim_ticks__gte=0,
                    keep_length_ticks__gt=0,
                    keep_width_ticks__gt=0,
                    repair_ticks__gte=0,
                    flaw_percent__range=(0, 100),
                ),
                name="%(app_label)s_%(class)s_not_negative",
                violation_error_message="Lengths and shares can't be negative.",
            ),
            models.CheckConstraint(
                condition=Q(halving__in=Halving.values),
                name="%(app_label)s_%(class)s_halving_known",
                violation_error_message="Choose how sheets are halved.",
            ),
        )

    def __str__(self) -> str:
        return "saw rules"
