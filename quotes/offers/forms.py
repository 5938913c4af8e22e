"""What people type about quotes: rooms, terms, lines, the covering mail, answers."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import QuerySet

from quotes.offers.actions import Cover, Terms
from quotes.offers.models import FreeLine, Quote, QuoteState
from quotes.pricing.models import LineKind
from shared.forms import (
    CountField,
    MoneyFormField,
    PercentFormField,
    PlainCharField,
    PlainDecimalField,
    PlainForm,
    PlainModelForm,
)
from shop.clients.models import Client
from shop.surveys.models import Room


class ClientChoice(PlainForm):
    """Whom the quote is for."""

    client = forms.ModelChoiceField(
        Client.objects.none(),
        label="Client",
        empty_label="Choose a client",
        error_messages={
            "required": "Choose whom the quote is for.",
            "invalid_choice": "This client is no longer there: choose another.",
        },
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Offer the clients that are not put aside."""
        super().__init__(*args, **kwargs)
        field = self.fields["client"]
        field.queryset = Client.objects.live().with_details()  # type: ignore[attr-defined]


class RoomsForm(PlainForm):
    """Which rooms of a client the quote is about."""

    rooms = forms.ModelMultipleChoiceField(
        Room.objects.none(),
        label="Rooms",
        widget=forms.CheckboxSelectMultiple,
        required=False,
        error_messages={
            "invalid_choice": "One of these rooms is no longer there: choose again.",
            "invalid_pk_value": "One of these rooms is not known: choose again.",
        },
    )

    def __init__(self, *args: Any, rooms: QuerySet[Room], **kwargs: Any) -> None:
        """Offer these rooms."""
        super().__init__(*args, **kwargs)
        self.fields["rooms"].queryset = rooms  # type: ignore[attr-defined]


class TermsForm(PlainForm):
    """Scope, discount and validity."""

    scope = PlainCharField(
        max_length=4000,
        required=False,
        multiline=True,
        label="What will be done, in plain words",
        help_text="Empty: the usual sentence. What panels don’t do is always said.",
    )
    discount_percent = PercentFormField(label="Discount, %", required=False)
    valid_days = CountField(label="Valid for how many days", min_value=1, max_value=366)

    @classmethod
    def of(cls, quote: Quote, data: Any = None) -> TermsForm:
        """Show what stands, or what was typed."""
        names = ("scope", "discount_percent", "valid_days")
        return cls(data, initial={name: getattr(quote, name) for name in names})

    def terms(self) -> Terms:
        """Return what was typed."""
        data = self.cleaned_data
        return Terms(
            scope=data["scope"],
            discount_percent=data["discount_percent"] or Decimal(0),
            valid_days=int(data["valid_days"]),
        )


class LineForm(PlainModelForm):
    """A line that no panel makes."""

    text = PlainCharField(
        max_length=200, label="What", help_text="As in: take down old boards."
    )
    quantity = PlainDecimalField(
        label="Quantity", min_value=Decimal("0.001"), max_value=Decimal(100_000)
    )
    unit_price = MoneyFormField(
        label="Price each, without profit on top", max_value=Decimal(9_999_999)
    )
    kind = forms.ChoiceField(
        label="Kind, for the tax",
        choices=[c for c in LineKind.choices if c[0] != LineKind.PANELS],
        error_messages={"invalid_choice": "Choose what kind of line it is."},
    )

    class Meta:
        model = FreeLine
        fields = ("text", "kind", "quantity", "unit_price")


class SendForm(PlainForm):
    """The mail that the quote goes with."""

    to = forms.EmailField(
        label="To",
        max_length=254,
        error_messages={
            "required": "Write whom it goes to, as in mara@example.org.",
            "invalid": "This is no e-mail address: write it like mara@example.org.",
        },
    )
    subject = PlainCharField(max_length=200, label="Subject")
    body = PlainCharField(max_length=8000, label="Message", multiline=True)
    seal = PlainCharField(max_length=64, required=False, widget=forms.HiddenInput)

    def clean_to(self) -> str:
        """Refuse what could add a header."""
        to: str = self.cleaned_data["to"]
        if any(c in to for c in "\r\n\0,;"):
            raise ValidationError("One address only, as in mara@example.org.")
        return to

    def cover(self) -> Cover:
        """Return the mail."""
        data = self.cleaned_data
        names = ("to", "subject", "body", "seal")
        return Cover(**{name: data[name] for name in names})


class AnswerForm(PlainForm):
    """How the client answered."""

    note = PlainCharField(
        max_length=300,
        required=False,
        label="How, and in what words",
        help_text="As in: by telephone, wants it before Easter.",
    )
    revision = forms.UUIDField(
        required=False,
        widget=forms.HiddenInput,
        error_messages={"invalid": "This page is out of date: load it again."},
    )

    def asked_of(self, quote: Quote) -> AnswerForm:
        """Ask what fits: how the client answered, or why a yes is taken back."""
        if quote.state == QuoteState.ACCEPTED:
            note = self.fields["note"]
            note.label, note.help_text = "Why", "As in: meant the other quote."
        return self

    def seen(self) -> dict[str, Any]:
        """Return the revision that the person looked at, where the page told it."""
        revision = self.cleaned_data["revision"]
        return {"seen": revision} if revision else {}
