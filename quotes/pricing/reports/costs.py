"""What a quote costs and leaves, laid out for the owner and the office."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import partial

from quotes.pricing.engine import Figure, PricedQuote
from quotes.pricing.reports.words import step_of
from quotes.specs.reports.tables import Step
from shop.catalogue.models import WorkStage

KIND_WORDS = {
    "sheet": "Sheet goods",
    "board": "Boards",
    "cloth": "Fabric",
    "fill": "Fill",
    "hardware": "Hardware",
    "consumable": "Consumables",
}


@dataclass(frozen=True, slots=True)
class CostLine:
    """One part of the cost: money, and its working.

    `minutes` is None where it isn't labour.
    """

    label: str
    money: Decimal
    step: Step
    minutes: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Costs:
    """What a quote costs and leaves: never for makers, fitters or clients."""

    materials: tuple[CostLine, ...]
    labour: tuple[CostLine, ...]
    others: tuple[CostLine, ...]
    minutes: Decimal
    cost: CostLine
    price: CostLine
    margin: CostLine
    margin_percent: Decimal | None


def costs_of(priced: PricedQuote) -> Costs:
    """Lay out what a quote costs; what its lines and sums open is only named here."""
    told = priced.breakdown
    percent = told.margin_percent
    line = partial(_line, shown=tuple(_shown(priced)))
    others = (told.travel, told.overhead, told.other)
    return Costs(
        materials=tuple(line(KIND_WORDS[x.kind], x.money) for x in told.by_kind),
        labour=tuple(
            line(_stage(x.stage), x.money, minutes=x.minutes) for x in told.by_stage
        ),
        others=tuple(line(x.label, x) for x in others if x.value),
        minutes=told.minutes.value,
        cost=line("Cost", told.cost),
        price=line("Price without tax", told.price),
        margin=line("Margin", told.margin),
        margin_percent=None if percent is None else percent.value,
    )


def _shown(priced: PricedQuote) -> Iterator[Figure]:
    """Yield what a quote's page opens elsewhere: line by line, sum by sum."""
    told, totals = priced.breakdown, priced.totals
    for cost in (line.cost for line in priced.lines if line.cost):
        yield from (use.money for use in cost.materials)
        yield from (item.money for item in cost.work)
        yield from (part for part in (cost.travel, cost.overhead) if part)
    yield from (totals.subtotal, totals.gross, totals.tax)
    yield from (part for part in (totals.discount,) if part)
    yield from (item.money for item in told.by_kind)
    yield from (item.money for item in told.by_stage)
    yield from (told.travel, told.overhead, told.other, told.cost)


def _line(
    label: str,
    money: Figure,
    *,
    shown: tuple[Figure, ...],
    minutes: Figure | None = None,
) -> CostLine:
    return CostLine(
        label=label,
        money=money.value,
        step=step_of(money, shown=shown),
        minutes=None if minutes is None else minutes.value,
    )


def _stage(stage: str) -> str:
    """Return the shop's word for a stage; the road isn't one of the catalogue's."""
    words = dict(WorkStage.choices)
    return str(words.get(stage, "on the road")).capitalize()
