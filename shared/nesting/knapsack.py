"""Which pieces make the most valuable strip: exact, by a coarse table and a search.

Tick sizes in millimetres and inches together have no common measure but one tick, and a
table of every tick would be vast. So the table is coarse: sizes and room are rounded down
to a measure, which lets too much in, never too little. What it says is therefore an upper
bound, and the search in true ticks that it guides is exact. Where the sizes do have
a common measure, the table is exact by itself and the search goes straight to the end.
The table is the usual one for bounded knapsacks, with counts split into powers of two
(Martello and Toth, Knapsack Problems, 1990, section 3.2 [M]).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd

import numpy as np
import numpy.typing as npt

CELLS = 6_000_000  # the most values in a table: 48 MB
FEW = 1_000_000  # values that cost little, so that few rows may be finer
FINE = 8192  # cells in a row that make a coarse table fine enough
ROW_COST = 4000  # elementary steps for each row, short as it may be
LEAF_COST = 8000  # where a strip is looked at as a whole
STEP_COST = 500  # elementary steps that one step of the search is worth


@dataclass(frozen=True, slots=True)
class Group:
    """Options from ``start`` up to ``end``: what may lie in the strips of one width."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Found:
    """The most valuable pieces found: option and count. ``last`` is the highest row."""

    value: int
    pieces: tuple[tuple[int, int], ...]
    last: int


@dataclass(frozen=True, slots=True)
class Answer:
    """What a search found, and a value that nothing exceeds."""

    found: list[Found]
    ceiling: int


@dataclass(slots=True)
class Limit:
    """How many strips may still be written down, and the elementary steps for that."""

    columns: int
    steps: int


class Knapsack:
    """Values of strips for given values of pieces.

    ``sizes`` and ``room`` are in ticks, each with its kerf. Groups follow each other;
    with ``nested`` each holds those before it, too.
    """

    def __init__(
        self, sizes: Sequence[int], groups: Sequence[Group], room: int, *, nested: bool
    ) -> None:
        """Choose the measure: a common one if it is coarse enough."""
        self._sizes, self._groups, self._nested = sizes, groups, nested
        self._room = room
        pieces = sum(max(1, (room // size).bit_length()) for size in sizes)
        rows = pieces + len(groups) + 2
        common = gcd(*sizes)
        cells = min(max(FINE, FEW // rows), CELLS // rows)
        twice = min(2 * cells, CELLS // rows)
        self.measure = common if room // common <= twice else -(-room // cells)
        self._table: npt.NDArray[np.int64] = np.zeros(
            (rows, room // self.measure + 1), dtype=np.int64
        )
        self._row_size, self._row_value = [0] * rows, [0] * rows
        self._row_piece = [(0, 0)] * rows
        self._starts, self._ends = [0] * len(groups), [0] * len(groups)
        self.most_steps = 20_000
        self.steps = 0

    def fill(self, values: Sequence[int], bounds: Sequence[int]) -> None:
        """Work out the table for each option's value and greatest count."""
        row = 0
        for index, group in enumerate(self._groups):
            if not self._nested and row:
                row += 1
                self._table[row] = 0
                self._row_size[row] = 0
            self._starts[index] = 0 if self._nested else row
            for option in range(group.start, group.end):
                if values[option] > 0:
                    row = self._add(row, option, values[option], bounds[option])
            self._ends[index] = row
        self.steps += (row + 1) * (self._table.shape[1] + ROW_COST)

    def _add(self, row: int, option: int, value: int, most: int) -> int:
        """Add the rows of one option: one, two, four … of it at once."""
        cells = self._table.shape[1]
        most = min(most, self._room // self._sizes[option])
        times = 1
        while most > 0:
            take = min(times, most)
            size = take * self._sizes[option]
            shift = size // self.measure
            before, after = self._table[row], self._table[row + 1]
            after[:] = before
            if shift < cells:
                np.maximum(
                    before[shift:],
                    before[: cells - shift] + take * value,
                    out=after[shift:],
                )
            row += 1
            self._row_size[row], self._row_value[row] = size, take * value
            self._row_piece[row] = (option, take)
            most -= take
            times *= 2
        return row

    def bound(self, group: int, room: int) -> int:
        """Return a value that no strip of the group with this room exceeds."""
        return int(self._table[self._ends[group], room // self.measure])

    def above(self, group: int, room: int, floor: int, most: int) -> Answer:
        """Return up to ``most`` strips worth more than ``floor``, each unlike the others.

        The first is the best there is, unless the search grew too long. The others leave
        out the widest or last pieces of the one before.
        """
        start, last, cell = self._starts[group], self._ends[group], room // self.measure
        best, is_best = self._search(start, last, room, floor)
        ceiling = int(self._table[last, cell])
        if is_best:
            ceiling = best.value if best else min(floor, ceiling)
        found: list[Found] = []
        while best is not None:
            found.append(best)
            last = best.last - 1
            if len(found) >= most or last <= start or self._table[last, cell] <= floor:
                break
            best, _ = self._search(start, last, room, floor)
        return Answer(found, ceiling)

    def _search(
        self, start: int, end: int, room: int, floor: int
    ) -> tuple[Found | None, bool]:
        """Go down the rows depth first, the more promising way first.

        Also tell whether the search came to its end.
        """
        table, sizes, values, measure = (
            self._table,
            self._row_size,
            self._row_value,
            self.measure,
        )
        best, taken, steps = floor, None, 0
        waiting: list[tuple[int, int, int, tuple[int, ...]]] = [(end, room, 0, ())]
        while waiting and steps < self.most_steps:
            row, left, value, rows = waiting.pop()
            while row > start and value + int(table[row, left // measure]) > best:
                steps += 1
                skip = value + int(table[row - 1, left // measure])
                rest = left - sizes[row]
                row -= 1
                if rest >= 0:
                    more = value + values[row + 1]
                    take = more + int(table[row, rest // measure])
                    if take >= skip and take > best:
                        if skip > best:
                            waiting.append((row, left, value, rows))
                        left, value, rows = rest, more, (*rows, row + 1)
                    elif take > best:
                        waiting.append((row, rest, more, (*rows, row + 1)))
            if row <= start and value > best:
                best, taken = value, rows
        self.steps += steps * STEP_COST
        return (self._found(best, taken) if taken else None), not waiting

    def every(
        self, group: int, room: int, floor: int, *, bounds: Sequence[int], limit: Limit
    ) -> list[tuple[tuple[int, int], ...]] | None:
        """Return all full strips worth ``floor`` or more, or None if those are too many.

        What they take is taken off the limit.

        Full means that nothing more fits. With nested groups one piece at least is of
        the last group, or a narrower strip would do.
        """
        start, end, before = self._starts[group], self._ends[group], limit.steps
        found: set[tuple[tuple[int, int], ...]] = set()
        waiting: list[tuple[int, int, int, tuple[int, ...]]] = [(end, room, 0, ())]
        while waiting:
            row, left, value, rows = waiting.pop()
            limit.steps -= STEP_COST
            if limit.steps < 0 or len(found) > limit.columns:
                self.steps += before - limit.steps
                return None
            if value + int(self._table[row, left // self.measure]) < floor:
                continue
            if row == start:
                limit.steps -= LEAF_COST
                one = self._found(value, rows).pieces if rows else ()
                if one and self._is_full(group, one, left, bounds):
                    found.add(one)
                continue
            waiting.append((row - 1, left, value, rows))
            rest = left - self._row_size[row]
            if rest >= 0:
                more = value + self._row_value[row]
                waiting.append((row - 1, rest, more, (*rows, row)))
        self.steps += before - limit.steps
        limit.columns -= len(found)
        return sorted(found)

    def _is_full(
        self,
        group: int,
        pieces: tuple[tuple[int, int], ...],
        left: int,
        bounds: Sequence[int],
    ) -> bool:
        last = self._groups[group]
        if self._nested and pieces[-1][0] < last.start:
            return False
        first = 0 if self._nested else last.start
        counts = dict(pieces)
        return not any(
            self._sizes[option] <= left and counts.get(option, 0) < bounds[option]
            for option in range(first, last.end)
        )

    def _found(self, value: int, rows: tuple[int, ...]) -> Found:
        counts: Counter[int] = Counter()
        for row in rows:
            option, times = self._row_piece[row]
            counts[option] += times
        return Found(value, tuple(sorted(counts.items())), max(rows))
