"""Form fields for lengths, money, percentages, counts and plain text.

Each refuses with a sentence that says what would work, shows its value in the shop's
conventions, and shows again unchanged what was typed when it was refused.

**Lengths.** ``LengthFormField`` cleans to an ``int`` of ticks. Where the raw text is kept
beside the ticks (``width_ticks`` and ``width_text``), name only ``width_ticks`` in the
form and derive the form from ``PlainModelForm``: it stores the text on the instance when
the person changed it. In a plain form, ``typed(form, "width")`` gives ticks and text.
"""

from __future__ import annotations

import unicodedata
from decimal import Decimal
from typing import Any, NamedTuple

from django import forms
from django.core.exceptions import ValidationError

from shared import length, money
from shared.conventions import current
from shared.length import LengthError
from shared.money import MoneyError


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
    return TypedLength(ticks, _raw_text(form, name))


def _raw_text(form: forms.BaseForm, name: str) -> str:
    raw = form[name].data
    return str(raw if raw is not None else "").strip()


class NumberInput(forms.TextInput):
    """A text box for a number: no spinner, which a wheel or a glove would move."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        """Ask a phone for its number keys."""
        usual = {
            "inputmode": "decimal",
            "autocomplete": "off",
            "class": "input input--number",
        }
        super().__init__(usual | (attrs or {}))


class PlainDecimalField(forms.Field):
    """Reads a decimal with a point or a comma; refuses NaN, 1e9 and 1,250."""

    widget = NumberInput
    default_error_messages = {"required": "Type a number, such as {example}."}
    suffix = ""

    def __init__(
        self,
        *,
        min_value: Decimal | int | None = 0,
        max_value: Decimal | int | None = None,
        decimals: int = 2,
        example: str = "12.5",
        **kwargs: Any,
    ) -> None:
        """Set the limits; by default zero or more, with two decimals."""
        kwargs.pop("max_digits", None)  # what a model's field would pass
        decimals = kwargs.pop("decimal_places", None) or decimals
        self.min_value, self.max_value = min_value, max_value
        self.decimals, self.example = decimals, example
        super().__init__(**kwargs)

    def prepare_value(self, value: Any) -> Any:
        """Print a number by the shop's locale; leave text alone."""
        if isinstance(value, Decimal | int) and not isinstance(value, bool):
            return money.show_plain(
                Decimal(value),
                locale=current().locale,
                least_decimals=self.least_decimals(),
            )
        return value

    def least_decimals(self) -> int:
        """How many decimals to show even when they are zero."""
        return 0

    def read(self, text: str) -> Decimal:
        """Turn text into a number."""
        return money.parse_number(
            text,
            decimals=self.decimals,
            example=self.example,
            allow_negative=self.min_value is None or self.min_value < 0,
        )

    def to_python(self, value: Any) -> Decimal | None:
        """Read the text; nothing typed is nothing, never zero."""
        if value is None or isinstance(value, Decimal):
            return value
        text = str(value).strip(money.SPACES)
        if not text:
            return None
        try:
            return self.read(text.removesuffix(self.suffix))
        except MoneyError as refused:
            raise ValidationError(refused.message, code=refused.kind) from refused

    def validate(self, value: Any) -> None:
        """Check that a number is there and within its limits."""
        if value is None:
            if self.required:
                message = f"Type a number, such as {self.example}."
                raise ValidationError(message, code="required")
            return
        if self.min_value is not None and value < self.min_value:
            raise ValidationError(f"Use at least {self.min_value}.", code="too_small")
        if self.max_value is not None and value > self.max_value:
            raise ValidationError(f"Use at most {self.max_value}.", code="too_large")

    def has_changed(self, initial: Any, data: Any) -> bool:
        """Whether it reads as another number, or can't be read."""
        try:
            return bool(self.to_python(data) != self.to_python(initial))
        except ValidationError:
            return True


class MoneyFormField(PlainDecimalField):
    """Reads an amount in the shop's currency; ``unit_price`` takes four decimals."""

    def __init__(self, *, unit_price: bool = False, **kwargs: Any) -> None:
        """Take an amount by default, a unit price if told so."""
        kwargs.pop("decimal_places", None)
        self.unit_price = unit_price
        super().__init__(**kwargs)

    def least_decimals(self) -> int:
        """Show the cents."""
        return money.minor_exponent(current().currency)

    def read(self, text: str) -> Decimal:
        """Turn text into an amount."""
        return money.parse_money(
            text,
            currency=current().currency,
            unit_price=self.unit_price,
            allow_negative=self.min_value is None or self.min_value < 0,
        )


class PercentFormField(PlainDecimalField):
    """Reads a percentage, with or without its sign; ``under`` is a limit not reached."""

    suffix = "%"

    def __init__(self, *, under: Decimal | int | None = None, **kwargs: Any) -> None:
        """Take 0 to 100 unless told otherwise."""
        self.under = under
        super().__init__(**{"max_value": 100} | kwargs)

    def validate(self, value: Any) -> None:
        """Check the limits."""
        super().validate(value)
        if value is not None and self.under is not None and value >= self.under:
            raise ValidationError(
                f"This must be under {self.under} %.", code="too_large"
            )


class CountField(PlainDecimalField):
    """Reads a whole number; cleans to ``int``."""

    def __init__(self, **kwargs: Any) -> None:
        """Take whole numbers from zero to a million unless told otherwise."""
        usual: dict[str, Any] = {"max_value": 1_000_000, "example": "12"}
        super().__init__(**usual | kwargs | {"decimals": 0})

    def clean(self, value: Any) -> Any:
        """Return an ``int``, or nothing."""
        cleaned = super().clean(value)
        return None if cleaned is None else int(cleaned)


# Marks that turn the direction of what follows, to its end: they would spoil a document.
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_UNPRINTABLE = frozenset({"Cc", "Cs", "Cn"})


def refuse_unprintable(text: str) -> None:
    """Refuse control characters, tabs and line breaks aside, and text with nothing to see."""
    for character in text:
        kind = unicodedata.category(character)
        if character in _TURNING or (
            kind in _UNPRINTABLE and character not in "\t\r\n"
        ):
            raise ValidationError(
                "There are characters here that can't be printed. Type the text anew.",
                code="unprintable",
            )
    if text and not any(unicodedata.category(c)[0] in "LNPS" for c in text):
        raise ValidationError("Type something that can be seen.", code="invisible")


class PlainCharField(forms.CharField):
    """Text for people: no control characters, and something to see in it."""

    default_error_messages = {"required": "Fill this in."}
    default_validators = [refuse_unprintable]

    def __init__(
        self, *, max_length: int, multiline: bool = False, **kwargs: Any
    ) -> None:
        """Ask for a greatest length always; ``multiline`` keeps line breaks."""
        self.multiline = multiline
        if multiline:
            kwargs.setdefault("widget", forms.Textarea(attrs={"rows": 4}))
        super().__init__(max_length=max_length, **kwargs)

    def to_python(self, value: Any) -> Any:
        """Compose accents and make line breaks alike, so that lengths are as seen."""
        text = super().to_python(value)
        if not text:
            return text
        text = text.replace("\r\n", "\n").replace("\r", "\n")
        text = text if self.multiline else text.replace("\n", " ")
        return unicodedata.normalize("NFC", text)

    def widget_attrs(self, widget: forms.Widget) -> dict[str, Any]:
        """Give the text box its look."""
        return {"class": "input"} | super().widget_attrs(widget)


class KeepTyped(forms.BaseForm):
    """What all forms here share: sentences from the server, typed values shown again."""

    # The browser's own bubbles would hide the sentence beside the field, in its own words.
    use_required_attribute = False

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        """Print labels without a colon; hold fields made from models to the same rules."""
        kwargs.setdefault("label_suffix", "")
        super().__init__(*args, **kwargs)
        for field in self.fields.values():
            if isinstance(field, forms.CharField) and (
                refuse_unprintable not in field.validators
            ):
                field.validators = [*field.validators, refuse_unprintable]
            if field.required and isinstance(
                field.widget, forms.TextInput | forms.Textarea | forms.Select
            ):
                field.widget.attrs.setdefault("aria-required", "true")

    @property
    def status(self) -> int:
        """The answer's status: 422 when something typed was refused."""
        return 422 if self.is_bound and self.errors else 200


class PlainForm(KeepTyped, forms.Form):
    """A form that keeps what was typed."""


class PlainModelForm(KeepTyped, forms.ModelForm[Any]):
    """A form of one row, which keeps what was typed, raw length texts too."""

    def _post_clean(self) -> None:
        """Put ``x_text`` beside each changed ``x_ticks``, before the row is checked."""
        for name, field in self.fields.items():
            text_name = name.removesuffix("_ticks") + "_text"
            read = isinstance(field, LengthFormField) and name in self.cleaned_data
            if read and name in self.changed_data and hasattr(self.instance, text_name):
                setattr(self.instance, text_name, _raw_text(self, name))
        super()._post_clean()  # type: ignore[misc]
