"""Sheets as they are cut: strips and pieces with their places and names, and offcuts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from shared.nesting.core import Core, Cut, Filled
from shared.nesting.dealing import Items
from shared.nesting.model import Halving, Rect, Sheet, SheetJob
from shared.nesting.result import Layout, Offcut, Piece, Plate, Strip

# The sides of parts of one size, and whether they may turn: then the longer side first.
Size = tuple[int, int, bool]


def size_of(part: Rect) -> Size:
    """Return the size under which a part is known to the solver."""
    sides = part.length_ticks, part.width_ticks
    if part.may_turn:
        return max(sides), min(sides), True
    return *sides, False


def layouts(
    core: Core,
    job: SheetJob,
    sheets: Sequence[Sheet],
    items: Items[Size],
    plan: Sequence[Filled],
) -> tuple[Layout, ...]:
    """Place every strip and piece, and put sheets that are cut alike together."""
    parts = {part.key: part for part in job.parts}
    alike: Counter[tuple[str, tuple[Plate, ...]]] = Counter()
    for index, sheet in enumerate(sheets):
        waiting = [f.cuts for f in plan if f.stock == index for _ in range(f.count)]
        for first in range(0, len(waiting), job.plates_per_sheet):
            plates = tuple(
                Plate(x, y, *job.plate_of(sheet), _strips(core, cuts, items, parts))
                for (x, y), cuts in zip(
                    _corners(job, sheet),
                    waiting[first : first + job.plates_per_sheet],
                    strict=False,  # the last sheet may need one half only
                )
            )
            alike[sheet.key, plates] += 1
    by_key = {sheet.key: sheet for sheet in sheets}
    return tuple(
        Layout(key, count, plates, tuple(_offcuts(job, by_key[key], plates)))
        for (key, plates), count in alike.items()
    )


def _corners(job: SheetJob, sheet: Sheet) -> list[tuple[int, int]]:
    """Return the corner of each plate on its sheet."""
    length, width = job.plate_of(sheet)
    at = job.trim_of(sheet)
    if job.halving is Halving.ACROSS:
        return [(at, at), (at + length + job.kerf_ticks, at)]
    if job.halving is Halving.LENGTHWISE:
        return [(at, at), (at, at + width + job.kerf_ticks)]
    return [(at, at)]


def _strips(
    core: Core, cuts: Sequence[Cut], items: Items[Size], parts: dict[str, Rect]
) -> tuple[Strip, ...]:
    strips, at = [], 0
    for cut in cuts:
        width = core.lanes[cut.lane].width
        strips.append(Strip(at, width, tuple(_pieces(core, cut, items, parts))))
        at += width + core.kerf
    return tuple(strips)


def _pieces(
    core: Core, cut: Cut, items: Items[Size], parts: dict[str, Rect]
) -> Iterator[Piece]:
    """Yield the pieces of a strip, longest first."""
    at = 0
    for index, times in sorted(cut.pieces, key=lambda p: -core.options[p[0]].along):
        option = core.options[index]
        for key, count in items.deal(option.item, times):
            part = parts[key]
            turned = option.along != part.length_ticks
            bevel = part.pair.bevel_deg if part.pair else 0.0
            for _ in range(count):
                yield Piece(key, at, option.along, option.across, turned, bevel)
                at += option.along + core.kerf


def _offcuts(job: SheetJob, sheet: Sheet, plates: Sequence[Plate]) -> Iterator[Offcut]:
    """Yield every rectangle that the last cuts leave, kerfs taken off."""
    for plate in plates:
        yield from _left_of(plate, job.kerf_ticks)
    length, width = job.plate_of(sheet)
    for x, y in _corners(job, sheet)[len(plates) :]:
        yield Offcut(x, y, length, width)


def _left_of(plate: Plate, kerf: int) -> Iterator[Offcut]:
    below = 0
    for strip in plate.strips:
        y = plate.y_ticks + strip.at_ticks
        below = strip.at_ticks + strip.width_ticks + kerf
        end = 0
        for piece in strip.pieces:
            end = piece.at_ticks + piece.length_ticks + kerf
            over = strip.width_ticks - piece.width_ticks - kerf
            if over > 0:
                top = y + piece.width_ticks + kerf
                x = plate.x_ticks + piece.at_ticks
                yield Offcut(x, top, piece.length_ticks, over)
        if end < plate.length_ticks:
            rest = plate.length_ticks - end
            yield Offcut(plate.x_ticks + end, y, rest, strip.width_ticks)
    if below < plate.width_ticks:
        rest = plate.width_ticks - below
        yield Offcut(plate.x_ticks, plate.y_ticks + below, plate.length_ticks, rest)
