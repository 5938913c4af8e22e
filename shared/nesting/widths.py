"""How many strips of which width any plan needs, and what plates those need.

Pieces that are at least so wide, whichever way they lie, need strips at least so wide;
where strips must be as wide as their pieces, those that lie one way only need strips of
just that width. How many is a problem of bars as long as the longest plate, and its bound
is a whole number, where the programme over all widths at once sees fractions of a strip.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

import highspy
import numpy as np

from shared.nesting.core import Core, Option, Stock
from shared.nesting.effort import Meter
from shared.nesting.master import AtLeast, make_whole, quiet

MOST = 16  # widths to ask about, where strips may hold narrower pieces
WORK = 150  # units of work for each
NODES = 100  # of branch and bound
STACKS = 3000  # different fullest plates up to which they are all written down

Solve = Callable[[Core, Meter], int]


def at_least(core: Core, meter: Meter, solve: Solve) -> list[AtLeast]:
    """Return the cuts; ``solve`` gives a lower bound for bars."""
    ways: list[list[Option]] = [[] for _ in core.demand]
    for option in core.options:
        ways[option.item].append(option)
    ranges = _just(ways) if core.exact else _at_least(ways)
    cuts: list[AtLeast] = []
    for low, high in ranges:
        items = [
            i for i, way in enumerate(ways) if all(low <= o.across <= high for o in way)
        ]
        if meter.is_over():
            break
        inner = meter.part(WORK)
        cuts.append(AtLeast(low, high, solve(_bars(core, ways, items), inner)))
    return cuts


def _just(ways: Sequence[Sequence[Option]]) -> list[tuple[int, int]]:
    widths = sorted({way[0].across for way in ways if len(way) == 1})
    return [(width, width) for width in widths]


def _at_least(ways: Sequence[Sequence[Option]]) -> list[tuple[int, int]]:
    widths = sorted({min(o.across for o in way) for way in ways})
    widest = max(o.across for way in ways for o in way)
    return [(width, widest) for width in widths[:: -(-len(widths) // MOST)]]


def _bars(core: Core, ways: Sequence[Sequence[Option]], items: Sequence[int]) -> Core:
    longest = max(stock.length for stock in core.stocks)
    return Core(
        options=tuple(
            Option(i, min(o.along for o in ways[item]), 1, turned=False)
            for i, item in enumerate(items)
        ),
        demand=tuple(core.demand[item] for item in items),
        stocks=(Stock(longest, 1, 1, None),),
        kerf=core.kerf,
        exact=True,
    )


def plates_bound(core: Core, cuts: Sequence[AtLeast]) -> int:
    """Return what plates with that many strips cost at least, in whole plates.

    Writes down every fullest plate and lets HiGHS choose; 0 where there are too many.
    """
    telling = [
        cut
        for cut in cuts
        if not any(
            other.low > cut.low
            and other.high == cut.high
            and other.strips >= cut.strips
            for other in cuts
        )
    ]
    columns: list[tuple[int, list[int]]] = []
    for index, stock in enumerate(core.stocks):
        # A strip counts no less where it is narrowed to the next width asked about.
        widths = sorted({cut.low for cut in telling if cut.low <= stock.width})
        if not widths:
            continue
        for counts in _fullest(widths, stock.width + core.kerf, core.kerf):
            served = [
                sum(n for w, n in zip(widths, counts, strict=True) if cut.counts(w))
                for cut in telling
            ]
            columns.append((index, served))
            if len(columns) > STACKS:
                return 0
    return core.rounded(Fraction(max(0.0, _cheapest(core, telling, columns) - 1e-6)))


def _fullest(widths: Sequence[int], room: int, kerf: int) -> Iterator[tuple[int, ...]]:
    """Yield the counts of each width in plates where not one more strip fits."""
    if len(widths) == 1:
        yield (room // (widths[0] + kerf),)
        return
    widest = widths[-1] + kerf
    for count in range(room // widest, -1, -1):
        rest = room - count * widest
        for others in _fullest(widths[:-1], rest, kerf):
            used = sum(n * (w + kerf) for n, w in zip(others, widths[:-1], strict=True))
            if rest - used < widest:
                yield (*others, count)


def _cheapest(
    core: Core, cuts: Sequence[AtLeast], columns: Sequence[tuple[int, list[int]]]
) -> float:
    model = quiet()
    rows = [float(cut.strips) for cut in cuts]
    high = [highspy.kHighsInf] * len(rows)
    limited = [i for i, s in enumerate(core.stocks) if s.limit is not None]
    rows += [0.0] * len(limited)
    high += [float(core.stocks[i].limit or 0) for i in limited]
    none = np.zeros(len(rows), dtype=np.int32)
    model.addRows(
        len(rows), np.array(rows), np.array(high), 0, none, none[:0], np.zeros(0)
    )
    dense = np.array(
        [[*served, *(float(i == index) for i in limited)] for index, served in columns]
    )
    count = len(columns)
    model.addCols(
        count,
        np.array([float(core.stocks[index].price) for index, _ in columns]),
        np.zeros(count),
        np.full(count, highspy.kHighsInf),
        dense.size,
        np.arange(0, dense.size, len(rows), dtype=np.int32),
        np.tile(np.arange(len(rows), dtype=np.int32), count),
        dense.ravel(),
    )
    make_whole(model, count, NODES)
    model.run()
    bound = model.getInfo().mip_dual_bound
    return bound if bound < highspy.kHighsInf else 0.0
