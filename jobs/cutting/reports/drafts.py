"""What a draft quote would take in whole sheets and boards, beside what it is priced at."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from jobs.cutting.adapter import kind_of, sources_of
from jobs.cutting.engine import PricedBy, Request, bar_job, sheet_job
from jobs.cutting.models import CutKind, SawRules
from jobs.cutting.reports.rules import saw_rules
from quotes.offers.draft import Draft, work_out_draft
from quotes.offers.models import Quote
from quotes.pricing.engine import PricedQuote
from quotes.specs.engine.cutlist import CutPart, Wanted, cut_list
from shared.conventions import current
from shared.money import round_money
from shared.nesting import (
    BarPlan,
    Effort,
    Halving,
    NestingError,
    SheetPlan,
    plan_bars,
    plan_sheets,
)
from shop.catalogue.models import Material

WORK = 400
"""Most work on each material, about so many milliseconds: somebody waits for the page."""

MOST_PANELS = 200
"""Of a draft; more are left to the cut plan."""


@dataclass(frozen=True, slots=True)
class WholeLine:
    """One material: whole ones of it, what they cost, and what the quote reckons with."""

    material: Material
    priced: Decimal
    count: int = 0
    is_least: bool = False
    yield_percent: Decimal = Decimal(0)
    whole: Decimal | None = None
    refused: str = ""

    @property
    def difference(self) -> Decimal | None:
        """What whole ones cost more than the quote reckons with; less than nothing: less.

        Of the figures as they are printed, so that the page adds up.
        """
        if self.whole is None:
            return None
        currency = current().currency
        return round_money(self.whole, currency) - round_money(self.priced, currency)


@dataclass(frozen=True, slots=True)
class WholeSheets:
    """All wood of a draft, cut for this job alone."""

    lines: tuple[WholeLine, ...]
    too_many: bool = False

    @property
    def difference(self) -> Decimal:
        """What whole ones cost more in all, where their price is known."""
        known = (line.difference for line in self.lines)
        return sum((each for each in known if each is not None), Decimal(0))

    @property
    def saving(self) -> Decimal:
        """What they cost less in all."""
        return -self.difference


def whole_sheets(quote: Quote) -> WholeSheets:
    """Work out what a draft takes. Queries do not grow with its size."""
    draft = work_out_draft(quote)
    if draft.count > MOST_PANELS:
        return WholeSheets((), too_many=True)
    priced = _priced(draft.priced) if draft.priced else {}
    rules = saw_rules()
    lines = (
        _line(material, parts, priced.get(material.code, Decimal(0)), rules)
        for material, parts in _wood(draft)
    )
    return WholeSheets(tuple(lines))


def _wood(draft: Draft) -> Iterator[tuple[Material, tuple[CutPart, ...]]]:
    """Yield each material that a saw cuts, and its parts."""
    worked = [(g, t) for g in draft.groups if (t := g.worked.takeoff) is not None]
    wanted = (
        Wanted(takeoff, tuple(str(panel.pk) for panel in group.panels))
        for group, takeoff in worked
    )
    materials: dict[str, Material] = {}
    for group, _ in worked:
        materials |= group.worked.materials
    parts = cut_list(wanted, units=current().unit_system)
    for key in dict.fromkeys(part.stock for part in parts):
        yield materials[key], tuple(part for part in parts if part.stock == key)


def _priced(priced: PricedQuote) -> Mapping[str, Decimal]:
    """Add up what each material costs in the price, by its code."""
    money: Counter[str] = Counter()
    for line in priced.lines:
        for cost in line.cost.materials if line.cost else ():
            money[cost.code] += cost.money.value * line.quantity  # type: ignore[assignment]
    return {code: Decimal(amount) for code, amount in money.items()}


def _line(
    material: Material, parts: tuple[CutPart, ...], priced: Decimal, rules: SawRules
) -> WholeLine:
    try:
        found = _planned(material, parts, rules)
    except NestingError as refused:
        return WholeLine(material, priced, refused=refused.message)
    count = found.sheet_count if isinstance(found, SheetPlan) else found.bar_count
    price = material.unit_price
    return WholeLine(
        material=material,
        count=count,
        is_least=found.verdict.proven,
        yield_percent=Decimal(str(found.yield_share)) * 100,
        priced=priced,
        whole=None if price is None else price * count,
    )


def _planned(
    material: Material, parts: Iterable[CutPart], rules: SawRules
) -> SheetPlan | BarPlan:
    """Plan whole ones alone; raises `NestingError` for what can't be cut."""
    parts = tuple(parts)
    sources, _ = sources_of([material], (), currency=current().currency)
    request = Request(
        sources=sources,
        parts=parts,
        panels=(),
        thickness_ticks=material.thickness_ticks or 0,
        priced_by=PricedBy.COUNT,
        units=current().unit_system,
        kerf_ticks=rules.kerf_ticks,
        trim_ticks=rules.trim_ticks,
        halving=Halving(rules.halving),
        may_trim_strips=rules.may_trim_strips,
    )
    if kind_of(material, parts) == CutKind.BARS:
        return plan_bars(bar_job(request), Effort(WORK))
    return plan_sheets(sheet_job(request), Effort(WORK))
