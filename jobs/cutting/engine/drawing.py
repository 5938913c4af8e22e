"""Sheets and bars as they are cut, to scale (pure).

The first strip lies at the top, as on the list of the saw; its length runs to the right.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from jobs.cutting.engine.notation import Notation
from shared.drawing import (
    IMPERIAL_SCALES,
    METRIC_SCALES,
    Box,
    Drawing,
    Label,
    Point,
    Scale,
    Side,
    View,
    chain,
    dimension,
    name_inside,
)
from shared.drawing.markup import element, number
from shared.drawing.pens import CENTRE, CUT, FINE, HATCH, HIDDEN, OUTLINE, WOOD_TINT
from shared.drawing.scale import PlainAxis
from shared.drawing.sheet import MARGIN_MM
from shared.drawing.text import SMALL_MM
from shared.length import UnitSystem
from shared.nesting import BarPattern, Layout, Offcut, Piece, Plate, Strip

PAPER_MM = (178.0, 118.0)
"""Two abreast on a page of A4 or Letter."""

LARGEST_SCALE = 5
AROUND_MM = 7.0
"""What dimensions take of the paper at the least."""

HATCH_MM = 2.0
BAR_MM = 7.0


@dataclass(frozen=True, slots=True)
class Sheet:
    """One kind of sheet as it is cut, with how its parts are called."""

    key: str
    title: str
    length_ticks: int
    width_ticks: int
    layout: Layout
    letters: Mapping[str, str]
    keep_ticks: tuple[int, int]
    trim_ticks: int
    notation: Notation


def sheet_drawing(sheet: Sheet, *, words: Sequence[str]) -> Drawing:
    """Return one sheet with strips, pieces, offcuts and dimensions, as large as fits."""
    head = sheet.key, sheet.title, " ".join(words)
    scales = _scales(sheet.notation, sheet.length_ticks, sheet.width_ticks)
    return _fitted(lambda scale: _sheet_view(sheet, scale), head, scales)


def _fitted(
    view_at: Callable[[Scale], View],
    head: tuple[str, str, str],
    scales: Sequence[Scale],
) -> Drawing:
    """Draw at the largest scale that fits; head is key, title and description."""
    key, title, description = head
    for scale in scales:
        drawing = Drawing(*PAPER_MM, key=key, title=title, description=description)
        drawing.add(view_at(scale), MARGIN_MM, MARGIN_MM)
        if drawing.fits():
            break
    drawing.trim()
    return drawing


def _scales(
    notation: Notation, length_ticks: int, width_ticks: int = 0
) -> tuple[Scale, ...]:
    """Return the scales at which the thing itself goes on the paper; the smallest always."""
    metric = notation.units is UnitSystem.METRIC
    known = METRIC_SCALES if metric else IMPERIAL_SCALES
    scales = [Scale(scale) for scale in known if scale >= LARGEST_SCALE]
    across, down = (side - 2 * MARGIN_MM - AROUND_MM for side in PAPER_MM)
    return (
        *(
            scale
            for scale in scales[:-1]
            if scale.paper_mm(length_ticks) <= across
            and scale.paper_mm(width_ticks) <= down
        ),
        scales[-1],
    )


def _sheet_view(sheet: Sheet, scale: Scale) -> View:
    view = View(scale)
    view.rect((0, 0), (sheet.length_ticks, sheet.width_ticks), OUTLINE)
    for plate in sheet.layout.plates:
        if sheet.trim_ticks or len(sheet.layout.plates) > 1:
            low, high = _corners(sheet, plate)
            view.rect(low, high, HIDDEN)
    for offcut in sheet.layout.offcuts:
        _offcut(view, sheet, offcut)
    for plate in sheet.layout.plates:
        for strip in plate.strips:
            for piece in strip.pieces:
                _piece(view, sheet, plate, strip, piece)
    kept = sheet.layout.worth_keeping(*sheet.keep_ticks)
    for offcut in kept:
        _name_offcut(view, sheet, offcut)
    _strip_widths(view, sheet)
    dimension(
        view,
        Side.BELOW,
        0,
        sheet.length_ticks,
        sheet.notation.length(sheet.length_ticks),
    )
    dimension(
        view, Side.RIGHT, 0, sheet.width_ticks, sheet.notation.length(sheet.width_ticks)
    )
    return view


Corners = tuple[tuple[int, int], tuple[int, int]]


def _corners(sheet: Sheet, each: Plate | Offcut) -> Corners:
    """Return two opposite corners in the view, whose y axis points up."""
    top = sheet.width_ticks - each.y_ticks
    low = each.x_ticks, top - each.width_ticks
    return low, (each.x_ticks + each.length_ticks, top)


def _round(box: Box) -> list[Point]:
    return [
        Point(box.left, box.top),
        Point(box.right, box.top),
        Point(box.right, box.bottom),
        Point(box.left, box.bottom),
    ]


def _hatch(view: View, box: Box) -> None:
    """Slant lines through a box, as one path: a plan has many offcuts."""
    if min(box.width, box.height) < HATCH_MM / 2:
        return
    first = int((box.left + box.top) // HATCH_MM) + 1
    last = int((box.right + box.bottom) // HATCH_MM)
    course = ""
    for place in range(first, last + 1):
        total = place * HATCH_MM
        right = min(box.right, total - box.top)
        left = max(box.left, total - box.bottom)
        ends = ((right, total - right), (left, total - left))
        start, end = (f"{number(x)} {number(y)}" for x, y in ends)
        course += f"M{start} L{end}"
    if course:
        view.draw(element("path", {"d": course, **HATCH.attributes()}), box)


def _offcut(view: View, sheet: Sheet, offcut: Offcut) -> None:
    box = view.rect(*_corners(sheet, offcut), FINE)
    _hatch(view, box)


def _name_offcut(view: View, sheet: Sheet, offcut: Offcut) -> None:
    """Write the size of an offcut worth keeping, on a patch, where it has room."""
    box = view.box(*_corners(sheet, offcut))
    view.shape(_round(box), CUT)
    size = sheet.notation.size(offcut.length_ticks, offcut.width_ticks)
    for text in (f"keep {size}", size, "keep"):
        for turned in (False, True):
            label = Label(text, box.centre, SMALL_MM, turned=turned)
            if box.contains(label.patch.grown(0.3)) and view.takes_words(label.box):
                view.write(label)
                return


def _piece(view: View, sheet: Sheet, plate: Plate, strip: Strip, piece: Piece) -> None:
    x = plate.x_ticks + piece.at_ticks
    y = plate.y_ticks + strip.at_ticks
    lying = Offcut(x, y, piece.length_ticks, piece.width_ticks)
    low, high = _corners(sheet, lying)
    box = view.rect(low, high, FINE.filled(WOOD_TINT))
    letter = sheet.letters[piece.part]
    length = sheet.notation.bare(piece.length_ticks)
    if piece.bevel_deg:
        middle = (low[1] + high[1]) // 2
        view.line((low[0], middle), (high[0], middle), CENTRE)
    if piece.width_ticks < strip.width_ticks:
        view.line(low, (high[0], low[1]), CUT)
    words = [f"{letter} {length}", letter]
    if piece.bevel_deg:
        words.insert(0, f"{letter} {length}, {piece.bevel_deg:g}°")
    if piece.width_ticks < strip.width_ticks:
        words.insert(0, f"{letter} {length}, third rip")
    _inside(view, box, words, patch=bool(piece.bevel_deg))


def _inside(view: View, box: Box, words: Sequence[str], *, patch: bool = False) -> None:
    """Write the longest of some words that fits, smaller where it has to be.

    With a patch, so that a line through the middle stops short of the words.
    """
    for text in words if not patch else ():
        if name_inside(view, box, text):
            return
    for text in words:
        label = Label(text, box.centre, min(SMALL_MM, box.height - 0.4))
        fits = label.size_mm > 1.2 and box.contains(label.box)
        if fits and view.takes_words(label.box):
            view.write(label, patch=patch)
            return


def _strip_widths(view: View, sheet: Sheet) -> None:
    """Draw the widths of the strips at the left; of the right-hand half at the right."""
    across = {plate.x_ticks for plate in sheet.layout.plates}
    for x, side in zip(sorted(across), (Side.LEFT, Side.RIGHT), strict=False):
        plates = [plate for plate in sheet.layout.plates if plate.x_ticks == x]
        edges: list[tuple[int, int, str]] = []
        for plate in plates:
            for strip in plate.strips:
                top = sheet.width_ticks - plate.y_ticks - strip.at_ticks
                text = sheet.notation.bare(strip.width_ticks)
                edges.append((top - strip.width_ticks, top, text))
        if edges:
            _chain(view, side, sorted(edges))


def _chain(view: View, side: Side, edges: Sequence[tuple[int, int, str]]) -> None:
    """Draw running dimensions; what the saw takes between two strips has no words."""
    stops, texts = [edges[0][0]], []
    for low, high, text in edges:
        if low > stops[-1]:
            stops.append(low)
            texts.append("")
        stops.append(high)
        texts.append(text)
    chain(view, side, stops, texts)


@dataclass(frozen=True, slots=True)
class CutBar:
    """Bars that are cut alike."""

    key: str
    title: str
    length_ticks: int
    width_ticks: int
    kerf_ticks: int
    trim_ticks: int
    pattern: BarPattern
    lengths: Mapping[str, int]
    letters: Mapping[str, str]
    notation: Notation


def bar_drawing(bar: CutBar, *, words: Sequence[str]) -> Drawing:
    """Return one bar, its length to scale, its width as wide as words need."""
    head = bar.key, bar.title, " ".join(words)
    scales = _scales(bar.notation, bar.length_ticks)
    return _fitted(lambda scale: _bar_view(bar, scale), head, scales)


def _bar_view(bar: CutBar, scale: Scale) -> View:
    up = Scale(max(1, round(bar.width_ticks / (320 * BAR_MM))))
    view = View(scale, y_axis=PlainAxis(up))
    view.rect((0, 0), (bar.length_ticks, bar.width_ticks), OUTLINE)
    at, stops, texts = bar.trim_ticks, [bar.trim_ticks], []
    for pieces in bar.pattern.pieces:
        length = bar.lengths[pieces.part]
        for _ in range(pieces.count):
            if at > stops[-1]:
                stops.append(at)
                texts.append("")
            box = view.rect(
                (at, 0), (at + length, bar.width_ticks), FINE.filled(WOOD_TINT)
            )
            _inside(view, box, (bar.letters[pieces.part],))
            stops.append(at + length)
            texts.append(bar.notation.bare(length))
            at += length + bar.kerf_ticks
    left = bar.pattern.left_ticks
    if left > 0:
        rest = Offcut(at, 0, left, bar.width_ticks)
        box = view.rect((at, 0), (at + rest.length_ticks, bar.width_ticks), FINE)
        _hatch(view, box)
    chain(view, Side.BELOW, stops, texts)
    whole = bar.notation.length(bar.length_ticks)
    dimension(view, Side.BELOW, 0, bar.length_ticks, whole)
    return view
