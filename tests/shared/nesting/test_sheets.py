"""Sheets: known answers, grain, halving, trimming rips, offcuts worth keeping."""

import pytest

from shared.length import TICKS_PER_INCH as INCH
from shared.nesting import (
    Effort,
    Halving,
    NestingError,
    Rect,
    Sheet,
    SheetJob,
    plan_sheets,
)
from tests.shared.nesting.checker import check_sheets
from tests.shared.nesting.jobs import random_sheets, shop_job

KERF = INCH // 8


def planned(sheets, parts, **rules):
    job = SheetJob(
        tuple(Sheet(f"sheet{i}", *sheet) for i, sheet in enumerate(sheets)),
        tuple(Rect(f"part{i}", *part) for i, part in enumerate(parts)),
        **rules,
    )
    plan = plan_sheets(job)
    assert check_sheets(job, plan) == []
    return plan


class TestHalving:
    def test_the_half_nobody_needs_is_an_offcut(self):
        rules = {"kerf_ticks": KERF, "halving": Halving.ACROSS}
        plan = planned([(96 * INCH, 48 * INCH)], [(40 * INCH, 4 * INCH)], **rules)
        half = (96 * INCH - KERF) // 2
        assert (half, 48 * INCH) in {
            (o.length_ticks, o.width_ticks) for o in plan.layouts[0].offcuts
        }


class TestGrain:
    def test_a_piece_is_turned_where_it_may_be(self):
        plan = planned([(100, 50)], [(50, 100, 1, True)])
        (piece,) = plan.layouts[0].plates[0].strips[0].pieces
        assert (piece.turned, piece.length_ticks, piece.width_ticks) == (True, 100, 50)

    def test_a_piece_with_grain_is_refused_by_name(self):
        with pytest.raises(NestingError, match="part0 fits no sheet the way its grain"):
            planned([(100, 50)], [(50, 100)])


class TestTrimmingRips:
    PARTS = ((60, 10, 1), (40, 9, 1))

    def test_one_saves_a_sheet_and_is_shown(self):
        plan = planned([(100, 10)], self.PARTS)
        (trimmed,) = plan.layouts[0].plates[0].strips[0].trimmed()
        assert (plan.sheet_count, trimmed.part) == (1, "part1")

    def test_without_them_it_takes_two(self):
        assert planned([(100, 10)], self.PARTS, may_trim_strips=False).sheet_count == 2

    def test_none_is_used_where_none_saves_a_sheet(self):
        plan = planned([(100, 20)], self.PARTS)
        strips = [s for la in plan.layouts for p in la.plates for s in p.strips]
        assert not any(strip.trimmed() for strip in strips)

    @pytest.mark.parametrize(("may", "words"), [(True, "narrower"), (False, "them")])
    def test_the_bound_says_which_plans_it_is_about(self, may, words):
        plan = planned([(100, 10)], self.PARTS, may_trim_strips=may)
        assert plan.verdict.bound_class.endswith(words)


class TestPrice:
    def test_the_cheapest_mix_of_sizes(self):
        parts = [(50, 50, 5)]
        plan = planned([(100, 100, 8), (50, 50, 3)], parts)
        assert (plan.verdict.price, plan.verdict.proven) == (11, True)

    def test_an_offcut_goes_first(self):
        plan = planned([(100, 100, 8), (60, 60, 0, 1)], [(50, 50, 5)])
        assert plan.verdict.price == 8

    def test_stock_that_runs_out_is_refused(self):
        with pytest.raises(NestingError, match="not enough") as refused:
            planned([(100, 100, 8, 1)], [(60, 60, 2)])
        assert refused.value.field == "sheets"

    def test_a_cheap_sheet_takes_no_strip_that_is_wider(self):
        # Each sheet holds one strip; three of 14 don't fit the cheap one, 13 wide.
        plan = planned([(60, 22, 5), (60, 13, 1)], [(50, 13, 3), (50, 14, 3)])
        assert (plan.verdict.price, plan.verdict.proven) == (18, True)

    def test_one_strip_a_sheet_and_few_of_the_cheap_ones(self):
        stock = [(60, 22, 5), (60, 15, 2, 2), (60, 13, 3)]
        plan = planned(stock, [(50, 13, 3), (50, 14, 3)])
        # Two of 14 from the cheap ones, one from the large, and three of 13: 4 + 5 + 9.
        assert plan.verdict.price == 18


class TestOffcuts:
    def test_small_ones_are_left_out(self):
        plan = planned([(100, 100)], [(90, 40)])
        (layout,) = plan.layouts
        assert len(layout.offcuts) == 2
        (kept,) = layout.worth_keeping(50, 60)
        assert (kept.length_ticks, kept.width_ticks) == (100, 60)


class TestSearch:
    @pytest.mark.parametrize("panels", [4, 12, 30])
    def test_shop_jobs_are_proven(self, panels):
        job = shop_job(panels, seed=1)
        plan = plan_sheets(job)
        assert check_sheets(job, plan) == []
        assert plan.verdict.proven

    def test_the_same_job_gives_the_same_plan(self):
        job = random_sheets(8, 20, 60, 100, 4, seed=1, turns=True, trims=True)
        assert plan_sheets(job) == plan_sheets(job)

    def test_told_to_stop_there_is_still_a_plan(self):
        job = random_sheets(20, 20, 60, 100, 4, seed=1, turns=True, trims=True)
        plan = plan_sheets(job, Effort(should_stop=lambda: True))
        assert check_sheets(job, plan) == []
        assert plan.verdict.stopped

    def test_the_order_of_parts_does_not_matter_to_the_price(self):
        job = random_sheets(8, 20, 60, 100, 4, seed=2, turns=True, trims=True)
        other = SheetJob(job.sheets, job.parts[::-1])
        assert plan_sheets(job).verdict.price == plan_sheets(other).verdict.price


def test_nothing_is_trimmed_off_edges_that_are_sawn_already():
    """A strip 100 wide gives a part 100 wide, though 10 goes off each edge of a sheet."""
    parts = (Rect("part", 600, 100, 2),)
    strip = Sheet("strip", 1210, 100, 0, 1, sawn=True)
    whole = Sheet("whole", 2440, 1220, 48)
    job = SheetJob((strip, whole), parts, kerf_ticks=10, trim_ticks=10)
    plan = plan_sheets(job)
    assert [layout.sheet for layout in plan.layouts] == ["strip"]
    assert check_sheets(job, plan) == []
