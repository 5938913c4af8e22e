"""The form field for a length.

``LengthFormField`` cleans to an ``int`` of ticks. Where the raw text is kept beside the
ticks (``width_ticks`` and ``width_text``), name only ``width_ticks`` in the form and
derive the form from ``PlainModelForm``: it stores the text on the instance when the
person changed it. In a plain form, ``typed(form, "width")`` gives ticks and text.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from django import forms
from django.core.exceptions import ValidationError

from shared import length
from shared.conventions import current
from shared.length import LengthError


class TypedLength(NamedTuple):
    """A length with the text that it was read from."""

    ticks: int
    text: str


class LengthInput(forms.TextInput):
    """A text box for a length, echoed by ``length-echo.js`` as it is understood."""

    def get_context(self, name: str, value: Any, attrs: Any) -> dict[str, Any]:
        """Add what the device needs to know: the units at the time of rendering."""
        conventions = current()
        usual = {
            # A phone's decimal keys have no foot or inch mark.
            "inputmode": "decimal" if conventions.is_metric else "text",
            "autocomplete": "off",
            "class": "input input--length",
            "data-length": str(conventions.unit_system),
            "data-length-fraction": str(conventions.fraction),
        }
        return super().get_context(name, value, usual | self.attrs | (attrs or {}))

    def format_value(self, value: Any) -> str | None:
        """Print ticks so that they read back as the same ticks; leave text alone."""
        if isinstance(value, int):
            return length.show_exact(value, units=current().unit_system)
        return str(value) if value else None


class LengthFormField(forms.Field):
    """Reads a length as a tape, a laser or a person writes it; cleans to ticks."""

    widget = LengthInput
    default_error_messages = {"required": "Type a length, such as {example}."}

    def __init__(
        self,
        *,
        min_ticks: int | None = 1,
        max_ticks: int | None = None,
        allow_negative: bool = False,
        **kwargs: Any,
    ) -> None:
        """Set the least and greatest length; by default anything above zero."""
        for unused in ("min_value", "max_value"):  # what a model's field would pass
            kwargs.pop(unused, None)
        self.min_ticks = None if allow_negative and min_ticks == 1 else min_ticks
        self.max_ticks = max_ticks
        self.allow_negative = allow_negative
        super().__init__(**kwargs)

    def to_python(self, value: Any) -> int | None:
        """Read the text; nothing typed is nothing, never zero."""
        if value is None or isinstance(value, int):
            return value
        units = current().unit_system
        try:
            return length.parse(
                str(value), units=units, allow_negative=self.allow_negative
            )
        except LengthError as refused:
            if refused.kind == "empty":
                return None
            raise ValidationError(refused.message, code=refused.kind) from refused

    def validate(self, value: Any) -> None:
        """Check that a length is there and within its limits."""
        units = current().unit_system
        if value is None:
            if self.required:
                raise ValidationError(
                    LengthError("empty", units=units).message, code="required"
                )
            return
        if self.min_ticks is not None and value < self.min_ticks:
            raise ValidationError(self._too_small(value), code="too_small")
        if self.max_ticks is not None and value > self.max_ticks:
            raise ValidationError(
                f"This reads as {length.show_exact(value, units=units)}."
                f" Use at most {_limit(self.max_ticks, up=False)}.",
                code="too_large",
            )

    def _too_small(self, value: int) -> str:
        """Say the limit, and guess at metres typed where millimetres were meant."""
        units, least = current().unit_system, self.min_ticks or 0
        if value == 0 and least == 1:
            return "This must be more than zero."
        sentence = (
            f"This reads as {length.show_exact(value, units=units)}."
            f" Use at least {_limit(least, up=True)}."
        )
        metres = value * 1000
        fits = self.max_ticks is None or metres <= self.max_ticks
        if current().is_metric and least <= metres <= length.MAX_TICKS and fits:
            sentence += f" For metres add the unit: {value / length.TICKS_PER_MM:g} m."
        return sentence

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Whether the text differs from the one that was shown."""
        shown = LengthInput().format_value(initial) if initial is not None else ""
        return (shown or "").strip() != str(data if data is not None else "").strip()


def _limit(ticks: int, *, up: bool) -> str:
    """Print a limit rounded to its safe side, so that what the sentence says works."""
    conventions = current()
    step = length.TICKS_PER_INCH // conventions.fraction
    step = length.TICKS_PER_MM // 10 if conventions.is_metric else step
    steps = -(-ticks // step) if up else ticks // step
    return length.show(
        steps * step, units=conventions.unit_system, fraction=conventions.fraction
    )


def typed(form: forms.BaseForm, name: str) -> TypedLength | None:
    """Return a cleaned length with the text typed for it; nothing if it was left empty."""
    ticks = form.cleaned_data.get(name)
    if ticks is None:
        return None
    return TypedLength(ticks, raw_text(form, name))


def raw_text(form: forms.BaseForm, name: str) -> str:
    """Return what was typed for a field, without the spaces around it."""
    raw = form[name].data
    return str(raw if raw is not None else "").strip()
