"""The one error of the pricing engine, and the checks that raise it."""

from decimal import Decimal

from shared.money import minor_exponent

MAX_MONEY = Decimal(1_000_000_000)
"""Largest amount of money taken for one price, in the currency's major unit."""
MAX_COUNT = Decimal(1_000_000)
"""Largest count of anything in one panel or one job."""
MAX_PANELS = Decimal(9_999)
"""Largest number of equal panels on one line."""
MAX_METRES = Decimal(1_000)
"""Largest length or width of a piece, roll or board, in metres."""
MAX_MINUTES = Decimal(100_000)
"""Largest time for one count of an operation, in minutes (about 69 days)."""


class PricingError(ValueError):
    """Input that can't be priced; `field` names the attribute a form can mark."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field
        self.message = message


def check_number(
    field: str,
    value: object,
    *,
    low: Decimal = Decimal(0),
    high: Decimal,
    above: bool = False,
) -> None:
    """Refuse anything but a finite Decimal in low..high (above: more than low)."""
    if not isinstance(value, Decimal) or not value.is_finite():
        raise PricingError(field, "Enter a number, for example 12.5.")
    if value < low or (above and value == low):
        word = "more than" if above else "at least"
        raise PricingError(field, f"Enter a number of {word} {low:f}.")
    if value > high:
        raise PricingError(field, f"Enter a number of at most {high:f}.")


def check_text(field: str, value: str) -> None:
    """Refuse an empty name."""
    if not value.strip():
        raise PricingError(field, "Enter a name.")


def check_whole(field: str, value: Decimal) -> None:
    """Refuse a fraction where only whole things can be counted."""
    if value != value.to_integral_value():
        raise PricingError(field, "Enter a whole number, for example 4.")


def check_currency(field: str, value: str) -> None:
    """Refuse what ISO 4217 doesn't list."""
    try:
        minor_exponent(value)
    except ValueError as error:
        raise PricingError(
            field, "Enter a currency's three letters, for example EUR."
        ) from error
