"""The people of the shop and the shop's own profile."""

from __future__ import annotations

import uuid
from typing import Any, ClassVar, Self

from django.contrib.auth.models import AbstractUser, UserManager
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.urls import reverse

from shared import access
from shared.conventions import Conventions
from shared.length import UnitSystem
from shared.models import LengthField, MoneyField


class RoleChoice(models.TextChoices):
    """What a person does in the shop."""

    OWNER = "owner", "owner"
    OFFICE = "office", "office"
    MAKER = "maker", "maker"
    FITTER = "fitter", "fitter"


class PersonQuerySet(models.QuerySet["Person"]):
    """People by what they can be asked to do."""

    def active(self) -> Self:
        """People who work here now."""
        return self.filter(is_active=True)

    def gone(self) -> Self:
        """People who left; what they did stays on record."""
        return self.filter(is_active=False)

    def matching(self, words: str) -> Self:
        """People in whose name, sign-in name, e-mail or phone every word is found."""
        found = self
        for word in words.split():
            found = found.filter(
                Q(first_name__icontains=word)
                | Q(last_name__icontains=word)
                | Q(username__icontains=word)
                | Q(email__icontains=word)
                | Q(phone__icontains=word)
            )
        return found

    def in_order(self) -> Self:
        """By name."""
        return self.order_by("first_name", "last_name", "username")

    def owners(self) -> Self:
        """Those who run the shop."""
        return self.filter(role=RoleChoice.OWNER)


class PersonManager(UserManager.from_queryset(PersonQuerySet)):  # type: ignore[misc]
    """Make people by name and password, as Django's own commands expect."""

    def create_superuser(self, *args: Any, **fields: Any) -> Person:
        """Whoever may do everything in the admin runs the shop, too."""
        made: Person = super().create_superuser(
            *args, **{"role": RoleChoice.OWNER} | fields
        )
        return made


class Person(AbstractUser):
    """Somebody who works in the shop and can sign in."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    role = models.CharField(
        max_length=10, choices=RoleChoice.choices, default=RoleChoice.MAKER
    )
    phone = models.CharField(max_length=40, blank=True)

    objects: ClassVar[PersonManager] = PersonManager()

    class Meta:
        ordering = ("first_name", "last_name", "username")
        verbose_name_plural = "people"
        constraints = (
            models.CheckConstraint(
                condition=Q(role__in=RoleChoice.values),
                name="%(app_label)s_%(class)s_role_known",
                violation_error_message="Choose one of the four roles.",
            ),
        )

    def __str__(self) -> str:
        return self.get_full_name() or self.username

    def get_absolute_url(self) -> str:
        """Return the person's page."""
        return reverse("shop:person", args=(self.pk,))

    def may(self, right: access.Right) -> bool:
        """Whether the person has a right."""
        return access.may(self, right)


class UnitChoice(models.TextChoices):
    """How lengths are read and printed."""

    METRIC = UnitSystem.METRIC.value, "millimetres"
    IMPERIAL = UnitSystem.IMPERIAL.value, "feet and inches"


class PaperChoice(models.TextChoices):
    """What the printer holds."""

    A4 = "A4", "A4"
    LETTER = "Letter", "Letter"


def _range_in_order(name: str) -> models.CheckConstraint:
    """Both ends or neither, none below zero, the upper end not below the lower."""
    low, high = f"{name}_from", f"{name}_to"
    return models.CheckConstraint(
        condition=Q(**{f"{low}__isnull": True, f"{high}__isnull": True})
        # An unknown upper end makes the comparison unknown, which a check lets pass.
        | Q(**{f"{low}__gte": 0, f"{high}__isnull": False, f"{high}__gte": F(low)}),
        name=f"%(app_label)s_%(class)s_{name}",
        violation_error_message="A ballpark needs a lower and an upper end, in order.",
    )


class ShopProfile(models.Model):
    """The one shop that this installation belongs to."""

    id = models.PositiveSmallIntegerField(primary_key=True, default=1, editable=False)
    name = models.CharField(max_length=120)
    strapline = models.CharField(max_length=160, blank=True)
    address = models.TextField(max_length=400, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    web = models.CharField(max_length=120, blank=True)
    tax_number = models.CharField(max_length=40, blank=True)
    how_to_pay = models.TextField(
        max_length=600, blank=True, help_text="Printed on the quote beside the deposit."
    )
    terms = models.TextField(max_length=4000, blank=True)
    unit_system = models.CharField(
        max_length=10, choices=UnitChoice.choices, default=UnitChoice.METRIC
    )
    fraction = models.PositiveSmallIntegerField(
        default=16,
        choices=(
            (2, "1/2"),
            (4, "1/4"),
            (8, "1/8"),
            (16, "1/16"),
            (32, "1/32"),
            (64, "1/64"),
        ),
        help_text="The smallest fraction of an inch printed.",
    )
    currency = models.CharField(max_length=3, default="EUR")
    locale = models.CharField(max_length=10, default="en_GB")
    time_zone = models.CharField(max_length=50, default="Europe/London")
    paper = models.CharField(
        max_length=10, choices=PaperChoice.choices, default=PaperChoice.A4
    )
    quote_valid_days = models.PositiveSmallIntegerField(
        default=30, validators=(MinValueValidator(1), MaxValueValidator(366))
    )
    panel_clearance_ticks = LengthField(
        "clearance of a panel in an opening, each side",
        default=960,  # 3 mm, common practice, no source
        help_text="What a panel is smaller by than the opening, on each side.",
    )
    ballpark_per_m2_from = MoneyField("per m² of floor, from", null=True, blank=True)
    ballpark_per_m2_to = MoneyField("per m² of floor, to", null=True, blank=True)
    ballpark_per_panel_from = MoneyField("per panel, from", null=True, blank=True)
    ballpark_per_panel_to = MoneyField("per panel, to", null=True, blank=True)
    invented = models.BooleanField(
        default=False, help_text="Demo data: shown as invented on every page and paper."
    )

    class Meta:
        constraints = (
            models.CheckConstraint(
                condition=Q(id=1),
                name="%(app_label)s_%(class)s_only_one",
                violation_error_message="There is one shop per installation.",
            ),
            models.CheckConstraint(
                condition=Q(quote_valid_days__gte=1),
                name="%(app_label)s_%(class)s_validity_positive",
                violation_error_message="A quote is valid for at least one day.",
            ),
            models.CheckConstraint(
                condition=Q(panel_clearance_ticks__gte=0),
                name="%(app_label)s_%(class)s_clearance_not_negative",
                violation_error_message="A clearance can't be negative.",
            ),
            _range_in_order("ballpark_per_m2"),
            _range_in_order("ballpark_per_panel"),
        )

    def __str__(self) -> str:
        return self.name

    def conventions(self) -> Conventions:
        """How this shop reads and prints lengths, money and time."""
        return Conventions(
            unit_system=UnitSystem(self.unit_system),
            fraction=self.fraction,
            currency=self.currency,
            locale=self.locale,
            time_zone=self.time_zone,
            paper=self.paper,
        )
