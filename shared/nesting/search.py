"""The search: a first plan, the bound by column generation, then dives to whole numbers.

Ends as soon as the plan costs what the bound says, when the work is used up, or when the
caller says so; there is a plan from the first step on.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from shared.nesting.core import Core, Cut, Filled, Stack, without_surplus
from shared.nesting.effort import Meter
from shared.nesting.firstfit import first_fit
from shared.nesting.knapsack import Limit
from shared.nesting.master import AtLeast, Duals, Master, Solved
from shared.nesting.packing import pack
from shared.nesting.pricing import Priced, Pricer
from shared.nesting.widths import at_least, plates_bound

ROUNDS = 400  # of column generation at the root
ROOT_SHARE = 0.6  # of the work after which no more is generated there
SMOOTH = 0.7  # of the way towards the duals with the best bound (Wentges 1997 [M])
ROUNDS_IN_DIVE = 4
FIRST_DIVES, DIVES = 2, 6  # before widths give cuts, and before whole numbers
MORE_DIVES = 60  # after them, as long as there is work left
DEPTH = 1000
FEW_STEPS = 1500  # of the search for a strip in a dive, where nothing is proven
FIT_COST = 400  # elementary steps for each kind of plate and way to lie
FINISH_COST = 100_000  # elementary steps for each kind of strip and part
WHOLE_COST = 8  # what a turn of the simplex costs more where whole numbers are sought
SOLVE_COST = 200_000  # elementary steps for each linear programme, small as it may be
NODES = 100  # of branch and bound, and where it would prove something
PROOF_NODES = 1500
NODE_TURNS = 100  # of the simplex at each, as a guess beforehand
COLUMNS = 350  # for whole numbers, where not all that count can be written down
EVERY, EVERY_SHARE = 8000, 16  # columns few enough to be all, a share of what is left
MANY = 2000  # of those that cost next to nothing more than their worth
NARROWER = 6  # windows to look for them, each a third of the one before


@dataclass(slots=True)
class State:
    """The best plan and bound so far."""

    core: Core
    meter: Meter
    plan: list[Filled] | None = None
    price: int | None = None
    bound: int = 0
    first_fit: int | None = None
    dives: int = 0
    below: int | None = None  # what it must cost less than to be of use

    def offer(self, plan: list[Filled] | None) -> None:
        """Keep a plan if it is cheaper than the best."""
        if plan is None:
            return
        price = self.core.price(plan)
        if self.price is None or price < self.price:
            self.plan, self.price = plan, price
            self._tell()

    def raise_bound(self, bound: int) -> None:
        """Keep a bound if it is higher than the best."""
        if bound > self.bound:
            self.bound = bound
            self._tell()

    def _tell(self) -> None:
        self.meter.tell(self.price, self.bound)

    @property
    def is_proven(self) -> bool:
        """Tell whether nothing can be gained any more."""
        return self.price is not None and self.price <= self.bound

    @property
    def is_over(self) -> bool:
        """Tell whether to come to an end."""
        return self.is_proven or self.is_useless or self.meter.is_over()

    @property
    def is_useless(self) -> bool:
        """Tell whether any plan is too dear."""
        return self.below is not None and self.bound >= self.below


@dataclass(frozen=True, slots=True)
class Start:
    """Where a search goes on: a plan, and for the same job its bound and dives done."""

    plan: list[Filled] | None = None
    bound: int = 0
    dives: int = 0


def search(
    core: Core,
    meter: Meter,
    start: Start | None = None,
    *,
    more_dives: int = 0,
    below: int | None = None,
) -> State:
    """Return the best plan found and the best bound; the start is kept unless beaten.

    Ends early once it is plain that nothing costs less than ``below``.
    """
    start = start or Start()
    state = State(core, meter, dives=start.dives, below=below)
    state.raise_bound(max(core.material_bound(), start.bound))
    plan = first_fit(core, core.demand)
    state.first_fit = None if plan is None else core.price(plan)
    state.offer(start.plan)
    state.offer(plan)
    meter.spend(len(core.options) * 2000)
    if not state.is_over:
        _descend(state, more_dives)
    return state


def _descend(state: State, more_dives: int) -> None:
    """Dive and try whole numbers, then again with the cuts there are, then dive on."""
    descent = _Descent(state)
    descent.run(FIRST_DIVES)
    if not state.core.is_flat:
        descent.finish()
    if sharper := descent.cut():
        descent = sharper
    descent.run(DIVES - FIRST_DIVES)
    descent.finish()
    descent.run(more_dives)


class _Descent:
    """Column generation at the root and below."""

    def __init__(self, state: State, cuts: Sequence[AtLeast] = ()) -> None:
        self._state, self._core, self._meter = state, state.core, state.meter
        self._master = Master(state.core, cuts)
        self._pricer = Pricer(state.core, cuts)
        self._steps = 0
        self._best: Priced | None = None
        for filled in state.plan or ():
            self._take_in(filled)

    def _take_in(self, filled: Filled) -> None:
        """Begin with the columns of a plan."""
        lanes = Counter(cut.lane for cut in filled.cuts)
        self._master.add(
            [*filled.cuts, Stack(filled.stock, tuple(sorted(lanes.items())))]
        )

    def run(self, dives: int) -> None:
        """Raise the bound, then dive so often, each time from another place."""
        root = self._root()
        for _ in range(dives):
            if not self._state.is_over:
                self._dive(root, self._state.dives)
                self._state.dives += 1

    def cut(self) -> _Descent | None:
        """Return a descent with the cuts that widths give, if there are any."""
        if self._core.is_flat or self._state.is_over:
            return None
        cuts = at_least(self._core, self._meter, lambda c, m: search(c, m).bound)
        if not cuts:
            return None
        self._state.raise_bound(plates_bound(self._core, cuts))
        other = _Descent(self._state, cuts)
        other._master.add(self._master.columns)
        return other

    def _root(self) -> Solved:
        """Generate columns until there are none, or the bound can't rise.

        Part of the work is left for dives, which find plans from what there is.
        """
        solved = self._run(primal=True)
        for _ in range(ROUNDS):
            if self._state.is_over or self._is_settled(solved):
                break
            if self._meter.left < self._meter.effort.work * (1 - ROOT_SHARE):
                break
            if not self._improve(solved):
                break
            solved = self._run(primal=True)
        return solved

    def _improve(self, solved: Solved) -> bool:
        """Add columns at smoothed duals, or where there are none, at the true ones."""
        for share in (SMOOTH, 0.0) if self._best else (0.0,):
            duals = solved.duals
            if self._best and share:
                duals = duals.towards(self._best.duals, share)
            if self._try(duals):
                return True
        return False

    def _try(self, duals: Duals) -> int:
        """Price at these duals, and return how many new columns that gave."""
        priced = self._pricer.price(duals, self._core.demand)
        if self._best is None or priced.bound > self._best.bound:
            self._best = priced
        self._state.raise_bound(self._core.rounded(priced.bound))
        return self._master.add(priced.columns)

    def _below(self, residual: Sequence[int]) -> Solved:
        """Solve what is left in a dive, with a few more columns that suit it."""
        solved = self._run(primal=False)
        for _ in range(ROUNDS_IN_DIVE):
            if self._state.is_over:
                break
            priced = self._pricer.price(solved.duals, residual, steps=FEW_STEPS)
            if not self._master.add(priced.columns):
                break
            solved = self._run(primal=True)
        return solved

    def _is_settled(self, solved: Solved) -> bool:
        """Tell whether the bound can't rise above what the programme says now."""
        ceiling = self._core.rounded(Fraction(solved.value - 1e-6))
        return self._state.bound >= ceiling and solved.missing < 1e-6

    def _run(self, *, primal: bool) -> Solved:
        before = self._master.iterations
        solved = self._master.solve(primal=primal)
        turns = self._master.iterations - before
        size = 45 * self._master.rows + 12 * len(self._master.columns)
        self._meter.spend(SOLVE_COST + turns * size + 250 * len(self._master.columns))
        self._meter.spend(self._pricer.steps - self._steps)
        self._steps = self._pricer.steps
        return solved

    def _dive(self, solved: Solved, turn: int) -> None:
        """Fix whole strips, solve what is left, and so on until nothing is."""
        core, fixed = self._core, Counter[Cut]()
        residual = list(core.demand)
        for depth in range(DEPTH):
            for cut, times in _choose(solved, turn, depth).items():
                fixed[cut] += times
                for option, n in cut.pieces:
                    item = core.options[option].item
                    residual[item] = max(0, residual[item] - times * n)
            if depth % 2 == 0 or not any(residual):
                self._finish(fixed, residual)
            if self._state.is_over or not any(residual):
                break
            self._master.demand(residual, self._lanes(fixed))
            solved = self._below(residual)
            if self._is_hopeless(solved):
                break
        self._master.demand(core.demand, self._lanes({}))

    def _lanes(self, fixed: Mapping[Cut, int]) -> list[int]:
        """Count the fixed strips of each lane."""
        lanes = [0] * len(self._core.lanes)
        for cut, times in fixed.items():
            lanes[cut.lane] += times
        return lanes

    def _is_hopeless(self, solved: Solved) -> bool:
        """Tell whether this dive can't beat the best plan."""
        if solved.missing > 1e-6:
            return True
        price = self._state.price
        ceiling = self._core.rounded(Fraction(solved.value - 1e-6))
        return price is not None and ceiling >= price

    def _finish(self, fixed: Mapping[Cut, int], residual: Sequence[int]) -> None:
        """Offer the plan that first-fit makes of what is fixed and what is left."""
        core, state = self._core, self._state
        cuts = without_surplus(core, fixed)
        kinds = len(cuts) + sum(count > 0 for count in residual)
        state.meter.spend(kinds * FINISH_COST)
        begun = pack(core, cuts, state.meter, state.price)
        if begun is None:
            return
        plan = first_fit(core, residual, begun) if any(residual) else begun
        state.meter.spend(len(plan or ()) * len(core.options) * FIT_COST)
        state.offer(plan)
        if plan and any(residual):
            together: Counter[Cut] = Counter()
            for filled in plan:
                for cut in filled.cuts:
                    together[cut] += filled.count
            state.offer(pack(core, together, state.meter, state.price))

    def finish(self) -> None:
        """Let HiGHS choose whole numbers among all columns a cheaper plan could be of.

        Where those are too many, among the ones there are, which proves nothing.
        """
        core, state, master = self._core, self._state, self._master
        if state.is_over:
            return
        self._settle()
        every = self._every()
        if every is not None:
            master.add(every)
        nearest = every if every is not None else self._cheap()
        each = WHOLE_COST * (45 * master.rows + 12 * len(nearest))
        most = NODES if every is None else PROOF_NODES
        before = master.iterations
        whole = master.whole(
            nearest,
            nodes=min(most, self._meter.left * 1_000_000 // (NODE_TURNS * each)),
            enough=float(state.bound) + 0.5,
            stop=state.meter.is_over,
        )
        self._meter.spend((master.iterations - before + 100) * each)
        if every is not None and state.price is not None:
            sure = min(whole.bound, float(state.price))
            state.raise_bound(core.rounded(Fraction(sure - 1e-6 * max(1.0, sure))))
        cuts = {c: n for c, n in whole.amounts.items() if isinstance(c, Cut) and n}
        if cuts:
            self._finish(cuts, [0] * len(core.demand))

    def _settle(self) -> None:
        """Generate columns to the end: the closer the bound, the fewer are to be tried."""
        solved = self._run(primal=False)
        for _ in range(ROUNDS):
            if self._state.is_over or not self._improve(solved):
                break
            solved = self._run(primal=True)

    def _every(self) -> list[Cut | Stack] | None:
        """Return all that a cheaper plan could be made of, by the best bound's duals."""
        limited = any(stock.limit is not None for stock in self._core.stocks)
        if (
            self._state.is_over
            or self._best is None
            or self._state.price is None
            or limited
        ):
            return None
        limit = Limit(EVERY, self._meter.left * 1_000_000 // EVERY_SHARE)
        return self._pricer.every(self._best.duals, self._window(), limit)

    def _window(self) -> Fraction:
        """Return what a column of a cheaper plan may cost more than its worth."""
        if self._best is None or self._state.price is None:
            return Fraction(0)
        window = self._state.price - self._core.step - self._best.bound
        return max(Fraction(0), window)

    def _cheap(self) -> list[Cut | Stack]:
        """Return a good many columns that cost little more than their worth."""
        columns = self._master.nearest(COLUMNS)
        limit = Limit(MANY, self._meter.left * 1_000_000 // EVERY_SHARE)
        more: list[Cut | Stack] = []
        for narrower in range(NARROWER, 0, -1):
            window = self._window() / 3**narrower
            found = self._best and self._pricer.every(self._best.duals, window, limit)
            if not found:
                break
            more, limit.columns = found, MANY
        self._master.add(more)
        return [*dict.fromkeys([*columns, *more])]


def _choose(solved: Solved, turn: int, depth: int) -> dict[Cut, int]:
    """Take the whole parts, else the fullest strips.

    Each turn departs in another place: every second one rounds up along with the whole
    parts, and from the third on the first choice is not the fullest strip.
    """
    amounts = {c: a for c, a in solved.amounts.items() if isinstance(c, Cut)}
    whole = {c: int(a + 1e-6) for c, a in amounts.items() if a >= 1 - 1e-6}
    part = {c: a - whole.get(c, 0) for c, a in amounts.items()}
    ranked = sorted(part, key=lambda c: (-part[c], c.lane, c.pieces))
    if whole:
        fuller = ranked[:1] if turn % 2 and part[ranked[0]] > 0.6 else []
        return whole | {c: whole.get(c, 0) + 1 for c in fuller}
    if depth <= 1 and turn >= 2:
        place = (turn // 2) % len(ranked)
        return {ranked[place]: 1}
    some = max(1, len(ranked) // 12)
    chosen = [c for c in ranked[:some] if part[c] > 0.7] or ranked[:1]
    return dict.fromkeys(chosen, 1)
