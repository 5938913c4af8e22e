"""The linear programme over strips and plates, on HiGHS.

Gilmore and Gomory's staged form (Multistage cutting stock problems of two and more
dimensions, Operations Research 13, 1965 [M]): plates give strips of a lane, strips give
pieces. Rows: each part's demand, each lane's balance, each limited stock, and cuts that
ask for a number of strips at least so wide.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import highspy
import numpy as np

from shared.nesting.core import Core, Cut, Stack

SLACK_FACTOR = 4  # what leaving a piece out costs, in dearest plates


@dataclass(frozen=True, slots=True)
class AtLeast:
    """A valid cut: so many strips from ``low`` to ``high`` wide, whatever the plan."""

    low: int
    high: int
    strips: int

    def counts(self, width: int) -> bool:
        """Tell whether a strip of this width is one of them."""
        return self.low <= width <= self.high


@dataclass(frozen=True, slots=True)
class Duals:
    """What one more of each row's right side would cost."""

    items: Sequence[float]
    lanes: Sequence[float]
    cuts: Sequence[float]
    limits: Sequence[float]

    def towards(self, other: Duals, share: float) -> Duals:
        """Return duals between these and others, limits as they are here."""

        def between(mine: Sequence[float], theirs: Sequence[float]) -> list[float]:
            return [a + share * (b - a) for a, b in zip(mine, theirs, strict=True)]

        return Duals(
            items=between(self.items, other.items),
            lanes=between(self.lanes, other.lanes),
            cuts=between(self.cuts, other.cuts),
            limits=self.limits,
        )


@dataclass(frozen=True, slots=True)
class Solved:
    """The programme's optimum: its value, its duals, and the amounts of columns."""

    value: float
    duals: Duals
    amounts: dict[Cut | Stack, float]
    missing: float


@dataclass(frozen=True, slots=True)
class Whole:
    """Whole amounts, if any were found, and a bound over the columns asked about."""

    amounts: dict[Cut | Stack, int]
    bound: float


class Master:
    """The programme, kept warm between changes."""

    def __init__(self, core: Core, at_least: Sequence[AtLeast] = ()) -> None:
        """Begin with rows, and a dear column for each part so that there is a solution."""
        self._core, self._at_least = core, at_least
        self.columns: list[Cut | Stack] = []
        self._known: set[Cut | Stack] = set()
        self._limited = [i for i, s in enumerate(core.stocks) if s.limit is not None]
        self._first_lane = len(core.demand)
        self._first_cut = self._first_lane + len(core.lanes)
        self._first_limit = self._first_cut + len(at_least)
        self._highs = quiet()
        self.iterations = 0
        self._low = [*core.demand, *(0 for _ in core.lanes)]
        self._add_rows()
        dear = SLACK_FACTOR * max(1, *(s.price for s in core.stocks))
        self._add([({item: 1.0}, dear) for item in range(len(core.demand))])

    @property
    def rows(self) -> int:
        """Return how many rows there are."""
        return self._first_limit + len(self._limited)

    def _add_rows(self) -> None:
        low = [float(d) for d in self._core.demand]
        low += [0.0] * len(self._core.lanes)
        low += [float(cut.strips) for cut in self._at_least]
        high = [highspy.kHighsInf] * len(low)
        for index in self._limited:
            low.append(-highspy.kHighsInf)
            high.append(float(self._core.stocks[index].limit or 0))
        none = np.zeros(len(low), dtype=np.int32)
        self._highs.addRows(
            len(low), np.array(low), np.array(high), 0, none, none[:0], np.zeros(0)
        )

    def _add(self, columns: Sequence[tuple[dict[int, float], float]]) -> None:
        add_columns(self._highs, columns)

    def add(self, columns: Sequence[Cut | Stack]) -> int:
        """Add the columns that are new, and return how many those were."""
        new = [c for c in dict.fromkeys(columns) if c not in self._known]
        self._known.update(new)
        self.columns += new
        if new:
            self._add([self._entries(column) for column in new])
        return len(new)

    def _entries(self, column: Cut | Stack) -> tuple[dict[int, float], float]:
        entries: dict[int, float] = {}
        if isinstance(column, Cut):
            for option, times in column.pieces:
                item = self._core.options[option].item
                entries[item] = entries.get(item, 0.0) + times
            entries[self._first_lane + column.lane] = -1.0
            return entries, 0.0
        for lane, times in column.lanes:
            entries[self._first_lane + lane] = float(times)
        for index, cut in enumerate(self._at_least):
            wide = sum(
                n
                for lane, n in column.lanes
                if cut.counts(self._core.lanes[lane].width)
            )
            if wide:
                entries[self._first_cut + index] = float(wide)
        if column.stock in self._limited:
            entries[self._first_limit + self._limited.index(column.stock)] = 1.0
        return entries, float(self._core.stocks[column.stock].price)

    def demand(self, residual: Sequence[int], fixed: Sequence[int]) -> None:
        """Ask for what is still missing, with so many strips of each lane fixed."""
        for row, (low, was) in enumerate(
            zip([*residual, *fixed], self._low, strict=True)
        ):
            if low != was:
                self._highs.changeRowBounds(row, float(low), highspy.kHighsInf)
        self._low = [*residual, *fixed]

    def solve(self, *, primal: bool) -> Solved:
        """Return the optimum; primal simplex suits new columns, dual new demands."""
        self._highs.setOptionValue("simplex_strategy", 4 if primal else 1)
        self._highs.run()
        info = self._highs.getInfo()
        self.iterations += info.simplex_iteration_count
        solution = self._highs.getSolution()
        duals, amounts = solution.row_dual, solution.col_value
        first = len(self._core.demand)
        return Solved(
            value=info.objective_function_value,
            duals=Duals(
                items=duals[: self._first_lane],
                lanes=duals[self._first_lane : self._first_cut],
                cuts=duals[self._first_cut : self._first_limit],
                limits=duals[self._first_limit :],
            ),
            amounts={
                column: amount
                for column, amount in zip(self.columns, amounts[first:], strict=True)
                if amount > 1e-9
            },
            missing=sum(amounts[:first]),
        )

    def nearest(self, most: int) -> list[Cut | Stack]:
        """Return the columns that cost least more than their worth, as last solved."""
        first = len(self._core.demand)
        costs = self._highs.getSolution().col_dual[first:]
        ranked = sorted(range(len(self.columns)), key=lambda c: (costs[c], c))
        return [self.columns[c] for c in ranked[:most]]

    def whole(
        self,
        columns: Sequence[Cut | Stack],
        *,
        nodes: int,
        enough: float,
        stop: Callable[[], bool],
    ) -> Whole:
        """Look for whole amounts of these columns, which were added before.

        Ends at a plan that costs ``enough``, after so many nodes, or when told to.
        """
        first, count, kept = len(self._core.demand), len(self.columns), set(columns)
        model = quiet()
        model.passModel(self._highs.getLp())
        for index in range(first + count):
            if index < first or self.columns[index - first] not in kept:
                model.changeColBounds(index, 0.0, 0.0)
        make_whole(model, first + count, nodes)
        model.setOptionValue("objective_target", enough)
        model.setOptionValue("mip_abs_gap", self._core.step * 0.99)

        def ask(event: highspy.HighsCallbackEvent) -> None:
            if stop():
                event.interrupt()

        model.cbMipInterrupt.subscribe(ask)
        model.run()
        info = model.getInfo()
        self.iterations += info.simplex_iteration_count
        bound = info.mip_dual_bound
        if model.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
            bound = highspy.kHighsInf
        found = {}
        if info.primal_solution_status == highspy.kSolutionStatusFeasible:
            amounts = model.getSolution().col_value[first:]
            found = {c: round(a) for c, a in zip(self.columns, amounts, strict=True)}
        return Whole(found, bound)


def add_columns(
    highs: highspy.Highs, columns: Sequence[tuple[dict[int, float], float]]
) -> None:
    """Add columns of nothing or more, each by its entries in the rows and its cost."""
    starts: list[int] = []
    rows: list[int] = []
    values: list[float] = []
    for entries, _ in columns:
        starts.append(len(rows))
        rows += entries.keys()
        values += entries.values()
    count = len(columns)
    highs.addCols(
        count,
        np.array([cost for _, cost in columns], dtype=np.float64),
        np.zeros(count),
        np.full(count, highspy.kHighsInf),
        len(rows),
        np.array(starts, dtype=np.int32),
        np.array(rows, dtype=np.int32),
        np.array(values, dtype=np.float64),
    )


def make_whole(model: highspy.Highs, columns: int, nodes: int) -> None:
    """Ask for whole amounts, within so many nodes."""
    model.changeColsIntegrality(
        columns,
        np.arange(columns, dtype=np.int32),
        np.full(columns, int(highspy.HighsVarType.kInteger), dtype=np.uint8),
    )
    model.setOptionValue("presolve", "on")
    model.setOptionValue("mip_max_nodes", nodes)
    model.setOptionValue("mip_rel_gap", 0.0)


def quiet() -> highspy.Highs:
    """Return a silent solver that gives the same answer each time."""
    highs = highspy.Highs()  # type: ignore[no-untyped-call]
    options: dict[str, bool | int | str] = {
        "output_flag": False,
        "threads": 1,
        "random_seed": 1,
        "presolve": "off",
        "solver": "simplex",
        "parallel": "off",
    }
    for name, value in options.items():
        highs.setOptionValue(name, value)
    return highs
