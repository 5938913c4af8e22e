"""Fill: whole boards as they are, the rest cut by knife from offcuts first, then boards.

A knife takes nothing, so strips and pieces touch; a third cut may narrow a piece.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from shared.nesting.effort import Effort
from shared.nesting.errors import NestingError
from shared.nesting.model import Rect, Sheet, SheetJob
from shared.nesting.result import SheetPlan
from shared.nesting.sheets import plan_sheets


@dataclass(frozen=True, slots=True)
class BattJob:
    """Boards and offcuts of one fill, and the pieces wanted; both may lie either way.

    A board or offcut of limited number says so by ``available``; offcuts that are paid
    cost nothing and so go first.
    """

    boards: tuple[Sheet, ...]
    pieces: tuple[Rect, ...]

    def __post_init__(self) -> None:
        """Refuse what can't be cut, naming the field and the piece."""
        self.sheet_job(self.boards, self.pieces)

    @staticmethod
    def sheet_job(boards: Sequence[Sheet], pieces: Sequence[Rect]) -> SheetJob:
        """Return the job of cutting pieces from boards with a knife."""
        turning = tuple(replace(piece, may_turn=True) for piece in pieces)
        return SheetJob(tuple(boards), turning, kerf_ticks=0, may_trim_strips=True)


@dataclass(frozen=True, slots=True)
class WholeBoards:
    """Boards that are pieces as they are."""

    board: str
    piece: str
    count: int


@dataclass(frozen=True, slots=True)
class BattPlan:
    """Whole boards, and the plan of those that are cut, None where none is.

    ``price`` and ``lower_bound`` count both; the bound is about plans that use
    a board for each piece of its size.
    """

    whole: tuple[WholeBoards, ...]
    cut: SheetPlan | None
    price: int
    lower_bound: int
    yield_share: float

    @property
    def proven(self) -> bool:
        """Tell whether no plan of the bound's kind can be cheaper."""
        return self.price <= self.lower_bound

    def used(self) -> dict[str, int]:
        """Return how many of each board and offcut are used."""
        used: dict[str, int] = {}
        for whole in self.whole:
            used[whole.board] = used.get(whole.board, 0) + whole.count
        for layout in self.cut.layouts if self.cut else ():
            used[layout.sheet] = used.get(layout.sheet, 0) + layout.count
        return used


def plan_batts(job: BattJob, effort: Effort | None = None) -> BattPlan:
    """Return whole boards for pieces of a board's size, and the cheapest cuts for the rest.

    Sizes in ticks. Raises ``NestingError`` where the boards run out.
    """
    whole, boards, pieces = _whole(job)
    cut = None
    if pieces:
        if not any(board.available != 0 for board in boards):
            raise NestingError("boards", "The boards are not enough for all pieces.")
        cut = plan_sheets(job.sheet_job(boards, pieces), effort)
    price_of = {board.key: board.price for board in job.boards}
    price = sum(price_of[one.board] * one.count for one in whole)
    return BattPlan(
        whole=tuple(whole),
        cut=cut,
        price=price + (cut.verdict.price if cut else 0),
        lower_bound=price + (cut.verdict.lower_bound if cut else 0),
        yield_share=_yield(job, whole, cut),
    )


def _whole(job: BattJob) -> tuple[list[WholeBoards], list[Sheet], list[Rect]]:
    """Share out boards to pieces of their size, the cheapest first; return what is left."""
    left = {board.key: board.available for board in job.boards}
    whole: list[WholeBoards] = []
    pieces: list[Rect] = []
    for piece in job.pieces:
        wanted = piece.count
        for board in sorted(job.boards, key=lambda b: b.price):
            many = left[board.key]
            count = wanted if many is None else min(wanted, many)
            if _sides(board) == _sides(piece) and count:
                whole.append(WholeBoards(board.key, piece.key, count))
                wanted -= count
                left[board.key] = None if many is None else many - count
        if wanted:
            pieces.append(replace(piece, count=wanted))
    boards = [replace(board, available=left[board.key]) for board in job.boards]
    return whole, boards, pieces


def _sides(rect: Sheet | Rect) -> tuple[int, int]:
    sides = rect.length_ticks, rect.width_ticks
    return max(sides), min(sides)


def _yield(job: BattJob, whole: Sequence[WholeBoards], cut: SheetPlan | None) -> float:
    area = {b.key: b.length_ticks * b.width_ticks for b in job.boards}
    wanted = sum(p.length_ticks * p.width_ticks * p.count for p in job.pieces)
    used = sum(area[one.board] * one.count for one in whole)
    used += sum(area[la.sheet] * la.count for la in (cut.layouts if cut else ()))
    return float(Fraction(wanted, used))
