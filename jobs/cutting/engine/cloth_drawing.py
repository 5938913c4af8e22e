"""A roll in segments, to scale: what is cut where, which way it runs (pure).

The roll unwinds downwards, its left edge at the left, so that a segment is narrow enough
for a telephone and three stand abreast on paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
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
)
from shared.drawing.pens import CUT, FINE, HIDDEN, OUTLINE, SOLID, WOOD_TINT
from shared.drawing.sheet import MARGIN_MM
from shared.drawing.text import SMALL_MM
from shared.length import UnitSystem
from shared.nesting.rolls import Placed, RollUse, Row, Way

PAPER_MM = (86.0, 170.0)
"""Two abreast on a page of A4 or Letter, one on a telephone."""

AROUND_MM = 20.0
"""What dimensions and the arrow take of the paper at the most."""

LONGEST_MM = 120.0
"""How much of a roll a segment shows, on paper."""

LEAST_MM = 1.4
"""No word is written smaller."""


@dataclass(frozen=True, slots=True)
class Segment:
    """Some rows of one roll that stand together on a drawing."""

    key: str
    title: str
    roll: RollUse
    rows: tuple[Row, ...]
    names: Mapping[tuple[str, int], str]
    directional: bool
    notation: Notation

    @property
    def start_ticks(self) -> int:
        """Where it begins on the roll."""
        return self.rows[0].at_ticks

    @property
    def end_ticks(self) -> int:
        """Where it ends on the roll."""
        return self.rows[-1].at_ticks + self.rows[-1].along_ticks


def segments_of(rows: Sequence[Row], longest_ticks: int) -> Iterator[tuple[Row, ...]]:
    """Part rows into runs of at most a length; a row that is longer is a run of its own."""
    run: list[Row] = []
    for row in rows:
        if run and row.at_ticks + row.along_ticks - run[0].at_ticks > longest_ticks:
            yield tuple(run)
            run = []
        run.append(row)
    if run:
        yield tuple(run)


def scale_of(roll: RollUse, notation: Notation) -> Scale:
    """Return the largest scale at which the roll's width, and each row, goes on the paper."""
    metric = notation.units is UnitSystem.METRIC
    scales = [Scale(each) for each in (METRIC_SCALES if metric else IMPERIAL_SCALES)]
    longest = max((row.along_ticks for row in roll.rows), default=0)
    wide = PAPER_MM[0] - 2 * MARGIN_MM - AROUND_MM
    for scale in scales:
        if (
            scale.paper_mm(roll.usable_ticks) <= wide
            and scale.paper_mm(longest) <= LONGEST_MM
        ):
            return scale
    return scales[-1]


def segment_drawing(segment: Segment, scale: Scale, *, words: str) -> Drawing:
    """Return a segment with its pieces, what is left over, and dimensions."""
    drawing = Drawing(
        *PAPER_MM, key=segment.key, title=segment.title, description=words
    )
    drawing.add(_view(segment, scale), MARGIN_MM, MARGIN_MM)
    drawing.trim()
    return drawing


def _view(segment: Segment, scale: Scale) -> View:
    view, wide = View(scale), segment.roll.usable_ticks
    top = segment.start_ticks
    for row in segment.rows:
        for piece in row.pieces:
            _piece(view, segment, piece)
        for cut in row.cuts:
            if cut.way is Way.ALONG and cut.depth == 2:
                view.line(
                    (cut.at_ticks, top - cut.from_ticks),
                    (cut.at_ticks, top - cut.to_ticks),
                    OUTLINE,
                )
    view.rect((0, 0), (wide, top - segment.end_ticks), OUTLINE)
    stops = [top - row.at_ticks for row in segment.rows] + [top - segment.end_ticks]
    for stop in stops[1:]:
        view.line((0, stop), (wide, stop), CUT)
    lengths = [segment.notation.bare(row.along_ticks) for row in segment.rows]
    chain(view, Side.LEFT, stops[::-1], lengths[::-1])
    dimension(view, Side.ABOVE, 0, wide, segment.notation.length(wide))
    if segment.directional:
        _arrow(view)
    return view


def _piece(view: View, segment: Segment, piece: Placed) -> None:
    top = segment.start_ticks
    low = piece.x_ticks, top - piece.y_ticks - piece.along_ticks
    high = piece.x_ticks + piece.across_ticks, top - piece.y_ticks
    pen = HIDDEN if piece.for_repairs else FINE.filled(WOOD_TINT)
    box = view.rect(low, high, pen)
    name = segment.names[piece.part, piece.copy]
    drop = f", drop {piece.drop + 1}" if piece.drop else ""
    size = segment.notation.size(piece.across_ticks, piece.along_ticks)
    code, *rest = name.split(" ", 1)
    more = f"{' '.join(rest)}{drop}{', turned' if piece.turned else ''}"
    _words(view, box, [(code, more, size), (code, more), (code, size), (code,)])


def _words(view: View, box: Box, choices: Sequence[tuple[str, ...]]) -> None:
    """Write the most lines that fit, level or turned, smaller where it has to be."""
    for size in (SMALL_MM, 2.0, 1.7, LEAST_MM):
        for lines in choices:
            for turned in (False, True):
                labels = _stacked(box, [line for line in lines if line], size, turned)
                if all(box.contains(x.box.grown(0.8)) for x in labels) and all(
                    view.takes_words(x.box) for x in labels
                ):
                    for label in labels:
                        view.write(label, patch=False)
                    return


def _stacked(
    box: Box,
    lines: Sequence[str],
    size: float,
    turned: bool,  # noqa: FBT001
) -> list[Label]:
    pitch = size * 1.6
    first = -(len(lines) - 1) * pitch / 2
    return [
        Label(
            text,
            box.centre.moved(first + i * pitch, 0)
            if turned
            else box.centre.moved(0, first + i * pitch),
            size,
            turned=turned,
        )
        for i, text in enumerate(lines)
    ]


def _arrow(view: View) -> None:
    """Draw the way the nap runs at the right: up the roll, towards its beginning."""
    body = view.body
    x, foot, head = body.right + 4, body.bottom - 2, body.top + 2
    foot = min(foot, head + 24)
    view.annotate([Point(x, foot), Point(x, head)], OUTLINE)
    view.annotate(
        [Point(x - 1.2, head + 3), Point(x, head), Point(x + 1.2, head + 3)],
        SOLID,
        closed=True,
    )
    label = Label("nap", Point(x + 2.6, (foot + head) / 2), SMALL_MM, turned=True)
    view.take(Box(x - 1.2, head, x + 1.2, foot))
    if view.takes_words(label.box):
        view.write(label, patch=False)
