"""Dimension lines that find a free lane outside the thing they measure.

Every dimension moves outwards until neither its line nor its words touch words or lines
already there. Outwards there is always room, so the search ends and nothing collides.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import count, pairwise

from shared.drawing.geometry import Box, Point
from shared.drawing.pens import DIMENSION, SOLID
from shared.drawing.text import LABEL_MM, Label, text_width_mm
from shared.drawing.view import View

FIRST_LANE_MM = 4.6
LANE_MM = 4.4
_EXTENSION_GAP_MM = 0.8
_EXTENSION_OVER_MM = 1.1
_ARROW_LONG_MM = 2.0
_ARROW_HALF_MM = 0.45
_TICK_MM = 0.9
_TAIL_MM = 3.2
_WORD_GAP_MM = 0.8
_ROW_GAP_MM = 0.9
# A staggered word looks this many places out for a leader that crosses nothing.
_TIDY_ROWS = 9


class Side(Enum):
    """Which side of the view a dimension stands on."""

    ABOVE = "above"
    BELOW = "below"
    LEFT = "left"
    RIGHT = "right"

    @property
    def upright(self) -> bool:
        """Say whether the dimension runs up the page."""
        return self in (Side.LEFT, Side.RIGHT)


@dataclass(frozen=True, slots=True)
class _Edge:
    """Paper coordinates along a side (u) and outwards from the body (v)."""

    side: Side
    base: float

    def point(self, u: float, v: float) -> Point:
        out = self.base + (v if self.side in (Side.BELOW, Side.RIGHT) else -v)
        return Point(out, u) if self.side.upright else Point(u, out)

    def box(self, u0: float, u1: float, v0: float, v1: float) -> Box:
        a, b = self.point(u0, v0), self.point(u1, v1)
        return Box(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y))

    def label(self, text: str, u: float, v: float) -> Label:
        return Label(text, self.point(u, v), turned=self.side.upright)


def _edge(view: View, side: Side) -> _Edge:
    body = view.body
    return _Edge(
        side,
        {
            Side.ABOVE: body.top,
            Side.BELOW: body.bottom,
            Side.LEFT: body.left,
            Side.RIGHT: body.right,
        }[side],
    )


def _along(view: View, side: Side, ticks: int) -> float:
    point = view.at((0, ticks) if side.upright else (ticks, 0))
    return point.y if side.upright else point.x


def dimension(
    view: View, side: Side, start_ticks: int, end_ticks: int, text: str
) -> Label:
    """Draw one dimension with arrows, from one real coordinate to another.

    The words sit in a gap of the line when they fit there, otherwise past one end of it.
    Returns the words where they were placed.
    """
    edge = _edge(view, side)
    u0, u1 = sorted(_along(view, side, t) for t in (start_ticks, end_ticks))
    room = text_width_mm(text, LABEL_MM) + 2 * _WORD_GAP_MM
    inside = u1 - u0 >= room + 2 * _ARROW_LONG_MM
    for lane in count():
        v = FIRST_LANE_MM + lane * LANE_MM
        for u in [(u0 + u1) / 2] if inside else _past_the_ends(u0, u1, room):
            label = edge.label(text, u, v)
            line = _line_box(edge, u0, u1, v, inside=inside)
            if view.takes_words(label.box) and view.is_free(line):
                _draw_dimension(view, edge, (u0, u1), label, v)
                return label
    raise AssertionError("unreachable: lanes never run out")


def _past_the_ends(u0: float, u1: float, room: float) -> list[float]:
    return [u1 + _TAIL_MM + room / 2, u0 - _TAIL_MM - room / 2]


def _line_box(edge: _Edge, u0: float, u1: float, v: float, *, inside: bool) -> Box:
    tail = 0 if inside else _TAIL_MM
    return edge.box(u0 - tail, u1 + tail, v - _ARROW_HALF_MM, v + _ARROW_HALF_MM)


def _draw_dimension(
    view: View, edge: _Edge, ends: tuple[float, float], label: Label, v: float
) -> None:
    u0, u1 = ends
    _extensions(view, edge, ends, v)
    middle = label.centre.y if edge.side.upright else label.centre.x
    half = label.width_mm / 2 + _WORD_GAP_MM
    if u0 < middle < u1:
        for a, b in ((u0, middle - half), (middle + half, u1)):
            view.annotate([edge.point(a, v), edge.point(b, v)], DIMENSION)
        _arrow(view, edge, u0, v, 1)
        _arrow(view, edge, u1, v, -1)
    else:
        a, b = u0 - _TAIL_MM, u1 + _TAIL_MM
        view.annotate([edge.point(a, v), edge.point(b, v)], DIMENSION)
        _arrow(view, edge, u0, v, -1)
        _arrow(view, edge, u1, v, 1)
        view.take(_line_box(edge, u0, u1, v, inside=False))
    view.take(_line_box(edge, u0, u1, v, inside=True))
    view.write(label)


def _extensions(view: View, edge: _Edge, us: Sequence[float], v: float) -> None:
    for u in us:
        ends = [edge.point(u, _EXTENSION_GAP_MM), edge.point(u, v + _EXTENSION_OVER_MM)]
        view.annotate(ends, DIMENSION)


def _arrow(view: View, edge: _Edge, u: float, v: float, towards: int) -> None:
    """Fill an arrow head with its tip at ``u`` and its body ``towards`` +u or -u."""
    back = u + towards * _ARROW_LONG_MM
    corners = [(u, v), (back, v - _ARROW_HALF_MM), (back, v + _ARROW_HALF_MM)]
    view.annotate([edge.point(*c) for c in corners], SOLID, closed=True)


# -- running dimensions -------------------------------------------------------------


def chain(
    view: View, side: Side, stops_ticks: Sequence[int], texts: Sequence[str]
) -> None:
    """Draw running dimensions: one line with a tick at each stop, one text a gap.

    A word that does not fit its gap stands further out on a leader. An empty text leaves
    its gap without words.

    Parameters
    ----------
    stops_ticks : sequence of int
        At least two real coordinates, rising.
    texts : sequence of str
        One fewer than the stops.
    """
    if len(stops_ticks) != len(texts) + 1 or list(stops_ticks) != sorted(stops_ticks):
        raise ValueError("a chain needs rising stops and one text for each gap")
    edge = _edge(view, side)
    us = [_along(view, side, t) for t in stops_ticks]
    gaps = [(min(g), max(g), t) for g, t in zip(pairwise(us), texts, strict=True) if t]
    v = _chain_lane(view, edge, us, gaps)
    _extensions(view, edge, us, v)
    view.annotate([edge.point(us[0], v), edge.point(us[-1], v)], DIMENSION)
    for u in us:
        _tick(view, edge, u, v)
    view.take(edge.box(us[0], us[-1], v - _TICK_MM, v + _TICK_MM))
    for u0, u1, text in gaps:
        if _fits(u0, u1, text):
            view.write(edge.label(text, (u0 + u1) / 2, v))
    for u0, u1, text in gaps:
        if not _fits(u0, u1, text):
            _stagger(view, edge, ((u0 + u1) / 2, v), text)


def _fits(u0: float, u1: float, text: str) -> bool:
    return u1 - u0 >= text_width_mm(text, LABEL_MM) + 2 * _WORD_GAP_MM + _TICK_MM


def _chain_lane(
    view: View,
    edge: _Edge,
    us: Sequence[float],
    gaps: Sequence[tuple[float, float, str]],
) -> float:
    for lane in count():
        v = FIRST_LANE_MM + lane * LANE_MM
        words = [
            edge.label(text, (u0 + u1) / 2, v).box
            for u0, u1, text in gaps
            if _fits(u0, u1, text)
        ]
        line = edge.box(min(us), max(us), v - _TICK_MM, v + _TICK_MM)
        if view.is_free(line) and all(view.takes_words(box) for box in words):
            return v
    raise AssertionError("unreachable: lanes never run out")


def _tick(view: View, edge: _Edge, u: float, v: float) -> None:
    a, b = edge.point(u, v), edge.point(u, v)
    half = _TICK_MM
    view.annotate([a.moved(-half, half), b.moved(half, -half)], DIMENSION)


def _stagger(view: View, edge: _Edge, foot: tuple[float, float], text: str) -> None:
    """Place a word outside the line, level, as near to its gap as is free."""
    start = edge.point(*foot)
    for tidy in (True, False):
        for label, tip in _outside(edge, foot, text, rows=_TIDY_ROWS if tidy else None):
            # A leader may pass behind other words only where nothing else is left.
            clear = not tidy or not _crosses_words(view, (start, tip))
            if clear and view.takes_words(label.box):
                view.lead((start, tip), DIMENSION)
                view.write(label)
                return


def _outside(
    edge: _Edge, foot: tuple[float, float], text: str, *, rows: int | None
) -> Iterator[tuple[Label, Point]]:
    """Yield places for a word further out, nearest first, with its leader's end."""
    u, v = foot
    width = text_width_mm(text, LABEL_MM)
    along, out = (LABEL_MM, width) if edge.side.upright else (width, LABEL_MM)
    step, pitch = (along + _WORD_GAP_MM) / 2, out + _ROW_GAP_MM
    places = (
        (row, shift)
        for reach in count()
        for row in range(1, reach + 2)
        for shift in sorted({reach - row + 1, row - reach - 1})
    )
    first = v + _TICK_MM + _ROW_GAP_MM + out / 2
    for row, shift in places:
        if rows is not None and row + abs(shift) > rows:
            return
        at = (u + shift * step, first + (row - 1) * pitch)
        tip = edge.point(at[0], at[1] - out / 2)
        yield Label(text, edge.point(*at)), tip


def _crosses_words(view: View, leader: tuple[Point, Point]) -> bool:
    return any(label.box.meets(*leader) for label in view.labels())
