"""Prices from rows, costs for the office, workings in the shop's words."""

from decimal import Decimal as D

import pytest

from quotes.pricing.adapter import Basis, request_of
from quotes.pricing.engine import Unit, price_quote
from quotes.pricing.engine.figures import given, times
from quotes.pricing.models import PriceRules
from quotes.pricing.reports import costs_of, show_figure, step_of, steps_of
from quotes.specs.reports import groups_in_room
from shared.conventions import Conventions, current, using
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


def priced(groups, **rules):
    basis = Basis(PriceRules(**rules), (), current().currency)
    sites = [make_site(distance_km=D(10), travel_minutes=30)]
    return price_quote(request_of(groups, basis, sites=sites))


def test_pricing_asks_nothing_more_of_the_database(groups, django_assert_num_queries):
    basis = Basis(PriceRules(), (), "EUR")
    with django_assert_num_queries(0):
        price_quote(request_of(groups, basis))


def test_a_step_opens_down_to_joints_and_minutes(groups):
    step = step_of(priced(groups).lines[0].amount)
    found = [x for x in steps_below(step) if x.label == "Corners"]
    assert found[0].sums == "4 joints × 4.5 min × 48.00 an hour"
    assert found[0].amount == "14.40"


def test_a_step_speaks_the_locale(groups):
    with using(Conventions(locale="de_DE")):
        step = step_of(priced(groups).lines[0].amount)
    found = [x for x in steps_below(step) if x.label == "Corners"]
    assert found[0].sums == "4 joints × 4,5 min × 48,00 an hour"


def test_sums_below_one_another_open_each_figure_once(groups):
    found = priced(groups, profit_percent=D(20), overhead_percent=D(5))
    totals = found.totals
    rows = [totals.subtotal, totals.net, totals.gross, totals.deposit, totals.balance]
    steps = steps_of(rows, shown=[line.amount for line in found.lines])
    labels = [x.label for step in steps for x in steps_below(step)]
    assert labels == ["Lines", "Without tax", "With tax", "Tax", "Deposit", "Balance"]
    assert "Wall panel, 600 × 1200 mm" in steps[0].sums


def test_a_cost_opens_to_the_lines_that_make_it_and_no_further(groups):
    step = costs_of(priced(groups)).labour[0].step
    assert [x.sums for x in steps_below(step)] == [
        "Wall panel, 600 × 1200 mm 57.60",
        "4 × 14.40",
    ]


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
    told = costs_of(priced(groups))
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
    rules = {
        "overhead_percent": D(10),
        "travel_rate_per_km": D(1),
        "travel_hourly_rate": D(30),
    }
    told = costs_of(priced(groups, **rules))
    assert [line.label for line in told.others] == ["Travel", "Overhead"]
    assert [line.label for line in told.labour] == ["Build", "On the road"]


def test_a_free_quote_has_no_margin_in_percent(groups):
    basis = Basis(PriceRules(), (), "EUR")
    free = request_of(groups, basis, discount_percent=D(100))
    assert costs_of(price_quote(free)).margin_percent is None


def test_the_margin_in_percent_is_of_the_price(groups):
    told = costs_of(priced(groups, profit_basis="margin", profit_percent=D(40)))
    assert abs(told.margin_percent - 40) < D("0.1")
