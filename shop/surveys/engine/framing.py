"""Studs or joists as found, against the spacing that was noted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from shared.length import TICKS_PER_MM

VERSION = "framing-1"

ALONG, ACROSS = "along", "across"
"""Joists that run along the first wall, or away from it."""

FOUND_TO_TICKS = 20 * TICKS_PER_MM
"""How far two centres may miss a whole number of spacings: about half a stud of 38 mm,
since a finder may stop at either edge (common practice, no source)."""

TRIMMER_TICKS = 100 * TICKS_PER_MM
"""How far beside an opening its own studs stand: they keep no spacing (common practice)."""


@dataclass(frozen=True, slots=True)
class Framing:
    """Centres as found, in ticks from one end; `spacing_ticks` as noted, `run` for joists."""

    members_ticks: tuple[int, ...] = ()
    spacing_ticks: int | None = None
    run: str = ""


def odd_gap(
    framing: Framing, openings_ticks: Iterable[tuple[int, int]]
) -> tuple[int, int] | None:
    """Return the distance that fits the noted spacing worst, and that spacing, in ticks.

    Parameters
    ----------
    framing
        What was found. A stud that nobody looked for leaves two or three spacings: that
        fits.
    openings_ticks
        From where to where openings reach; what stands beside them is left out.

    Returns
    -------
    tuple of int, or None
        Nothing while the spacing is not noted, or where every distance fits.
    """
    spacing = framing.spacing_ticks
    if spacing is None:
        return None
    spans = [(a - TRIMMER_TICKS, b + TRIMMER_TICKS) for a, b in openings_ticks]
    gaps = [
        right - left
        for left, right in pairwise(sorted(framing.members_ticks))
        if not any(left < end and start < right for start, end in spans)
    ]
    worst = max(gaps, key=lambda gap: _miss(gap, spacing), default=0)
    return (worst, spacing) if _miss(worst, spacing) > FOUND_TO_TICKS else None


def _miss(gap_ticks: int, spacing_ticks: int) -> int:
    """Return how far a distance is from the nearest whole number of spacings."""
    if gap_ticks == 0:
        return 0
    times = max(1, round(gap_ticks / spacing_ticks))
    return abs(gap_ticks - times * spacing_ticks)
