"""Quotes of every kind for Hypothesis, small enough to read when one fails."""

from decimal import Decimal as D

from hypothesis import strategies as st

from quotes.pricing.engine import (
    Allowance,
    AllowanceKind,
    AmountKind,
    Deposit,
    Overhead,
    OverheadKind,
    Profit,
    ProfitKind,
    Reduction,
    TaxRounding,
)
from tests.quotes.pricing import factories as make

CURRENCIES = ("EUR", "USD", "JPY", "KWD")
KINDS = ("goods", "labour", "")


def decimals(low, high, places=2):
    return st.decimals(min_value=low, max_value=high, places=places)


def rules(**fixed):
    drawn = {
        "currency": st.sampled_from(CURRENCIES),
        "profit": st.builds(
            Profit, st.sampled_from(ProfitKind), decimals(0, D("99.9"), 1)
        ),
        "overhead": st.builds(
            Overhead, st.sampled_from(OverheadKind), decimals(0, 60, 1)
        ),
        "allowance": st.builds(
            Allowance, st.sampled_from(AllowanceKind), decimals(0, 40, 1)
        ),
        "taxes": st.tuples(
            st.builds(make.vat, decimals(0, 30, 2)),
            st.builds(make.vat, decimals(0, 30, 2), st.just("labour"), st.just("Low")),
        ),
        "tax_inclusive": st.booleans(),
        "tax_rounding": st.sampled_from(TaxRounding),
        "minimum_charge": decimals(0, 300, 2) | st.just(D(0)),
        "minimum_tax_kind": st.sampled_from(KINDS),
    }
    return st.builds(make.rules, **(drawn | fixed))


def panels(key):
    sheets = st.builds(
        make.sheet,
        pack_price=decimals(D("0.01"), 200),
        yield_percent=decimals(1, 100, 1),
        spare_percent=decimals(0, 50, 1),
    )
    work = st.builds(
        make.joints, count=decimals(D("0.1"), 20, 1), hourly_rate=decimals(1, 90)
    )
    return st.builds(
        make.panel,
        key=st.just(key),
        quantity=st.integers(1, 30).map(D),
        materials=st.lists(sheets, min_size=1, max_size=2).map(tuple),
        work=st.lists(work, max_size=2).map(tuple),
        tax_kind=st.sampled_from(KINDS),
        override_unit_price=st.none() | decimals(0, 400),
    )


def extras(key):
    return st.builds(
        make.extra,
        key=st.just(key),
        quantity=decimals(D("0.1"), 20, 1),
        unit_price=decimals(0, 300, 3),
        tax_kind=st.sampled_from(KINDS),
        discountable=st.booleans(),
    )


def trips():
    return st.builds(make.travel, trips=st.integers(1, 4).map(D))


def reductions(kind=Reduction):
    percent = st.builds(kind, st.just(AmountKind.PERCENT), decimals(0, 100))
    return percent | st.builds(kind, st.just(AmountKind.AMOUNT), decimals(0, 900))


@st.composite
def requests(draw, /, **fixed):
    """Up to three panel groups and three extras, with or without all else."""
    groups = [draw(panels(f"p{i}")) for i in range(draw(st.integers(0, 3)))]
    least = 0 if groups else 1
    more = [draw(extras(f"x{i}")) for i in range(draw(st.integers(least, 3)))]
    drawn = {
        "rules": rules(),
        "job": st.none() | st.builds(make.job),
        "travels": st.lists(trips(), max_size=1).map(tuple),
        "discount": st.none() | reductions(),
        "deposit": st.none() | reductions(Deposit),
    } | fixed
    rest = {name: draw(strategy) for name, strategy in drawn.items()}
    return make.request(*groups, *more, **rest)
