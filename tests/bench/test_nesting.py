"""Cut plans against their lower bound, first-fit decreasing and other solvers, with times.

Shop jobs of 4 to 200 panels in mixed odd sizes, in sheets and, width by width, in strips;
random bars, among them some as public sets of instances are made; random sheets in two
stages, with and without turning and trimming rips. Prices are added up over a row's
jobs; where another solver takes a part of them only, its sum stands beside ours for those.
Times are of one processor, in seconds.
"""

import statistics
import time
from dataclasses import dataclass, replace

import pytest

from shared.nesting import Bar, BarJob, BarPart, Effort, plan_bars, plan_sheets
from tests.bench.yardsticks import Reference, by_ortools, by_rectpack
from tests.shared.nesting.checker import check_bars, check_sheets
from tests.shared.nesting.jobs import (
    random_bars,
    random_sheets,
    shop_job,
    thirds,
    uniform,
)

pytestmark = pytest.mark.bench

SEEDS = 20
ASKED = 4  # of them for which OR-tools is asked, as it takes its whole time on some
QUICK, LONG = Effort(work=4000), Effort(work=10_000)
# Sizes, shortest, longest, the bar, most pieces of a size.
BARS = [
    (20, 100, 800, 1000, 20),
    (50, 1, 350, 1000, 20),
    (100, 100, 500, 1000, 10),
    (200, 1000, 70_000, 100_000, 3),
    (500, 20, 100, 150, 1),
    (500, 200, 350, 1000, 1),
    (500, 1000, 70_000, 100_000, 1),
    (500, 20_000, 35_000, 100_000, 1),
]
# Sizes, shortest side, longest, the sheet's side, most pieces of a size.
SHEETS = [(10, 10, 70, 100, 5), (25, 20, 140, 200, 9), (40, 60, 600, 1000, 6)]
HEADING = ("plan", "bound", "FFD", "rectpack", "OR-tools", "proven", "gap")


@dataclass
class Row:
    """One plan: what it costs, its bound, first-fit, seconds, and what others need."""

    price: int
    bound: int
    first_fit: int
    seconds: float
    rectpack: Reference | None = None
    ortools: Reference | None = None


def measured(job, effort, *, others=True, ask=False):
    is_bars = isinstance(job, BarJob)
    plan_of, check = (plan_bars, check_bars) if is_bars else (plan_sheets, check_sheets)
    begun = time.process_time()
    plan = plan_of(job, effort)
    seconds = time.process_time() - begun
    assert check(job, plan) == []
    verdict = plan.verdict
    assert verdict.price <= verdict.first_fit
    row = Row(verdict.price, verdict.lower_bound, verdict.first_fit, seconds)
    if others and not is_bars:
        row.rectpack = by_rectpack(job)
    if ask:
        row.ortools = by_ortools(job, verdict.first_fit)
    return row


def beside(rows, name):
    """Say what another solver needs for the jobs it takes, with ours behind a stroke."""
    both = [(getattr(row, name), row.price) for row in rows if getattr(row, name)]
    theirs = sum(reference.price for reference, _ in both)
    return f"{theirs}/{sum(price for _, price in both)}" if both else "-"


def report(name, rows):
    """Print one line for a set of jobs, and return the share that is proven."""
    proven = sum(row.price == row.bound for row in rows) / len(rows)
    gap = statistics.mean((row.price - row.bound) / row.bound for row in rows)
    sums = [sum(getattr(r, f) for r in rows) for f in ("price", "bound", "first_fit")]
    times = [row.seconds for row in rows]
    theirs = [r.ortools.seconds for r in rows if r.ortools]
    print(
        f"{name:<36}"
        + "".join(f"{n:>10}" for n in (*sums, beside(rows, "rectpack")))
        + f"{beside(rows, 'ortools'):>10}{proven:>10.0%}{gap:>10.2%}"
        + f"{statistics.median(times):>9.2f}{max(times):>7.2f}"
        + (f"{max(theirs):>10.2f}" if theirs else "")
    )
    fewer = sum(bool(r.rectpack) and r.rectpack.price < r.bound for r in rows)
    if fewer:
        print(f"  rectpack needs fewer than any plan in two stages does: {fewer} times")
    better = [r for r in rows if r.ortools and r.ortools.price < r.price]
    wrong = [r for r in rows if r.ortools and r.ortools.price < r.bound]
    assert wrong == [], "a bound that is none"
    if better:
        print(f"  OR-tools' plan is better: {len(better)} times")
    return proven


def heading():
    print(
        f"\n{'':<36}"
        + "".join(f"{word:>10}" for word in HEADING)
        + f"{'median s':>9}{'most':>7}{'OR-tools':>10}"
    )


def strips_of(job):
    """Return a job of bars for each width: the strips, with nothing about sheets."""
    (sheet,) = job.sheets
    for width in sorted({p.width_ticks for p in job.parts if not p.may_turn}):
        parts = [
            BarPart(p.key, p.length_ticks, p.count)
            for p in job.parts
            if p.width_ticks == width and not p.may_turn
        ]
        yield BarJob((Bar("strip", sheet.length_ticks),), tuple(parts), job.kerf_ticks)


def test_shop_jobs(capsys):
    with capsys.disabled():
        heading()
        small, strips = [], []
        for panels in (4, 12, 30, 80, 200):
            effort, seeds = (QUICK, SEEDS) if panels <= 80 else (LONG, 10)
            jobs = [shop_job(panels, seed=s) for s in range(seeds)]
            rows = [measured(j, effort, ask=s < ASKED) for s, j in enumerate(jobs)]
            report(f"{panels} panels, in sheets", rows)
            small += rows if panels <= 80 else []
            strips += [measured(s, effort) for j in jobs[:5] for s in strips_of(j)]
        report("4 to 80 panels", small)
        report("strips of each width, all these", strips)


def test_random_bars(capsys):
    with capsys.disabled():
        heading()
        for shape in BARS:
            jobs = [random_bars(*shape, seed=s) for s in range(4)]
            rows = [measured(j, LONG, ask=s == 0) for s, j in enumerate(jobs)]
            sizes, low, high, bar, _ = shape
            report(f"{sizes} sizes, {low} to {high} of {bar}", rows)
        for pieces in (120, 249, 501):
            rows = [measured(thirds(pieces, seed=s), LONG) for s in range(4)]
            report(f"{pieces} pieces, three fill a bar", rows)
        for pieces in (250, 500, 1000):
            rows = [measured(uniform(pieces, seed=s), LONG) for s in range(4)]
            report(f"{pieces} pieces, 20 to 100 of 150", rows)


@pytest.mark.parametrize("turns", [False, True])
@pytest.mark.parametrize("trims", [False, True])
def test_random_sheets(capsys, turns, trims):
    with capsys.disabled():
        heading()
        for shape in SHEETS:
            jobs = [
                random_sheets(*shape, seed=s, turns=turns, trims=trims)
                for s in range(5)
            ]
            rows = [measured(j, QUICK, ask=s == 0) for s, j in enumerate(jobs)]
            how = f"{'turns' * turns} {'trims' * trims}".strip() or "as they lie"
            report(f"{shape[0]} sizes on {shape[3]}, {how}", rows)


def test_slices(capsys):
    """Going on in slices takes how much more than one search, for the same end."""
    job = replace(shop_job(200, seed=1))
    begun = time.process_time()
    whole = plan_sheets(job, LONG)
    at_once = time.process_time() - begun
    plan, begun = None, time.process_time()
    while plan is None or not plan.verdict.proven:
        plan = plan_sheets(job, Effort(work=2000), plan)
        if plan.verdict.price == whole.verdict.price:
            break
    in_slices = time.process_time() - begun
    with capsys.disabled():
        print(f"\n200 panels in slices of 2000: {in_slices / at_once:.2f} of at once")
