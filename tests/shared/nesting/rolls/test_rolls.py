"""Rolls: known answers, directions, pattern, seams, lots, remnants, what to buy."""

import json

import pytest

from shared.nesting import Effort
from shared.nesting.rolls import (
    Lay,
    Laying,
    Roll,
    RollJob,
    RollPart,
    Way,
    part_of,
    plan_rolls,
    roll_plan_from_json,
    roll_plan_to_json,
)
from tests.shared.nesting.rolls.checker import check_rolls

BOLT = Roll("bolt", 104, 2)


def planned(*parts, rolls=(BOLT,), effort=None, **rules):
    job = RollJob(rolls, parts, **rules)
    plan = plan_rolls(job, effort)
    assert check_rolls(job, plan) == []
    return plan


class TestDirection:
    def test_a_piece_with_nap_is_never_turned(self):
        assert planned(part_of("p", 50, 100, 2)).cut_ticks == 100

    def test_one_that_may_turn_is_turned_where_that_is_shorter(self):
        plan = planned(part_of("p", 50, 100, 1, may_turn=True))
        assert [p.turned for p in plan.rolls[0].pieces] == [True]
        assert plan.cut_ticks == 50

    def test_a_group_lies_one_way(self):
        # Each alone would lie across; b is too long for that, so a stands up as well.
        a = part_of("a", 50, 100, may_turn=True, group="grain")
        b = part_of("b", 60, 101, may_turn=True, group="grain")
        plan = planned(a, b)
        assert {p.turned for p in plan.rolls[0].pieces} == {False}
        assert plan.cut_ticks == 201
        free = [
            part_of(p.key, *size, may_turn=True)
            for p, size in ((a, (50, 100)), (b, (60, 101)))
        ]
        assert planned(*free).cut_ticks == 151


class TestPattern:
    def test_each_row_begins_on_a_line(self):
        plan = planned(part_of("p", 60, 45, 3), repeat_ticks=32)
        assert [row.at_ticks for row in plan.rolls[0].rows] == [0, 64, 128]
        assert plan.cut_ticks == 128 + 45  # the last is cut where it ends

    def test_a_piece_begins_its_offset_after_a_line(self):
        parts = [
            RollPart("p", (Lay(60, 45),), 2, offset_ticks=10),
            RollPart("q", (Lay(30, 20),), offset_ticks=5),
        ]
        plan = planned(*parts, repeat_ticks=32, trim_ticks=7)
        begins = {(p.part, (p.y_ticks - 7) % 32) for p in plan.rolls[0].pieces}
        assert begins == {("p", 10), ("q", 5)}
        assert plan.cut_ticks == 7 + 64 + 55


class TestSeams:
    def test_a_piece_wider_than_the_roll_is_cut_as_equal_drops(self):
        wide = RollPart("wide", (Lay(230, 80),), may_seam=True, seam_ticks=2)
        plan = planned(wide)
        # (230 - 4) / (100 - 4) -> 3 drops, (230 + 2 · 4) / 3 -> 80 each.
        assert [(p.drop, p.across_ticks) for p in plan.rolls[0].pieces] == [
            (0, 80),
            (1, 80),
            (2, 80),
        ]
        assert plan.warnings == ("wide is wider than the roll and is sewn of drops.",)

    def test_no_seam_where_a_lay_needs_none(self):
        lays = Lay(60, 50, drops=2), Lay(50, 120, turned=True)
        plan = planned(RollPart("p", lays))
        assert [p.turned for p in plan.rolls[0].pieces] == [True]

    def test_of_lays_with_seams_the_shorter_is_taken(self):
        lays = Lay(75, 60, drops=2), Lay(60, 150, turned=True, drops=1)
        narrow = Roll("narrow", 60)
        with_drops = RollPart(
            "p", (Lay(55, 80, drops=2), Lay(45, 60, turned=True, drops=3))
        )
        assert planned(with_drops, rolls=(narrow,)).cut_ticks == 160
        assert planned(RollPart("q", lays), rolls=(narrow,)).cut_ticks == 150

    def test_a_remnant_too_short_for_all_does_not_stop_the_job(self):
        end = Roll("end", 120, length_ticks=50, price=0, priced_whole=True)
        wide = RollPart("wide", (Lay(110, 40),), 2, may_seam=True)
        plan = planned(wide, rolls=(end, BOLT), one_lot=False)
        assert {p.part for use in plan.rolls for p in use.pieces} == {"wide"}


class TestLots:
    def test_the_cheaper_lot_that_is_enough(self):
        rolls = (
            Roll("a", 100, length_ticks=90, lot="A"),
            Roll("b", 100, length_ticks=300, lot="B", price=2),
        )
        assert planned(part_of("p", 60, 40, 3), rolls=rolls).lots == ("B",)

    def test_two_rolls_of_one_lot_together(self):
        rolls = [
            Roll("a1", 100, length_ticks=90, lot="A"),
            Roll("b", 100, length_ticks=100, lot="B"),
            Roll("a2", 100, length_ticks=60, lot="A"),
        ]
        plan = planned(part_of("p", 60, 40, 3), rolls=tuple(rolls))
        assert {use.roll for use in plan.rolls} == {"a1", "a2"}

    def test_rolls_without_a_label_do_not_match(self):
        rolls = Roll("x", 100, length_ticks=90), Roll("bolt", 100, price=9)
        plan = planned(part_of("p", 60, 40, 3), rolls=rolls)
        assert [use.roll for use in plan.rolls] == ["bolt"]

    def test_mixed_where_the_job_allows_it_and_told(self):
        rolls = Roll("x", 100, length_ticks=90, lot="A"), Roll("bolt", 100, price=9)
        plan = planned(part_of("p", 60, 40, 3), rolls=rolls, one_lot=False)
        assert [use.roll for use in plan.rolls] == ["x", "bolt"]
        assert plan.warnings == (
            "The pieces are of more than one dye lot: shades may differ.",
        )


class TestRemnants:
    END = Roll("end", 100, length_ticks=50, price=0, priced_whole=True)

    def test_one_that_is_paid_goes_first(self):
        plan = planned(part_of("p", 60, 40, 2), rolls=(BOLT, self.END), one_lot=False)
        assert [(u.roll, u.cut_ticks) for u in plan.rolls] == [
            ("end", 40),
            ("bolt", 40),
        ]
        assert (plan.cost * 320_000, plan.rolls[0].left_ticks) == (40, 10)

    def test_one_that_costs_more_than_it_saves_stays(self):
        dear = Roll("end", 100, length_ticks=50, price=1, priced_whole=True)
        rules = {"one_lot": False, "price_ticks": 45}
        plan = planned(part_of("p", 60, 40, 2), rolls=(BOLT, dear), **rules)
        assert [use.roll for use in plan.rolls] == ["bolt"]
        rules["price_ticks"] = 39
        plan = planned(part_of("p", 60, 40, 2), rolls=(BOLT, dear), **rules)
        assert {use.roll for use in plan.rolls} == {"end", "bolt"}

    def test_scraps_worth_keeping(self):
        (use,) = planned(part_of("p", 60, 40)).rolls
        assert [(s.across_ticks, s.along_ticks) for s in use.worth_keeping(30, 40)] == [
            (40, 40)
        ]
        assert use.worth_keeping(41, 40) == ()


class TestBill:
    def test_trim_and_spare_rounded_up(self):
        plan = planned(part_of("p", 60, 40, 3), trim_ticks=11, spare_percent=5)
        (use,) = plan.rolls
        assert (use.cut_ticks, use.spare_ticks, plan.buy_ticks) == (131, 7, 138)
        assert use.left_ticks is None

    def test_a_remnant_for_repairs_is_labelled_and_no_yield(self):
        spare = RollPart("mending", (Lay(30, 30),), for_repairs=True)
        plan = planned(part_of("p", 60, 40), spare)
        assert [p.part for p in plan.rolls[0].pieces if p.for_repairs] == ["mending"]
        assert (plan.cut_ticks, plan.yield_share) == (40, 60 / 100)


class TestLaying:
    PARTS = (part_of("long", 60, 60), part_of("short", 40, 30, 2))

    def test_rows_hold_pieces_side_by_side_only(self):
        assert planned(*self.PARTS, laying=Laying.ROWS).cut_ticks == 90

    def test_stacks_hold_one_after_the_other(self):
        plan = planned(*self.PARTS)
        assert (plan.cut_ticks, plan.verdict.proven) == (60, True)
        (row,) = plan.rolls[0].rows
        assert [(c.way, c.at_ticks, c.from_ticks, c.to_ticks) for c in row.cuts] == [
            (Way.ACROSS, 60, 0, 100),
            (Way.ALONG, 60, 0, 60),
            (Way.ACROSS, 30, 60, 100),
        ]

    def test_free_cuts_go_on_in_what_a_column_leaves(self):
        parts = [part_of("a", 60, 60), part_of("b", 40, 30), part_of("c", 20, 30, 2)]
        plan = planned(*parts, laying=Laying.FREE)
        assert (plan.cut_ticks, plan.verdict.proven) == (60, True)

    def test_a_row_is_as_short_as_it_can_be(self):
        pairs = part_of("a", 60, 40, 4), part_of("b", 40, 80, 2)
        assert [row.along_ticks for row in planned(*pairs).rolls[0].rows] == [80, 80]

    def test_a_short_table_takes_no_long_rows(self):
        parts = part_of("a", 60, 50, 3), part_of("b", 40, 75, 2)
        assert planned(*parts).cut_ticks == 150
        assert planned(*parts, row_ticks=100).cut_ticks == 175


class TestSearch:
    PARTS = tuple(
        part_of(f"p{i}", 21 + 7 * i % 40, 30 + 11 * i % 50, 2) for i in range(12)
    )

    def test_the_same_job_gives_the_same_plan(self):
        few = Effort(work=80)
        assert planned(*self.PARTS, effort=few) == planned(*self.PARTS, effort=few)

    def test_told_to_stop_there_is_still_a_plan(self):
        plan = planned(*self.PARTS, effort=Effort(should_stop=lambda: True))
        assert plan.verdict.stopped

    def test_progress_is_told(self):
        told = []
        plan = planned(*self.PARTS, effort=Effort(work=80, tell=told.append))
        assert told[-1].price == plan.verdict.price
        assert told[-1].lower_bound <= plan.verdict.price

    @pytest.mark.parametrize("laying", Laying)
    def test_cloth_of_a_shop_is_proven_or_close(self, laying):
        sizes = [(900, 1500), (600, 1200), (750, 750), (500, 1500), (450, 900)]
        parts = [part_of(f"p{i}", *size, 6 + i) for i, size in enumerate(sizes)]
        roll = Roll("bolt", 1400, 10)
        plan = planned(*parts, rolls=(roll,), laying=laying, effort=Effort(work=300))
        assert plan.gap_share < 0.08

    def test_work_goes_on_in_slices(self):
        first = planned(*self.PARTS, effort=Effort(work=60))
        job = RollJob((BOLT,), self.PARTS)
        second = plan_rolls(job, Effort(work=60), first)
        assert check_rolls(job, second) == []
        assert second.cut_ticks <= first.cut_ticks
        assert second.verdict.lower_bound >= first.verdict.lower_bound
        assert second.verdict.work > first.verdict.work

    def test_a_plan_of_another_job_is_no_beginning(self):
        first = planned(*self.PARTS[:3], effort=Effort(work=60))
        job = RollJob((BOLT,), self.PARTS[3:])
        assert check_rolls(job, plan_rolls(job, Effort(work=60), first)) == []

    def test_a_plan_can_be_kept_as_json(self):
        plan = planned(*self.PARTS, effort=Effort(work=60))
        assert (
            roll_plan_from_json(json.loads(json.dumps(roll_plan_to_json(plan)))) == plan
        )
