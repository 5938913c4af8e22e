"""The saw's and the tape's geometry, as formulas.

Arguments and results are ticks. Where a tangent comes in, a face is computed in
floating point and rounded once, to the nearest tick (half a tick is 1.6 µm, far
finer than a saw); rounded faces are never fed back into a sum.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BevelPair:
    """The two halves of a strip ripped once with the blade tilted."""

    long_sum_ticks: int
    long_ticks: int
    short_ticks: int


def rise_ticks(thickness_ticks: int, bevel_deg: float) -> int:
    """Return how much a bevel takes off one face against the other: t · tan θ."""
    return round(thickness_ticks * math.tan(math.radians(bevel_deg)))


def bevel_pair(
    strip_ticks: int, thickness_ticks: int, *, kerf_ticks: int, bevel_deg: float
) -> BevelPair:
    """Rip a strip into two equal bevelled halves.

    bevel_deg is the blade's tilt from upright, kerf_ticks is measured square to the
    cut, so that each face loses kerf / cos θ. With strip W and thickness t:
    sum of the long faces = W + t tan θ − k / cos θ, of the short ones
    W − t tan θ − k / cos θ; the halves are equal. Plane geometry: the saw takes
    (k / cos θ) t of the section and what is left is shared. Not checked: that the
    strip is wider than narrowest_for_pair.
    """
    tilt = math.radians(bevel_deg)
    lost = kerf_ticks / math.cos(tilt)
    rise = thickness_ticks * math.tan(tilt)
    short = round((strip_ticks - rise - lost) / 2)
    long_sum = strip_ticks + rise - lost
    return BevelPair(round(long_sum), round(long_sum / 2), short)


def strip_for_pair(
    long_ticks: int, thickness_ticks: int, *, kerf_ticks: int, bevel_deg: float
) -> int:
    """Return the strip that gives two cleats of this long face: 2L − t tan θ + k / cos θ."""
    tilt = math.radians(bevel_deg)
    return round(
        2 * long_ticks - thickness_ticks * math.tan(tilt) + kerf_ticks / math.cos(tilt)
    )


def narrowest_for_pair(
    thickness_ticks: int, *, kerf_ticks: int, bevel_deg: float
) -> int:
    """Return the strip of which nothing is left on the short faces: t tan θ + k / cos θ."""
    tilt = math.radians(bevel_deg)
    return math.ceil(thickness_ticks * math.tan(tilt) + kerf_ticks / math.cos(tilt) + 1)


@dataclass(frozen=True, slots=True)
class Rips:
    """Strips from one width: how many, what they and the cuts between use, what is left.

    left_ticks is before the cut that frees the last strip; that takes one kerf more.
    """

    count: int
    used_ticks: int
    left_ticks: int


def rips_from_width(width_ticks: int, strip_ticks: int, kerf_ticks: int) -> Rips:
    """Count the strips of one width from a sheet: floor((B + k) / (w + k))."""
    count = (width_ticks + kerf_ticks) // (strip_ticks + kerf_ticks)
    used = count * strip_ticks + max(count - 1, 0) * kerf_ticks
    return Rips(count, used, width_ticks - used)


def halved(width_ticks: int, kerf_ticks: int) -> int:
    """Return each half of a sheet cut down its middle, rounded down to a tick."""
    return (width_ticks - kerf_ticks) // 2


def side_travel(clear_ticks: int, span_ticks: int, margin_ticks: int) -> int:
    """Return how far a panel may slide each way on its wall cleat.

    The lesser of (clear − span) / 2 and span / 2 − margin, never below zero: the
    panel's centre must stay over the cleat, margin inside its ends. span is from
    the outer end of the first cleat to that of the last.
    """
    return max(0, min((clear_ticks - span_ticks) // 2, span_ticks // 2 - margin_ticks))


def evenly(first_ticks: int, last_ticks: int, count: int) -> tuple[int, ...]:
    """Return count places from first to last, equally spaced and mirrored exactly.

    One place lies in the middle; places are rounded to a tick towards the ends.
    """
    if count == 1:
        return ((first_ticks + last_ticks) // 2,)
    span = last_ticks - first_ticks
    half = [i * span // (count - 1) for i in range((count + 1) // 2)]
    mirrored = [span - place for place in reversed(half[: count // 2])]
    return tuple(first_ticks + place for place in half + mirrored)


def count_within(span_ticks: int, spacing_ticks: int, least: int) -> int:
    """Return how many places keep neighbours within spacing (0 = no such limit)."""
    if not spacing_ticks or span_ticks <= 0:
        return least
    return max(least, math.ceil(span_ticks / spacing_ticks) + 1)
