"""One wall seen from inside the room: openings and places to keep clear, dimensioned."""

from __future__ import annotations

from itertools import groupby, pairwise

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
from shared.drawing.pens import (
    CUT,
    FINE,
    HIDDEN,
    OUTLINE,
    PAPER,
    SOFT_INK,
    WALL_TINT,
    Pen,
)
from shop.surveys.engine.paper import Paper, RoomPlan, elevation_words, trim_to
from shop.surveys.engine.room import OpeningIn, RoomIn, WallIn, ZoneIn
from shop.surveys.engine.runs import placed

VERSION = "elevation-2"

WIDE_MM = 120.0
TALL_MM = 70.0
SHEET_MM = 168.0
_LONGEST_NAME = 22
_FRAME_MM = 0.9
_OFTEN = 3
_ZONE = Pen(0.25, fill=WALL_TINT)
# Told apart by the dash in grey, too: long for studs, short for what stays clear.
_STUD = Pen(0.25, SOFT_INK, dash_mm=(3.2, 1.4))
_CLEAR = Pen(0.2, SOFT_INK, dash_mm=(0.7, 0.7))


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
    studs = _studs(view, wall, ends)
    shown = [wall.openings[n] for n, *_ in placed(wall)]
    shown = [opening for opening in shown if _rise(opening)[1] <= max(ends)]
    for opening in shown:
        _opening(view, opening)
    zones = [zone for zone in wall.zones if _lies_on(zone, wall, max(ends))]
    for zone in zones:
        low = (zone.left_ticks, zone.bottom_ticks)
        view.rect(low, (low[0] + zone.width_ticks, low[1] + zone.height_ticks), _ZONE)
    for zone in zones:
        _clear(view, zone, wall, ends)
    _dimensions(view, wall, shown, ends, paper)
    if studs:
        stops = sorted({0, *studs})
        texts = [paper.length(b - a) for a, b in pairwise(stops)]
        chain(view, Side.ABOVE, stops, _grouped(texts))
    callouts(view, Side.RIGHT, [_callout(zone, paper) for zone in zones])
    note = f"{paper.sizes}, as read{_legend(studs, zones)}"
    title(view, f"Wall {wall.name} from inside, {scale}", note)
    words = tuple(elevation_words(wall, paper.sentence))
    name = f"{paper.title}, wall {wall.name}"
    drawing = Drawing(
        10, 10, key=f"{paper.key}-{place}", title=name, description=" ".join(words)
    )
    drawing.add(view, 0, 0)
    trim_to(drawing, SHEET_MM)
    return RoomPlan(drawing.svg(), str(scale), words)


def _height_at(at_ticks: float, wall: WallIn, ends: tuple[int, int]) -> int:
    """Return the ceiling's height above a place of the wall."""
    share = at_ticks / wall.line.length_ticks
    return round(ends[0] + (ends[1] - ends[0]) * share)


def _studs(view: View, wall: WallIn, ends: tuple[int, int]) -> list[int]:
    """Draw the studs that were found on the wall, floor to ceiling; return where."""
    found = [at for at in wall.framing.members_ticks if at <= wall.line.length_ticks]
    for at in found:
        view.line((at, 0), (at, _height_at(at, wall, ends)), _STUD)
    return found


def _grouped(texts: list[str]) -> list[str]:
    """Write a distance that comes three times in a row or more once, with how often."""
    written: list[str] = []
    for text, alike in groupby(texts):
        times = len(list(alike))
        if times < _OFTEN:
            written += [text] * times
        else:
            middle = (times - 1) // 2
            blank = [""] * times
            blank[middle] = f"{times} × {text}"
            written += blank
    return written


def _clear(view: View, zone: ZoneIn, wall: WallIn, ends: tuple[int, int]) -> None:
    """Draw how much stays clear round a place, as far as the wall reaches."""
    margin = zone.margin_ticks
    if not margin:
        return
    left = max(0, zone.left_ticks - margin)
    right = min(wall.line.length_ticks, zone.left_ticks + zone.width_ticks + margin)
    low = max(0, zone.bottom_ticks - margin)
    lowest = min(_height_at(at, wall, ends) for at in (left, right))
    high = min(lowest, zone.bottom_ticks + zone.height_ticks + margin)
    view.rect((left, low), (right, high), _CLEAR)


def _legend(studs: list[int], zones: list[ZoneIn]) -> str:
    """Say what the dashes mean, of those there are."""
    shown = (
        (bool(studs), "; long dashes: studs found"),
        (any(zone.margin_ticks for zone in zones), "; short dashes: kept clear"),
    )
    return "".join(words for there, words in shown if there)


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
    box = view.rect((left, low), (right, high), pen.filled(PAPER))
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
