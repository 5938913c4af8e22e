"""Scales: from ticks of the real thing to millimetres on paper, whole or broken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

TICKS_PER_MM = 320

# ISO 5455 reductions, and those between that scale rules carry too [from memory].
METRIC_SCALES = (1, 2, 5, 10, 15, 20, 25, 30, 40, 50, 75, 100, 200)
# Inches to the foot: full, 6, 3, 1 1/2, 1, 3/4, 1/2, 3/8, 1/4, 1/8, 1/16 in = 1 ft.
IMPERIAL_SCALES = (1, 2, 4, 8, 12, 16, 24, 32, 48, 96, 192)


@dataclass(frozen=True, slots=True)
class Scale:
    """A reduction: ``denominator`` 10 draws 600 mm as 60 mm."""

    denominator: int

    def __post_init__(self) -> None:
        """Refuse a scale that is no reduction."""
        if self.denominator < 1:
            raise ValueError("a scale needs a denominator of 1 or more")

    def paper_mm(self, ticks: float) -> float:
        """Return the length on paper in millimetres."""
        return ticks / (TICKS_PER_MM * self.denominator)

    def ticks(self, paper_mm: float) -> int:
        """Return the real length in ticks that is nearest to a length on paper."""
        return round(paper_mm * TICKS_PER_MM * self.denominator)

    def __str__(self) -> str:
        """Print as a ratio."""
        return f"1:{self.denominator}"


class Axis(Protocol):
    """Where a coordinate in ticks falls along one direction of the paper."""

    def mm(self, ticks: float) -> float:
        """Return millimetres on paper from the origin of the view."""


@dataclass(frozen=True, slots=True)
class PlainAxis:
    """An unbroken axis."""

    scale: Scale

    def mm(self, ticks: float) -> float:
        """Return millimetres on paper from the origin of the view."""
        return self.scale.paper_mm(ticks)


@dataclass(frozen=True, slots=True)
class Window:
    """One kept stretch of a broken axis, in ticks."""

    start_ticks: int
    end_ticks: int


@dataclass(frozen=True, slots=True)
class BrokenAxis:
    """An axis with stretches left out; what is kept stays to scale.

    ``windows`` are the kept stretches, rising and apart. A coordinate that falls in a left-out
    stretch lands in the gap, ``gap_mm`` wide on paper, in proportion.
    """

    scale: Scale
    windows: tuple[Window, ...]
    gap_mm: float = 5.0

    def __post_init__(self) -> None:
        """Refuse windows that overlap or run backwards."""
        edges = [t for w in self.windows for t in (w.start_ticks, w.end_ticks)]
        if not edges or edges != sorted(edges):
            raise ValueError("windows must rise and not overlap")

    def mm(self, ticks: float) -> float:
        """Return millimetres on paper from the start of the first window."""
        at = 0.0
        for here, following in zip(
            self.windows, (*self.windows[1:], None), strict=True
        ):
            if ticks <= here.end_ticks or following is None:
                return at + self.scale.paper_mm(ticks - here.start_ticks)
            at += self.scale.paper_mm(here.end_ticks - here.start_ticks)
            left_out = following.start_ticks - here.end_ticks
            if ticks < following.start_ticks:
                return at + self.gap_mm * (ticks - here.end_ticks) / left_out
            at += self.gap_mm if left_out else 0
        raise AssertionError("unreachable: the last window always answers")

    def breaks(self) -> tuple[Window, ...]:
        """Return the stretches left out."""
        return tuple(
            Window(a.end_ticks, b.start_ticks)
            for a, b in zip(self.windows, self.windows[1:], strict=False)
            if b.start_ticks > a.end_ticks
        )


def windows_around(
    features: Sequence[tuple[int, int]],
    *,
    total_ticks: int,
    margin_ticks: int,
    least_gap_ticks: int,
) -> tuple[Window, ...]:
    """Keep what lies near the features and leave out the long dull stretches between.

    Parameters
    ----------
    features : sequence of (start_ticks, end_ticks)
        Stretches to show, in any order; parts beyond 0 and ``total_ticks`` widen the whole.
    total_ticks : int
        Length of the thing; both its ends are always shown.
    margin_ticks : int
        Shown on either side of each feature.
    least_gap_ticks : int
        A stretch shorter than this is shown rather than left out.
    """
    low = min(0, *(a for a, _ in features), 0)
    high = max(total_ticks, *(b for _, b in features), total_ticks)
    spans = [(low, low + margin_ticks), (high - margin_ticks, high)]
    spans += [(a - margin_ticks, b + margin_ticks) for a, b in features]
    kept: list[tuple[int, int]] = []
    for start, end in sorted((max(low, a), min(high, b)) for a, b in spans):
        if kept and start - kept[-1][1] < least_gap_ticks:
            kept[-1] = (kept[-1][0], max(kept[-1][1], end))
        else:
            kept.append((start, end))
    return tuple(Window(a, b) for a, b in kept)


def largest_scale(
    real_ticks: int, paper_mm: float, scales: Sequence[int] = METRIC_SCALES
) -> Scale:
    """Return the largest standard scale at which the length fits, else the smallest one."""
    for denominator in scales:
        if Scale(denominator).paper_mm(real_ticks) <= paper_mm:
            return Scale(denominator)
    return Scale(scales[-1])
