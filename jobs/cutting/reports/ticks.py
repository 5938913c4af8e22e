"""At the saw: the rows with their ticks, what to set next, what is left."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from jobs.cutting.adapter import cloth_request_of, plan_of, request_of, roll_plan
from jobs.cutting.models import CutPlan, CutTick
from jobs.cutting.reports.cloth import cloth_sheets, cloth_stages
from jobs.cutting.reports.saw import Line, Stage, saw_stages
from jobs.cutting.reports.sheets import Shown, shown
from jobs.cutting.reports.words import notation


@dataclass(frozen=True, slots=True)
class SawLine:
    """One row, and who ticked it."""

    line: Line
    tick: CutTick | None
    number: int

    @property
    def dom_id(self) -> str:
        """Where it stands on the page."""
        return f"saw-row-{self.number}"


@dataclass(frozen=True, slots=True)
class SawGroup:
    """The rows of one step."""

    step: str
    title: str
    rows: tuple[SawLine, ...]
    left: int


@dataclass(frozen=True, slots=True)
class SawPage:
    """The saw's page: rows by step, and how far it is."""

    groups: tuple[SawGroup, ...]
    total: int
    done: int
    following: SawLine | None
    left_only: bool
    keys: frozenset[str]

    @property
    def left(self) -> int:
        """How many rows are still to be done."""
        return self.total - self.done


def saw_page(plan: CutPlan, *, left_only: bool = False, also: str = "") -> SawPage:
    """Return the rows of a plan; with `left_only` those to do, and `also`. One query."""
    stages = stages_of(plan)
    ticks = CutTick.objects.standing(plan)
    rows = [
        SawLine(line, ticks.get(line.key), number)
        for number, line in enumerate(_lines(stages), start=1)
    ]
    by_key = {row.line.key: row for row in rows}
    groups = tuple(
        _group(stage, [by_key[line.key] for line in stage.lines], left_only, also)
        for stage in stages
    )
    return SawPage(
        groups=tuple(group for group in groups if group.rows),
        total=len(rows),
        done=sum(1 for row in rows if row.tick),
        following=next((row for row in rows if not row.tick), None),
        left_only=left_only,
        keys=frozenset(by_key),
    )


def stages_of(plan: CutPlan) -> tuple[Stage, ...]:
    """Return the rows of a plan of any kind, in the order to cut; no query."""
    if plan.is_roll:
        cloth = roll_plan(plan) if plan.is_made else None
        return cloth_stages(cloth_request_of(plan), cloth) if cloth else ()
    return saw_stages(plan, request_of(plan), notation())


def _lines(stages: Iterable[Stage]) -> Iterable[Line]:
    return (line for stage in stages for line in stage.lines)


def _group(stage: Stage, rows: list[SawLine], left_only: bool, also: str) -> SawGroup:  # noqa: FBT001
    show = [row for row in rows if not (left_only and row.tick) or row.line.key == also]
    left = sum(1 for row in rows if not row.tick)
    return SawGroup(stage.step, stage.title, tuple(show), left)


def sheets_of(plan: CutPlan) -> tuple[Shown, ...]:
    """Return the drawings of a plan that was made; no query."""
    if plan.is_roll:
        cloth = roll_plan(plan) if plan.is_made else None
        return cloth_sheets(plan, cloth_request_of(plan), cloth) if cloth else ()
    found = plan_of(plan)
    return shown(plan, request_of(plan), found, notation()) if found else ()
