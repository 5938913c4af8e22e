"""What is typed when material is taken out for a job."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.buying.actions.uses import Out
from jobs.buying.forms.words import STALE
from jobs.buying.reports.jobs import JobMaterial, JobRow
from shared.forms import PlainForm
from shop.catalogue.forms.stock import quantity_field
from shop.catalogue.models import MaterialKind, StockLevel
from shop.catalogue.reports.stock import counted_whole, quantity_text


@dataclass(frozen=True, slots=True)
class OutRow:
    """A line of the form for taking out: what is left to take, and its boxes."""

    row: JobRow
    left: str
    quantity: forms.BoundField
    lot: forms.BoundField | None


class TakeOutForm(PlainForm):
    """What a job takes out of the stores."""

    def __init__(
        self,
        *args: Any,
        material: JobMaterial,
        levels: Iterable[StockLevel],
        **kwargs: Any,
    ) -> None:
        """Make the boxes; what lies there for the job stands in them."""
        super().__init__(*args, **kwargs)
        self.job_rows = [row for row in material.rows if row.left]
        lots: dict[uuid.UUID, list[StockLevel]] = {}
        for level in levels:
            lots.setdefault(level.material_id, []).append(level)
        for row in self.job_rows:
            self._add(row, lots.get(row.material.pk, []))

    def _add(self, row: JobRow, levels: Sequence[StockLevel]) -> None:
        pk, there = row.material.pk, row.share.from_stock if row.share else None
        if there and counted_whole(row.material):
            there = Decimal(int(there)) or None
        self.fields[f"quantity_{pk}"] = quantity_field(
            row.material,
            label="Taken",
            least=Decimal(0),
            required=False,
            initial=there or None,
        )
        if row.material.kind == MaterialKind.FABRIC:
            choices = [(v.lot, v.lot or "not known") for v in levels] or [
                ("", "not known")
            ]
            self.fields[f"lot_{pk}"] = forms.ChoiceField(
                label="Dye lot",
                choices=choices,
                required=False,
                error_messages={"invalid_choice": STALE},
            )

    def rows(self) -> Iterable[OutRow]:
        """Give each material with its boxes."""
        for row in self.job_rows:
            pk = row.material.pk
            yield OutRow(
                row=row,
                left=quantity_text(row.material, row.left),
                quantity=self[f"quantity_{pk}"],
                lot=self[f"lot_{pk}"] if f"lot_{pk}" in self.fields else None,
            )

    def clean(self) -> dict[str, Any]:
        """Ask for something at all."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        if not self.errors and not self.outs():
            raise ValidationError("Say how much you take of at least one material.")
        return data

    def outs(self) -> tuple[Out, ...]:
        """Return what is taken."""
        data = self.cleaned_data
        return tuple(
            Out(row.material, quantity, data.get(f"lot_{row.material.pk}", ""))
            for row in self.job_rows
            if (quantity := data.get(f"quantity_{row.material.pk}"))
        )
