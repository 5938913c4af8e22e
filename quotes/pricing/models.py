"""How this shop makes prices: one row of rules, and the tax on each kind of line."""

from __future__ import annotations

from decimal import Decimal
from typing import Self

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from shared.models import Identified, MoneyField

PERCENT = (MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(100)))


def percent_field(name: str, default: str) -> models.DecimalField[Decimal, Decimal]:
    """Return a column for a share in percent, nought to a hundred."""
    return models.DecimalField(
        name,
        max_digits=6,
        decimal_places=3,
        default=Decimal(default),
        validators=PERCENT,
    )


class ProfitBasis(models.TextChoices):
    """How profit is put on cost."""

    MARKUP = "markup", "markup on cost"
    MARGIN = "margin", "margin of price"


class OverheadBasis(models.TextChoices):
    """What overhead is reckoned on."""

    COST = "cost", "a share of direct cost"
    HOUR = "hour", "money for each labour hour"


class AllowanceBasis(models.TextChoices):
    """What rest and delay are a share of."""

    WORK = "work", "a share of the work"
    SHIFT = "shift", "a share of the shift"


class TaxRounding(models.TextChoices):
    """Where tax is rounded."""

    LINE = "line", "on each line"
    TOTAL = "total", "on each rate's total"


class PriceRules(models.Model):
    """The shop's rules for prices: one row."""

    id = models.PositiveSmallIntegerField(primary_key=True, default=1, editable=False)
    minimum_charge = MoneyField(default=Decimal(0))
    travel_rate_per_km = MoneyField(default=Decimal(0))
    travel_hourly_rate = MoneyField(default=Decimal(0))
    trips = models.PositiveSmallIntegerField(
        "trips per job",
        default=1,
        validators=(MinValueValidator(1), MaxValueValidator(50)),
    )
    crew = models.PositiveSmallIntegerField(
        "people on a trip",
        default=1,
        validators=(MinValueValidator(1), MaxValueValidator(20)),
    )
    overhead_basis = models.CharField(
        max_length=4, choices=OverheadBasis.choices, default=OverheadBasis.COST
    )
    overhead_percent = percent_field("overhead on cost, %", "0")
    overhead_per_hour = MoneyField("overhead for each labour hour", default=Decimal(0))
    allowance_basis = models.CharField(
        max_length=5, choices=AllowanceBasis.choices, default=AllowanceBasis.WORK
    )
    allowance_percent = percent_field("rest and delay, %", "0")
    profit_basis = models.CharField(
        max_length=8, choices=ProfitBasis.choices, default=ProfitBasis.MARKUP
    )
    profit_percent = models.DecimalField(
        "profit, %",
        max_digits=6,
        decimal_places=3,
        default=Decimal(0),
        validators=(MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(900))),
    )
    wood_yield_percent = models.DecimalField(
        "average yield from sheets, %",
        max_digits=6,
        decimal_places=3,
        default=Decimal(80),
        validators=(MinValueValidator(Decimal(10)), MaxValueValidator(Decimal(100))),
    )
    wood_waste_percent = percent_field("waste of wood, %", "5")
    fabric_yield_percent = models.DecimalField(
        "average yield from the roll, %",
        max_digits=6,
        decimal_places=3,
        default=Decimal(85),
        validators=(MinValueValidator(Decimal(10)), MaxValueValidator(Decimal(100))),
    )
    fabric_spare_percent = percent_field("fabric to spare, %", "10")
    fill_waste_percent = percent_field("waste of fill, %", "8")
    tax_name = models.CharField(max_length=20, default="VAT")
    prices_include_tax = models.BooleanField(default=False)
    tax_rounding = models.CharField(
        max_length=6, choices=TaxRounding.choices, default=TaxRounding.TOTAL
    )
    deposit_percent = percent_field("deposit, %", "50")

    class Meta:
        verbose_name_plural = "price rules"
        constraints = (
            models.CheckConstraint(
                condition=Q(id=1),
                name="%(app_label)s_%(class)s_only_one",
                violation_error_message="There is one set of price rules.",
            ),
            models.CheckConstraint(
                condition=~Q(profit_basis=ProfitBasis.MARGIN)
                | Q(profit_percent__lt=100),
                name="%(app_label)s_%(class)s_margin_below_all",
                violation_error_message="A margin of 100 %% or more has no price: give"
                " less, or use markup.",
            ),
            models.CheckConstraint(
                condition=~Q(allowance_basis=AllowanceBasis.SHIFT)
                | Q(allowance_percent__lt=100),
                name="%(app_label)s_%(class)s_shift_has_work",
                violation_error_message="An allowance of the whole shift leaves no time"
                " for work.",
            ),
            models.CheckConstraint(
                condition=Q(
                    profit_basis__in=ProfitBasis.values,
                    overhead_basis__in=OverheadBasis.values,
                    allowance_basis__in=AllowanceBasis.values,
                    tax_rounding__in=TaxRounding.values,
                )
                & Q(trips__gte=1, crew__gte=1),
                name="%(app_label)s_%(class)s_choices_known",
                violation_error_message="Choose how profit, overhead, rest and tax are"
                " reckoned; a job takes one trip and one person at least.",
            ),
            models.CheckConstraint(
                condition=Q(
                    minimum_charge__gte=0,
                    travel_rate_per_km__gte=0,
                    travel_hourly_rate__gte=0,
                    overhead_percent__gte=0,
                    overhead_per_hour__gte=0,
                    allowance_percent__gte=0,
                    profit_percent__gte=0,
                ),
                name="%(app_label)s_%(class)s_not_negative",
                violation_error_message="Rates and shares can't be negative.",
            ),
        )

    def __str__(self) -> str:
        return "price rules"


class LineKind(models.TextChoices):
    """What a line of a quote is for; tax goes by it."""

    PANELS = "panels", "panels"
    LABOUR = "labour", "labour"
    MATERIAL = "material", "material"
    TRAVEL = "travel", "travel"
    OTHER = "other", "other"


class TaxRateQuerySet(models.QuerySet["TaxRate"]):
    """Rates by what they are on."""

    def of_kind(self, kind: str) -> Self:
        """Return the rate on one kind of line, if it bears any."""
        return self.filter(line_kind=kind)


class TaxRate(Identified):
    """The tax on one kind of line."""

    line_kind = models.CharField(max_length=10, choices=LineKind.choices, unique=True)
    percent = percent_field("tax, %", "0")

    objects = TaxRateQuerySet.as_manager()

    class Meta:
        ordering = ("line_kind",)
        constraints = (
            models.CheckConstraint(
                condition=Q(percent__gte=0, percent__lte=100),
                name="%(app_label)s_%(class)s_percent_in_range",
                violation_error_message="A tax rate is between 0 and 100 %%.",
            ),
        )

    def __str__(self) -> str:
        return f"{self.line_kind} {self.percent} %"
