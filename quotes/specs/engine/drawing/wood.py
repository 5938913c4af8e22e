"""Wood cut through, hatched by what it is: plies for sheet goods, end grain for boards."""

from __future__ import annotations

from collections.abc import Sequence

from quotes.specs.engine.drawing.paper import Panel
from quotes.specs.engine.result import WoodPart
from shared.drawing import Box, Point, Spot, View
from shared.drawing.geometry import box_around
from shared.drawing.hatch import end_grain, ply_edge
from shared.drawing.pens import CUT, FINE, OUTLINE, WOOD_TINT, Pen

# On paper: below these a piece gets a lighter line, or it would print black.
_STOUT_MM = 2.5
_THIN_MM = 1.2


def hatched(view: View, panel: Panel, part: WoodPart, corners: Sequence[Spot]) -> None:
    """Draw one cut face by its four corners in ticks of the view."""
    points = [view.at(spot) for spot in corners]
    pen = _pen(view.scale.paper_mm(part.thickness_ticks))
    view.shape(points, pen.filled(WOOD_TINT))
    if part.stock in panel.sheet_stocks:
        _plies(view, points)
    else:
        end_grain(view, points)
    view.shape(points, pen)


def _pen(thickness_mm: float) -> Pen:
    """Return a line that leaves something of a thin piece to see."""
    if thickness_mm >= _STOUT_MM:
        return CUT
    return OUTLINE if thickness_mm >= _THIN_MM else FINE


def seen(view: View, part: WoodPart) -> Pen:
    """Return how the outline of a whole piece is drawn in this view."""
    thin = view.scale.paper_mm(part.thickness_ticks) < _THIN_MM
    return (FINE if thin else OUTLINE).filled(WOOD_TINT)


def _plies(view: View, points: Sequence[Point]) -> None:
    """Hatch the box that slanted edges leave whole; a turned piece gets none."""
    xs, ys = sorted(p.x for p in points), sorted(p.y for p in points)
    upright = len({round(x, 6) for x in xs}) == 2 or len({round(y, 6) for y in ys}) == 2
    if not upright:
        return
    if len({round(y, 6) for y in ys}) == 2 and len({round(x, 6) for x in xs}) == 2:
        ply_edge(view, box_around(points))
    elif ys[1] < ys[2]:
        ply_edge(view, Box(xs[0], ys[1], xs[-1], ys[2]))
