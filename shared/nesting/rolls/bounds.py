"""What any plan must take at least: by slices across the roll, or by rows.

Slices: each plan, cut across at every tick, is a pile of slices of pieces side by side;
how few slices hold all pieces is a linear programme over what fits side by side
(the bar relaxation; Scheithauer, LP-based bounds for the container and multi-container
loading problem, International Transactions in Operational Research 6, 1999 [M]). It holds
for any way of laying pieces down, and is no lower than any bound by area or by dual
feasible functions of the widths. Rows: the same over whole rows, for plans of
rows that hold one piece from their one end to the other (Gilmore and Gomory 1965 [M]).
Columns come by an exact knapsack, and the bound from whole-number duals (Farley
1990 [M]), so no rounding error of the programme is in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

import highspy
import numpy as np

from shared.nesting.effort import Meter
from shared.nesting.knapsack import Group, Knapsack
from shared.nesting.master import add_columns, quiet
from shared.nesting.rolls.least import most_of, rates_of
from shared.nesting.rolls.table import Table

SCALE = 2**30  # whole units that the dearest column is worth
TOLERANCE = 2**10
ROUNDS = 300
COLUMNS_A_GROUP, COLUMNS_A_ROUND = 6, 60
STEPS = 20_000
NODES = 60  # of branch and bound
DEAR = 4.0  # what leaving a piece out costs, as long as the longest
LARGE = 900  # options above which no linear programme is tried


@dataclass(frozen=True, slots=True)
class Column:
    """What lies side by side on a kind of roll, and how long that is."""

    kind: int
    length: int
    pieces: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Solved:
    """The programme's optimum: what options and limits are worth, what columns it takes."""

    value: float
    values: Sequence[float]
    limits: Sequence[float]
    amounts: dict[Column, float]
    missing: float


class Relaxation:
    """The programme over slices, or over rows where ``by_rows``."""

    def __init__(self, table: Table, *, by_rows: bool) -> None:
        """Begin with rows, and a dear column for each option so that there is an answer."""
        self.table, self._by_rows = table, by_rows
        options = table.options
        self._tall = max(o.along for o in options)
        alongs = sorted({o.along for o in options}) if by_rows else [self._tall]
        ends = [sum(o.along <= along for o in options) for along in alongs]
        starts = [0, *ends[:-1]]
        self._lengths = alongs if by_rows else [1]
        self._knapsack = Knapsack(
            [o.across for o in options],
            [Group(a, b) for a, b in zip(starts, ends, strict=True)],
            max(k.width for k in table.kinds),
            nested=by_rows,
        )
        self._knapsack.most_steps = STEPS
        self._rates = rates_of(table)
        # The programme's money: what the longest piece's length costs at this rate.
        self._dearest = max(self._rates) or Fraction(1)
        self._highs = quiet()
        self.columns: list[Column] = []
        self._known: set[Column] = set()
        self.bound = Fraction(0)
        self._wanted = list(table.demand)
        self._add_rows()

    def _add_rows(self) -> None:
        """Rows: each option's supply, each item's demand, each limited kind's length."""
        table, none = self.table, np.zeros(0, dtype=np.int32)
        options, items = len(table.options), len(table.demand)
        self._limited = [
            k for k in range(len(table.kinds)) if most_of(table, k) is not None
        ]
        low = [0.0] * options + [float(d) for d in table.demand]
        low += [-highspy.kHighsInf] * len(self._limited)
        high = [highspy.kHighsInf] * (options + items)
        high += [(most_of(table, k) or 0) / self._tall for k in self._limited]
        starts = np.zeros(len(low), dtype=np.int32)
        self._highs.addRows(
            len(low), np.array(low), np.array(high), 0, starts, none, np.zeros(0)
        )
        lying = [
            ({o: -self._needs(o), options + option.item: 1.0}, 0.0)
            for o, option in enumerate(table.options)
        ]
        dear = [({o: 1.0}, DEAR) for o in range(options)]
        self._extend([*lying, *dear])
        self._given = len(lying) + len(dear)

    def _needs(self, option: int) -> float:
        """Return how much of columns one piece takes: itself, or its length in slices."""
        return 1.0 if self._by_rows else self.table.options[option].along / self._tall

    def _extend(self, columns: Sequence[tuple[dict[int, float], float]]) -> None:
        add_columns(self._highs, columns)

    def add(self, columns: Sequence[Column]) -> int:
        """Add the columns that are new, and return how many those were."""
        new = [c for c in dict.fromkeys(columns) if c not in self._known]
        self._known.update(new)
        self.columns += new
        if new:
            self._extend([self._entries(column) for column in new])
        return len(new)

    def _entries(self, column: Column) -> tuple[dict[int, float], float]:
        entries = {option: float(times) for option, times in column.pieces}
        # A slice counts as one as long as the longest piece, or the numbers get small.
        length = column.length / self._tall if self._by_rows else 1.0
        if column.kind in self._limited:
            row = len(self.table.options) + len(self.table.demand)
            entries[row + self._limited.index(column.kind)] = length
        return entries, length * float(self._rates[column.kind] / self._dearest)

    def run(self, meter: Meter, enough: Fraction) -> None:
        """Generate columns until the bound can't rise, or reaches ``enough``."""
        demand = self.table.demand
        self.add(self._price(self._first_duals(), [], demand))
        if len(self.table.options) > LARGE:
            return
        for _ in range(ROUNDS):
            if meter.is_over() or self.bound >= enough:
                return
            if not self.generate(self.solve(meter), demand, meter):
                return

    def solve(self, meter: Meter, *, primal: bool = True) -> Solved:
        """Return the optimum over the columns there are."""
        self._highs.setOptionValue("simplex_strategy", 4 if primal else 1)
        self._highs.run()
        info, solution = self._highs.getInfo(), self._highs.getSolution()
        duals, amounts = solution.row_dual, solution.col_value
        turns = info.simplex_iteration_count
        meter.spend(turns * (80 * len(duals) + 10 * len(self.columns)))
        meter.spend(200 * len(self.columns))
        options = len(self.table.options)
        taken = zip(self.columns, amounts[self._given :], strict=True)
        return Solved(
            value=info.objective_function_value,
            values=duals[:options],
            limits=duals[options + len(self.table.demand) :],
            amounts={column: amount for column, amount in taken if amount > 1e-9},
            missing=sum(amounts[options : self._given]),
        )

    def generate(self, solved: Solved, wanted: Sequence[int], meter: Meter) -> int:
        """Add columns worth more than they cost, no more of an item than is wanted."""
        before = self._knapsack.steps
        known = self.add(self._price(solved.values, solved.limits, wanted))
        meter.spend(self._knapsack.steps - before)
        return known

    def price(self, kind: int, length: int, limits: Sequence[float]) -> float:
        """Return what a row costs in the programme's money, and what its roll is worth."""
        taxes = dict(zip(self._limited, limits, strict=False))
        rate = float(self._rates[kind] / self._dearest) - taxes.get(kind, 0.0)
        return length / self._tall * rate

    def nearest(self, most: int) -> list[Column]:
        """Return so many columns: those that cost least more than their worth."""
        costs = self._highs.getSolution().col_dual[self._given :]
        ranked = sorted(range(len(self.columns)), key=lambda c: (costs[c], c))
        return [self.columns[c] for c in sorted(ranked[:most])]

    def whole(self, columns: Sequence[Column], meter: Meter) -> dict[Column, int]:
        """Look for whole amounts of these columns alone; none where that takes long."""
        self.begin_with(columns)
        model, first = self._highs, self._given
        count = len(self.columns)
        model.changeColsIntegrality(
            count,
            np.arange(first, first + count, dtype=np.int32),
            np.full(count, int(highspy.HighsVarType.kInteger), dtype=np.uint8),
        )
        for name, value in (
            ("presolve", "on"),
            ("mip_max_nodes", NODES),
            ("mip_rel_gap", 0.0),
        ):
            model.setOptionValue(name, value)

        def ask(event: highspy.HighsCallbackEvent) -> None:
            if meter.is_over():
                event.interrupt()

        model.cbMipInterrupt.subscribe(ask)
        model.run()
        info = model.getInfo()
        rows = len(self.table.options) + len(self.table.demand)
        meter.spend((info.simplex_iteration_count * 80 + count * 500) * rows)
        amounts: dict[Column, int] = {}
        if info.primal_solution_status == highspy.kSolutionStatusFeasible:
            values = model.getSolution().col_value[first:]
            pairs = zip(self.columns, values, strict=True)
            amounts = {c: round(v) for c, v in pairs if round(v)}
        self.begin_with(columns)
        return amounts

    def begin_with(self, columns: Sequence[Column]) -> None:
        """Forget all columns but these, and ask for everything."""
        self._highs = quiet()
        self.columns, self._known = [], set()
        self._wanted = list(self.table.demand)
        self._add_rows()
        self.add(columns)

    def demand(self, wanted: Sequence[int]) -> None:
        """Ask for so many of each item from now on."""
        first = len(self.table.options)
        for item, count in enumerate(wanted):
            if self._wanted[item] != count:
                row = first + item
                self._highs.changeRowBounds(row, float(count), highspy.kHighsInf)
        self._wanted = list(wanted)

    def _first_duals(self) -> list[float]:
        """Return each piece's share of the widest roll, or of the largest row on it."""
        widest = max(kind.width for kind in self.table.kinds)
        return [
            o.across / widest * (o.along / self._tall if self._by_rows else 1.0)
            for o in self.table.options
        ]

    def _price(
        self, duals: Sequence[float], limits: Sequence[float], wanted: Sequence[int]
    ) -> list[Column]:
        """Look for columns worth more than they cost, and raise the bound."""
        table = self.table
        values = [int(max(0.0, dual) * SCALE) for dual in duals]
        most = [wanted[o.item] for o in table.options]
        self._knapsack.fill(values, most)
        ceilings, columns = self._best_columns(limits)
        if tuple(wanted) == table.demand:
            self._raise(values, ceilings)
        return columns

    def _best_columns(
        self, limits: Sequence[float]
    ) -> tuple[dict[tuple[int, int], int], list[Column]]:
        """Return the worth of each kind and group at most, and columns that gain."""
        taxes = dict(zip(self._limited, limits, strict=False))
        ceilings: dict[tuple[int, int], int] = {}
        gains: list[tuple[int, int, int, int]] = []
        for kind, one in enumerate(self.table.kinds):
            for group, length in enumerate(self._lengths):
                worth = self._knapsack.bound(group, one.width)
                ceilings[kind, group] = worth
                part = length / self._tall if self._by_rows else 1.0
                rate = float(self._rates[kind] / self._dearest)
                price = rate - taxes.get(kind, 0.0)
                cost = int(SCALE * part * price)
                if worth > cost + TOLERANCE:
                    gains.append((worth - cost, kind, group, cost))
        gains.sort(reverse=True)
        columns: list[Column] = []
        for _, kind, group, cost in gains[:COLUMNS_A_ROUND]:
            answer = self._knapsack.above(
                group, self.table.kinds[kind].width, cost + TOLERANCE, COLUMNS_A_GROUP
            )
            ceilings[kind, group] = answer.ceiling
            length = self._lengths[group]
            columns += [Column(kind, length, one.pieces) for one in answer.found]
        return ceilings, columns

    def _raise(
        self, values: Sequence[int], ceilings: dict[tuple[int, int], int]
    ) -> None:
        """Scale the values until no column is worth more than it costs; keep the bound.

        Here a piece is worth its value, or its value for each slice; a roll of a
        limited kind may be worth more, and the excess is taken off for all there is of it.
        """
        table = self.table
        per_tick = [
            max(
                Fraction(ceilings[k, g], length)
                for g, length in enumerate(self._lengths)
            )
            for k in range(len(table.kinds))
        ]
        free = [k for k in range(len(table.kinds)) if k not in self._limited]
        ratios = [self._rates[k] / per_tick[k] for k in free if per_tick[k]]
        money = self._dearest * (self._tall if self._by_rows else 1)
        factor = min(ratios) if ratios else money / SCALE
        total = Fraction(0)
        for item, count in enumerate(table.demand):
            worths = [
                values[o] * (1 if self._by_rows else table.options[o].along)
                for o in table.ways[item]
            ]
            total += min(worths) * count
        bound = factor * total
        for kind in self._limited:
            over = factor * per_tick[kind] - self._rates[kind]
            bound -= (most_of(table, kind) or 0) * max(Fraction(0), over)
        self.bound = max(self.bound, bound)
