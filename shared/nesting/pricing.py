"""Columns worth having, and what the duals prove.

Duals are made whole numbers first, so that the table, the search and the bound are exact
arithmetic: no bound rests on a rounding error of the linear programme.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from shared.nesting.core import Core, Cut, Stack
from shared.nesting.knapsack import Group, Knapsack, Limit
from shared.nesting.master import AtLeast, Duals

SCALE = 2**30  # whole units that the dearest plate is worth
TOLERANCE = 2**9  # of them: less is no gain
STRIPS_A_ROUND = 100
STRIPS_A_LANE = 12
STACKS_A_ROUND = 4
STEPS = 20_000  # of the search for one strip


@dataclass(frozen=True, slots=True)
class Priced:
    """New columns, a bound on the price, exact for any duals, and the duals behind it."""

    columns: list[Cut | Stack]
    bound: Fraction
    duals: Duals


class Pricer:
    """Both knapsacks of a problem: pieces into strips, strips into plates."""

    def __init__(self, core: Core, at_least: Sequence[AtLeast] = ()) -> None:
        """Group options by the width of their strips, and lanes by length."""
        self._core, self._at_least, k = core, at_least, core.kerf
        widths = sorted({o.across for o in core.options})
        starts = [
            next(i for i, o in enumerate(core.options) if o.across == w) for w in widths
        ]
        ends = [*starts[1:], len(core.options)]
        self._group_of = {w: i for i, w in enumerate(widths)}
        longest = max(s.length for s in core.stocks)
        self._strips = Knapsack(
            [o.along + k for o in core.options],
            [Group(a, b) for a, b in zip(starts, ends, strict=True)],
            longest + k,
            nested=not core.exact,
        )
        lengths = sorted({lane.length for lane in core.lanes})
        self._group_at = {length: i for i, length in enumerate(lengths)}
        # A plate that is too short or too narrow for any piece gives no strip at all.
        self._giving = [
            i for i, s in enumerate(core.stocks) if s.length in self._group_at
        ]
        self._plates = Knapsack(
            [lane.width + k for lane in core.lanes],
            [
                Group(
                    next(i for i, ln in enumerate(core.lanes) if ln.length == length),
                    sum(ln.length <= length for ln in core.lanes),
                )
                for length in lengths
            ],
            max(s.width for s in core.stocks) + k,
            nested=False,
        )
        self._unit = Fraction(SCALE, max(1, *(s.price for s in core.stocks)))

    @property
    def steps(self) -> int:
        """Return the elementary steps done so far."""
        return self._strips.steps + self._plates.steps

    def price(
        self, duals: Duals, bounds: Sequence[int], *, steps: int = STEPS
    ) -> Priced:
        """Look for strips and plates worth more than they cost at these duals.

        ``bounds`` is the most of each part that one strip may hold,
        ``steps`` the most to search for one.
        """
        core, k = self._core, self._core.kerf
        self._strips.most_steps = self._plates.most_steps = steps
        values = [self._whole(dual) for dual in duals.items]
        self._strips.fill(
            [values[o.item] for o in core.options],
            [bounds[o.item] for o in core.options],
        )
        worth = [
            self._strips.bound(self._group_of[lane.width], lane.length + k)
            for lane in core.lanes
        ]
        lanes = [self._whole(dual) for dual in duals.lanes]
        columns: list[Cut | Stack] = [*self._new_cuts(worth, lanes)]
        cuts = [self._whole(dual) for dual in duals.cuts]
        columns += self._new_stacks(lanes, cuts, duals.limits)
        bound, scale = self._bound(values, worth, cuts)
        down = float(scale / self._unit)
        sound = Duals(
            items=[value * down for value in values],
            lanes=[value * down for value in worth],
            cuts=[value * down for value in cuts],
            limits=(),
        )
        return Priced(columns, bound, sound)

    def _whole(self, dual: float) -> int:
        return int(max(0.0, dual) * float(self._unit))

    def _new_cuts(self, worth: list[int], duals: Sequence[int]) -> list[Cut]:
        """Search the lanes with most to gain, and lower ``worth`` to what is so."""
        core = self._core
        gains = [
            (w - d, lane) for lane, (w, d) in enumerate(zip(worth, duals, strict=True))
        ]
        gains = sorted((g for g in gains if g[0] > TOLERANCE), reverse=True)
        each = max(2, min(STRIPS_A_LANE, STRIPS_A_ROUND // max(1, len(gains))))
        new: list[Cut] = []
        for _, index in gains:
            if len(new) >= STRIPS_A_ROUND:
                break
            lane = core.lanes[index]
            answer = self._strips.above(
                self._group_of[lane.width],
                lane.length + core.kerf,
                duals[index] + TOLERANCE,
                each,
            )
            worth[index] = answer.ceiling
            new += [Cut(index, one.pieces) for one in answer.found]
        return new

    def _new_stacks(
        self, duals: Sequence[int], cuts: Sequence[int], limits: Sequence[float]
    ) -> list[Stack]:
        core, k = self._core, self._core.kerf
        self._fill_plates(duals, cuts)
        rows = [i for i, s in enumerate(core.stocks) if s.limit is not None]
        saved = dict(zip(rows, limits, strict=True))
        new: list[Stack] = []
        for index in self._giving:
            stock = core.stocks[index]
            cost = int(stock.price * self._unit)
            cost += int(-saved.get(index, 0.0) * float(self._unit))
            answer = self._plates.above(
                self._group_at[stock.length],
                stock.width + k,
                cost + TOLERANCE,
                STACKS_A_ROUND,
            )
            new += [Stack(index, found.pieces) for found in answer.found]
        return new

    def _fill_plates(self, duals: Sequence[int], cuts: Sequence[int]) -> list[int]:
        """Value each lane by its dual and the cuts its width serves.

        Returns the most of each that a plate could hold.
        """
        values = [
            dual
            + sum(
                value
                for cut, value in zip(self._at_least, cuts, strict=True)
                if cut.counts(lane.width)
            )
            for lane, dual in zip(self._core.lanes, duals, strict=True)
        ]
        widest = max(stock.width for stock in self._core.stocks) + self._core.kerf
        most = [widest // (ln.width + self._core.kerf) for ln in self._core.lanes]
        self._plates.fill(values, most)
        return most

    def every(
        self, duals: Duals, window: Fraction, limit: Limit
    ) -> list[Cut | Stack] | None:
        """Return every strip and plate that costs up to ``window`` more than its worth.

        A plan that is cheaper than the programme's value plus the window is made of
        these alone, since what its columns cost more than their worth adds up. None if those
        are beyond the limit.
        """
        core, k = self._core, self._core.kerf
        less = int(window * self._unit) + TOLERANCE
        bounds = [core.demand[o.item] for o in core.options]
        values = [max(1, self._whole(duals.items[o.item])) for o in core.options]
        self._strips.fill(values, bounds)
        columns: list[Cut | Stack] = []
        for index, lane in enumerate(core.lanes):
            floor = self._whole(duals.lanes[index]) - less
            group, room = self._group_of[lane.width], lane.length + k
            found = self._strips.every(group, room, floor, bounds=bounds, limit=limit)
            if found is None:
                return None
            columns += [Cut(index, pieces) for pieces in found]
        lanes = [max(1, self._whole(dual)) for dual in duals.lanes]
        widest = self._fill_plates(lanes, [self._whole(dual) for dual in duals.cuts])
        for index in self._giving:
            stock = core.stocks[index]
            floor = int(stock.price * self._unit) - less
            group, room = self._group_at[stock.length], stock.width + k
            found = self._plates.every(group, room, floor, bounds=widest, limit=limit)
            if found is None:
                return None
            columns += [Stack(index, pieces) for pieces in found]
        return columns

    def _bound(
        self, values: Sequence[int], worth: Sequence[int], cuts: Sequence[int]
    ) -> tuple[Fraction, Fraction]:
        """Scale the duals down until no plate is worth more than it costs.

        Farley's bound (A note on bounding a class of linear programming problems,
        including cutting stock problems, Operations Research 38, 1990 [M]); a limited
        stock may be worth more, and its excess is taken off for each there is. Also return the scale.
        """
        core = self._core
        self._fill_plates(worth, cuts)
        most = [0] * len(core.stocks)
        for index in self._giving:
            stock = core.stocks[index]
            most[index] = self._plates.bound(
                self._group_at[stock.length], stock.width + core.kerf
            )
        scale = Fraction(1)
        for stock, value in zip(core.stocks, most, strict=True):
            if stock.limit is None and value > 0:
                scale = min(scale, stock.price * self._unit / value)
        total = sum(v * d for v, d in zip(values, core.demand, strict=True))
        total += sum(
            v * cut.strips for v, cut in zip(cuts, self._at_least, strict=True)
        )
        bound = scale * total
        for stock, value in zip(core.stocks, most, strict=True):
            if stock.limit is not None:
                bound -= stock.limit * max(
                    Fraction(0), scale * value - stock.price * self._unit
                )
        return max(Fraction(0), bound / self._unit), scale
