"""The plan of a room: to scale, dimensioned, from its walls as they were read.

Walls are drawn at a thickness that suits the paper, since nobody measured it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from shared.drawing import (
    IMPERIAL_SCALES,
    METRIC_SCALES,
    Drawing,
    Label,
    Point,
    Scale,
    Side,
    View,
    chain,
    dimension,
    largest_scale,
    name_inside,
    title,
)
from shared.drawing.pens import HIDDEN, SOLID
from shared.drawing.plan import Heading, WallRun, door, opening_gap, wall_strip, window
from shared.drawing.text import LABEL_MM
from shared.length import UnitSystem, show
from shop.surveys.engine.outline import QUARTER, Corner
from shop.surveys.engine.room import OpeningIn, RoomIn, WallIn, ZoneIn

VERSION = "room-plan-1"

PAPER_MM = 165.0
"""The greatest width of the room itself on paper, which leaves room for dimensions."""

TALL_MM = 150.0
WALL_MM = 2.4
_ZONE_DEEP_MM = 0.9
_NAME_IN_MM = 4.2

# From +x, turned to the right: the room lies to the right of the walk, and the runs of
# shared.drawing have it to their left, so each is drawn from its right corner back.
_RUNS = {0: Heading.WEST, 1: Heading.NORTH, 2: Heading.EAST, 3: Heading.SOUTH}
_SIDES = {0: Side.ABOVE, 1: Side.RIGHT, 2: Side.BELOW, 3: Side.LEFT}


@dataclass(frozen=True, slots=True)
class Paper:
    """How a plan is written: `key` begins each id in it, `title` names it."""

    key: str
    title: str
    units: UnitSystem
    fraction: int = 16

    def length(self, ticks: int) -> str:
        """Print a length for a dimension line: bare millimetres, or feet and inches."""
        bare = self.units is UnitSystem.METRIC
        return show(ticks, units=self.units, fraction=self.fraction, unit_mark=not bare)

    @property
    def note(self) -> str:
        """Say what figures mean, and that walls are drawn at a thickness of their own."""
        metric = self.units is UnitSystem.METRIC
        unit = "Sizes in millimetres" if metric else "Sizes in feet and inches"
        return f"{unit}, as read; thickness of walls not measured"


@dataclass(frozen=True, slots=True)
class RoomPlan:
    """The drawing as SVG, its scale, and the same in sentences."""

    svg: str
    scale: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Side:
    """A wall on the paper."""

    wall: WallIn
    run: WallRun
    side: Side

    def along(self, from_left_ticks: int, width_ticks: int = 0) -> int:
        """Turn a distance from the left corner into one along the run."""
        return self.wall.line.length_ticks - from_left_ticks - width_ticks


def can_draw(room: RoomIn) -> bool:
    """Whether the plan shows this room: four walls and right angles."""
    return len(room.walls) == 4 and all(
        wall.line.turn_millidegrees == QUARTER for wall in room.walls
    )


def draw_plan(room: RoomIn, paper: Paper) -> RoomPlan | None:
    """Draw the plan of a room with four walls and right angles; nothing for others.

    Parameters
    ----------
    room
        Walls clockwise, openings and zones; lengths in ticks. What has no distance from
        its left corner is named in the words and left out of the drawing.
    paper
        How lengths print, and what the drawing is called.
    """
    if not can_draw(room):
        return None
    scale = _scale(room, paper.units)
    view = View(scale)
    sides = tuple(_sides(room, scale))
    for side in sides:
        wall_strip(view, side.run)
    for side in sides:
        _openings(view, side)
    _zones(view, room, sides)
    _names(view, sides)
    _dimensions(view, sides, paper)
    title(view, f"{paper.title}, plan {scale}", paper.note)
    words = tuple(_words(room, paper))
    drawing = Drawing(
        10, 10, key=paper.key, title=paper.title, description=" ".join(words)
    )
    drawing.add(view, 0, 0)
    drawing.trim()
    return RoomPlan(drawing.svg(), str(scale), words)


def _scale(room: RoomIn, units: UnitSystem) -> Scale:
    scales = METRIC_SCALES if units is UnitSystem.METRIC else IMPERIAL_SCALES
    lengths = [wall.line.length_ticks for wall in room.walls]
    wide, deep = max(lengths[0::2]), max(lengths[1::2])
    found = (
        largest_scale(wide, PAPER_MM, scales),
        largest_scale(deep, TALL_MM, scales),
    )
    return max(found, key=lambda scale: scale.denominator)


def _sides(room: RoomIn, scale: Scale) -> Iterator[_Side]:
    plan = room.plan
    thickness = scale.ticks(WALL_MM)
    for n, (wall, end) in enumerate(
        zip(room.walls, (*plan.corners[1:], plan.end), strict=True)
    ):
        run = WallRun(_spot(end), _RUNS[n], wall.line.length_ticks, thickness)
        yield _Side(wall, run, _SIDES[n])


def _spot(corner: Corner) -> tuple[int, int]:
    return round(corner.x_ticks), round(corner.y_ticks)


def _openings(view: View, side: _Side) -> None:
    for opening, start, width in _placed(side):
        along = side.along(start, width)
        if opening.kind == "window":
            window(view, side.run, along, width)
        elif opening.kind == "door":
            # Nobody asked where it hangs: on its left, as one looks at it from inside.
            door(view, side.run, along, width, hinged_at_end=True)
        else:
            opening_gap(view, side.run, along, width)


def _placed(side: _Side) -> Iterator[tuple[OpeningIn, int, int]]:
    """Yield the openings that lie on the wall, from left to right."""
    placed = [
        (opening, *opening.span_ticks)
        for opening in side.wall.openings
        if opening.span_ticks
    ]
    for opening, start, end in sorted(placed, key=lambda p: p[1]):
        if end <= side.wall.line.length_ticks:
            yield opening, start, end - start


def _zones(view: View, room: RoomIn, sides: tuple[_Side, ...]) -> None:
    deep = view.scale.ticks(_ZONE_DEEP_MM)
    for side in sides:
        for zone in side.wall.zones:
            left = side.along(zone.left_ticks)
            right = side.along(zone.left_ticks, zone.width_ticks)
            if right >= 0:
                view.rect(side.run.spot(left), side.run.spot(right, -deep), SOLID)
    for zone in filter(room.holds, room.ceiling_zones):
        low, high = _ceiling_corners(zone)
        box = view.rect(low, high, HIDDEN)
        name_inside(view, box, zone.name)


def _ceiling_corners(zone: ZoneIn) -> tuple[tuple[int, int], tuple[int, int]]:
    """Return two corners on the plan: right of the last wall, below the first one."""
    left, top = zone.left_ticks, -zone.bottom_ticks
    return (left, top - zone.height_ticks), (left + zone.width_ticks, top)


def _names(view: View, sides: tuple[_Side, ...]) -> None:
    """Write each wall's name inside the room, at its middle or beside what is there."""
    inwards = view.scale.ticks(_NAME_IN_MM)
    for side in sides:
        length = side.wall.line.length_ticks
        for share in (0.5, 0.35, 0.65, 0.2, 0.8):
            at = view.at(side.run.spot(round(length * share), -inwards))
            label = Label(side.wall.name, Point(at.x, at.y), LABEL_MM, bold=True)
            if view.takes_words(label.box):
                view.write(label)
                break


def _dimensions(view: View, sides: tuple[_Side, ...], paper: Paper) -> None:
    """Measure each wall that has openings along them, and every length that differs."""
    shown: set[tuple[bool, int]] = set()
    for side in sides:
        stops = _stops(side)
        if len(stops) > 2:
            reals = sorted(_real(side, along) for along in stops)
            gaps = [paper.length(b - a) for a, b in pairwise(reals)]
            chain(view, side.side, reals, gaps)
    for side in sides:
        length = side.wall.line.length_ticks
        key = (side.side.upright, length)
        if key not in shown:
            shown.add(key)
            ends = (_real(side, 0), _real(side, length))
            dimension(view, side.side, min(ends), max(ends), paper.length(length))


def _stops(side: _Side) -> list[int]:
    """Return where along the run something begins or ends; no overlaps, no nothings."""
    length = side.wall.line.length_ticks
    stops = {0, length}
    for _, start, width in _placed(side):
        stops |= {side.along(start), side.along(start, width)}
    return sorted(stops)


def _real(side: _Side, along_ticks: int) -> int:
    x, y = side.run.spot(along_ticks)
    return y if side.side.upright else x


def _words(room: RoomIn, paper: Paper) -> Iterator[str]:
    def show_length(ticks: int) -> str:
        return show(ticks, units=paper.units, fraction=paper.fraction)

    for wall in room.walls:
        yield f"Wall {wall.name} is {show_length(wall.line.length_ticks)} long."
        for opening in wall.openings:
            yield _opening_words(opening, wall, show_length)
        for zone in wall.zones:
            yield f"Wall {wall.name}: keep clear of the {zone.name}."
    for zone in room.ceiling_zones:
        yield f"Ceiling: keep clear of the {zone.name}."


def _opening_words(
    opening: OpeningIn, wall: WallIn, show_length: Callable[[int], str]
) -> str:
    shape = opening.shape
    size = f"{show_length(shape.width_ticks)} × {show_length(shape.height_ticks)}"
    start = opening.from_left_ticks
    if start is None:
        where = "not on the drawing, since its distance from the left was not read"
    else:
        where = f"{show_length(start)} from the left corner"
    name = opening.name[:1].upper() + opening.name[1:]
    return f"{name}: {size}, {where}."
