"""Totals: discount, tax by line and by total, inclusive prices, deposit."""

from decimal import Decimal as D
from itertools import permutations

import pytest

from quotes.pricing.engine import (
    AmountKind,
    Deposit,
    NoteCode,
    Op,
    Reduction,
    TaxRounding,
    price_quote,
)
from tests.quotes.pricing.factories import extra, request, rules, vat

PERCENT, AMOUNT = AmountKind.PERCENT, AmountKind.AMOUNT


def off(value, kind=PERCENT):
    return Reduction(kind, D(value))


def totals(*lines, **changes):
    return price_quote(request(*lines, **changes)).totals


def codes(*lines, **changes):
    notes = price_quote(request(*lines, **changes)).warnings
    return {note.code for note in notes} - {NoteCode.COST_UNKNOWN}


def test_a_discount_in_percent_is_rounded_once():
    assert totals(extra(price="33.33"), discount=off("7.5")).net.value == D("30.83")


def test_a_discount_can_be_an_amount():
    assert totals(extra(), discount=off("12.50", AMOUNT)).net.value == D("87.50")


def test_a_discount_stops_at_what_it_comes_off():
    lines = (extra(), extra("y", discountable=False))
    assert totals(*lines, discount=off(150, AMOUNT)).net.value == 100
    assert codes(*lines, discount=off(150, AMOUNT)) == {NoteCode.DISCOUNT_HELD}


def test_a_discount_stops_at_the_minimum_charge():
    shop = rules(minimum_charge=D(80))
    assert totals(extra(), rules=shop, discount=off(30)).net.value == 80
    assert codes(extra(), rules=shop, discount=off(30)) == {NoteCode.DISCOUNT_HELD}
    assert codes(extra(), rules=shop, discount=off(20)) == set()


def test_a_discount_held_to_nothing_is_told_to_the_shop_alone():
    priced = price_quote(
        request(extra(), rules=rules(minimum_charge=D(100)), discount=off(5))
    )
    assert priced.totals.discount.value == 0
    assert priced.client.totals.discount is None
    assert priced.totals.net.value == 100


@pytest.mark.parametrize("discount", [None, off(0), off("0.001")])
def test_a_discount_of_nothing_is_no_discount(discount):
    found = totals(extra(price="1"), discount=discount)
    assert found.discount is None
    assert found.net.value == 1


def test_a_discount_on_free_lines_is_no_discount():
    assert totals(extra(price="0"), discount=off(10)).discount is None


def test_tax_goes_by_the_kind_of_line():
    shop = rules(taxes=(vat("20"), vat("5", kind="labour", label="Reduced")))
    found = totals(
        extra("a", tax_kind="goods"),
        extra("b", tax_kind="labour"),
        extra("c"),
        rules=shop,
    )
    assert [(t.label, t.base.value, t.amount.value) for t in found.taxes] == [
        ("Reduced", 100, 5),
        ("VAT", 100, 20),
    ]
    assert found.gross.value == 325


@pytest.mark.parametrize("rounding", list(TaxRounding))
def test_kinds_of_equal_rate_and_label_are_taxed_together(rounding):
    shop = rules(taxes=(vat("7"), vat("7", kind="labour")), tax_rounding=rounding)
    lines = [extra(key, "1.10", tax_kind=kind) for key, kind in KINDS]
    found = totals(*lines, rules=shop)
    assert len(found.taxes) == 1
    assert found.taxes[0].base.value == D("3.30")


KINDS = (("a", "goods"), ("b", "labour"), ("c", "goods"))


def test_a_discount_is_shared_over_the_rates_and_adds_up():
    shop = rules(taxes=(vat("20"), vat("5", kind="labour", label="Reduced")))
    found = totals(
        extra("a", "33.33", tax_kind="goods"),
        extra("b", "66.67", tax_kind="labour"),
        rules=shop,
        discount=off("9.99", AMOUNT),
    )
    assert [t.base.value for t in found.taxes] == [D("60.01"), D("30.00")]
    assert found.net.value == D("90.01")


def test_with_tax_inclusive_prices_the_gross_is_the_truth():
    shop = rules(taxes=(vat("19"),), tax_inclusive=True)
    found = totals(extra(tax_kind="goods"), rules=shop)
    assert found.gross.value == 100
    assert found.tax.value == D("15.97")
    assert found.net.value == D("84.03")


def test_inclusive_tax_can_be_rounded_by_line():
    shop = rules(taxes=(vat("7"),), tax_inclusive=True, tax_rounding=TaxRounding.LINE)
    lines = [extra(key, "1.10", tax_kind="goods") for key in "abc"]
    found = totals(*lines, rules=shop)
    assert found.gross.value == D("3.30")
    assert found.tax.value == D("0.21")


def test_shares_of_a_discount_follow_the_keys_and_not_the_order():
    """Sharing 0.07 in the order given would make the tax 0.10 or 0.11."""
    shop = rules(taxes=(vat("20"),), tax_rounding=TaxRounding.LINE)
    prices = {"a": "0.13", "b": "0.13", "c": "0.37"}
    lines = [extra(key, price, tax_kind="goods") for key, price in prices.items()]
    found = {
        totals(*mixed, rules=shop, discount=off("0.07", AMOUNT)).tax.value
        for mixed in permutations(lines)
    }
    assert len(found) == 1


def test_a_full_discount_leaves_no_tax_by_line():
    shop = rules(taxes=(vat("7"),), tax_rounding=TaxRounding.LINE)
    lines = [extra(key, "1.10", tax_kind="goods") for key in "abc"]
    assert totals(*lines, rules=shop, discount=off(100)).gross.value == 0


@pytest.mark.parametrize(
    ("deposit", "asked"),
    [
        (Deposit(PERCENT, D(50)), D("16.67")),
        (Deposit(PERCENT, D(100)), D("33.33")),
        (Deposit(AMOUNT, D(20)), D(20)),
        (Deposit(AMOUNT, D("33.33")), D("33.33")),
    ],
)
def test_a_deposit_and_the_balance_make_the_gross(deposit, asked):
    found = totals(extra(price="33.33"), deposit=deposit)
    assert found.deposit.value == asked
    assert found.deposit.value + found.balance.value == found.gross.value


def test_a_deposit_is_never_above_the_gross():
    deposit = Deposit(AMOUNT, D(500))
    assert totals(extra(), deposit=deposit).deposit.value == 100
    assert totals(extra(), deposit=deposit).deposit.op is Op.SMALLEST
    assert codes(extra(), deposit=deposit) == {NoteCode.DEPOSIT_HELD}


@pytest.mark.parametrize("deposit", [None, Deposit(PERCENT, D(0))])
def test_without_a_deposit_all_is_balance(deposit):
    found = totals(extra(), deposit=deposit)
    assert found.deposit is None
    assert found.balance.value == 100
