"""What a cost of a hundred becomes under the shop's rules, each figure open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from quotes.pricing import engine
from quotes.pricing.adapter import Basis, rules_of
from quotes.pricing.models import LineKind
from quotes.pricing.reports.words import step_of
from quotes.specs.reports.tables import Step

HUNDRED = Decimal(100)
AN_HOUR = Decimal(60)


@dataclass(frozen=True, slots=True)
class Becomes:
    """A cost of a hundred, and the price that is made of it."""

    of: str
    price: Decimal
    with_tax: Decimal
    left: Decimal
    left_percent: Decimal
    step: Step
    tax_label: str = ""


def becomes(basis: Basis) -> tuple[Becomes, ...]:
    """Price a hundred of material, and an hour of work that costs a hundred.

    The least charge is left out: it would hide what the other rules do.
    """
    return tuple(_priced(panel, basis) for panel in _examples(basis))


def _examples(basis: Basis) -> Iterator[engine.PanelDemand]:
    material = engine.MaterialUse(
        kind=engine.MaterialKind.HARDWARE,
        code="example",
        label="Material",
        pack_price=HUNDRED,
        pack_amount=Decimal(1),
        count=Decimal(1),
        noun="pack",
    )
    work = engine.Work(
        code="example",
        label="Work",
        stage=engine.Stage.BUILD,
        count=Decimal(1),
        noun="piece of work",
        minutes_each=AN_HOUR,
        hourly_rate=HUNDRED,
    )
    taxed = basis.tax_kind(LineKind.PANELS)
    one = Decimal(1)
    yield engine.PanelDemand("material", "Material", one, (material,), (), taxed)
    yield engine.PanelDemand("work", "An hour of work", one, (), (work,), taxed)


def _priced(panel: engine.PanelDemand, basis: Basis) -> Becomes:
    rules = replace(rules_of(basis), minimum_charge=Decimal(0))
    priced = engine.price_quote(engine.PriceRequest(rules=rules, panels=(panel,)))
    told, totals = priced.breakdown, priced.totals
    percent = told.margin_percent
    return Becomes(
        of=panel.label,
        price=totals.net.value,
        with_tax=totals.gross.value,
        left=told.margin.value,
        left_percent=percent.value if percent else Decimal(0),
        step=step_of(priced.lines[0].amount),
        tax_label=rules.taxes[0].label if rules.taxes else "",
    )
