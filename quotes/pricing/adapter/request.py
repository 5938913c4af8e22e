"""A quote put together for the engine: panels, the job, trips, extra lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from quotes.pricing import engine
from quotes.pricing.adapter.materials import items_of, materials_of, used_materials
from quotes.pricing.adapter.rules import Basis, rules_of
from quotes.pricing.adapter.work import operations_of, work_of
from quotes.pricing.engine import PricingError
from quotes.pricing.models import LineKind, PriceRules
from quotes.specs.engine.model import Takeoff
from quotes.specs.reports import PanelGroup
from shop.clients.models import Site

ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class ExtraLine:
    """A line that no panel makes, as whoever keeps such lines hands it over."""

    key: str
    text: str
    quantity: Decimal
    unit_price: Decimal
    kind: str


def request_of(
    groups: Sequence[PanelGroup],
    basis: Basis,
    *,
    sites: Iterable[Site] = (),
    extras: Iterable[ExtraLine] = (),
    discount_percent: Decimal = ZERO,
) -> engine.PriceRequest:
    """Put a quote together: panel groups, what the job takes once, trips, extra lines.

    Raises `PricingError` for what can't be priced. No query when the groups come from
    `group_panels`.
    """
    check_priced(groups)
    percent = engine.AmountKind.PERCENT
    return engine.PriceRequest(
        rules=rules_of(basis),
        panels=tuple(demand_of(group, basis) for group in groups),
        extras=tuple(_extra(line, basis) for line in extras),
        job=job_of(groups, basis),
        travels=tuple(travels_of(sites, basis.rules, basis)),
        discount=engine.Reduction(percent, discount_percent),
        deposit=engine.Deposit(percent, basis.rules.deposit_percent),
    )


def demand_of(group: PanelGroup, basis: Basis) -> engine.PanelDemand:
    """Turn a group of like panels into a line to price."""
    takeoff, spec = _takeoff(group), group.worked.spec
    return engine.PanelDemand(
        key=group.key,
        label=f"{spec.name}, {group.worked.nominal_words}",
        quantity=Decimal(group.count),
        materials=tuple(materials_of(takeoff, group, basis.rules)),
        work=tuple(work_of(takeoff, spec, once=False)),
        tax_kind=basis.tax_kind(LineKind.PANELS),
    )


def job_of(groups: Sequence[PanelGroup], basis: Basis) -> engine.JobDemand | None:
    """Gather what the job takes once: each operation and material a single time."""
    work: dict[str, engine.Work] = {}
    materials: dict[str, engine.MaterialUse] = {}
    for group in groups:
        takeoff = _takeoff(group)
        for item in work_of(takeoff, group.worked.spec, once=True):
            work.setdefault(item.code, item)
        for use in items_of(takeoff, group.worked.materials, once=True):
            known = materials.get(use.code)
            if known is None or use.count > known.count:
                materials[use.code] = use
    if not work and not materials:
        return None
    return engine.JobDemand(
        work=tuple(work.values()),
        materials=tuple(materials.values()),
        tax_kind=basis.tax_kind(LineKind.LABOUR),
    )


def travels_of(
    sites: Iterable[Site], rules: PriceRules, basis: Basis
) -> Iterator[engine.Travel]:
    """Yield the trips to each site that is any way off and costs anything to reach."""
    listed = list({site.pk: site for site in sites}.values())
    for site in listed:
        far = (
            site.distance_km if site.distance_km and rules.travel_rate_per_km else ZERO
        )
        minutes = site.travel_minutes if rules.travel_hourly_rate else 0
        if not far and not minutes:
            continue
        yield engine.Travel(
            key=f"travel-{site.pk}",
            label="Travel" if len(listed) == 1 else f"Travel to {site}",
            distance=far,
            unit=engine.DistanceUnit.KILOMETRES,
            cost_per_distance=rules.travel_rate_per_km,
            trips=Decimal(rules.trips),
            minutes_each_way=Decimal(minutes or 0),
            people=Decimal(rules.crew),
            hourly_rate=rules.travel_hourly_rate,
            tax_kind=basis.tax_kind(LineKind.TRAVEL),
        )


def check_priced(groups: Iterable[PanelGroup]) -> None:
    """Refuse, all in one sentence, materials without a price and work without a rate."""
    materials: dict[str, None] = {}
    operations: dict[str, None] = {}
    for group in groups:
        takeoff = _takeoff(group)
        for key in used_materials(takeoff):
            if not group.worked.materials[key].pack_price:
                materials[group.worked.materials[key].name] = None
        for operation in operations_of(group.worked.spec).values():
            if operation.minutes and not operation.hourly_rate:
                operations[operation.name] = None
    if materials:
        raise PricingError("pack_price", f"No price yet for: {', '.join(materials)}.")
    if operations:
        raise PricingError(
            "hourly_rate", f"No hourly rate yet for: {', '.join(operations)}."
        )


def _extra(line: ExtraLine, basis: Basis) -> engine.Extra:
    return engine.Extra(
        key=line.key,
        label=line.text,
        quantity=line.quantity,
        unit_price=line.unit_price,
        tax_kind=basis.tax_kind(line.kind),
        discountable=line.kind != LineKind.TRAVEL,
    )


def _takeoff(group: PanelGroup) -> Takeoff:
    """Return a group's takeoff; a refused size has none, and so no price."""
    if group.worked.takeoff is None:
        name, why = group.worked.spec.name, group.worked.refused
        reason = f": {why[0].message}" if why else "."
        raise PricingError("size", f"{name}, {group.size} can't be built{reason}")
    return group.worked.takeoff
