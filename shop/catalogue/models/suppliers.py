"""Whom the shop buys from."""

from __future__ import annotations

import uuid
from typing import Self

from django.db import models
from django.db.models import Q
from django.db.models.functions import Lower

from shared.models import Archivable, ArchivableQuerySet, Identified


class SupplierQuerySet(ArchivableQuerySet):
    """Suppliers by what they are listed for."""

    def matching(self, words: str) -> Self:
        """Suppliers in whose name, e-mail or phone every word is found."""
        found = self
        for word in words.split():
            found = found.filter(
                Q(name__icontains=word)
                | Q(email__icontains=word)
                | Q(phone__icontains=word)
            )
        return found

    def offered(self, keep: uuid.UUID | None = None) -> Self:
        """Suppliers in use, and the one that is chosen already."""
        return self.filter(Q(archived_at__isnull=True) | Q(pk=keep))


class Supplier(Identified, Archivable):
    """Somebody the shop buys from."""

    name = models.CharField(max_length=120)
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    lead_days = models.PositiveSmallIntegerField(default=3)

    objects = SupplierQuerySet.as_manager()

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(
                Lower("name"),
                name="%(app_label)s_%(class)s_name_once",
                violation_error_message="There is already a supplier of this name.",
            ),
        )

    def __str__(self) -> str:
        return self.name
