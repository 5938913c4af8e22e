"""Prices from rows, costs for the office, workings in the shop's words."""

from decimal import Decimal as D

import pytest

from quotes.pricing.adapter import ExtraLine
from quotes.pricing.engine import Unit, walk
from quotes.pricing.engine.figures import given, times
from quotes.pricing.frozen import (
    costs_from_json,
    freeze_costs,
    freeze_price,
    price_from_json,
    price_to_json,
)
from quotes.pricing.models import PriceRules, TaxRate
from quotes.pricing.reports import (
    basis,
    costs_of,
    price_groups,
    show_figure,
    step_of,
)
from quotes.specs.frozen import FrozenError
from quotes.specs.reports import groups_in_room
from shared.conventions import Conventions, using
from shared.length import UnitSystem
from shop.surveys.models import Room
from tests.factories.catalogue import make_operation
from tests.factories.clients import make_site
from tests.factories.specs import make_planned, make_spec, make_spec_operation


@pytest.fixture
def groups(db):
    room = Room.objects.create(site=make_site(), name="Front room")
    spec = make_spec(name="Wall panel")
    make_spec_operation(spec=spec, operation=make_operation(name="Corners"))
    for _ in range(4):
        make_planned(room=room, spec=spec)
    return groups_in_room(room)


def steps_below(step):
    yield step
    for below in step.steps:
        yield from steps_below(below)


def test_a_shop_without_rules_prices_at_cost(groups):
    priced = price_groups(groups)
    assert priced.totals.gross.value == priced.lines[0].amount.value
    assert abs(priced.breakdown.margin.value) < D("0.05")


def test_a_price_takes_two_queries(groups, django_assert_num_queries):
    with django_assert_num_queries(2):
        price_groups(groups)


def test_no_query_when_the_rules_are_at_hand(groups, django_assert_num_queries):
    on = basis()
    with django_assert_num_queries(0):
        price_groups(groups, on=on)


def test_the_shops_rules_and_taxes_are_read(groups):
    PriceRules.objects.create(profit_percent=D(50), deposit_percent=D(40))
    TaxRate.objects.create(line_kind="panels", percent=D(19))
    totals = price_groups(groups, discount_percent=D(10)).totals
    assert totals.taxes[0].percent == 19
    assert totals.deposit.value == (totals.gross.value * D("0.4")).quantize(D("0.01"))
    assert totals.discount.value > 0


def test_the_currency_is_the_shops(groups):
    with using(Conventions(currency="JPY")):
        priced = price_groups(groups)
    assert priced.client.currency == "JPY"
    assert priced.totals.gross.value == priced.totals.gross.value.to_integral_value()


def test_a_step_opens_down_to_joints_and_minutes(groups):
    step = step_of(price_groups(groups).lines[0].amount)
    found = [x for x in steps_below(step) if x.label == "Corners"]
    assert found[0].sums == "4 joints × 4.5 min × 48.00 an hour"
    assert found[0].amount == "14.40"


def test_a_step_speaks_the_locale(groups):
    with using(Conventions(locale="de_DE")):
        step = step_of(price_groups(groups).lines[0].amount)
    found = [x for x in steps_below(step) if x.label == "Corners"]
    assert found[0].sums == "4 joints × 4,5 min × 48,00 an hour"


def imperial():
    return using(Conventions(unit_system=UnitSystem.IMPERIAL, currency="USD"))


def test_a_working_in_feet_still_holds():
    length = given("length", D("1.2192"), Unit.METRES)
    width = given("width", D("0.6096"), Unit.METRES)
    area = times("area", length, width, unit=Unit.SQUARE_METRES)
    price = given("price", D("10.7639104167"), Unit.MONEY, per=Unit.SQUARE_METRES)
    with imperial():
        assert show_figure(length) == "4 ft"
        assert show_figure(area) == "8 sq ft"
        assert show_figure(price) == "1.00 a sq ft"
        assert step_of(times("cost", area, price)).amount == "8.00"


@pytest.mark.parametrize(
    ("unit", "per", "metric", "feet"),
    [
        (Unit.KILOMETRES, None, "1,609.344 km", "1,000 miles"),
        (Unit.MINUTES, None, "1,609.344 min", "1,609.344 min"),
        (Unit.MONEY, Unit.KILOMETRES, "1,609.344 a km", "2,589.9881 a mile"),
        (Unit.MONEY, Unit.HOURS, "1,609.344 an hour", "1,609.344 an hour"),
        (Unit.PERCENT, None, "1,609.344 %", "1,609.344 %"),
    ],
)
def test_units_are_the_shops(unit, per, metric, feet):
    figure = given("x", D("1609.344"), unit, per=per)
    assert show_figure(figure) == metric
    with imperial():
        assert show_figure(figure) == feet


def test_costs_are_laid_out_for_the_office(groups):
    told = costs_of(price_groups(groups))
    assert [line.label for line in told.materials] == ["Sheet goods", "Fabric", "Fill"]
    assert [(x.label, x.minutes, x.money) for x in told.labour] == [
        ("Build", D(72), D("57.6"))
    ]
    parts = sum(x.money for x in (*told.materials, *told.labour, *told.others))
    assert abs(parts - told.cost.money) < D("1e-20")
    assert told.minutes == 72
    left = told.price.money - told.cost.money
    assert abs(told.margin.money - left) < D("1e-20")


def test_travel_and_overhead_stand_where_there_are_any(groups):
    PriceRules.objects.create(
        overhead_percent=D(10), travel_rate_per_km=D(1), travel_hourly_rate=D(30)
    )
    site = make_site(distance_km=D(10), travel_minutes=30)
    told = costs_of(price_groups(groups, sites=[site]))
    assert [line.label for line in told.others] == ["Travel", "Overhead"]
    assert [line.label for line in told.labour] == ["Build", "On the road"]


def test_a_kept_price_reads_back_as_it_was(groups):
    TaxRate.objects.create(line_kind="panels", percent=D(19))
    priced = price_groups(groups, discount_percent=D(5))
    kept = freeze_price(priced.client)
    assert price_from_json(price_to_json(kept)) == kept
    assert kept.gross == priced.totals.gross.value
    assert kept.line(groups[0].key).quantity == 4
    assert kept.net + kept.tax == kept.gross == kept.deposit + kept.balance
    assert kept.taxes[0].base == kept.net


def test_kept_costs_read_back_as_they_were(groups):
    kept = freeze_costs(price_groups(groups))
    assert costs_from_json(price_to_json(kept)) == kept
    assert sum(line.minutes for line in kept.lines) == kept.minutes == 72
    assert [stage.stage for stage in kept.stages] == ["build"]


def test_an_extra_line_without_a_cost_keeps_none(groups):
    extra = ExtraLine("x", "Lamps moved", D(1), D(40), "other")
    kept = freeze_costs(price_groups(groups, extras=[extra]))
    assert kept.lines[-1].cost == 0


def test_a_kept_price_holds_no_cost(groups):
    priced = price_groups(groups)
    told = str(price_to_json(freeze_price(priced.client)))
    for secret in (priced.lines[0].cost.total, priced.lines[0].cost.materials[0].money):
        leaves = [f for f in walk(secret) if not f.is_given]
        assert all(str(figure.value) not in told for figure in leaves)


def test_a_tampered_price_is_refused(groups):
    data = price_to_json(freeze_price(price_groups(groups).client))
    with pytest.raises(FrozenError, match=r"price\.gross"):
        price_from_json(data | {"gross": "much"})
    with pytest.raises(FrozenError, match="unknown"):
        price_from_json(data | {"cost": "1"})
