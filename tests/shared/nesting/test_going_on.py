"""A search in slices, another plan as a beginning, plans kept as JSON, halvings compared."""

import itertools
import json
from dataclasses import replace

import pytest

from shared.nesting import (
    Effort,
    Halving,
    NestingError,
    Pair,
    Rect,
    Sheet,
    SheetJob,
    bar_plan_from_json,
    compare_halvings,
    plan_bars,
    plan_sheets,
    plan_to_json,
    sheet_plan_from_json,
)
from tests.shared.nesting.checker import check_bars, check_sheets
from tests.shared.nesting.jobs import random_bars, random_sheets, shop_job

BARS = random_bars(40, 100, 700, 1000, 5, seed=1)
SHEETS = random_sheets(10, 20, 60, 100, 4, seed=1, turns=True, trims=True)


class TestSlices:
    def test_bars_get_no_worse_and_end_where_one_search_would(self):
        plan, seen = plan_bars(BARS, Effort(work=1)), []
        for _ in range(30):
            seen.append((plan.verdict.price, -plan.verdict.lower_bound))
            plan = plan_bars(BARS, Effort(work=150), plan)
            assert check_bars(BARS, plan) == []
            if plan.verdict.proven:
                break
        assert seen == sorted(seen, reverse=True)
        assert plan.verdict.price == plan_bars(BARS).verdict.price
        assert plan.verdict.work > 1

    def test_sheets_keep_plan_and_bound(self):
        first = plan_sheets(SHEETS, Effort(work=400))
        told_at_once = {"should_stop": lambda: True}
        again = plan_sheets(SHEETS, Effort(**told_at_once), first)
        assert again.layouts == first.layouts
        assert again.verdict.lower_bound == first.verdict.lower_bound
        assert again.verdict.work >= first.verdict.work

    def test_the_bound_of_another_job_is_not_kept(self):
        less = replace(SHEETS, parts=SHEETS.parts[:2])
        plan = plan_sheets(less, start=plan_sheets(SHEETS, Effort(work=400)))
        assert check_sheets(less, plan) == []
        assert plan.verdict.price == plan_sheets(less).verdict.price

    def test_more_parts_than_before_are_filled_in(self):
        less = replace(SHEETS, parts=SHEETS.parts[:5])
        start = plan_sheets(less)
        plan = plan_sheets(SHEETS, Effort(should_stop=lambda: True), start)
        assert check_sheets(SHEETS, plan) == []

    def test_a_start_from_other_stock_is_left_alone(self):
        other = replace(SHEETS, sheets=(Sheet("other", 90, 90),))
        plan = plan_sheets(other, start=plan_sheets(SHEETS, Effort(work=50)))
        assert check_sheets(other, plan) == []

    def test_a_start_never_uses_more_than_there_is(self):
        few = replace(
            SHEETS, sheets=(replace(SHEETS.sheets[0], available=1), Sheet("b", 99, 99))
        )
        plan = plan_sheets(few, Effort(work=50), plan_sheets(SHEETS, Effort(work=50)))
        assert check_sheets(few, plan) == []

    def test_work_is_told_even_where_nothing_is_gained(self):
        told = []
        made = random_bars(120, 200, 350, 1000, 3, seed=5)
        plan_bars(made, Effort(work=1500, tell=told.append))
        works = [progress.work for progress in told]
        assert works == sorted(works)
        assert max(b - a for a, b in itertools.pairwise(works)) < 600


class TestKept:
    def test_a_plan_of_sheets_comes_back_from_json(self):
        plan = plan_sheets(shop_job(4, seed=1))
        assert sheet_plan_from_json(json.loads(json.dumps(plan_to_json(plan)))) == plan

    def test_a_plan_of_bars_comes_back_from_json(self):
        plan = plan_bars(BARS, Effort(work=5))
        assert bar_plan_from_json(json.loads(json.dumps(plan_to_json(plan)))) == plan


class TestHalvings:
    # A sheet holds three strips of 30, each of its halves, 49 wide, one.
    def test_what_each_costs(self):
        job = SheetJob((Sheet("s", 100, 100, 7),), (Rect("a", 95, 30, 3),), 2)
        whole, lengthwise, across = compare_halvings(job)
        assert [whole.halving, lengthwise.halving, across.halving] == list(Halving)
        assert (whole.plan.verdict.price, whole.extra_price) == (7, 0)
        assert (lengthwise.plan.verdict.price, lengthwise.extra_price) == (14, 7)
        assert (across.plan, across.extra_price) == (None, None)
        assert "fits no half sheet" in across.refused.message

    @pytest.mark.parametrize("seed", range(3))
    def test_whole_never_costs_more_than_lengthwise(self, seed):
        job = random_sheets(12, 10, 45, 100, 5, seed=seed, turns=True, trims=True)
        tight = replace(job, kerf_ticks=1)
        whole, lengthwise, across = compare_halvings(tight, Effort(work=90))
        for choice in (whole, lengthwise, across):
            rules = replace(tight, halving=choice.halving)
            assert check_sheets(rules, choice.plan) == []
        assert whole.plan.verdict.price <= lengthwise.plan.verdict.price

    def test_a_job_that_has_no_plan_at_all_is_refused(self):
        job = SheetJob((Sheet("s", 100, 100, 7, 1),), (Rect("a", 95, 95, 2),))
        with pytest.raises(NestingError, match="not enough"):
            compare_halvings(job)


class TestOffcuts:
    def test_sheets_cut_alike_are_named_by_their_numbers(self):
        job = SheetJob(
            (Sheet("s", 100, 100),),
            (Rect("a", 90, 58, 3), Rect("b", 100, 100)),
            kerf_ticks=2,
        )
        plan = plan_sheets(job)
        (kept,) = plan.worth_keeping(40, 40)
        assert (kept.count, kept.last_sheet - kept.first_sheet) == (3, 2)
        # Below the strip and its freeing cut, as long as the sheet.
        assert (kept.offcut.y_ticks, kept.offcut.width_ticks) == (60, 40)
        assert plan.worth_keeping(41, 41) == ()

    def test_ends_of_bars(self):
        made = random_bars(6, 300, 700, 1000, 3, seed=1, kerf=3)
        plan = plan_bars(made)
        kept = plan.worth_keeping(200)
        assert [k.length_ticks for k in kept] == [
            p.left_ticks for p in plan.patterns if p.left_ticks >= 200
        ]


def test_bevelled_blanks_of_one_size_and_plain_parts_share_a_strip_by_name():
    job = SheetJob(
        (Sheet("s", 100, 20),),
        (Rect("plain", 40, 20), Rect("blank", 40, 20, pair=Pair(45, 5))),
        1,
    )
    (strip,) = plan_sheets(job).layouts[0].plates[0].strips
    assert {p.part: p.bevel_deg for p in strip.pieces} == {"plain": 0, "blank": 45}
    assert strip.bevel_deg == 0
