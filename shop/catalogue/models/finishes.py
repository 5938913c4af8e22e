"""What surfaces are covered with, and how much sound each swallows."""

from __future__ import annotations

import uuid
from decimal import Decimal
from typing import Any, Self

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q
from django.urls import reverse

from shared.models import Archivable, ArchivableQuerySet, Identified

BANDS = ("125", "250", "500", "1000", "2000", "4000")
"""The octave bands that a finish has a column for, in Hz."""


class FinishQuerySet(ArchivableQuerySet):
    """Finishes of rooms, by words and by choice."""

    def matching(self, words: str) -> Self:
        """Finishes in whose name or source every word is found."""
        found = self
        for word in words.split():
            found = found.filter(Q(name__icontains=word) | Q(source__icontains=word))
        return found

    def offered(self, keep: uuid.UUID | None = None) -> Self:
        """Finishes in use, and the one that is chosen already."""
        return self.filter(Q(archived_at__isnull=True) | Q(pk=keep))


def _coefficient(band: str) -> Any:
    return models.DecimalField(
        f"at {band}",
        max_digits=4,
        decimal_places=3,
        validators=(MinValueValidator(0), MaxValueValidator(1)),
    )


class Finish(Identified, Archivable):
    """A finish with its sound absorption by octave band, and where the figures are from."""

    key = models.SlugField(
        max_length=60,
        unique=True,
        help_text="Stays the same for good; what comes with the program is known by it.",
    )
    name = models.CharField(max_length=120)
    at_125 = _coefficient("125 Hz")
    at_250 = _coefficient("250 Hz")
    at_500 = _coefficient("500 Hz")
    at_1000 = _coefficient("1 kHz")
    at_2000 = _coefficient("2 kHz")
    at_4000 = _coefficient("4 kHz")
    source = models.CharField(
        max_length=300, help_text="The table, report or maker that says so."
    )

    objects = FinishQuerySet.as_manager()

    class Meta:
        ordering = ("name",)
        verbose_name_plural = "finishes"
        constraints = (
            models.CheckConstraint(
                condition=~Q(name="") & ~Q(source=""),
                name="%(app_label)s_%(class)s_named_and_sourced",
                violation_error_message="Give its name, and where the figures are from.",
            ),
            models.CheckConstraint(
                condition=Q(
                    at_125__range=(0, 1),
                    at_250__range=(0, 1),
                    at_500__range=(0, 1),
                    at_1000__range=(0, 1),
                    at_2000__range=(0, 1),
                    at_4000__range=(0, 1),
                ),
                name="%(app_label)s_%(class)s_coefficients_are_shares",
                violation_error_message="A coefficient is a share between 0 and 1.",
            ),
        )

    def __str__(self) -> str:
        return self.name

    def get_absolute_url(self) -> str:
        """Return the finish's page."""
        return reverse("shop:finish-change", args=(self.pk,))

    @property
    def coefficients(self) -> tuple[Decimal, ...]:
        """Its coefficients from 125 Hz to 4 kHz."""
        return tuple(getattr(self, f"at_{band}") for band in BANDS)
