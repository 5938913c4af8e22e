"""Form fields for numbers: amounts of money, percentages, counts and plain decimals."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from shared import money
from shared.conventions import current
from shared.money import MoneyError


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
                least_decimals=max(self.least_decimals(), self._whole_three(value)),
            )
        return value

    def _whole_three(self, value: Decimal | int) -> int:
        """Three where a field takes no fourth, which would tell decimals from thousands."""
        return 3 if self.decimals == 3 and round(value, 2) != value else 0

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
        """Show the cents; four of a dinar, where three could be thousands."""
        least = money.minor_exponent(current().currency)
        return money.MAX_DECIMALS if self.unit_price and least == 3 else least

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
