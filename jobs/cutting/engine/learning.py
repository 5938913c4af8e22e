"""What several finished plans say together of the average yield (pure)."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

LEAST_PERCENT, MOST_PERCENT = Decimal(10), Decimal(100)
"""What the price rules take as a yield, in percent."""

FINE = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class Found:
    """Area of parts and of the stock used up for them in one plan, in m²."""

    parts_m2: Decimal
    stock_m2: Decimal

    @property
    def percent(self) -> Decimal:
        """The part of the stock that ended up in panels, in percent to one decimal."""
        return as_percent(self.parts_m2, self.stock_m2)


def as_percent(parts_m2: Decimal, stock_m2: Decimal) -> Decimal:
    """Return one area as a share of the other, in percent to one decimal, half up."""
    return (100 * parts_m2 / stock_m2).quantize(FINE, rounding=ROUND_HALF_UP)


def proposed(found: Iterable[Found]) -> Decimal:
    """Return the yield that would have been right on all of these together, in percent.

    Areas are added before they are divided: a large plan counts for more than a small one.
    Raises `ValueError` where nothing was found.
    """
    found = tuple(found)
    if not found:
        raise ValueError("nothing was found")
    parts = sum((each.parts_m2 for each in found), Decimal(0))
    stock = sum((each.stock_m2 for each in found), Decimal(0))
    return min(MOST_PERCENT, max(LEAST_PERCENT, as_percent(parts, stock)))
