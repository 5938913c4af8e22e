"""What a finished plan's stock came to for each build (pure)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from jobs.cutting.engine.offcuts import Left
from jobs.cutting.engine.request import Request
from shared.length import TICKS_PER_M
from shared.nesting import BarPlan, SheetPlan

FINEST = Decimal("0.0001")


@dataclass(frozen=True, slots=True)
class Share:
    """Area of a build's parts, and of the stock used up for them, in m²."""

    build: str
    build_name: str
    parts_m2: Decimal
    stock_m2: Decimal


def shares(
    request: Request, plan: SheetPlan | BarPlan, kept: Iterable[Left]
) -> tuple[Share, ...]:
    """Share out what was cut up, less what was kept, by the area of each build's parts."""
    areas: dict[str, Fraction] = {}
    builds = {panel.id: panel for panel in request.panels}
    for part in request.parts:
        each = Fraction(part.width_ticks * part.length_ticks, TICKS_PER_M**2)
        for share in part.shares:
            build = builds[share.panel].build
            areas[build] = areas.get(build, Fraction()) + each * share.count
    wanted = sum(areas.values(), Fraction())
    used = _used(request, plan) - sum((left.area_m2 for left in kept), Fraction())
    names = {panel.build: panel.build_name for panel in request.panels}
    return tuple(
        Share(build, names[build], _m2(area), _m2(used * area / wanted))
        for build, area in sorted(areas.items())
    )


def _used(request: Request, plan: SheetPlan | BarPlan) -> Fraction:
    used = (
        [(layout.sheet, layout.count) for layout in plan.layouts]
        if isinstance(plan, SheetPlan)
        else [(pattern.bar, pattern.count) for pattern in plan.patterns]
    )
    ticks = sum(
        source.length_ticks * source.width_ticks * count
        for key, count in used
        for source in (request.source(key),)
    )
    return Fraction(ticks, TICKS_PER_M**2)


def _m2(area: Fraction) -> Decimal:
    exact = Decimal(area.numerator) / Decimal(area.denominator)
    return exact.quantize(FINEST)
