"""A cut plan as the settings of a saw, in the order with the fewest changes (pure).

Every setting stands in the list once for each step, which is the least there can be:
edges, halving, rips from the widest (square ones, then those with the blade tilted),
crosscuts from the longest, each with its stop block, trimming rips, and last
the tilted rips of single blanks. In that order nothing is asked for before it lies there:
strips and pieces lie widest and longest first in a plan. Lengths in ticks.
"""

from __future__ import annotations

import enum
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from shared.nesting.model import BarJob, Halving, SheetJob
from shared.nesting.result import (
    BarPlan,
    Layout,
    Piece,
    Pieces,
    Plate,
    SheetPlan,
    Strip,
)


class Step(enum.StrEnum):
    """What is done at the saw, in this order."""

    EDGE = "edge"
    HALVE = "halve"
    RIP = "rip"
    BEVEL = "bevel"  # the whole strip, in two
    CROSSCUT = "crosscut"
    TRIM = "trim"  # a piece narrower than its strip
    BEVEL_PIECE = "bevel-piece"  # a single blank, in two


ORDER = {step: place for place, step in enumerate(Step)}


@dataclass(frozen=True, slots=True)
class Place:
    """Where a setting is used: on each sheet from the first to the last.

    Sheets, or bars, are numbered from 1 in the order of the plan. ``plate`` is the half,
    ``strip`` its place in the plate, both from 0; None where the whole sheet is meant.
    On each sheet so many ``cuts`` free ``count`` strips or pieces.
    """

    first_sheet: int
    last_sheet: int
    plate: int | None
    strip: int | None
    count: int
    cuts: int

    @property
    def sheets(self) -> int:
        """Return how many sheets these are."""
        return self.last_sheet - self.first_sheet + 1


@dataclass(frozen=True, slots=True)
class SawRow:
    """One setting: what is to be cut with it, before the next is set.

    ``setting_ticks`` is the width or length between the blade and the fence or stop
    block: of what is freed, for an edge of what is left, for a tilted rip of the half's
    long face. ``cuts`` counts passes over all sheets; a last piece that ends with the
    sheet needs none. ``key`` is the same for the same setting in any plan, so
    that a tick can be kept under it. ``pieces`` are freed by this row and, unless a later row
    names them, done.
    """

    key: str
    step: Step
    setting_ticks: int
    bevel_deg: float
    cuts: int
    places: tuple[Place, ...]
    pieces: tuple[Pieces, ...]


@dataclass(frozen=True, slots=True)
class _Use:
    """One use of a setting, on sheets that are cut alike."""

    step: Step
    setting: int
    place: Place
    bevel: float = 0.0
    parts: tuple[str, ...] = ()


def saw_sheets(job: SheetJob, plan: SheetPlan) -> tuple[SawRow, ...]:
    """Return the settings for all sheets of a plan of this job."""
    return _rows(
        use
        for layout, sheets in zip(plan.layouts, plan.sheet_numbers(), strict=True)
        for use in _sheet(job, layout, sheets)
    )


def saw_bars(job: BarJob, plan: BarPlan) -> tuple[SawRow, ...]:
    """Return the settings for all bars of a plan of this job.

    Where bars are trimmed, one end is cut off first; the other stays on what is left.
    """
    return _rows(_bar_uses(job, plan))


def _rows(uses: Iterable[_Use]) -> tuple[SawRow, ...]:
    """Put the uses of each setting together, in the order of steps and then sizes."""
    alike: dict[tuple[Step, int, float], list[_Use]] = defaultdict(list)
    for use in uses:
        alike[use.step, use.setting, use.bevel].append(use)

    def turn(setting: tuple[Step, int, float]) -> tuple[int, float, int]:
        step, ticks, bevel = setting
        return ORDER[step], bevel, -ticks

    return tuple(_row(*setting, alike[setting]) for setting in sorted(alike, key=turn))


def _row(step: Step, setting: int, bevel: float, uses: list[_Use]) -> SawRow:
    pieces: Counter[str] = Counter()
    for use in uses:
        for part in use.parts:
            pieces[part] += use.place.sheets
    tilt = f"-{bevel:g}" if bevel else ""
    return SawRow(
        key=f"{step}-{setting}{tilt}",
        step=step,
        setting_ticks=setting,
        bevel_deg=bevel,
        cuts=sum(use.place.sheets * use.place.cuts for use in uses),
        places=_places(uses),
        pieces=tuple(Pieces(part, count) for part, count in sorted(pieces.items())),
    )


def _places(uses: Iterable[_Use]) -> tuple[Place, ...]:
    """Put the uses in one strip together."""
    places: dict[tuple[int, int | None, int | None], Place] = {}
    for place in (use.place for use in uses):
        key = place.first_sheet, place.plate, place.strip
        before = places.get(key)
        places[key] = (
            replace(
                place, count=before.count + place.count, cuts=before.cuts + place.cuts
            )
            if before
            else place
        )
    return tuple(places.values())


def _sheet(job: SheetJob, layout: Layout, sheets: range) -> Iterator[_Use]:
    whole = Place(sheets[0], sheets[-1], None, None, 1, 1)
    sheet = next(s for s in job.sheets if s.key == layout.sheet)
    trim = job.trim_of(sheet)
    if trim:
        for side in (sheet.width_ticks, sheet.length_ticks):
            yield _Use(Step.EDGE, side - trim, whole)
            yield _Use(Step.EDGE, side - 2 * trim, whole)
    if job.halving is not Halving.WHOLE:
        length, width = job.plate_of(sheet)
        half = length if job.halving is Halving.ACROSS else width
        yield _Use(Step.HALVE, half, whole)
    for number, plate in enumerate(layout.plates):
        yield from _plate(job, plate, sheets, number)


def _plate(job: SheetJob, plate: Plate, sheets: range, number: int) -> Iterator[_Use]:
    for index, strip in enumerate(plate.strips):
        frees = strip.at_ticks + strip.width_ticks < plate.width_ticks

        def place(count: int, cuts: int, index: int = index) -> Place:
            return Place(sheets[0], sheets[-1], number, index, count, cuts)

        # Listed even where the strip is what remains, so that nobody looks for it.
        yield _Use(Step.RIP, strip.width_ticks, place(1, int(frees)))
        halves = 1
        if strip.bevel_deg:
            halves = 2
            face = _long_face(job, strip.pieces[0])
            yield _Use(Step.BEVEL, face, place(2, 1), strip.bevel_deg)
        for piece in strip.pieces:
            ends = piece.at_ticks + piece.length_ticks < plate.length_ticks
            freed = place(halves, halves * ends)
            yield _Use(Step.CROSSCUT, piece.length_ticks, freed, parts=(piece.part,))
        yield from _single(job, strip, place(1, 1))


def _single(job: SheetJob, strip: Strip, place: Place) -> Iterator[_Use]:
    """Yield what is done to single pieces after they are crosscut."""
    for piece in strip.trimmed():
        yield _Use(Step.TRIM, piece.width_ticks, place, parts=(piece.part,))
    if strip.bevel_deg:
        return
    halves = replace(place, count=2)
    for piece in strip.pieces:
        if piece.bevel_deg:
            face = _long_face(job, piece)
            yield _Use(Step.BEVEL_PIECE, face, halves, piece.bevel_deg, (piece.part,))


def _long_face(job: SheetJob, piece: Piece) -> int:
    part = next(p for p in job.parts if p.key == piece.part)
    if part.pair is None:
        raise ValueError(f"{piece.part} is no pair in this job")
    return part.pair.faces(part.width_ticks, job.kerf_ticks).long_ticks


def _bar_uses(job: BarJob, plan: BarPlan) -> Iterator[_Use]:
    length_of = {part.key: part.length_ticks for part in job.parts}
    bar_of = {bar.key: bar for bar in job.bars}
    first = 1
    for pattern in plan.patterns:
        last = first + pattern.count - 1
        room = bar_of[pattern.bar].length_ticks - 2 * job.trim_ticks
        if job.trim_ticks:
            end = bar_of[pattern.bar].length_ticks - job.trim_ticks
            yield _Use(Step.EDGE, end, Place(first, last, None, None, 1, 1))
        at = 0
        for pieces in pattern.pieces:
            length = length_of[pieces.part]
            for _ in range(pieces.count):
                at += length
                cuts = int(at < room or job.trim_ticks > 0)
                at += job.kerf_ticks
                place = Place(first, last, None, None, 1, cuts)
                yield _Use(Step.CROSSCUT, length, place, parts=(pieces.part,))
        first = last + 1
