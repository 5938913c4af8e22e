"""A plan's page: state, answer, drawings, rows, parts, what is worth keeping."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from dataclasses import dataclass

from jobs.board.codes import runs_of
from jobs.board.models import Panel
from jobs.cutting.adapter import counts_of, plan_of, request_of
from jobs.cutting.engine import Request
from jobs.cutting.engine.offcuts import Left, left_over
from jobs.cutting.engine.results import halvings_of
from jobs.cutting.models import CutPlan
from jobs.cutting.reports.answer import (
    Bound,
    Taken,
    Way,
    bound_of,
    cost_of,
    priced_words,
    title_of,
    ways_of,
)
from jobs.cutting.reports.parts import PartLine, part_lines
from jobs.cutting.reports.saw import Stage, saw_stages
from jobs.cutting.reports.sheets import Shown, shown
from jobs.cutting.reports.words import notation
from shared.conventions import current
from shared.money import show_number
from shared.nesting import BarPlan, SheetPlan


@dataclass(frozen=True, slots=True)
class KeptLine:
    """An offcut that may be kept, by its key to tick."""

    key: str
    words: str


@dataclass(frozen=True, slots=True)
class Answer:
    """What a plan that was made says."""

    title: str
    taken: tuple[Taken, ...]
    bound: Bound
    yield_text: str
    cost: str
    priced: str
    ways: tuple[Way, ...]
    third_rips: int
    sheets: tuple[Shown, ...]
    stages: tuple[Stage, ...]
    kept: tuple[KeptLine, ...]


@dataclass(frozen=True, slots=True)
class PlanPage:
    """Everything that a plan's page shows."""

    plan: CutPlan
    request: Request
    panels: tuple[Panel, ...]
    codes: str
    parts: tuple[PartLine, ...]
    taken_off_with: str
    planned_size: str
    unmeasured: tuple[str, ...]
    thickness_words: str
    answer: Answer | None

    @property
    def jobs(self) -> tuple[uuid.UUID, ...]:
        """The jobs that its panels are of."""
        return tuple(dict.fromkeys(panel.job_id for panel in self.panels))


def plan_page(plan: CutPlan, *, sees_money: bool) -> PlanPage:
    """Return a plan's page; one query for its panels."""
    request = request_of(plan)
    ids = [uuid.UUID(panel.id) for panel in request.panels]
    panels = tuple(Panel.objects.with_job().by_ids(ids).order_by("job__code", "number"))
    found = plan_of(plan) if plan.is_made else None
    return PlanPage(
        plan=plan,
        request=request,
        panels=panels,
        codes=runs_of(panel.code for panel in panels),
        parts=part_lines(request, notation()),
        taken_off_with=notation().length(request.thickness_ticks),
        planned_size=_planned_size(plan, request),
        unmeasured=_unmeasured(plan, request, found) if found else (),
        thickness_words=_thickness(plan, request),
        answer=_answer(plan, request, found, sees_money=sees_money) if found else None,
    )


def _planned_size(plan: CutPlan, request: Request) -> str:
    """Print the size of a whole one that the plan reckons with."""
    whole = [s for s in request.whole_sources if s.material == str(plan.material_id)]
    return ", ".join(notation().size(s.length_ticks, s.width_ticks) for s in whole)


def _unmeasured(
    plan: CutPlan, request: Request, found: SheetPlan | BarPlan
) -> tuple[str, ...]:
    """Name what else is cut up: offcuts, and sheets of another size."""
    return tuple(
        f"{'offcut ' if source.is_piece else ''}{source.name}"
        for source in map(request.source, counts_of(found))
        if source.is_piece or source.material != str(plan.material_id)
    )


def _thickness(plan: CutPlan, request: Request) -> str:
    """Say what follows where the parts were taken off with another thickness than quoted."""
    quoted = plan.material.thickness_ticks
    if plan.is_fill or quoted is None or quoted == request.thickness_ticks:
        return ""
    show = notation().length
    return (
        f"The parts are taken off with {show(request.thickness_ticks)}, while the stores"
        f" say {show(quoted)}. Joints depend on it: cut by this list, not by lengths"
        " printed before."
    )


def _answer(
    plan: CutPlan, request: Request, found: SheetPlan | BarPlan, *, sees_money: bool
) -> Answer:
    halved = halvings_of(plan.result or {"halvings": ()})
    taken = tuple(_taken(request, found))
    return Answer(
        title=title_of(taken, plan.noun),
        taken=taken,
        bound=bound_of(request, found, plan.noun, sees_money=sees_money),
        yield_text=show_number(
            plan.yield_percent or 0, locale=current().locale, decimals=1
        ),
        cost=cost_of(request, plan) if sees_money else "",
        priced=priced_words(request, plan.noun),
        ways=ways_of(plan, request, halved, plan.noun, money=sees_money),
        third_rips=_third_rips(found),
        sheets=shown(plan, request, found, notation()),
        stages=saw_stages(plan, request, notation()),
        kept=_kept_lines(plan, request, found),
    )


def kept_lines(plan: CutPlan) -> tuple[KeptLine, ...]:
    """Return what of a plan may be kept; no query, nothing is drawn."""
    found = plan_of(plan) if plan.is_made else None
    return _kept_lines(plan, request_of(plan), found) if found else ()


def _kept_lines(
    plan: CutPlan, request: Request, found: SheetPlan | BarPlan
) -> tuple[KeptLine, ...]:
    left = left_over(found, plan.keep_length_ticks, plan.keep_width_ticks, request)
    return tuple(_kept(each, plan, request) for each in left)


def _taken(request: Request, found: SheetPlan | BarPlan) -> Iterator[Taken]:
    for key, count in counts_of(found).items():
        source = request.source(key)
        size = notation().size(source.length_ticks, source.width_ticks)
        yield Taken(count, source.name, size, source.is_piece)


def _third_rips(found: SheetPlan | BarPlan) -> int:
    if isinstance(found, BarPlan):
        return 0
    return sum(
        layout.count * len(strip.trimmed())
        for layout in found.layouts
        for plate in layout.plates
        for strip in plate.strips
    )


def _kept(left: Left, plan: CutPlan, request: Request) -> KeptLine:
    size = notation().size(left.length_ticks, left.width_ticks)
    name = request.source(left.source).name
    return KeptLine(left.key, f"{size} of {plan.noun} {left.number}, {name}")
