"""What is typed about orders: packs, mail, the day they come."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.buying.actions.placing import Cover
from jobs.buying.adapter.questions import step_of
from jobs.buying.forms.words import STALE
from jobs.buying.models import Order, OrderLine
from shared.days import DayFormField
from shared.forms import PlainCharField, PlainDecimalField, PlainForm
from shop.catalogue.models import Material, Supplier

ONE = Decimal(1)
MOST_PACKS = Decimal(100_000)
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
