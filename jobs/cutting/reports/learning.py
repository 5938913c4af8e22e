"""Yields that finished plans found, beside what prices reckon with."""

from __future__ import annotations

import uuid
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from jobs.cutting.engine.learning import Found, proposed
from jobs.cutting.models import YieldFinding
from quotes.pricing.models import PriceRules
from quotes.specs.models import BuildSpec

LAST = 10
"""How many of the last plans an average is taken over: wood and habits change."""


@dataclass(frozen=True, slots=True)
class OnePlan:
    """What one plan found."""

    finding: YieldFinding
    percent: Decimal


@dataclass(frozen=True, slots=True)
class Learnt:
    """A build, or cloth: what prices reckon with, what the last plans say."""

    build: uuid.UUID | None
    name: str
    now: Decimal | None
    is_own: bool
    proposed: Decimal
    plans: tuple[OnePlan, ...]
    is_open: bool

    @property
    def key(self) -> str:
        """What a form names it by."""
        return str(self.build) if self.build else "cloth"

    @property
    def price_percent(self) -> Decimal | None:
        """By how much the material's part of the price would change."""
        return None if self.now is None else 100 * self.now / self.proposed - 100

    @property
    def less_percent(self) -> Decimal | None:
        """By how much it would be less."""
        return None if self.price_percent is None else -self.price_percent


def learnt() -> tuple[Learnt, ...]:
    """Return every build that finished plans say something of, what is open first.

    Three queries.
    """
    rules = PriceRules.objects.first()
    rows = YieldFinding.objects.with_plan().in_order()
    groups = [list(g) for _, g in groupby(rows, key=lambda row: row.build)]
    builds = BuildSpec.objects.in_bulk([g[0].build for g in groups if g[0].build])
    found = (_learnt(group, builds.get(group[0].build), rules) for group in groups)
    return tuple(sorted(found, key=lambda each: (not each.is_open, each.name)))


def _learnt(
    rows: Iterable[YieldFinding], spec: BuildSpec | None, rules: PriceRules | None
) -> Learnt:
    rows = tuple(rows)
    build, last = rows[0].build, rows[:LAST]
    own = spec.wood_yield_percent if spec else None
    average = None
    if rules:
        average = rules.wood_yield_percent if build else rules.fabric_yield_percent
    found = [(row, Found(row.parts_m2, row.stock_m2)) for row in last]
    return Learnt(
        build=build,
        name=(spec.name if spec else rows[0].build_name) if build else "Cloth",
        now=average if own is None else own,
        is_own=own is not None,
        proposed=proposed(each for _, each in found),
        plans=tuple(OnePlan(row, each.percent) for row, each in found),
        is_open=any(row.decided_at is None for row in rows)
        and (spec is not None or not build),
    )
