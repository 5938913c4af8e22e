"""What is typed when an order comes."""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.buying.actions.deliveries import Came
from jobs.buying.forms.words import STALE
from jobs.buying.models import OrderLine
from shared.conventions import current
from shared.forms import MoneyFormField, PlainCharField, PlainForm
from shared.money import show_money
from shop.catalogue.forms.stock import lot_field, quantity_field
from shop.catalogue.models import MaterialKind
from shop.catalogue.reports.stock import quantity_text


@dataclass(frozen=True, slots=True)
class DeliveryRow:
    """A line of the delivery form: what is to come, and its boxes."""

    line: OrderLine
    outstanding: str
    quantity: forms.BoundField
    price: forms.BoundField
    lot: forms.BoundField | None
    lot_ok: forms.BoundField | None


def _ordered_at(line: OrderLine) -> str:
    """Say what a pack was ordered at, to compare the note with."""
    if line.pack_price is None:
        return ""
    shop = current()
    price = show_money(line.pack_price, currency=shop.currency, locale=shop.locale)
    return f"Ordered at {price}; empty if the note says nothing else."


class DeliveryForm(PlainForm):
    """What came, line by line; the key makes a second tap harmless."""

    key = forms.UUIDField(
        widget=forms.HiddenInput,
        error_messages={"invalid": STALE, "required": STALE},
    )
    note_number = PlainCharField(
        max_length=60,
        required=False,
        label="Delivery note",
        help_text="The number on the supplier’s paper.",
    )

    def __init__(self, *args: Any, lines: Sequence[OrderLine], **kwargs: Any) -> None:
        """Make the boxes of each line; what is outstanding stands in them."""
        super().__init__(*args, **kwargs)
        self.lines = lines
        for line in lines:
            self._add(line)

    def _add(self, line: OrderLine) -> None:
        pk, fields = line.pk, self.fields
        fields[f"quantity_{pk}"] = quantity_field(
            line.material,
            label="Came",
            least=Decimal(0),
            required=False,
            initial=line.outstanding or None,
        )
        fields[f"price_{pk}"] = MoneyFormField(
            label="Price of a pack, as the note says",
            help_text=_ordered_at(line),
            unit_price=True,
            required=False,
            max_value=Decimal(9_999_999),
        )
        if line.material.kind == MaterialKind.FABRIC:
            fields[f"lot_{pk}"] = lot_field(())
            fields[f"lot_ok_{pk}"] = forms.BooleanField(
                label="Another lot than was signed for: book it in all the same",
                required=False,
            )

    def rows(self) -> Iterable[DeliveryRow]:
        """Give each line with its boxes."""
        for line in sorted(self.lines, key=lambda each: not each.outstanding):
            pk, is_cloth = line.pk, f"lot_{line.pk}" in self.fields
            yield DeliveryRow(
                line=line,
                outstanding=quantity_text(line.material, line.outstanding),
                quantity=self[f"quantity_{pk}"],
                price=self[f"price_{pk}"],
                lot=self[f"lot_{pk}"] if is_cloth else None,
                lot_ok=self[f"lot_ok_{pk}"] if is_cloth and line.lot else None,
            )

    def clean(self) -> dict[str, Any]:
        """Ask for something at all, and for the lot that was signed for."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        for line in self.lines:
            if data.get(f"quantity_{line.pk}"):
                self._check_lot(line, data)
        if not self.errors and not self.came():
            raise ValidationError("Say how much came of at least one line.")
        return data

    def _check_lot(self, line: OrderLine, data: dict[str, Any]) -> None:
        name = f"lot_{line.pk}"
        if not line.lot or name not in self.fields or name in self.errors:
            return
        lot = " ".join(data.get(name, "").split())
        if lot == line.lot or data.get(f"lot_ok_{line.pk}"):
            return
        sentence = (
            f"Signed for was lot {line.lot}, this is lot {lot}: the colour may differ."
            " Send it back, or tick below to book it in all the same."
            if lot
            else f"Lot {line.lot} was signed for: type the lot on the roll’s label."
        )
        self.add_error(name, sentence)

    def came(self) -> tuple[Came, ...]:
        """Return what came."""
        data = self.cleaned_data
        return tuple(
            Came(
                line=line.pk,
                quantity=quantity,
                lot=" ".join(data.get(f"lot_{line.pk}", "").split()),
                pack_price=data.get(f"price_{line.pk}"),
            )
            for line in self.lines
            if (quantity := data.get(f"quantity_{line.pk}"))
        )

    def delivery_key(self) -> uuid.UUID:
        """Return the key that was made with the form."""
        key: uuid.UUID = self.cleaned_data["key"]
        return key
