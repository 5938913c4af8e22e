"""Each sheet or bar of a plan: its drawing, and the same in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter

from django.utils.safestring import SafeString, mark_safe

from jobs.cutting.engine import Request
from jobs.cutting.engine.drawing import CutBar, Sheet, bar_drawing, sheet_drawing
from jobs.cutting.engine.notation import Notation, letters_of
from jobs.cutting.models import CutPlan
from shared.nesting import BarPattern, BarPlan, Layout, Piece, Plate, SheetPlan, Strip


@dataclass(frozen=True, slots=True)
class Shown:
    """Sheets or bars that are cut alike."""

    key: str
    title: str
    count: int
    svg: SafeString
    words: tuple[str, ...]


def shown(
    plan: CutPlan, request: Request, found: SheetPlan | BarPlan, notation: Notation
) -> tuple[Shown, ...]:
    """Draw what is cut, in the order of the plan."""
    if isinstance(found, BarPlan):
        return tuple(_bars(plan, request, found, notation))
    letters = letters_of(request)
    return tuple(
        _sheet(plan, request, layout, numbers, letters, notation)
        for layout, numbers in zip(found.layouts, found.sheet_numbers(), strict=True)
    )


def numbered(numbers: range, noun: str) -> str:
    """Name sheets by their numbers: Sheet 1, Sheets 2 to 4."""
    noun = noun.capitalize()
    if len(numbers) == 1:
        return f"{noun} {numbers[0]}"
    join = "and" if len(numbers) == 2 else "to"
    return f"{noun}s {numbers[0]} {join} {numbers[-1]}"


def _sheet(
    plan: CutPlan,
    request: Request,
    layout: Layout,
    numbers: range,
    letters: Mapping[str, str],
    notation: Notation,
) -> Shown:
    source = request.source(layout.sheet)
    size = notation.size(source.length_ticks, source.width_ticks)
    title = f"{numbered(numbers, plan.noun)}: {source.name}, {size}"
    words = tuple(_plates(layout, letters, notation))
    drawn = sheet_drawing(
        Sheet(
            key=f"{plan.code}-{numbers[0]}",
            title=title,
            length_ticks=source.length_ticks,
            width_ticks=source.width_ticks,
            layout=layout,
            letters=letters,
            keep_ticks=(plan.keep_length_ticks, plan.keep_width_ticks),
            trim_ticks=0 if source.is_piece else request.trim_ticks,
            notation=notation,
        ),
        words=words,
    )
    svg = mark_safe(drawn.svg())  # noqa: S308 - escaped by the drawing
    return Shown(f"{plan.code}-{numbers[0]}", title, len(numbers), svg, words)


def _plates(
    layout: Layout, letters: Mapping[str, str], notation: Notation
) -> Iterator[str]:
    for number, plate in enumerate(layout.plates, start=1):
        half = f"Half {number}, " if len(layout.plates) > 1 else ""
        for index, strip in enumerate(plate.strips, start=1):
            words = _strip(plate, strip, letters, notation)
            place = f"{half}strip {index}"
            yield f"{place[0].upper()}{place[1:]}, {notation.length(strip.width_ticks)}: {words}."


def _strip(
    plate: Plate, strip: Strip, letters: Mapping[str, str], notation: Notation
) -> str:
    """Say what a strip is crosscut to, longest first."""
    found = []
    for part, pieces in groupby(strip.pieces, key=attrgetter("part")):
        each = tuple(pieces)
        length = notation.bare(each[0].length_ticks)
        words = f"{len(each)} × {letters[part]} at {length}"
        found.append(words + _more(each[0], strip, notation))
    last = strip.pieces[-1]
    left = plate.length_ticks - last.at_ticks - last.length_ticks
    rest = f"; {notation.bare(left)} left" if left > 0 else ""
    tilt = (
        f", the strip ripped in two at {strip.bevel_deg:g}°" if strip.bevel_deg else ""
    )
    return f"{', '.join(found)}{rest}{tilt}"


def _more(piece: Piece, strip: Strip, notation: Notation) -> str:
    if piece.width_ticks < strip.width_ticks:
        return f" (third rip to {notation.bare(piece.width_ticks)})"
    if piece.bevel_deg and not strip.bevel_deg:
        return f" (then ripped in two at {piece.bevel_deg:g}°)"
    return ""


def _bars(
    plan: CutPlan, request: Request, found: BarPlan, notation: Notation
) -> Iterator[Shown]:
    letters = letters_of(request)
    lengths = {part.key: part.length_ticks for part in request.parts}
    first = 1
    for pattern in found.patterns:
        numbers = range(first, first + pattern.count)
        first += pattern.count
        source = request.source(pattern.bar)
        length = notation.length(source.length_ticks)
        title = f"{numbered(numbers, plan.noun)}: {source.name}, {length}"
        words = (_bar_words(pattern, lengths, letters, notation),)
        key = f"{plan.code}-{numbers[0]}"
        drawn = bar_drawing(
            CutBar(
                key=key,
                title=title,
                length_ticks=source.length_ticks,
                width_ticks=source.width_ticks,
                kerf_ticks=request.kerf_ticks,
                trim_ticks=request.trim_ticks,
                pattern=pattern,
                lengths=lengths,
                letters=letters,
                notation=notation,
            ),
            words=words,
        )
        svg = mark_safe(drawn.svg())  # noqa: S308 - escaped by the drawing
        yield Shown(key, title, len(numbers), svg, words)


def _bar_words(
    pattern: BarPattern,
    lengths: Mapping[str, int],
    letters: Mapping[str, str],
    notation: Notation,
) -> str:
    pieces = ", ".join(
        f"{each.count} × {letters[each.part]} at {notation.bare(lengths[each.part])}"
        for each in pattern.pieces
    )
    return f"{pieces}; {notation.bare(pattern.left_ticks)} left."
