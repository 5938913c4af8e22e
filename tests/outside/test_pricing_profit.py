"""Margin and markup against FACTS-materials section 8.4 [S general; formulas standard].

Tolerance: exact cents for prices, 1e-4 for percentages.
"""

from decimal import Decimal as D

import pytest

from quotes.pricing.engine import (
    Extra,
    PriceRequest,
    PriceRules,
    PricingError,
    Profit,
    ProfitKind,
    price_quote,
)


def quote(cost, kind, percent):
    rules = PriceRules("EUR", Profit(kind, D(percent)))
    bare = Extra("bare", "Bare", D(1), unit_cost=D(cost))
    return price_quote(PriceRequest(rules, extras=(bare,)))


@pytest.mark.parametrize(
    ("kind", "percent", "price"),
    [
        (ProfitKind.MARGIN, 40, "300.00"),
        (ProfitKind.MARKUP, 40, "252.00"),
        (ProfitKind.MARGIN, 35, "276.92"),
    ],
)
def test_a_cost_of_180_is_sold_as_tabled(kind, percent, price):
    assert quote("180.00", kind, percent).totals.net.value == D(price)


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
def test_a_markup_leaves_the_margin_of_the_table(markup, margin):
    """A cost of a million, so that rounding to the cent stays under the tolerance."""
    told = quote("1000000", ProfitKind.MARKUP, markup).breakdown
    assert abs(told.margin_percent.value - D(margin)) < D("1e-4")


@pytest.mark.parametrize("percent", [100, 101, 250])
def test_a_margin_of_all_or_more_is_refused(percent):
    with pytest.raises(PricingError) as caught:
        quote("180", ProfitKind.MARGIN, percent)
    assert caught.value.field == "profit_percent"
