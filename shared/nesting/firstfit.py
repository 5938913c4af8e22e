"""First-fit decreasing: the plan there always is, and what the others are measured by.

Wider pieces first, then longer ones, each into the first strip it fits, else into a new
strip of the first plate with room, else into a new plate. Filling plate by plate in that
order comes to the same, since whether a piece fits a plate depends only on the
pieces before it; and a plate that fills alike again is counted, not filled again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from shared.nesting.core import Core, Cut, Filled, Lane, Option, merged


@dataclass(slots=True)
class Open:
    """A strip that is being filled: its width, the room left with its kerf, its pieces."""

    width: int
    room: int
    pieces: dict[int, int] = field(default_factory=dict)


class Order:
    """The order in which parts are tried, and the ways each may lie, the best first."""

    def __init__(self, core: Core, *, long_along: bool) -> None:
        """Prefer the way with the long side along the strip, or across it."""
        ways: list[list[int]] = [[] for _ in core.demand]
        for index, option in enumerate(core.options):
            ways[option.item].append(index)
        sign = -1 if long_along else 1
        for way in ways:
            way.sort(key=lambda index: sign * core.options[index].along)
        self.ways = ways

        def size(item: int) -> tuple[int, int]:
            first: Option = core.options[ways[item][0]]
            return -first.across, -first.along

        self.items = sorted(range(len(ways)), key=size)


def first_fit(
    core: Core, residual: Sequence[int], begun: Sequence[Filled] = ()
) -> list[Filled] | None:
    """Return the cheapest of the first-fit plans, or None if the stock runs out.

    ``begun`` are plates that hold strips already; they are filled up first.
    """
    plans = []
    long_ways = (True, False) if _turns(core) else (True,)
    for long_along in long_ways:
        order = Order(core, long_along=long_along)
        for favourite in _favourites(core):
            plan = _plan(core, list(residual), order, favourite, begun)
            if plan is not None:
                plans.append(plan)
    return min(plans, key=core.price, default=None)


def _turns(core: Core) -> bool:
    return len(core.options) > len(core.demand)


def _favourites(core: Core) -> list[int]:
    """Return the stocks to build a plan on: each unlimited one, else the first."""
    return [i for i, stock in enumerate(core.stocks) if stock.limit is None] or [0]


def _plan(
    core: Core,
    residual: list[int],
    order: Order,
    favourite: int,
    begun: Sequence[Filled],
) -> list[Filled] | None:
    """Fill what is begun, then limited stock that is cheap, then the favourite."""
    plan, left = _fill_begun(core, residual, order, begun)
    alive = [item for item in order.items if residual[item]]
    for index in _sequence(core, favourite):
        stock = core.stocks[index]
        most = left[index]
        while alive and (most is None or most > 0):
            opened = _fill(core, index, residual, order, alive, [])
            if not opened:
                break
            times = _times(core, opened, residual, most)
            plan.append(Filled(index, _cuts(core, stock.length, opened), times))
            most = None if most is None else most - times
            alive = [item for item in alive if residual[item]]
    return None if alive else merged(plan)


def _sequence(core: Core, favourite: int) -> list[int]:
    """Order the stocks: what is no dearer by area than the favourite and limited first."""

    def by_area(index: int) -> Fraction:
        stock = core.stocks[index]
        return Fraction(stock.price, stock.length * stock.width)

    others = sorted((i for i in range(len(core.stocks)) if i != favourite), key=by_area)
    before = [
        i
        for i in others
        if core.stocks[i].limit is not None and by_area(i) <= by_area(favourite)
    ]
    return [*before, favourite, *(i for i in others if i not in before)]


def _fill_begun(
    core: Core, residual: list[int], order: Order, begun: Sequence[Filled]
) -> tuple[list[Filled], list[int | None]]:
    """Fill up the plates there are, and return them and how many more of each there are."""
    left = [stock.limit for stock in core.stocks]
    plan: list[Filled] = []
    for filled in begun:
        limit = left[filled.stock]
        left[filled.stock] = None if limit is None else limit - filled.count
        stock, count = core.stocks[filled.stock], filled.count
        while count:
            alive = [item for item in order.items if residual[item]]
            opened = [_opened(core, cut) for cut in filled.cuts]
            before = list(residual)
            if alive:
                _fill(core, filled.stock, residual, order, alive, opened)
            times = 1 if residual != before else count
            plan.append(Filled(filled.stock, _cuts(core, stock.length, opened), times))
            count -= times
    return plan, left


def _opened(core: Core, cut: Cut) -> Open:
    lane = core.lanes[cut.lane]
    used = sum((core.options[o].along + core.kerf) * n for o, n in cut.pieces)
    return Open(lane.width, lane.length + core.kerf - used, dict(cut.pieces))


def _fill(
    core: Core,
    index: int,
    residual: list[int],
    order: Order,
    alive: Sequence[int],
    opened: list[Open],
) -> list[Open]:
    """Put what fits into one plate, counting residual down."""
    stock, k = core.stocks[index], core.kerf
    width_left = stock.width + k - sum(strip.width + k for strip in opened)
    full = all(strip.room <= k for strip in opened)
    shortest = min(core.options[w].along for i in alive for w in order.ways[i]) + k
    for item in alive:
        if full and opened and width_left <= k:
            break
        if residual[item]:
            _into_strips(core, item, residual, order, opened)
        while residual[item]:
            way = _new_way(core, order.ways[item], stock.length, width_left)
            if way is None:
                break
            width_left -= core.options[way].across + k
            opened.append(Open(core.options[way].across, stock.length + k))
            _into_strips(core, item, residual, order, opened[-1:])
        full = all(strip.room < shortest for strip in opened)
    return opened


def _into_strips(
    core: Core, item: int, residual: list[int], order: Order, strips: Sequence[Open]
) -> None:
    for strip in strips:
        for way in order.ways[item]:
            option = core.options[way]
            fits = option.across == strip.width or (
                option.across < strip.width and not core.exact
            )
            times = min(residual[item], strip.room // (option.along + core.kerf))
            if fits and times:
                strip.room -= times * (option.along + core.kerf)
                strip.pieces[way] = strip.pieces.get(way, 0) + times
                residual[item] -= times
        if not residual[item]:
            return


def _new_way(
    core: Core, ways: Sequence[int], length: int, width_left: int
) -> int | None:
    for way in ways:
        option = core.options[way]
        if option.along <= length and option.across + core.kerf <= width_left:
            return way
    return None


def _times(
    core: Core, opened: Sequence[Open], residual: list[int], most: int | None
) -> int:
    """Count how often the plate just filled can be cut, and take that off residual."""
    used: dict[int, int] = {}
    for strip in opened:
        for option, n in strip.pieces.items():
            item = core.options[option].item
            used[item] = used.get(item, 0) + n
    again = min(residual[item] // n for item, n in used.items())
    if most is not None:
        again = min(again, most - 1)
    for item, n in used.items():
        residual[item] -= again * n
    return 1 + again


def _cuts(core: Core, length: int, opened: Sequence[Open]) -> tuple[Cut, ...]:
    return tuple(
        Cut(
            core.lane_at[Lane(length, strip.width)], tuple(sorted(strip.pieces.items()))
        )
        for strip in sorted(opened, key=lambda strip: -strip.width)
    )
