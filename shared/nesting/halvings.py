"""What halving a sheet first costs: the same job whole, halved lengthwise, and across."""

from __future__ import annotations

from dataclasses import dataclass, replace

from shared.nesting.effort import Effort, Progress
from shared.nesting.errors import NestingError
from shared.nesting.model import Halving, SheetJob
from shared.nesting.result import SheetPlan
from shared.nesting.sheets import plan_sheets


@dataclass(frozen=True, slots=True)
class HalvingChoice:
    """One way to begin and its plan, or why there is none.

    ``extra_price`` is what it costs more than the cheapest of the three.
    """

    halving: Halving
    plan: SheetPlan | None
    refused: NestingError | None
    extra_price: int | None


def compare_halvings(
    job: SheetJob, effort: Effort | None = None
) -> tuple[HalvingChoice, ...]:
    """Return all three ways, whole first; the job's own halving is not looked at.

    The work is shared out equally; what is told is about the one being planned. A halved sheet's strips could be ripped from a
    whole one as well, so the whole one begins with them and never costs more.
    Raises ``NestingError`` where none of the three has a plan.
    """
    effort = effort or Effort()
    tried = {
        Halving.LENGTHWISE: _tried(job, Halving.LENGTHWISE, _third(effort, 0), None)
    }
    begin = tried[Halving.LENGTHWISE][0]
    tried[Halving.WHOLE] = _tried(job, Halving.WHOLE, _third(effort, 1), begin)
    tried[Halving.ACROSS] = _tried(job, Halving.ACROSS, _third(effort, 2), None)
    whole = tried[Halving.WHOLE][1]
    prices = [plan.verdict.price for plan, _ in tried.values() if plan]
    if whole and not prices:
        raise whole
    return tuple(
        HalvingChoice(
            halving, plan, refused, plan.verdict.price - min(prices) if plan else None
        )
        for halving in Halving
        for plan, refused in [tried[halving]]
    )


def _third(effort: Effort, turn: int) -> Effort:
    """Return one of three equal parts of an effort, whose work is told as one."""
    each = effort.work // 3

    def tell(progress: Progress) -> None:
        effort.tell(replace(progress, work=turn * each + progress.work))

    return Effort(each, effort.should_stop, tell)


def _tried(
    job: SheetJob, halving: Halving, effort: Effort, start: SheetPlan | None
) -> tuple[SheetPlan | None, NestingError | None]:
    """Return a plan, or why there is none."""
    try:
        return plan_sheets(replace(job, halving=halving), effort, start), None
    except NestingError as error:
        return None, error
