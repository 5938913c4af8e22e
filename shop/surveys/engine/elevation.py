"""One wall seen from inside the room: openings and places to keep clear, dimensioned."""

from __future__ import annotations

from itertools import pairwise

from shared.drawing import (
    Callout,
    Drawing,
    Side,
    View,
    callouts,
    chain,
    dimension,
    name_inside,
    title,
)
from shared.drawing.pens import CUT, FINE, HIDDEN, OUTLINE, WALL_TINT, Pen
from shop.surveys.engine.paper import Paper, RoomPlan, elevation_words, trim_to
from shop.surveys.engine.room import OpeningIn, RoomIn, WallIn, ZoneIn
from shop.surveys.engine.runs import placed

VERSION = "elevation-1"

WIDE_MM = 120.0
TALL_MM = 70.0
SHEET_MM = 168.0
_LONGEST_NAME = 22
_FRAME_MM = 0.9
_ZONE = Pen(0.25, fill=WALL_TINT)


def draw_elevation(room: RoomIn, place: int, paper: Paper) -> RoomPlan | None:
    """Draw a wall from inside; nothing while the ceiling's height is not known there.

    Parameters
    ----------
    room
        The room as measured, lengths in ticks.
    place
        Which wall, by its place in the walk.
    paper
        How lengths print, and what the drawing is called.
    """
    heights = room.corner_heights()
    if heights is None:
        return None
    wall = room.walls[place]
    ends = round(heights[place]), round(heights[(place + 1) % len(heights)])
    length = wall.line.length_ticks
    # All walls of a room are drawn to one scale.
    longest = max(line.length_ticks for line in room.lines)
    scale = paper.scale((longest, WIDE_MM), (max(*heights, 1), TALL_MM))
    view = View(scale)
    view.polygon([(0, 0), (length, 0), (length, ends[1]), (0, ends[0])], CUT)
    shown = [wall.openings[n] for n, *_ in placed(wall)]
    shown = [opening for opening in shown if _rise(opening)[1] <= max(ends)]
    for opening in shown:
        _opening(view, opening)
    zones = [zone for zone in wall.zones if _lies_on(zone, wall, max(ends))]
    for zone in zones:
        low = (zone.left_ticks, zone.bottom_ticks)
        view.rect(low, (low[0] + zone.width_ticks, low[1] + zone.height_ticks), _ZONE)
    _dimensions(view, wall, shown, ends, paper)
    callouts(view, Side.RIGHT, [_callout(zone, paper) for zone in zones])
    title(view, f"Wall {wall.name} from inside, {scale}", f"{paper.sizes}, as read")
    words = tuple(elevation_words(wall, paper.sentence))
    name = f"{paper.title}, wall {wall.name}"
    drawing = Drawing(
        10, 10, key=f"{paper.key}-{place}", title=name, description=" ".join(words)
    )
    drawing.add(view, 0, 0)
    trim_to(drawing, SHEET_MM)
    return RoomPlan(drawing.svg(), str(scale), words)


def _rise(opening: OpeningIn) -> tuple[int, int]:
    """From where to where it reaches; what nobody gave a sill stands on the floor."""
    return opening.rise_ticks or (0, max(opening.readings.heights_ticks))


def _lies_on(zone: ZoneIn, wall: WallIn, height_ticks: int) -> bool:
    return (
        zone.left_ticks + zone.width_ticks <= wall.line.length_ticks
        and zone.bottom_ticks + zone.height_ticks <= height_ticks
    )


def _opening(view: View, opening: OpeningIn) -> None:
    if opening.span_ticks is None:
        return
    (left, right), (low, high) = opening.span_ticks, _rise(opening)
    pen = HIDDEN if opening.kind == "recess" else OUTLINE
    box = view.rect((left, low), (right, high), pen)
    inset = view.scale.ticks(_FRAME_MM)
    if opening.kind == "window" and 2 * inset < min(right - left, high - low):
        view.rect((left + inset, low + inset), (right - inset, high - inset), FINE)
    name_inside(view, box, _short(opening.name))


def _short(name: str) -> str:
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 1]}…"


def _callout(zone: ZoneIn, paper: Paper) -> Callout:
    middle = (
        zone.left_ticks + zone.width_ticks // 2,
        zone.bottom_ticks + zone.height_ticks // 2,
    )
    where = (
        f"{paper.length(zone.left_ticks)} across, {paper.length(zone.bottom_ticks)} up"
    )
    return Callout(middle, f"{_short(zone.name)}: {where}")


def _dimensions(
    view: View,
    wall: WallIn,
    openings: list[OpeningIn],
    ends: tuple[int, int],
    paper: Paper,
) -> None:
    length = wall.line.length_ticks
    across = {0, length}
    for opening in openings:
        across |= set(opening.span_ticks or ())
    up = {0, ends[0]}
    for opening in openings:
        up |= {level for level in _rise(opening) if level < ends[0]}
    for side, stops in ((Side.BELOW, sorted(across)), (Side.LEFT, sorted(up))):
        if len(stops) > 2:
            texts = [paper.length(b - a) for a, b in pairwise(stops)]
            chain(view, side, stops, texts)
        dimension(view, side, stops[0], stops[-1], paper.length(stops[-1]))
    if ends[1] != ends[0]:
        dimension(view, Side.RIGHT, 0, ends[1], paper.length(ends[1]))
