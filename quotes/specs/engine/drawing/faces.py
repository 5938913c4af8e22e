"""The front and the back of a panel, to scale and dimensioned."""

from __future__ import annotations

from itertools import pairwise

from quotes.specs.engine.drawing.paper import (
    Panel,
    Paper,
    rising,
    sentence,
    wall_cleat_rows,
)
from quotes.specs.engine.drawing.wood import seen
from quotes.specs.engine.result import Box, WallCleat, WoodPart
from quotes.specs.engine.words import Hanging, PartRole, Runs
from shared.drawing import Scale, Side, View, chain, dimension, name_inside, title
from shared.drawing.hatch import wool
from shared.drawing.pens import (
    CENTRE,
    CLOTH_TINT,
    CUT,
    FINE,
    HIDDEN,
    METAL_TINT,
    OUTLINE,
    WOOL_TINT,
    Pen,
)
from shared.drawing.text import Label

_POINT_MM = 0.9
_HOLE_MM = 0.5
_CUT_MARK_MM = 1.0
_FRAME_ROLES = frozenset({PartRole.RAIL, PartRole.STILE})


def front_view(panel: Panel, paper: Paper, scale: Scale, cut_x: int | None) -> View:
    """Draw the finished panel from the front; what the fabric hides is dashed.

    ``cut_x`` is where the section is cut, in ticks from the left; None marks none.
    """
    view = View(scale)
    finished = panel.takeoff.finished
    left = -(finished.width_ticks - panel.width) // 2
    bottom = -(finished.height_ticks - panel.height) // 2
    right, top = left + finished.width_ticks, bottom + finished.height_ticks
    view.rect((left, bottom), (right, top), CUT.filled(CLOTH_TINT))
    for part, place in panel.placed():
        if part.role is PartRole.FOOT:
            view.rect(*_corners(place), seen(view, part))
        else:
            view.rect(*_corners(place), HIDDEN)
    if cut_x is not None:
        _cut_mark(view, cut_x, (bottom, top))
    _hanging(view, panel)
    _front_dimensions(view, panel, paper, (left, bottom, right, top))
    title(view, "Front", f"finished size, {scale}")
    return view


def _corners(place: Box) -> tuple[tuple[int, int], tuple[int, int]]:
    low = (place.x_ticks, place.y_ticks)
    return low, (low[0] + place.width_ticks, low[1] + place.height_ticks)


def _cut_mark(view: View, cut_x: int, ends: tuple[int, int]) -> None:
    bottom, top = view.at((cut_x, ends[0])), view.at((cut_x, ends[1]))
    tips = [bottom.moved(0, _CUT_MARK_MM), top.moved(0, -_CUT_MARK_MM)]
    view.annotate(tips, CENTRE)
    for tip, down in zip(tips, (1.4, -1.4), strict=True):
        view.write(Label("A", tip.moved(0, down), bold=True))


def _hanging(view: View, panel: Panel) -> None:
    """Draw hanging points, and the wall cleats behind the panel."""
    for point in panel.takeoff.hang.points:
        spot = (point.x_ticks, point.y_ticks)
        view.disc(spot, _POINT_MM, OUTLINE.filled(METAL_TINT))
        view.disc(spot, _POINT_MM / 4, OUTLINE)
    for part, row in wall_cleat_rows(panel):
        for cleat in row:
            _wall_cleat(view, panel, part, cleat)


def _wall_cleat(view: View, panel: Panel, part: WoodPart, cleat: WallCleat) -> None:
    rise = part.long_face_ticks - part.short_face_ticks
    # The line on the wall is the cleat's back edge; its front edge stands higher.
    top = panel.height - cleat.below_top_ticks + rise
    low = top - part.long_face_ticks
    view.rect(
        (cleat.left_ticks, low), (cleat.left_ticks + cleat.length_ticks, top), HIDDEN
    )
    for hole in cleat.holes:
        view.disc((cleat.left_ticks + hole, (low + top) // 2), _HOLE_MM, FINE)


def _front_dimensions(
    view: View, panel: Panel, paper: Paper, outline: tuple[int, int, int, int]
) -> None:
    left, bottom, right, top = outline
    hang = panel.takeoff.hang
    dimension(view, Side.BELOW, left, right, paper.length(right - left))
    dimension(view, Side.LEFT, bottom, top, paper.length(top - bottom))
    if hang.points:
        across = rising(0, panel.width, *(p.x_ticks for p in hang.points))
        upright = rising(0, panel.height, *(p.y_ticks for p in hang.points))
        run(view, Side.ABOVE, across, paper)
        run(view, Side.RIGHT, upright, paper)
    if hang.wall_cleats:
        ends = [
            x
            for c in hang.wall_cleats
            for x in (c.left_ticks, c.left_ticks + c.length_ticks)
        ]
        run(view, Side.ABOVE, rising(0, panel.width, *ends), paper)
        below = hang.wall_cleats[0].below_top_ticks
        text = paper.length(below)
        dimension(view, Side.RIGHT, panel.height - below, panel.height, text)
    if hang.kind is Hanging.FEET and hang.stand_ticks:
        text = paper.length(top + hang.stand_ticks)
        dimension(view, Side.LEFT, -hang.stand_ticks, top, text)


def run(view: View, side: Side, stops: list[int], paper: Paper) -> None:
    """Draw running dimensions through the stops, each gap with its own length."""
    chain(view, side, stops, [paper.length(b - a) for a, b in pairwise(stops)])


def back_view(panel: Panel, paper: Paper, scale: Scale) -> View:
    """Draw the frame from the back, cloth left off, left and right changed over."""
    view = View(scale)
    corners = (0, 0), (panel.width, panel.height)
    ground = view.rect(*corners, Pen(0, fill=WOOL_TINT))
    if panel.takeoff.fills:
        wool(view, ground)
    for part, place in panel.placed():
        hidden = _behind_fill(panel, place)
        box = view.rect(
            *_mirrored(panel, place), HIDDEN if hidden else seen(view, part)
        )
        if part.role not in _FRAME_ROLES and not hidden:
            name_inside(view, box, sentence(part.label))
    view.rect(*corners, OUTLINE)
    _back_dimensions(view, panel, paper)
    title(view, "Back", f"frame, cloth left off, {scale}")
    return view


def _behind_fill(panel: Panel, place: Box) -> bool:
    """Say whether the fill hides a piece from somebody looking at the back."""
    end = place.z_ticks + place.depth_ticks
    return bool(panel.takeoff.fills) and end <= panel.takeoff.depths.air_front_ticks


def _mirrored(panel: Panel, place: Box) -> tuple[tuple[int, int], tuple[int, int]]:
    (x0, y0), (x1, y1) = _corners(place)
    return (panel.width - x1, y0), (panel.width - x0, y1)


def _back_dimensions(view: View, panel: Panel, paper: Paper) -> None:
    width, height = panel.width, panel.height
    across: list[int] = [0, width]
    upright: list[int] = [0, height]
    for part, place in panel.placed():
        (x0, y0), (x1, y1) = _mirrored(panel, place)
        if part.role is PartRole.STILE or part.runs is Runs.UPRIGHT:
            across += [x0, x1]
        elif part.role is PartRole.RAIL or part.runs is Runs.ACROSS:
            upright += [y0, y1]
    run(view, Side.BELOW, rising(*across), paper)
    run(view, Side.RIGHT, rising(*upright), paper)
    dimension(view, Side.BELOW, 0, width, paper.length(width))
    dimension(view, Side.RIGHT, 0, height, paper.length(height))
