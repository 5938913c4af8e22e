"""What is typed about a gate: what came, why it was gone past, a mail with its paper."""

from __future__ import annotations

from dataclasses import fields
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from jobs.gates.actions import SEEN, Seen
from jobs.gates.engine import NEEDS_PROOF, PROOFS, Wait
from jobs.gates.models import Gate, GateKind, GateState
from shared.files.pictures import MOST_BYTES, NotAPictureError, Picture, write_picture
from shared.forms import PlainCharField, PlainForm
from shared.outbox.actions import Letter

NO_AMOUNTS = "Everybody in the shop reads this: no amounts, please."


class AsSeen(PlainForm):
    """Says how the gate stood when the page was shown."""

    seen = forms.ChoiceField(
        choices=GateState.choices,
        widget=forms.HiddenInput,
        error_messages={
            "required": "This page is out of date: load it again.",
            "invalid_choice": "This page is out of date: load it again.",
        },
    )


class PassForm(AsSeen):
    """What is in hand; of a fabric, what was signed for and a picture of the swatch."""

    code = PlainCharField(max_length=60, label="Code, as the supplier writes it")
    colour = PlainCharField(max_length=60, label="Colour")
    dye_lot = PlainCharField(
        max_length=40,
        required=False,
        label="Dye lot",
        help_text="Orders, roll plans and panels use it from then on.",
    )
    reference = PlainCharField(max_length=200, label="Which paper, and where it is")
    swatch = forms.FileField(
        required=False,
        label="Photo of the swatch",
        widget=forms.FileInput(attrs={"accept": "image/*"}),
    )

    def __init__(self, *args: Any, gate: Gate, **kwargs: Any) -> None:
        """Ask what matters of this kind; begin with what was quoted, or written last."""
        begun = {name: getattr(gate, name) for name in SEEN} | {"seen": gate.state}
        begun["reference"] = gate.reference or gate.papers_on_file[:200]
        super().__init__(*args, initial=begun, **kwargs)
        if gate.kind != GateKind.FABRIC:
            for name in ("code", "colour", "dye_lot", "swatch"):
                del self.fields[name]
        kind, reference = Wait(gate.kind), self.fields["reference"]
        reference.help_text = PROOFS[kind]
        reference.required = kind in NEEDS_PROOF
        if not reference.required:
            reference.widget.attrs.pop("aria-required", None)
        if kind is Wait.DEPOSIT:
            reference.label = "Which payment"

    def clean_swatch(self) -> Picture | None:
        """Make a picture of what was sent; it lies in storage and has no row yet."""
        sent = self.cleaned_data["swatch"]
        if not sent:
            return None
        if sent.size > MOST_BYTES:
            raise ValidationError(
                f"This picture is too large: send at most {MOST_BYTES // 1_000_000} MB."
            )
        try:
            return write_picture(sent.read())
        except NotAPictureError as wrong:
            raise ValidationError(str(wrong)) from wrong

    def what(self) -> Seen:
        """Return what was seen."""
        names = (field.name for field in fields(Seen))
        return Seen(**{name: self.cleaned_data.get(name, "") for name in names})


class ReasonForm(AsSeen):
    """Why a gate is gone past, dropped or shut again."""

    reason = PlainCharField(max_length=200, label="Why", help_text=NO_AMOUNTS)


class MailForm(PlainForm):
    """The mail that a fabric's paper goes with."""

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

    def clean_to(self) -> str:
        """Refuse what could add a header."""
        to: str = self.cleaned_data["to"]
        if any(c in to for c in "\r\n\0,;"):
            raise ValidationError("One address only, as in mara@example.org.")
        return to

    def letter(self, *, reply_to: str) -> Letter:
        """Return the mail, with nothing attached yet."""
        data = self.cleaned_data
        return Letter(data["to"], data["subject"], data["body"], reply_to=reply_to)


class KindFilter(PlainForm):
    """Which kind of gate a person wants to see."""

    kind = forms.ChoiceField(
        label="What is waited for",
        required=False,
        choices=(("", "everything"), *GateKind.choices),
        widget=forms.Select(attrs={"data-send-on-change": True}),
    )

    def wanted(self) -> str:
        """Return the kind, or nothing for all: what is none is all."""
        return self.cleaned_data["kind"] if self.is_valid() else ""
