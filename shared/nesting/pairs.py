"""Two parts from one blank by one tilted rip (pure plane geometry)."""

from __future__ import annotations

import math
from dataclasses import dataclass

from shared.length import MAX_TICKS
from shared.nesting.errors import NestingError


@dataclass(frozen=True, slots=True)
class Faces:
    """The two faces across each half of a pair, in ticks."""

    long_ticks: int
    short_ticks: int


@dataclass(frozen=True, slots=True)
class Pair:
    """A blank that one rip, ``bevel_deg`` from upright, cuts into two equal parts.

    The rip runs along the blank's length. To the solver the blank is a rectangle like any
    other: a strip that holds nothing but blanks of one width and one bevel is tilt-ripped
    whole, before it is crosscut; in any other strip each blank is, after it.
    """

    bevel_deg: float
    thickness_ticks: int

    def __post_init__(self) -> None:
        """Refuse what no saw tilts to, and what has no thickness."""
        if not 0 < self.bevel_deg < 90:  # NaN is refused, too
            raise NestingError(
                "bevel_deg", "A bevel lies between upright and flat, such as 45."
            )
        if not 0 < self.thickness_ticks <= MAX_TICKS:
            raise NestingError(
                "thickness_ticks", "A bevelled blank needs its real thickness."
            )

    def faces(self, width_ticks: int, kerf_ticks: int) -> Faces:
        """Return both faces of each half, to the nearest tick.

        With strip W, thickness t, tilt θ and a kerf k measured square to the cut, the saw
        takes k / cos θ along each face [D]: long = (W + t tan θ − k / cos θ) / 2,
        short = (W − t tan θ − k / cos θ) / 2.
        """
        tilt = math.radians(self.bevel_deg)
        rise = self.thickness_ticks * math.tan(tilt)
        rest = width_ticks - kerf_ticks / math.cos(tilt)
        return Faces(round((rest + rise) / 2), round((rest - rise) / 2))

    def blank_ticks(self, long_ticks: int, kerf_ticks: int) -> int:
        """Return the least strip that gives two halves of this long face, rounded up.

        W = 2L − t tan θ + k / cos θ [D].
        """
        tilt = math.radians(self.bevel_deg)
        rise = self.thickness_ticks * math.tan(tilt)
        return math.ceil(2 * long_ticks - rise + kerf_ticks / math.cos(tilt) - 1e-6)
