"""Strips that are decided, put into as few plates as can be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping

from shared.nesting.core import Core, Cut, Filled, Option, Stock, merged
from shared.nesting.effort import Meter

SEARCH_WORK = 60  # units of work for one packing


def pack(
    core: Core, cuts: Mapping[Cut, int], meter: Meter, below: int | None = None
) -> list[Filled] | None:
    """Return plates that hold these strips, or None where the stock runs out.

    None, too, where it is plain that they can't cost less than ``below``.
    """
    plan: list[Filled] = []
    for length in sorted({core.lanes[cut.lane].length for cut in cuts}):
        mine = {
            c: n for c, n in cuts.items() if core.lanes[c.lane].length == length and n
        }
        stocks = [i for i, s in enumerate(core.stocks) if s.length == length]
        plates = _flat if core.is_flat else _by_width
        packed = plates(core, mine, stocks, meter, below)
        if packed is None:
            return None
        plan += packed
        below = None if below is None else below - core.price(packed)
    return merged(plan)


def _flat(
    core: Core,
    cuts: Mapping[Cut, int],
    stocks: list[int],
    meter: Meter,
    below: int | None,
) -> list[Filled] | None:
    """Give each strip a plate of its own: the widest first, each the cheapest it fits.

    That is the best there is, since a narrower strip fits wherever a wider one does.
    """
    plan: list[Filled] = []
    left = {index: core.stocks[index].limit for index in stocks}
    cheapest = sorted(stocks, key=lambda i: core.stocks[i].price)
    for cut in sorted(cuts, key=lambda c: (c.lane, c.pieces), reverse=True):
        count = cuts[cut]
        for index in cheapest:
            limit = left[index]
            take = count if limit is None else min(count, limit)
            if take and core.lanes[cut.lane].width <= core.stocks[index].width:
                left[index] = None if limit is None else limit - take
                plan.append(Filled(index, (cut,), take))
                count -= take
        if count:
            return None
    return plan


def _by_width(
    core: Core,
    cuts: Mapping[Cut, int],
    stocks: list[int],
    meter: Meter,
    below: int | None,
) -> list[Filled] | None:
    """Solve the packing by widths as bars of their own, then deal out the strips."""
    widths = Counter[int]()
    for cut, count in cuts.items():
        widths[core.lanes[cut.lane].width] += count
    items = sorted(widths)
    flat = _bars_of(core, items, [widths[w] for w in items], stocks)
    plan = _solver()(flat, meter, below)
    if plan is None:
        return None
    waiting = {
        w: sorted(
            (c for c in cuts if core.lanes[c.lane].width == w), key=lambda c: c.pieces
        )
        for w in items
    }
    left = Counter(cuts)
    dealt: list[Filled] = []
    for filled in plan:
        wanted = [(items[flat.options[o].item], n) for o, n in filled.cuts[0].pieces]
        for _ in range(filled.count):
            taken = [_take(waiting[w], left) for w, n in wanted for _ in range(n)]
            taken.sort(key=lambda c: (-core.lanes[c.lane].width, c.pieces))
            dealt.append(Filled(stocks[filled.stock], tuple(taken), 1))
    return dealt


def _take(waiting: list[Cut], left: Counter[Cut]) -> Cut:
    cut = waiting[-1]
    left[cut] -= 1
    if not left[cut]:
        waiting.pop()
    return cut


def _bars_of(
    core: Core, widths: list[int], counts: list[int], stocks: list[int]
) -> Core:
    return Core(
        options=tuple(Option(i, w, 1, turned=False) for i, w in enumerate(widths)),
        demand=tuple(counts),
        stocks=tuple(
            Stock(
                length=core.stocks[i].width,
                width=1,
                price=core.stocks[i].price,
                limit=core.stocks[i].limit,
                per_sheet=core.stocks[i].per_sheet,
            )
            for i in stocks
        ),
        kerf=core.kerf,
        exact=True,
    )


def _solver() -> Callable[[Core, Meter, int | None], list[Filled] | None]:
    # The search packs strips, and strips are packed by the search: a cycle of imports.
    from shared.nesting.search import search

    def solve(core: Core, meter: Meter, below: int | None) -> list[Filled] | None:
        state = search(core, meter.part(SEARCH_WORK), below=below)
        hopeless = below is not None and state.bound >= below
        return None if hopeless else state.plan

    return solve
