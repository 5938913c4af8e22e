"""Money as Decimal: the only place that rounds it, reads it and prints it (pure).

Halves go away from zero, so that a credit note mirrors its invoice to the cent
(the XPath rounding of some invoice validators sends -0.125 to -0.12 instead; here
it is -0.13). A float is refused everywhere: it has lost the cent before it comes.
"""

import copy
import re
from collections.abc import Sequence
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal
from functools import cache

from babel import Locale
from babel.numbers import (
    format_decimal,
    get_currency_symbol,
    get_decimal_symbol,
    get_group_symbol,
    list_currencies,
)

MAX_WHOLE_DIGITS = 10  # what the column holds
MAX_DECIMALS = 4
HUNDRED = Decimal(100)

# ISO 4217 minor units that aren't 2. CLDR, which Babel formats by, counts the decimals
# in daily use instead (0 for MGA, LBP and others), so the standard is kept here.
_NO_MINOR = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"
_MINOR = (
    dict.fromkeys(_NO_MINOR.split(), 0)
    | dict.fromkeys(("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"), 3)
    | dict.fromkeys(("CLF", "UYW"), 4)
)


class MoneyError(ValueError):
    """A text that is no amount; says in a sentence what would work."""

    def __init__(self, kind: str, message: str) -> None:
        self.kind = kind
        self.message = message
        super().__init__(message)


def minor_exponent(currency: str) -> int:
    """Count the decimals of a currency's minor unit (ISO 4217)."""
    if currency not in _currencies():
        msg = f"{currency!r} is no ISO 4217 currency"
        raise ValueError(msg)
    return _MINOR.get(currency, 2)


@cache
def _currencies() -> frozenset[str]:
    return frozenset(list_currencies())


def round_money(amount: Decimal, currency: str) -> Decimal:
    """Round to the currency's minor unit, halves away from zero. Once, at the line."""
    step = Decimal(1).scaleb(-minor_exponent(currency))
    rounded = _exact(amount).quantize(step, rounding=ROUND_HALF_UP)
    return rounded + 0  # no minus zero on a page


def round_tax(net: Decimal, *, rate_percent: Decimal, currency: str) -> Decimal:
    """Tax on a net amount, rounded (EN 16931, BR-CO-17)."""
    return round_money(_exact(net) * _exact(rate_percent) / HUNDRED, currency)


def tax_within(gross: Decimal, *, rate_percent: Decimal, currency: str) -> Decimal:
    """Tax contained in a tax-inclusive amount, rounded; the gross is the truth."""
    rate = _exact(rate_percent)
    return round_money(_exact(gross) * rate / (HUNDRED + rate), currency)


def percent_of(amount: Decimal, percent: Decimal, *, currency: str) -> Decimal:
    """Take a share of an amount, rounded."""
    return round_money(_exact(amount) * _exact(percent) / HUNDRED, currency)


def share_out(
    amount: Decimal, weights: Sequence[Decimal], *, currency: str
) -> list[Decimal]:
    """Split a rounded amount by weights so that the parts add up to it exactly.

    Each part is off its true share by less than one minor unit; what is left over goes
    to the largest remainders, the earlier first among equals.
    """
    total = sum((_exact(weight) for weight in weights), Decimal(0))
    if total <= 0 or min(weights) < 0:
        msg = "weights must not be negative, and not all zero"
        raise ValueError(msg)
    step = Decimal(1).scaleb(-minor_exponent(currency))
    whole, over = divmod(_exact(amount), step)
    if over:
        msg = f"{amount} isn't rounded to the minor unit"
        raise ValueError(msg)
    shares = [abs(whole) * weight / total for weight in weights]
    floors = [share.to_integral_value(ROUND_FLOOR) for share in shares]
    left = int(abs(whole) - sum(floors))
    by_remainder = sorted(range(len(shares)), key=lambda i: floors[i] - shares[i])
    for i in by_remainder[:left]:
        floors[i] += 1
    return [floor * step.copy_sign(amount) + 0 for floor in floors]


def markup_from_margin(margin_percent: Decimal) -> Decimal:
    """Markup in percent of cost that gives a margin in percent of price."""
    margin = _margin(margin_percent)
    return HUNDRED * margin / (HUNDRED - margin)


def margin_from_markup(markup_percent: Decimal) -> Decimal:
    """Margin in percent of price that a markup in percent of cost gives."""
    markup = _exact(markup_percent)
    if markup <= -HUNDRED:
        raise MoneyError("markup", "A markup must be above -100 %: write 40, say.")
    return HUNDRED * markup / (HUNDRED + markup)


def price_from_margin(cost: Decimal, margin_percent: Decimal) -> Decimal:
    """Price, not yet rounded, at which the margin is that share of the price."""
    return _exact(cost) * HUNDRED / (HUNDRED - _margin(margin_percent))


def price_from_markup(cost: Decimal, markup_percent: Decimal) -> Decimal:
    """Price, not yet rounded: the cost and that share of it on top."""
    return _exact(cost) * (HUNDRED + _exact(markup_percent)) / HUNDRED


def margin_percent(*, cost: Decimal, price: Decimal) -> Decimal | None:
    """Margin in percent of the price; none on a price of zero."""
    return HUNDRED * (_exact(price) - _exact(cost)) / price if price else None


def _margin(margin_percent: Decimal) -> Decimal:
    margin = _exact(margin_percent)
    if margin >= HUNDRED:
        raise MoneyError("margin", "A margin must be under 100 %: write 35, say.")
    return margin


def each_of(price: Decimal, quantity: Decimal) -> Decimal:
    """Price one of a pack, to the four decimals that a `MoneyField` keeps."""
    each = _exact(price) / _exact(quantity)
    return each.quantize(Decimal("0.0001"), rounding=ROUND_HALF_UP)


def _exact(amount: object) -> Decimal:
    """Refuse floats (which have lost the cent already), NaN and infinity."""
    if not isinstance(amount, Decimal | int):
        msg = f"money is Decimal, not {type(amount).__name__}"
        raise TypeError(msg)
    decimal = Decimal(amount)
    if not decimal.is_finite():
        msg = f"{amount} is no amount"
        raise ValueError(msg)
    return decimal


def show_money(amount: Decimal, *, currency: str, locale: str) -> str:
    """Print a rounded amount with its currency, as the locale writes it."""
    exponent = minor_exponent(currency)
    place = Locale.parse(locale)
    pattern = copy.copy(place.currency_formats["standard"])
    pattern.frac_prec = (exponent, exponent)
    text = str(
        pattern.apply(
            round_money(amount, currency),
            place,
            currency=currency,
            currency_digits=False,
        )
    )
    # Babel knows CLDR's space between letters and digits (CHF 12) not at all.
    symbol = get_currency_symbol(currency, locale)
    glued = symbol[-1].isalpha() and re.search(f"{re.escape(symbol)}(?=[0-9])", text)
    return text.replace(symbol, f"{symbol}\u00a0") if glued else text


def show_number(number: Decimal | int, *, locale: str, decimals: int = 2) -> str:
    """Print a number as the locale writes it, with up to so many decimals."""
    step = Decimal(1).scaleb(-decimals)
    rounded = _exact(Decimal(number)).quantize(step, rounding=ROUND_HALF_UP) + 0
    pattern = "#,##0." + "#" * decimals if decimals else "#,##0"
    return str(format_decimal(rounded, format=pattern, locale=locale))


def symbols(locale: str) -> dict[str, str]:
    """Return what `show_number` writes between whole and part, and between thousands."""
    return {
        "decimal": get_decimal_symbol(locale),
        "group": get_group_symbol(locale),
    }


def show_cost(amount: Decimal, *, currency: str, locale: str) -> str:
    """Print an amount that was not rounded: up to two decimals past the minor unit.

    Without the currency, as it stands in the working of a price.
    """
    least = minor_exponent(currency)
    step = Decimal(1).scaleb(-least - 2)
    rounded = _exact(amount).quantize(step, rounding=ROUND_HALF_UP) + 0
    pattern = "#,##0." + "0" * least + "##"
    return str(format_decimal(rounded, format=pattern, locale=locale))


def show_plain(number: Decimal, *, locale: str, least_decimals: int = 0) -> str:
    """Print a number for a form field: every digit of it, no thousands separators.

    ``parse_number`` reads it back. Three decimals get a fourth, since 1,250 looks like
    a thousand.
    """
    exact = _exact(number).normalize()
    exponent = exact.as_tuple().exponent
    decimals = max(least_decimals, -int(exponent), 0)
    if decimals == 3 and least_decimals != 3:
        decimals = 4
    return f"{exact:.{decimals}f}".replace(".", get_decimal_symbol(locale))


_NUMBER = re.compile(r"[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+")
SPACES = " \t\n\r\u00a0\u2009\u202f"


def parse_money(
    text: str,
    *,
    currency: str,
    unit_price: bool = False,
    allow_negative: bool = False,
) -> Decimal:
    """Read an amount: digits and at most one point or comma, no thousands separators.

    An amount has the decimals of its currency; a unit price (one screw) up to four.
    Raises ``MoneyError``.
    """
    minor = minor_exponent(currency)
    return parse_number(
        text,
        decimals=MAX_DECIMALS if unit_price else minor,
        example="1234.5000" if unit_price else f"{Decimal('1234.5'):.{minor}f}",
        allow_negative=allow_negative,
    )


def parse_number(
    text: str, *, decimals: int, example: str = "12.5", allow_negative: bool = False
) -> Decimal:
    """Read a plain decimal number with a point or a comma; raises ``MoneyError``."""
    plain = text.strip(SPACES).replace("−", "-")
    if not plain:
        raise MoneyError("empty", f"Type a number, such as {example}.")
    sign = -1 if plain.startswith("-") else 1
    if sign < 0 and not allow_negative:
        raise MoneyError(
            "negative", f"This can't be less than zero. Write it like {example}."
        )
    digits = plain[1:] if plain[0] in "+-" else plain
    if not _NUMBER.fullmatch(digits):
        raise MoneyError(
            "unreadable",
            f"This does not read as a number. Write it like {example}, with"
            " nothing between thousands.",
        )
    return sign * _checked(digits.replace(",", "."), decimals, example)


def _checked(digits: str, decimals: int, example: str) -> Decimal:
    """Refuse too many digits, and 1.250 where it may be a thousand."""
    whole, _, part = digits.partition(".")
    if len(whole.lstrip("0")) > MAX_WHOLE_DIGITS:
        raise MoneyError("too_large", f"This is too large. Write it like {example}.")
    # Where three decimals are usual (dinars) they are read as such.
    if len(part) == 3 and 1 <= len(whole) <= 3 and whole != "0" and decimals != 3:
        raise MoneyError(
            "thousands",
            "This could be thousands or decimals. Write no thousands separator:"
            f" {example}.",
        )
    if len(part) > decimals:
        raise MoneyError(
            "decimals", _decimals_sentence(decimals) + f" Write it like {example}."
        )
    return Decimal(digits if digits != "." else "0")


def _decimals_sentence(decimals: int) -> str:
    if decimals == 0:
        return "This takes no decimals."
    return f"This takes at most {decimals} decimal{'s' if decimals > 1 else ''}."
