"""What the engine refuses, and which field it points at."""

from decimal import Decimal as D

import pytest

from quotes.pricing.engine import (
    Allowance,
    AllowanceKind,
    AmountKind,
    Deposit,
    MaterialKind,
    Overhead,
    OverheadKind,
    Piece,
    PriceRequest,
    PricingError,
    Profit,
    ProfitKind,
    Reduction,
    TaxRate,
    price_quote,
)
from tests.quotes.pricing import factories as make

ABSURD = [D("-0.01"), D("NaN"), D("Infinity"), D("1e12"), 12.5, "12.5", None]
CLOTH = {"kind": MaterialKind.CLOTH}


def refused(field, build, *args, **kwargs):
    with pytest.raises(PricingError) as caught:
        build(*args, **kwargs)
    assert caught.value.field == field
    assert caught.value.message
    return caught.value


@pytest.mark.parametrize("value", [*ABSURD, D(0)])
@pytest.mark.parametrize(
    ("build", "field"),
    [
        (make.panel, "quantity"),
        (make.sheet, "pack_price"),
        (make.sheet, "pack_amount"),
        (make.sheet, "yield_percent"),
        (make.screws, "count"),
        (make.joints, "count"),
        (make.joints, "minutes_each"),
        (make.joints, "hourly_rate"),
        (make.joints, "rating_percent"),
        (make.extra, "quantity"),
        (make.travel, "trips"),
        (make.travel, "people"),
    ],
)
def test_absurd_values_and_zero_are_refused(build, field, value):
    refused(field, build, **{field: value})


@pytest.mark.parametrize("value", ABSURD)
@pytest.mark.parametrize(
    ("build", "field"),
    [
        (make.rules, "minimum_charge"),
        (make.sheet, "spare_percent"),
        (make.travel, "distance"),
        (make.travel, "cost_per_distance"),
        (make.travel, "minutes_each_way"),
        (make.travel, "hourly_rate"),
    ],
)
def test_absurd_values_are_refused_where_zero_is_not(build, field, value):
    refused(field, build, **{field: value})


@pytest.mark.parametrize("value", [x for x in ABSURD if x is not None])
@pytest.mark.parametrize(
    ("build", "field"),
    [
        (make.panel, "override_unit_price"),
        (make.extra, "unit_price"),
        (make.extra, "unit_cost"),
    ],
)
def test_absurd_prices_are_refused_where_none_may_stand(build, field, value):
    refused(field, build, **{field: value})


@pytest.mark.parametrize("value", ABSURD)
def test_absurd_rules_are_refused(value):
    refused("profit_percent", Profit, ProfitKind.MARKUP, value)
    refused("overhead_value", Overhead, OverheadKind.SHARE_OF_COST, value)
    refused("overhead_value", Overhead, OverheadKind.PER_LABOUR_HOUR, value)
    refused("allowance_percent", Allowance, AllowanceKind.OF_WORK, value)
    refused("discount", Reduction, AmountKind.PERCENT, value)
    refused("deposit", Deposit, AmountKind.AMOUNT, value)
    refused("tax_percent", TaxRate, "goods", "VAT", value)


@pytest.mark.parametrize("kind", [Reduction, Deposit])
def test_more_than_all_of_it_is_refused(kind):
    with pytest.raises(PricingError):
        kind(AmountKind.PERCENT, D("100.01"))


@pytest.mark.parametrize("percent", [100, 101])
def test_a_margin_of_the_whole_price_is_refused(percent):
    refused("profit_percent", Profit, ProfitKind.MARGIN, D(percent))


def test_a_shift_that_is_all_rest_is_refused():
    refused("allowance_percent", Allowance, AllowanceKind.OF_SHIFT, D(100))


def test_parts_of_a_panel_are_refused():
    error = refused("quantity", make.panel, quantity=D("1.5"))
    assert "whole" in error.message


def test_a_material_without_a_price_is_named():
    error = refused("pack_price", make.sheet, pack_price=D(0))
    assert "Plywood" in error.message


@pytest.mark.parametrize(
    ("field", "changes"),
    [
        ("pieces", {"pieces": ()}),
        ("width_m", {"pieces": (Piece("A", D(1), D(1)),)}),
        ("usable_width_m", CLOTH),
        ("usable_width_m", CLOTH | {"usable_width_m": D(0)}),
        ("label", {"label": " "}),
    ],
)
def test_a_material_must_say_what_its_kind_needs(field, changes):
    refused(field, make.sheet, **changes)


@pytest.mark.parametrize("size", [D(0), D(-1), D(1001)])
def test_pieces_of_no_size_or_absurd_size_are_refused(size):
    refused("length_m", Piece, "A", D(1), size)
    refused("width_m", Piece, "A", D(1), D(1), size)
    refused("count", Piece, "A", D(0), D(1))


def test_lines_must_say_what_they_are():
    refused("label", make.panel, label="")
    refused("key", make.panel, key="")
    refused("materials", make.panel, materials=(), work=())
    refused("unit_price", make.extra, unit_price=None)
    refused("work", make.job, work=())


def test_a_trip_must_go_somewhere_and_its_time_be_paid():
    refused("distance", make.travel, distance=D(0))
    refused("hourly_rate", make.travel, minutes_each_way=D(5))


def test_a_quote_needs_a_line_and_keys_of_its_own():
    refused("panels", PriceRequest, make.rules())
    refused("key", make.request, make.panel("a"), make.extra("a"))
    refused("key", make.request, make.extra("set-up"))
    refused("key", make.request, make.panel("travel"), travels=(make.travel(),))


def test_a_tax_kind_without_a_rate_is_refused():
    request = make.request(make.extra(tax_kind="goods"))
    error = refused("tax_kind", price_quote, request)
    assert "goods" in error.message


def test_a_kind_of_line_has_one_rate():
    refused("taxes", make.rules, taxes=(make.vat("7"), make.vat("19")))
    refused("tax_kind", TaxRate, "", "VAT", D(1))
    refused("tax_label", TaxRate, "goods", "", D(1))


@pytest.mark.parametrize("currency", ["", "EURO", "XQZ", "eur"])
def test_an_unknown_currency_is_refused(currency):
    refused("currency", make.rules, currency=currency)


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("spare_percent", D(501), "waste and spare in percent"),
        ("pack_amount", D(0), "what a pack holds"),
    ],
)
def test_a_refused_number_says_of_which_material_and_what(field, value, words):
    error = refused(field, make.sheet, **{field: value})
    assert error.message.startswith(f"Plywood, {words}: Enter a number of ")


def test_what_is_counted_may_have_many_spares_to_one_but_not_any_number():
    assert make.screws(spare_percent=D(10_000)).spare_percent == 10_000
    error = refused("spare_percent", make.screws, spare_percent=D(10_001))
    assert error.message.startswith("Screws, ")
