"""Ticks to metres and square metres.

A tick is 3.125 µm (1 mm = 320, 1 in = 8128), so metres and square metres are exact
terminating decimals.
"""

from __future__ import annotations

from decimal import Decimal

M_PER_TICK = Decimal("0.000003125")
M2_PER_TICK2 = M_PER_TICK * M_PER_TICK


def metres(ticks: int) -> Decimal:
    """Return a length in m, exact."""
    return exact(ticks * M_PER_TICK)


def square_metres(width_ticks: int, height_ticks: int) -> Decimal:
    """Return an area in m², exact."""
    return exact(width_ticks * height_ticks * M2_PER_TICK2)


def exact(value: Decimal) -> Decimal:
    """Return the same number without trailing zeros."""
    # normalize() alone would print 100 as 1E+2.
    return (
        value.quantize(Decimal(1))
        if value == value.to_integral()
        else value.normalize()
    )
