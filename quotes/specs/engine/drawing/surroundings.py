"""What a panel hangs from, is fixed to, stands in or stands on, round its section."""

from __future__ import annotations

from quotes.specs.engine.drawing.lie import Lie
from quotes.specs.engine.drawing.paper import Panel
from quotes.specs.engine.drawing.wood import seen
from quotes.specs.engine.words import Hanging, PartRole
from shared.drawing import Point, View
from shared.drawing.geometry import box_around
from shared.drawing.hatch import masonry
from shared.drawing.pens import CUT, METAL_TINT, OUTLINE, SOFT_INK, WALL_TINT, Pen

_WALL_MM = 5.0
_WALL_GAP_MM = 1.2
_BEYOND_MM = 3.0
_CHAIN_MM = 9.0
_EYE_MM = 1.3
_BOLT = Pen(0.8, SOFT_INK)
_CHAIN = Pen(0.6, SOFT_INK, dash_mm=(1.4, 0.5))


def hung_from(view: View, lie: Lie, panel: Panel, *, off_mm: float) -> None:
    """Draw each eye in the cut with its bolt and the start of its chain."""
    if panel.takeoff.hang.kind is not Hanging.CHAIN:
        return
    points = panel.takeoff.hang.points
    for y in sorted({p.y_ticks for p in points if p.x_ticks == points[0].x_ticks}):

        def at(back_mm: float, y: int = y) -> Point:
            return lie.point(view, panel.depth, y, back_mm=back_mm)

        bolt = lie.point(view, panel.depth * 3 // 4, y)
        view.shape([bolt, at(off_mm)], _BOLT, closed=False)
        top = off_mm + 2 * _EYE_MM
        view.ring(at(off_mm + _EYE_MM), _EYE_MM, OUTLINE.filled(METAL_TINT))
        view.shape([at(top), at(top + _CHAIN_MM)], _CHAIN, closed=False)


def on_feet(view: View, lie: Lie, panel: Panel) -> None:
    """Draw a screen's foot as seen from the side, and the floor that it stands on."""
    if panel.takeoff.hang.kind is not Hanging.FEET:
        return
    for part in panel.takeoff.parts_of(PartRole.FOOT):
        place = part.places[0]
        low = (place.z_ticks, place.y_ticks)
        high = (low[0] + place.depth_ticks, low[1] + place.height_ticks)
        view.rect(lie.spot(*low), lie.spot(*high), seen(view, part))
    _strip(view, _floor(view, -panel.takeoff.hang.stand_ticks))


def building(view: View, lie: Lie, panel: Panel, back_ticks: int) -> None:
    """Draw the wall or the opening; ``back_ticks`` is the rearmost wood."""
    hang, height = panel.takeoff.hang, panel.height
    if hang.kind is Hanging.CLEAT:
        back = max(back_ticks, panel.depth)
        _strip(view, _along_wall(view, lie, back, height))
    elif hang.kind is Hanging.EDGE:
        growth = (panel.takeoff.finished.height_ticks - height) // 2
        for y, up in (
            (height + growth + hang.gap_ticks, 1),
            (-growth - hang.gap_ticks, -1),
        ):
            _strip(view, _across(view, lie, panel, (y, up)))


def _along_wall(view: View, lie: Lie, back: int, height: int) -> list[Point]:
    near, far = _WALL_GAP_MM, _WALL_GAP_MM + _WALL_MM
    return [
        lie.point(view, back, 0, back_mm=near, up_mm=-_BEYOND_MM),
        lie.point(view, back, height, back_mm=near, up_mm=_BEYOND_MM),
        lie.point(view, back, height, back_mm=far, up_mm=_BEYOND_MM),
        lie.point(view, back, 0, back_mm=far, up_mm=-_BEYOND_MM),
    ]


def _across(view: View, lie: Lie, panel: Panel, at: tuple[int, int]) -> list[Point]:
    """Return a strip above (1) or below (-1) a height, its face first."""
    y, up = at
    return [
        lie.point(view, 0, y, back_mm=-_BEYOND_MM),
        lie.point(view, panel.depth, y, back_mm=_BEYOND_MM),
        lie.point(view, panel.depth, y, back_mm=_BEYOND_MM, up_mm=up * _WALL_MM),
        lie.point(view, 0, y, back_mm=-_BEYOND_MM, up_mm=up * _WALL_MM),
    ]


def _floor(view: View, y: int) -> list[Point]:
    """Return a strip of floor under all that is drawn upright so far."""
    body, top = view.body, view.at((0, y)).y
    left, right = body.left - _BEYOND_MM, body.right + _BEYOND_MM
    return [
        Point(left, top),
        Point(right, top),
        Point(right, top + _WALL_MM),
        Point(left, top + _WALL_MM),
    ]


def _strip(view: View, corners: list[Point]) -> None:
    """Hatch a strip and draw its face, from the first corner to the second."""
    view.shape(corners, Pen(0, fill=WALL_TINT))
    masonry(view, box_around(corners))
    view.shape(corners[:2], CUT, closed=False)
