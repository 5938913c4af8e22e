"""Beams and soffits that hang below a ceiling."""

from __future__ import annotations

import uuid
from typing import Self

from django.db import models
from django.db.models import Q

from shared.models import Identified, LengthField
from shop.surveys.models.surveys import Survey


class BeamKind(models.TextChoices):
    """What hangs below the ceiling."""

    BEAM = "beam", "beam"
    SOFFIT = "soffit", "soffit"


class BeamQuerySet(models.QuerySet["Beam"]):
    """Beams by whether they count."""

    def standing(self) -> Self:
        """Leave out what was taken out again."""
        return self.filter(removed_at__isnull=True)

    def with_survey(self) -> Self:
        """With survey and room, which an action on them asks for."""
        return self.select_related("survey__room")


class Beam(Identified):
    """A beam or soffit as a box: it takes from the room what it fills."""

    survey = models.ForeignKey(Survey, on_delete=models.CASCADE, related_name="beams")
    lineage = models.UUIDField(
        default=uuid.uuid4, editable=False, help_text="The same in every later survey."
    )
    kind = models.CharField(
        "what it is", max_length=8, choices=BeamKind.choices, default=BeamKind.BEAM
    )
    length_ticks = LengthField("length", null=True, blank=True)
    length_text = models.CharField(max_length=40, blank=True)
    width_ticks = LengthField("width", null=True, blank=True)
    width_text = models.CharField(max_length=40, blank=True)
    drop_ticks = LengthField("how far it hangs down", null=True, blank=True)
    drop_text = models.CharField(max_length=40, blank=True)
    note = models.CharField(max_length=120, blank=True)
    removed_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = BeamQuerySet.as_manager()

    class Meta:
        ordering = ("created_at",)
        constraints = (
            models.CheckConstraint(
                condition=Q(kind__in=BeamKind.values),
                name="%(app_label)s_%(class)s_kind_known",
                violation_error_message="Choose what hangs there.",
            ),
            models.CheckConstraint(
                condition=(Q(length_ticks__isnull=True) | Q(length_ticks__gt=0))
                & (Q(width_ticks__isnull=True) | Q(width_ticks__gt=0))
                & (Q(drop_ticks__isnull=True) | Q(drop_ticks__gt=0)),
                name="%(app_label)s_%(class)s_size_positive",
                violation_error_message="A beam has a length, a width and a drop.",
            ),
            models.UniqueConstraint(
                fields=("survey", "lineage"),
                name="%(app_label)s_%(class)s_lineage_once",
                violation_error_message="A beam is in a survey once.",
            ),
        )

    def __str__(self) -> str:
        return self.get_kind_display()
