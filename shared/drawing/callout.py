"""Names beside a view on leaders, words inside a shape, titles and scale bars."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shared.drawing.dimension import Side
from shared.drawing.geometry import Box, Point
from shared.drawing.pens import DIMENSION, FINE, INK, PAPER, SOLID
from shared.drawing.text import LABEL_MM, SMALL_MM, TITLE_MM, Label, text_width_mm
from shared.drawing.view import Spot, View

_COLUMN_GAP_MM = 3.0
_ELBOW_MM = 1.6
_ROW_MM = LABEL_MM + 1.1
_DOT_MM = 0.45
_TITLE_GAP_MM = 2.4


@dataclass(frozen=True, slots=True)
class Callout:
    """A name for the thing at a real spot."""

    target: Spot
    text: str


def callouts(view: View, side: Side, found: Sequence[Callout]) -> None:
    """Write names in one column beside the view, each on a leader to its target.

    The column stands outside everything drawn so far; the names keep the order of their
    targets, so leaders do not cross.
    """
    if side.upright is False:
        raise ValueError("callouts stand left or right of a view")
    if not found:
        return
    sign = 1 if side is Side.RIGHT else -1
    extent = view.extent
    elbow = (extent.right if sign > 0 else extent.left) + sign * _COLUMN_GAP_MM
    targets = sorted(((view.at(c.target), c.text) for c in found), key=_by_height)
    rows = _spread([point.y for point, _ in targets], _ROW_MM)
    for (point, text), y in zip(targets, rows, strict=True):
        half = text_width_mm(text, LABEL_MM) / 2
        label = Label(text, Point(elbow + sign * (_ELBOW_MM + 0.8 + half), y))
        ends = [point, Point(elbow, y), Point(elbow + sign * _ELBOW_MM, y)]
        view.lead(ends, DIMENSION)
        _dot(view, point)
        view.write(label)


def _by_height(target: tuple[Point, str]) -> tuple[float, float, str]:
    point, text = target
    return point.y, point.x, text


def _dot(view: View, at: Point) -> None:
    r = _DOT_MM
    corners = [at.moved(-r, 0), at.moved(0, -r), at.moved(r, 0), at.moved(0, r)]
    view.annotate(corners, SOLID, closed=True)


def _spread(wanted: Sequence[float], pitch: float) -> list[float]:
    """Return rows at least a pitch apart, in order, as near as can be to those wanted.

    Rows that crowd are merged into a block about the mean of their wishes.
    """
    blocks: list[list[float]] = []  # wishes of each block, each already less its rank

    def top(block: list[float]) -> float:
        return sum(block) / len(block)

    ranked = [y - i * pitch for i, y in enumerate(wanted)]
    for wish in ranked:
        blocks.append([wish])
        while len(blocks) > 1 and top(blocks[-2]) >= top(blocks[-1]):
            last = blocks.pop()
            blocks[-1] += last
    tops = [top(block) for block in blocks for _ in block]
    return [y + i * pitch for i, y in enumerate(tops)]


def name_inside(view: View, box: Box, text: str) -> bool:
    """Write words in the middle of a shape if they fit and the place is free.

    Tries level first, then turned. Returns whether they were written.
    """
    for turned in (False, True):
        label = Label(text, box.centre, turned=turned)
        if box.contains(label.box.grown(0.4)) and view.takes_words(label.box):
            view.write(label, patch=False)
            return True
    return False


def title(view: View, text: str, note: str = "") -> None:
    """Write the name of the view under all that is drawn so far, its note beneath."""
    centre = view.body.centre.x
    lines = [(text, TITLE_MM, True)] + ([(note, SMALL_MM, False)] if note else [])
    for words, size, bold in lines:
        y = view.extent.bottom + _TITLE_GAP_MM / (1 if bold else 4) + size / 2
        view.write(Label(words, Point(centre, y), size, bold=bold), patch=False)


def scale_bar(view: View, step_ticks: int, steps: int, text: str) -> None:
    """Draw a bar of equal steps, dark and light, under all that is drawn so far.

    ``text`` names the whole length, e.g. "500 mm".
    """
    left = view.body.left
    top = view.extent.bottom + _TITLE_GAP_MM
    step = view.scale.paper_mm(step_ticks)
    for i in range(steps):
        pen = FINE.filled(PAPER if i % 2 else INK)
        x0, x1 = left + i * step, left + (i + 1) * step
        corners = [Point(x0, top), Point(x1, top)]
        corners += [Point(x1, top + 1.2), Point(x0, top + 1.2)]
        view.annotate(corners, pen, closed=True)
    end = left + steps * step
    half = text_width_mm(text, SMALL_MM) / 2
    label = Label(text, Point(end + 1.2 + half, top + 0.6), SMALL_MM)
    view.take(Box(left, top, end, top + 1.2))
    view.write(label, patch=False)
