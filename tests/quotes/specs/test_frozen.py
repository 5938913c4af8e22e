import json
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quotes.specs import frozen
from quotes.specs.engine.model import (
    Blocking,
    Brace,
    Build,
    Driver,
    Hanging,
    Item,
    Lies,
    OperationUse,
    PanelKind,
    PointRule,
    Runs,
    Stage,
    Stock,
    StockKind,
    Through,
)

LENGTHS = st.integers(1, 6_400_000)
AMOUNTS = st.decimals(Decimal("0.001"), Decimal(1000), places=3)
TEXTS = st.text(min_size=1, max_size=20)
BRACES = st.builds(
    Brace,
    name=TEXTS,
    runs=st.sampled_from(Runs),
    lies=st.sampled_from(Lies),
    strip_ticks=LENGTHS,
    stock=st.none() | TEXTS,
    setback_ticks=LENGTHS,
)
ITEMS = st.builds(
    Item, material=TEXTS, quantity=AMOUNTS, driver=st.sampled_from(Driver)
)
USES = st.builds(
    OperationUse,
    key=TEXTS,
    driver=st.sampled_from(Driver),
    stage=st.sampled_from(Stage),
)
BUILDS = st.builds(
    Build,
    key=TEXTS,
    name=TEXTS,
    kind=st.sampled_from(PanelKind),
    depth_ticks=LENGTHS,
    frame_stock=TEXTS,
    hanging=st.just(Hanging.CHAIN),
    points=st.just(PointRule(3, 2)),
    blocking=st.none() | st.just(Blocking(32_000, 16_000)),
    through=st.just(Through.HEIGHT),
    stile_bevel_deg=st.floats(0, 60),
    braces=st.lists(BRACES, max_size=3).map(tuple),
    items=st.lists(ITEMS, max_size=3).map(tuple),
    operations=st.lists(USES, max_size=3).map(tuple),
    one_person_kg=st.floats(1, 60),
)
STOCKS = st.builds(
    Stock,
    key=TEXTS,
    name=TEXTS,
    kind=st.just(StockKind.SHEET),
    thickness_ticks=LENGTHS,
    width_ticks=LENGTHS,
    density_kg_m3=st.floats(1, 2000),
    directional=st.booleans(),
)


def through_text(value):
    return json.loads(json.dumps(frozen.to_json(value), sort_keys=True))


@given(BUILDS)
def test_a_build_comes_back_equal(build):
    assert frozen.build_from_json(through_text(build)) == build


@given(STOCKS)
def test_stock_comes_back_equal(stock):
    assert frozen.stock_from_json(through_text(stock)) == stock


def stock_json(**changed):
    stock = Stock("ply", "Plywood", StockKind.SHEET, thickness_ticks=4800)
    return frozen.to_json(stock) | changed


@pytest.mark.parametrize(
    "changed",
    [
        {"colour": "red"},
        {"kind": "cheese"},
        {"thickness_ticks": "4800"},
        {"thickness_ticks": 1.5},
        {"thickness_ticks": True},
        {"directional": 1},
        {"name": None},
    ],
)
def test_what_the_schema_does_not_know_is_refused(changed):
    with pytest.raises(frozen.FrozenError):
        frozen.stock_from_json(stock_json(**changed))


def test_a_field_without_default_cannot_be_missing():
    data = stock_json()
    del data["kind"]
    with pytest.raises(frozen.FrozenError, match="kind"):
        frozen.stock_from_json(data)


def test_an_older_document_gets_the_default_of_a_later_field():
    data = stock_json()
    del data["unit"]
    assert frozen.stock_from_json(data).unit == "each"
