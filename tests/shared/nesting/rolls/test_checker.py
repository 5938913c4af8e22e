"""The checker of roll plans finds what is wrong with bad ones."""

from dataclasses import replace

import pytest

from shared.nesting.rolls import Roll, RollJob, part_of, plan_rolls
from tests.shared.nesting.rolls.checker import check_rolls

JOB = RollJob(
    (
        Roll("roll", 100, lot="A"),
        Roll("other", 100, length_ticks=300, lot="B", price=9),
    ),
    (
        part_of("long", 60, 60, 2, may_turn=True, group="g"),
        part_of("short", 40, 25, 3, may_turn=True, group="g"),
    ),
    repeat_ticks=5,
    spare_percent=10,
)
PLAN = plan_rolls(JOB)


def changed(plan, **fields):
    return replace(plan, rolls=(replace(plan.rolls[0], **fields),))


def row_changed(plan, **fields):
    first, *rest = plan.rolls[0].rows
    return changed(plan, rows=(replace(first, **fields), *rest))


def piece_changed(plan, **fields):
    first, *rest = plan.rolls[0].rows[0].pieces
    return row_changed(plan, pieces=(replace(first, **fields), *rest))


ROW = PLAN.rolls[0].rows[0]
BAD = {
    "a piece on the selvedge": (piece_changed(PLAN, x_ticks=95), "selvedge"),
    "a piece on another": (piece_changed(PLAN, x_ticks=35), "closer"),
    "a piece off the pattern": (piece_changed(PLAN, y_ticks=3), "pattern"),
    "a piece twice": (piece_changed(PLAN, copy=1), "missing|twice"),
    "a wrong size": (piece_changed(PLAN, across_ticks=59), "no such lay"),
    "a piece turned alone": (piece_changed(PLAN, turned=True), "both ways|no such lay"),
    "a piece left out": (row_changed(PLAN, pieces=ROW.pieces[1:]), "missing"),
    "a cut left out": (row_changed(PLAN, cuts=ROW.cuts[:-1]), "other pieces"),
    "a cut through a piece": (
        row_changed(PLAN, cuts=(*ROW.cuts[:-1], replace(ROW.cuts[-1], at_ticks=7))),
        "other pieces|no cut",
    ),
    "a row elsewhere": (row_changed(PLAN, at_ticks=5), "begins"),
    "less to spare": (changed(PLAN, spare_ticks=0), "to spare"),
    "less to buy": (changed(PLAN, buy_ticks=1), "bought"),
    "another lot": (
        replace(
            PLAN, rolls=(*PLAN.rolls, replace(PLAN.rolls[0], roll="other", lot="B"))
        ),
        "lots are mixed",
    ),
    "a bound above": (
        replace(PLAN, verdict=replace(PLAN.verdict, lower_bound=10**6)),
        "its bound",
    ),
    "first-fit below": (
        replace(PLAN, verdict=replace(PLAN.verdict, first_fit=1)),
        "first-fit",
    ),
    "another price": (replace(PLAN, verdict=replace(PLAN.verdict, price=1)), "cost"),
    "another yield": (replace(PLAN, yield_share=0.1), "yield"),
}


def test_the_plan_itself_is_good():
    assert check_rolls(JOB, PLAN) == []


@pytest.mark.parametrize(("plan", "words"), BAD.values(), ids=BAD.keys())
def test_a_bad_plan_is_found_out(plan, words):
    found = " ".join(check_rolls(JOB, plan))
    assert any(word in found for word in words.split("|"))
