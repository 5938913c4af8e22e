"""A whole shared out so that the parts add up to it."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_FLOOR, Decimal

STEP = Decimal("0.001")
"""The finest amount that the stores keep."""


def share_amount(total: Decimal, weights: Sequence[int]) -> list[Decimal]:
    """Share an amount out by weights, each to a thousandth; together they are the whole.

    Each is rounded down, and what is left over goes to the largest remainders, the
    earlier first among equals: so no part of a sheet is lost between two jobs.
    """
    whole = sum(weights)
    steps = int(total / STEP)
    exact = [Decimal(steps * weight) / whole for weight in weights]
    shares = [int(each.to_integral_value(ROUND_FLOOR)) for each in exact]
    by_remainder = sorted(range(len(shares)), key=lambda i: shares[i] - exact[i])
    for index in by_remainder[: steps - sum(shares)]:
        shares[index] += 1
    return [share * STEP for share in shares]
