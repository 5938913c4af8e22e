"""What the bench, a job's page and a panel's page show."""

from __future__ import annotations

import datetime as dt
import itertools
import uuid
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from jobs.board.models import STAGES, Job, MarkChange, Panel, Stage, StageMove


@dataclass(frozen=True, slots=True)
class BenchFilter:
    """What of the bench a person wants to see; empty means everything."""

    job: str = ""
    fabric: str = ""
    stage: str = ""

    @property
    def is_on(self) -> bool:
        """Whether anything is left out."""
        return bool(self.job or self.fabric or self.stage)


@dataclass(frozen=True, slots=True)
class StageCount:
    """How many panels of a job are exactly at a stage."""

    stage: Stage
    count: int


@dataclass(frozen=True, slots=True)
class StageSlot:
    """The panels of one job that hang at one stage."""

    stage: Stage
    panels: tuple[Panel, ...]


@dataclass(frozen=True, slots=True)
class JobRow:
    """One job on the bench: its panels by stage, and the counts."""

    job: Job
    slots: tuple[StageSlot, ...]
    counts: tuple[StageCount, ...]
    total: int

    @property
    def installed(self) -> int:
        """How many panels hang where they belong."""
        return self.counts[-1].count


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to filter by."""

    value: str
    label: str


@dataclass(frozen=True, slots=True)
class Bench:
    """The whole bench as one person sees it."""

    rows: tuple[JobRow, ...]
    filter: BenchFilter
    jobs: tuple[Choice, ...]
    fabrics: tuple[Choice, ...]
    stages: tuple[Choice, ...]
    any_panels: bool


def bench(wanted: BenchFilter) -> Bench:
    """Read the bench: live panels by job and stage. Two queries for any number."""
    everything = list(Panel.objects.live().for_bench())
    shown = [panel for panel in everything if _matches(panel, wanted)]
    counts = _counts(everything)
    rows = tuple(job_row(job, panels, counts[job.pk]) for job, panels in _by_job(shown))
    return Bench(
        rows=rows,
        filter=wanted,
        jobs=tuple(_job_choices(everything)),
        fabrics=tuple(
            Choice(name, name)
            for name in sorted({p.fabric_name for p in everything})
            if name
        ),
        stages=tuple(Choice(s.value, s.label) for s in STAGES),
        any_panels=bool(everything),
    )


def _matches(panel: Panel, wanted: BenchFilter) -> bool:
    return (
        wanted.job in ("", panel.job.code)
        and wanted.fabric in ("", panel.fabric_name)
        and wanted.stage in ("", panel.stage)
    )


def _by_job(panels: Iterable[Panel]) -> list[tuple[Job, list[Panel]]]:
    groups = itertools.groupby(panels, key=lambda panel: panel.job_id)
    lists = (list(group) for _, group in groups)
    return [(group[0].job, group) for group in lists]


def _counts(panels: Iterable[Panel]) -> dict[uuid.UUID, Counter[str]]:
    counts: dict[uuid.UUID, Counter[str]] = {}
    for panel in panels:
        counts.setdefault(panel.job_id, Counter())[panel.stage] += 1
    return counts


def job_row(job: Job, panels: Sequence[Panel], counts: Counter[str]) -> JobRow:
    """Lay one job's panels out by stage; the counts are of all its panels."""
    slots = tuple(
        StageSlot(stage, tuple(p for p in panels if p.stage == stage))
        for stage in STAGES
    )
    return JobRow(
        job=job,
        slots=slots,
        counts=tuple(StageCount(stage, counts[stage]) for stage in STAGES),
        total=sum(counts.values()),
    )


def _job_choices(panels: Iterable[Panel]) -> list[Choice]:
    jobs = dict.fromkeys(panel.job for panel in panels)
    return [Choice(job.code, f"{job.code} · {job.client}") for job in jobs]


@dataclass(frozen=True, slots=True)
class PanelStory:
    """One line of what happened to a panel."""

    at: dt.datetime
    by: str
    text: str


def panel_story(panel: Panel) -> tuple[PanelStory, ...]:
    """Tell what happened to a panel, newest first. Two queries."""
    moves = (_told_move(m) for m in panel.moves.select_related("by", "undoes"))
    marks = (_told_mark(m) for m in panel.marks.select_related("by"))
    told = sorted((*moves, *marks), key=lambda line: line.at, reverse=True)
    return tuple(told)


def _told_move(move: StageMove) -> PanelStory:
    text = f"{move.get_from_stage_display()} → {move.get_to_stage_display()}"
    if move.undoes_id:
        text = f"taken back: {text}"
    return PanelStory(at=move.at, by=str(move.by), text=text)


def _told_mark(change: MarkChange) -> PanelStory:
    what = change.get_mark_display()
    if not change.now:
        text = f"{what}: taken off"
    elif change.mark in ("waiting", "rework"):
        text = (
            f"{what} {change.now}"
            if change.mark == "waiting"
            else f"{what}: {change.now}"
        )
    else:
        text = what
    return PanelStory(at=change.at, by=str(change.by), text=text)
