"""What is left over and worth keeping, one by one, each by a key to tick (pure)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from jobs.cutting.engine.request import Request
from shared.length import TICKS_PER_M
from shared.nesting import BarPlan, SheetPlan


@dataclass(frozen=True, slots=True)
class Left:
    """One offcut: of which sheet or bar, by its number in the plan; lengths in ticks."""

    key: str
    source: str
    number: int
    length_ticks: int
    width_ticks: int

    @property
    def area_m2(self) -> Fraction:
        """Its area in m², exact."""
        return Fraction(self.length_ticks * self.width_ticks, TICKS_PER_M**2)


def left_over(
    plan: SheetPlan | BarPlan,
    keep_length_ticks: int,
    keep_width_ticks: int,
    request: Request,
) -> tuple[Left, ...]:
    """Return every offcut of at least a size, in the order of the sheets."""
    if isinstance(plan, BarPlan):
        return _bars(plan, keep_length_ticks, request)
    return tuple(
        Left(
            key=f"{number}-{kept.offcut.x_ticks}-{kept.offcut.y_ticks}",
            source=kept.sheet,
            number=number,
            length_ticks=kept.offcut.length_ticks,
            width_ticks=kept.offcut.width_ticks,
        )
        for kept in plan.worth_keeping(keep_length_ticks, keep_width_ticks)
        for number in range(kept.first_sheet, kept.last_sheet + 1)
    )


def _bars(plan: BarPlan, keep_length_ticks: int, request: Request) -> tuple[Left, ...]:
    found, number = [], 0
    for pattern in plan.patterns:
        for _ in range(pattern.count):
            number += 1
            if pattern.left_ticks >= keep_length_ticks:
                width = request.source(pattern.bar).width_ticks
                found.append(
                    Left(
                        f"{number}-end", pattern.bar, number, pattern.left_ticks, width
                    )
                )
    return tuple(found)
