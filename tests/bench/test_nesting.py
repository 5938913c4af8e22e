"""Cut plans against their lower bound and against first-fit decreasing, with times.

Shop jobs of 4 to 200 panels in mixed odd sizes; random bars; random sheets in two stages,
with and without turning and trimming rips. Times are of one processor.
"""

import statistics
import time
from dataclasses import dataclass

import pytest

from shared.nesting import BarJob, Effort, plan_bars, plan_sheets
from tests.shared.nesting.checker import check_bars, check_sheets
from tests.shared.nesting.jobs import random_bars, random_sheets, shop_job

pytestmark = pytest.mark.bench

SEEDS = 20
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
]
# Sizes, shortest side, longest, the sheet's side, most pieces of a size.
SHEETS = [(10, 10, 70, 100, 5), (25, 20, 140, 200, 9), (40, 60, 600, 1000, 6)]


@dataclass
class Row:
    """One plan: what it costs, its bound, first-fit, seconds."""

    price: int
    bound: int
    first_fit: int
    seconds: float


def measured(job, effort):
    plan_of, check = (
        (plan_bars, check_bars)
        if isinstance(job, BarJob)
        else (plan_sheets, check_sheets)
    )
    begun = time.process_time()
    plan = plan_of(job, effort)
    seconds = time.process_time() - begun
    assert check(job, plan) == []
    verdict = plan.verdict
    return Row(verdict.price, verdict.lower_bound, verdict.first_fit, seconds)


def report(name, rows):
    """Print one line for a set of jobs, and return the share that is proven."""
    proven = sum(row.price == row.bound for row in rows) / len(rows)
    gap = statistics.mean((row.price - row.bound) / row.bound for row in rows)
    price, bound, fit = (
        sum(getattr(row, field) for row in rows)
        for field in ("price", "bound", "first_fit")
    )
    times = [row.seconds for row in rows]
    print(
        f"{name:<34}{price:>7}{bound:>7}{fit:>7}{proven:>9.0%}{gap:>8.2%}"
        f"{statistics.median(times):>8.2f}{max(times):>8.2f}"
    )
    return proven


def heading():
    print(
        f"\n{'':<34}{'plan':>7}{'bound':>7}{'FFD':>7}{'proven':>9}{'gap':>8}"
        f"{'median':>8}{'most s':>8}"
    )


def test_shop_jobs(capsys):
    with capsys.disabled():
        heading()
        small = []
        for panels in (4, 12, 30, 80):
            rows = [measured(shop_job(panels, seed=s), QUICK) for s in range(SEEDS)]
            report(f"{panels} panels, in sheets", rows)
            small += rows
        report("4 to 80 panels", small)
        rows = [measured(shop_job(200, seed=s), LONG) for s in range(5)]
        report("200 panels", rows)


def test_random_bars(capsys):
    with capsys.disabled():
        heading()
        for shape in BARS:
            rows = [measured(random_bars(*shape, seed=s), LONG) for s in range(4)]
            sizes, low, high, bar, _ = shape
            report(f"{sizes} sizes, {low} to {high} of {bar}", rows)


@pytest.mark.parametrize("turns", [False, True])
@pytest.mark.parametrize("trims", [False, True])
def test_random_sheets(capsys, turns, trims):
    with capsys.disabled():
        heading()
        for shape in SHEETS:
            rows = [
                measured(random_sheets(*shape, seed=s, turns=turns, trims=trims), QUICK)
                for s in range(5)
            ]
            how = f"{'turns' * turns} {'trims' * trims}".strip() or "as they lie"
            report(f"{shape[0]} sizes on {shape[3]}, {how}", rows)
