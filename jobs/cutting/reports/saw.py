"""The rows of the saw in words, by step: what to set, how many cuts, where."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter

from jobs.board.codes import runs_of
from jobs.cutting.engine import Request
from jobs.cutting.engine.notation import Notation, letters_of
from jobs.cutting.engine.results import rows_of
from jobs.cutting.engine.saw import Freed, Row, SawStep, Where
from jobs.cutting.models import CutPlan

_HEADS = {
    SawStep.EDGE: "Trim the edges",
    SawStep.HALVE: "Halve",
    SawStep.RIP: "Rip, blade upright",
    SawStep.BEVEL: "Rip strips in two, blade tilted",
    SawStep.CROSSCUT: "Crosscut to the stop",
    SawStep.TRIM: "Third rip, blade upright",
    SawStep.BEVEL_PIECE: "Rip blanks in two, blade tilted",
    SawStep.BEVEL_EDGE: "Bevel one long edge, blade tilted",
    SawStep.MATE: "Crosscut the other halves to wall cleats",
}

_KNIFE = _HEADS | {
    SawStep.RIP: "Cut strips, with the knife along a straight edge",
    SawStep.CROSSCUT: "Cut strips to length",
    SawStep.TRIM: "Cut pieces narrower",
}

_SET = {
    SawStep.CROSSCUT: "stop at",
    SawStep.MATE: "stop at",
}


@dataclass(frozen=True, slots=True)
class Line:
    """One row: its key to tick by, the setting, and what is cut with it."""

    key: str
    setting: str
    tilt: str
    cuts: int
    where: str
    pieces: tuple[str, ...]
    note: str


@dataclass(frozen=True, slots=True)
class Stage:
    """The rows of one step, in the order to saw."""

    step: str
    title: str
    lines: tuple[Line, ...]


def saw_stages(
    plan: CutPlan, request: Request, notation: Notation
) -> tuple[Stage, ...]:
    """Return all rows of a plan that was made, step by step; no query."""
    rows = rows_of(plan.result) if plan.result else ()
    letters = letters_of(request)
    return tuple(
        Stage(
            str(step),
            (_KNIFE if plan.is_fill else _HEADS)[step],
            tuple(_line(row, request, letters, notation, plan) for row in group),
        )
        for step, group in groupby(rows, key=attrgetter("step"))
    )


def _line(
    row: Row,
    request: Request,
    letters: Mapping[str, str],
    notation: Notation,
    plan: CutPlan,
) -> Line:
    setting = notation.length(row.setting_ticks)
    how = "cut at" if plan.is_fill else _SET.get(row.step, "fence at")
    return Line(
        key=row.key,
        setting=f"{how} {setting}",
        tilt=f"{row.bevel_deg:g}°" if row.bevel_deg else "",
        cuts=row.cuts,
        where=_where(row.places, plan.noun),
        pieces=tuple(_piece(each, row, request, letters) for each in row.pieces),
        note=_note(row),
    )


def _note(row: Row) -> str:
    if row.step is SawStep.EDGE:
        return "What is left of it, after one edge each time."
    if row.step in (SawStep.BEVEL, SawStep.BEVEL_PIECE):
        return "The long face lies against the fence."
    if row.step is SawStep.RIP and not row.cuts:
        return "What remains is this wide: no cut."
    return ""


def _where(places: Iterable[Where], noun: str) -> str:
    """Name the sheets, each run once."""
    numbers = sorted(
        {n for each in places for n in range(each.first_sheet, each.last_sheet + 1)}
    )
    if not numbers:
        return ""
    runs = runs_of(str(number) for number in numbers)
    return f"{noun} {runs}" if len(numbers) == 1 else f"{noun}s {runs}"


def _piece(each: Freed, row: Row, request: Request, letters: Mapping[str, str]) -> str:
    part = request.part(each.part)
    names = part.label
    if row.step is SawStep.MATE:
        labels = dict.fromkeys(m.label for s in part.shares for m in s.mates)
        names = ", ".join(labels)
    return f"{each.count} × {letters[each.part]} {names}"
