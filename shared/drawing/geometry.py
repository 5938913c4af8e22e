"""Points and boxes on paper, in millimetres, x to the right and y downwards."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Point:
    """A place on the paper, in millimetres."""

    x: float
    y: float

    def moved(self, dx_mm: float, dy_mm: float) -> Point:
        """Return the point shifted right and down."""
        return Point(self.x + dx_mm, self.y + dy_mm)


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle on the paper, in millimetres."""

    left: float
    top: float
    right: float
    bottom: float

    def __post_init__(self) -> None:
        """Refuse a box that is inside out."""
        if self.right < self.left or self.bottom < self.top:
            raise ValueError(f"inside-out box: {self}")

    @property
    def width(self) -> float:
        """Return the width in millimetres."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Return the height in millimetres."""
        return self.bottom - self.top

    @property
    def centre(self) -> Point:
        """Return the middle of the box."""
        return Point((self.left + self.right) / 2, (self.top + self.bottom) / 2)

    def moved(self, dx_mm: float, dy_mm: float) -> Box:
        """Return the box shifted right and down."""
        return Box(
            self.left + dx_mm,
            self.top + dy_mm,
            self.right + dx_mm,
            self.bottom + dy_mm,
        )

    def grown(self, by_mm: float) -> Box:
        """Return the box with the same margin added on each side."""
        return Box(
            self.left - by_mm, self.top - by_mm, self.right + by_mm, self.bottom + by_mm
        )

    def overlaps(self, other: Box) -> bool:
        """Say whether the two share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def meets(self, start: Point, end: Point) -> bool:
        """Say whether the straight line from start to end comes inside the box."""
        low, high = 0.0, 1.0
        for at, to, near, far in (
            (start.x, end.x, self.left, self.right),
            (start.y, end.y, self.top, self.bottom),
        ):
            step = to - at
            if step == 0:
                if not near < at < far:
                    return False
                continue
            shares = sorted(((near - at) / step, (far - at) / step))
            low, high = max(low, shares[0]), min(high, shares[1])
        return low < high

    def contains(self, other: Box) -> bool:
        """Say whether the other lies wholly inside this one."""
        return (
            self.left <= other.left
            and self.top <= other.top
            and self.right >= other.right
            and self.bottom >= other.bottom
        )


def box_around(points: Iterable[Point]) -> Box:
    """Return the smallest box that holds all the points; at least one is needed."""
    found = list(points)
    return Box(
        min(p.x for p in found),
        min(p.y for p in found),
        max(p.x for p in found),
        max(p.y for p in found),
    )


def union(boxes: Iterable[Box]) -> Box:
    """Return the smallest box that holds all the boxes; at least one is needed."""
    found = list(boxes)
    return Box(
        min(b.left for b in found),
        min(b.top for b in found),
        max(b.right for b in found),
        max(b.bottom for b in found),
    )
