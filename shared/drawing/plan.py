"""Pieces of a room plan: wall strips, gaps for openings, windows, the swing of a door."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from shared.drawing.hatch import masonry
from shared.drawing.pens import BLANK, CUT, FINE, OUTLINE, WALL_TINT, Pen
from shared.drawing.view import Spot, View


class Heading(Enum):
    """Which way a wall runs on the plan, the room to its left."""

    EAST = (1, 0)
    NORTH = (0, 1)
    WEST = (-1, 0)
    SOUTH = (0, -1)

    @property
    def outwards(self) -> Spot:
        """Return the unit step out of the room."""
        x, y = self.value
        return (y, -x)


@dataclass(frozen=True, slots=True)
class WallRun:
    """A straight wall: its inner face starts at ``start`` and runs for ``length_ticks``.

    Walls that follow one another anticlockwise (east, north, west, south) enclose a room.
    """

    start: Spot
    heading: Heading
    length_ticks: int
    thickness_ticks: int

    def spot(self, along_ticks: int, out_ticks: int = 0) -> Spot:
        """Return the real spot so far along the wall and so far out of the room."""
        (x, y), (dx, dy), (ox, oy) = (
            self.start,
            self.heading.value,
            self.heading.outwards,
        )
        return (
            x + along_ticks * dx + out_ticks * ox,
            y + along_ticks * dy + out_ticks * oy,
        )


def room_walls(
    width_ticks: int, depth_ticks: int, thickness_ticks: int
) -> tuple[WallRun, WallRun, WallRun, WallRun]:
    """Return the four walls of a rectangle with its inner corner at (0, 0).

    In order: south, east, north, west; each begins where the one before ends.
    """
    w, d, t = width_ticks, depth_ticks, thickness_ticks
    return (
        WallRun((0, 0), Heading.EAST, w, t),
        WallRun((w, 0), Heading.NORTH, d, t),
        WallRun((w, d), Heading.WEST, w, t),
        WallRun((0, d), Heading.SOUTH, d, t),
    )


def wall_strip(view: View, wall: WallRun) -> None:
    """Draw a wall cut through, hatched, with square corners beyond both ends."""
    t, length = wall.thickness_ticks, wall.length_ticks
    low, high = wall.spot(-t, t), wall.spot(length + t, 0)
    box = view.rect(low, high, Pen(0, fill=WALL_TINT))
    masonry(view, box)
    view.line(wall.spot(0), wall.spot(length), CUT)
    view.line(wall.spot(-t, t), wall.spot(length + t, t), CUT)


def opening_gap(view: View, wall: WallRun, start_ticks: int, width_ticks: int) -> None:
    """Cut a doorway or window out of a wall already drawn, with its two reveals."""
    t, end = wall.thickness_ticks, start_ticks + width_ticks
    view.rect(wall.spot(start_ticks, t), wall.spot(end, 0), BLANK.filled("#ffffff"))
    for along in (start_ticks, end):
        view.line(wall.spot(along, 0), wall.spot(along, t), CUT)


def window(view: View, wall: WallRun, start_ticks: int, width_ticks: int) -> None:
    """Draw a window: the gap, both faces of the wall, and the glass between."""
    opening_gap(view, wall, start_ticks, width_ticks)
    t, end = wall.thickness_ticks, start_ticks + width_ticks
    for out, pen in ((0, FINE), (t, FINE), (t // 2, OUTLINE)):
        view.line(wall.spot(start_ticks, out), wall.spot(end, out), pen)


def door(
    view: View,
    wall: WallRun,
    start_ticks: int,
    width_ticks: int,
    *,
    hinged_at_end: bool = False,
) -> None:
    """Draw a door: the gap, the leaf standing open into the room, and its swing."""
    opening_gap(view, wall, start_ticks, width_ticks)
    end = start_ticks + width_ticks
    hinge = wall.spot(end if hinged_at_end else start_ticks)
    leaf = wall.spot(end if hinged_at_end else start_ticks, -width_ticks)
    view.line(hinge, leaf, OUTLINE)
    along = {Heading.EAST: 0, Heading.NORTH: 90, Heading.WEST: 180, Heading.SOUTH: 270}
    open_at = along[wall.heading] + 90
    shut_at = along[wall.heading] + (180 if hinged_at_end else 0)
    view.arc(hinge, width_ticks, shut_at, open_at, FINE)
