"""What any plan must take at least, by area and by the lengths that pieces add up to."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, gcd

import numpy as np

from shared.nesting.rolls.table import Table

SUMS = 40_000_000  # bits of all lengths that pieces can add up to


def area_cost(table: Table) -> Fraction:
    """Return what the cells' area must cost, the cheapest rolls first."""
    need = sum(a * n for a, n in zip(table.area, table.demand, strict=True))
    cost = Fraction(0)
    rates = rates_of(table)
    kinds = range(len(table.kinds))
    for kind in sorted(kinds, key=lambda k: rates[k] / table.kinds[k].width):
        width, most = table.kinds[kind].width, most_of(table, kind)
        part = need if most is None else min(need, most * width)
        cost += rates[kind] * Fraction(part, width)
        need -= part
    return cost


def bound_of(table: Table, cells_cost: Fraction) -> int:
    """Return what a plan costs at least whose cells cost at least so much.

    The last row of each roll may be shorter than its cells, and each roll is trimmed.
    """
    job, kinds = table.job, table.kinds
    if len(kinds) == 1 and kinds[0].roll.is_endless:
        length = next_sum(table, ceil(cells_cost / kinds[0].price))
        return kinds[0].cost(length - table.most_slack + job.trim_ticks)
    if all(kind.whole for kind in kinds):
        step = gcd(*(kind.price for kind in kinds)) or 1
        return ceil(cells_cost / step) * step
    over = max(0, table.most_slack - job.trim_ticks)
    for kind in kinds:
        many = 1 if kind.roll.is_endless else kind.limit or sum(table.demand)
        cells_cost -= 0 if kind.whole else kind.price * over * many
    return max(0, ceil(cells_cost))


def rates_of(table: Table) -> list[Fraction]:
    """Return what a tick of each kind costs at least: a whole roll's price shared out."""
    return [
        Fraction(k.price, k.room + table.most_slack)
        if k.whole and k.room
        else Fraction(k.price)
        for k in table.kinds
    ]


def most_of(table: Table, kind: int) -> int | None:
    """Return how many ticks of cells all rolls of a kind hold, None without end."""
    one = table.kinds[kind]
    if one.room is None or one.limit is None:
        return None
    return one.limit * (one.room + table.most_slack)


def next_sum(table: Table, length: int) -> int:
    """Return the least length, of those that cells one after the other can add up to.

    Pieces can be pushed back until each lies against another or the beginning, so that
    the end of the last is such a sum [D].
    """
    step = int(np.gcd.reduce([option.along for option in table.options]))
    least = -(-length // step)
    most = 2 * least + max(o.along for o in table.options) // step
    count = sum(table.demand)
    if most > SUMS or most * count > 200 * SUMS:
        return least * step
    sums = 1
    window = (1 << (most + 1)) - 1
    for item, times in enumerate(table.demand):
        for along in {table.options[o].along // step for o in table.ways[item]}:
            for times_at_once in _powers(min(times, most // along)):
                sums |= (sums << (along * times_at_once)) & window
    above = sums >> least
    return (
        (least + ((above & -above).bit_length() - 1)) * step if above else least * step
    )


def _powers(times: int) -> list[int]:
    parts, power = [], 1
    while times > 0:
        parts.append(min(power, times))
        times -= parts[-1]
        power *= 2
    return parts
