"""Bars: known answers, exact fits, several stocks, offcuts, and what stops a search."""

import itertools

import pytest

from shared.length import TICKS_PER_INCH as INCH
from shared.length import TICKS_PER_MM as MM
from shared.nesting import Bar, BarJob, BarPart, Effort, NestingError, plan_bars
from shared.nesting.core import Core, Option, Stock
from shared.nesting.effort import Meter
from shared.nesting.knapsack import Group, Knapsack
from shared.nesting.master import Duals
from shared.nesting.pricing import Pricer
from shared.nesting.search import search
from tests.shared.nesting.checker import check_bars
from tests.shared.nesting.jobs import random_bars


def job(bars, parts, **saw):
    return BarJob(
        tuple(Bar(f"bar{i}", *bar) for i, bar in enumerate(bars)),
        tuple(BarPart(f"part{i}", *part) for i, part in enumerate(parts)),
        **saw,
    )


def price(bars, parts, **saw):
    made = job(bars, parts, **saw)
    plan = plan_bars(made)
    assert check_bars(made, plan) == []
    assert plan.verdict.proven
    return plan.verdict.price


def fewest(room, kerf, pieces):
    """Return the fewest bars by trying every way to share the pieces out."""
    for bars in itertools.count(1):
        for places in itertools.product(range(bars), repeat=len(pieces)):
            used = [0] * bars
            for place, piece in zip(places, pieces, strict=True):
                used[place] += piece + kerf
            if max(used) <= room + kerf:
                return bars
    raise AssertionError


class TestKerf:
    def test_two_halves_and_a_kerf_fill_the_bar_to_the_tick(self):
        saw = {"kerf_ticks": INCH // 8}
        half = (96 * INCH - INCH // 8) // 2
        assert price([(96 * INCH,)], [(half, 2)], **saw) == 1
        assert price([(96 * INCH,)], [(half, 1), (half + 1, 1)], **saw) == 2

    def test_mixed_units_fit_to_the_tick(self):
        one, kerf = 1219 * MM, INCH // 8
        other = 96 * INCH - one - kerf
        assert price([(96 * INCH,)], [(one, 5), (other, 5)], kerf_ticks=kerf) == 5

    def test_trimming_takes_off_both_ends(self):
        assert price([(100,)], [(45, 2)], trim_ticks=5) == 1
        assert price([(100,)], [(45, 2)], trim_ticks=6) == 2


class TestPrice:
    def test_the_cheapest_mix_of_lengths(self):
        # 3 of 60 out of 200 for 7, or one of each out of 70 for 3.
        assert price([(200, 7), (70, 3)], [(60, 4)]) == 10

    def test_an_offcut_goes_first(self):
        assert price([(100, 9), (60, 0, 1)], [(50, 3)]) == 9

    def test_an_offcut_is_not_used_twice(self):
        assert price([(100, 9), (60, 0, 1)], [(60, 3)]) == 18

    def test_stock_that_runs_out_is_refused(self):
        with pytest.raises(NestingError, match="not enough") as refused:
            plan_bars(job([(100, 1, 2)], [(60, 3)]))
        assert refused.value.field == "bars"


class TestBest:
    @pytest.mark.parametrize("seed", range(6))
    def test_no_way_of_sharing_out_is_better(self, seed):
        made = random_bars(4, 18, 60, 100, 2, seed=seed, kerf=2)
        pieces = [p.length_ticks for p in made.parts for _ in range(p.count)]
        assert price([(100,)], [(n,) for n in pieces], kerf_ticks=2) == fewest(
            100, 2, pieces
        )

    def test_it_beats_first_fit_where_that_is_bad(self):
        # Johnson's example, where first-fit takes 11/9 of the best and a little more
        # (Near-optimal bin packing algorithms, 1973 [M]).
        made = job([(100,)], [(51, 6), (27, 6), (26, 6), (23, 12)])
        verdict = plan_bars(made).verdict
        assert (verdict.price, verdict.first_fit, verdict.proven) == (9, 11, True)

    def test_the_bound_says_what_it_is_about(self):
        verdict = plan_bars(job([(100,)], [(50, 4)])).verdict
        assert (verdict.lower_bound, verdict.bound_class) == (
            2,
            "plans that crosscut bars",
        )


class TestSearch:
    def test_the_same_job_gives_the_same_plan(self):
        made = random_bars(30, 100, 700, 1000, 5, seed=1)
        assert plan_bars(made) == plan_bars(made)

    def test_told_to_stop_there_is_still_a_plan(self):
        made = random_bars(60, 100, 700, 1000, 5, seed=1)
        plan = plan_bars(made, Effort(should_stop=lambda: True))
        assert check_bars(made, plan) == []
        assert plan.verdict.stopped
        assert plan.verdict.price == plan.verdict.first_fit

    def test_the_work_limit_ends_it(self):
        made = random_bars(60, 100, 700, 1000, 5, seed=1)
        plan = plan_bars(made, Effort(work=1))
        assert plan.verdict.stopped
        assert check_bars(made, plan) == []

    def test_progress_is_told(self):
        told = []
        plan = plan_bars(
            random_bars(40, 100, 700, 1000, 10, seed=2), Effort(tell=told.append)
        )
        assert told[-1].lower_bound == plan.verdict.lower_bound
        assert [p.price for p in told if p.price][-1] == plan.verdict.price

    def test_five_hundred_sizes_are_taken(self):
        made = random_bars(500, 20, 350, 1000, 1, seed=3)
        plan = plan_bars(made)
        assert check_bars(made, plan) == []
        assert plan.verdict.proven

    def test_ten_thousand_pieces_are_taken(self):
        made = random_bars(80, 50, 700, 1000, 250, seed=4)
        plan = plan_bars(made)
        assert check_bars(made, plan) == []
        assert sum(part.count for part in made.parts) > 9000
        assert plan.verdict.price - plan.verdict.lower_bound <= 1


def test_a_bar_too_short_for_what_is_left_does_no_harm():
    # A dive asks how to put wide strips into plates, some too narrow for any of them.
    core = Core(
        options=(Option(0, 40, 1, turned=False), Option(1, 30, 1, turned=False)),
        demand=(3, 4),
        stocks=(Stock(100, 1, 5, None), Stock(20, 1, 1, 3), Stock(25, 1, 1, None)),
        kerf=3,
        exact=True,
    )
    priced = Pricer(core).price(Duals([2.0, 2.0], [2.0], [], [0.0]), core.demand)
    assert priced.bound > 0
    assert search(core, Meter(Effort())).price == 15


def test_a_table_has_rows_for_as_many_pieces_as_fit():
    # Rounded up to the measure, the room would hold two of each.
    knapsack = Knapsack([16, 16, 16], [Group(0, 3)], 31, nested=False)
    knapsack.fill([1, 2, 3], [2, 2, 2])
    assert knapsack.bound(0, 31) == 3
