"""Ceilings that are not flat, and what hangs below them: volumes by prisms.

A surface through the heights of the corners is made of triangles; under each stands a
prism whose volume is its area by the mean of its three heights.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from shop.surveys.engine.adjust import crossing
from shop.surveys.engine.errors import SurveyError
from shop.surveys.engine.outline import M_PER_TICK, Corner

VERSION = "ceiling-1"

_LINE = 1e-12
"""Corners whose spread across is less than a millionth of that along lie on one line."""


class Ceiling(StrEnum):
    """The shape of a ceiling."""

    FLAT = "flat"
    SLOPE = "slope"
    CORNERS = "corners"


@dataclass(frozen=True, slots=True)
class Beam:
    """A beam or soffit as a box below the ceiling, in ticks."""

    name: str
    length_ticks: int
    width_ticks: int
    drop_ticks: int

    @property
    def volume_m3(self) -> float:
        """What it takes of the room, in m³."""
        return self.length_ticks * self.width_ticks * self.drop_ticks * M_PER_TICK**3


def triangles(corners: Sequence[Corner]) -> tuple[tuple[int, int, int], ...]:
    """Cut an outline that does not cross itself into triangles, by clipping ears.

    Returns
    -------
    tuple of three indices each
        Two fewer than there are corners, fewer where some lie on one line.

    Raises
    ------
    SurveyError
        When the outline crosses itself.
    """
    if crossing(corners) is not None:
        raise SurveyError("walls", "The walls cross.")
    left = list(range(len(corners)))
    if _twice(corners, left) < 0:
        left.reverse()
    found = []
    while len(left) > 3:
        # Every outline that does not cross itself has two ears (G. Meisters, 1975).
        ear = next(n for n in range(len(left)) if _is_ear(corners, left, n))
        before, after = left[ear - 1], left[(ear + 1) % len(left)]
        found.append((before, left.pop(ear), after))
    return (*found, (left[0], left[1], left[2]))


def _twice(corners: Sequence[Corner], ring: Sequence[int]) -> float:
    """Return twice the area within some corners, above zero anticlockwise."""
    spots = [corners[n] for n in (*ring, ring[0])]
    return sum(
        a.x_ticks * b.y_ticks - b.x_ticks * a.y_ticks for a, b in pairwise(spots)
    )


def _is_ear(corners: Sequence[Corner], left: Sequence[int], n: int) -> bool:
    """Whether a corner may be cut off: it turns left and no other corner lies within."""
    ear = (left[n - 1], left[n], left[(n + 1) % len(left)])
    area = _twice(corners, ear)
    if area <= 0:
        # A corner on a straight line is cut off first: it holds nothing.
        return area == 0
    return not any(_within(corners, ear, other) for other in left if other not in ear)


def _within(corners: Sequence[Corner], ear: tuple[int, int, int], other: int) -> bool:
    a, b, c = ear
    return all(
        _twice(corners, (one, two, other)) >= 0 for one, two in ((a, b), (b, c), (c, a))
    )


def volume_under(corners: Sequence[Corner], heights_ticks: Sequence[float]) -> float:
    """Return the volume in m³ under a surface of triangles through the corners' heights."""
    prisms = (
        abs(_twice(corners, ring)) / 2 * sum(heights_ticks[n] for n in ring) / 3
        for ring in triangles(corners)
    )
    return sum(prisms) * M_PER_TICK**3


def slope_heights(
    corners: Sequence[Corner], read_ticks: Sequence[int | None]
) -> tuple[float, ...] | None:
    """Return the height at every corner of a single slope by those that were read.

    Parameters
    ----------
    corners
        Of the outline, in ticks.
    read_ticks
        The height at each corner, nothing where it was not read.

    Returns
    -------
    tuple of float or None
        The plane through three heights, or the nearest one (least squares) through more;
        nothing with fewer than three, or with all of them on one line.
    """
    known = [
        (c.x_ticks, c.y_ticks, height)
        for c, height in zip(corners, read_ticks, strict=True)
        if height is not None
    ]
    if len(known) < 3:
        return None
    mx, my, mean = (sum(column) / len(known) for column in zip(*known, strict=True))
    off = [(x - mx, y - my, z - mean) for x, y, z in known]
    xx, xy, yy = _sums((x * x, x * y, y * y) for x, y, _ in off)
    xz, yz, _ = _sums((x * z, y * z, 0) for x, y, z in off)
    # The normal equations of two unknowns; on one line they have no single answer.
    whole = xx * yy - xy * xy
    if whole <= _LINE * max(xx, yy) ** 2:
        return None
    across, along = (xz * yy - yz * xy) / whole, (yz * xx - xz * xy) / whole
    return tuple(
        mean + across * (c.x_ticks - mx) + along * (c.y_ticks - my) for c in corners
    )


def _sums(rows: Iterable[tuple[float, float, float]]) -> tuple[float, float, float]:
    one, two, three = zip(*rows, strict=True)
    return sum(one), sum(two), sum(three)
