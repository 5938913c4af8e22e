"""Arranging a panel's views on one sheet, at the largest standard scales that fit."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from math import log
from typing import TypeAlias

from quotes.specs.engine.drawing.corner import corner_view
from quotes.specs.engine.drawing.cut import cut_position
from quotes.specs.engine.drawing.faces import back_view, front_view
from quotes.specs.engine.drawing.paper import Panel, Paper
from quotes.specs.engine.drawing.section import section_view
from quotes.specs.engine.words import PanelKind
from shared.drawing import Drawing, Scale, View
from shared.drawing.sheet import MARGIN_MM

Views: TypeAlias = tuple[View, View, View]
Arrange: TypeAlias = Callable[[Drawing, Views], None]

_BETWEEN_MM = 4.0
# Larger than half size shows nothing more.
_LARGEST_SCALE = 2
# A finer section is worth less than a finer face once the face can be read.
_SECTION_WEIGHT = 0.7
_SMALL_FACE = 30


def compose(panel: Panel, paper: Paper) -> Drawing:
    """Return front, back and section on one sheet, cut down to its content's height.

    Where nothing fits, the smallest scales are used and the sheet grows.
    """
    corner = panel.takeoff.kind is PanelKind.CORNER
    cut_x = None if corner else cut_position(panel)

    @cache
    def faces(denominator: int) -> tuple[View, View]:
        scale = Scale(denominator)
        return front_view(panel, paper, scale, cut_x), back_view(panel, paper, scale)

    @cache
    def section(denominator: int) -> View:
        if cut_x is None:
            return corner_view(panel, paper, Scale(denominator))
        return section_view(panel, paper, Scale(denominator), cut_x)

    drawing = _sheet(panel, paper)
    for face, cut, arrange in _choices(panel, paper):
        drawing = _sheet(panel, paper)
        arrange(drawing, (*faces(face), section(cut)))
        if drawing.fits():
            break
    drawing.trim()
    return drawing


def _faces_in_a_row(drawing: Drawing, views: Views) -> tuple[float, float]:
    """Place front and back with their tops level; return their right and bottom."""
    rises = [view.body.top - view.extent.top for view in views[:2]]
    left, bottom = MARGIN_MM, 0.0
    for view, rise in zip(views[:2], rises, strict=True):
        placed = drawing.add(view, left, MARGIN_MM + max(rises) - rise)
        left, bottom = placed.right + _BETWEEN_MM, max(bottom, placed.bottom)
    return left, bottom


def _in_a_row(drawing: Drawing, views: Views) -> None:
    left, _ = _faces_in_a_row(drawing, views)
    drawing.add(views[2], left, MARGIN_MM)


def _faces_stacked(drawing: Drawing, views: Views) -> None:
    front, back, section = views
    first = drawing.add(front, MARGIN_MM, MARGIN_MM)
    below = drawing.add(back, MARGIN_MM, first.bottom + _BETWEEN_MM)
    drawing.add(section, max(first.right, below.right) + _BETWEEN_MM, MARGIN_MM)


def _section_below(drawing: Drawing, views: Views) -> None:
    _, bottom = _faces_in_a_row(drawing, views)
    drawing.add(views[2], MARGIN_MM, bottom + _BETWEEN_MM)


def _choices(panel: Panel, paper: Paper) -> Iterator[tuple[int, int, Arrange]]:
    """Yield (face scale, section scale, arrangement), the best to read first."""
    scales = [s for s in paper.scales if s >= _LARGEST_SCALE]
    found = [
        (_hard_to_read(face, cut), face, cut)
        for face in scales
        for cut in scales
        if cut <= face and _may_fit(panel, paper, face, cut)
    ]
    for _, face, cut in sorted(found) or [(0, scales[-1], scales[-1])]:
        for arrange in (_in_a_row, _faces_stacked, _section_below):
            yield face, cut, arrange


def _hard_to_read(face: int, cut: int) -> float:
    """Weigh the two scales; faces smaller than 1:30 count twice."""
    small = max(0.0, log(face / _SMALL_FACE))
    return log(face) + small + _SECTION_WEIGHT * log(cut)


def _may_fit(panel: Panel, paper: Paper, face: int, cut: int) -> bool:
    """Rule out, before drawing anything, what is too large even without dimensions."""
    width, height = (
        Scale(face).paper_mm(ticks) for ticks in (panel.width, panel.height)
    )
    depth = Scale(cut).paper_mm(panel.depth)
    room = paper.width_mm - 2 * MARGIN_MM, paper.height_mm - 2 * MARGIN_MM
    abreast = 2 * width <= room[0] and height <= room[1]
    stacked = width <= room[0] and 2 * height <= room[1]
    return (abreast or stacked) and depth <= min(room)


def _sheet(panel: Panel, paper: Paper) -> Drawing:
    return Drawing(
        paper.width_mm,
        paper.height_mm,
        key=paper.key,
        title=paper.title,
        description=describe(panel, paper),
    )


def describe(panel: Panel, paper: Paper) -> str:
    """Say in words what the drawing shows, for those who can't see it."""
    takeoff = panel.takeoff
    depths = takeoff.depths
    finished = paper.size(takeoff.finished.width_ticks, takeoff.finished.height_ticks)
    frame = paper.size(panel.width, panel.height, panel.depth)
    layers = ", ".join(
        f"{name} {paper.size(ticks)}"
        for name, ticks in (
            ("air in front", depths.air_front_ticks),
            ("fill", depths.fill_ticks),
            ("air behind", depths.air_behind_ticks),
        )
        if ticks
    )
    points = len(takeoff.hang.points)
    held = f" Held at {points} points." if points else ""
    return (
        f"Front, back and section to scale. Finished {finished}; frame {frame} deep. "
        f"From front to back: {layers}.{held} {paper.unit_note}."
    )
