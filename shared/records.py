"""Fields and abstract bases that every feature's models are made of."""

from __future__ import annotations

import uuid
from typing import Any, NoReturn, Self

from django.db import models
from django.utils import timezone


class LedgerIsAppendOnlyError(Exception):
    """Somebody tried to change history instead of adding to it."""


class AppendOnlyQuerySet(models.QuerySet[Any]):
    """Rows that are only ever added: corrections are new rows."""

    def update(self, **kwargs: Any) -> NoReturn:
        """Refuse: history is appended."""
        raise LedgerIsAppendOnlyError(self.model.__name__)

    def bulk_update(self, *args: Any, **kwargs: Any) -> NoReturn:
        """Refuse: history is appended."""
        raise LedgerIsAppendOnlyError(self.model.__name__)

    def delete(self) -> NoReturn:
        """Refuse: history is appended."""
        raise LedgerIsAppendOnlyError(self.model.__name__)


class ArchivableQuerySet(models.QuerySet[Any]):
    """Rows that are put aside instead of deleted."""

    def live(self) -> Self:
        """Rows in use."""
        return self.filter(archived_at__isnull=True)

    def archived(self) -> Self:
        """Rows put aside."""
        return self.filter(archived_at__isnull=False)


class LengthField(models.IntegerField[Any, Any]):
    """A length in ticks of 3.125 µm; 32 bits reach 6.7 km."""

    description = "Length in ticks of 3.125 µm"

    def formfield(self, **kwargs: Any) -> Any:
        """Read lengths as a tape shows them."""
        from shared.forms import LengthFormField  # forms need settings: not at import

        return super().formfield(
            **{"form_class": LengthFormField, "min_value": None, "max_value": None}
            | kwargs
        )


class MoneyField(models.DecimalField[Any, Any]):
    """An amount in the shop's currency, with room for unit prices of small things."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Four decimals unless told otherwise: lines are rounded in shared.money."""
        kwargs.setdefault("max_digits", 14)
        kwargs.setdefault("decimal_places", 4)
        super().__init__(*args, **kwargs)

    def formfield(self, **kwargs: Any) -> Any:
        """Read amounts with a point or a comma."""
        from shared.forms import MoneyFormField  # forms need settings: not at import

        return super().formfield(**{"form_class": MoneyFormField} | kwargs)


class Identified(models.Model):
    """A row that a device can make or refer to while away."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    created_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        abstract = True


class Archivable(models.Model):
    """A row that can be put aside and brought back."""

    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        abstract = True

    @property
    def is_archived(self) -> bool:
        """Whether the row was put aside."""
        return self.archived_at is not None
