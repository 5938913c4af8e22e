"""An early range of price from a floor area, a rough count of panels, or both.

The rates are the shop's own experience of finished work; there is no general figure.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

VERSION = "ballpark-1"
FIGURES = 2
"""How many figures a ballpark keeps: more would promise what nobody knows yet."""


class BallparkError(ValueError):
    """A number that no ballpark can be made of; names its field."""

    def __init__(self, field: str, message: str) -> None:
        self.field = field
        self.message = message
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class Range:
    """A range of money in the shop's currency, the lower end first."""

    low: Decimal
    high: Decimal

    def __post_init__(self) -> None:
        """Refuse ends out of order."""
        if not 0 <= self.low <= self.high:
            raise BallparkError("rate", "A range goes from a lower to an upper end.")


@dataclass(frozen=True, slots=True)
class Share:
    """One way to the figure: so much of something, at so much each."""

    amount: Decimal
    unit: str
    each: Range
    comes_to: Range


@dataclass(frozen=True, slots=True)
class Ballpark:
    """From the lowest to the highest of all ways, rounded outwards to two figures."""

    total: Range
    shares: tuple[Share, ...]
    version: str = VERSION


def ballpark(
    *,
    floor_m2: Decimal | None,
    panels: int | None,
    per_m2: Range | None,
    per_panel: Range | None,
) -> Ballpark | None:
    """Return the range that covers every way that can be reckoned; nothing without one.

    Parameters
    ----------
    floor_m2
        Floor area in m².
    panels
        How many panels, roughly.
    per_m2, per_panel
        What finished work came to in this shop's experience, in its currency, for each
        m² of floor and for each panel.

    Returns
    -------
    Ballpark or None
        None when no number meets a rate. With both numbers the range spans both ways,
        since neither is known to be the better one.

    Raises
    ------
    BallparkError
        When a number is zero or less.
    """
    _positive("floor_m2", floor_m2)
    _positive("panels", panels)
    ways = (
        _share(floor_m2, "m²", per_m2),
        _share(None if panels is None else Decimal(panels), "panels", per_panel),
    )
    shares = tuple(way for way in ways if way)
    if not shares:
        return None
    low = min(share.comes_to.low for share in shares)
    high = max(share.comes_to.high for share in shares)
    return Ballpark(
        Range(_outward(low, ROUND_FLOOR), _outward(high, ROUND_CEILING)), shares
    )


def _positive(field: str, number: Decimal | int | None) -> None:
    if number is not None and number <= 0:
        raise BallparkError(field, "This must be more than zero.")


def _share(amount: Decimal | None, unit: str, each: Range | None) -> Share | None:
    if amount is None or each is None:
        return None
    return Share(amount, unit, each, Range(amount * each.low, amount * each.high))


def _outward(money: Decimal, rounding: str) -> Decimal:
    """Round to two figures, away from the middle of the range."""
    if not money:
        return Decimal(0)
    step = Decimal(1).scaleb(money.adjusted() - FIGURES + 1)
    return (money / step).to_integral_value(rounding) * step + 0
