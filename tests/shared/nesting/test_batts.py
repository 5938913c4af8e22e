"""Fill: whole boards, cut pieces, offcuts for odd panels."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.length import TICKS_PER_MM as MM
from shared.nesting import Effort, NestingError, Rect, Sheet
from shared.nesting.batts import BattJob, plan_batts
from tests.shared.nesting.checker import check_sheets

BOARD = Sheet("board", 1200 * MM, 600 * MM, 500)


def planned(*pieces, boards=(BOARD,), effort=None):
    job = BattJob(boards, tuple(Rect(f"p{i}", *p) for i, p in enumerate(pieces)))
    plan = plan_batts(job, effort)
    assert wrong_with(job, plan) == []
    return plan


def wrong_with(job, plan):
    """Check the boards used, the price, and that each piece is whole or cut once."""
    wrong, there = [], {piece.key: 0 for piece in job.pieces}
    for one in plan.whole:
        there[one.piece] += one.count
        (board,) = [b for b in job.boards if b.key == one.board]
        (piece,) = [p for p in job.pieces if p.key == one.piece]
        if {board.length_ticks, board.width_ticks} != {
            piece.length_ticks,
            piece.width_ticks,
        }:
            wrong.append(f"{one.board} is no {one.piece}")
    if plan.cut:
        rest = [
            Rect(p.key, p.length_ticks, p.width_ticks, p.count - there[p.key])
            for p in job.pieces
            if p.count > there[p.key]
        ]
        wrong += check_sheets(job.sheet_job(job.boards, rest), plan.cut)
    elif any(p.count != there[p.key] for p in job.pieces):
        wrong.append("pieces are missing")
    used = plan.used()
    for board in job.boards:
        if board.available is not None and used.get(board.key, 0) > board.available:
            wrong.append(f"{used[board.key]} of {board.available} {board.key}")
    if plan.price != sum(b.price * used.get(b.key, 0) for b in job.boards):
        wrong.append("the price is wrong")
    return wrong


def test_pieces_of_a_boards_size_are_whole_boards_either_way():
    plan = planned((1200 * MM, 600 * MM, 3), (600 * MM, 1200 * MM, 2))
    assert (plan.used(), plan.cut, plan.yield_share) == ({"board": 5}, None, 1.0)
    assert plan.proven


def test_cut_pieces_share_boards_and_may_be_turned():
    plan = planned((600 * MM, 600 * MM, 2), (600 * MM, 300 * MM, 4))
    assert (plan.used(), plan.whole) == ({"board": 2}, ())


def test_an_offcut_goes_first_for_an_odd_panel():
    offcut = Sheet("offcut", 700 * MM, 400 * MM, 0, 1)
    plan = planned(
        (1200 * MM, 600 * MM, 2), (380 * MM, 650 * MM, 1), boards=(BOARD, offcut)
    )
    assert (plan.used(), plan.price) == ({"board": 2, "offcut": 1}, 1000)


def test_what_is_cut_off_is_worth_keeping():
    plan = planned((800 * MM, 600 * MM, 1))
    (layout,) = plan.cut.layouts
    (kept,) = layout.worth_keeping(400 * MM, 400 * MM)
    assert sorted((kept.length_ticks, kept.width_ticks)) == [400 * MM, 600 * MM]


def test_a_piece_larger_than_a_board_is_refused_by_name():
    with pytest.raises(NestingError, match="p0 fits no sheet") as refused:
        planned((1201 * MM, 600 * MM, 1))
    assert refused.value.key == "p0"


def test_boards_that_run_out_are_refused():
    few = Sheet("board", 1200 * MM, 600 * MM, 500, 2)
    with pytest.raises(NestingError, match="not enough"):
        planned((1200 * MM, 600 * MM, 2), (300 * MM, 300 * MM, 1), boards=(few,))
    with pytest.raises(NestingError, match="not enough"):
        planned((1200 * MM, 600 * MM, 3), boards=(few,))


SIDES = st.sampled_from([12, 24, 30, 41, 60])


@settings(max_examples=40)
@given(
    st.lists(st.tuples(SIDES, SIDES, st.integers(1, 4)), min_size=1, max_size=5),
    st.lists(st.tuples(SIDES, SIDES, st.just(0), st.just(1)), max_size=2),
)
def test_plans_can_be_cut(pieces, offcuts):
    boards = [
        Sheet("board", 60, 120, 7),
        *(Sheet(f"o{i}", *o) for i, o in enumerate(offcuts)),
    ]
    planned(*pieces, boards=tuple(boards), effort=Effort(work=10))
