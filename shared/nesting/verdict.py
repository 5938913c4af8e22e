"""What a search came to, in the caller's prices."""

from __future__ import annotations

import hashlib

from shared.nesting.core import Filled
from shared.nesting.effort import Effort, Progress
from shared.nesting.model import BarJob, SheetJob
from shared.nesting.result import ENGINE_VERSION, Verdict
from shared.nesting.search import Start, State


def digest(job: BarJob | SheetJob) -> str:
    """Return a short text that equal jobs share, under this version of the engine."""
    text = f"{ENGINE_VERSION} {job!r}"
    return hashlib.sha256(text.encode()).hexdigest()[:16]


def scaled(effort: Effort, scale: int) -> Effort:
    """Return the effort with prices told in the caller's, not in so many plates'."""
    if scale == 1:
        return effort

    def tell(progress: Progress) -> None:
        price = None if progress.price is None else progress.price // scale
        effort.tell(Progress(price, progress.lower_bound // scale, progress.work))

    return Effort(effort.work, effort.should_stop, tell)


def start_of(
    verdict: Verdict | None, plan: list[Filled] | None, job: str, scale: int = 1
) -> Start:
    """Return where to go on: an earlier plan, its bound only if the job is the same."""
    if verdict is None or verdict.job != job:
        return Start(plan)
    return Start(plan, verdict.lower_bound * scale, verdict.dives)


def work_before(verdict: Verdict | None, job: str) -> int:
    """Return the work that an earlier plan of the same job took."""
    return verdict.work if verdict and verdict.job == job else 0


def verdict_on(
    state: State, bound_class: str, *, job: str, before: int = 0, scale: int = 1
) -> Verdict:
    """Return the verdict; ``scale`` is how many plates' prices make one of a sheet.

    ``before`` is the work that was done before this search.
    """
    price = state.price or 0
    return Verdict(
        price=price // scale,
        lower_bound=min(price, state.bound) // scale,
        bound_class=bound_class,
        first_fit=None if state.first_fit is None else state.first_fit // scale,
        stopped=state.meter.is_over() and not state.is_proven,
        work=before + state.meter.work,
        job=job,
        dives=state.dives,
    )
