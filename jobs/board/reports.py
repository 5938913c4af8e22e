"""What the bench shows: a board for each job, its panels hung by stage."""

from __future__ import annotations

import re
import uuid
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.utils.safestring import SafeString, mark_safe

from jobs.board.adapter import as_built
from jobs.board.codes import runs_of
from jobs.board.models import STAGES, Job, Panel, Stage
from jobs.board.slots import notes_of
from quotes.specs.engine.model import TakeoffError
from shared import length
from shared.conventions import current
from shop.surveys.models import Room

OPEN_PLATES = 120
"""Boards stand open until this many plates hang; the rest open by a tap."""

ID = re.compile(r"[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}")

WEAVES = 8
"""How many weaves the look has for telling fabrics apart in grey."""


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
class Badge:
    """A mark beside a panel's stage."""

    label: str
    look: str
    icon: str


@dataclass(frozen=True, slots=True)
class Plate:
    """A panel as it hangs on a board."""

    id: uuid.UUID
    value: str
    code: str
    size: str
    letter: str
    weave: int
    fabric: str
    marks: tuple[Badge, ...]


@dataclass(frozen=True, slots=True)
class Stop:
    """A stage on a job's track, with how many panels are exactly there."""

    key: str
    label: str
    count: int
    state: str


@dataclass(frozen=True, slots=True)
class Rail:
    """The panels of one job that hang at one stage."""

    key: str
    label: str
    plates: tuple[Plate, ...]


@dataclass(frozen=True, slots=True)
class Cloth:
    """A fabric as plates show it: a letter and a weave."""

    letter: str
    weave: int
    name: str


@dataclass(frozen=True, slots=True)
class Board:
    """One job on the bench; closed boards show their track only."""

    job: Job
    cloths: tuple[Cloth, ...]
    stops: tuple[Stop, ...]
    rails: tuple[Rail, ...]
    is_open: bool
    total: int
    notes: tuple[Badge, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to filter by."""

    value: str
    label: str


@dataclass(frozen=True, slots=True)
class Bench:
    """The whole bench as one person sees it."""

    boards: tuple[Board, ...]
    wanted: BenchFilter
    jobs: tuple[Choice, ...]
    fabrics: tuple[Choice, ...]
    stages: tuple[Choice, ...]
    any_jobs: bool


@dataclass(frozen=True, slots=True)
class _Tally:
    """How many panels of one job, stage and fabric there are."""

    job: uuid.UUID
    stage: str
    fabric: str
    count: int


def bench(wanted: BenchFilter) -> Bench:
    """Read the bench: tallies, jobs, the panels of open boards, notes. Four queries."""
    rows = [_Tally(*row) for row in Panel.objects.live().tallied()]
    jobs = {job.pk: job for job in Job.objects.open().with_client()}
    # a job may have been finished between the two queries
    tallies = [tally for tally in rows if tally.job in jobs]
    matching = {t.job for t in tallies if _matches(t, jobs[t.job].code, wanted)}
    shown = [job for pk, job in jobs.items() if pk in matching]
    opened = _opened(shown, tallies, wanted)
    fabrics = sorted({t.fabric for t in tallies} - {""})
    lettered, notes = letters(fabrics), notes_of(shown)
    plates = _plates(opened, wanted, letters=lettered)
    return Bench(
        boards=tuple(
            _board(job, tallies, plates, opened=opened, letters=lettered, notes=notes)
            for job in shown
        ),
        wanted=wanted,
        jobs=tuple(Choice(j.code, f"{j.code} · {j.client}") for j in jobs.values()),
        fabrics=tuple(Choice(name, name) for name in fabrics),
        stages=tuple(Choice(s.value, s.label) for s in STAGES),
        any_jobs=bool(tallies),
    )


def _matches(tally: _Tally, code: str, wanted: BenchFilter) -> bool:
    return (
        wanted.job in ("", code)
        and wanted.fabric in ("", tally.fabric)
        and wanted.stage in ("", tally.stage)
    )


def _opened(
    jobs: Sequence[Job], tallies: Sequence[_Tally], wanted: BenchFilter
) -> list[Job]:
    """Choose the boards that stand open: the first, and more while there is room."""
    opened: list[Job] = []
    room = OPEN_PLATES
    for job in jobs:
        size = sum(t.count for t in tallies if t.job == job.pk)
        if opened and size > room:
            break
        opened.append(job)
        room -= size
    return opened


def _plates(
    jobs: Iterable[Job], wanted: BenchFilter, *, letters: dict[str, str]
) -> dict[tuple[uuid.UUID, str], list[Plate]]:
    """Give the plates of the open boards by job and stage. One query."""
    panels = Panel.objects.of_jobs(jobs).for_plates()
    hung: dict[tuple[uuid.UUID, str], list[Plate]] = {}
    for panel in panels:
        fits = wanted.fabric in ("", panel.fabric_name)
        if fits and wanted.stage in ("", panel.stage):
            key = (panel.job_id, panel.stage)
            hung.setdefault(key, []).append(plate(panel, letters=letters))
    return hung


def plate(panel: Panel, *, letters: dict[str, str]) -> Plate:
    """Lay out one panel's plate; its value carries the stage it was seen at."""
    letter = letters.get(panel.fabric_name, "–")
    return Plate(
        id=panel.pk,
        value=f"{panel.pk}:{panel.stage}",
        code=panel.code,
        size=size_words(panel.build_width_ticks, panel.build_height_ticks),
        letter=letter,
        weave=_weave(letter),
        fabric=panel.fabric_name,
        marks=badges(panel),
    )


def _weave(letter: str) -> int:
    return (ord(letter[0]) - ord("A")) % WEAVES + 1 if letter.isalpha() else 1


def letters(fabrics: Iterable[str]) -> dict[str, str]:
    """Give each fabric a letter: A to Z, then AA and so on, in order of name."""
    alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    return {
        name: alphabet[i % 26] * (i // 26 + 1) for i, name in enumerate(sorted(fabrics))
    }


def size_words(width_ticks: int, height_ticks: int) -> str:
    """Print width × height as the shop writes lengths."""
    c = current()
    return length.show_size(
        width_ticks, height_ticks, units=c.unit_system, fraction=c.fraction
    )


def badges(panel: Panel) -> tuple[Badge, ...]:
    """Give the marks that stand beside a panel's stage."""
    marks = (
        (panel.cut_at, Badge("cut", "done", "cut")),
        (panel.checked_at, Badge("checked and wrapped", "done", "wrapped")),
        (
            panel.waiting_for,
            Badge(f"waiting for {panel.waiting_for}", "waiting", "waiting"),
        ),
        (panel.rework, Badge(f"rework: {panel.rework}", "rework", "rework")),
    )
    return tuple(badge for on, badge in marks if on)


def _board(
    job: Job,
    tallies: Iterable[_Tally],
    plates: dict[tuple[uuid.UUID, str], list[Plate]],
    *,
    opened: Sequence[Job],
    letters: dict[str, str],
    notes: dict[uuid.UUID, tuple[Badge, ...]],
) -> Board:
    own = [tally for tally in tallies if tally.job == job.pk]
    counts: Counter[str] = Counter()
    for tally in own:
        counts[tally.stage] += tally.count
    fabrics = sorted({tally.fabric for tally in own} - {""})
    rails = ((stage, plates.get((job.pk, stage.value), [])) for stage in STAGES)
    return Board(
        job=job,
        cloths=tuple(Cloth(letters[f], _weave(letters[f]), f) for f in fabrics),
        stops=stops(counts),
        rails=tuple(Rail(s.value, s.label, tuple(hung)) for s, hung in rails if hung),
        is_open=job in opened,
        total=counts.total(),
        notes=notes.get(job.pk, ()),
    )


def stops(counts: Counter[str]) -> tuple[Stop, ...]:
    """Lay out a job's track: done behind the last panel, here where panels are."""
    behind = 0
    track = []
    for stage in STAGES:
        count = counts[stage.value]
        state = _state(count, behind=behind, total=counts.total())
        track.append(Stop(stage.value, stage.label, count, state))
        behind += count
    return tuple(track)


def _state(count: int, *, behind: int, total: int) -> str:
    if count:
        return "here"
    return "done" if total and not behind else ""


def panel_stops(panel: Panel) -> tuple[Stop, ...]:
    """Lay out one panel's own track."""
    reached = STAGES.index(Stage(panel.stage))
    states = ["done"] * reached + ["here"] + [""] * (len(STAGES) - reached - 1)
    return tuple(
        Stop(stage.value, stage.label, int(state == "here"), state)
        for stage, state in zip(STAGES, states, strict=True)
    )


@dataclass(frozen=True, slots=True)
class PanelRow:
    """One line of a job's list of panels."""

    panel: Panel
    size: str
    marks: tuple[Badge, ...]


def job_panels(job: Job) -> tuple[PanelRow, ...]:
    """List a job's panels. One query."""
    return tuple(
        PanelRow(
            panel=panel,
            size=size_words(panel.build_width_ticks, panel.build_height_ticks),
            marks=badges(panel),
        )
        for panel in Panel.objects.of_job(job).with_group().with_room()
    )


def rooms_of(panels: Iterable[PanelRow]) -> tuple[Choice, ...]:
    """Give the address and name of each room that panels are for. One query.

    A room of which there is no record any more has its name alone.
    """
    names = {row.panel.room: row.panel.room_name for row in panels}  # type: ignore[attr-defined]
    ids = [pk for pk in names if ID.fullmatch(pk or "")]
    kept = {str(room.pk): room for room in Room.objects.filter(pk__in=ids)}
    return tuple(
        Choice(kept[pk].get_absolute_url() if pk in kept else "", name)
        for pk, name in names.items()
    )


def job_stops(job: Job) -> tuple[Stop, ...]:
    """Lay out a job's track. One query."""
    tallies = (_Tally(*row) for row in Panel.objects.of_job(job).tallied())
    counts: Counter[str] = Counter()
    for tally in tallies:
        counts[tally.stage] += tally.count
    return stops(counts)


@dataclass(frozen=True, slots=True)
class SheetOf:
    """Panels of a job that one bench sheet is for."""

    first: Panel
    codes: str
    size: str
    count: int


def bench_sheets(panels: Iterable[PanelRow]) -> tuple[SheetOf, ...]:
    """Group a job's panels by what is made alike, at the size it is built to."""
    groups: dict[tuple[str, str], list[PanelRow]] = {}
    for row in panels:
        group: str = row.panel.group  # type: ignore[attr-defined]
        groups.setdefault((group, row.size), []).append(row)
    return tuple(
        SheetOf(
            first=rows[0].panel,
            codes=runs_of(row.panel.code for row in rows),
            size=rows[0].size,
            count=len(rows),
        )
        for rows in groups.values()
    )


@dataclass(frozen=True, slots=True)
class PanelDrawing:
    """A panel's drawing, and whether it is as quoted or as measured."""

    svg: SafeString
    caption: str


def drawing_of(panel: Panel) -> PanelDrawing:
    """Give a panel's frozen drawing, or one at the size that was measured."""
    quoted = panel.snapshot["drawings"].get("sheet", "")
    svg, caption = quoted, "As quoted"
    try:
        svg = as_built(panel)["drawings"].get("sheet", "")
    except TakeoffError:
        caption = "As quoted: it can’t be built at the measured size"
    else:
        caption = "As quoted" if svg == quoted else "As measured"
    return PanelDrawing(mark_safe(svg), caption)  # noqa: S308 drawn by our own kernel
