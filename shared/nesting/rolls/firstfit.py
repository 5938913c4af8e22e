"""First-fit decreasing height: what every plan is measured by, and never worse than."""

from __future__ import annotations

from collections.abc import Sequence

from shared.nesting.rolls.level import Bin, Spot, level_of
from shared.nesting.rolls.table import Table


def first_fit(
    table: Table, kinds: Sequence[int], *, upright: bool, wide: bool
) -> list[Bin] | None:
    """Return first-fit decreasing height: each piece into the first row with room.

    Of pieces as long, the ``wide`` ones go first, or those named first. Rows as long as their first piece (Coffman, Garey, Johnson and Tarjan, Performance
    bounds for level-oriented two-dimensional packing algorithms, SIAM Journal on
    Computing 9, 1980 [M]).
    """
    lying = [w[0] if upright else w[-1] for w in table.ways]
    options = table.options
    order = sorted(range(len(lying)), key=lambda i: -options[lying[i]].along)
    if wide:
        order.sort(key=lambda i: (-options[lying[i]].along, -options[lying[i]].across))
    left = list(table.demand)
    bins: list[Bin] = []
    for kind in kinds:
        limit = table.kinds[kind].limit
        count = 0
        while any(left) and (limit is None or count < limit):
            one = _first_fit_on(table, kind, order, lying, left)
            if not one.levels:
                break
            bins.append(one)
            count += 1
    return None if any(left) else bins


def _first_fit_on(
    table: Table, kind: int, order: Sequence[int], lying: Sequence[int], left: list[int]
) -> Bin:
    """Fill one roll, counting down what is left."""
    mine = table.kinds[kind]
    rows: list[tuple[list[Spot], int]] = []  # spots and how far they reach across
    lengths: list[int] = []
    for item in order:
        option = table.options[lying[item]]
        for index, (spots, used) in enumerate(rows):
            while left[item] and used + option.across <= mine.width:
                spots.append(Spot(lying[item], used, 0))
                used += option.across
                left[item] -= 1
            rows[index] = (spots, used)
        while left[item] and option.across <= mine.width:
            cells = sum(lengths) + option.along - table.least_slack
            if mine.room is not None and cells > mine.room:
                break
            times = min(left[item], mine.width // option.across)
            spots = [Spot(lying[item], n * option.across, 0) for n in range(times)]
            rows.append((spots, times * option.across))
            lengths.append(option.along)
            left[item] -= times
    levels = [
        level_of(table, spots, length)
        for (spots, _), length in zip(rows, lengths, strict=True)
    ]
    return Bin(kind, levels)
