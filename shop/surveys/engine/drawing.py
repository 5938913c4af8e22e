"""The plan of a room of any outline: to scale, dimensioned.

It is drawn closed where it can be; lengths stand on it as they were read. Walls are drawn
at a thickness that suits the paper, since nobody measured it.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from shared.drawing import (
    Callout,
    Drawing,
    Label,
    Point,
    Scale,
    Side,
    View,
    callouts,
    chain,
    dimension,
    name_inside,
    title,
)
from shared.drawing.pens import HIDDEN, SOLID
from shared.drawing.text import LABEL_MM
from shop.surveys.engine.paper import Paper, RoomPlan, plan_words, trim_to
from shop.surveys.engine.room import RoomIn, ZoneIn
from shop.surveys.engine.runs import Run, door, gap, placed, runs, strip, window
from shop.surveys.engine.spots import SpotIn, draw_spots, holds, spot_words

VERSION = "room-plan-3"

PAPER_MM = 165.0
"""The greatest width of the room itself on paper, which leaves room for dimensions."""

TALL_MM = 150.0
SKETCH_MM = 80.0
WALL_MM = 2.4
_ZONE_DEEP_MM = 0.9
_NAME_GAP_MM = 2.4
_PLACES = (0.5, 0.35, 0.65, 0.2, 0.8)


def draw_plan(room: RoomIn, paper: Paper, spots: Sequence[SpotIn] = ()) -> RoomPlan:
    """Draw the plan of a room.

    Parameters
    ----------
    room
        Walls clockwise, openings and zones; lengths in ticks. What has no distance from
        its left corner is named in the words and left out of the drawing.
    paper
        How lengths print, and what the drawing is called.
    spots
        Places in the room; those outside the walls are left out of the drawing.
    """
    scale = _scale(room, paper)
    view, walls = View(scale), runs(room)
    _shape(view, room, walls)
    _names(view, walls, paper)
    _dimensions(view, walls, paper)
    _outside(view, walls, paper)
    inside = [spot for spot in spots if holds(room, spot)]
    draw_spots(view, inside, lambda label: _clear(view, label, walls))
    note = f"{paper.sizes}, as read; thickness of walls not measured"
    title(view, f"{paper.title}, plan {scale}", note)
    words = (*plan_words(room, paper.sentence), *spot_words(spots, paper.sentence))
    drawing = Drawing(
        10, 10, key=paper.key, title=paper.title, description=" ".join(words)
    )
    drawing.add(view, 0, 0)
    drawing.trim()
    return RoomPlan(drawing.svg(), str(scale), words)


def draw_sketch(room: RoomIn, paper: Paper) -> str:
    """Draw the outline with its walls' names and no figures, to no scale, as SVG."""
    view, walls = View(paper.scale((_span(room), SKETCH_MM))), runs(room)
    for run in walls:
        strip(view, run, view.scale.ticks(WALL_MM))
    for run in walls:
        view.write(_inside(view, run, run.wall.name, 0.5))
    names = " ".join(run.wall.name for run in walls)
    words = f"Walls in the order of the walk: {names}."
    drawing = Drawing(10, 10, key=paper.key, title=paper.title, description=words)
    drawing.add(view, 0, 0)
    trim_to(drawing, SKETCH_MM + 20)
    return drawing.svg()


def _span(room: RoomIn) -> float:
    across = [corner.x_ticks for corner in room.corners]
    return max(across) - min(across)


def _scale(room: RoomIn, paper: Paper) -> Scale:
    spots = [corner for run in runs(room) for corner in (run.start, run.end)]
    across, along = [c.x_ticks for c in spots], [c.y_ticks for c in spots]
    return paper.scale(
        (max(across) - min(across), PAPER_MM), (max(along) - min(along), TALL_MM)
    )


def _shape(view: View, room: RoomIn, walls: Sequence[Run]) -> None:
    thickness = view.scale.ticks(WALL_MM)
    for run in walls:
        strip(view, run, thickness)
    for run in walls:
        _openings(view, run, thickness)
    if walls[-1].end != walls[0].start:
        # The walk as read, and what it misses.
        view.line(walls[-1].spot(walls[-1].length), walls[0].spot(0), HIDDEN)
    _zones(view, room, walls)


def _openings(view: View, run: Run, thickness: int) -> None:
    drawn = {"window": window, "door": door}
    for n, start, width in placed(run.wall):
        kind = run.wall.openings[n].kind
        drawn.get(kind, gap)(view, run, start, width, thickness)


def _zones(view: View, room: RoomIn, walls: Sequence[Run]) -> None:
    deep = view.scale.ticks(_ZONE_DEEP_MM)
    for run in walls:
        for zone in run.wall.zones:
            left, right = zone.left_ticks, zone.left_ticks + zone.width_ticks
            if right <= run.wall.line.length_ticks:
                ends = (run.spot(left), run.spot(right))
                view.polygon(
                    [*ends, run.spot(right, -deep), run.spot(left, -deep)], SOLID
                )
    for zone in filter(room.holds, room.ceiling_zones):
        low, high = _ceiling_corners(zone)
        box = view.rect(low, high, HIDDEN)
        name_inside(view, box, zone.name)


def _ceiling_corners(zone: ZoneIn) -> tuple[tuple[int, int], tuple[int, int]]:
    """Return two corners on the plan: right of the last wall, below the first one."""
    left, top = zone.left_ticks, -zone.bottom_ticks
    return (left, top - zone.height_ticks), (left + zone.width_ticks, top)


def _words(run: Run, paper: Paper) -> str:
    """Name a wall; a slanting one, which gets no dimension line, with its length."""
    if run.side is not None:
        return run.wall.name
    return f"{run.wall.name}: {paper.length(run.wall.line.length_ticks)}"


def _names(view: View, walls: Sequence[Run], paper: Paper) -> None:
    """Write each wall's name inside the room, at its middle or beside what is there."""
    for run in walls:
        for share in _PLACES:
            label = _inside(view, run, _words(run, paper), share)
            if _clear(view, label, walls):
                view.write(label)
                break


def _inside(view: View, run: Run, text: str, share: float) -> Label:
    """Return words that stand just inside a wall, clear of its face."""
    bare = Label(text, Point(0, 0), LABEL_MM, bold=True)
    out_x, out_y = run.outwards
    reach = abs(out_x) * bare.box.width / 2 + abs(out_y) * bare.box.height / 2
    spot = run.spot(run.length * share, -view.scale.ticks(reach + _NAME_GAP_MM))
    at = view.at(spot)
    return Label(text, at, LABEL_MM, bold=True)


def _clear(view: View, label: Label, walls: Sequence[Run]) -> bool:
    """Whether words stand free of other words and of every wall."""
    return view.takes_words(label.box) and not any(
        label.box.meets(view.at(run.spot(0)), view.at(run.spot(run.length)))
        for run in walls
    )


def _outside(view: View, walls: Sequence[Run], paper: Paper) -> None:
    """Name the walls that had no room inside beside the plan."""
    written = {label.text for label in view.labels()}
    left = [
        Callout(run.spot(run.length / 2), _words(run, paper))
        for run in walls
        if _words(run, paper) not in written
    ]
    callouts(view, Side.RIGHT, left)


def _dimensions(view: View, walls: Sequence[Run], paper: Paper) -> None:
    """Measure the walls with openings along them, and every wall that runs straight."""
    straight = [(run, run.side) for run in walls if run.side is not None]
    for run, side in straight:
        stops = _stops(run)
        if len(stops) > 2:
            reals = [_real(run, stop, side) for stop in stops]
            texts = [paper.length(b - a) for a, b in pairwise(stops)]
            if reals[0] > reals[-1]:
                reals, texts = reals[::-1], texts[::-1]
            chain(view, side, reals, texts)
    shown: set[tuple[bool, int, int, int]] = set()
    for run, side in straight:
        length = run.wall.line.length_ticks
        ends = sorted(_real(run, along, side) for along in (0, run.length))
        key = (side.upright, ends[0], ends[1], length)
        if key not in shown:
            shown.add(key)
            dimension(view, side, ends[0], ends[1], paper.length(length))


def _stops(run: Run) -> list[int]:
    """Return where along a wall something begins or ends; no overlaps, no nothings."""
    stops = {0, run.wall.line.length_ticks}
    for _, start, width in placed(run.wall):
        stops |= {start, start + width}
    return sorted(stops)


def _real(run: Run, along_ticks: float, side: Side) -> int:
    x, y = run.spot(along_ticks)
    return y if side.upright else x
