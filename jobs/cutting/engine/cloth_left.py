"""What is left of cloth and worth keeping, and what the plan made of it (pure).

A yield here is parts by what left the stores, kept remnants taken off.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from jobs.cutting.engine.cloth import ClothRequest
from shared.length import TICKS_PER_M
from shared.nesting.rolls import RollPlan

FINEST = Decimal("0.0001")


@dataclass(frozen=True, slots=True)
class Rest:
    """A remnant: of which roll, by its number in the plan; lengths in ticks."""

    key: str
    roll: str
    number: int
    lot: str
    length_ticks: int
    width_ticks: int
    for_repairs: bool = False

    @property
    def area_m2(self) -> Fraction:
        """Its area in m², exact."""
        return Fraction(self.length_ticks * self.width_ticks, TICKS_PER_M**2)


def rests_of(
    request: ClothRequest, plan: RollPlan, keep_length_ticks: int, keep_width_ticks: int
) -> tuple[Rest, ...]:
    """Return remnants for repairs, ends of remnants, and scraps of at least a size.

    What is left on a roll in the stores stays on it and is no remnant.
    """
    found: list[Rest] = []
    for number, use in enumerate(plan.rolls, start=1):
        of = use.roll, number, use.lot
        found += [
            Rest(
                f"{number}-repairs-{piece.copy}",
                *of,
                piece.along_ticks,
                piece.across_ticks,
                for_repairs=True,
            )
            for piece in use.pieces
            if piece.for_repairs
        ]
        left = use.left_ticks or 0
        if request.source(use.roll).is_piece and left >= keep_length_ticks:
            found.append(Rest(f"{number}-end", *of, left, use.usable_ticks))
        found += [
            Rest(
                f"{number}-{scrap.x_ticks}-{scrap.y_ticks}",
                *of,
                scrap.along_ticks,
                scrap.across_ticks,
            )
            for scrap in use.worth_keeping(keep_width_ticks, keep_length_ticks)
        ]
    return tuple(found)


def area_in_parts_m2(request: ClothRequest) -> Decimal:
    """Return the area of all pieces for panels, in m²."""
    ticks = sum(
        part.width_ticks * part.height_ticks * part.count
        for part in request.parts
        if not part.for_repairs
    )
    return _m2(Fraction(ticks, TICKS_PER_M**2))


def area_used_m2(plan: RollPlan, kept: Iterable[Rest]) -> Decimal:
    """Return what was cut off between the selvedges, less what is kept of it, in m²."""
    ticks = sum(use.cut_ticks * use.usable_ticks for use in plan.rolls)
    whole = Fraction(ticks, TICKS_PER_M**2)
    back = sum((r.area_m2 for r in kept if not r.key.endswith("-end")), Fraction())
    return _m2(whole - back)


def _m2(area: Fraction) -> Decimal:
    exact = Decimal(area.numerator) / Decimal(area.denominator)
    return exact.quantize(FINEST)
