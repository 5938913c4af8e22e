"""Rows chosen by the linear programme: fix some, solve what is left, and so on.

Where rows may hold stacks, or be cut up freely, the programme is offered such rows as
well: filled by what the pieces are worth to it for each area, they are kept if
they are worth more than they cost.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence

from shared.nesting.effort import Meter
from shared.nesting.rolls.bounds import SCALE, Column, Relaxation, Solved
from shared.nesting.rolls.build import Rule
from shared.nesting.rolls.level import Bin, Level, Spot, level_of
from shared.nesting.rolls.model import Laying
from shared.nesting.rolls.search import Hunt
from shared.nesting.rolls.stacks import StackPricer

ROUNDS, ROUNDS_IN_DIVE = 25, 2
TURNS = 12
OPENERS = 20  # pieces that new rows are begun with, in one round
LENGTHS = 12  # lengths in use that are tried again, and twice as many others
COLUMNS = 2500  # kept for dives, the ones nearest to being worth it
WHOLE, WHOLE_AFTER = 500, (1, 6)  # rows to choose from, and after which dives
DEPTH = 400
AT_ONCE = 10  # the share of rows fixed at once: one in so many
SETTLE = 1.0001  # what a row must be worth more than it costs


class Descent:
    """Dives from the programme over rows to whole rows."""

    def __init__(
        self, hunt: Hunt, rows: Relaxation, meter: Meter, *, seed: int = 0
    ) -> None:
        """Begin with the columns that the programme has; another seed tries others."""
        self._hunt, self._rows, self._meter = hunt, rows, meter
        self._table = hunt.table
        self._shapes: dict[Column, Level] = {}
        self._pricer = StackPricer(hunt.table)
        self._random = random.Random(seed)  # noqa: S311  # to try things, not to hide them

    def run(self, enough: int) -> None:
        """Dive several times, each time otherwise, until a plan costs ``enough``."""
        root = self._solved(self._table.demand, ROUNDS)
        nearest, few = self._rows.nearest(COLUMNS), self._rows.nearest(WHOLE)
        for turn in range(TURNS):
            best = self._hunt.best
            if self._meter.is_over() or (best is not None and best.cost <= enough):
                return
            if turn in WHOLE_AFTER and self._is_alike:
                self._whole(few)
            self._rows.begin_with(nearest)
            self._dive(root, turn)

    @property
    def _is_alike(self) -> bool:
        """Tell whether pieces come in numbers: where each is its own, HiGHS takes long."""
        return sum(self._table.demand) >= 2 * len(self._table.demand)

    def _whole(self, nearest: Sequence[Column]) -> None:
        """Let HiGHS choose whole rows among the few nearest to being worth it."""
        best = self._hunt.best
        if best is None:
            return
        mine = [self._column_of(row) for row in self._best_rows()]
        few = list(dict.fromkeys([*mine, *nearest]))
        chosen = self._rows.whole(few, self._meter)
        left, bins = list(self._table.demand), list[Bin]()
        for column, times in sorted(
            chosen.items(), key=lambda c: (-c[0].length, c[0].pieces)
        ):
            for _ in range(times):
                self._fix(column, left, bins)
        self._finish(bins, left)

    def _best_rows(self) -> list[tuple[int, Level]]:
        best = self._hunt.best
        bins = best.bins if best is not None else ()
        return [(one.kind, level) for one in bins for level in one.levels]

    def _column_of(self, row: tuple[int, Level]) -> Column:
        """Return the column of a row, and keep the row as its shape."""
        kind, level = row
        counts = Counter(spot.option for spot in level.spots)
        column = Column(kind, level.length, tuple(sorted(counts.items())))
        self._shapes.setdefault(column, level)
        return column

    def _solved(self, wanted: Sequence[int], rounds: int) -> Solved:
        """Solve for what is wanted, with some columns that suit it."""
        solved = self._rows.solve(self._meter, primal=False)
        for _ in range(rounds):
            if self._meter.is_over():
                break
            new = self._rows.generate(solved, wanted, self._meter)
            if self._hunt.builder.laying is not Laying.ROWS:
                new += self._rows.add(self._stacked(solved, wanted))
            if not new:
                break
            solved = self._rows.solve(self._meter)
        return solved

    def _stacked(self, solved: Solved, wanted: Sequence[int]) -> list[Column]:
        """Return rows with more than one piece from end to end that gain something."""
        table = self._table
        values = [int(max(0.0, value) * SCALE) for value in solved.values]
        self._pricer.value(values, wanted)
        before, columns = self._pricer.steps, []
        lengths = self._lengths(solved, wanted)
        for kind in dict.fromkeys(self._hunt.kinds):
            width = table.kinds[kind].width
            shapes = [self._pricer.row(width, length) for length in lengths]
            columns += self._gaining(solved, kind, [s for s in shapes if s])
        self._meter.spend(self._pricer.steps - before)
        if self._hunt.builder.laying is Laying.FREE:
            columns += self._freely(solved, wanted)
        return columns

    def _lengths(self, solved: Solved, wanted: Sequence[int]) -> list[int]:
        """Return lengths of rows to try: those in use, and of one to three pieces."""
        r = self._random
        items = [item for item, count in enumerate(wanted) if count]
        known = sorted({column.length for column in solved.amounts})
        lengths = set(r.sample(known, min(LENGTHS, len(known))))
        table = self._table
        for pieces in (1, 2, 2, 3):
            for _ in range(LENGTHS // 2):
                length = sum(self._along(r.choice(items)) for _ in range(pieces))
                if pieces == 1 or table.is_handy(length):
                    lengths.add(length)
        return sorted(n for n in lengths if n <= self._pricer.longest)

    def _freely(self, solved: Solved, wanted: Sequence[int]) -> list[Column]:
        """Return rows cut up freely, filled by worth for each area."""
        r, table, builder = self._random, self._table, self._hunt.builder
        density = [
            max(solved.values[o] / table.options[o].area for o in way)
            for way in table.ways
        ]
        order = [item for item, count in enumerate(wanted) if count]
        openers = r.sample(order, min(OPENERS, len(order)))
        columns = []
        for opener in openers:
            blur = r.choice((0.0, 0.1, 0.4))
            by = {i: -density[i] * r.uniform(1 - blur, 1 + blur) for i in order}
            order.sort(key=lambda i: (by[i], i))
            rule = Rule(r.random() < 0.5, r.random() < 0.5, r.choice((None, True)))
            lengths = [0, *(self._along(r.choice(order)) for _ in range(2))]
            for kind in dict.fromkeys(self._hunt.kinds):
                shapes = builder.rows(order, wanted, kind, opener, lengths, rule)
                columns += self._gaining(solved, kind, shapes)
        self._hunt.spend()
        return columns

    def _along(self, item: int) -> int:
        return self._table.options[self._random.choice(self._table.ways[item])].along

    def _gaining(
        self, solved: Solved, kind: int, shapes: Sequence[Level]
    ) -> list[Column]:
        """Return the columns of rows worth more than they cost, and keep the rows."""
        columns = []
        for shape in shapes:
            worth = sum(solved.values[spot.option] for spot in shape.spots)
            if worth <= SETTLE * self._rows.price(kind, shape.length, solved.limits):
                continue
            columns.append(self._column_of((kind, shape)))
        return columns

    def _dive(self, solved: Solved, turn: int) -> None:
        table = self._table
        left = list(table.demand)
        bins: list[Bin] = []
        for depth in range(DEPTH):
            chosen = _choose(solved, turn, depth)
            before = sum(left)
            for column, times in chosen.items():
                for _ in range(times):
                    self._fix(column, left, bins)
            if sum(left) == before or not any(left) or self._meter.is_over():
                break
            if not turn or depth % 3 == 0:
                self._finish(bins, left)
            self._rows.demand(left)
            solved = self._solved(left, ROUNDS_IN_DIVE)
        self._finish(bins, left)

    def _fix(self, column: Column, left: list[int], bins: list[Bin]) -> None:
        """Put a row on a roll, without what nobody wants any more, its holes filled."""
        shape = self._shape(column, left)
        if shape is None:
            return
        one = self._bin_for(column.kind, shape, bins)
        if one is None:
            return
        width = self._table.kinds[column.kind].width
        for spot in shape.spots:
            left[self._table.options[spot.option].item] -= 1
        shape = self._hunt.builder.topped_up(shape, width, left)
        self._hunt.spend()
        one.levels.append(shape)

    def _shape(self, column: Column, left: Sequence[int]) -> Level | None:
        """Return the row of a column, with only as much of each item as is left."""
        options, kept, x = self._table.options, Counter[int](), 0
        known = self._shapes.get(column)
        spots: list[Spot] = []
        if known is not None:
            spots = list(known.spots)
        else:
            for option, times in sorted(
                column.pieces, key=lambda p: -options[p[0]].along
            ):
                for _ in range(times):
                    spots.append(Spot(option, x, 0))
                    x += options[option].across
        wanted = []
        for spot in spots:
            item = options[spot.option].item
            if kept[item] < left[item]:
                kept[item] += 1
                wanted.append(spot)
        if not wanted:
            return None
        length = max(spot.y + options[spot.option].along for spot in wanted)
        return level_of(self._table, wanted, length)

    def _bin_for(self, kind: int, shape: Level, bins: list[Bin]) -> Bin | None:
        """Return the first roll of a kind that has room for a row, a new one if it may."""
        mine = self._table.kinds[kind]
        same = [one for one in bins if one.kind == kind]
        for one in same:
            if mine.room is None:
                return one
            after = Bin(kind, [*one.levels, shape]).length()
            if after <= mine.room:
                return one
        fits = mine.room is None or shape.length - shape.slack <= mine.room
        if fits and (mine.limit is None or len(same) < mine.limit):
            bins.append(Bin(kind))
            return bins[-1]
        return None

    def _finish(self, bins: list[Bin], left: Sequence[int]) -> None:
        """Offer what the usual rules make of what is fixed and what is left."""
        hunt = self._hunt
        if not any(left):
            hunt.offer(bins)
            return
        for rule in (Rule(), Rule(upright_first=False, tries=4)):
            for order in hunt.orders():
                hunt.offer(hunt.builder.build(order, left, hunt.kinds, rule, bins))
        hunt.spend()


def _choose(solved: Solved, turn: int, depth: int) -> dict[Column, int]:
    """Take the whole parts and the fullest rows; each turn departs in another place."""
    whole = {c: int(a + 1e-6) for c, a in solved.amounts.items() if a >= 1 - 1e-6}
    part = {c: a - whole.get(c, 0) for c, a in solved.amounts.items()}
    ranked = sorted(part, key=lambda c: (-part[c], -c.length, c.pieces))
    if not ranked:
        return {}
    if whole:
        return whole
    if depth == 0 and turn:
        return {ranked[min(turn - 1, len(ranked) - 1)]: 1}
    some = max(1, len(ranked) // (AT_ONCE * (1 + turn % 3)))
    chosen = [c for c in ranked[:some] if part[c] > 0.6] or ranked[:1]
    return dict.fromkeys(chosen, 1)
