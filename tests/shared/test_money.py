"""Money: rounding laws, reading, printing."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared import money
from shared.money import MoneyError, parse_money, round_money, share_out, show_money

amounts = st.decimals(-(10**9), 10**9, places=6)
cents = st.decimals(-(10**7), 10**7, places=2)
currencies = st.sampled_from(["EUR", "USD", "JPY", "KWD", "MGA"])


@given(amount=amounts, currency=currencies)
def test_rounding_is_never_off_by_more_than_half_a_minor_unit(amount, currency):
    off = abs(round_money(amount, currency) - amount)
    assert 2 * off <= Decimal(1).scaleb(-money.minor_exponent(currency))


@given(amount=amounts, currency=currencies)
def test_a_credit_mirrors_its_charge(amount, currency):
    assert round_money(-amount, currency) == -round_money(amount, currency)


@given(amount=amounts, currency=currencies)
def test_rounding_twice_changes_nothing(amount, currency):
    once = round_money(amount, currency)
    assert round_money(once, currency) == once


def test_there_is_no_minus_zero():
    assert str(round_money(Decimal("-0.001"), "EUR")) == "0.00"


@given(gross=cents, rate=st.decimals(0, 30, places=2))
def test_tax_within_a_gross_is_the_tax_on_its_net(gross, rate):
    tax = money.tax_within(gross, rate_percent=rate, currency="EUR")
    again = money.round_tax(gross - tax, rate_percent=rate, currency="EUR")
    assert abs(again - tax) <= Decimal("0.01")


def test_tax_within_119_at_19_percent_is_19():
    assert (
        money.tax_within(Decimal("119.00"), rate_percent=Decimal(19), currency="EUR")
        == 19
    )


weights = st.lists(st.decimals(0, 10_000, places=2), min_size=1, max_size=12)


@given(amount=cents, weights=weights.filter(sum))
def test_shares_add_up_and_are_fair(amount, weights):
    shares = share_out(amount, weights, currency="EUR")
    assert sum(shares) == amount
    total = Fraction(sum(weights))
    for share, weight in zip(shares, weights, strict=True):
        true = Fraction(amount) * Fraction(weight) / total
        assert abs(Fraction(share) - true) < Fraction(1, 100)


def test_the_first_of_equals_gets_the_odd_cent():
    shares = share_out(Decimal("10.00"), [Decimal(1)] * 3, currency="EUR")
    assert shares == [Decimal("3.34"), Decimal("3.33"), Decimal("3.33")]
    shares = share_out(Decimal("-10.00"), [Decimal(1)] * 3, currency="EUR")
    assert shares == [Decimal("-3.34"), Decimal("-3.33"), Decimal("-3.33")]


@pytest.mark.parametrize("weights", [[], [Decimal(0)], [Decimal(2), Decimal(-1)]])
def test_weights_that_mean_nothing_are_refused(weights):
    with pytest.raises(ValueError, match="weights"):
        share_out(Decimal(1), weights, currency="EUR")


def test_an_unrounded_amount_cannot_be_shared_out():
    with pytest.raises(ValueError, match="isn't rounded"):
        share_out(Decimal("0.001"), [Decimal(1)], currency="EUR")


@pytest.mark.parametrize("amount", [1.5, float("nan"), "1.50", None])
def test_only_decimals_are_money(amount):
    with pytest.raises(TypeError, match="money is Decimal"):
        round_money(amount, "EUR")


@pytest.mark.parametrize("amount", ["NaN", "Infinity", "-Infinity"])
def test_what_is_no_number_is_no_amount(amount):
    with pytest.raises(ValueError, match="no amount"):
        round_money(Decimal(amount), "EUR")


@pytest.mark.parametrize("currency", ["", "eur", "XXY", "EURO"])
def test_an_unknown_currency_is_refused(currency):
    with pytest.raises(ValueError, match="ISO 4217"):
        money.minor_exponent(currency)


@pytest.mark.parametrize(
    ("amount", "currency", "locale", "text"),
    [
        ("1234.5", "EUR", "de_DE", "1.234,50\u00a0€"),
        ("1234.5", "EUR", "en_GB", "€1,234.50"),
        ("-1234.565", "USD", "en_US", "-$1,234.57"),
        ("1234.5", "JPY", "en_US", "¥1,235"),
        ("1.2345", "KWD", "en_US", "KWD\u00a01.235"),
        ("5", "MGA", "en_GB", "MGA\u00a05.00"),
        ("0.005", "EUR", "en_GB", "€0.01"),
        ("-0.001", "EUR", "en_GB", "€0.00"),
    ],
)
def test_prints_as_the_locale_writes(amount, currency, locale, text):
    assert show_money(Decimal(amount), currency=currency, locale=locale) == text


@pytest.mark.parametrize(
    ("text", "amount"),
    [
        ("1234.5", "1234.5"),
        ("1234,50", "1234.50"),
        ("  12 ", "12"),
        ("+5", "5"),
        (".5", "0.5"),
        ("5.", "5"),
        ("0", "0"),
        ("0012.50", "12.50"),
        ("9999999999.99", "9999999999.99"),
        ("12.50\u00a0", "12.50"),
    ],
)
def test_reads_amounts(text, amount):
    assert parse_money(text, currency="EUR") == Decimal(amount)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        *((text, "empty") for text in ("", " ", "\u00a0")),
        ("-5", "negative"),
        ("−5", "negative"),
        ("--5", "negative"),
        *(
            (text, "unreadable")
            for text in (
                "abc",
                "NaN",
                "Infinity",
                "1e9",
                "1_000",
                "€5",
                "5 EUR",
                "5,5,5",
            )
        ),
        *(
            (text, "unreadable")
            for text in ("1 250", "1.250,00", "1'250", "٥", "１２", "5%")
        ),
        *((text, "unreadable") for text in (".", ",", "+", "+-5", "0x10", "1\x000")),
        ("1,250", "thousands"),
        ("1.250", "thousands"),
        ("12.2505", "decimals"),
        ("0.125", "decimals"),
        ("1234.567", "decimals"),
        ("12345678901", "too_large"),
        ("9" * 400, "too_large"),
    ],
)
def test_refuses_what_is_no_amount(text, kind):
    with pytest.raises(MoneyError) as refused:
        parse_money(text, currency="EUR", allow_negative=False)
    assert refused.value.kind == kind
    assert refused.value.message.endswith(".")


def test_decimals_follow_the_currency():
    assert parse_money("1.250", currency="KWD") == Decimal("1.250")
    with pytest.raises(MoneyError, match="no decimals"):
        parse_money("12.5", currency="JPY")


def test_a_unit_price_has_four_decimals():
    assert parse_money("0,0325", currency="EUR", unit_price=True) == Decimal("0.0325")
    with pytest.raises(MoneyError, match="at most 4 decimals"):
        parse_money("0.03255", currency="EUR", unit_price=True)


def test_a_minus_is_read_where_it_makes_sense():
    assert parse_money("−5.25", currency="EUR", allow_negative=True) == Decimal("-5.25")


@given(
    amount=st.decimals(0, 10**9, places=4), locale=st.sampled_from(["en_GB", "de_DE"])
)
def test_what_a_form_shows_reads_back(amount, locale):
    text = money.show_plain(amount, locale=locale, least_decimals=2)
    assert parse_money(text, currency="EUR", unit_price=True) == amount


@pytest.mark.parametrize(
    ("number", "decimals", "locale", "text"),
    [
        ("1234.567", 2, "de_DE", "1.234,57"),
        ("1234.5", 2, "en_GB", "1,234.5"),
        ("1234", 2, "en_GB", "1,234"),
        ("0.5", 0, "en_GB", "1"),
        ("-0.001", 2, "en_GB", "0"),
    ],
)
def test_prints_numbers(number, decimals, locale, text):
    assert money.show_number(Decimal(number), locale=locale, decimals=decimals) == text


def test_no_margin_on_a_price_of_nothing():
    assert money.margin_percent(cost=Decimal(5), price=Decimal(0)) is None
    assert money.margin_percent(cost=Decimal(180), price=Decimal(300)) == 40


def test_a_markup_that_takes_it_all_is_refused():
    with pytest.raises(MoneyError, match="above -100"):
        money.margin_from_markup(Decimal(-100))


@given(percent=st.decimals(0, 99, places=2))
def test_margin_and_markup_undo_each_other(percent):
    back = money.margin_from_markup(money.markup_from_margin(percent))
    assert abs(back - percent) < Decimal("1e-20")
