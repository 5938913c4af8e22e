"""Laws of money that hold for every quote (Hypothesis)."""

from dataclasses import replace
from decimal import Decimal as D

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from quotes.pricing.engine import (
    Audience,
    LineKind,
    TaxRounding,
    evaluate,
    price_panel,
    price_quote,
    walk,
)
from shared.money import round_money
from tests.quotes.pricing import strategies as some

few = settings(max_examples=50)
"""Each example is a whole quote of up to six lines."""


def figures_of(totals):
    yield from (totals.subtotal, totals.net, totals.tax, totals.gross, totals.balance)
    yield from (x for x in (totals.discount, totals.deposit) if x is not None)
    for tax in totals.taxes:
        yield from (tax.base, tax.amount)


def numbers(totals):
    return [figure.value for figure in figures_of(totals)]


@few
@given(some.requests())
def test_the_total_is_the_sum_of_its_rounded_lines(request):
    priced = price_quote(request)
    totals, currency = priced.totals, request.rules.currency
    lines = sum(line.amount.value for line in priced.lines)
    off = totals.discount.value if totals.discount else D(0)
    tax = D(0) if request.rules.tax_inclusive else totals.tax.value
    assert totals.gross.value == lines - off + tax
    assert all(
        line.amount.value == round_money(line.amount.value, currency)
        for line in priced.lines
    )


@few
@given(some.requests())
def test_every_total_is_a_whole_number_of_minor_units(request):
    totals = price_quote(request).totals
    for figure in figures_of(totals):
        assert figure.value == round_money(figure.value, request.rules.currency)


@few
@given(some.requests())
def test_net_and_tax_make_the_gross_and_bases_make_the_net(request):
    totals = price_quote(request).totals
    assert totals.net.value + totals.tax.value == totals.gross.value
    assert totals.tax.value == sum(tax.amount.value for tax in totals.taxes)


@few
@given(some.requests(), st.randoms(use_true_random=False))
def test_the_order_of_lines_does_not_matter(request, random):
    panels, extras = list(request.panels), list(request.extras)
    random.shuffle(panels)
    random.shuffle(extras)
    mixed = replace(request, panels=tuple(panels), extras=tuple(extras))
    assert numbers(price_quote(mixed).totals) == numbers(price_quote(request).totals)


@few
@given(some.requests(discount=some.reductions()))
def test_a_discount_never_raises_a_price(request):
    full = price_quote(replace(request, discount=None)).totals
    less = price_quote(request).totals
    assert less.gross.value <= full.gross.value
    assert less.net.value <= full.net.value + slack(request)
    assert less.gross.value >= 0


def slack(request):
    """Gross is the truth with inclusive prices: its net may round a unit up per line."""
    if not request.rules.tax_inclusive:
        return D(0)
    by_line = request.rules.tax_rounding is TaxRounding.LINE
    return D(len(request.panels) + len(request.extras) if by_line else 2)


@few
@given(some.requests(discount=st.none()))
def test_a_discount_of_nothing_changes_nothing(request):
    nothing = replace(request, discount=some.Reduction(some.AmountKind.PERCENT, D(0)))
    assert numbers(price_quote(nothing).totals) == numbers(price_quote(request).totals)


@few
@given(some.panels("p"), some.rules(), st.integers(1, 9_999))
def test_equal_panels_cost_so_many_times_the_price_of_one(panel, rules, count):
    one = price_panel(replace(panel, quantity=D(1)), rules)
    many = price_panel(replace(panel, quantity=D(count)), rules)
    assert many.amount.value == count * one.amount.value


@few
@given(some.requests(), some.panels("new"))
def test_prices_of_panels_add_up(request, panel):
    """Adding panels adds their own price and leaves every other line alone."""
    request = replace(
        request, rules=replace(request.rules, minimum_charge=D(0)), discount=None
    )
    alone = price_panel(panel, request.rules).amount.value
    before = price_quote(request)
    after = price_quote(replace(request, panels=(*request.panels, panel)))
    assert after.totals.subtotal.value == before.totals.subtotal.value + alone
    kept = {line.key: line.amount.value for line in after.lines if line.key != "new"}
    assert kept == {line.key: line.amount.value for line in before.lines}


@few
@given(some.requests())
def test_a_group_can_be_split_without_changing_the_price(request):
    groups = [group for group in request.panels if group.quantity > 1]
    assume(groups)
    group = groups[0]
    others = tuple(x for x in request.panels if x.key != group.key)
    first = replace(group, quantity=D(1))
    rest = replace(group, key="rest", quantity=group.quantity - 1)
    split = replace(request, panels=(first, rest, *others), discount=None)
    whole = replace(request, discount=None)
    assert (
        price_quote(split).totals.subtotal.value
        == price_quote(whole).totals.subtotal.value
    )


@few
@given(some.requests())
def test_the_net_never_falls_below_the_minimum_charge(request):
    totals = price_quote(request).totals
    least = round_money(request.rules.minimum_charge, request.rules.currency)
    quoted = totals.gross if request.rules.tax_inclusive else totals.net
    assert quoted.value >= least


@few
@given(some.requests())
def test_a_deposit_lies_between_nothing_and_the_gross(request):
    totals = price_quote(request).totals
    if totals.deposit is not None:
        assert 0 <= totals.deposit.value <= totals.gross.value
    assert totals.balance.value >= 0


@few
@given(some.requests())
def test_every_figure_is_what_its_derivation_comes_to(request):
    priced = price_quote(request)
    told = priced.breakdown
    roots = [
        *figures_of(priced.totals),
        *figures_of(priced.client.totals),
        *(line.amount for line in priced.lines),
        *(told.cost, told.margin, told.minutes, told.price),
    ]
    for root in roots:
        assert evaluate(root) == root.value


@few
@given(some.requests())
def test_the_client_is_told_the_same_price_and_nothing_else(request):
    priced = price_quote(request)
    seen = priced.client
    assert seen.totals.gross.value == priced.totals.gross.value
    assert [x.amount.value for x in seen.lines] == [
        x.amount.value for x in priced.lines
    ]
    roots = [*figures_of(seen.totals)]
    roots += [figure for x in seen.lines for figure in (x.unit_price, x.amount)]
    for root in roots:
        assert all(part.audience is Audience.CLIENT for part in walk(root))


@few
@given(some.requests())
def test_costs_of_the_lines_make_the_cost_of_the_quote(request):
    priced = price_quote(request)
    lines = sum((x.quantity * x.cost.total.value for x in priced.lines if x.cost), D(0))
    assert abs(lines - priced.breakdown.cost.value) < D("1e-20")


@few
@given(some.requests())
def test_the_same_input_gives_the_same_result(request):
    assert price_quote(request) == price_quote(request)


@few
@given(some.requests())
def test_a_top_up_line_stands_only_where_the_lines_fall_short(request):
    priced = price_quote(request)
    kinds = [line.kind for line in priced.lines]
    others = sum(x.amount.value for x in priced.lines if x.kind is not LineKind.MINIMUM)
    least = round_money(request.rules.minimum_charge, request.rules.currency)
    assert (LineKind.MINIMUM in kinds) == (others < least)
