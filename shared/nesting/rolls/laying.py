"""A found plan with names and places: rows in cutting order, pieces, what is left."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterator, Sequence
from fractions import Fraction

from shared.nesting.rolls.cuts import cut_up
from shared.nesting.rolls.level import Bin, Level
from shared.nesting.rolls.model import RollJob
from shared.nesting.rolls.result import Placed, RollUse, Row
from shared.nesting.rolls.search import Found
from shared.nesting.rolls.table import Kind, Table, Variant


def lay_down(table: Table, variant: Variant, found: Found) -> tuple[RollUse, ...]:
    """Return each roll that is used, with everything in its place."""
    names = _Names(table, variant)
    numbers: Counter[str] = Counter()
    uses = []
    for one in found.bins:
        kind = table.kinds[one.kind]
        uses.append(_use(table, kind, one, numbers[kind.roll.key], names))
        numbers[kind.roll.key] += 1
    return tuple(uses)


class _Names:
    """Gives pieces of one size their names, those that came first before."""

    def __init__(self, table: Table, variant: Variant) -> None:
        self._job, self._table = table.job, table
        self._lays = {
            place: {(lay.across_ticks, lay.along_ticks): lay for lay in lays}
            for place, lays in enumerate(variant)
        }
        self._waiting = [
            deque(
                (place, copy, drop)
                for place in members
                for copy in range(table.job.parts[place].count)
                for drop in range(variant[place][0].drops)
            )
            for members in table.members
        ]

    def place(self, option: int, x: int, y: int) -> Placed:
        """Return the next piece of this size, its cell's corner at x and y."""
        one = self._table.options[option]
        place, copy, drop = self._waiting[one.item].popleft()
        part, size = self._job.parts[place], (one.lay.across_ticks, one.lay.along_ticks)
        return Placed(
            part=part.key,
            copy=copy,
            drop=drop,
            x_ticks=x,
            y_ticks=y + part.offset_ticks,
            across_ticks=size[0],
            along_ticks=size[1],
            turned=self._lays[place][size].turned,
            for_repairs=part.for_repairs,
        )


def _use(table: Table, kind: Kind, one: Bin, number: int, names: _Names) -> RollUse:
    job, roll = table.job, kind.roll
    rows = tuple(_rows(job, kind, _in_order(one.levels), names))
    cut = rows[-1].at_ticks + rows[-1].along_ticks
    spare = job.spare_of(cut)
    return RollUse(
        roll=roll.key,
        number=number,
        lot=roll.lot,
        usable_ticks=roll.usable_ticks,
        selvedge_ticks=roll.selvedge_ticks,
        trim_ticks=job.trim_ticks,
        rows=rows,
        cut_ticks=cut,
        spare_ticks=spare,
        buy_ticks=cut + spare if roll.is_endless else 0,
        left_ticks=None if roll.length_ticks is None else roll.length_ticks - cut,
        cost=Fraction(kind.cost(cut), job.price_ticks),
    )


def _in_order(levels: Sequence[Level]) -> list[Level]:
    """Order rows: the longest first, alike ones together, the one with most slack last."""
    ordered = sorted(levels, key=lambda lv: (-lv.length, [s.option for s in lv.spots]))
    last = max(range(len(ordered)), key=lambda n: (ordered[n].slack, n))
    return [*ordered[:last], *ordered[last + 1 :], ordered[last]]


def _rows(
    job: RollJob, kind: Kind, levels: Sequence[Level], names: _Names
) -> Iterator[Row]:
    at, width = job.trim_ticks, kind.roll.usable_ticks
    for number, level in enumerate(levels, start=1):
        length = level.length - (level.slack if number == len(levels) else 0)
        pieces = tuple(names.place(s.option, s.x, at + s.y) for s in level.spots)
        cutting = cut_up(width, at, length, pieces)
        yield Row(at, length, pieces, tuple(cutting.cuts), tuple(cutting.scraps))
        at += level.length
