"""Fill as a plan of slabs: whole ones as they are, the rest cut by knife (pure).

A knife takes nothing and either way round will do, so it is a plan of sheets without a
saw's cut; it is kept, drawn and cut row by row as those are.
"""

from __future__ import annotations

from dataclasses import replace

from jobs.cutting.engine.request import Request, sheet_job
from shared.nesting import Effort, Layout, SheetPlan, Verdict
from shared.nesting.batts import BattJob, BattPlan, WholeBoards, plan_batts
from shared.nesting.result import Piece, Plate, Strip

ABOUT = "plans that use a whole slab for each piece of its size"


def batt_job(request: Request) -> BattJob:
    """Return the solver's job; raises `NestingError` for what can't be cut."""
    job = sheet_job(request)
    return BattJob(boards=job.sheets, pieces=job.parts)


def plan_fill(request: Request, effort: Effort) -> SheetPlan:
    """Return a plan of slabs: those that are pieces as they are first, then those cut."""
    found = plan_batts(batt_job(request), effort)
    whole = tuple(_whole(request, each) for each in found.whole)
    cut = found.cut
    return SheetPlan(
        layouts=(*whole, *(cut.layouts if cut else ())),
        verdict=_verdict(found),
        yield_share=found.yield_share,
    )


def _whole(request: Request, each: WholeBoards) -> Layout:
    """Lay a piece of a slab's size on it."""
    source, part = request.source(each.board), request.part(each.piece)
    long, wide = source.length_ticks, source.width_ticks
    piece = Piece(each.piece, 0, long, wide, turned=part.length_ticks != long)
    plate = Plate(0, 0, long, wide, (Strip(0, wide, (piece,)),))
    return Layout(each.board, each.count, (plate,), ())


def _verdict(found: BattPlan) -> Verdict:
    if found.cut:
        verdict = found.cut.verdict
        return replace(
            verdict,
            price=found.price,
            lower_bound=found.lower_bound,
            bound_class=f"{ABOUT}, and cut the others in strips, then to length",
        )
    return Verdict(
        price=found.price,
        lower_bound=found.lower_bound,
        bound_class=ABOUT,
        first_fit=None,
        stopped=False,
        work=0,
    )
