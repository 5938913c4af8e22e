"""Hatches: what a cut face is made of, drawn so that it reads without colour."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil

from shared.drawing.geometry import Box, Point, box_around
from shared.drawing.markup import element, number
from shared.drawing.pens import HATCH, Pen
from shared.drawing.view import View

# Lines closer than this fill in when printed.
_LEAST_PITCH_MM = 0.45
_END_GRAIN_PITCH_MM = 1.3
_WALL_PITCH_MM = 2.2
_WOOL_WAVE_MM = 4.5
_WOOL_COLUMN_MM = 12.0
_WOOL_PEN = Pen(0.2, HATCH.stroke)


def ply_edge(view: View, box: Box, *, plies: int = 7) -> None:
    """Draw the glue lines of plywood seen on its edge, along the longer way of the box.

    Where they would run together fewer are drawn, down to none.
    """
    flat = box.width >= box.height
    thickness = box.height if flat else box.width
    while plies > 1 and thickness / plies < _LEAST_PITCH_MM:
        plies -= 2
    for i in range(1, plies):
        at = i * thickness / plies
        ends = (
            [Point(box.left, box.top + at), Point(box.right, box.top + at)]
            if flat
            else [Point(box.left + at, box.top), Point(box.left + at, box.bottom)]
        )
        view.shape(ends, HATCH, closed=False)


def end_grain(view: View, corners: Sequence[Point]) -> None:
    """Hatch a cut face of solid wood: slanting lines inside a convex outline."""
    _slanting(view, corners, _END_GRAIN_PITCH_MM)


def masonry(view: View, box: Box) -> None:
    """Hatch a wall or ceiling that carries on beyond the drawing."""
    corners = [
        Point(box.left, box.top),
        Point(box.right, box.top),
        Point(box.right, box.bottom),
        Point(box.left, box.bottom),
    ]
    masonry_within(view, corners)


def masonry_within(view: View, corners: Sequence[Point]) -> None:
    """Hatch a wall that lies as it likes on the paper, inside a convex outline."""
    _slanting(view, corners, _WALL_PITCH_MM)


def wool(view: View, box: Box) -> None:
    """Draw the waves of a soft fill, side by side along the longer way of the box."""
    if min(box.width, box.height) < _LEAST_PITCH_MM:
        return
    upright = box.height >= box.width
    low, high = (box.left, box.right) if upright else (box.top, box.bottom)
    start, end = (box.top, box.bottom) if upright else (box.left, box.right)
    columns = ceil((high - low) / _WOOL_COLUMN_MM)
    each = (high - low) / columns
    swings = max(2, ceil((end - start) / min(_WOOL_WAVE_MM, max(each, 1.2)) * 2))
    step = (end - start) / swings
    inset = min(0.5, each / 8)
    for column in range(columns):
        left, right = low + column * each + inset, low + (column + 1) * each - inset
        spots = [
            (left if i % 2 else right, start + i * step) for i in range(swings + 1)
        ]
        course = {"d": _wave(spots, step, upright=upright)}
        view.draw(element("path", {**course, **_WOOL_PEN.attributes()}), box)


def _wave(spots: Sequence[tuple[float, float]], step: float, *, upright: bool) -> str:
    """Join (across, along) spots by curves that leave and arrive square to the sides."""

    def pair(across: float, along: float) -> str:
        x, y = (across, along) if upright else (along, across)
        return f"{number(x)} {number(y)}"

    course = "M" + pair(*spots[0])
    for (a0, l0), (a1, l1) in pairwise(spots):
        swell = step * 0.55
        course += f" C{pair(a0, l0 + swell)} {pair(a1, l1 - swell)} {pair(a1, l1)}"
    return course


def _slanting(view: View, corners: Sequence[Point], pitch_mm: float) -> None:
    box = box_around(corners)
    # Lines x + y = constant; steps of a constant keep the pitch square to the line.
    pitch = pitch_mm * 2**0.5
    first = ceil((box.left + box.top) / pitch)
    last = int((box.right + box.bottom) // pitch)
    for i in range(first, last + 1):
        ends = _clipped(corners, i * pitch)
        if ends:
            view.shape(ends, HATCH, closed=False)


def _clipped(corners: Sequence[Point], constant: float) -> list[Point]:
    """Return where the line x + y = constant enters and leaves a convex outline."""
    found: list[Point] = []
    for a, b in zip(corners, [*corners[1:], corners[0]], strict=True):
        fa, fb = a.x + a.y - constant, b.x + b.y - constant
        if (fa < 0) != (fb < 0):
            share = fa / (fa - fb)
            found.append(Point(a.x + (b.x - a.x) * share, a.y + (b.y - a.y) * share))
    return found if len(found) == 2 else []
