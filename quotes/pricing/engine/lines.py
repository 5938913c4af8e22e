"""Lines of a quote: unit price from cost, and the amount, rounded once."""

from decimal import Decimal

from quotes.pricing.engine.costing import (
    WHOLE,
    UnitCost,
    material_cost,
    travel_cost,
    travel_work,
    unit_cost,
    work_cost,
)
from quotes.pricing.engine.demand import Extra, JobDemand, PanelDemand, Travel
from quotes.pricing.engine.figures import (
    Audience,
    Figure,
    Op,
    Unit,
    add,
    combine,
    given,
    rounded,
    subtract,
    times,
)
from quotes.pricing.engine.results import ClientLine, LineKind, PricedLine
from quotes.pricing.engine.rules import PriceRules, ProfitKind, TaxRate

ONE = Decimal(1)
ZERO = Decimal(0)


def panel_line(panel: PanelDemand, rules: PriceRules) -> PricedLine:
    """Price one panel group; no other line has any say in it."""
    tax = rules.tax_rate(panel.tax_kind)
    cost = unit_cost(
        panel.label,
        materials=tuple(material_cost(use) for use in panel.materials),
        work=tuple(work_cost(work, rules.allowance) for work in panel.work),
        overhead=rules.overhead,
    )
    price = _priced(panel.label, cost.total, rules, tax)
    if panel.override_unit_price is not None:
        by_hand = given("set by hand", panel.override_unit_price, Unit.MONEY)
        price = rounded(f"Price of {panel.label}", by_hand, rules.currency)
    return PricedLine(
        key=panel.key,
        kind=LineKind.PANELS,
        label=panel.label,
        quantity=panel.quantity,
        unit_price=price,
        amount=_amount(panel.label, panel.quantity, price, rules.currency),
        tax=tax,
        discountable=True,
        cost=cost,
    )


def setup_line(job: JobDemand, rules: PriceRules) -> PricedLine:
    """Price what the job takes once."""
    cost = unit_cost(
        job.label,
        materials=tuple(material_cost(use) for use in job.materials),
        work=tuple(work_cost(work, rules.allowance) for work in job.work),
        overhead=rules.overhead,
    )
    return _single("set-up", LineKind.SET_UP, job.label, cost, job.tax_kind, rules)


def travel_line(travel: Travel, rules: PriceRules) -> PricedLine:
    """Price the trips, as a charge that a discount doesn't touch."""
    cost = unit_cost(
        travel.label,
        work=travel_work(travel),
        travel=travel_cost(travel),
        overhead=rules.overhead,
    )
    return _single(
        travel.key, LineKind.TRAVEL, travel.label, cost, travel.tax_kind, rules
    )


def extra_line(extra: Extra, rules: PriceRules) -> PricedLine:
    """Price a line of the shop's own; a price given is never rounded by itself."""
    tax = rules.tax_rate(extra.tax_kind)
    total = given(f"Cost of {extra.label}", extra.unit_cost or ZERO, Unit.MONEY)
    if extra.unit_price is not None:
        price = given(f"Price of {extra.label}", extra.unit_price, Unit.MONEY)
    else:
        price = _priced(extra.label, total, rules, tax)
    return PricedLine(
        key=extra.key,
        kind=LineKind.EXTRA,
        label=extra.label,
        quantity=extra.quantity,
        unit_price=price,
        amount=_amount(extra.label, extra.quantity, price, rules.currency),
        tax=tax,
        discountable=extra.discountable,
        cost=None if extra.unit_cost is None else UnitCost((), (), None, None, total),
    )


def minimum_line(subtotal: Figure, rules: PriceRules) -> PricedLine | None:
    """Return the line that lifts a small job to the minimum charge, if one must."""
    least = given("minimum charge", rules.minimum_charge, Unit.MONEY)
    missing = rounded(
        "Up to the minimum charge",
        subtract("short of it", least, subtotal),
        rules.currency,
    )
    if missing.value <= ZERO:
        return None
    return PricedLine(
        key="minimum",
        kind=LineKind.MINIMUM,
        label="Up to the minimum charge",
        quantity=ONE,
        unit_price=missing,
        amount=_amount("Up to the minimum charge", ONE, missing, rules.currency),
        tax=rules.tax_rate(rules.minimum_tax_kind),
        discountable=False,
        cost=None,
    )


def client_line(line: PricedLine, currency: str) -> ClientLine:
    """Return the line with its unit price as a plain fact and no cost under it."""
    price = given(
        "price of one", line.unit_price.value, Unit.MONEY, audience=Audience.CLIENT
    )
    return ClientLine(
        key=line.key,
        kind=line.kind,
        label=line.label,
        quantity=line.quantity,
        unit_price=price,
        amount=_amount(
            line.label, line.quantity, price, currency, audience=Audience.CLIENT
        ),
        tax_label=line.tax.label if line.tax else "",
        tax_percent=line.tax.percent if line.tax else ZERO,
    )


def tax_share(tax: TaxRate, audience: Audience) -> Figure:
    """Return the whole and the tax on it, in percent."""
    rate = given(tax.label, tax.percent, Unit.PERCENT, audience=audience)
    whole = given(WHOLE.label, WHOLE.value, Unit.PERCENT, audience=audience)
    return add("with tax", (whole, rate), Unit.PERCENT)


def _single(
    key: str,
    kind: LineKind,
    label: str,
    cost: UnitCost,
    tax_kind: str,
    rules: PriceRules,
) -> PricedLine:
    """Return a line of one thing, priced by its cost."""
    tax = rules.tax_rate(tax_kind)
    price = _priced(label, cost.total, rules, tax)
    return PricedLine(
        key=key,
        kind=kind,
        label=label,
        quantity=ONE,
        unit_price=price,
        amount=_amount(label, ONE, price, rules.currency),
        tax=tax,
        discountable=kind is not LineKind.TRAVEL,
        cost=cost,
    )


def _priced(label: str, cost: Figure, rules: PriceRules, tax: TaxRate | None) -> Figure:
    """Put the profit on the cost, and the tax in if prices hold it; round."""
    percent = rules.profit.percent
    name = f"Price of {label}"
    if rules.profit.kind is ProfitKind.MARKUP:
        markup = given("markup", percent, Unit.PERCENT)
        price = times(name, cost, add("with markup", (WHOLE, markup), Unit.PERCENT))
    else:
        margin = given("margin", percent, Unit.PERCENT)
        kept = subtract("cost's part", WHOLE, margin, unit=Unit.PERCENT)
        price = combine(name, Op.QUOTIENT, (cost, kept), Unit.MONEY)
    if rules.tax_inclusive and tax is not None:
        price = times(f"{name} with tax", price, tax_share(tax, Audience.SHOP))
    return rounded(name, price, rules.currency)


def _amount(
    label: str,
    quantity: Decimal,
    price: Figure,
    currency: str,
    *,
    audience: Audience = Audience.SHOP,
) -> Figure:
    """Return quantity × unit price, rounded at the line."""
    count = given("quantity", quantity, Unit.COUNT, audience=audience)
    return rounded(label, times(label, count, price), currency)
