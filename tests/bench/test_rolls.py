"""Roll plans against their bound, first-fit decreasing height, known optima, a skyline.

Shop jobs of 4 to 200 panels; rectangles cut apart at random, whose optimum is known; random
rectangles. The skyline is a reference that no shears could cut: where it is shorter,
straight cuts or rows are what that costs. Times are of one processor.
"""

import statistics
import time
from dataclasses import dataclass

import pytest

from shared.nesting import Effort
from shared.nesting.rolls import Laying, plan_rolls
from tests.shared.nesting.rolls.checker import check_rolls
from tests.shared.nesting.rolls.jobs import (
    cut_apart,
    random_rects,
    shop_job,
    strip_job,
)
from tests.shared.nesting.rolls.skyline import skyline

pytestmark = pytest.mark.bench

SEEDS = 8
QUICK, LONG = Effort(work=2500), Effort(work=10_000)
CUT_APART = [(25, 400, 300), (50, 400, 600), (100, 400, 1200), (200, 400, 2400)]
RANDOM = [(50, 10, 300), (200, 10, 300), (500, 10, 200)]


@dataclass
class Row:
    """One plan: its length, its bound, first-fit, another length to compare, seconds."""

    length: int
    bound: int
    first_fit: int
    other: int
    seconds: float


def measured(job, effort, other=0):
    begun = time.process_time()
    plan = plan_rolls(job, effort)
    seconds = time.process_time() - begun
    assert check_rolls(job, plan) == []
    verdict = plan.verdict
    return Row(verdict.price, verdict.lower_bound, verdict.first_fit, other, seconds)


def report(name, rows):
    """Print one line: shares above the bound, first-fit, and the other length."""
    gaps = [row.length / row.bound - 1 for row in rows]
    fits = [row.length / row.first_fit - 1 for row in rows]
    others = [row.length / row.other - 1 for row in rows if row.other]
    other = f"{statistics.mean(others):>9.2%}" if others else f"{'':>9}"
    times = [row.seconds for row in rows]
    proven = statistics.mean(row.length == row.bound for row in rows)
    print(
        f"{name:<38}{proven:>8.0%}{statistics.mean(gaps):>9.2%}{max(gaps):>9.2%}"
        f"{statistics.mean(fits):>9.2%}{other}{statistics.median(times):>9.2f}"
        f"{max(times):>8.2f}"
    )


def heading(other):
    print(
        f"\n{'':<38}{'proven':>8}{'gap':>9}{'most':>9}{'FFDH':>9}{other:>9}"
        f"{'median':>9}{'most s':>8}"
    )


@pytest.mark.parametrize("laying", Laying)
def test_shop_jobs(capsys, laying):
    with capsys.disabled():
        heading("")
        for panels in (4, 12, 30, 80, 200):
            jobs = [shop_job(panels, seed=s, laying=laying) for s in range(SEEDS)]
            report(f"{panels} panels, {laying}", [measured(j, QUICK) for j in jobs])


@pytest.mark.parametrize("turns", [False, True])
@pytest.mark.parametrize("laying", Laying)
def test_rectangles_cut_apart(capsys, laying, turns):
    with capsys.disabled():
        heading("optimum")
        for pieces, width, length in CUT_APART:
            rows = []
            for seed in range(2):
                rects = cut_apart(pieces, width, length, seed=seed)
                job = strip_job(rects, width, laying=laying, turns=turns)
                rows.append(measured(job, LONG, length))
            report(f"{pieces} pieces, {laying}{', turned' * turns}", rows)


@pytest.mark.parametrize("turns", [False, True])
def test_random_rectangles(capsys, turns):
    with capsys.disabled():
        heading("skyline")
        for pieces, low, high in RANDOM:
            rects = random_rects(pieces, low, high, seed=pieces)
            other = skyline(rects, 1000, turns=turns)
            for laying in Laying:
                job = strip_job(rects, 1000, laying=laying, turns=turns)
                row = measured(job, LONG, other)
                report(f"{pieces} pieces, {laying}{', turned' * turns}", [row])
