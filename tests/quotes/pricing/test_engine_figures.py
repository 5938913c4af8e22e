"""Derivations: what they say, how far they open, and that they can be wrong."""

from dataclasses import replace
from decimal import Decimal as D

import pytest

from quotes.pricing.engine import (
    AmountKind,
    Deposit,
    Op,
    Profit,
    ProfitKind,
    Reduction,
    Unit,
    evaluate,
    explain,
    plain,
    price_panel,
    price_quote,
    sentence,
    walk,
)
from quotes.pricing.engine.figures import given, times
from tests.quotes.pricing.factories import (
    extra,
    joints,
    panel,
    request,
    rules,
    sheet,
    vat,
)


def test_labour_reads_as_joints_times_minutes_times_rate():
    line = price_panel(panel(), rules())
    assert (
        sentence(line.cost.work[0].money)
        == "4 joints × 4.5 min × 48.00 an hour = 14.40"
    )


def test_a_line_opens_down_to_what_was_typed_in():
    line = price_panel(panel(quantity=D(3)), rules())
    assert explain(line.amount).splitlines() == [
        "Wall panel: 3 × 17.40 = 52.20",
        "  Price of Wall panel: 17.40 × 100 % = 17.40",
        "    Cost of Wall panel: Materials 3.00 + Labour 14.40 = 17.40",
        "      Materials: Plywood 3.00 = 3.00",
        "        Plywood: 0.2 m² × 15.00 a m² = 3.00",
        "          Rails: 2 × 0.1 m × 1 m = 0.2 m²",
        "          Price of Plywood: 30.00 ÷ 2 m² = 15.00 a m²",
        "      Labour: Corner joints 14.40 = 14.40",
        "        Corner joints: 4 joints × 4.5 min × 48.00 an hour = 14.40",
        "    with markup: 100 % + 0 % = 100 %",
    ]


def test_the_depth_of_an_explanation_can_be_limited():
    line = price_panel(panel(), rules())
    assert len(explain(line.amount, depth=0).splitlines()) == 1
    assert len(explain(line.amount, depth=1).splitlines()) == 2


def test_another_locale_can_print_the_operands():
    line = price_panel(panel(), rules())
    comma = explain(line.amount, show=lambda f: plain(f).replace(".", ","), depth=0)
    assert comma == "Wall panel: 1 × 17,40 = 17,40"


def test_rounding_shares_and_limits_read_as_what_they_are():
    shop = rules(
        profit=Profit(ProfitKind.MARGIN, D(35)),
        taxes=(vat("20"), vat("5", kind="labour", label="Low")),
    )
    priced = price_quote(
        request(
            panel(tax_kind="goods"),
            extra(tax_kind="labour"),
            rules=shop,
            discount=Reduction(AmountKind.PERCENT, D(10)),
            deposit=Deposit(AmountKind.AMOUNT, D(999)),
        )
    )
    text = explain(priced.totals.balance)
    assert "Price of Wall panel: 26.7692, rounded = 26.77" in text
    assert "part of Discount: 12.68 shared over 126.77, from 0.00 to 100.00" in text
    assert "Deposit: the smaller of 999.00 or 123.41 = 123.41" in text
    assert sentence(priced.breakdown.margin_percent) == "96.69 of 114.09 = 84.7489 %"


def test_what_is_mentioned_is_not_opened_twice():
    priced = price_quote(
        request(panel(), discount=Reduction(AmountKind.PERCENT, D(10)))
    )
    lines = explain(priced.totals.balance).splitlines()
    assert sum("Corner joints:" in line for line in lines) == 1


def test_a_tampered_leaf_no_longer_gives_the_price():
    line = price_panel(panel(), rules())
    wrong = replace(line.amount.parts[0], value=D(2))
    tampered = replace(line.amount, parts=(wrong, *line.amount.parts[1:]))
    assert evaluate(line.amount) == line.amount.value
    assert evaluate(tampered) != tampered.value


def test_a_walk_meets_every_figure_once():
    figures = list(walk(price_quote(request(panel())).totals.balance))
    assert len(figures) == len({id(figure) for figure in figures})
    assert {"hourly rate", "a pack", "quantity"} <= {f.label for f in figures}


@pytest.mark.parametrize(
    ("unit", "per", "text"),
    [
        (Unit.MONEY, Unit.HOURS, "2.50 an hour"),
        (Unit.MONEY, Unit.KILOMETRES, "2.50 a km"),
        (Unit.MONEY, None, "2.50"),
        (Unit.MINUTES, None, "2.5 min"),
        (Unit.PERCENT, None, "2.5 %"),
        (Unit.COUNT, None, "2.5"),
    ],
)
def test_units_are_printed_as_they_are_read(unit, per, text):
    assert plain(given("x", D("2.50"), unit, per=per)) == text


def test_minutes_and_hours_meet_once():
    minutes = given("time", D(90), Unit.MINUTES)
    rate = given("rate", D(40), Unit.MONEY, per=Unit.HOURS)
    assert times("pay", minutes, rate).value == 60
    assert times("twice", minutes, given("n", D(2), Unit.COUNT)).value == 180


def test_a_given_figure_says_so():
    leaf = given("x", D(1), Unit.COUNT)
    assert leaf.is_given
    assert not leaf.opens
    assert leaf.symbol == ""
    assert times("y", leaf, leaf).symbol == "×"
    assert times("y", leaf, leaf).op is Op.PRODUCT


def test_a_panel_named_by_its_pace_is_slower():
    line = price_panel(panel(work=(joints(rating_percent=D(80)),)), rules())
    assert line.cost.work[0].minutes.value == D("14.4")


def test_the_tree_grows_no_faster_than_the_lines():
    def size(count):
        lines = [panel(str(i), materials=(sheet(),)) for i in range(count)]
        off = Reduction(AmountKind.PERCENT, D(10))
        priced = price_quote(request(*lines, discount=off))
        return len(explain(priced.totals.balance).splitlines())

    assert size(20) < 20 * size(1)
