"""The engine's two entries: price one panel group, price a quote."""

from collections.abc import Iterator
from decimal import localcontext

from quotes.pricing.engine.breakdown import break_down
from quotes.pricing.engine.demand import PanelDemand, PriceRequest
from quotes.pricing.engine.figures import CONTEXT, Audience, Op, add
from quotes.pricing.engine.lines import (
    client_line,
    extra_line,
    minimum_line,
    panel_line,
    setup_line,
    travel_line,
)
from quotes.pricing.engine.results import (
    Breakdown,
    ClientPrice,
    LineKind,
    Note,
    NoteCode,
    PricedLine,
    PricedQuote,
    Totals,
)
from quotes.pricing.engine.rules import PriceRules
from quotes.pricing.engine.totals import LineAmount, total_up

ENGINE_VERSION = "1"
"""Stored with each result; raised whenever the same input would price otherwise."""

ASSUMPTIONS = (
    Note(
        NoteCode.AVERAGE_YIELD,
        "Wood and fabric are priced by what a panel holds, at the shop's average"
        " yield; kerf and offcuts are in the yield, not counted piece by piece.",
    ),
)


def price_panel(panel: PanelDemand, rules: PriceRules) -> PricedLine:
    """Price one group of equal panels by itself.

    The result is the line that `price_quote` would give it in any quote, because
    the price of a panel rests on nothing but the panel and the rules.

    Raises
    ------
    PricingError : the panel's kind of tax has no rate.
    """
    with localcontext(CONTEXT):
        return panel_line(panel, rules)


def price_quote(request: PriceRequest) -> PricedQuote:
    """Price a quote.

    Unit price = cost with overhead, × (1 + markup) or ÷ (1 - margin), rounded half
    up; line = quantity × unit price, rounded; totals add rounded lines. Panels come
    first, then setting up, extras, travel, and the line up to the minimum charge.

    Money is in the major unit of the rules' currency. Costs carry 34 digits and are
    never rounded.

    Raises
    ------
    PricingError : a line's kind of tax has no rate.
    """
    with localcontext(CONTEXT):
        lines = _lines(request)
        amounts = [
            LineAmount(line.key, line.amount, line.tax, line.discountable)
            for line in lines
        ]
        totals = total_up(amounts, request, Audience.SHOP)
        breakdown = break_down(lines, totals)
        client = _client_price(lines, request)
    return PricedQuote(
        lines=lines,
        totals=totals,
        breakdown=breakdown,
        client=client,
        warnings=tuple(_warnings(lines, totals, breakdown, request)),
        assumptions=ASSUMPTIONS,
        engine_version=ENGINE_VERSION,
    )


def _lines(request: PriceRequest) -> tuple[PricedLine, ...]:
    rules = request.rules
    lines = [panel_line(panel, rules) for panel in request.panels]
    if request.job is not None:
        lines.append(setup_line(request.job, rules))
    lines.extend(extra_line(extra, rules) for extra in request.extras)
    lines.extend(travel_line(travel, rules) for travel in request.travels)
    subtotal = add("Lines", tuple(line.amount for line in lines))
    top_up = minimum_line(subtotal, rules)
    return tuple(lines) if top_up is None else (*lines, top_up)


def _client_price(lines: tuple[PricedLine, ...], request: PriceRequest) -> ClientPrice:
    """Build the client's price anew, from prices alone, so no cost can come along."""
    rules = request.rules
    client_lines = tuple(client_line(line, rules.currency) for line in lines)
    amounts = [
        LineAmount(line.key, seen.amount, line.tax, line.discountable)
        for line, seen in zip(lines, client_lines, strict=True)
    ]
    return ClientPrice(
        currency=rules.currency,
        tax_inclusive=rules.tax_inclusive,
        lines=client_lines,
        totals=total_up(amounts, request, Audience.CLIENT),
        engine_version=ENGINE_VERSION,
    )


def _warnings(
    lines: tuple[PricedLine, ...],
    totals: Totals,
    breakdown: Breakdown,
    request: PriceRequest,
) -> Iterator[Note]:
    if lines[-1].kind is LineKind.MINIMUM:
        yield Note(NoteCode.MINIMUM_APPLIED, "The minimum charge lifts this small job.")
    yield from _held(totals)
    if breakdown.margin.value < 0:
        yield Note(NoteCode.BELOW_COST, "This is priced below its cost.")
    for line in lines:
        if line.kind is LineKind.EXTRA and line.cost is None:
            yield Note(
                NoteCode.COST_UNKNOWN,
                f"{line.label} has a price but no cost: the margin counts it as free.",
            )
    for panel in request.panels:
        if panel.override_unit_price is not None:
            yield Note(
                NoteCode.PRICE_SET_BY_HAND, f"{panel.label} has a price set by hand."
            )


def _held(totals: Totals) -> Iterator[Note]:
    """Say where a discount or deposit came out smaller than was asked for."""
    if totals.discount is not None and totals.discount.op is Op.SMALLEST:
        yield Note(
            NoteCode.DISCOUNT_HELD,
            "The discount is smaller than asked: it stops at the lines it comes off,"
            " and at the minimum charge.",
        )
    if totals.deposit is not None and totals.deposit.op is Op.SMALLEST:
        yield Note(NoteCode.DEPOSIT_HELD, "The deposit is held at the whole price.")
