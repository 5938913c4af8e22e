"""Rows of the saw: one setting each, in the order to saw; stable keys to tick by (pure).

The solver's rows, and two steps more that it does not know: a tilted edge on a part that
is no pair, and a pair's other half crosscut to the wall cleats' length.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from jobs.cutting.engine.request import Request, bar_job, sheet_job
from shared.nesting import BarPlan, SheetPlan
from shared.nesting.sawing import SawRow, saw_bars, saw_sheets


class SawStep(StrEnum):
    """What is done with a setting, in this order."""

    EDGE = "edge"
    HALVE = "halve"
    RIP = "rip"
    BEVEL = "bevel"
    CROSSCUT = "crosscut"
    TRIM = "trim"
    BEVEL_PIECE = "bevel-piece"
    BEVEL_EDGE = "bevel-edge"
    MATE = "mate"
    PULL = "pull"  # cloth off the roll; its cuts follow


@dataclass(frozen=True, slots=True)
class Where:
    """On each sheet from the first to the last, ``cuts`` times; plate and strip from 0."""

    first_sheet: int
    last_sheet: int
    plate: int | None
    strip: int | None
    cuts: int


@dataclass(frozen=True, slots=True)
class Freed:
    """How many of a part, by its key."""

    part: str
    count: int


@dataclass(frozen=True, slots=True)
class Row:
    """One setting of fence or stop block in ticks, and all that is cut with it.

    ``key`` names the setting the same way in any plan. ``cuts`` counts passes of the
    saw over all sheets.
    """

    key: str
    step: SawStep
    setting_ticks: int
    bevel_deg: float
    cuts: int
    places: tuple[Where, ...]
    pieces: tuple[Freed, ...]


def sheet_rows(request: Request, plan: SheetPlan) -> tuple[Row, ...]:
    """Return the rows of a plan of sheets."""
    rows = map(_row, saw_sheets(sheet_job(request), plan))
    return (*rows, *_edges(request), *_mates(request))


def bar_rows(request: Request, plan: BarPlan) -> tuple[Row, ...]:
    """Return the rows of a plan of bars."""
    return tuple(map(_row, saw_bars(bar_job(request), plan)))


def _row(row: SawRow) -> Row:
    return Row(
        key=row.key,
        step=SawStep(row.step),
        setting_ticks=row.setting_ticks,
        bevel_deg=row.bevel_deg,
        cuts=row.cuts,
        places=tuple(
            Where(p.first_sheet, p.last_sheet, p.plate, p.strip, p.cuts)
            for p in row.places
        ),
        pieces=tuple(Freed(p.part, p.count) for p in row.pieces),
    )


def _edges(request: Request) -> Iterator[Row]:
    """Yield the tilted edges of parts that are no pairs."""
    found: dict[tuple[float, int], list[Freed]] = {}
    for part in request.parts:
        if part.bevel_deg and not part.is_pair:
            setting = part.bevel_deg, part.long_face_ticks
            found.setdefault(setting, []).append(Freed(part.key, part.count))
    for (bevel, face), pieces in sorted(
        found.items(), key=lambda f: (f[0][0], -f[0][1])
    ):
        yield _made(SawStep.BEVEL_EDGE, face, pieces, bevel)


def _mates(request: Request) -> Iterator[Row]:
    """Yield the crosscuts of pairs' other halves that are shorter than their blank."""
    found: dict[int, Counter[str]] = {}
    for part in request.parts:
        for mate in (mate for share in part.shares for mate in share.mates):
            if mate.length_ticks < part.length_ticks:
                counts = found.setdefault(mate.length_ticks, Counter())
                counts[part.key] += mate.count
    for length in sorted(found, reverse=True):
        pieces = [Freed(key, count) for key, count in sorted(found[length].items())]
        yield _made(SawStep.MATE, length, pieces)


def _made(
    step: SawStep, setting: int, pieces: Iterable[Freed], bevel: float = 0.0
) -> Row:
    pieces = tuple(pieces)
    tilt = f"-{bevel:g}" if bevel else ""
    cuts = sum(each.count for each in pieces)
    return Row(f"{step}-{setting}{tilt}", step, setting, bevel, cuts, (), pieces)
