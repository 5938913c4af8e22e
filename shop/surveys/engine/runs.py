"""Walls of any direction on a plan: strips with mitred corners, windows, doors, gaps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, degrees, hypot

from shared.drawing import Side, Spot, View
from shared.drawing.hatch import masonry_within
from shared.drawing.pens import BLANK, CUT, FINE, OUTLINE, WALL_TINT, Pen
from shop.surveys.engine.outline import Corner
from shop.surveys.engine.room import RoomIn, WallIn

_STRAIGHT = 0.01
"""A wall off an axis by less than so many radians is dimensioned along that axis."""

_SHARPEST = 0.3
"""Corners sharper than this (one plus the cosine of the turn) are not mitred to a spike."""

Vector = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Run:
    """A wall on the plan, walked from its left corner with the room to the right.

    `mitres` are the outward steps at both ends, in units of the wall's thickness.
    """

    wall: WallIn
    start: Corner
    end: Corner
    mitres: tuple[Vector, Vector] = ((0, 0), (0, 0))

    @property
    def length(self) -> float:
        """How long it is drawn, in ticks."""
        return hypot(
            self.end.x_ticks - self.start.x_ticks, self.end.y_ticks - self.start.y_ticks
        )

    @property
    def along(self) -> Vector:
        """The unit step along it."""
        size = self.length or 1.0
        return (
            (self.end.x_ticks - self.start.x_ticks) / size,
            (self.end.y_ticks - self.start.y_ticks) / size,
        )

    @property
    def outwards(self) -> Vector:
        """The unit step out of the room."""
        x, y = self.along
        return (-y, x)

    @property
    def side(self) -> Side | None:
        """On which side of the plan it is dimensioned; nothing for a slanting wall."""
        x, y = self.outwards
        if abs(x) < _STRAIGHT:
            return Side.ABOVE if y > 0 else Side.BELOW
        if abs(y) < _STRAIGHT:
            return Side.RIGHT if x > 0 else Side.LEFT
        return None

    def spot(self, from_left_ticks: float, out_ticks: float = 0) -> Spot:
        """Return the spot so far from its left corner and so far out of the room."""
        (dx, dy), (ox, oy) = self.along, self.outwards
        return (
            round(self.start.x_ticks + from_left_ticks * dx + out_ticks * ox),
            round(self.start.y_ticks + from_left_ticks * dy + out_ticks * oy),
        )


def runs(room: RoomIn) -> tuple[Run, ...]:
    """Return the walls on the plan; the last one ends open where the plan is not closed."""
    starts = room.corners
    last = starts[0] if room.adjusted else room.plan.end
    bare = [
        Run(wall, start, end)
        for wall, start, end in zip(
            room.walls, starts, (*starts[1:], last), strict=True
        )
    ]
    return tuple(
        Run(
            run.wall,
            run.start,
            run.end,
            (_mitre(bare[n - 1], run), _mitre(run, bare[(n + 1) % len(bare)])),
        )
        for n, run in enumerate(bare)
    )


def _mitre(one: Run, two: Run) -> Vector:
    """Return the step from a corner to where the outer faces of two walls meet."""
    (ax, ay), (bx, by) = one.outwards, two.outwards
    share = 1 + ax * bx + ay * by
    if share < _SHARPEST or one.end != two.start:
        return ((ax + bx) / 2, (ay + by) / 2) if one.end == two.start else (ax, ay)
    return ((ax + bx) / share, (ay + by) / share)


def strip(view: View, run: Run, thickness_ticks: int) -> None:
    """Draw a wall cut through, hatched, mitred into its neighbours."""
    inner = [run.spot(0), run.spot(run.length)]
    outer = [
        (round(spot[0] + x * thickness_ticks), round(spot[1] + y * thickness_ticks))
        for spot, (x, y) in zip(inner, run.mitres, strict=True)
    ]
    ring = [inner[0], inner[1], outer[1], outer[0]]
    view.polygon(ring, Pen(0, fill=WALL_TINT))
    masonry_within(view, [view.at(spot) for spot in ring])
    view.line(inner[0], inner[1], CUT)
    view.line(outer[0], outer[1], CUT)


def gap(view: View, run: Run, start: int, width: int, thickness_ticks: int) -> None:
    """Cut a doorway or window out of a wall already drawn, with its two reveals."""
    t, end = thickness_ticks, start + width
    ring = [run.spot(start, t), run.spot(end, t), run.spot(end), run.spot(start)]
    view.polygon(ring, BLANK)
    for along in (start, end):
        view.line(run.spot(along, 0), run.spot(along, t), CUT)


def window(view: View, run: Run, start: int, width: int, thickness_ticks: int) -> None:
    """Draw a window: the gap, both faces of the wall, and the glass between."""
    gap(view, run, start, width, thickness_ticks)
    t, end = thickness_ticks, start + width
    for out, pen in ((0, FINE), (t, FINE), (t / 2, OUTLINE)):
        view.line(run.spot(start, out), run.spot(end, out), pen)


def door(view: View, run: Run, start: int, width: int, thickness_ticks: int) -> None:
    """Draw a door: the gap, the leaf open into the room, and its swing.

    Nobody asked where it hangs: on its left, as one looks at it from inside.
    """
    gap(view, run, start, width, thickness_ticks)
    view.line(run.spot(start), run.spot(start, -width), OUTLINE)
    x, y = run.along
    shut = degrees(atan2(y, x))
    view.arc(run.spot(start), width, shut, shut - 90, FINE)


def placed(wall: WallIn) -> Iterator[tuple[int, int, int]]:
    """Yield the openings that lie on the wall: their place in it, start and width."""
    spans = [
        (n, *opening.span_ticks)
        for n, opening in enumerate(wall.openings)
        if opening.span_ticks
    ]
    for n, start, end in sorted(spans, key=lambda span: span[1]):
        if end <= wall.line.length_ticks:
            yield n, start, end - start
