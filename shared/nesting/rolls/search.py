"""The search for the cheapest rows: good orders first, then rows torn up and laid anew.

Deterministic: its random numbers begin alike each time, and it ends by work done.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from shared.nesting.effort import Meter
from shared.nesting.rolls.build import Builder, Rule
from shared.nesting.rolls.firstfit import first_fit
from shared.nesting.rolls.level import Bin, Level, parted
from shared.nesting.rolls.model import Laying
from shared.nesting.rolls.table import Table

STALE, STALE_EACH = 200, 30  # tries in vain, and more for each piece, end the search
FEW, MANY = 2, 6  # rows torn up at once
POOL = 6000  # rows kept to be put together anew

RULES = tuple(
    Rule(upright, snug, slit, tries)
    for tries in (0, 8)
    for upright in (True, False)
    for snug in (True, False)
    for slit in (None, True)
)


@dataclass(frozen=True, slots=True)
class Found:
    """A plan of one table: its rolls, what they cost, the length they take."""

    bins: tuple[Bin, ...]
    cost: int
    length: int

    @property
    def rank(self) -> tuple[int, int]:
        """Return what makes one plan better than another: cost, then length."""
        return self.cost, self.length


def rank_of(table: Table, bins: Sequence[Bin]) -> tuple[int, int]:
    """Return cost and length of rolls with their rows."""
    trim = table.job.trim_ticks
    cost = length = 0
    for one in bins:
        mine = one.length()
        if mine:
            cost += table.kinds[one.kind].cost(mine + trim)
            length += mine + trim
    return cost, length


def found_of(table: Table, bins: Sequence[Bin]) -> Found:
    """Return the plan that these rolls are, with rows as short as they can be."""
    used = tuple(
        Bin(one.kind, [row for level in one.levels for row in parted(table, level)])
        for one in bins
        if one.levels
    )
    return Found(used, *rank_of(table, used))


class Hunt:
    """The search on one table, its rolls filled in the sequence that serves best."""

    def __init__(
        self, table: Table, laying: Laying, meter: Meter, *, seed: int = 0
    ) -> None:
        """Begin with nothing found; another seed tries other things."""
        self.table, self.meter = table, meter
        self.kinds: tuple[int, ...] = ()
        self.builder = Builder(table, laying)
        # Rows of stacks may be cut up freely, too, and are often the better beginning.
        simpler = [Builder(table, Laying.STACKS)] if laying is Laying.FREE else []
        self._builders = [self.builder, *simpler]
        self.best: Found | None = None
        self.first_fit: int | None = None
        self.pool: dict[tuple[int, ...], Level] = {}
        self._random = random.Random(seed)  # noqa: S311  # to try things, not to hide them
        self._steps = 0

    def offer(self, bins: Sequence[Bin] | None) -> bool:
        """Keep a plan if it is better, and remember its rows."""
        if bins is None:
            return False
        found = found_of(self.table, bins)
        if self.best is not None and found.rank >= self.best.rank:
            return False
        self.best = found
        self._remember(found)
        return True

    def _remember(self, found: Found) -> None:
        for one in found.bins:
            for level in one.levels:
                if len(self.pool) < POOL:
                    options = sorted(spot.option for spot in level.spots)
                    key = (self.table.kinds[one.kind].width, level.length, *options)
                    self.pool.setdefault(key, level)

    def begin(self, sequences: Sequence[tuple[int, ...]], enough: int) -> None:
        """Try each sequence by first-fit and the usual orders; stay with the best.

        Then the usual rules on that one, up to a plan that costs ``enough``.
        """
        best_kinds, best_rank = sequences[0], None
        for self.kinds in sequences:
            rank = self._usual()
            if rank is not None and (best_rank is None or rank < best_rank):
                best_kinds, best_rank = self.kinds, rank
        self.kinds = best_kinds
        for order in self.orders():
            for rule in RULES:
                if self.best and (self.best.cost <= enough or self.meter.is_over()):
                    return
                self.offer(self._build(order, rule))

    def _usual(self) -> tuple[int, int] | None:
        """Try the usual orders on this sequence, and return the best cost and length."""
        plans = [
            first_fit(self.table, self.kinds, upright=upright, wide=wide)
            for upright in (True, False)
            for wide in (True, False)
        ]
        costs = [rank_of(self.table, bins)[0] for bins in plans if bins is not None]
        if self.first_fit is not None:
            costs.append(self.first_fit)
        self.first_fit = min(costs, default=None)
        plans += [self._build(order, Rule()) for order in self.orders()]
        for bins in plans:
            self.offer(bins)
        ranks = [rank_of(self.table, bins) for bins in plans if bins is not None]
        return min(ranks, default=None)

    def orders(self) -> list[list[int]]:
        """Return the usual orders: by the long way, the wide way, area, longest side."""
        options, ways = self.table.options, self.table.ways
        sides = [(options[w[0]].along, options[w[-1]].across) for w in ways]
        area = self.table.area
        items = range(len(ways))
        return [
            sorted(items, key=lambda i: (-sides[i][0], -area[i])),
            sorted(items, key=lambda i: (-sides[i][1], -sides[i][0])),
            sorted(items, key=lambda i: (-area[i], -sides[i][0])),
            sorted(items, key=lambda i: (-max(sides[i]), -area[i])),
        ]

    def _build(self, order: Sequence[int], rule: Rule) -> list[Bin] | None:
        demand = self.table.demand
        plans = [b.build(order, demand, self.kinds, rule) for b in self._builders]
        self.spend()
        found = [bins for bins in plans if bins is not None]
        return min(found, key=lambda bins: rank_of(self.table, bins), default=None)

    def spend(self) -> None:
        """Count the work of the builders."""
        steps = sum(builder.steps for builder in self._builders)
        self.meter.spend(steps - self._steps)
        self._steps = steps

    def improve(self, enough: int, work: int) -> None:
        """Tear up a few rows and lay them anew, as long as that helps.

        Ends at a plan that costs ``enough``, or after so much ``work``.
        """
        end, stale = self.meter.work + work, 0
        enough_tries = STALE + STALE_EACH * sum(self.table.demand)
        while self.best is not None and stale < enough_tries:
            if self.best.cost <= enough or self.meter.is_over():
                return
            if self.meter.work >= end:
                return
            stale = 0 if self._tear() else stale + 1

    def _tear(self) -> bool:
        """Lay some rows anew in another order; tell whether the plan got better."""
        found, r = self.best, self._random
        if found is None:
            return False
        torn, kept = self._torn(found)
        wanted = [0] * len(self.table.demand)
        for level in torn:
            for spot in level.spots:
                wanted[self.table.options[spot.option].item] += 1
        order = [i for i, n in enumerate(wanted) if n]
        self._shuffle(order)
        rule = Rule(
            upright_first=r.random() < 0.7,
            snug=r.random() < 0.7,
            slit=r.choice((None, None, True, False)),
            tries=r.choice((0, 0, 3, 8)),
        )
        builder = r.choice(self._builders)
        bins = builder.build(order, wanted, self.kinds, rule, kept)
        self.spend()
        if bins is None:
            return False
        rank = rank_of(self.table, bins)
        if rank > found.rank:
            return False
        better = rank < found.rank
        self.best = found_of(self.table, bins)
        if better:
            self._remember(self.best)
        return better

    def _torn(self, found: Found) -> tuple[list[Level], list[Bin]]:
        """Choose the rows to tear up: the emptier, the likelier."""
        r = self._random
        places = [
            (b, n) for b, one in enumerate(found.bins) for n in range(len(one.levels))
        ]
        count = min(len(places), r.randint(FEW, MANY))
        weights = []
        for b, n in places:
            one = found.bins[b]
            level, width = one.levels[n], self.table.kinds[one.kind].width
            weights.append(
                level.length * width - level.area + level.length * width // 50
            )
        chosen: set[tuple[int, int]] = set()
        for _ in range(3 * count):
            if len(chosen) < count:
                chosen.add(r.choices(places, weights)[0])
        torn = [found.bins[b].levels[n] for b, n in sorted(chosen)]
        kept = [
            Bin(
                one.kind,
                [lv for n, lv in enumerate(one.levels) if (b, n) not in chosen],
            )
            for b, one in enumerate(found.bins)
        ]
        return torn, kept

    def _shuffle(self, order: list[int]) -> None:
        """Put items into an order: by a size, blurred, or by chance."""
        r, options, ways = self._random, self.table.options, self.table.ways
        blur, by = r.choice((0.1, 0.3, 0.6)), r.randrange(4)
        key: dict[int, float] = {}
        for item in order:
            tall, wide = options[ways[item][0]].along, options[ways[item][-1]].across
            size = (tall, wide, tall + wide, tall * wide)[by]
            key[item] = size * r.uniform(1 - blur, 1 + blur)
        order.sort(key=lambda i: (-key[i], i))
