"""Tax, rounding and totals against the rules and tables of FACTS-materials section 8.

Marks: [S] the source was read, [D] computed from its rule with Decimal.
Tolerance: exact everywhere.
"""

from decimal import Decimal as D

import pytest

from quotes.pricing.engine import (
    AmountKind,
    Deposit,
    Extra,
    PriceRequest,
    PriceRules,
    Profit,
    ProfitKind,
    Reduction,
    TaxRate,
    TaxRounding,
    price_quote,
)


def priced(lines, *, percent="0", rounding=TaxRounding.TOTAL, currency="USD", **rest):
    rules = PriceRules(
        currency=currency,
        profit=Profit(ProfitKind.MARKUP, D(0)),
        taxes=(TaxRate("goods", "Tax", D(percent)),),
        tax_rounding=rounding,
        tax_inclusive=rest.pop("inclusive", False),
    )
    extras = tuple(
        Extra(f"line-{i}", "Line", D(quantity), D(price), tax_kind="goods", **more)
        for i, (quantity, price, more) in enumerate(lines)
    )
    return price_quote(PriceRequest(rules, extras=extras, **rest)).totals


def test_the_invoice_example_of_the_european_rules():
    """EN 16931 BR-CO-10 to BR-CO-16 [S rules, D example]."""
    found = priced(
        [
            ("4", "212.45", {}),
            ("2.5", "38.50", {}),
            ("1", "17.335", {}),
            ("1", "45.00", {"discountable": False}),
        ],
        percent="19",
        currency="EUR",
        discount=Reduction(AmountKind.PERCENT, D(5)),
        deposit=Deposit(AmountKind.AMOUNT, D("400.00")),
    )
    lines = [part.value for part in found.subtotal.parts]
    assert lines == [D("849.80"), D("96.25"), D("17.34"), D("45.00")]
    assert sum(lines[:3]) == D("963.39")
    assert found.discount.value == D("48.17")
    assert found.net.value == D("960.22")
    assert found.tax.value == D("182.44")
    assert found.gross.value == D("1142.66")
    assert found.balance.value == D("742.66")


@pytest.mark.parametrize(
    ("count", "price", "percent", "by_line", "on_total"),
    [
        (5, "24.90", "8.25", "10.25", "10.27"),
        (3, "1.10", "7", "0.24", "0.23"),
    ],
)
def test_tax_by_line_and_on_the_total_differ_as_tabled(
    count, price, percent, by_line, on_total
):
    """Either level is allowed if used throughout (streamlined rule [S]; table [D])."""
    lines = [("1", price, {})] * count
    line = priced(lines, percent=percent, rounding=TaxRounding.LINE)
    total = priced(lines, percent=percent, rounding=TaxRounding.TOTAL)
    assert line.tax.value == D(by_line)
    assert total.tax.value == D(on_total)


@pytest.mark.parametrize("rounding", list(TaxRounding))
def test_half_a_cent_of_tax_goes_up(rounding):
    """50.00 at 8.25 % is 4.125: 4.13 half up, where half even gives 4.12 [D]."""
    found = priced([("1", "50.00", {})], percent="8.25", rounding=rounding)
    assert found.tax.value == D("4.13")


@pytest.mark.parametrize(
    ("tax", "expected"), [("0.1249", "0.12"), ("0.1250", "0.13"), ("0.1251", "0.13")]
)
def test_the_third_decimal_decides_when_over_four(tax, expected):
    """Compute to the third decimal, round up when it is over 4 (R.I. 44-18.1-25) [S]."""
    found = priced([("1", "100.00", {})], percent=tax)
    assert found.tax.value == D(expected)


@pytest.mark.parametrize(
    ("currency", "price", "expected"),
    [
        ("JPY", "1234.5", "1235"),
        ("KRW", "1234.5", "1235"),
        ("KWD", "1.2345", "1.235"),
        ("BHD", "1.2345", "1.235"),
        ("USD", "2.675", "2.68"),
        ("EUR", "17.335", "17.34"),
        ("MGA", "0.125", "0.13"),
    ],
)
def test_a_line_is_rounded_to_the_minor_unit_of_its_currency(currency, price, expected):
    """ISO 4217 exponents 0, 3 and 2 [S for USD, BHD, JPY, MGA; rest M]."""
    found = priced([("1", price, {})], currency=currency)
    assert found.gross.value == D(expected)
    exponent = found.gross.value.as_tuple().exponent
    assert exponent == D(expected).as_tuple().exponent


@pytest.mark.parametrize(
    ("gross", "percent", "tax"),
    [("119.00", "19", "19.00"), ("100.00", "19", "15.97"), ("1.10", "7", "0.07")],
)
def test_tax_within_a_gross_price(gross, percent, tax):
    """Gross × rate / (100 + rate), the gross being the truth [D from BR-CO-17]."""
    found = priced([("1", gross, {})], percent=percent, inclusive=True)
    assert found.gross.value == D(gross)
    assert found.tax.value == D(tax)
