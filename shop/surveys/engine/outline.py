"""The plan of a room, walked wall by wall: corners, closing error, area, volume.

A person walks clockwise, each wall on the left hand, and turns right at a wall's end. On the
plan the first wall runs from (0, 0) along +x, and y points up, so the room lies below it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import cos, hypot, radians, sin

from shop.surveys.engine.errors import SurveyError

VERSION = "outline-1"

QUARTER = 90_000
FULL_TURN = 360_000
"""Millidegrees."""

M_PER_TICK = 3.125e-6
"""A tick is 3.125 µm (shared.length)."""

# Right angles stay exact: cos(radians(90)) is not quite zero.
_EXACT = {0: (1.0, 0.0), 90_000: (0.0, -1.0), 180_000: (-1.0, 0.0), 270_000: (0.0, 1.0)}


@dataclass(frozen=True, slots=True)
class WallLine:
    """One wall as read: its length, and the turn to the right at its end.

    `angle_read` says that the turn was measured, by an angle or a diagonal, and so may err;
    other corners are taken for right angles and held.
    """

    length_ticks: int
    turn_millidegrees: int = QUARTER
    angle_read: bool = False

    def __post_init__(self) -> None:
        """Refuse a wall of no length and a turn on the spot."""
        if self.length_ticks <= 0:
            raise SurveyError("length", "A wall is longer than nothing.")
        if not -FULL_TURN // 2 < self.turn_millidegrees < FULL_TURN // 2:
            raise SurveyError("turn", "A corner turns by less than half a circle.")


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the plan in ticks."""

    x_ticks: float
    y_ticks: float


@dataclass(frozen=True, slots=True)
class Outline:
    """A room's plan as read, not adjusted.

    Attributes
    ----------
    corners
        Where each wall starts, in order; the first is (0, 0).
    end
        Where the last wall ends: the first corner, were there no errors.
    perimeter_ticks
        All lengths together.
    area_m2
        Area within the corners, in m².
    turned_millidegrees
        All turns together: 360 000 when the angles close.
    """

    corners: tuple[Corner, ...]
    end: Corner
    perimeter_ticks: int
    area_m2: float
    turned_millidegrees: int
    version: str = VERSION

    @property
    def closing_ticks(self) -> float:
        """How far the walk ends from its beginning, in ticks."""
        return hypot(self.end.x_ticks, self.end.y_ticks)

    @property
    def closing_share(self) -> float:
        """The closing error as a share of the perimeter."""
        return self.closing_ticks / self.perimeter_ticks


def rectangle(length_ticks: int, width_ticks: int) -> tuple[WallLine, ...]:
    """Return the four walls of a rectangular room, clockwise, the first one long."""
    return tuple(
        WallLine(side)
        for side in (length_ticks, width_ticks, length_ticks, width_ticks)
    )


def outline(walls: Sequence[WallLine]) -> Outline:
    """Walk the walls and return the plan as read.

    Parameters
    ----------
    walls
        At least three, in the order walked, clockwise.

    Returns
    -------
    Outline
        Exact in ticks where all corners are right angles. The area is Gauss's shoelace
        formula over the corners, the last one joined to the first.

    Raises
    ------
    SurveyError
        With fewer than three walls.
    """
    if len(walls) < 3:
        raise SurveyError("walls", "A room has three walls or more.")
    turned = [0, *accumulate(wall.turn_millidegrees for wall in walls)]
    spots = [(0.0, 0.0)]
    for wall, heading in zip(walls, turned, strict=False):
        dx, dy = step(heading)
        x, y = spots[-1]
        spots.append((x + wall.length_ticks * dx, y + wall.length_ticks * dy))
    corners = tuple(Corner(*spot) for spot in spots[:-1])
    return Outline(
        corners=corners,
        end=Corner(*spots[-1]),
        perimeter_ticks=sum(wall.length_ticks for wall in walls),
        area_m2=area_ticks2(corners) * M_PER_TICK**2,
        turned_millidegrees=turned[-1],
    )


def step(heading_millidegrees: int) -> tuple[float, float]:
    """Return the unit step of a heading, turned to the right from +x."""
    heading = heading_millidegrees % FULL_TURN
    if heading in _EXACT:
        return _EXACT[heading]
    angle = radians(heading / 1000)
    return (cos(angle), -sin(angle))


def area_ticks2(corners: Sequence[Corner]) -> float:
    """Return the area within a polygon by Gauss's shoelace formula, in square ticks."""
    ring = [*corners, corners[0]]
    twice = sum(
        a.x_ticks * b.y_ticks - b.x_ticks * a.y_ticks for a, b in pairwise(ring)
    )
    return abs(twice) / 2


def volume_m3(area_m2: float, height_ticks: int) -> float:
    """Return the volume under a flat ceiling in m³."""
    return area_m2 * height_ticks * M_PER_TICK
