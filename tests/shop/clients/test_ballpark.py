"""The ballpark and the cautions of an enquiry, reckoned without a database."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.clients.engine import (
    BallparkError,
    Range,
    Told,
    ballpark,
    cautions,
)

PER_M2 = Range(Decimal(60), Decimal(95))
PER_PANEL = Range(Decimal(180), Decimal(260))


def _reckon(**given):
    known = {"floor_m2": None, "panels": None, "per_m2": PER_M2, "per_panel": PER_PANEL}
    return ballpark(**known | given)


def test_panels_alone_make_a_ballpark():
    found = _reckon(panels=14)  # 2520 to 3640
    assert found.total == Range(Decimal(2500), Decimal(3700))
    assert found.shares[0].comes_to == Range(Decimal(2520), Decimal(3640))


def test_a_floor_area_alone_makes_a_ballpark():
    assert _reckon(floor_m2=Decimal("41.5")).total == Range(
        Decimal(2400), Decimal(4000)
    )


def test_both_ways_span_the_widest_range():
    found = _reckon(floor_m2=Decimal(42), panels=10)  # 2520-3990 and 1800-2600
    assert found.total == Range(Decimal(1800), Decimal(4000))
    assert len(found.shares) == 2


@pytest.mark.parametrize(
    "given",
    [{}, {"panels": 3, "per_panel": None}, {"floor_m2": Decimal(9), "per_m2": None}],
)
def test_without_numbers_or_rates_nothing_is_guessed(given):
    assert _reckon(**given) is None


@pytest.mark.parametrize(
    ("field", "given"),
    [("panels", {"panels": 0}), ("floor_m2", {"floor_m2": Decimal(-1)})],
)
def test_a_number_of_nothing_is_refused_by_name(field, given):
    with pytest.raises(BallparkError) as refused:
        _reckon(**given)
    assert refused.value.field == field


def test_a_range_out_of_order_is_refused():
    with pytest.raises(BallparkError):
        Range(Decimal(2), Decimal(1))


def test_a_rate_of_nothing_gives_nothing():
    free = Range(Decimal(0), Decimal(0))
    assert _reckon(panels=1, per_panel=free).total == free


AMOUNTS = st.decimals(min_value="0.01", max_value="99999", places=2)


@given(panels=st.integers(1, 2000), ends=st.tuples(AMOUNTS, AMOUNTS))
def test_rounding_never_narrows_the_range(panels, ends):
    each = Range(min(ends), max(ends))
    found = _reckon(panels=panels, per_panel=each)
    assert found.total.low <= panels * each.low
    assert found.total.high >= panels * each.high


@given(st.integers(1, 1999))
def test_a_panel_more_is_never_cheaper(panels):
    fewer, more = _reckon(panels=panels), _reckon(panels=panels + 1)
    assert fewer.total.low <= more.total.low
    assert fewer.total.high <= more.total.high


def _keys(**known):
    return [c.key for c in cautions(Told(**{"year_built": 2010} | known))]


def test_a_new_house_of_ones_own_needs_no_caution():
    assert _keys(tenant=False, shared_use=False) == []


@pytest.mark.parametrize(
    ("known", "keys"),
    [
        ({"noise_comes_through": True}, ["soundproof"]),
        ({"tenant": True}, ["landlord", "fire_papers"]),
        ({"shared_use": True}, ["fire_papers"]),
        ({"year_built": None}, ["old"]),
        ({"year_built": 1985}, ["old"]),
        ({"year_built": 1986}, []),
    ],
)
def test_each_caution_has_its_trigger(known, keys):
    assert _keys(**known) == keys
