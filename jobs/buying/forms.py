"""What is typed about orders, deliveries, and material taken out for a job."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.buying.actions.deliveries import Came
from jobs.buying.actions.placing import Cover
from jobs.buying.actions.uses import Out
from jobs.buying.adapter.questions import step_of
from jobs.buying.models import Order, OrderLine
from jobs.buying.reports.jobs import JobMaterial, JobRow
from shared.conventions import current
from shared.days import DayFormField
from shared.forms import MoneyFormField, PlainCharField, PlainDecimalField, PlainForm
from shared.money import show_money
from shop.catalogue.forms.stock import lot_field, quantity_field
from shop.catalogue.models import Material, MaterialKind, StockLevel, Supplier
from shop.catalogue.reports.stock import counted_whole, quantity_text

ONE = Decimal(1)
MOST_PACKS = Decimal(100_000)
STALE = "That is no longer there: load the page again."
NO_MAIL = "This is no e-mail address: write it like yard@example.org."


class RowChoice(forms.ModelChoiceField):  # type: ignore[type-arg]
    """A row of the stores; what is no row is a page that is out of date."""

    def to_python(self, value: Any) -> Any:
        """Read an id."""
        try:
            return super().to_python(value)
        except ValidationError:
            raise ValidationError(STALE, code="invalid_choice") from None


def packs_field(material: Material, **kwargs: Any) -> PlainDecimalField:
    """Return a box for packs: whole ones, or tenths where the supplier cuts."""
    whole = step_of(material) == ONE
    return PlainDecimalField(
        min_value=ONE if whole else Decimal("0.1"),
        max_value=MOST_PACKS,
        decimals=0 if whole else 1,
        example="3" if whole else "7.5",
        **kwargs,
    )


class NewOrderForm(PlainForm):
    """Of whom something is ordered."""

    supplier = RowChoice(
        Supplier.objects.none(),
        label="Supplier",
        empty_label="Choose one",
        error_messages={"required": "Choose whom you order of."},
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Offer suppliers in use."""
        super().__init__(*args, **kwargs)
        self.fields["supplier"].queryset = Supplier.objects.live()  # type: ignore[attr-defined]


class DraftForm(PlainForm):
    """How many packs of each line of a draft, and what the supplier is told."""

    def __init__(
        self, *args: Any, order: Order, lines: Sequence[OrderLine], **kwargs: Any
    ) -> None:
        """Make a box for each line."""
        super().__init__(*args, **kwargs)
        self.lines = lines
        for line in lines:
            self.fields[f"packs_{line.pk}"] = packs_field(
                line.material, label=f"Packs of {line.name}", initial=line.packs
            )
        self.fields["note"] = PlainCharField(
            max_length=2000,
            multiline=True,
            required=False,
            label="Note to the supplier",
            help_text="Stands on the paper.",
            initial=order.note,
        )

    def rows(self) -> Iterable[tuple[OrderLine, forms.BoundField]]:
        """Give each line with its box."""
        return [(line, self[f"packs_{line.pk}"]) for line in self.lines]

    def changes(self) -> Iterable[tuple[OrderLine, Decimal]]:
        """Give the lines that were given another number."""
        for line in self.lines:
            packs = self.cleaned_data[f"packs_{line.pk}"]
            if packs != line.packs:
                yield line, packs


class AddLineForm(PlainForm):
    """A material to put on a draft."""

    material = RowChoice(
        Material.objects.none(),
        label="Material",
        empty_label="Choose one",
        error_messages={"required": "Choose what you order."},
    )
    packs = PlainDecimalField(
        label="Packs",
        min_value=Decimal("0.1"),
        max_value=MOST_PACKS,
        decimals=1,
        example="3",
    )

    def __init__(self, *args: Any, supplier: Supplier, **kwargs: Any) -> None:
        """Offer what the supplier sells."""
        super().__init__(*args, **kwargs)
        sold = Material.objects.live().filter(supplier=supplier)
        self.fields["material"].queryset = sold  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Take parts of a pack only where the supplier cuts."""
        data: dict[str, Any] = super().clean() or self.cleaned_data
        material, packs = data.get("material"), data.get("packs")
        if material and packs and packs % step_of(material):
            self.add_error("packs", "Packs are whole here: order 3, say.")
        return data


class MailForm(PlainForm):
    """The mail that an order goes with."""

    to = forms.EmailField(
        label="To",
        max_length=254,
        error_messages={
            "required": "Write whom it goes to, as in yard@example.org.",
            "invalid": NO_MAIL,
        },
    )
    subject = PlainCharField(max_length=200, label="Subject")
    body = PlainCharField(max_length=8000, label="Message", multiline=True)

    def clean_to(self) -> str:
        """Refuse what could add a header."""
        to: str = self.cleaned_data["to"]
        if any(c in to for c in "\r\n\0,;"):
            raise ValidationError("One address only, as in yard@example.org.")
        return to

    def goes_by_mail(self) -> bool:
        """Whether there is a mail at all."""
        return True

    def cover(self) -> Cover:
        """Return the mail; an empty one where it is sent otherwise."""
        if not self.goes_by_mail():
            return Cover()
        names = ("to", "subject", "body")
        return Cover(**{name: self.cleaned_data[name] for name in names})


class PlaceForm(MailForm):
    """How an order goes, and when it comes."""

    how = forms.ChoiceField(
        label="How it goes",
        choices=(("mail", "by e-mail, from here"), ("other", "otherwise: I send it")),
        widget=forms.RadioSelect,
        error_messages={"invalid_choice": "Choose how it goes."},
    )
    expected_on = DayFormField(label="Expected on")
    seal = PlainCharField(max_length=64, required=False, widget=forms.HiddenInput)
    field_order = ("how", "to", "subject", "body", "expected_on", "seal")

    def __init__(self, *args: Any, today: dt.date, **kwargs: Any) -> None:
        """Keep the day, before which nothing can come; ask for a mail where one goes."""
        super().__init__(*args, **kwargs)
        self.today = today
        if self.is_bound and self["how"].data == "other":
            for name in ("to", "subject", "body"):
                self.fields[name].required = False

    def goes_by_mail(self) -> bool:
        """Whether it goes by mail."""
        return self.cleaned_data.get("how") == "mail"

    def clean_expected_on(self) -> dt.date:
        """Refuse a day that is over."""
        day: dt.date = self.cleaned_data["expected_on"]
        if day < self.today:
            raise ValidationError("That day is over: choose today or later.")
        return day


class ExpectForm(PlainForm):
    """When an order comes, said anew."""

    expected_on = DayFormField(label="Expected on")


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
