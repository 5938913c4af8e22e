"""What a quote costs and leaves, laid out for the owner and the office."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

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
    """One part of the cost: money, its share of the whole, and its working.

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
    """Lay out what a quote costs, each figure with its working."""
    told = priced.breakdown
    others = (told.travel, told.overhead, told.other)
    percent = told.margin_percent
    return Costs(
        materials=tuple(
            _line(KIND_WORDS[item.kind], item.money) for item in told.by_kind
        ),
        labour=tuple(
            _line(_stage(item.stage), item.money, item.minutes)
            for item in told.by_stage
        ),
        others=tuple(_line(x.label, x) for x in others if x.value),
        minutes=told.minutes.value,
        cost=_line("Cost", told.cost),
        price=_line("Price without tax", told.price),
        margin=_line("Margin", told.margin),
        margin_percent=None if percent is None else percent.value,
    )


def _line(label: str, money: Figure, minutes: Figure | None = None) -> CostLine:
    return CostLine(
        label=label,
        money=money.value,
        step=step_of(money),
        minutes=None if minutes is None else minutes.value,
    )


def _stage(stage: str) -> str:
    """Return the shop's word for a stage; the road isn't one of the catalogue's."""
    words = dict(WorkStage.choices)
    return str(words.get(stage, "on the road")).capitalize()
