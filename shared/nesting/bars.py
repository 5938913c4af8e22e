"""Bars: pieces of several lengths from stock of several lengths, for least money."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from shared.nesting.core import Core, Filled, Option, Stock
from shared.nesting.dealing import Items
from shared.nesting.effort import Effort, Meter
from shared.nesting.errors import NestingError
from shared.nesting.model import Bar, BarJob
from shared.nesting.result import BarPattern, BarPlan, Pieces
from shared.nesting.resume import Given, resumed
from shared.nesting.search import MORE_DIVES, search
from shared.nesting.verdict import digest, start_of, verdict_on, work_before

BOUND_CLASS = "plans that crosscut bars"


def plan_bars(
    job: BarJob, effort: Effort | None = None, start: BarPlan | None = None
) -> BarPlan:
    """Return the cheapest plan found for a job of bars.

    Lengths in ticks. With usable length L and kerf k, pieces a₁…aₙ fit when
    Σaᵢ + (n − 1)k ≤ L [D]. ``start`` is an earlier plan, as for ``plan_sheets``.
    Raises ``NestingError`` where the stock runs out.
    """
    meter = Meter(effort or Effort())
    key, earlier = digest(job), start.verdict if start else None
    items = Items((p.length_ticks, p.key, p.count) for p in job.parts)
    bars = _usable(job)
    core = Core(
        options=tuple(
            Option(items.sizes.index(length), length, 1, turned=False)
            for length in sorted(items.sizes)
        ),
        demand=items.demand,
        stocks=tuple(
            Stock(b.length_ticks - 2 * job.trim_ticks, 1, b.price, b.available)
            for b in bars
        ),
        kerf=job.kerf_ticks,
        exact=True,
    )
    begin = start_of(earlier, _begun(core, job, bars, items, start), key)
    state = search(core, meter, begin, more_dives=MORE_DIVES)
    if state.plan is None:
        raise NestingError("bars", "The bars in stock are not enough for all parts.")
    return BarPlan(
        patterns=_patterns(core, bars, items, state.plan),
        verdict=verdict_on(
            state, BOUND_CLASS, job=key, before=work_before(earlier, key)
        ),
        yield_share=_yield(core, bars, state.plan),
    )


def _usable(job: BarJob) -> list[Bar]:
    """Return the bars that some part fits."""
    shortest = min(part.length_ticks for part in job.parts)
    return [
        bar
        for bar in job.bars
        if bar.length_ticks - 2 * job.trim_ticks >= shortest and bar.available != 0
    ]


def _begun(
    core: Core,
    job: BarJob,
    bars: Sequence[Bar],
    items: Items[int],
    start: BarPlan | None,
) -> list[Filled] | None:
    """Return an earlier plan as far as it holds for this job, filled up."""
    if start is None:
        return None
    length_of = {part.key: part.length_ticks for part in job.parts}
    index_of = {bar.key: i for i, bar in enumerate(bars)}
    option_of = {o.along: i for i, o in enumerate(core.options)}
    return resumed(
        core,
        [
            Given(
                index_of[pattern.bar],
                (
                    tuple(
                        option_of[length_of[p.part]]
                        for p in pattern.pieces
                        if p.part in length_of
                        for _ in range(p.count)
                    ),
                ),
                pattern.count,
            )
            for pattern in start.patterns
            if pattern.bar in index_of
        ],
    )


def _patterns(
    core: Core, bars: Sequence[Bar], items: Items[int], plan: Sequence[Filled]
) -> tuple[BarPattern, ...]:
    """Name the pieces, longest first, and count bars that are cut alike."""
    alike: Counter[tuple[str, tuple[Pieces, ...], int]] = Counter()
    for filled in plan:
        stock, (cut,) = core.stocks[filled.stock], filled.cuts
        used = sum(n * (core.options[o].along + core.kerf) for o, n in cut.pieces)
        longest_first = sorted(cut.pieces, key=lambda p: -core.options[p[0]].along)
        for _ in range(filled.count):
            pieces = tuple(
                Pieces(key, n)
                for option, times in longest_first
                for key, n in items.deal(core.options[option].item, times)
            )
            alike[bars[filled.stock].key, pieces, max(0, stock.length - used)] += 1
    return tuple(
        BarPattern(bar, count, pieces, left)
        for (bar, pieces, left), count in alike.items()
    )


def _yield(core: Core, bars: Sequence[Bar], plan: Sequence[Filled]) -> float:
    wanted = sum(o.along * core.demand[o.item] for o in core.options)
    return wanted / sum(bars[f.stock].length_ticks * f.count for f in plan)
