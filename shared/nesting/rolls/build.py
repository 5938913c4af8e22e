"""Rows, made one after the other: a piece opens a row, others fill what is beside it.

What fills the rest goes by an order of items, the first that fits; the search looks for
good orders. Filling a rectangle, placing a piece in its corner and going on with the two
rectangles that one cut leaves is due to Zhang, Kang and Deng, A new heuristic recursive
algorithm for the strip rectangular packing problem, Computers & Operations Research 33,
2006 [M].
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shared.nesting.rolls.level import Bin, Level, Spot, level_of
from shared.nesting.rolls.model import Laying
from shared.nesting.rolls.table import Kind, Option, Table

STEP_COST = 130  # elementary steps for each look at an option
ROW_COST = 4000  # for each row, whatever it holds


@dataclass(frozen=True, slots=True)
class Rule:
    """How rows are filled.

    ``upright_first``: an item's long way along is tried first. ``snug``: a piece that
    fills its rectangle from side to side goes first. ``slit``: cut along before across,
    None by what leaves the largest rectangle. ``tries``: other lengths of each row.
    """

    upright_first: bool = True
    snug: bool = True
    slit: bool | None = None
    tries: int = 0


class Builder:
    """Makes rows of a table's items, for one way of cutting them up."""

    def __init__(self, table: Table, laying: Laying) -> None:
        """Write the options down as the filling wants them."""
        self.table, self.laying = table, laying
        self.steps = 0
        self._long = [self._flat(way) for way in table.ways]
        self._wide = [self._flat(way[::-1]) for way in table.ways]

    def _flat(self, way: Sequence[int]) -> list[tuple[int, int, int]]:
        options = self.table.options
        return [(options[o].across, options[o].along, o) for o in way]

    def build(
        self,
        order: Sequence[int],
        wanted: Sequence[int],
        kinds: Sequence[int],
        rule: Rule,
        begun: Sequence[Bin] = (),
    ) -> list[Bin] | None:
        """Return rolls with all that is wanted, those begun first; None if it won't go."""
        left = list(wanted)
        filling = _Filling(self, [i for i in order if left[i]], left, rule)
        bins = [Bin(b.kind, list(b.levels)) for b in begun]
        for one in bins:
            if not filling.alive:
                break
            filling.fill(one)
        used = [sum(b.kind == k for b in bins) for k in range(len(self.table.kinds))]
        for kind in kinds:
            limit = self.table.kinds[kind].limit
            while filling.alive and (limit is None or used[kind] < limit):
                one = Bin(kind)
                filling.fill(one)
                if not one.levels:
                    break
                used[kind] += 1
                bins.append(one)
        self.steps += filling.steps * STEP_COST
        return None if filling.alive else bins

    def rows(
        self,
        order: Sequence[int],
        wanted: Sequence[int],
        kind: int,
        opener: int,
        lengths: Sequence[int],
        rule: Rule,
    ) -> list[Level]:
        """Return rows that an item opens, so much longer than it each."""
        filling = _Filling(self, list(order), list(wanted), rule)
        width, rows = self.table.kinds[kind].width, []
        for across, along, option in filling.ways_of(opener):
            if across <= width:
                rows += [
                    filling.row(width, along + more, option)
                    for more in lengths
                    if not more or self.table.is_handy(along + more)
                ]
        self.steps += filling.steps * STEP_COST
        return rows

    def topped_up(self, level: Level, width: int, left: list[int]) -> Level:
        """Return a row with what still fits beside and after its pieces; ``left`` falls.

        Only rows of single columns side by side have such room.
        """
        if self.laying is Laying.ROWS or any(spot.y for spot in level.spots):
            return level
        order = sorted(
            (i for i, n in enumerate(left) if n), key=lambda i: -self.table.area[i]
        )
        filling = _Filling(self, order, left, Rule())
        spots = filling.top_up(level, width)
        self.steps += filling.steps * STEP_COST
        return level_of(self.table, spots, level.length)

    def missing(self, order: Sequence[int], kinds: Sequence[int]) -> list[int]:
        """Return how many of each item find no room on these rolls."""
        left = list(self.table.demand)
        filling = _Filling(self, list(order), left, Rule())
        for kind in kinds:
            for _ in range(self.table.kinds[kind].limit or 1):
                filling.fill(Bin(kind))
        return left


@dataclass(frozen=True, slots=True)
class _Room:
    """What is left of a roll, in ticks, and the slack of the rows that it holds."""

    ticks: int | None
    slack: int

    @classmethod
    def of(cls, kind: Kind, one: Bin) -> _Room:
        slack = max((level.slack for level in one.levels), default=0)
        if kind.room is None:
            return cls(None, slack)
        return cls(kind.room - sum(level.length for level in one.levels), slack)

    def holds(self, length: int, slack: int) -> bool:
        return self.ticks is None or length - max(slack, self.slack) <= self.ticks


class _Filling:
    """One filling: what is left, and in which order it is tried."""

    def __init__(
        self, builder: Builder, alive: list[int], left: list[int], rule: Rule
    ) -> None:
        self._table, self._laying = builder.table, builder.laying
        self._ways = builder._long if rule.upright_first else builder._wide
        self.alive, self._left, self._rule = alive, left, rule
        self.steps = 0
        self._spots: list[Spot] = []
        self._area = 0

    def fill(self, one: Bin) -> None:
        """Put rows on a roll until none fits."""
        kind = self._table.kinds[one.kind]
        while self.alive:
            level = self._level(kind.width, _Room.of(kind, one))
            if level is None:
                return
            one.levels.append(level)
            self.alive = [i for i in self.alive if self._left[i]]

    def _level(self, width: int, room: _Room) -> Level | None:
        opener = self._opener(width, room)
        if opener is None:
            return None
        option = self._table.options[opener]
        best = self.row(width, option.along, opener)
        if self._rule.tries and self._laying is not Laying.ROWS:
            best = self._better(width, room, opener, best)
        if not room.holds(best.length, best.slack):
            best = level_of(self._table, [Spot(opener, 0, 0)], option.along)
        for spot in best.spots:
            self._left[self._table.options[spot.option].item] -= 1
        return best

    def _opener(self, width: int, room: _Room) -> int | None:
        for item in self.alive:
            for across, along, option in self._ways[item]:
                self.steps += 1
                slack = self._table.options[option].slack
                if across <= width and room.holds(along, slack):
                    return option
        return None

    def _better(self, width: int, room: _Room, opener: int, best: Level) -> Level:
        """Try rows that hold two pieces one after the other, and keep the fullest."""
        tried = {self._table.options[opener].along}
        for length in self._longer(opener):
            if len(tried) > self._rule.tries:
                break
            if length in tried or not self._table.is_handy(length):
                continue
            tried.add(length)
            level = self.row(width, length, opener)
            if level.area * best.length > best.area * level.length and room.holds(
                level.length, level.slack
            ):
                best = level
        return best

    def _longer(self, opener: int) -> Iterator[int]:
        """Yield lengths of rows with the opener and some others after it."""
        options, left = self._table.options, self._left
        first, more = options[opener], 0
        for number, item in enumerate(self.alive):
            if left[item] - (item == first.item) <= 0:
                continue
            along = options[self._ways[item][0][2]].along
            yield first.along + along
            more = more + along if number % 3 else along
            yield first.along + more

    def row(self, width: int, length: int, opener: int) -> Level:
        """Return a row with the opener in its corner, no longer than what is in it.

        What is left stays as it was.
        """
        options, left = self._table.options, self._left
        self._spots, self._area = [], 0
        if self._laying is Laying.FREE:
            self._place(opener, 0, 0)
            self._free(self._rest(0, 0, width, length, options[opener]))
        else:
            self._columns(width, length, opener)
        for spot in self._spots:
            left[options[spot.option].item] += 1
        self.steps += ROW_COST // STEP_COST
        cells = max(spot.y + options[spot.option].along for spot in self._spots)
        return level_of(self._table, self._spots, cells)

    def ways_of(self, item: int) -> list[tuple[int, int, int]]:
        """Return an item's ways, the favoured first: across, along, option."""
        return self._ways[item]

    def top_up(self, level: Level, width: int) -> list[Spot]:
        """Fill what a row leaves after each piece and beside the last; count it down."""
        options = self._table.options
        self._spots, self._area = list(level.spots), 0
        x = 0
        for spot in level.spots:
            one = options[spot.option]
            self._stack(spot.x, one.along, one.across, level.length)
            x = max(x, spot.x + one.across)
        first = self._first(width - x, level.length)
        while first is not None:
            self._place(first, x, 0)
            self._stack(x, options[first].along, options[first].across, level.length)
            x += options[first].across
            first = self._first(width - x, level.length)
        return self._spots

    def _stack(self, x: int, y: int, across: int, length: int) -> None:
        """Put pieces one after the other into a column, from y on."""
        while self._laying is not Laying.ROWS:
            above = self._first(across, length - y)
            if above is None:
                return
            self._place(above, x, y)
            y += self._table.options[above].along

    def _place(self, option: int, x: int, y: int) -> None:
        one = self._table.options[option]
        self._left[one.item] -= 1
        self._spots.append(Spot(option, x, y))
        self._area += one.across * one.along

    def _columns(self, width: int, length: int, opener: int) -> None:
        """Fill a row with columns as wide as their first piece."""
        options, x = self._table.options, 0
        first: int | None = opener
        while first is not None:
            self._place(first, x, 0)
            self._stack(x, options[first].along, options[first].across, length)
            x += options[first].across
            first = self._first(width - x, length)

    def _free(self, waiting: list[tuple[int, int, int, int]]) -> None:
        while waiting:
            x, y, w, h = waiting.pop()
            option = self._first(w, h)
            if option is not None:
                self._place(option, x, y)
                waiting += self._rest(x, y, w, h, self._table.options[option])

    def _first(self, w: int, h: int) -> int | None:
        """Return the first option that fits, or where snug, one that leaves one side."""
        found, snug, left, ways = None, self._rule.snug, self._left, self._ways
        if w <= 0 or h <= 0:
            return None
        looked = 0
        for item in self.alive:
            if not left[item]:
                continue
            for across, along, option in ways[item]:
                looked += 1
                if across > w or along > h:
                    continue
                if not snug or across == w or along == h:
                    self.steps += looked
                    return option
                if found is None:
                    found = option
        self.steps += looked
        return found

    def _rest(
        self, x: int, y: int, w: int, h: int, placed: Option
    ) -> list[tuple[int, int, int, int]]:
        """Return the one or two rectangles beside a piece; the last is filled first."""
        a, b = placed.across, placed.along
        right, above = w - a, h - b
        slit = self._rule.slit
        if slit is None:
            slit = max(right * h, a * above) >= max(right * b, w * above)
        if slit:
            one, two = (x + a, y, right, h), (x, y + b, a, above)
        else:
            one, two = (x + a, y, right, b), (x, y + b, w, above)
        first_is_larger = one[2] * one[3] >= two[2] * two[3]
        pair = [two, one] if first_is_larger else [one, two]
        return [r for r in pair if r[2] > 0 and r[3] > 0]
