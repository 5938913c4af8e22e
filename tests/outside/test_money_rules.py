"""Money against EN 16931, the US third-decimal rule, ISO 4217, and margin tables.

Marks: [S] the source's text was read, [M] from memory, [D] computed. All exact.
"""

from decimal import Decimal

import pytest

from shared import money
from shared.money import MoneyError, minor_exponent, round_money, round_tax


def euros(amount):
    return round_money(Decimal(amount), "EUR")


def test_an_invoice_by_en_16931():
    """EN 16931 BR-CO-10, 13, 14, 15, 16, 17 [S: validation artefacts]; example [D]."""
    lines = [("4", "212.45"), ("2.5", "38.50"), ("1", "17.335")]
    nets = [euros(Decimal(count) * Decimal(price)) for count, price in lines]
    assert nets == [Decimal("849.80"), Decimal("96.25"), Decimal("17.34")]
    line_sum = sum(nets)
    allowance = money.percent_of(line_sum, Decimal(5), currency="EUR")
    net = line_sum - allowance + Decimal("45.00")
    tax = round_tax(net, rate_percent=Decimal(19), currency="EUR")
    gross = net + tax
    assert (line_sum, allowance, net) == (
        Decimal("963.39"),
        Decimal("48.17"),
        Decimal("960.22"),
    )
    assert (tax, gross) == (Decimal("182.44"), Decimal("1142.66"))
    assert gross - Decimal("400.00") == Decimal("742.66")


def test_halves_go_away_from_zero_so_that_a_credit_note_mirrors():
    """The artefacts' XPath round() gives -0.12 [S]; the choice here is -0.13 [D]."""
    assert euros("0.125") == Decimal("0.13")
    assert euros("-0.125") == Decimal("-0.13")


@pytest.mark.parametrize(
    ("count", "price", "rate", "by_line", "on_total"),
    [
        (5, "24.90", "8.25", "10.25", "10.27"),
        (3, "1.10", "7", "0.24", "0.23"),
    ],
)
def test_tax_by_line_and_on_the_total_differ(count, price, rate, by_line, on_total):
    """Both allowed in the US, consistently [S: Rhode Island 44-18.1-25]; figures [D]."""
    rate = Decimal(rate)
    line = round_tax(Decimal(price), rate_percent=rate, currency="USD")
    total = round_tax(count * Decimal(price), rate_percent=rate, currency="USD")
    assert (count * line, total) == (Decimal(by_line), Decimal(on_total))


def test_the_third_decimal_rounds_up_from_five():
    """50.00 at 8.25 % is 4.125: 4.13, not half-even's 4.12 [S rule, D figure]."""
    tax = round_tax(Decimal("50.00"), rate_percent=Decimal("8.25"), currency="USD")
    assert tax == Decimal("4.13")
    assert euros("2.675") == Decimal("2.68")


@pytest.mark.parametrize(
    ("currencies", "exponent"),
    [
        ("USD EUR GBP CAD AUD", 2),
        ("JPY KRW", 0),
        ("KWD BHD", 3),
        ("MRU MGA", 2),
    ],
)
def test_minor_units(currencies, exponent):
    """ISO 4217 [S for USD, BHD, JPY, MRU, MGA; the rest M]."""
    assert {minor_exponent(code) for code in currencies.split()} == {exponent}


def test_rounding_follows_the_minor_unit():
    """1234.5 JPY is 1235; 1.2345 KWD is 1.235 [D]."""
    assert round_money(Decimal("1234.5"), "JPY") == 1235
    assert str(round_money(Decimal("1.2345"), "KWD")) == "1.235"


@pytest.mark.parametrize(
    ("markup", "margin"),
    [
        ("25", "20"),
        ("40", "28.5714"),
        ("50", "33.3333"),
        ("100", "50"),
        ("42.8571", "30"),
        ("53.8462", "35"),
        ("66.6667", "40"),
    ],
)
def test_markup_and_margin(markup, margin):
    """m = u/(1+u), u = m/(1-m) [S general]; 1e-4."""
    near = Decimal("0.0001")
    assert abs(money.margin_from_markup(Decimal(markup)) - Decimal(margin)) < near
    assert abs(money.markup_from_margin(Decimal(margin)) - Decimal(markup)) < 3 * near


def test_prices_from_a_cost_of_180():
    """Margin 40 % gives 300.00, markup 40 % 252.00, margin 35 % 276.92 [D]."""
    cost = Decimal("180.00")
    assert euros(money.price_from_margin(cost, Decimal(40))) == Decimal("300.00")
    assert euros(money.price_from_markup(cost, Decimal(40))) == Decimal("252.00")
    assert euros(money.price_from_margin(cost, Decimal(35))) == Decimal("276.92")


@pytest.mark.parametrize("margin", ["100", "100.01", "250"])
def test_a_margin_of_all_the_price_is_refused(margin):
    """A price can't be found for it [S general]."""
    with pytest.raises(MoneyError, match="under 100"):
        money.price_from_margin(Decimal(180), Decimal(margin))
