"""Rows of columns that are worth most to the linear programme.

For a row of some length: what a column is worth that a piece begins, with the most
valuable pieces no wider after it; then which columns side by side are worth most. The
tables count a piece for several columns at once, so where the columns are filled, each
takes the best that is still there: the rows are good, not the best, and prove nothing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from shared.nesting.knapsack import Group, Knapsack
from shared.nesting.rolls.level import Level, Spot, level_of
from shared.nesting.rolls.table import Table

STEPS = 2000  # of the search for one column or row
COLUMNS = 5  # of the most valuable that are tried before what is still there


class StackPricer:
    """Both knapsacks of a table: pieces into columns, columns into a row."""

    def __init__(self, table: Table) -> None:
        """Order options by width, so that each column's knapsack holds the narrower."""
        self._table = table
        options = table.options
        self._order = sorted(range(len(options)), key=lambda o: options[o].across)
        acrosses = [options[o].across for o in self._order]
        widths = sorted(set(acrosses))
        ends = [sum(a <= width for a in acrosses) for width in widths]
        groups = [Group(a, b) for a, b in zip([0, *ends[:-1]], ends, strict=True)]
        self._group_of = {width: index for index, width in enumerate(widths)}
        self.longest = 3 * max(o.along for o in options)
        self._columns = Knapsack(
            [options[o].along for o in self._order], groups, self.longest, nested=True
        )
        whole = [Group(0, len(acrosses))]
        widest = max(kind.width for kind in table.kinds)
        self._rows = Knapsack(acrosses, whole, widest, nested=False)
        self._columns.most_steps = self._rows.most_steps = STEPS
        self._values: list[int] = []
        self._wanted: Sequence[int] = ()

    @property
    def steps(self) -> int:
        """Return the elementary steps done so far."""
        return self._columns.steps + self._rows.steps

    def value(self, values: Sequence[int], wanted: Sequence[int]) -> None:
        """Take what each option is worth now, and how many of each item may be used."""
        options = self._table.options
        self._values = [values[o] for o in self._order]
        self._wanted = wanted
        self._columns.fill(self._values, [wanted[options[o].item] for o in self._order])

    def row(self, width: int, length: int) -> Level | None:
        """Return a row of up to this length that is worth much."""
        options = self._table.options
        worth = []
        for place, option in enumerate(self._order):
            one = options[option]
            value, rest = self._values[place], length - one.along
            if rest < 0 or not self._wanted[one.item]:
                worth.append(0)
                continue
            above = self._columns.bound(self._group_of[one.across], rest) if rest else 0
            worth.append(value + above)
        most = [self._wanted[options[o].item] for o in self._order]
        self._rows.fill(worth, most)
        answer = self._rows.above(0, width, 0, 1)
        if not answer.found:
            return None
        return self._filled(answer.found[0].pieces, width, length, worth)

    def _filled(
        self,
        columns: Sequence[tuple[int, int]],
        width: int,
        length: int,
        worth: Sequence[int],
    ) -> Level:
        """Return the row with these columns, each filled with what is still there."""
        options, table = self._table.options, self._table
        left = list(self._wanted)
        begun: list[int] = []
        for place, times in columns:
            for _ in range(times):
                option = self._order[place]
                if left[options[option].item]:
                    left[options[option].item] -= 1
                    begun.append(option)
        begun.sort(key=lambda o: (-options[o].along, -options[o].across))
        spots, x = [], 0
        for option in begun:
            spots.append(Spot(option, x, 0))
            spots += self._column(option, x, length, left)
            x += options[option].across
        while (more := self._another(width - x, worth, left)) is not None:
            left[options[more].item] -= 1
            spots.append(Spot(more, x, 0))
            spots += self._column(more, x, length, left)
            x += options[more].across
        end = max(spot.y + options[spot.option].along for spot in spots)
        return level_of(table, spots, end)

    def _another(
        self, room: int, worth: Sequence[int], left: Sequence[int]
    ) -> int | None:
        """Return the most valuable beginning of one more column, if any fits."""
        options = self._table.options
        fitting = [
            (worth[place], -option)
            for place, option in enumerate(self._order)
            if options[option].across <= room
            and worth[place]
            and left[options[option].item]
        ]
        return -max(fitting)[1] if fitting else None

    def _column(self, first: int, x: int, length: int, left: list[int]) -> list[Spot]:
        """Return what goes after the first piece of a column; ``left`` falls."""
        options = self._table.options
        across, y = options[first].across, options[first].along
        if y >= length:
            return []
        group = self._group_of[across]
        answer = self._columns.above(group, length - y, 0, COLUMNS)
        for found in answer.found:
            best = [self._order[p] for p, times in found.pieces for _ in range(times)]
            counts = Counter(options[o].item for o in best)
            if all(left[item] >= count for item, count in counts.items()):
                break
        else:
            best = self._still_there(across, length - y, left)
        spots = []
        for option in best:
            left[options[option].item] -= 1
            spots.append(Spot(option, x, y))
            y += options[option].along
        return spots

    def _still_there(self, across: int, room: int, left: Sequence[int]) -> list[int]:
        """Return what fits, the most valuable for its length first."""
        options, chosen, used = self._table.options, [], Counter[int]()
        ranked = sorted(
            (
                (-self._values[place] / options[o].along, o)
                for place, o in enumerate(self._order)
                if options[o].across <= across and options[o].along <= room
            ),
        )
        for _, option in ranked:
            one = options[option]
            while one.along <= room and used[one.item] < left[one.item]:
                used[one.item] += 1
                room -= one.along
                chosen.append(option)
        return chosen
