"""Prices as a sent quote keeps them: flat, rounded, and without the shop's costs.

`FrozenPrice` is what a quote's page, its PDF and its client see, before and after it
was sent. `FrozenCosts` is kept beside it for the shop: what was reckoned on, so that
hours and sheets can be held against it later.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from quotes.pricing.engine import ClientPrice, PricedLine, PricedQuote
from quotes.specs.frozen import read, to_json

ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class FrozenLine:
    """One line of a sent price; `kind` is panels, set_up, extra, travel or minimum."""

    key: str
    kind: str
    label: str
    quantity: Decimal
    unit_price: Decimal
    amount: Decimal
    tax_label: str
    tax_percent: Decimal


@dataclass(frozen=True, slots=True)
class FrozenTax:
    """Tax of one rate: `base` is net, or gross where prices hold their tax."""

    label: str
    percent: Decimal
    base: Decimal
    amount: Decimal


@dataclass(frozen=True, slots=True)
class FrozenPrice:
    """A whole price as the client sees it."""

    currency: str
    tax_inclusive: bool
    lines: tuple[FrozenLine, ...]
    subtotal: Decimal
    discount: Decimal
    net: Decimal
    taxes: tuple[FrozenTax, ...]
    tax: Decimal
    gross: Decimal
    deposit: Decimal
    balance: Decimal
    engine_version: str

    def line(self, key: str) -> FrozenLine:
        """Return the line of a panel group or an extra by its key."""
        return next(line for line in self.lines if line.key == key)


@dataclass(frozen=True, slots=True)
class FrozenLineCost:
    """What one line of the quote was reckoned to cost, for all its quantity."""

    key: str
    materials: Decimal
    labour: Decimal
    minutes: Decimal
    cost: Decimal


@dataclass(frozen=True, slots=True)
class FrozenStage:
    """What a stage of the work was reckoned to take, in minutes and money."""

    stage: str
    minutes: Decimal
    money: Decimal


@dataclass(frozen=True, slots=True)
class FrozenCosts:
    """What a quote was reckoned to cost: for owner and office only."""

    lines: tuple[FrozenLineCost, ...]
    stages: tuple[FrozenStage, ...]
    materials: Decimal
    labour: Decimal
    minutes: Decimal
    travel: Decimal
    overhead: Decimal
    other: Decimal
    cost: Decimal
    price: Decimal
    margin: Decimal
    engine_version: str


def freeze_price(client: ClientPrice) -> FrozenPrice:
    """Keep a client's price as plain numbers."""
    totals = client.totals
    return FrozenPrice(
        currency=client.currency,
        tax_inclusive=client.tax_inclusive,
        lines=tuple(
            FrozenLine(
                key=line.key,
                kind=str(line.kind),
                label=line.label,
                quantity=line.quantity,
                unit_price=line.unit_price.value,
                amount=line.amount.value,
                tax_label=line.tax_label,
                tax_percent=line.tax_percent,
            )
            for line in client.lines
        ),
        subtotal=totals.subtotal.value,
        discount=totals.discount.value if totals.discount else ZERO,
        net=totals.net.value,
        taxes=tuple(
            FrozenTax(tax.label, tax.percent, tax.base.value, tax.amount.value)
            for tax in totals.taxes
        ),
        tax=totals.tax.value,
        gross=totals.gross.value,
        deposit=totals.deposit.value if totals.deposit else ZERO,
        balance=totals.balance.value,
        engine_version=client.engine_version,
    )


def freeze_costs(priced: PricedQuote) -> FrozenCosts:
    """Keep what a quote was reckoned to cost as plain numbers."""
    told = priced.breakdown
    return FrozenCosts(
        lines=tuple(_line_cost(line) for line in priced.lines),
        stages=tuple(
            FrozenStage(str(x.stage), x.minutes.value, x.money.value)
            for x in told.by_stage
        ),
        materials=told.materials.value,
        labour=told.labour.value,
        minutes=told.minutes.value,
        travel=told.travel.value,
        overhead=told.overhead.value,
        other=told.other.value,
        cost=told.cost.value,
        price=told.price.value,
        margin=told.margin.value,
        engine_version=priced.engine_version,
    )


def price_to_json(price: FrozenPrice | FrozenCosts) -> dict[str, Any]:
    """Return a kept price or its costs as plain JSON."""
    data: dict[str, Any] = to_json(price)
    return data


def price_from_json(data: Mapping[str, Any]) -> FrozenPrice:
    """Read a kept price back; raises `FrozenError` with the place."""
    return read(FrozenPrice, data, "price")


def costs_from_json(data: Mapping[str, Any]) -> FrozenCosts:
    """Read kept costs back; raises `FrozenError` with the place."""
    return read(FrozenCosts, data, "costs")


def _line_cost(line: PricedLine) -> FrozenLineCost:
    cost, count = line.cost, line.quantity
    if cost is None:
        return FrozenLineCost(line.key, ZERO, ZERO, ZERO, ZERO)
    return FrozenLineCost(
        key=line.key,
        materials=count * sum((x.money.value for x in cost.materials), ZERO),
        labour=count * sum((x.money.value for x in cost.work), ZERO),
        minutes=count * sum((x.minutes.value for x in cost.work), ZERO),
        cost=count * cost.total.value,
    )
