"""The search for a plan, in slices and outside any transaction."""

from __future__ import annotations

import datetime as dt
import time
import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import Any

from jobs.cutting.actions.working import (
    Found,
    begin,
    end_without,
    is_stop_wanted,
    keep_so_far,
    refuse,
    store_found,
    tell,
)
from jobs.cutting.adapter import (
    cloth_request_of,
    cloth_used,
    counts_of,
    pieces_used,
    plan_of,
    request_of,
)
from jobs.cutting.engine import Request, bar_job, owners_of, sheet_job
from jobs.cutting.engine.cloth import cloth_result, owners_of_cloth, roll_job
from jobs.cutting.engine.fill import plan_fill
from jobs.cutting.engine.results import bar_result, sheet_result
from jobs.cutting.models import CutKind, CutPlan
from shared.nesting import (
    BarPlan,
    Effort,
    NestingError,
    Progress,
    SheetPlan,
    plan_bars,
    plan_sheets,
)
from shared.nesting.rolls import RollPlan, plan_rolls

SLICES = (1_000, 4_000, 10_000, 15_000)
"""Work of each slice, about so many ms; after each the best plan is kept."""

ROLL_SLICES = (2_000, 12_000)
"""The same for cloth, which is begun anew with each: short first, so that something is kept."""

HALVINGS_WORK = 3_000
"""Work to find what halving costs."""

OFTEN_S = 0.5
"""How often the page's row is read and written meanwhile, in seconds."""


@dataclass(slots=True)
class Watch:
    """Passes on how far the search is, and hears whether to stop: now and then."""

    pk: uuid.UUID
    stopped: bool = False
    _told: float = field(default=0.0)
    _asked: float = field(default_factory=time.monotonic)

    def tell(self, progress: Progress) -> None:
        """Write down how far it is, unless that was done just now."""
        now = time.monotonic()
        if now - self._told >= OFTEN_S:
            self._told = now
            tell(self.pk, progress)

    def should_stop(self) -> bool:
        """Tell whether somebody wants it to end."""
        now = time.monotonic()
        if not self.stopped and now - self._asked >= OFTEN_S:
            self._asked = now
            self.stopped = is_stop_wanted(self.pk)
        return self.stopped

    def effort(self, work: int, before: int = 0) -> Effort:
        """Return one slice's effort; `before` is the work of those before it."""

        def told(progress: Progress) -> None:
            self.tell(replace(progress, work=before + progress.work))

        return Effort(work, should_stop=self.should_stop, tell=told)


class CannotBeCutError(Exception):
    """What is wanted can't be cut; the message is the sentence to show."""


def solve(pk: uuid.UUID, *, now: Callable[[], dt.datetime]) -> None:
    """Make a plan that was asked for, or go on with one whose worker died."""
    plan = begin(pk)
    if plan is None:
        return
    if plan.stop_wanted and plan.result is None:
        end_without(pk, at=now())
        return
    try:
        found = SEARCHES[plan.kind](plan, Watch(pk, stopped=plan.stop_wanted))
    except CannotBeCutError as refused:
        refuse(pk, str(refused), at=now())
    else:
        store_found(pk, found, at=now())


@contextmanager
def _told(request: Request) -> Iterator[None]:
    """Say whose part it is that can't be cut."""
    try:
        yield
    except NestingError as refused:
        sentence = f"{refused.message} {owners_of(request, refused)}".strip()
        raise CannotBeCutError(sentence) from refused


def _sheets(plan: CutPlan, watch: Watch) -> Found:
    request, earlier = request_of(plan), plan_of(plan)
    best = earlier if isinstance(earlier, SheetPlan) else None
    with _told(request):
        job = sheet_job(request)
        best = plan_sheets(job, watch.effort(SLICES[0]), best)
        for work in SLICES[1:]:
            if best.verdict.proven or watch.should_stop():
                break
            keep_so_far(watch.pk, sheet_result(request, best))
            best = plan_sheets(job, watch.effort(work, best.verdict.work), best)
        effort = (
            None if watch.should_stop() else Effort(HALVINGS_WORK, watch.should_stop)
        )
        result = sheet_result(request, best, effort=effort)
    return _found(request, best, result)


def _bars(plan: CutPlan, watch: Watch) -> Found:
    request, earlier = request_of(plan), plan_of(plan)
    best = earlier if isinstance(earlier, BarPlan) else None
    with _told(request):
        job = bar_job(request)
        best = plan_bars(job, watch.effort(SLICES[0]), best)
        for work in SLICES[1:]:
            if best.verdict.proven or watch.should_stop():
                break
            keep_so_far(watch.pk, bar_result(request, best))
            best = plan_bars(job, watch.effort(work, best.verdict.work), best)
    return _found(request, best, bar_result(request, best))


def _found(
    request: Request, best: SheetPlan | BarPlan, result: dict[str, Any]
) -> Found:
    return Found(
        result=result,
        verdict=best.verdict,
        yield_share=best.yield_share,
        count=sum(counts_of(best).values()),
        pieces=frozenset(map(uuid.UUID, pieces_used(request, best))),
    )


def _fill(plan: CutPlan, watch: Watch) -> Found:
    request = request_of(plan)
    with _told(request):
        best = plan_fill(request, watch.effort(SLICES[2]))
        return _found(request, best, sheet_result(request, best))


def _rolls(plan: CutPlan, watch: Watch) -> Found:
    """Look for a short while, keep that, then look on, unless nothing shorter can be."""
    request = cloth_request_of(plan)
    try:
        job = roll_job(request)
        best = plan_rolls(job, watch.effort(ROLL_SLICES[0]))
        for work in ROLL_SLICES[1:]:
            if best.verdict.proven or watch.should_stop():
                break
            keep_so_far(watch.pk, cloth_result(best))
            again = plan_rolls(job, watch.effort(work, best.verdict.work))
            best = min(again, best, key=_dearness)
    except NestingError as refused:
        sentence = f"{refused.message} {owners_of_cloth(request, refused)}".strip()
        raise CannotBeCutError(sentence) from refused
    price = -(-best.verdict.price // job.price_ticks)
    bound = min(price, -(-best.verdict.lower_bound // job.price_ticks))
    return Found(
        result=cloth_result(best),
        verdict=replace(best.verdict, price=price, lower_bound=bound),
        yield_share=best.yield_share,
        count=len(best.rolls),
        pieces=frozenset(map(uuid.UUID, cloth_used(request, best))),
    )


def _dearness(plan: RollPlan) -> tuple[int, int]:
    return plan.verdict.price, plan.cut_ticks


SEARCHES: dict[str, Callable[[CutPlan, Watch], Found]] = {
    CutKind.SHEETS: _sheets,
    CutKind.BARS: _bars,
    CutKind.ROLL: _rolls,
    CutKind.FILL: _fill,
}
"""How each kind of plan is made; raises `CannotBeCutError`."""
