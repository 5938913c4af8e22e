"""Lines: profit, prices with tax in them, prices by hand, the minimum charge."""

from decimal import Decimal as D

import pytest

from quotes.pricing.engine import (
    AmountKind,
    LineKind,
    NoteCode,
    Profit,
    ProfitKind,
    Reduction,
    price_panel,
    price_quote,
)
from tests.quotes.pricing.factories import (
    extra,
    job,
    panel,
    request,
    rules,
    travel,
    vat,
)


def codes(priced):
    return [note.code for note in priced.warnings]


def test_a_markup_is_a_share_of_cost():
    line = price_panel(panel(), rules(profit=Profit(ProfitKind.MARKUP, D(50))))
    assert line.unit_price.value == D("26.10")


def test_a_margin_is_a_share_of_price():
    line = price_panel(panel(), rules(profit=Profit(ProfitKind.MARGIN, D(50))))
    assert line.unit_price.value == D("34.80")


def test_the_unit_price_is_rounded_and_the_line_is_so_many_of_it():
    line = price_panel(
        panel(quantity=D(7)), rules(profit=Profit(ProfitKind.MARKUP, D("33.3")))
    )
    assert line.unit_price.value == D("23.19")
    assert line.amount.value == D("162.33")


def test_a_price_with_tax_in_it_is_rounded_with_the_tax():
    shop = rules(tax_inclusive=True, taxes=(vat(),))
    line = price_panel(panel(tax_kind="goods"), shop)
    assert line.unit_price.value == D("20.71")


def test_a_price_set_by_hand_stands_and_is_told():
    priced = price_quote(request(panel(override_unit_price=D("15"), quantity=D(2))))
    assert priced.totals.net.value == 30
    assert priced.breakdown.margin.value == D("-4.8")
    assert codes(priced) == [NoteCode.BELOW_COST, NoteCode.PRICE_SET_BY_HAND]


@pytest.mark.parametrize(
    ("price", "told"),
    [("17.39", [NoteCode.BELOW_COST]), ("17.40", []), ("17.41", [])],
)
def test_only_a_price_under_cost_is_told_as_such(price, told):
    priced = price_quote(request(extra(price=price, unit_cost=D("17.40"))))
    assert codes(priced) == told


def test_an_extra_may_be_priced_by_its_cost():
    shop = rules(profit=Profit(ProfitKind.MARGIN, D(40)))
    skip = extra(unit_price=None, unit_cost=D(180))
    priced = price_quote(request(skip, rules=shop))
    assert priced.lines[0].amount.value == 300
    assert priced.breakdown.other.value == 180


def test_an_extra_with_a_price_and_a_cost_counts_both():
    priced = price_quote(request(extra(unit_cost=D(60))))
    assert priced.breakdown.margin_percent.value == 40
    assert codes(priced) == []


def test_an_extra_without_a_cost_is_told():
    assert codes(price_quote(request(extra()))) == [NoteCode.COST_UNKNOWN]


def test_a_free_quote_has_no_margin_in_percent():
    priced = price_quote(request(extra(price="0", unit_cost=D(1))))
    assert priced.breakdown.margin_percent is None
    assert priced.breakdown.margin.value == -1


def test_a_small_job_is_lifted_to_the_minimum_charge_by_a_line_of_its_own():
    priced = price_quote(request(rules=rules(minimum_charge=D(50))))
    assert priced.lines[-1].kind is LineKind.MINIMUM
    assert priced.lines[-1].amount.value == D("32.60")
    assert priced.totals.net.value == 50
    assert codes(priced) == [NoteCode.MINIMUM_APPLIED]


@pytest.mark.parametrize("least", ["17.40", "17.39", "0"])
def test_a_job_that_reaches_the_minimum_has_no_such_line(least):
    priced = price_quote(request(rules=rules(minimum_charge=D(least))))
    assert [line.kind for line in priced.lines] == [LineKind.PANELS]


def test_the_minimum_line_bears_its_own_kind_of_tax():
    shop = rules(minimum_charge=D(100), minimum_tax_kind="goods", taxes=(vat("10"),))
    priced = price_quote(request(rules=shop))
    assert priced.totals.tax.value == D("8.26")


def test_lines_come_in_the_order_of_the_quote():
    priced = price_quote(
        request(panel(), extra(), job=job(), travels=(travel(),), rules=rules())
    )
    assert [line.key for line in priced.lines] == ["a", "set-up", "x", "travel"]


def test_two_sites_are_two_lines():
    there = travel(key="y", label="Travel to the annexe", trips=D(1))
    priced = price_quote(request(panel(), travels=(travel(), there)))
    assert [line.amount.value for line in priced.lines[1:]] == [60, 30]


def test_travel_is_not_discounted():
    priced = price_quote(
        request(
            extra(), travels=(travel(),), discount=Reduction(AmountKind.PERCENT, D(10))
        )
    )
    assert priced.totals.discount.value == 10
    assert priced.totals.net.value == 150


def test_a_result_says_how_it_was_reached():
    priced = price_quote(request())
    assert priced.engine_version == priced.client.engine_version == "1"
    assert [note.code for note in priced.assumptions] == [NoteCode.AVERAGE_YIELD]
