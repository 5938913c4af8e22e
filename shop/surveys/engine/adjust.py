"""Closing a walk that does not close: what is shared out, where, and what to read again.

A room of right angles alone is closed axis by axis, its right angles held. Where corners
were measured, the angles are closed first, each measured one by an equal part; then the
compass rule shares the closing error out in proportion to length (N. Bowditch, 1808; in
every textbook of plane surveying, for one Wolf and Ghilani, Elementary Surveying, ch. 10).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import accumulate
from math import atan2, degrees, hypot, radians, sin

from shop.surveys.engine.errors import SurveyError
from shop.surveys.engine.outline import (
    FULL_TURN,
    M_PER_TICK,
    QUARTER,
    Corner,
    WallLine,
    area_ticks2,
    outline,
    step,
)

VERSION = "adjust-1"

TURN_LIMIT = 20_000
"""Angles that miss a full turn by more, in millidegrees, hold a slip: a corner put in the
wrong way is 90 or 180 degrees off, a bevel gauge about one (common practice)."""

SHARE_LIMIT = 0.05
"""A closing error above a twentieth of the perimeter is a slip, not an error to share
out (common practice)."""

ALONG_DEGREES = 20.0
"""A wall that runs within so much of the closing error's direction may have caused it."""


class Method(StrEnum):
    """How a walk was closed."""

    AXES = "axes"
    COMPASS = "compass"


@dataclass(frozen=True, slots=True)
class Adjusted:
    """A plan that closes.

    Attributes
    ----------
    method
        Per axis with right angles held, or by the compass rule.
    corners
        Where each wall starts, in whole ticks; the first is (0, 0).
    lengths_ticks
        Each wall's length between its corners, to the nearest tick.
    changes_ticks
        Adjusted less read, wall by wall.
    turn_changes
        What the angular closure added to each corner, in millidegrees.
    """

    method: Method
    corners: tuple[Corner, ...]
    lengths_ticks: tuple[int, ...]
    changes_ticks: tuple[int, ...]
    turn_changes: tuple[int, ...]
    version: str = VERSION

    @property
    def area_m2(self) -> float:
        """Area within the corners in m² (Gauss's shoelace formula)."""
        return area_ticks2(self.corners) * M_PER_TICK**2

    @property
    def perimeter_ticks(self) -> int:
        """All adjusted lengths together."""
        return sum(self.lengths_ticks)

    @property
    def is_changed(self) -> bool:
        """Whether anything had to give."""
        return any(self.changes_ticks) or any(self.turn_changes)


def turn_by_diagonal(length_ticks: int, next_ticks: int, diagonal_ticks: int) -> int:
    """Return the turn to the right at a corner by the diagonal that spans it.

    Parameters
    ----------
    length_ticks, next_ticks
        The walls that meet at the corner.
    diagonal_ticks
        From the far end of one to the far end of the other.

    Returns
    -------
    int
        Millidegrees: 180 degrees less the angle inside, by the law of cosines.

    Raises
    ------
    SurveyError
        When no triangle has these three sides.
    """
    a, b, c = length_ticks, next_ticks, diagonal_ticks
    if min(a, b) <= 0 or not abs(a - b) < c < a + b:
        raise SurveyError(
            "diagonal",
            "No triangle has these sides: the diagonal is shorter than both walls"
            " together, and longer than their difference.",
        )
    # Heron's products keep their precision where the cosine of a flat corner would not.
    opened = atan2(
        ((a + b + c) * (a + b - c) * (c + a - b) * (c - a + b)) ** 0.5,
        a * a + b * b - c * c,
    )
    return FULL_TURN // 2 - round(degrees(opened) * 1000)


def all_square(walls: Sequence[WallLine]) -> bool:
    """Whether no corner was measured and all are right angles."""
    return not any(w.angle_read or w.turn_millidegrees % QUARTER for w in walls)


def adjust(walls: Sequence[WallLine]) -> Adjusted | None:
    """Close a walk; nothing when it holds a slip that must not be shared out.

    Parameters
    ----------
    walls
        At least three, in the order walked, clockwise, as read.

    Returns
    -------
    Adjusted or None
        Nothing when the corners don't make one full turn, when the closing error is too
        large a share of the perimeter, or when a wall would be left without length.
    """
    turned = _close_angles(walls)
    if turned is None or outline(turned).closing_share > SHARE_LIMIT:
        return None
    method = Method.AXES if all_square(walls) else Method.COMPASS
    corners = _axes(turned) if method is Method.AXES else _compass(turned)
    lengths = tuple(
        round(hypot(b.x_ticks - a.x_ticks, b.y_ticks - a.y_ticks))
        for a, b in zip(corners, (*corners[1:], corners[0]), strict=True)
    )
    if min(lengths) <= 0:
        return None
    return Adjusted(
        method=method,
        corners=corners,
        lengths_ticks=lengths,
        changes_ticks=tuple(
            new - wall.length_ticks for new, wall in zip(lengths, walls, strict=True)
        ),
        turn_changes=tuple(
            new.turn_millidegrees - wall.turn_millidegrees
            for new, wall in zip(turned, walls, strict=True)
        ),
    )


def _close_angles(walls: Sequence[WallLine]) -> list[WallLine] | None:
    """Share what the turns miss of a full one equally among the corners measured."""
    miss = FULL_TURN - sum(wall.turn_millidegrees for wall in walls)
    read = [n for n, wall in enumerate(walls) if wall.angle_read]
    if miss and (not read or abs(miss) > TURN_LIMIT):
        return None
    parts = dict(zip(read, _share(miss, [1] * len(read)), strict=True))
    return [
        replace(wall, turn_millidegrees=wall.turn_millidegrees + parts.get(n, 0))
        for n, wall in enumerate(walls)
    ]


def _share(total: int, weights: Sequence[int]) -> list[int]:
    """Split a whole number in proportion to weights, to the last one exactly."""
    whole, given, parts = sum(weights), 0, []
    for reached in accumulate(weights):
        upto = round(total * reached / whole)
        parts.append(upto - given)
        given = upto
    return parts


def _axes(walls: Sequence[WallLine]) -> tuple[Corner, ...]:
    """Close each axis by itself, in proportion to length; right angles stay right."""
    steps = [
        (round(dx) * wall.length_ticks, round(dy) * wall.length_ticks)
        for wall, (dx, dy) in _headed(walls)
    ]
    across = _closed([x for x, _ in steps])
    along = _closed([y for _, y in steps])
    return _corners(list(zip(across, along, strict=True)))


def _closed(steps: Sequence[int]) -> list[int]:
    weights = [abs(step) for step in steps]
    parts = _share(-sum(steps), weights) if any(weights) else [0] * len(steps)
    return [step + part for step, part in zip(steps, parts, strict=True)]


def _compass(walls: Sequence[WallLine]) -> tuple[Corner, ...]:
    plan = outline(walls)
    ends = (*plan.corners[1:], plan.end)
    return compass_rule(ends, [wall.length_ticks for wall in walls])


def compass_rule(
    ends: Sequence[Corner], lengths_ticks: Sequence[int]
) -> tuple[Corner, ...]:
    """Take from each course its share, by length, of the closing error (compass rule).

    Parameters
    ----------
    ends
        Where each course ends, the walk begun at (0, 0), in ticks.
    lengths_ticks
        The courses' lengths.

    Returns
    -------
    tuple of Corner
        Where each course starts, in whole ticks; the first is (0, 0).
    """
    error, whole = ends[-1], sum(lengths_ticks)
    shifted = [
        Corner(
            round(end.x_ticks - error.x_ticks * upto / whole),
            round(end.y_ticks - error.y_ticks * upto / whole),
        )
        for end, upto in zip(ends, accumulate(lengths_ticks), strict=True)
    ]
    return (Corner(0, 0), *shifted[:-1])


def _corners(steps: Sequence[tuple[int, int]]) -> tuple[Corner, ...]:
    spots = [(0, 0)]
    for dx, dy in steps[:-1]:
        spots.append((spots[-1][0] + dx, spots[-1][1] + dy))
    return tuple(Corner(*spot) for spot in spots)


def _headed(
    walls: Sequence[WallLine],
) -> list[tuple[WallLine, tuple[float, float]]]:
    turned = [0, *accumulate(wall.turn_millidegrees for wall in walls)]
    return [(wall, step(at)) for wall, at in zip(walls, turned, strict=False)]


def suspects(walls: Sequence[WallLine]) -> tuple[int, ...]:
    """Return which walls to read again, by their place in the walk.

    A slip in one length shows as a closing error in that wall's direction, so they are the
    walls along it: in a room of right angles those of the worse axis. Empty when it closes.
    """
    plan = outline(walls)
    across, along = plan.end.x_ticks, plan.end.y_ticks
    if not (round(across) or round(along)):
        return ()
    if all_square(walls):
        across, along = (1, 0) if abs(across) >= abs(along) else (0, 1)
    size = hypot(across, along)
    # The sine of the angle between a wall and the error: nought where they are parallel.
    off = [abs(dx * along - dy * across) / size for _, (dx, dy) in _headed(walls)]
    limit = max(min(off), sin(radians(ALONG_DEGREES))) + 1e-9
    return tuple(n for n, sine in enumerate(off) if sine <= limit)


def crossing(corners: Sequence[Corner]) -> tuple[int, int] | None:
    """Return two walls that cross, by their place in the walk; nothing where none do."""
    ends = [*corners[1:], corners[0]]
    sides = list(zip(corners, ends, strict=True))
    for one in range(len(sides)):
        for two in range(one + 2, len(sides)):
            neighbours = one == 0 and two == len(sides) - 1
            if not neighbours and _cross(sides[one], sides[two]):
                return one, two
    return None


def _cross(one: tuple[Corner, Corner], two: tuple[Corner, Corner]) -> bool:
    return (
        _turns(*one, two[0]) * _turns(*one, two[1]) <= 0
        and _turns(*two, one[0]) * _turns(*two, one[1]) <= 0
        and _meet(one, two)
    )


def _turns(a: Corner, b: Corner, c: Corner) -> int:
    """Say on which side of a to b the third one lies: 1 left, -1 right, 0 on the line."""
    area = (b.x_ticks - a.x_ticks) * (c.y_ticks - a.y_ticks) - (
        b.y_ticks - a.y_ticks
    ) * (c.x_ticks - a.x_ticks)
    return (area > 0) - (area < 0)


def _meet(one: tuple[Corner, Corner], two: tuple[Corner, Corner]) -> bool:
    """Whether the boxes round two walls touch; decides for walls on one line."""
    return _overlap([c.x_ticks for c in one], [c.x_ticks for c in two]) and _overlap(
        [c.y_ticks for c in one], [c.y_ticks for c in two]
    )


def _overlap(one: Sequence[float], two: Sequence[float]) -> bool:
    return max(min(one), min(two)) <= min(max(one), max(two))
