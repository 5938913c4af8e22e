"""Pieces cut by a plan before it was planned anew that still lack a later cut."""

from __future__ import annotations

from collections.abc import Iterator

from jobs.cutting.adapter import request_of
from jobs.cutting.engine import Request
from jobs.cutting.engine.notation import letters_of
from jobs.cutting.engine.results import rows_of
from jobs.cutting.engine.saw import SawStep
from jobs.cutting.models import CutPlan, CutTick
from jobs.cutting.reports.saw import saw_stages
from jobs.cutting.reports.words import notation

AFTER = frozenset({SawStep.BEVEL_PIECE, SawStep.BEVEL_EDGE, SawStep.MATE})
"""Steps on pieces that are off the sheet: a new plan of what is left has no row of them."""


def unfinished_of(plan: CutPlan, left: Request) -> tuple[str, ...]:
    """Say which good pieces of a plan lack which cut, where `left` is cut anew. One query."""
    request, done = request_of(plan), CutTick.objects.standing(plan)
    if (
        not done
    ):  # nothing is cut: made anew with other sizes, its parts have other keys
        return ()
    wanted = {part.key: part.count for part in left.parts}
    good = {part.key: part.count - wanted.get(part.key, 0) for part in request.parts}
    letters = letters_of(request)
    stages = saw_stages(plan, request, notation())
    lines = {line.key: line for stage in stages for line in stage.lines}
    return tuple(
        f"{good[piece.part]} × {letters[piece.part]} {request.part(piece.part).label}:"
        f" {', '.join(filter(None, (lines[row.key].setting, lines[row.key].tilt)))}"
        for row in (rows_of(plan.result) if plan.result else ())
        if row.step in AFTER and row.key not in done
        for piece in row.pieces
        if good[piece.part] > 0
    )


def unfinished_before(plan: CutPlan) -> Iterator[tuple[CutPlan, tuple[str, ...]]]:
    """Yield each plan that this one goes on from, with what its good pieces lack."""
    while plan.is_wood and plan.replaces is not None:
        before = plan.replaces
        if lacking := unfinished_of(before, request_of(plan)):
            yield before, lacking
        plan = before
